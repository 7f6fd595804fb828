"""Making a film from the window: what is offered, what is shown, what is said."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from photographed_boards import photographed
from PIL import Image
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractSpinBox, QComboBox, QLabel, QSlider
from window_driving import Desk, accept, cancel, wait_until

from rustboard.board.measured import PhotoPlacing
from rustboard.operations.boards import edit_board
from rustboard.operations.measuring import place_photo
from rustboard.session import timelapse
from rustboard.store.folder import photo_path


@pytest.fixture
def folder(tmp_path):
    return photographed(tmp_path / "Porch", (200, 160, 120))


@pytest.fixture
def person(sitting_at, folder):
    return sitting_at(folder)


@pytest.fixture
def asked(person):
    """Opens the dialog, does something in it, and cancels."""

    def ask(look):
        def answer(dialog):
            look(dialog)
            return cancel(dialog)

        person.answers.dialogs = [answer]
        person.do("photos.film")
        assert person.answers.asked == ["FilmDialog"]

    return ask


def film(person, target):
    """Make the film as offered; return what is said in the end."""
    person.answers.dialogs, person.answers.files = [accept], [target]
    person.do("photos.film")
    return person.message()


def field(dialog, label):
    for each in dialog.findChildren(QLabel):
        if each.text().replace("&", "").startswith(label) and each.buddy() is not None:
            return each.buddy()
    raise AssertionError(f"no field {label}")


def red_in_picture(dialog):
    image = dialog.view.image()
    return QColor(image.pixel(image.width() // 2, image.height() // 3)).red()


def test_the_coupon_in_hand_is_offered_and_its_newest_picture_shown(asked):
    def look(dialog):
        choice = dialog.choice()
        assert (choice.coupon, len(choice.photos), choice.kind, choice.stamped) == (1, 3, "mp4", True)
        assert red_in_picture(dialog) == 120
        assert any("Pictures: 3. Length: about 2.5 s" in each.text() for each in dialog.findChildren(QLabel))

    asked(look)


def test_the_slider_shows_the_other_pictures(asked):
    def look(dialog):
        slider = field(dialog, "Picture shown")
        assert isinstance(slider, QSlider)
        QTest.keyClick(slider, Qt.Key.Key_Home)
        assert red_in_picture(dialog) == 200

    asked(look)


def test_the_range_cannot_end_before_it_begins(asked):
    def look(dialog):
        first, last = field(dialog, "From"), field(dialog, "Until")
        QTest.keyClick(last, Qt.Key.Key_Home)
        assert [each.name for each in dialog.choice().photos] == ["IMG_0.png"]
        QTest.keyClick(first, Qt.Key.Key_End)
        assert [each.name for each in dialog.choice().photos] == ["IMG_2.png"]
        assert red_in_picture(dialog) == 120

    asked(look)


def test_each_kind_says_what_it_is_good_for(asked):
    def look(dialog):
        kind, said = field(dialog, "Kind of file"), []
        for _ in range(kind.count()):
            said.append(dialog.options._kind_words.text())
            QTest.keyClick(kind, Qt.Key.Key_Down)
        assert len(set(said)) == 3
        assert all(said)

    asked(look)


def test_everything_has_a_name_and_can_be_reached_by_tab(asked):
    def look(dialog):
        fields = [*dialog.findChildren(QComboBox), *dialog.findChildren(QAbstractSpinBox), dialog.view]
        assert all(each.accessibleName() for each in fields)
        first = widget = field(dialog, "Film of")
        seen = set()
        while widget is not first or not seen:
            seen.add(widget)
            widget = widget.nextInFocusChain()
        assert seen.issuperset({*fields, dialog._write})

    asked(look)


def test_the_whole_board_of_a_board_without_size_says_what_is_missing(person, asked):
    person.window.do(edit_board, replace(person.session.record.board, width_mm=0.0, height_mm=0.0))

    def look(dialog):
        QTest.keyClick(field(dialog, "Film of"), Qt.Key.Key_Home)
        assert "width and height" in dialog.problem.text()
        assert not dialog._write.isEnabled()
        QTest.keyClick(field(dialog, "Film of"), Qt.Key.Key_Down)
        assert dialog.problem.text() == ""
        assert dialog._write.isEnabled()

    asked(look)


# ---- the film


def test_the_film_is_where_it_was_wanted_and_that_is_said(person, tmp_path):
    said = film(person, tmp_path / "rust.mp4")
    assert said == f"Wrote the film, 3 pictures, to {tmp_path / 'rust.mp4'}"
    assert (tmp_path / "rust.mp4").stat().st_size > 1000


def test_the_kind_chosen_gives_the_ending_and_the_kind_of_file(person, tmp_path):
    def choose_gif(dialog):
        QTest.keyClick(field(dialog, "Kind of file"), Qt.Key.Key_End)

    person.answers.dialogs, person.answers.files = [choose_gif], [tmp_path / "rust"]
    person.do("photos.film")
    with Image.open(tmp_path / "rust.gif") as found:
        assert (found.format, found.n_frames) == ("GIF", 3)


def test_without_a_file_name_nothing_is_made(person, tmp_path):
    before = sorted(tmp_path.iterdir())
    assert film(person, None) == ""
    assert sorted(tmp_path.iterdir()) == before


def test_photos_whose_files_are_missing_are_named_and_left_out(person, folder, tmp_path):
    photo_path(folder, person.session.record.photos[2].file).unlink()
    said = []

    def look(dialog):
        said.extend(each.text() for each in dialog.findChildren(QLabel) if each.isVisible())

    person.answers.dialogs, person.answers.files = [look], [tmp_path / "rust.mp4"]
    person.do("photos.film")
    assert any("Left out" in each and "IMG_1.png" in each for each in said)
    assert "2 pictures" in person.message()


def test_a_photo_that_cannot_be_read_is_told_and_the_sentence_stays(person, folder, tmp_path):
    photo_path(folder, person.session.record.photos[2].file).write_bytes(b"something else")
    said = film(person, tmp_path / "rust.mp4")
    assert "2 pictures" in said
    assert str(tmp_path / "rust.mp4") in said
    assert "IMG_1.png" in said
    assert person.window.message.is_error()


def test_a_disk_that_refuses_is_told_and_the_sentence_stays(person, tmp_path):
    (tmp_path / "file").write_text("no folder")
    assert "Wrote" not in film(person, tmp_path / "file" / "rust.mp4")
    assert person.window.message.is_error()
    assert (tmp_path / "file").read_text() == "no folder"


def test_a_board_that_is_only_read_can_be_filmed(person, folder, desk, tmp_path):
    reader = desk.sit_down(folder)
    assert reader.session.read_only_reason != ""
    reader.press("Got it")
    assert "3 pictures" in film(reader, tmp_path / "rust.mp4")


def test_the_window_stays_usable_and_stop_leaves_nothing(folder, tmp_path, qapp, desk, monkeypatch):
    go_on = threading.Event()

    def slow(request, progress):
        while not go_on.wait(0.01):
            progress.step(1, 3)

    monkeypatch.setattr(timelapse, "write_timelapse", slow)
    busy = Desk(desk.settings, lambda: ThreadPoolExecutor(2))
    try:
        person = busy.sit_down(folder)
        film(person, tmp_path / "rust.mp4")
        wait_until(lambda: person.message() == "Making the film: picture 2 of 3", "for progress")
        person.do("view.table")
        assert person.checked("view.table")
        person.answers.dialogs = []
        person.press("Stop")
        assert person.message() == "Stopped making the film; nothing of it is left."
        wait_until(lambda: not person.window.bridge.busy(), "for the job")
        assert person.message() == "Stopped making the film; nothing of it is left."
        assert not (tmp_path / "rust.mp4").exists()
    finally:
        go_on.set()
        busy.close_all()


def test_without_a_photo_in_which_the_board_was_found_it_says_what_to_do(person, folder):
    for key in list(person.session.record.photos):
        person.window.do(place_photo, PhotoPlacing(key, None, because="Too dark."))
    person.do("photos.film")
    assert "place a photo first" in person.message()
    assert person.answers.asked == []


def test_when_every_file_is_missing_it_says_so(person, folder):
    for each in person.session.record.photos.values():
        photo_path(folder, each.file).unlink()
    person.do("photos.film")
    assert "put them back" in person.message()
