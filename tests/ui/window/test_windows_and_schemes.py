"""Windows come, go and change their clothes; what they say is finished; large boards work like small ones."""

from __future__ import annotations

import json
import re
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QColor, QPalette
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QComboBox, QDialog, QLabel, QLineEdit, QWidget
from window_driving import (
    SIZE,
    START,
    Person,
    cancel,
    graded,
    grades_on_disk,
    made_board,
    settle,
    wait_until,
)

from rustboard.board.model import Board, Coupon, Grading, Inspection
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupons
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import GRADINGS, INSPECTIONS, BoardRow
from rustboard.support.settings import load_settings
from rustboard.support.summary import Summary
from rustboard.ui.theme import SCHEMES, grade_colour

# ---- schemes


def ground(person: Person) -> QColor:
    """Return the colour of the window beside its tiles."""
    return QApplication.palette().color(QPalette.ColorRole.Window)


def colours_of_tile(person: Person, label: str) -> set[str]:
    rect = person.rect(label)
    image = person.page.tiles.canvas.grab(rect).toImage()
    return {image.pixelColor(x, y).name() for x in range(0, rect.width(), 2) for y in range(0, rect.height(), 2)}


@pytest.mark.parametrize("name", SCHEMES)
def test_a_scheme_dresses_tiles_table_grading_and_timeline_at_once(tmp_path, sitting_at, name):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C01": 4}))
    other = next(each for each in SCHEMES if each != name)
    person.do(f"view.{other}")
    before = colours_of_tile(person, "A2")
    person.tap("A2")
    person.do(f"view.{name}")
    scheme = SCHEMES[name]
    assert ground(person).name() == scheme.window
    after = colours_of_tile(person, "A2")
    assert scheme.tile in after
    assert before != after
    person.key(Qt.Key.Key_Escape)
    assert grade_colour(4).name() in colours_of_tile(person, "A1"), "the grade's colour is the same in every scheme"


def test_sunlight_is_larger_and_going_back_makes_it_small_again(person):
    canvas = person.page.tiles.canvas
    plain = canvas.font().pointSizeF()
    person.do("view.sunlight")
    assert canvas.font().pointSizeF() == pytest.approx(plain * 1.15)
    person.do("view.sunlight")
    person.do("view.dark")
    assert canvas.font().pointSizeF() == pytest.approx(plain)


def test_the_scheme_is_remembered_and_every_window_follows(person, desk, yard):
    second = desk.sit_down()
    person.do("view.dark")
    assert second.window.scheme.name == "dark"
    assert second.checked("view.dark")
    assert load_settings().scheme == "dark"


# ---- windows


def test_a_window_is_opened_on_all_boards_when_its_board_cannot_be(desk, tmp_path):
    (tmp_path / "board.rustboard").write_text("not a board")
    desk.open(tmp_path, new_window=True)
    window = desk.windows[-1]
    settle()
    assert window.page is None
    assert window.message.is_error()
    assert window.windowTitle() == "All boards – Rustboard"
    shelf = window.centralWidget().findChild(type(window.shelf.screen()))
    assert shelf is window.shelf.screen()
    assert shelf.isVisible()


def test_a_board_opened_lately_is_remembered(person, yard):
    assert load_settings().recent == [str(yard)]


def test_going_to_all_boards_and_back_keeps_the_window_working(person, yard):
    for _ in range(3):
        person.do("file.shelf")
        person.answers.files = [yard]
        person.do("file.open")
    wait_until(lambda: person.page.timeline is not None)
    person.tap("A1")
    person.tap_grade(6)
    assert person.digit("A1") == "6"


def test_closing_the_window_gives_the_board_free_even_in_the_middle_of_a_note(person, yard):
    person.tap("A1")
    person.key("7", Qt.Key.Key_Left, "n")
    QTest.keyClicks(person.window.focusWidget(), "edge")
    person.do("file.close")
    with closing(Session(yard)) as session:
        assert session.read_only_reason == ""
        assert session.record.grading(1, 1).note == "edge"


def test_the_lock_note_is_renewed_while_the_board_is_open(person, yard):
    note = yard / ".board.open-in.json"
    before = json.loads(note.read_text())
    note.unlink()
    person.window._alive.timeout.emit()
    assert json.loads(note.read_text())["process"] == before["process"]


def test_the_timeline_comes_when_a_small_window_is_made_wide(desk, yard):
    window = desk.new_window()
    window.resize(800, 600)
    window.show_board(yard)
    settle()
    assert window.page.timeline is None
    window.resize(SIZE)
    wait_until(lambda: window.page.timeline is not None)
    assert window.page.has_timeline()


def test_a_fault_is_shown_in_every_window(desk):
    for _ in range(2):
        desk.new_window()
    desk.fault.emit("Rustboard made a mistake of its own.")
    assert [window.message.text() for window in desk.windows] == ["Rustboard made a mistake of its own."] * 2


def test_without_the_demo_the_button_says_so(desk):
    person = desk.sit_down()
    desk.make_demo(person.window)
    assert "not part of this installation" in person.message()


def test_the_demo_is_painted_beside_the_window_and_opened(desk, tmp_path):
    made = []

    def make(folder: Path, progress) -> list[Path]:
        progress("painting", 1, 2)
        made.append(folder)
        return [made_board(tmp_path / "Demo")]

    desk._make_demo = make
    person = desk.sit_down()
    desk.make_demo(person.window)
    settle()
    assert made == [desk.settings.boards_path()]
    assert person.session.record.board.name == "Demo"


