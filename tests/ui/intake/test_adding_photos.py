"""Photos by button, drop and paste: looked over first, times put right, added in one step, cancelled cleanly."""

from __future__ import annotations

import io
from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from photo_bench import Bench
from photographed_boards import photo_bytes, photographed
from PIL import Image
from PySide6.QtCore import QMimeData, QPoint, QPointF, QSize, Qt, QUrl
from PySide6.QtGui import QColor, QDragEnterEvent, QDropEvent, QGuiApplication, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from window_driving import START, Desk, cancel, made_board, settle

from rustboard.session.jobs import Progress
from rustboard.support.settings import Settings
from rustboard.ui.intake.dialog import IntakeDialog
from rustboard.ui.intake.times_dialog import TimesDialog
from rustboard.ui.intake_commands import IntakeCommands
from rustboard.ui.theme import LIGHT, SCHEMES, Scheme, apply_scheme

NOW = datetime(2026, 3, 20, 12)
SMALLEST = QSize(683 - 16, 384 - 48)
_TIME_TAG = 0x0132


class Bringing(Bench):
    """Somebody who brings photos to a board."""

    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        super().__init__(folder, read_only=read_only)
        self.commands = IntakeCommands(
            self.widget,
            self.answers,
            self.do,
            Settings(),
            self.bridge,
            lambda: NOW,  # type: ignore[arg-type]
        )
        self.serve(self.commands)

    def bring(self, *paths: Path) -> IntakeDialog:
        """Drop files; do nothing in the dialog but keep it to look at."""
        seen: list[IntakeDialog] = []

        def look(dialog: IntakeDialog) -> bool:
            seen.append(dialog)
            return cancel(dialog)

        self.answers.dialogs = [look]
        self.commands.add_paths(list(paths))
        return seen[0]

    def add(self, *paths: Path, work: object = None) -> None:
        """Drop files, do some work in the dialog, and press Add."""

        def answer(dialog: IntakeDialog) -> None:
            if callable(work):
                work(dialog)
            dialog._add.click()

        self.answers.dialogs = [answer]
        self.commands.add_paths(list(paths))


@pytest.fixture
def board(tmp_path: Path) -> Path:
    return made_board(tmp_path / "Yard")


@pytest.fixture
def person(qapp: QApplication, board: Path) -> Iterator[Bringing]:
    apply_scheme(qapp, LIGHT)
    person = Bringing(board)
    yield person
    person.close()


def a_photo(folder: Path, name: str, red: int = 200, taken: datetime | None = None) -> Path:
    """Write a JPEG, with the camera's time where one is given."""
    folder.mkdir(exist_ok=True)
    image = Image.open(io.BytesIO(photo_bytes(red)))
    notes = Image.Exif()
    if taken is not None:
        notes[_TIME_TAG] = f"{taken:%Y:%m:%d %H:%M:%S}"
    image.save(folder / name, "JPEG", exif=notes)
    return folder / name


def cells(dialog: IntakeDialog | TimesDialog, column: int) -> list[str]:
    return [dialog.table.item(row, column).text() for row in range(dialog.table.rowCount())]


def test_a_folder_is_listed_with_times_and_reasons(person: Bringing, tmp_path: Path) -> None:
    folder = tmp_path / "card"
    a_photo(folder, "a.jpg", 10, START + timedelta(hours=1))
    a_photo(folder, "IMG_20260310_090000.jpg", 20)
    a_photo(folder, "none.jpg", 30)
    (folder / "same.jpg").write_bytes((folder / "a.jpg").read_bytes())
    (folder / "torn.jpg").write_bytes((folder / "a.jpg").read_bytes()[:900])
    dialog = person.bring(folder)
    assert cells(dialog, 2) == ["file name", "camera", "–", "", ""]
    assert cells(dialog, 3)[0].startswith("makes a new one")
    assert cells(dialog, 3)[1].startswith("joins")
    assert any("same picture" in each for each in cells(dialog, 3))
    assert any("damaged" in each or "no picture" in each for each in cells(dialog, 3))
    assert dialog.table.item(0, 0).icon().availableSizes(), "there is a thumbnail"
    assert "3 of 5 photos will be added" in dialog._words.text()


def test_photos_are_added_in_one_step_and_undone_in_one(person: Bringing, board: Path, tmp_path: Path) -> None:
    files = [a_photo(tmp_path, f"{n}.jpg", 10 * n, START + timedelta(days=2 + n)) for n in range(3)]
    person.add(*files)
    record = person.session.record
    assert sorted(each.name for each in record.photos.values()) == ["0.jpg", "1.jpg", "2.jpg"]
    assert len(record.inspections) == 4
    kept = {each.name: board / "photos" / each.file for each in record.photos.values()}
    assert all(kept[each.name].read_bytes() == each.read_bytes() for each in files), "byte for byte"
    assert "Photos added: 3; new inspections: 3" in person.told[-1]
    person.session.undo()
    assert person.session.record.photos == {}
    assert len(person.session.record.inspections) == 1


