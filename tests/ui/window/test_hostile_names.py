"""Names that mean harm, or only mean to be long: painted as they are, run by nobody, and no wider than the screen."""

from __future__ import annotations

import unicodedata
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtWidgets import QApplication, QToolTip
from window_driving import START, Person, grades_on_disk, made_board, settle

from rustboard.board.model import Board, Coupon, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.operations.boards import label_axis
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow
from rustboard.ui.board.table import BoardTable
from rustboard.ui.guide.grade_key import LEAST_MM
from rustboard.ui.theme import MM_PER_INCH
from rustboard.ui.wording import tool_tip

HOSTILE = {
    "formula": '=HYPERLINK("http://x.example","a")',
    "plus": "+1",
    "emoji": "👩🏽‍🔧🧪 plate",
    "long": "C" * 400,
    "long words": "wax and oil " * 33,
    "control": "a\x07b\x1b[31mc",
    "override": "C\u202egnp.exe",
    "markup": "<img src='file:///etc/passwd'><b>bold</b>",
    "ampersand": "&Wax && oil &lt;",
    "star": "board[*]",
    "percent": "%n{0}%s",
    "stacked": "Z" + "\u0300" * 60,
}
SMALL_LAPTOP = QSize(1366, 768)
SMALL_LAPTOP_AT_200 = QSize(683, 384)


def hostile_board(folder: Path, name: str) -> Path:
    """A board on which everything bears one name."""
    create_board(folder, BoardRow(Board(name, rows=2, columns=3, started=START, site=name, customer=name)))
    with closing(Session(folder, clock=lambda: START)) as session:
        session.do(add_treatment, Treatment(name[:380] + "T", name, name, name))
        session.do(add_coupon, Coupon(name, Position(0, 0), 1, substrate=name, note=name))
        session.do(add_coupon, Coupon(name[:380] + "2", None, 1, role="control"))
        session.do(label_axis, "row", 0, name)
        session.do(label_axis, "column", 0, name)
        session.do(add_inspection, Inspection(START, name, name, "", name))
        session.do(add_inspection, Inspection(START + timedelta(days=7), name))
        session.do(grade_coupon, GivenGrade(1, 1, 7, "S", note=name, grader=name))
    return folder


@pytest.fixture(params=HOSTILE.values(), ids=HOSTILE)
def hostile(request, tmp_path, sitting_at) -> Person:
    return sitting_at(hostile_board(tmp_path / "b", request.param))


def harmless(text: str) -> bool:
    """No control character, and nothing that turns the direction of writing round."""
    return not any(unicodedata.category(each) == "Cc" or each == "\u202e" for each in text)


def least(person: Person) -> QSize:
    settle()
    return person.window.minimumSizeHint()


def fits(size: QSize, room: QSize) -> bool:
    return size.width() <= room.width() and size.height() <= room.height()


def test_a_hostile_name_is_painted_everywhere_and_widens_nothing(hostile):
    person = hostile
    for action in ("view.table", "view.table", "view.sunlight", "view.light"):
        person.do(action)
        assert not person.window.grab().isNull()
        assert fits(least(person), SMALL_LAPTOP), action
    person.tap("A1")
    person.key("n")
    assert not person.window.grab().isNull()
    assert fits(least(person), SMALL_LAPTOP), "grading"
    person.tap_grade(3)
    person.do("coupon.remove")  # a sentence with the name in it
    assert person.window.message.is_error()
    assert not person.window.grab().isNull()
    assert fits(least(person), SMALL_LAPTOP), "a message"
    assert person.window.size() == SMALL_LAPTOP
    folder = person.session.folder
    person.stand_up()
    assert list(grades_on_disk(folder, 2).values()) == ["3"]


def test_the_title_bar_holds_no_control_characters_and_is_not_endless(hostile):
    title = hostile.window.windowTitle()
    assert harmless(title)
    assert len(title) < 150
    assert title.endswith("– Rustboard")


