"""Coupons: added, edited, moved, swapped, taken off, removed."""

import math
from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.model import MOST_COUPONS, Coupon, Inspection, Treatment
from rustboard.board.position import Position, parse_position
from rustboard.operations.coupons import (
    add_coupon,
    add_coupon_with_treatment,
    add_coupons,
    edit_coupon,
    edit_coupon_with_treatment,
    move_coupon,
    remove_coupon,
    take_off,
)
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.treatments import add_treatment

OUTLINE = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0))
GONE = "This coupon is no longer on the board; it may have been taken away by undo."


def add(session, name, where=None, **more):
    session.do(add_coupon, Coupon(name, parse_position(where) if where else None, **more))
    return max(session.record.coupons)


def places(session):
    return {each.id: each.position.label if each.position else None for each in session.record.coupons.values()}


def test_a_coupon_is_added_as_it_was_described(session):
    session.do(add_treatment, Treatment("T1"))
    described = Coupon("C01", Position(1, 2), 1, "control", "mild steel", OUTLINE, "bent\ncorner")
    changes = session.do(add_coupon, described)
    assert session.record.coupons[1] == replace(described, key=1)
    assert changes.summary.text() == "Add coupon C01 at B3"
    assert (changes.tables, changes.coupons) == ({"coupon": {1}}, {1})


def test_a_coupon_may_lie_beside_the_board(session):
    changes = session.do(add_coupon, Coupon("C01"))
    assert changes.summary.text() == "Add coupon C01"
    assert session.record.coupons[1].position is None


def test_texts_of_a_coupon_are_made_safe(session):
    add(session, ' =HYPERLINK("x")\x00\ud800 ', note="a\r\nb\x1b", substrate="\u202eleets")
    coupon = session.record.coupons[1]
    assert (coupon.id, coupon.note, coupon.substrate) == ('=HYPERLINK("x")\ufffd\ufffd', "a\nb\ufffd", "\ufffdleets")


def test_a_name_of_400_characters_is_kept_whole(session):
    add(session, "🐝" * 400)
    assert session.record.coupons[1].id == "🐝" * 400


@pytest.mark.parametrize(("coupon", "sentence"), [
    (Coupon("  "), "A coupon needs an id: what is written on it."),
    (Coupon("\n"), "A coupon needs an id: what is written on it."),
    (Coupon("c1"), "Another coupon is called c1; choose a different id."),
    (Coupon("Ｃ1"), "Another coupon is called Ｃ1; choose a different id."),
    (Coupon("C\u200b1"), "Another coupon is called C\u200b1; choose a different id."),
    (Coupon("C2", Position(0, 0)), "C1 is at A1 already; choose a free position."),
    (Coupon("C2", Position(3, 0)), "The board has no position D1; it has 3 rows and 7 columns."),
    (Coupon("C2", Position(0, 7)), "The board has no position A8; it has 3 rows and 7 columns."),
    (Coupon("C2", Position(0, -1)), "The board has no position A0; it has 3 rows and 7 columns."),
    (Coupon("C2", role="spy"), "A coupon's role is test or control."),
    (Coupon("C2", treatment=9), "This treatment is no longer on the board; it may have been taken away by undo."),
    (Coupon("C2", outline_mm=((0, 0), (9, 9))),
     "The outline has 2 different points; a closed shape needs at least 3."),
    (Coupon("C2", outline_mm=((0, 0), (math.nan, 0), (9, 9))),
     "The outline has a point that is not a finite number; give every point in mm."),
    (Coupon("C2", outline_mm=((0, 0), (1e6, 0), (9, 9))),
     "The outline has a point more than 100,000 mm from the corner; give its corners in mm."),
])  # fmt: skip
def test_a_coupon_that_cannot_be_is_refused(session, refused, coupon, sentence):
    add(session, "C1", "A1")
    assert refused(add_coupon, coupon) == sentence


