"""Coupons dragged, carried, swapped, taken off; and every step taken back."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPoint, Qt
from window_driving import (
    Person,
    accept,
    assert_sound,
    graded,
    grades_on_disk,
    made_board,
    places_on_disk,
    reopened,
    send_mouse,
    settle,
)

KEY = Qt.Key
AS_MADE = {"C01": "A1", "C02": "A2", "C03": "A3", "C04": "B1"}
OUTSIDE = QPoint(-40, -40)


def test_a_tile_is_dragged_to_an_empty_position(person, yard):
    person.drag("A1", "B3")
    assert person.tile("B3").id == "C01"
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C01": "B3"}
    assert_sound(yard)


def test_a_tile_dragged_onto_another_swaps_places_with_it_and_their_grades_go_along(tmp_path, sitting_at):
    folder = graded(made_board(tmp_path / "b"), 1, {"C01": 9, "C02": 4})
    person = sitting_at(folder)
    person.drag("A1", "A2")
    assert (person.digit("A1"), person.digit("A2")) == ("4", "9")
    person.stand_up()
    assert places_on_disk(folder) == {**AS_MADE, "C01": "A2", "C02": "A1"}
    assert grades_on_disk(folder) == {"C01": "9", "C02": "4"}


@pytest.mark.parametrize("to", [OUTSIDE, QPoint(5, 150)], ids=["outside", "a header"])
def test_a_tile_let_go_where_nothing_can_hang_stays_where_it_was(person, yard, to):
    person.drag("A1", to)
    assert person.page.tiles.canvas.carry is None
    assert person.grading() == "", "a drag is no tap"
    assert not person.session.can_go_back(), "nothing was written"
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


def test_a_tile_dragged_away_and_back_stays_where_it_was(person, yard):
    person.drag("A1", "B3", drop=False)
    send_mouse(person.page.tiles.canvas, QEvent.Type.MouseMove, person.rect("A1").center().toPointF())
    person.drop("A1")
    assert person.grading() == ""
    assert not person.session.can_go_back()


def test_esc_in_the_middle_of_a_drag_puts_the_tile_back(person, yard):
    person.drag("A1", "B3", drop=False)
    assert person.page.tiles.canvas.carry is not None
    person.key(KEY.Key_Escape)
    person.drop("B3")
    assert person.message() == ""
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


def test_a_trembling_finger_still_taps(person):
    canvas = person.page.tiles.canvas
    at = person.rect("A1").center()
    send_mouse(canvas, QEvent.Type.MouseButtonPress, at.toPointF())
    send_mouse(canvas, QEvent.Type.MouseMove, (at + QPoint(2, 2)).toPointF())
    send_mouse(canvas, QEvent.Type.MouseButtonRelease, (at + QPoint(2, 2)).toPointF())
    assert person.grading() == "C01"


def test_dragging_from_an_empty_position_moves_nothing(person, yard):
    person.drag("B3", "A1")
    assert person.answers.asked == []
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


# ---- the tray


@pytest.fixture
def with_one_off(person: Person) -> Person:
    """C04 is off the board."""
    person.tap("B1")
    person.key(KEY.Key_Escape)
    person.do("coupon.take_off")
    return person


def test_a_coupon_taken_off_lies_in_the_tray_and_is_dragged_back(with_one_off, yard):
    person = with_one_off
    tray = person.rect("C04").center()
    person.drag("A1", tray)
    assert {tile.id for place, tile in person.page.tiles.canvas.content.tiles.items() if place.tray >= 0} == {
        "C01",
        "C04",
    }
    assert places(person)["C01"] == ""
    person.drag("C04", "B2")
    person.stand_up()
    assert places_on_disk(yard) == {"C01": "", "C02": "A2", "C03": "A3", "C04": "B2"}


def test_a_tile_let_go_anywhere_in_the_tray_is_taken_off(with_one_off, yard):
    free = with_one_off.rect("C04").translated(with_one_off.rect("C04").width() + 20, 0).center()
    with_one_off.drag("A1", free)
    with_one_off.stand_up()
    assert places_on_disk(yard)["C01"] == ""


def test_a_coupon_from_the_tray_let_go_on_a_tile_takes_its_place_and_the_other_comes_off(with_one_off, yard):
    with_one_off.drag("C04", "A1")
    with_one_off.stand_up()
    assert places_on_disk(yard) == {"C01": "", "C02": "A2", "C03": "A3", "C04": "A1"}


def test_a_coupon_of_the_tray_is_graded_by_a_tap_like_any_other(with_one_off, yard):
    with_one_off.tap("C04")
    with_one_off.tap_grade(3)
    with_one_off.stand_up()
    assert grades_on_disk(yard) == {"C04": "3"}


def places(person: Person) -> dict[str, str]:
    record = person.session.record
    return {each.id: each.position.label if each.position else "" for each in record.coupons.values()}


# ---- by keyboard


def test_a_coupon_is_carried_by_keys(person, yard):
    person.key("M", modifier=Qt.KeyboardModifier.ControlModifier)
    assert "arrow keys" in person.message()
    person.key(KEY.Key_Down, KEY.Key_Right, KEY.Key_Return)
    assert person.tile("B2").id == "C01"
    assert person.page.tiles.canvas.focus_place().position.label == "B2", "the keyboard goes along"
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C01": "B2"}


def test_esc_puts_a_carried_coupon_back(person, yard):
    person.do("coupon.carry")
    person.key(KEY.Key_Down, KEY.Key_Right, KEY.Key_Escape, KEY.Key_Return)
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


def test_after_the_move_command_a_tap_says_where_to(person, yard):
    person.tap("A1")
    person.do("coupon.carry")
    assert person.grading() == "", "grading makes room for the board"
    person.tap("B2")
    assert person.grading() == ""
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C01": "B2"}


def test_the_move_command_works_from_the_table_too(person, yard):
    person.do("view.table")
    person.do("coupon.carry")
    assert not person.page.tiles.is_table()
    person.key(KEY.Key_Down, KEY.Key_Right, KEY.Key_Return)
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C01": "B2"}


# ---- undo


def test_a_swap_is_undone_and_done_again(person, yard):
    person.drag("A1", "A2")
    person.do("edit.undo")
    assert places(person) == AS_MADE
    assert person.message() == "Undone: Swap C01 and C02"
    person.do("edit.redo")
    assert person.message() == "Done again: Swap C01 and C02"
    person.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C01": "A2", "C02": "A1"}


def test_what_was_taken_away_comes_back_by_the_button_in_the_message(person, yard):
    person.do("coupon.take_off")
    assert person.message() == "Take C01 off the board"
    person.press("Undo")
    person.stand_up()
    assert places_on_disk(yard) == AS_MADE


def test_undo_reaches_back_over_closing_the_window(person, desk, yard):
    person.drag("A1", "B3")
    person.tap("A2")
    person.tap_grade(5)
    person.stand_up()
    later = desk.sit_down(yard)
    for _ in range(2):
        later.do("edit.undo")
    assert later.digit("A2") == ""
    assert places(later) == AS_MADE
    later.do("edit.redo")
    later.stand_up()
    assert places_on_disk(yard) == {**AS_MADE, "C01": "B3"}
    assert grades_on_disk(yard) == {}


def test_everything_since_opening_is_taken_back_and_can_be_done_again(person, desk, yard):
    person.tap("A2")
    person.tap_grade(5)
    person.stand_up()
    later = desk.sit_down(yard)
    assert "file.go_back" not in later.enabled()
    later.drag("A1", "B3")
    later.do("round.next")
    later.tap_grade(7)
    later.do("file.go_back")
    assert places(later) == AS_MADE
    assert "file.go_back" not in later.enabled()
    later.stand_up()
    assert grades_on_disk(yard) == {"C02": "5"}, "what was there before stays"


def test_the_undo_that_takes_the_inspection_in_view_away_shows_the_one_before(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C01": 9}))
    person.answers.dialogs = [accept]
    person.do("inspection.add")
    assert person.digit("A1") == ""
    person.do("edit.undo")
    assert person.digit("A1") == "9"
    assert person.session.selection.inspection == 1


def test_undo_while_grading_shows_the_coupon_as_it_was(person):
    person.tap("A1")
    person.key("s", "7", KEY.Key_Left)
    person.do("edit.undo")
    assert person.grading() == "C01"
    assert person.panel.options.letter() == ""
    assert person.reads("not graded yet")


def test_undo_that_takes_the_coupon_being_graded_away_closes_grading(tmp_path, sitting_at):
    folder: Path = made_board(tmp_path / "b", coupons=1)
    person = sitting_at(folder)
    person.answers.dialogs = [accept]
    person.tap("A2")
    person.tap("A2")
    assert person.grading() == "C02"
    person.do("edit.undo")
    assert person.grading() == ""
    settle()
    person.stand_up()
    with reopened(folder) as session:
        assert {each.id for each in session.record.coupons.values()} == {"C01"}
