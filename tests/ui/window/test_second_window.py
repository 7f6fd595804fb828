"""Two windows on one board: the second only reads, says why, and sees what the first does."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from window_driving import Person, graded, grades_on_disk, made_board, places_on_disk, settle

KEY = Qt.Key
WHY = "The board is open in another window on this computer, so it is open for reading only here."


@pytest.fixture
def reader(person: Person, desk, yard: Path) -> Person:
    """Somebody before a second window on the same board."""
    return desk.sit_down(yard)


def look_again(reader: Person) -> None:
    """What the window does every few seconds."""
    reader.window._again.timeout.emit()
    settle()


def test_the_second_window_opens_and_says_why_it_only_reads(reader):
    assert reader.message() == WHY
    assert reader.window.message.is_error(), "it stays until read"
    assert reader.reads("Reading only")
    assert reader.window._again.isActive()


def test_a_tap_in_the_second_window_shows_the_coupon_and_its_keys_are_grey(reader, yard):
    reader.tap("A1")
    assert reader.grading() == "C01"
    assert not any(key.isEnabled() for key in reader.panel.guide.keys.values())
    reader.tap_grade(5)
    reader.key("5", "t", "s")
    assert grades_on_disk(yard) == {}
    assert reader.message() == WHY
    reader.key(KEY.Key_Right)
    assert reader.grading() == "C02", "one may still look around"
    reader.key(KEY.Key_Escape)
    assert reader.grading() == ""


def test_nothing_is_dragged_carried_added_or_withdrawn_in_the_second_window(reader, person, yard):
    person.tap("A1")
    person.tap_grade(7)
    look_again(reader)
    reader.drag("A1", "B3")
    reader.page.tiles.canvas.pick_up()
    reader.key(KEY.Key_Down, KEY.Key_Return)
    reader.tap("B3")
    reader.tap("A1")
    reader.key(KEY.Key_Delete, "n")
    assert reader.answers.asked == []
    assert reader.message() == WHY
    canvas = reader.page.tiles.canvas
    at = canvas.grid.header_rect("row", 0).center().toPoint()
    canvas.header_menu_asked.emit("row", 0, at)
    menu = reader.open_menu("A1")
    assert not any(each.isEnabled() for each in menu.actions() if not each.isSeparator())
    menu.close()
    assert places_on_disk(yard)["C01"] == "A1"
    assert grades_on_disk(yard) == {"C01": "7"}


def test_the_second_window_sees_what_the_first_does(reader, person):
    reader.tap("A2")
    person.tap("A2")
    person.key("p", "6")
    person.drag("A3", "B3")
    assert reader.digit("A2") == ""
    look_again(reader)
    assert reader.digit("A2") == "6P"
    assert reader.tile("B3").id == "C03"
    assert reader.reads("graded 6-P"), "the coupon looked at is shown anew as well"
    person.do("edit.undo")
    person.do("edit.undo")
    look_again(reader)
    assert reader.digit("A2") == ""


def test_the_second_window_keeps_what_it_looks_at_while_the_first_goes_on(tmp_path, desk):
    folder = graded(made_board(tmp_path / "b", inspections=2), 1, {"C01": 9})
    writer, reader = desk.sit_down(folder), desk.sit_down(folder)
    reader.look_at(0)
    writer.tap("A1")
    writer.tap_grade(7)
    look_again(reader)
    assert reader.session.selection.inspection == 1
    assert reader.digit("A1") == "9"


def test_the_coupon_looked_at_that_the_first_window_removes_closes_in_the_second(reader, person):
    reader.tap("A1")
    person.do("coupon.remove")
    look_again(reader)
    assert reader.grading() == ""


def test_when_the_first_window_closes_the_board_is_opened_again_for_writing(reader, person, yard):
    person.stand_up()
    reader.tap("A1")
    reader.tap_grade(5)
    assert grades_on_disk(yard) == {}, "the window was told it only reads, and does"
    reader.answers.files = [yard]
    reader.do("file.open")
    assert reader.session.read_only_reason == ""
    reader.tap("A1")
    reader.tap_grade(5)
    assert grades_on_disk(yard) == {"C01": "5"}


def test_closing_the_second_window_leaves_the_first_its_board(reader, person, yard):
    reader.stand_up()
    person.tap("A1")
    person.tap_grade(5)
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "5"}


def test_two_boards_are_open_side_by_side_and_each_keeps_its_own(person, desk, yard, tmp_path):
    other = made_board(tmp_path / "Other")
    second = desk.sit_down(other)
    assert second.session.read_only_reason == ""
    person.tap("A1")
    second.tap("A1")
    person.tap_grade(3)
    second.tap_grade(8)
    for each in (person, second):
        each.stand_up()
    assert (grades_on_disk(yard), grades_on_disk(other)) == ({"C01": "3"}, {"C01": "8"})
