"""The table shows the same board, keeps the same choice, and grades by the same taps."""

from __future__ import annotations

from contextlib import closing

import pytest
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtTest import QTest
from window_driving import (
    Person,
    accept,
    filling,
    graded,
    grades_on_disk,
    made_board,
    places_on_disk,
    settle,
)

from rustboard.operations.damage import GivenDamage, note_damage
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.session.session import Session
from rustboard.ui.board.table import COUPON, DAMAGE, GRADE, LAST, LAST_ON, NOTE, PERCENT, POSITION, BoardTable

KEY = Qt.Key


@pytest.fixture
def at_table(tmp_path, sitting_at) -> Person:
    """A board with some grades, shown as a table."""
    folder = made_board(tmp_path / "b", inspections=2)
    graded(folder, 1, {"C01": 10, "C02": 9, "C03": 8})
    with closing(Session(folder)) as session:
        session.do(grade_coupon, GivenGrade(1, 2, 9, "S", 0.02, note="edge"))
        session.do(grade_coupon, GivenGrade(2, 2, 3, "", 12.0))
        session.do(grade_coupon, GivenGrade(4, 2, 0, "", 80.0))
    person = sitting_at(folder)
    person.do("view.table")
    return person


def table_of(person: Person) -> BoardTable:
    table = person.page.tiles.findChild(BoardTable)
    assert table is not None
    return table


def column(person: Person, number: int) -> list[str]:
    model = table_of(person).model()
    return [model.index(row, number).data() for row in range(model.rowCount())]


def row_of(person: Person, coupon: str) -> int:
    return column(person, COUPON).index(coupon)


def choose_row(person: Person, coupon: str) -> None:
    table = table_of(person)
    at = table.visualRect(table.model().index(row_of(person, coupon), COUPON)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
    settle()


def test_the_table_says_what_the_tiles_say(at_table):
    assert column(at_table, POSITION) == ["A1", "A2", "A3", "B1"]
    assert column(at_table, COUPON) == ["C01", "C02", "C03", "C04"]
    assert column(at_table, GRADE) == ["9-S", "3", "–", "0"]
    assert column(at_table, LAST) == ["9-S", "3", "8", "0"]
    assert column(at_table, NOTE) == ["edge", "", "", ""]
    assert column(at_table, PERCENT)[0] in ("0.02", "0,02")


@pytest.mark.parametrize(
    ("by", "order"),
    [
        (GRADE, ["C03", "C04", "C02", "C01"]),
        (PERCENT, ["C03", "C01", "C02", "C04"]),
        (LAST, ["C04", "C02", "C03", "C01"]),
        (LAST_ON, ["C03", "C01", "C02", "C04"]),
        (POSITION, ["C01", "C02", "C03", "C04"]),
    ],
)
def test_the_table_sorts_by_value_not_by_letters(at_table, by, order):
    table_of(at_table).sortByColumn(by, Qt.SortOrder.AscendingOrder)
    assert column(at_table, COUPON) == order


def test_enter_grades_the_coupon_of_the_row_and_the_round_goes_on(at_table):
    choose_row(at_table, "C03")
    at_table.key(KEY.Key_Return)
    assert at_table.grading() == "C03"
    at_table.key("6")
    assert column(at_table, GRADE)[row_of(at_table, "C03")] == "6"
    folder = at_table.session.folder
    at_table.stand_up()
    assert grades_on_disk(folder, 2)["C03"] == "6"


def test_a_double_click_grades_too(at_table):
    table = table_of(at_table)
    at = table.visualRect(table.model().index(1, COUPON)).center()
    QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
    QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
    settle()
    assert at_table.grading() == "C02"


def test_the_choice_is_the_same_in_table_and_tiles(at_table):
    choose_row(at_table, "C02")
    assert at_table.session.selection.coupons == {2}
    assert at_table.session.selection.focus == 2
    table = table_of(at_table)
    flags = QItemSelectionModel.SelectionFlag
    table.selectionModel().select(table.model().index(3, 0), flags.Select | flags.Rows)
    assert at_table.session.selection.coupons == {2, 4}
    at_table.do("view.table")
    at_table.tap("A3", Qt.KeyboardModifier.ControlModifier)
    at_table.do("view.table")
    assert {index.row() for index in table.selectionModel().selectedRows()} == {1, 2, 3}


def test_after_a_round_the_keyboard_is_on_the_coupon_graded_last(at_table):
    choose_row(at_table, "C01")
    at_table.key(KEY.Key_Return, KEY.Key_Right, KEY.Key_Right, KEY.Key_Escape)
    table = table_of(at_table)
    assert [index.data() for index in table.selectionModel().selectedRows(COUPON)] == ["C03"]
    assert table.current_coupon() == 3
    at_table.do("coupon.take_off")
    folder = at_table.session.folder
    at_table.stand_up()
    assert places_on_disk(folder)["C03"] == "", "commands are about the row that is marked"


def test_an_edited_coupon_stays_chosen(at_table):
    choose_row(at_table, "C02")
    at_table.answers.dialogs = [filling(id="Z2")]
    at_table.do("coupon.edit")
    assert column(at_table, COUPON) == ["C01", "Z2", "C03", "C04"]
    assert table_of(at_table).current_coupon() == 2
    assert at_table.session.selection.coupons == {2}
    assert "coupon.edit" in at_table.enabled()


def test_the_table_keeps_its_order_while_it_is_graded(at_table):
    table_of(at_table).sortByColumn(COUPON, Qt.SortOrder.DescendingOrder)
    choose_row(at_table, "C03")
    at_table.key(KEY.Key_Return)
    at_table.key("1")
    assert column(at_table, COUPON) == ["C04", "C03", "C02", "C01"]


def test_the_table_follows_another_inspection_and_new_coupons(at_table):
    at_table.do("inspection.earlier")
    assert column(at_table, GRADE) == ["10", "9", "8", "–"]
    at_table.answers.dialogs = [accept]
    at_table.do("coupon.add")
    assert column(at_table, COUPON)[-1] == "C05"


def test_a_coupon_off_the_board_is_last_in_the_table(at_table):
    choose_row(at_table, "C01")
    at_table.do("coupon.take_off")
    assert column(at_table, POSITION) == ["A2", "A3", "B1", "off"]


def test_the_column_for_damage_is_there_while_there_is_any(at_table):
    assert table_of(at_table).isColumnHidden(DAMAGE)
    at_table.window.do(note_damage, GivenDamage(2, 2, "blisters", 15.0, "m"))
    at_table.window.do(note_damage, GivenDamage(2, 2, "edge rust", 5.0))
    at_table.window.do(note_damage, GivenDamage(1, 1, "stain", 5.0))
    assert not table_of(at_table).isColumnHidden(DAMAGE)
    assert column(at_table, DAMAGE) == ["", "edges, blisters", "", ""]
    at_table.do("inspection.earlier")
    assert column(at_table, DAMAGE) == ["stain", "", "", ""]
    at_table.do("edit.undo")
    assert table_of(at_table).isColumnHidden(DAMAGE)
