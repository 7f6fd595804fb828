"""The reference pictures on the eleven keys, and the large comparison."""

from __future__ import annotations

import threading
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from photographed_boards import photographed
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QCheckBox, QComboBox
from window_driving import Desk, Person, graded, grades_on_disk, made_board, settle, wait_until

from rustboard.operations.boards import edit_board
from rustboard.session import pictures as session_pictures
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.grading import compare
from rustboard.ui.grading.compare import CompareDialog, LargePicture
from rustboard.ui.guide import strip
from rustboard.ui.guide.strip import limits_text

KEY = Qt.Key


def pictures(person: Person) -> dict[int, QImage | None]:
    return {grade: key._picture for grade, key in person.panel.guide.keys.items()}


def seen(image: QImage | None) -> np.ndarray:
    """Return a picture as an array, height x width x 4."""
    assert image is not None
    image = image.convertToFormat(QImage.Format.Format_RGBA8888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    return rows[:, : image.width() * 4].reshape(image.height(), image.width(), 4).copy()


def rustiness(image: QImage | None) -> float:
    """Return how much redder than blue a picture is on the whole: rust is, steel is not."""
    pixels = seen(image).astype(float)
    there = pixels[..., 3] > 0
    return float((pixels[..., 0] - pixels[..., 2])[there].mean())


def box(person: Person, name: str) -> QComboBox:
    return next(each for each in person.panel.findChildren(QComboBox) if each.accessibleName() == name)


def choose(box: QComboBox, at: int) -> None:
    box.setCurrentIndex(at)
    box.activated.emit(at)
    settle()


@pytest.fixture
def grading(person: Person) -> Person:
    person.tap("A1")
    return person


def test_every_key_has_its_picture_and_the_worse_the_grade_the_more_rust(grading):
    found = pictures(grading)
    assert set(found) == set(range(11))
    amounts = [rustiness(found[grade]) for grade in range(10, -1, -1)]
    assert amounts == sorted(amounts)
    assert amounts[-1] > amounts[0] + 20


@pytest.mark.parametrize(("letter", "shown"), [("s", "spots"), ("g", "general"), ("p", "pinpoints")])
def test_the_guide_follows_the_letter(grading, letter, shown):
    before = {grade: seen(image) for grade, image in pictures(grading).items()}
    other = "g" if letter == "s" else letter
    grading.key(other)
    if letter == "s":
        grading.key("s")
    assert box(grading, "Guide shows").currentText() == shown
    same = np.array_equal(seen(pictures(grading)[5]), before[5])
    assert same == (letter == "s"), "the guide begins with spots"
    assert all(pictures(grading).values())


def test_hybrid_rust_keeps_the_guide_as_it_is(grading):
    before = pictures(grading)
    grading.key("h")
    assert pictures(grading) == before


@pytest.mark.parametrize("pattern", [0, 1, 2])
@pytest.mark.parametrize("place", [0, 1, 2])
def test_least_middle_and_most_of_each_grade_can_be_shown(grading, pattern, place):
    choose(box(grading, "Guide shows"), pattern)
    choose(box(grading, "Area shown"), place)
    assert all(pictures(grading).values())
    request = grading.panel.body.guide_request(100)
    assert request.pattern == "SGP"[pattern]
    assert request.at == ("lightest", "middle", "heaviest")[place]


def test_most_rust_of_a_grade_is_more_than_the_least(grading):
    choose(box(grading, "Area shown"), 0)
    least = rustiness(pictures(grading)[4])
    choose(box(grading, "Area shown"), 2)
    assert rustiness(pictures(grading)[4]) > least


def test_the_key_of_the_grade_given_is_marked(grading):
    grading.key("7", KEY.Key_Left)
    assert [grade for grade, key in grading.panel.guide.keys.items() if key._given] == [7]
    grading.key(KEY.Key_Right)
    assert not any(key._given for key in grading.panel.guide.keys.values())


def test_the_keys_say_their_percent():
    assert [limits_text(grade).replace(",", ".") for grade in (10, 9, 7, 0)] == [
        "≤ 0.01 %",
        "0.01–0.03 %",
        "0.1–0.3 %",
        "> 50 %",
    ]  # ASTM D610, table 1


# ---- on this coupon


def test_the_reference_is_painted_on_the_coupon_as_it_was_on_day_zero(tmp_path, sitting_at):
    person = sitting_at(photographed(tmp_path / "b"))
    person.tap("A2")
    person.key("c")
    assert person.panel.options.on_coupon()
    ten = seen(pictures(person)[10])
    inside = ten[..., 3] > 0
    assert 0.5 < inside.mean() < 1, "what is not coupon is left out"
    colours = np.median(ten[inside][:, :3], axis=0)
    assert abs(colours - (200, 100, 0)).max() < 12, "the first photo's second coupon"
    person.key(KEY.Key_Right)
    colours = np.median(seen(pictures(person)[10])[inside][:, :3], axis=0)
    assert abs(colours - (200, 150, 0)).max() < 12, "the next coupon is painted for itself"
    person.key("c")
    assert not person.panel.options.on_coupon()


def test_without_a_photo_the_reference_is_painted_on_steel_of_the_coupons_shape(grading):
    plain = pictures(grading)[3]
    grading.click(grading.panel.findChild(QCheckBox))
    on_shape = pictures(grading)[3]
    assert (on_shape.height() / on_shape.width()) != pytest.approx(plain.height() / plain.width(), rel=0.01)
    assert rustiness(on_shape) > 0


# ---- answers that come too late


@pytest.fixture
def slow_desk(qapp, tmp_path: Path) -> Desk:
    settings = Settings(scheme="light", boards_folder=str(tmp_path / "boards"))
    desk = Desk(settings, executor=_own_pool)
    yield desk
    desk.close_all()
    settle()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def _own_pool() -> None:
    return None


def test_pictures_of_a_letter_one_has_left_do_not_show(slow_desk, yard, monkeypatch):
    gates = {"G": threading.Event()}
    drawn = []

    def draw(request, progress):
        found = session_pictures.guide_pictures(request, progress)
        drawn.append(request.pattern)
        if request.pattern in gates:
            assert gates[request.pattern].wait(10)
        return found

    monkeypatch.setattr(strip, "guide_pictures", draw)
    person = slow_desk.sit_down(yard)
    person.tap("A1")
    wait_until(lambda: all(pictures(person).values()))
    spots = seen(pictures(person)[5])
    person.key("g")
    wait_until(lambda: drawn == ["S", "G"])
    person.key("s")  # ready at once: the pictures of spots are kept
    gates["G"].set()
    wait_until(lambda: not person.window.bridge.busy())
    settle()
    assert np.array_equal(seen(pictures(person)[5]), spots)
    person.key("g")
    wait_until(lambda: drawn[2:] == ["G"])
    wait_until(lambda: not person.window.bridge.busy())
    assert not np.array_equal(seen(pictures(person)[5]), spots), "and are not kept under the wrong name"


def test_the_same_pictures_are_not_drawn_twice(person, monkeypatch):
    drawn = []

    def draw(request, progress):
        drawn.append(request)
        return session_pictures.guide_pictures(request, progress)

    monkeypatch.setattr(strip, "guide_pictures", draw)
    person.tap("A1")
    at_first = len(drawn)
    for key in ("7", "6", KEY.Key_Left, KEY.Key_Right, KEY.Key_Delete):
        person.key(key)
    assert len(drawn) == at_first


def test_a_coupon_of_which_nothing_counts_shows_keys_without_pictures(tmp_path, sitting_at):
    folder = photographed(tmp_path / "b")
    with closing(Session(folder)) as session:
        session.do(edit_board, replace(session.record.board, edge_margin_mm=500.0))
    person = sitting_at(folder)
    person.tap("A1")
    person.key("c")
    assert set(pictures(person).values()) == {None}
    person.tap_grade(7)
    person.stand_up()
    assert grades_on_disk(folder, 2) == {"C01": "7"}


# ---- large


def large(person: Person) -> CompareDialog:
    dialogs = person.panel.findChildren(CompareDialog)
    assert len(dialogs) == 1
    return dialogs[0]


def test_the_large_comparison_steps_through_the_grades_and_gives_one(tmp_path, sitting_at):
    folder = photographed(tmp_path / "b")
    person = sitting_at(folder)
    person.tap("A1")
    person.key("l")
    dialog = large(person)
    assert dialog.isVisible()
    assert dialog.grade() == 10
    for key in (KEY.Key_Down, KEY.Key_Down, KEY.Key_Up):
        QTest.keyClick(dialog, key)
    assert dialog.grade() == 9
    QTest.keyClick(dialog, KEY.Key_4)
    assert dialog.grade() == 4
    QTest.keyClick(dialog, KEY.Key_Down)
    both = dialog.findChildren(LargePicture)
    assert all(each._image is not None for each in both)
    assert not dialog.grab().isNull()
    QTest.keyClick(dialog, KEY.Key_Return)
    settle()
    assert person.panel.findChildren(CompareDialog) == []
    assert person.grading() == "C02"
    person.stand_up()
    assert grades_on_disk(folder, 2) == {"C01": "3"}


def test_the_large_comparison_stops_at_the_ends_of_the_scale(grading):
    grading.key("l")
    dialog = large(grading)
    dialog.show_less()
    assert dialog.grade() == 10
    dialog.start_at(0)
    dialog.show_more()
    assert dialog.grade() == 0
    dialog.reject()


def test_the_large_comparison_begins_at_the_last_grade(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b", inspections=2), 1, {"C01": 6}))
    person.tap("A1")
    person.key("l")
    assert large(person).grade() == 6
    large(person).reject()


def test_in_a_window_for_reading_the_large_comparison_gives_nothing(person, desk, yard):
    reader = desk.sit_down(yard)
    reader.tap("A1")
    reader.key("l")
    dialog = large(reader)
    QTest.keyClick(dialog, KEY.Key_Return)
    settle()
    assert grades_on_disk(yard) == {}
    assert dialog.isVisible()
    QTest.keyClick(dialog, KEY.Key_Escape)
    settle()
    assert reader.panel.findChildren(CompareDialog) == []


def test_the_large_comparison_closed_while_its_picture_is_drawn_ends_quietly(slow_desk, yard, monkeypatch):
    gate = threading.Event()
    asked = []

    def draw(request, grade, progress):
        asked.append(grade)
        assert gate.wait(10)
        return session_pictures.guide_picture(request, grade, progress)

    monkeypatch.setattr(compare, "guide_picture", draw)
    person = slow_desk.sit_down(yard)
    person.tap("A1")
    person.key("l")
    wait_until(lambda: asked)
    large(person).reject()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    assert person.panel.findChildren(CompareDialog) == []
    gate.set()
    wait_until(lambda: not person.window.bridge.busy())
    settle()
