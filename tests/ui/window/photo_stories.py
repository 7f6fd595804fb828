"""What the actions about photos do, told for `test_every_action`."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

from photographed_boards import PX_PER_MM, photo_bytes, photographed
from PySide6.QtCore import QMimeData, Qt, QUrl
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QDialog
from window_driving import START, Person, accept, reopened, wait_until

from rustboard.operations.boards import edit_board
from rustboard.session.session import Session

SIZE_MM = (300.0, 200.0)


def a_photo(folder: Path, name: str = "IMG_20260309_101500.png", red: int = 200) -> Path:
    """Write a photo whose name tells when it was taken."""
    path = folder / name
    path.write_bytes(photo_bytes(red))
    return path


def with_size(person: Person) -> None:
    """Say how large the board is."""
    board = replace(person.session.record.board, width_mm=SIZE_MM[0], height_mm=SIZE_MM[1])
    person.window.do(edit_board, board)


def with_photo(person: Person, folder: Path) -> None:
    """Have a photo on the board."""
    with_size(person)
    person.answers.dialogs = [lambda dialog: dialog._ask_add()]
    person.window.intake.add_paths([a_photo(folder)])


def four_corners(dialog: QDialog) -> None:
    """Put the corners where the board's are in the photo."""
    wide, high = (each * PX_PER_MM for each in SIZE_MM)
    dialog.view.set_corners(((0, 0), (wide, 0), (wide, high), (0, high)))


def add_photos(person: Person, yard: Path) -> None:
    def choose_and_add(dialog: QDialog) -> None:
        person.answers.files = [a_photo(yard.parent)]
        dialog.more_asked.emit()
        dialog._ask_add()

    person.answers.dialogs = [choose_and_add]
    person.do("photos.add")
    person.stand_up()
    with reopened(yard) as session:
        (photo,) = session.record.photos.values()
        assert photo.name == "IMG_20260309_101500.png"
        assert photo.taken == START.replace(day=9, hour=10, minute=15)
        assert (yard / "photos" / photo.file).read_bytes() == photo_bytes(200)


def paste_photos(person: Person, yard: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(a_photo(yard.parent)))])
    QGuiApplication.clipboard().setMimeData(data)
    person.answers.dialogs = [lambda dialog: dialog._ask_add()]
    person.do("photos.paste")
    assert [each.name for each in person.session.record.photos.values()] == ["IMG_20260309_101500.png"]
    QGuiApplication.clipboard().clear()
    person.do("photos.paste")
    assert "clipboard holds no picture" in person.message()


def photo_times(person: Person, yard: Path) -> None:
    with_photo(person, yard.parent)
    before = person.session.record.photos[1].taken
    person.answers.dialogs = [lambda dialog: dialog.clock.shifted.emit(3_780)]
    person.do("photos.time")
    assert person.session.record.photos[1].taken == before + timedelta(hours=1, minutes=3)
    person.do("edit.undo")
    assert person.session.record.photos[1].taken == before


def belongs(person: Person, yard: Path) -> None:
    with_photo(person, yard.parent)
    made = person.session.record.photos[1].inspection
    assert made != 1
    person.answers.dialogs = [lambda dialog: dialog.inspections.setCurrentRow(1)]
    person.do("photos.belongs")
    assert person.session.record.photos[1].inspection == 1
    assert sorted(person.session.record.inspections) == [1], "the one it had made goes"
    person.answers.dialogs = [lambda dialog: dialog.inspections.setCurrentRow(1)]
    person.do("photos.belongs")
    own = person.session.record.photos[1].inspection
    assert own not in (None, 1)
    person.do("edit.undo")
    assert person.session.record.photos[1].inspection == 1
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.photos[1].inspection == 1


def remove_this_photo(person: Person, yard: Path) -> None:
    with_photo(person, yard.parent)
    (photo,) = person.session.record.photos.values()
    person.do("photos.remove")
    assert person.session.record.photos == {}
    assert "Undo brings it back; its file stays" in person.message()
    assert (yard / "photos" / photo.file).is_file()
    person.do("edit.undo")
    assert list(person.session.record.photos.values()) == [photo]


def place_photo(person: Person, yard: Path) -> None:
    with_photo(person, yard.parent)
    person.answers.dialogs = [four_corners]
    person.do("photos.place")
    person.stand_up()
    with closing(Session(yard)) as session:
        (photo,) = session.record.photos.values()
        assert photo.placed_by == "corners"
        assert photo.mm_to_px is not None