# ---- messages


def test_a_note_goes_by_itself_and_does_not_cover_an_error(person):
    bar = person.window.message
    bar.show_note("Saved a copy.")
    assert bar.text() == "Saved a copy."
    assert not bar.is_error()
    bar._timer.timeout.emit()
    assert bar.text() == ""
    bar.show_error("The disk is full.")
    bar.show_note("Saved a copy.")
    bar._timer.timeout.emit()
    assert bar.text() == "The disk is full."
    person.press("Got it")
    assert bar.text() == ""


def test_a_note_of_many_words_and_one_long_word_fits_the_window(person):
    person.window.message.show_note(f"Wrote {'/very-long-folder-name' * 30}/a.xlsx")
    settle()
    assert person.window.minimumSizeHint().width() <= SIZE.width()
    assert not person.window.grab().isNull()
    person.window.message.show_error("word " * 200)
    settle()
    assert person.window.minimumSizeHint().width() <= SIZE.width()


# ---- texts


def test_no_text_on_any_screen_is_unfinished(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b", inspections=2), 1, {"C01": 4}))
    seen: set[str] = set()

    def read(dialog: QDialog) -> bool:
        seen.update(_texts(dialog))
        return cancel(dialog)

    person.answers.dialogs = [read] * 20
    for action in ("board.edit", "coupon.edit", "coupon.treatment", "inspection.edit", "board.treatments"):
        person.do(action)
    for action in ("file.audit", "help.keys", "help.about", "file.new", "file.copy", "coupon.add", "inspection.add"):
        person.do(action)
    person.tap("A1")
    person.key("7", Qt.Key.Key_Left)
    seen |= _texts(person.window)
    person.key(Qt.Key.Key_Delete)
    seen |= {person.message(), person.window.windowTitle(), person.window.statusBar().currentMessage()}
    person.do("view.table")
    seen |= _texts(person.window)
    person.do("file.shelf")
    seen |= _texts(person.window)
    assert len(seen) > 60
    assert [text for text in seen if re.search(r"\{\w*\}|%\d|\bNone\b", text)] == []


def _texts(widget: QWidget) -> set[str]:
    """Return all that a widget and those in it say, tool tips and names for screen readers too."""
    found = set()
    for each in (widget, *widget.findChildren(QWidget)):
        found |= {each.windowTitle(), each.toolTip(), each.accessibleName()}
        if isinstance(each, QLabel | QAbstractButton | QLineEdit):
            found.add(each.text())
        if isinstance(each, QLineEdit):
            found.add(each.placeholderText())
        if isinstance(each, QComboBox):
            found |= {each.itemText(number) for number in range(each.count())}
    return found | {action.text() for action in widget.actions()}


# ---- large boards


@pytest.fixture(scope="module")
def large_board(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """96 coupons, 365 inspections, all graded but the last."""
    folder = tmp_path_factory.mktemp("large") / "Large"
    create_board(folder, BoardRow(Board("Large", rows=8, columns=12, started=START)))

    def fill(tx) -> Summary:
        coupons = add_coupons(tx, [Coupon(f"C{n:02}", Position(*divmod(n, 12))) for n in range(96)])
        assert len(coupons) == 96
        keys = range(1, 97)
        for day in range(365):
            visit = tx.put(INSPECTIONS, Inspection(START + timedelta(days=day), "Ann"))
            for key in keys if day < 364 else ():
                grade = max(0, 10 - day * (key % 7) // 200)
                tx.put(GRADINGS, Grading(0, key, visit, grade, "", None, "Ann", "eye", "", START.isoformat()))
        return Summary("Fill")

    with closing(Session(folder)) as session:
        session.do(fill)
    return folder


def test_a_board_of_96_coupons_and_365_inspections_is_opened_graded_and_shown(large_board, sitting_at):
    person = sitting_at(large_board)
    assert person.reads("0 of 96 graded")
    person.tap("A1")
    for grade in (9, 8, 7):
        person.tap_grade(grade)
    assert person.grading() == "C03"
    assert [person.digit(label) for label in ("A1", "A2", "A3")] == ["9", "8", "7"]
    person.do("inspection.earlier")
    assert person.digit("A1") != ""
    person.do("view.table")
    assert not person.window.grab().isNull()
    person.do("view.table")
    person.drag("H1", "H12")
    person.do("edit.undo")
    assert person.window.minimumSizeHint().width() <= SIZE.width()
    person.stand_up()
    assert {name: grade for name, grade in grades_on_disk(large_board, 365).items() if name <= "C02"} == {
        "C00": "9",
        "C01": "8",
        "C02": "7",
    }


def test_tiles_of_a_large_board_are_reached_by_walking_in_a_small_window(large_board, sitting_at):
    person = sitting_at(large_board)
    person.resize(QSize(683, 384))
    canvas = person.page.tiles.canvas
    canvas.setFocus()
    for _ in range(7):
        person.key(Qt.Key.Key_Down)
    for _ in range(11):
        person.key(Qt.Key.Key_Right)
    assert canvas.focus_place().position.label == "H12"
    assert not canvas.visibleRegion().intersected(person.rect("H12")).isEmpty(), "the tile is scrolled into view"
