"""The whole board graded in one go: by mouse, by keyboard, by finger; and what follows what."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QPointingDevice
from PySide6.QtTest import QTest
from window_driving import (
    Person,
    accept,
    assert_sound,
    filling,
    graded,
    grades_on_disk,
    gradings_on_disk,
    made_board,
    reopened,
    settle,
)

SitDown = Callable[[Path], Person]
EVERY_COUPON = "Every coupon on the board is graded at this inspection."
KEY = Qt.Key


@pytest.fixture(scope="session")
def touch_screen(qapp) -> QPointingDevice:
    return QTest.createTouchDevice()


@pytest.fixture
def finger(touch_screen, person) -> QPointingDevice:
    """A finger, and a window that lies on the screen as a whole: Qt drops touches beside it."""
    screen = person.window.screen().availableSize()
    person.window.resize(screen.width() - 10, screen.height() - 10)
    settle()
    return touch_screen


def test_a_board_is_graded_by_mouse_alone(person, yard):
    person.tap("A1")
    for grade in (10, 7, 3, 0):
        person.tap_grade(grade)
    assert person.message() == EVERY_COUPON
    assert [person.digit(label) for label in ("A1", "A2", "A3", "B1")] == ["10", "7", "3", "0"]
    assert person.grading() == "", "the next key in haste must not correct the last grade"
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "10", "C02": "7", "C03": "3", "C04": "0"}
    assert_sound(yard)


def test_a_board_is_graded_by_keyboard_alone(person, yard):
    person.key(KEY.Key_Right)  # to C02, which is then graded first
    person.key(KEY.Key_Return)
    assert person.grading() == "C02"
    person.key("s", "8", "7", "p", "4", "t")
    assert person.message() == EVERY_COUPON
    person.key(KEY.Key_Escape)
    assert person.grading() == ""
    assert person.page.tiles.canvas.hasFocus(), "after Esc the keyboard is on the board again"
    person.key(KEY.Key_Left, KEY.Key_Up)
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "10", "C02": "8S", "C03": "7", "C04": "4P"}
    assert_sound(yard)


def test_a_board_is_graded_by_finger_alone(person, yard, finger):
    person.touch_tile("A1", finger)
    panel = person.panel
    for grade in (9, 8):
        person.touch_widget(panel.guide.keys[grade], finger)
    person.touch_tile("B1", finger)
    assert person.grading() == "C04"
    person.touch_widget(panel.guide.keys[2], finger)
    assert person.grading() == "C03"
    person.touch_widget(panel.guide.keys[10], finger)
    assert person.message() == EVERY_COUPON
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "9", "C02": "8", "C03": "10", "C04": "2"}


def test_a_finger_moves_a_coupon_with_the_move_command(person, yard, finger):
    person.touch_tile("A1", finger)
    person.do("coupon.carry")
    person.touch_tile("B3", finger)
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.coupons[1].position.label == "B3"


def test_the_next_ungraded_coupon_follows_in_reading_order_and_round_the_end(tmp_path, sitting_at):
    folder = graded(made_board(tmp_path / "b", coupons=6), 1, {"C02": 5, "C05": 5})
    person = sitting_at(folder)
    person.tap("A3")
    order = [person.grading()]
    for _ in range(3):
        person.tap_grade(6)
        order.append(person.grading())
    assert order == ["C03", "C04", "C06", "C01"]


def test_grading_the_next_ungraded_begins_where_the_keyboard_is(person):
    person.do("round.next")
    assert person.grading() == "C01"
    person.do("round.next")  # from there it goes on
    assert person.grading() == "C02"


def test_grading_the_next_ungraded_passes_over_a_coupon_that_has_its_grade(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C01": 5}))
    person.do("round.next")
    assert person.grading() == "C02"


def test_skip_and_back_walk_the_board_in_reading_order_round_the_end(person):
    person.tap("A1")
    person.press("Skip")
    assert person.grading() == "C02"
    person.press("Back")
    person.press("Back")
    assert person.grading() == "C04"
    person.key(KEY.Key_Right)
    assert person.grading() == "C01"
    person.key(KEY.Key_Left)
    assert person.grading() == "C04"
    assert person.reads("B1 · C04 · beeswax blend")


def test_the_keys_grade_on_after_buttons_were_clicked(person, yard):
    person.tap("A1")
    person.press("Skip")
    person.press("Back")
    person.key(KEY.Key_Right)
    assert person.grading() == "C02"
    person.press("P  Pinpoint")
    person.key("6")
    person.stand_up()
    assert grades_on_disk(yard) == {"C02": "6P"}


def test_walking_the_board_while_grading_takes_the_grading_along(person):
    person.tap("A1")
    person.page.tiles.canvas.setFocus()
    person.key(KEY.Key_Right)
    assert person.grading() == "C02"
    person.key(KEY.Key_Down)  # B2 is empty
    assert person.grading() == "C02"


# ---- letters


def test_a_letter_chosen_before_the_grade_goes_with_it_and_not_with_the_next(person, yard):
    person.tap("A1")
    person.press("G  General")
    person.tap_grade(6)
    person.tap_grade(5)
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "6G", "C02": "5"}


def test_a_letter_pressed_after_the_grade_corrects_it(person, yard):
    person.tap("A1")
    person.key("6", KEY.Key_Left, "h")
    assert person.digit("A1") == "6H"
    assert person.grading() == "C01", "a letter does not lead on to the next coupon"
    person.stand_up()
    assert [(each.distribution, each.state) for each in gradings_on_disk(yard, 1)] == [
        ("", "superseded"),
        ("H", "current"),
    ]


def test_a_letter_pressed_again_is_taken_away(person, yard):
    person.tap("A1")
    person.key("s", "6", KEY.Key_Left, "s")
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "6"}


@pytest.mark.parametrize(("key", "grade"), [("t", "10"), ("0", "0")])
def test_the_ends_of_the_scale_are_recorded_without_a_letter(person, yard, key, grade):
    person.tap("A1")
    person.key("p", key)
    person.key(KEY.Key_Left, "s")  # nor does a letter afterwards change anything
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": grade}
    assert len(gradings_on_disk(yard, 1)) == 1
    assert_sound(yard)


def test_the_letter_buttons_show_what_the_coupon_has(person):
    person.tap("A1")
    person.key("p", "6", KEY.Key_Left)
    assert person.panel.options.letter() == "P"
    person.key(KEY.Key_Right)
    assert person.panel.options.letter() == ""


# ---- notes


def test_a_note_is_written_before_the_grade(person, yard):
    person.tap("A1")
    person.key("n")
    QTest.keyClicks(person.window.focusWidget(), "7 spots at the hole, S side")
    person.key(KEY.Key_Return)
    person.key("7")
    assert person.grading() == "C02"
    assert person.panel.options.note() == ""
    person.stand_up()
    assert [(each.grade, each.note) for each in gradings_on_disk(yard, 1)] == [(7, "7 spots at the hole, S side")]


def test_a_note_is_added_to_a_grade_later(person, yard):
    person.tap("A1")
    person.key("s", "7", KEY.Key_Left, "n")
    QTest.keyClicks(person.window.focusWidget(), "edge")
    person.key(KEY.Key_Return)
    person.stand_up()
    found = gradings_on_disk(yard, 1)[-1]
    assert (found.grade, found.distribution, found.note, found.state) == (7, "S", "edge", "current")


def test_esc_takes_back_what_was_typed_into_the_note(person, yard):
    person.tap("A1")
    person.key("7", KEY.Key_Left, "n")
    QTest.keyClicks(person.window.focusWidget(), "slip of the pen")
    person.key(KEY.Key_Escape)
    assert person.panel.options.note() == ""
    person.key("n", KEY.Key_Return)
    person.stand_up()
    assert [each.note for each in gradings_on_disk(yard, 1)] == [""]


def leave_by_skip(person: Person) -> None:
    person.press("Skip")


def leave_by_tile(person: Person) -> None:
    person.tap("A3")


def leave_by_other_inspection(person: Person) -> None:
    person.do("inspection.earlier")


def leave_by_closing(person: Person) -> None:
    person.press("Close")


@pytest.mark.parametrize("leave", [leave_by_skip, leave_by_tile, leave_by_other_inspection, leave_by_closing])
def test_a_note_typed_to_a_graded_coupon_is_kept_however_one_goes_on(tmp_path, sitting_at, leave):
    folder = graded(made_board(tmp_path / "b", inspections=2), 2, {"C01": 7})
    graded(folder, 1, {"C01": 9})
    person = sitting_at(folder)
    person.tap("A1")
    person.key("n")
    QTest.keyClicks(person.window.focusWidget(), "edge")
    leave(person)
    person.stand_up()
    assert gradings_on_disk(folder, 1, 2)[-1].note == "edge"
    assert [each.note for each in gradings_on_disk(folder, 1, 1)] == [""]
    assert gradings_on_disk(folder, 3, 2) == []


def test_a_note_typed_before_the_grade_waits_for_it(person, yard):
    person.tap("A1")
    person.key("n")
    QTest.keyClicks(person.window.focusWidget(), "edge")
    person.press("Skip")
    assert person.panel.options.note() == ""
    person.press("Back")
    assert person.panel.options.note() == "edge"
    person.key("7")
    person.stand_up()
    assert [(each.grade, each.note) for each in gradings_on_disk(yard, 1)] == [(7, "edge")]


# ---- taking back and correcting


@pytest.mark.parametrize("way", ["key", "button", "menu"])
def test_a_grade_is_withdrawn_and_kept_in_the_record(person, yard, way):
    person.tap("A1")
    person.key("7", KEY.Key_Left)
    if way == "key":
        person.key(KEY.Key_Delete)
    elif way == "button":
        person.press("Withdraw grade")
    else:
        person.do("coupon.withdraw")
    assert person.digit("A1") == ""
    assert person.message() == "Withdraw the grade of C01: 7"
    person.stand_up()
    assert grades_on_disk(yard) == {}
    assert [each.state for each in gradings_on_disk(yard, 1)] == ["withdrawn"]


def test_a_withdrawn_grade_comes_back_by_the_button_in_the_message(person, yard):
    person.tap("A1")
    person.key("7", KEY.Key_Left, KEY.Key_Delete)
    person.press("Undo")
    assert person.digit("A1") == "7"
    person.stand_up()
    assert grades_on_disk(yard) == {"C01": "7"}


def test_a_coupon_without_a_grade_has_none_to_withdraw(person, yard):
    person.tap("A1")
    person.key(KEY.Key_Delete)
    assert person.message() == ""
    assert "coupon.withdraw" not in person.enabled()


def test_an_earlier_inspection_is_chosen_in_the_bar_and_corrected(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b", inspections=3)
    graded(folder, 1, {"C01": 9, "C02": 9, "C03": 9, "C04": 9})
    graded(folder, 3, {"C01": 4})
    person = sitting_at(folder)
    assert person.digit("A1") == "4", "the newest inspection is in view at first"
    person.look_at(0)
    assert person.digit("A1") == "9"
    person.tap("A1")
    assert person.reads("earlier inspection, day 0")
    person.tap_grade(8)
    assert person.grading() == "C01", "with nothing left to grade, the corrected coupon stays"
    assert person.reads("graded 8 (corrected)")
    person.stand_up()
    kept = [(each.grade, each.state, each.replaces) for each in gradings_on_disk(folder, 1, 1)]
    assert kept == [(9, "superseded", None), (8, "current", gradings_on_disk(folder, 1, 1)[0].key)]
    assert grades_on_disk(folder, 3) == {"C01": "4"}
    assert_sound(folder)


def test_the_same_grade_again_changes_nothing_and_leads_on(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b")
    person = sitting_at(folder)
    person.tap("A1")
    person.key("7", KEY.Key_Left, "7")
    assert person.grading() == "C02"
    person.stand_up()
    assert len(gradings_on_disk(folder, 1)) == 1


def test_correcting_a_note_keeps_the_percent_of_a_grade_typed_elsewhere(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b")
    from rustboard.operations.grading import GivenGrade, grade_coupon

    with reopened(folder) as session:
        session.do(grade_coupon, GivenGrade(1, 1, 8, "S", 0.05, grader="Bob"))
    person = sitting_at(folder)
    person.tap("A1")
    person.key("n")
    QTest.keyClicks(person.window.focusWidget(), "dry")
    person.key(KEY.Key_Return)
    person.stand_up()
    assert (gradings_on_disk(folder, 1)[-1].percent, gradings_on_disk(folder, 1)[-1].note) == (0.05, "dry")


# ---- without an inspection


def test_a_tap_before_the_first_inspection_asks_for_it_and_goes_on_with_the_coupon(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b", inspections=0)
    person = sitting_at(folder)
    person.answers.dialogs = [filling(graded="Berta")]
    person.tap("A2")
    assert person.answers.asked == ["InspectionDialog"]
    assert person.grading() == "C02"
    person.tap_grade(7)
    person.stand_up()
    found = gradings_on_disk(folder, 2)
    assert [(each.grade, each.grader) for each in found] == [(7, "Berta")]


def test_the_next_inspection_suggests_the_grader_of_the_last(person, desk):
    person.answers.dialogs = [filling(graded="Berta")]
    person.do("inspection.add")
    assert desk.settings.grader == "Berta"
    person.answers.dialogs = [accept]
    person.do("inspection.add")
    assert [each.grader for each in person.session.record.inspections_in_order()] == ["Ann", "Berta", "Berta"]
    assert person.session.audit()[0][1] == "Berta"


def test_an_inspection_not_wanted_after_all_leaves_the_board_as_it_is(tmp_path, sitting_at):
    folder = made_board(tmp_path / "b", inspections=0)
    person = sitting_at(folder)
    person.tap("A2")
    assert person.grading() == ""
    assert person.session.record.inspections == {}


def test_an_inspection_added_during_grading_goes_on_with_the_same_coupon(person, yard):
    person.tap("A2")
    person.key("7", KEY.Key_Left)
    person.answers.dialogs = [accept]
    person.do("inspection.add")
    assert person.grading() == "C02"
    assert person.digit("A2") == ""
    person.key("5")
    person.stand_up()
    assert (grades_on_disk(yard, 1), grades_on_disk(yard, 2)) == ({"C02": "7"}, {"C02": "5"})


def test_coupons_off_the_board_are_no_part_of_the_round(person, yard):
    person.tap("A1")
    person.do("coupon.take_off")
    assert person.grading() == "C01", "it may still be graded"
    for key in "7654":
        person.key(key)
    assert person.message() == EVERY_COUPON


def test_undo_while_grading_brings_the_coupon_back_whose_grade_went(person, yard):
    person.tap("A1")
    person.key("5")
    assert person.grading() == "C02"
    person.do("edit.undo")
    assert person.grading() == "C01", "the corrected key must grade the same coupon"
    person.key("6")
    person.stand_up()
    assert grades_on_disk(yard)["C01"] == "6"


def test_a_note_before_the_grade_says_that_it_waits(person):
    person.tap("A1")
    person.key("N")
    person.key("d", "r", "o", "p", KEY.Key_Return)
    assert person.message() == "The note waits for this coupon's grade and is written with it."