def test_the_clock_of_all_is_put_right_by_one_photo(person: Bringing, tmp_path: Path) -> None:
    taken = START + timedelta(days=3)
    files = [a_photo(tmp_path, f"{n}.jpg", 10 * n, taken + timedelta(hours=n)) for n in range(2)]

    def really(dialog: IntakeDialog) -> None:
        dialog.table.selectRow(1)
        dialog.clock._when.set_when(taken + timedelta(hours=1, minutes=63))
        dialog.clock._set.click()
        assert dialog.clock._span.text() == "+1 h 3 min"

    person.add(*files, work=really)
    photos = sorted(person.session.record.photos.values(), key=lambda each: each.name)
    assert [each.taken for each in photos] == [taken + timedelta(minutes=63), taken + timedelta(minutes=123)]
    assert [each.camera_time for each in photos] == [taken, taken + timedelta(hours=1)], "as the camera wrote it"


def test_a_span_that_cannot_be_read_says_so_and_changes_nothing(person: Bringing, tmp_path: Path) -> None:
    def type_nonsense(dialog: IntakeDialog) -> None:
        QTest.keyClicks(dialog.clock._span, "an hour or so")
        QTest.keyClick(dialog.clock._span, Qt.Key.Key_Return)
        assert "+1 h 03 min" in dialog.problem.text()

    person.add(a_photo(tmp_path, "a.jpg", 10, START), work=type_nonsense)
    assert person.session.record.photos[1].taken == START


def test_photos_without_a_time_are_asked_for_one(person: Bringing, tmp_path: Path) -> None:
    files = [a_photo(tmp_path, f"no time {n}.jpg", 10 * n) for n in range(2)]

    def give_times(dialog: IntakeDialog) -> None:
        dialog._add.click()
        assert "Give 2 photos a time" in dialog.problem.text()
        assert dialog.table.chosen() == 0
        dialog.clock._when.set_when(START + timedelta(days=5))
        dialog.clock._set.click()
        assert dialog.table.chosen() == 1, "on to the next one without a time"
        dialog._add.click()
        assert "When was this photo taken?" in dialog.problem.text()
        dialog.table.tick([0])

    person.add(*files, work=give_times)
    (photo,) = person.session.record.photos.values()
    assert photo.taken == START + timedelta(days=5)


def test_a_photo_on_the_board_is_not_added_again(person: Bringing, tmp_path: Path) -> None:
    file = a_photo(tmp_path, "a.jpg", 10, START)
    person.add(file)
    dialog = person.bring(file)
    assert cells(dialog, 3) == ["This photo is on the board already."]
    assert not dialog._add.isEnabled()


def test_cancelling_leaves_nothing(person: Bringing, board: Path, tmp_path: Path) -> None:
    person.bring(a_photo(tmp_path, "a.jpg", 10, START))
    assert person.session.record.photos == {}
    assert not any((board / "photos").glob("*"))