def test_two_ids_that_differ_in_a_letter_beyond_ascii_are_still_one(session, refused):
    add(session, "Ä1")
    assert refused(add_coupon, Coupon("ä1")) == "Another coupon is called ä1; choose a different id."


def test_a_very_long_id_is_cut_in_the_sentence_only(session, refused):
    add(session, "x" * 400)
    assert refused(add_coupon, Coupon("x" * 400)) == (f"Another coupon is called {'x' * 60}…; choose a different id.")


def test_a_board_holds_a_thousand_coupons_and_no_more(session, refused):
    session.do(_add_many, MOST_COUPONS)
    assert len(session.record.coupons) == MOST_COUPONS
    assert refused(add_coupon, Coupon("one more")) == "A board holds at most 1000 coupons; start a second board."


def _add_many(tx, count):
    add_coupons(tx, [Coupon(f"C{number}") for number in range(count)])
    return add_coupon(tx, Coupon("last")) if count < MOST_COUPONS else _nothing()


def _nothing():
    from rustboard.support.summary import Summary

    return Summary("Add many coupons")


def test_of_many_coupons_that_cannot_all_be_none_is_added(session, refused):
    assert refused(_add_twice) == "Another coupon is called c1; choose a different id."
    assert session.record.coupons == {}


def _add_twice(tx):
    add_coupons(tx, [Coupon("C1", Position(0, 0)), Coupon("c1", Position(0, 1))])


def test_a_coupon_is_edited_and_stays_where_it_hangs(session):
    key = add(session, "C1", "B2")
    changes = session.do(edit_coupon, Coupon("C1x", Position(0, 0), role="control", note="n", key=key))
    assert session.record.coupons[key] == Coupon("C1x", Position(1, 1), role="control", note="n", key=key)
    assert changes.summary.text() == "Edit coupon C1: id, role, note"


def test_an_edit_that_changes_nothing_is_no_step(session):
    key = add(session, "C1", "B2")
    steps = len(session.audit())
    changes = session.do(edit_coupon, session.record.coupons[key])
    assert (changes.tables, changes.coupons) == ({}, frozenset())
    assert len(session.audit()) == steps


def test_a_coupon_may_be_called_the_same_in_other_letters_by_an_edit(session):
    key = add(session, "c1")
    session.do(edit_coupon, replace(session.record.coupons[key], id="C1"))
    assert session.record.coupons[key].id == "C1"


def test_an_edit_into_what_cannot_be_is_refused(session, refused):
    key = add(session, "C1", "A1")
    add(session, "C2", "A2")
    coupon = session.record.coupons[key]
    assert refused(edit_coupon, replace(coupon, id="c2")) == "Another coupon is called c2; choose a different id."
    assert refused(edit_coupon, replace(coupon, id="")) == "A coupon needs an id: what is written on it."
    assert refused(edit_coupon, replace(coupon, key=99)) == GONE


def test_an_outline_that_a_smaller_board_cut_off_does_not_bar_other_edits(session, refused):
    from rustboard.operations.boards import edit_board

    key = add(session, "C1", outline_mm=OUTLINE)
    session.do(edit_board, replace(session.record.board, width_mm=50, height_mm=50))
    session.do(edit_coupon, replace(session.record.coupons[key], note="still there"))
    assert session.record.coupons[key].outline_mm == OUTLINE
    moved = replace(session.record.coupons[key], outline_mm=(*OUTLINE, (30.0, 170.0)))
    assert "lies beyond the board, which is 50 x 50 mm" in refused(edit_coupon, moved)


def test_a_coupon_moves_to_a_free_position_and_swaps_with_one_that_is_there(session):
    first, _ = add(session, "C1", "A1"), add(session, "C2", "A2")
    assert session.do(move_coupon, first, Position(2, 6)).summary.text() == "Move C1 to C7"
    changes = session.do(move_coupon, first, Position(0, 1))
    assert changes.summary.text() == "Swap C1 and C2"
    assert changes.coupons == {1, 2}
    assert places(session) == {"C1": "A2", "C2": "C7"}
    session.undo()
    assert places(session) == {"C1": "C7", "C2": "A2"}
    session.redo()
    assert places(session) == {"C1": "A2", "C2": "C7"}