def test_the_board_called_after_qts_own_mark_keeps_its_name(tmp_path, sitting_at):
    person = sitting_at(hostile_board(tmp_path / "b", "board[*]"))
    assert person.window.windowTitle() == "board[*][*] – Rustboard", "Qt shows two marks as one, as text"


def shown_tip(person: Person) -> str:
    canvas = person.page.tiles.canvas
    at = person.rect("A1").center()
    QApplication.sendEvent(canvas, QHelpEvent(QEvent.Type.ToolTip, at, canvas.mapToGlobal(at)))
    tips = [each for each in QApplication.topLevelWidgets() if each.metaObject().className() == "QTipLabel"]
    widths = [each.width() for each in tips if each.isVisible()]
    text = QToolTip.text()
    for each in tips:
        each.close()
    assert widths, "no tool tip came"
    assert max(widths) <= SMALL_LAPTOP.width()
    return text


def test_a_tool_tip_is_no_wider_than_the_screen_and_runs_no_markup(hostile):
    text = shown_tip(hostile)
    assert "<img" not in text
    assert "<b>" not in text
    assert "\x07" not in text
    table = BoardTable(hostile.session)
    tip = table.model().index(0, 1).data(Qt.ItemDataRole.ToolTipRole)
    assert "<img" not in tip
    assert max(map(len, tip.split("<br>"))) < 600
    table.deleteLater()


def test_a_tool_tip_says_the_text_as_it_is():
    assert tool_tip("a <b> & c") == "<p style='white-space: pre'>a &lt;b&gt; &amp; c</p>"
    assert tool_tip("") == ""
    assert tool_tip("x" * 100).count("<br>") == 1


def test_the_table_shows_hostile_names_as_text(hostile):
    hostile.do("view.table")
    table = hostile.page.tiles.findChild(BoardTable)
    cells = [
        table.model().index(row, column).data()
        for row in range(table.model().rowCount())
        for column in range(table.model().columnCount())
    ]
    assert all(map(harmless, cells))


# ---- small windows


def millimetres(widget, px: float) -> float:
    return px / widget.logicalDpiX() * MM_PER_INCH


@pytest.mark.parametrize("size", [SMALL_LAPTOP, SMALL_LAPTOP_AT_200], ids=["1366x768", "1366x768 at 200 %"])
@pytest.mark.parametrize("scheme", ["light", "dark", "sunlight"])
def test_all_eleven_keys_are_wide_enough_for_a_finger_and_inside_the_window(person, size, scheme):
    person.do(f"view.{scheme}")
    person.resize(size)
    person.tap("A1")
    settle()
    assert person.window.size() == size, "nothing makes the window larger"
    for key in person.panel.guide.keys.values():
        assert millimetres(key, key.width()) >= LEAST_MM - 0.2  # a whole number of px
        assert key.visibleRegion().boundingRect() == key.rect(), f"grade {key.grade} is cut off"
        corner = key.mapTo(person.window, key.rect().bottomRight())
        assert person.window.rect().contains(corner)


@pytest.mark.parametrize("size", [SMALL_LAPTOP, SMALL_LAPTOP_AT_200], ids=["1366x768", "1366x768 at 200 %"])
def test_a_whole_round_is_graded_in_a_small_window(person, yard, size):
    person.resize(size)
    person.tap("A1")
    for grade in (9, 8, 7, 6):
        person.tap_grade(grade)
    person.key(Qt.Key.Key_Escape)
    assert person.page.tiles.canvas.isVisible()
    assert [person.digit(label) for label in ("A1", "A2", "A3", "B1")] == ["9", "8", "7", "6"]
    person.stand_up()
    assert len(grades_on_disk(yard)) == 4


def test_the_shelf_fits_a_small_window_too(desk, tmp_path):
    hostile_board(desk.settings.boards_path() / "b", HOSTILE["long"])
    made_board(desk.settings.boards_path() / "c")
    person = desk.sit_down()
    assert fits(least(person), SMALL_LAPTOP_AT_200)
    assert not person.window.grab().isNull()