def test_stopping_while_it_looks_says_so(person: Bringing, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    waiting: list[Progress] = []

    def never(*arguments: object, **named: object) -> Progress:
        waiting.append(Progress())
        return waiting[-1]

    monkeypatch.setattr(person.bridge, "start", never)

    def stop(dialog: IntakeDialog) -> bool:
        assert dialog._bar.isVisible()
        assert not dialog._add.isEnabled()
        dialog._stop.click()
        assert "nothing was left half done" in dialog.problem.text()
        dialog.reject()
        return False

    person.answers.dialogs = [stop]
    person.commands.add_paths([a_photo(tmp_path, "a.jpg")])
    assert waiting[0].cancelled


def test_a_picture_on_the_clipboard_is_added_as_png(person: Bringing) -> None:
    picture = QImage(60, 40, QImage.Format.Format_RGB32)
    picture.fill(QColor("#804020"))
    QGuiApplication.clipboard().setImage(picture)

    def give_time(dialog: IntakeDialog) -> None:
        assert cells(dialog, 0) == ["pasted 2026-03-20 12.00.00.png"]
        dialog._add.click()

    person.answers.dialogs = [give_time]
    person.commands.paste()
    (photo,) = person.session.record.photos.values()
    assert (photo.width_px, photo.height_px) == (60, 40)
    assert photo.taken == NOW
    QGuiApplication.clipboard().clear()
    person.commands.paste()
    assert "clipboard holds no picture" in person.told[-1]


def test_a_board_for_reading_takes_no_photos(board: Path, tmp_path: Path, qapp: QApplication) -> None:
    reader = Bringing(board, read_only=True)
    reader.commands.add_paths([a_photo(tmp_path, "a.jpg")])
    assert "reading only" in reader.failed[-1]
    reader.commands.paste()
    reader.commands.photo_times()
    assert reader.answers.asked == []
    reader.close()


# ---- dropped on the window


def drop(widget: QWidget, path: Path, at: QPoint | None = None) -> bool:
    """Drop a file as the desktop does; return whether it was wanted."""
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    place, none = at or widget.rect().center(), Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(place, Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton, none)
    QApplication.sendEvent(widget, enter)
    QApplication.sendEvent(
        widget, QDropEvent(QPointF(place), Qt.DropAction.CopyAction, data, Qt.MouseButton.LeftButton, none)
    )
    settle()
    return enter.isAccepted()


def test_photos_are_dropped_on_the_board_and_on_the_shelf(desk: Desk, board: Path, tmp_path: Path) -> None:
    person = desk.sit_down(board)
    person.answers.dialogs = [lambda dialog: dialog._add.click()]
    assert drop(person.page, a_photo(tmp_path, "a.jpg", 10, START))
    assert len(person.session.record.photos) == 1
    desk.settings.boards_folder = str(tmp_path)
    person.do("file.shelf")
    cards = person.window.shelf.screen()._cards
    at = cards.visualRect(cards.model().index(0, 0)).center()
    person.answers.dialogs = [lambda dialog: dialog._add.click()]
    assert drop(cards.viewport(), a_photo(tmp_path, "b.jpg", 20, START), at)
    assert person.session.folder == board
    assert len(person.session.record.photos) == 2


def test_photos_are_dropped_on_the_photo_screen(desk: Desk, board: Path, tmp_path: Path) -> None:
    person = desk.sit_down(board)
    person.do("photos.show")
    person.answers.dialogs = [lambda dialog: dialog._add.click()]
    assert person.window.photos.screen is not None
    assert drop(person.window.photos.screen, a_photo(tmp_path, "a.jpg", 10, START))
    assert len(person.session.record.photos) == 1


# ---- times of photos on the board


@pytest.fixture
def photographer(qapp: QApplication, tmp_path: Path) -> Iterator[Bringing]:
    apply_scheme(qapp, LIGHT)
    person = Bringing(photographed(tmp_path / "Photographed", (200, 120, 60)))
    yield person
    person.close()


def test_the_times_of_a_chosen_set_are_shifted_in_one_step(photographer: Bringing) -> None:
    before = {key: each.taken for key, each in photographer.session.record.photos.items()}

    def shift(dialog: TimesDialog) -> None:
        dialog.table.tick([0, 1])
        dialog.clock._span.setText("-30 min")
        dialog.clock._shift.click()
        assert dialog.table.ticked_rows() == [0, 1], "they stay chosen"

    photographer.answers.dialogs = [shift]
    photographer.commands.photo_times()
    after = {key: each.taken for key, each in photographer.session.record.photos.items()}
    half = timedelta(minutes=30)
    assert after == {1: before[1] - half, 2: before[2] - half, 3: before[3]}
    photographer.session.undo()
    assert {key: each.taken for key, each in photographer.session.record.photos.items()} == before


def test_one_photo_really_taken_at_shifts_the_ticked_ones(photographer: Bringing) -> None:
    def really(dialog: TimesDialog) -> None:
        dialog.table.selectRow(0)
        dialog.table.tick([1])
        dialog.clock._when.set_when(START + timedelta(minutes=5))
        dialog.clock._set.click()
        assert "Tick this photo" in dialog.problem.text()
        dialog.table.tick([0, 1])
        dialog.clock._set.click()

    photographer.answers.dialogs = [really]
    photographer.commands.photo_times()
    photos = photographer.session.record.photos
    assert photos[1].taken == START + timedelta(minutes=5)
    assert photos[2].taken == START + timedelta(days=7, minutes=5)
    assert photos[3].taken == START + timedelta(days=14)


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_both_fit_a_low_screen_at_twice_the_usual_scale(
    photographer: Bringing, tmp_path: Path, qapp: QApplication, scheme: Scheme
) -> None:
    apply_scheme(qapp, scheme)

    def fits(dialog: IntakeDialog | TimesDialog) -> bool:
        dialog.resize(SMALLEST)
        settle()
        assert dialog.size() == SMALLEST
        for each in (dialog.table, dialog.clock, dialog._buttons):
            assert dialog.rect().contains(each.mapTo(dialog, each.rect().bottomRight()))
        assert dialog.table.columnViewportPosition(3) < dialog.table.viewport().width() - 40
        assert not dialog.grab().isNull()
        return cancel(dialog)

    hostile = a_photo(tmp_path, "x" * 180 + "\u202e.jpg", 10)
    photographer.answers.dialogs = [fits]
    photographer.commands.add_paths([hostile])
    photographer.answers.dialogs = [fits]
    photographer.commands.photo_times()
    apply_scheme(qapp, LIGHT)