def test_a_coupon_moved_to_where_it_is_is_no_step(session):
    key = add(session, "C1", "A1")
    assert session.do(move_coupon, key, Position(0, 0)).tables == {}


def test_a_coupon_from_beside_the_board_sends_the_one_it_meets_there(session):
    add(session, "C1", "A1")
    beside = add(session, "C2")
    session.do(move_coupon, beside, Position(0, 0))
    assert places(session) == {"C1": None, "C2": "A1"}


def test_a_move_to_where_the_board_does_not_reach_is_refused(session, refused):
    key = add(session, "C1", "A1")
    assert refused(move_coupon, key, Position(3, 0)) == "The board has no position D1; it has 3 rows and 7 columns."
    assert refused(move_coupon, 99, Position(0, 0)) == GONE


def test_a_coupon_and_its_new_treatment_are_added_in_one_step(session):
    new = Treatment("T1", "hot beeswax")
    changes = session.do(add_coupon_with_treatment, Coupon(" C1", Position(0, 0)), new)
    assert changes.summary.text() == "Add coupon C1 with the new treatment hot beeswax"
    assert session.record.treatments == {1: replace(new, key=1)}
    assert session.record.coupons[1].treatment == 1
    session.undo()
    assert (session.record.treatments, session.record.coupons) == ({}, {})
    session.redo()
    assert session.record.coupons[1].treatment == 1


def test_a_coupon_gets_a_new_treatment_in_one_step(session):
    key = add(session, "C1", "A1")
    coupon = replace(session.record.coupons[key], note="rubbed off")
    changes = session.do(edit_coupon_with_treatment, coupon, Treatment("T1"))
    assert changes.summary.text() == "Edit coupon C1: new treatment T1"
    assert session.record.coupons[key] == replace(coupon, treatment=1)
    session.undo()
    assert session.record.treatments == {}
    assert session.record.coupons[key].treatment is None


def test_when_either_is_refused_neither_is_added(session, refused):
    key = add(session, "C1", "A1")
    new, coupon = Treatment("T1"), session.record.coupons[key]
    told = "Another coupon is called c1; choose a different id."
    assert refused(add_coupon_with_treatment, Coupon("c1"), new) == told
    assert refused(add_coupon_with_treatment, Coupon("C2"), Treatment(" ")) == (
        "A treatment needs a short id such as T1."
    )
    assert refused(edit_coupon_with_treatment, replace(coupon, id=""), new) == (
        "A coupon needs an id: what is written on it."
    )
    assert refused(edit_coupon_with_treatment, replace(coupon, key=99), new) == GONE
    assert session.record.treatments == {}


def test_a_coupon_is_taken_off_with_its_grades_kept(session, refused):
    key = add(session, "C1", "A1")
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))
    session.do(grade_coupon, GivenGrade(key, 1, 7))
    assert session.do(take_off, key).summary.text() == "Take C1 off the board"
    assert places(session) == {"C1": None}
    assert session.record.grading(key, 1).grade == 7
    assert session.do(take_off, key).tables == {}
    assert refused(take_off, 99) == GONE


def test_a_coupon_that_was_never_graded_is_removed(session, refused):
    key = add(session, "C1", "A1")
    assert session.do(remove_coupon, key).summary.text() == "Remove coupon C1"
    assert session.record.coupons == {}
    assert refused(remove_coupon, key) == GONE
    session.undo()
    assert places(session) == {"C1": "A1"}


def test_a_coupon_that_was_graded_is_not_removed_even_when_the_grade_was_withdrawn(session, refused):
    key = add(session, "C1", "A1")
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))
    session.do(grade_coupon, GivenGrade(key, 1, 7))
    session.do(withdraw_grade, key, 1)
    assert refused(remove_coupon, key) == (
        "Coupon C1 has grades, which are never erased; take it off the board instead."
    )