def next_photo(person: Person, yard: Path) -> None:
    with_photo(person, yard.parent)
    person.do("photos.next")
    assert "place one first" in person.message()
    person.answers.dialogs = [four_corners]
    person.do("photos.place")
    target = yard.parent / "guide.png"

    def save_guide(dialog: QDialog) -> None:
        person.answers.files = [target]
        dialog.sheet_asked.emit()

    person.answers.dialogs = [save_guide]
    person.do("photos.next")
    assert target.read_bytes().startswith(b"\x89PNG")


def day_log(person: Person, yard: Path) -> None:
    def add_one(dialog: QDialog) -> None:
        person.answers.dialogs = [accept]
        dialog.add_asked.emit()
        assert dialog.table.rowCount() == 1

    person.tap("A1")
    person.answers.dialogs = [add_one]
    person.do("weather.day_log")
    person.stand_up()
    with reopened(yard) as session:
        assert [each.kind for each in session.record.disturbances.values()] == ["touched"]


def draw_outlines(person: Person, yard: Path) -> None:
    person.do("photos.outlines")
    assert "Describe the board" in person.message(), "it has no size yet"
    with_size(person)
    plate = ((0, 0), (60, 0), (60, 80), (0, 80))
    person.answers.dialogs = [lambda dialog: dialog.outline_wanted.emit(1, plate)]
    person.do("photos.outlines")
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.coupons[1].outline_mm == plate


def show_photos(person: Person, yard: Path) -> None:
    person.do("photos.show")
    assert person.window.photos.is_shown()
    assert person.reads("No photos yet")
    person.do("photos.show")
    assert person.page.isVisible()


def measure_rust(person: Person, yard: Path) -> None:
    folder = photographed(yard.parent / "Photographed")
    person.window.show_board(folder)
    person.do("photos.measure")
    wait_until(lambda: not person.window.bridge.busy(), "for measuring")
    assert person.message() != ""


def find_missing_photos(person: Person, yard: Path) -> None:
    with_photo(person, yard.parent)
    (photo,) = person.session.record.photos.values()
    person.do("photos.find")
    assert person.message() == "No photo of this board is missing."
    elsewhere = yard.parent / "elsewhere"
    elsewhere.mkdir()
    (yard / "photos" / photo.file).rename(elsewhere / "called otherwise.png")
    person.answers.files = [elsewhere]
    person.do("photos.find")
    wait_until(lambda: not person.window.bridge.busy(), "for the photos")
    assert person.message() == "Found the missing photo."
    assert (yard / "photos" / photo.file).read_bytes() == (elsewhere / "called otherwise.png").read_bytes()


def time_lapse(person: Person, yard: Path) -> None:
    person.do("photos.film")
    assert "no photo yet" in person.message()
    person.window.show_board(photographed(yard.parent / "Photographed"))
    film = yard.parent / "film"
    person.answers.dialogs, person.answers.files = [accept], [film]
    person.do("photos.film")
    wait_until(lambda: not person.window.bridge.busy(), "for the film")
    assert str(film) in person.message()
    assert film.with_suffix(".mp4").read_bytes()[4:8] == b"ftyp"


def side_by_side(person: Person, yard: Path) -> None:
    folder = photographed(yard.parent / "Photographed")
    person.window.show_board(folder)
    person.do("inspection.side_by_side")
    person.press("Begin")
    wait_until(lambda: not person.window.bridge.busy(), "for the pictures")
    person.press("← Left is rustier")
    person.key(Qt.Key.Key_Escape, Qt.Key.Key_Escape)
    assert person.page.isVisible()
    person.stand_up()
    with reopened(folder) as session:
        assert [each.rustier for each in session.record.pair_choices.values()] == ["left"]


STORIES = {
    "inspection.side_by_side": side_by_side,
    "photos.show": show_photos,
    "photos.measure": measure_rust,
    "photos.add": add_photos,
    "photos.paste": paste_photos,
    "photos.time": photo_times,
    "photos.belongs": belongs,
    "photos.remove": remove_this_photo,
    "photos.find": find_missing_photos,
    "photos.next": next_photo,
    "photos.place": place_photo,
    "photos.outlines": draw_outlines,
    "weather.day_log": day_log,
    "photos.film": time_lapse,
}
