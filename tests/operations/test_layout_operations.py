"""The layout of a board: rules, lots, grid, numbers of coupons, outlines and markers, each one step of undo."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from rustboard.board.layout import Layout
from rustboard.board.lot_changes import moved_since_drawn
from rustboard.board.lots import draw_lots, drawn_coupons, notes_on_lots
from rustboard.board.model import MOST_COUPONS, Coupon, Inspection, Photo, Treatment
from rustboard.board.position import Position, parse_position
from rustboard.board.setting_out import corner_markers, on_a_marker, setting_out
from rustboard.findings.proof import proof_request, quick_proof
from rustboard.operations.boards import add_line, edit_board, label_axis, remove_line
from rustboard.operations.coupons import (
    add_coupon,
    add_coupons,
    edit_coupon,
    edit_coupon_with_treatment,
    move_coupon,
    remove_coupon,
    take_off,
)
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.layouts import (
    draw_board_lots,
    place_markers,
    remove_markers,
    set_grid,
    set_layout,
    set_out_coupons,
    set_replicates,
)
from rustboard.operations.photos import add_photo
from rustboard.operations.treatments import add_treatment
from rustboard.support.summary import Summary

NOW = datetime(2026, 3, 2, 9)
PLATE = ((5.0, 5.0), (25.0, 5.0), (25.0, 45.0), (5.0, 45.0))
A1, A2, B1, C7 = map(parse_position, ("A1", "A2", "B1", "C7"))


@pytest.fixture
def filled(session):
    """A board of 3 rows of 7 with 7 treatments of 3 coupons, side by side."""
    for number in range(1, 8):
        session.do(add_treatment, Treatment(f"T{number}"))
        session.do(set_replicates, number, 3, "test")
    return session


@pytest.fixture
def sized(filled):
    """The same, 700 x 400 mm, with coupons of 60 x 100 mm."""
    filled.do(edit_board, replace(filled.record.board, width_mm=700, height_mm=400))
    filled.do(set_layout, Layout(coupon_width_mm=60, coupon_height_mm=100))
    return filled


def back_and_forth(session, operation, *arguments):
    """Do one step; undo and redo must lead exactly there and back. Return what it was called."""
    before = session.record.snapshot()
    changes = session.do(operation, *arguments)
    after = session.record.snapshot()
    assert after != before
    session.undo()
    assert session.record == before
    session.redo()
    assert session.record == after
    return changes.summary.text()


def photographed(session):
    session.do(add_photo, Photo("a.jpg", "a.jpg", "0" * 64, 700, 300))


def places(session):
    return {key: each.position for key, each in session.record.coupons.items()}


def drawn(session):
    return {each.coupon: each.position for each in session.record.lots.values()}


# ---- rules


def test_rules_are_kept_in_the_one_row_there_is(session):
    layout = Layout("complete", "spacing", 2, False, coupon_width_mm=50, coupon_height_mm=80, hole_below_top_mm=-5)
    assert back_and_forth(session, set_layout, layout) == (
        "Change the layout: method, drain, free rows, fair edges, coupon width mm, coupon height mm, hole below top "
        "mm"
    )
    assert session.record.layout == replace(layout, key=1)
    session.do(set_layout, Layout())
    assert session.record.layouts == {1: Layout(key=1)}


def test_the_same_rules_again_are_no_step(session):
    assert session.do(set_layout, Layout()).tables == {}
    session.do(set_layout, Layout("complete"))
    assert session.do(set_layout, Layout("complete")).tables == {}


@pytest.mark.parametrize(("change", "sentence"), [
    ({"method": "dice"}, "Lots are drawn in one of these ways: complete, rows, hand."),
    ({"drain": "hope"}, "The care against drips is one of these: columns, spacing, drip edges, none."),
    ({"free_rows": 0}, "Spacing leaves 1 to 10 rows free."),
    ({"free_rows": 11}, "Spacing leaves 1 to 10 rows free."),
    ({"coupon_width_mm": -1}, "The width of a coupon is from 0 (not given) to 10,000 mm."),
    ({"coupon_height_mm": math.nan}, "The height of a coupon is from 0 (not given) to 10,000 mm."),
    ({"hole_below_top_mm": -1_001},
     "The hole is from 1,000 mm above a coupon's top edge (-1000) to 10,000 mm below it."),
])  # fmt: skip
def test_rules_that_cannot_be_are_refused(session, refused, change, sentence):
    assert refused(set_layout, replace(Layout(), **change)) == sentence


def test_nobody_sets_when_lots_were_drawn(session):
    session.do(set_layout, Layout("complete", seed=5, drawn_at=NOW))
    assert (session.record.layout.seed, session.record.layout.drawn_at) == (None, None)


@pytest.mark.parametrize("change", [{"method": "complete"}, {"drain": "columns"}, {"fair_edges": False}])
def test_other_rules_take_the_lots_away_that_were_drawn_by_the_old_ones(filled, change):
    filled.do(draw_board_lots, 7)
    before = places(filled)
    told = back_and_forth(filled, set_layout, replace(filled.record.layout, **change))
    assert told.endswith("; lots are to be drawn again")
    assert (filled.record.lots, filled.record.layout.seed, filled.record.layout.drawn_at) == ({}, None, None)
    assert places(filled) == before


@pytest.mark.parametrize("change", [{"free_rows": 3}, {"coupon_width_mm": 50.0}])
def test_what_the_lots_do_not_depend_on_leaves_them(filled, change):
    filled.do(draw_board_lots, 7)
    back_and_forth(filled, set_layout, replace(filled.record.layout, **change))
    assert filled.record.layout.seed == 7
    assert len(filled.record.lots) == 21


def test_a_layout_by_hand_keeps_the_lots_as_what_was_drawn_once(filled):
    filled.do(draw_board_lots, 7)
    lots = filled.record.lots.copy()
    filled.do(set_layout, replace(filled.record.layout, method="hand"))
    assert (filled.record.lots, filled.record.layout.seed) == (lots, 7)
    filled.do(set_layout, replace(filled.record.layout, method="rows"))
    assert (filled.record.lots, filled.record.layout.seed) == ({}, None)


def test_rules_of_lots_stay_once_the_board_was_looked_at(filled, refused):
    filled.do(draw_board_lots, 7)
    filled.do(add_inspection, Inspection(NOW))
    assert refused(set_layout, replace(filled.record.layout, method="hand")) == (
        "Lots were drawn by these rules and the exposure has begun since, so the rules stay as they are."
    )
    filled.do(set_layout, replace(filled.record.layout, coupon_width_mm=55.0))
    assert filled.record.layout.coupon_width_mm == 55


# ---- lots


def test_lots_hang_every_coupon_and_are_written_down(filled):
    filled.do(take_off, 3)
    told = back_and_forth(filled, draw_board_lots, 2026)
    assert told.startswith("Draw lots for 21 coupons with number 2026; the drip rule is broken ")
    record = filled.record
    pairs = [(key, each.treatment) for key, each in record.coupons.items()]
    expected = draw_lots(3, 7, pairs, Layout(), 2026, None)
    assert places(filled) == drawn(filled) == expected.positions
    assert record.layout == replace(Layout(), seed=2026, drawn_at=NOW, drawn_rows=3, drawn_columns=7, key=1)
    assert moved_since_drawn(record) == []
    assert {each.coupon: each.position for each in drawn_coupons(record)} == expected.positions
    assert notes_on_lots(record) == expected.notes != ()


def test_a_coupon_given_another_treatment_has_no_lot_any_more(filled):
    filled.do(draw_board_lots, 7)
    before = filled.record.coupons[4]
    told = back_and_forth(filled, edit_coupon, replace(before, treatment=1, note="n"))
    assert told == f"Edit coupon {before.id}: treatment, note; its lot no longer counts"
    assert drawn(filled).keys() == filled.record.coupons.keys() - {4}
    told = back_and_forth(filled, edit_coupon_with_treatment, filled.record.coupons[5], Treatment("T8"))
    assert told == "Edit coupon C05: new treatment T8; its lot no longer counts"
    filled.do(add_inspection, Inspection(NOW))
    filled.do(edit_coupon, replace(filled.record.coupons[6], treatment=None))
    assert drawn(filled).keys() == filled.record.coupons.keys() - {4, 5, 6}
    filled.undo()
    assert 6 in drawn(filled)
    assert (
        "2 coupons were hung or given their treatment after the lots were drawn; the exact test leaves them where "
        "they are. Before the exposure, lots can be drawn again to include them."
    ) in [each.text() for each in quick_proof(proof_request(filled.record, None)).cautions]


def test_what_else_is_edited_of_a_coupon_leaves_its_lot(filled):
    filled.do(draw_board_lots, 7)
    lots = drawn(filled)
    told = filled.do(edit_coupon, replace(filled.record.coupons[4], role="control", note="n")).summary.text()
    assert told == "Edit coupon C04: role, note"
    assert drawn(filled) == lots


def test_a_coupon_given_another_treatment_before_the_lots_says_nothing_of_them(filled):
    told = filled.do(edit_coupon, replace(filled.record.coupons[4], treatment=1)).summary.text()
    assert told == "Edit coupon C04: treatment"


def test_the_grid_that_lots_were_drawn_for_is_kept_with_them(filled):
    told = (
        "The board's rows or columns were changed after the lots were drawn; the figures are for the grid as it is "
        "now."
    )
    filled.do(set_layout, Layout(drain="columns"))
    filled.do(draw_board_lots, 7)
    assert (filled.record.layout.drawn_grid, filled.record.layout.drawn_in_columns) == ((3, 7), True)
    filled.do(set_layout, Layout(drain="columns", coupon_width_mm=50.0, drawn_rows=9))
    assert (filled.record.layout.drawn_grid, filled.record.layout.drawn_in_columns) == ((3, 7), True)
    filled.do(set_grid, 5, 9)
    assert told in [each.text() for each in quick_proof(proof_request(filled.record, None)).cautions]
    filled.do(set_grid, 3, 7)
    assert told not in [each.text() for each in quick_proof(proof_request(filled.record, None)).cautions]
    filled.do(add_line, "row", 0)
    assert told in [each.text() for each in quick_proof(proof_request(filled.record, None)).cautions]
    back_and_forth(filled, set_layout, Layout(drain="none"))
    assert (filled.record.layout.drawn_grid, filled.record.layout.drawn_in_columns) == (None, False)


def test_lots_of_whole_columns_stay_so_when_coupons_are_taken_off(filled):
    filled.do(set_layout, Layout("complete", "spacing", fair_edges=False))
    filled.do(draw_board_lots, 3)
    assert filled.record.layout.drawn_in_columns
    notes = notes_on_lots(filled.record)
    for each in list(filled.record.coupons.values()):
        if each.position.row == 1:
            filled.do(take_off, each.key)
    request = proof_request(filled.record, None)
    assert request.board.columns_are_units
    assert request.state.by_column
    filled.do(draw_board_lots, 3)
    assert notes_on_lots(filled.record) == notes


def test_lots_of_single_coupons_stay_so_when_coupons_hang_closer_than_drawn(filled):
    filled.do(set_layout, Layout("complete", "spacing", fair_edges=False))
    filled.do(set_grid, 6, 7)
    filled.do(draw_board_lots, 3)
    assert not filled.record.layout.drawn_in_columns
    filled.do(remove_line, "row", 1)
    assert not proof_request(filled.record, None).board.columns_are_units


def test_lots_drawn_again_go_by_the_rules_and_not_by_those_before(filled):
    filled.do(set_layout, Layout("complete", "spacing", fair_edges=False))
    filled.do(draw_board_lots, 3)
    assert filled.record.layout.drawn_in_columns
    filled.do(set_grid, 6, 7)
    filled.do(draw_board_lots, 3)
    assert filled.record.layout.drawn_grid == (6, 7)
    assert not filled.record.layout.drawn_in_columns
    assert notes_on_lots(filled.record) == ()


def test_without_lots_there_is_nothing_to_say_about_them(filled):
    assert notes_on_lots(filled.record) == ()
    filled.do(draw_board_lots, 1)
    filled.do(set_layout, Layout("hand"))
    assert notes_on_lots(filled.record) == ()


def test_lots_that_keep_the_drip_rule_say_nothing_of_it(filled):
    filled.do(set_layout, Layout(drain="columns"))
    assert filled.do(draw_board_lots, 1).summary.text() == "Draw lots for 21 coupons with number 1"


def test_lots_drawn_again_take_the_place_of_the_first(filled):
    filled.do(draw_board_lots, 1)
    keys = set(filled.record.lots)
    first = places(filled)
    back_and_forth(filled, draw_board_lots, 2)
    assert set(filled.record.lots) == keys
    assert places(filled) != first
    filled.do(draw_board_lots, 1)
    assert places(filled) == first


def test_lots_come_before_the_exposure(filled, refused):
    filled.do(add_inspection, Inspection(NOW))
    sentence = (
        "This board has an inspection or a photo already; lots come before the exposure and would change nothing "
        "about where coupons hung."
    )
    assert refused(draw_board_lots, 1) == sentence
    filled.undo()
    photographed(filled)
    assert refused(draw_board_lots, 1) == sentence


def test_lots_are_not_drawn_after_the_stated_start(filled, refused):
    filled.do(edit_board, replace(filled.record.board, started=NOW))
    assert refused(draw_board_lots, 1) == (
        "The exposure is said to have begun on 2026-03-02 at 09:00, and lots come before it. If the board does not "
        "hang outside yet, put the start of the exposure right first, or empty it."
    )
    filled.do(edit_board, replace(filled.record.board, started=NOW + timedelta(minutes=1)))
    filled.do(draw_board_lots, 1)
    filled.do(edit_board, replace(filled.record.board, started=NOW))
    assert "the exposure has begun since" in refused(set_layout, Layout("complete"))


def test_lots_that_cannot_be_drawn_are_refused(session, refused):
    assert refused(draw_board_lots, 1) == "The board has no coupons to draw lots for; add coupons first."
    session.do(set_replicates, None, 22, "test")
    assert refused(draw_board_lots, 1) == (
        "The board has 21 positions for 22 coupons; add rows or columns, or take coupons away."
    )
    for seed in (-1, 2**31):
        assert refused(draw_board_lots, seed) == "The number of the lots is from 0 to 2147483647."
    session.do(set_layout, Layout("hand"))
    assert "made by hand, so no lots are drawn" in refused(draw_board_lots, 1)


def test_lots_set_coupons_out_where_all_sizes_are_known(sized):
    sized.do(draw_board_lots, 5)
    outlines = setting_out(sized.record.board, sized.record.layout, ())
    assert {each.position: each.outline_mm for each in sized.record.coupons.values()} == outlines


def test_without_sizes_outlines_go_along_to_where_the_outline_before_was(session):
    for number in range(3):
        outline = tuple((x + 40 * number, y + number) for x, y in PLATE)
        session.do(add_coupon, Coupon(f"C{number}", Position(0, number), outline_mm=outline))
    session.do(set_grid, 1, 3)
    at = {each.position: each.outline_mm for each in session.record.coupons.values()}
    before = places(session)
    session.do(draw_board_lots, 1)
    assert places(session) != before
    assert {each.position: each.outline_mm for each in session.record.coupons.values()} == at


def test_the_plan_keeps_the_lots_and_the_changes(filled):
    filled.do(draw_board_lots, 3)
    there = {position: key for key, position in places(filled).items()}
    one, other, third = there[A1], there[A2], there[C7]
    filled.do(move_coupon, one, A2)
    filled.do(take_off, third)
    assert moved_since_drawn(filled.record) == [(one, A1, A2), (other, A2, A1), (third, C7, None)]
    filled.do(move_coupon, one, A1)
    assert moved_since_drawn(filled.record) == [(third, C7, None)]


def test_a_coupon_that_goes_takes_its_lot_along_and_undo_brings_both_back(filled):
    filled.do(draw_board_lots, 3)
    assert back_and_forth(filled, remove_coupon, 5) == "Remove coupon C05"
    assert 5 not in drawn(filled)
    assert len(filled.record.lots) == 20


@pytest.mark.parametrize(("operation", "axis", "number", "moved", "left"), [
    (add_line, "row", 0, {A1: B1, C7: Position(3, 6)}, 21),
    (add_line, "column", 1, {A1: A1, C7: Position(2, 7)}, 21),
    (remove_line, "row", 1, {A1: A1, C7: Position(1, 6)}, 14),
    (remove_line, "column", 0, {A2: A1, C7: Position(2, 5)}, 18),
])  # fmt: skip
def test_lots_keep_to_their_places_when_rows_and_columns_come_and_go(filled, operation, axis, number, moved, left):
    filled.do(draw_board_lots, 3)
    there = {position: key for key, position in drawn(filled).items()}
    back_and_forth(filled, operation, axis, number)
    now = drawn(filled)
    assert {place: now[there[place]] for place in moved} == moved
    assert len(now) == left
    assert moved_since_drawn(filled.record) == []


# ---- grid


def test_the_grid_is_resized_in_one_step(filled):
    filled.do(draw_board_lots, 3)
    filled.do(label_axis, "column", 6, "under the gutter")
    filled.do(label_axis, "row", 2, "low")
    assert back_and_forth(filled, set_grid, 9, 8) == "Make the board 9 x 8 positions"
    assert (filled.record.board.rows, filled.record.board.columns) == (9, 8)
    for key, position in drawn(filled).items():
        if position.column == 6:
            filled.do(take_off, key)
    back_and_forth(filled, set_grid, 3, 6)
    assert [each.label for each in filled.record.axis_labels.values()] == ["low"]
    assert len(filled.record.lots) == 18
    assert filled.do(set_grid, 3, 6).tables == {}


def test_a_grid_that_leaves_coupons_hanging_in_the_air_is_refused_once_they_are_drawn_or_outdoors(filled, refused):
    filled.do(add_inspection, Inspection(NOW))
    assert refused(set_grid, 3, 6) == (
        "3 coupons would hang beyond the grid (C07 at A7, C14 at B7, C21 at C7); hang them elsewhere or take them "
        "off first. The board still has 3 rows and 7 columns."
    )
    assert "(C04 at A4, C05 at A5, C06 at A6, C07 at A7, C11 at B4, …)" in refused(set_grid, 3, 3)
    filled.undo()
    filled.do(draw_board_lots, 3)
    assert "would hang beyond the grid" in refused(set_grid, 3, 6)


def test_before_that_they_take_the_next_free_positions_or_lie_beside_the_board(filled):
    back_and_forth(filled, set_grid, 5, 5)
    places = {each.id: each.position.label for each in filled.record.coupons.values()}
    assert len(set(places.values())) == 21
    assert [places[each] for each in ("C01", "C06", "C07", "C13")] == ["A1", "D1", "D2", "D3"]
    filled.do(set_grid, 2, 5)
    assert sorted(each.id for each in filled.record.coupons.values() if each.position is None) == sorted(
        each for each, label in places.items() if label[0] not in "AB"
    )


@pytest.mark.parametrize("size", [(0, 7), (61, 7), (3, 0), (3, 61)])
def test_a_grid_that_cannot_be_is_refused(session, refused, size):
    assert refused(set_grid, *size) == "A board has 1 to 60 rows and 1 to 60 columns."


# ---- numbers of coupons


def test_coupons_are_added_at_the_next_free_positions_with_the_next_ids(session):
    session.do(add_treatment, Treatment("T1", "wax"))
    session.do(add_coupon, Coupon("P7", A2, substrate="mild steel"))
    assert back_and_forth(session, set_replicates, 1, 3, "control") == "Make it 3 coupons of wax"
    added = [each for each in session.record.coupons.values() if each.treatment == 1]
    assert [(each.id, each.position.label, each.role, each.substrate) for each in added] == [
        ("P8", "A1", "control", "mild steel"), ("P9", "A3", "control", "mild steel"),
        ("P10", "A4", "control", "mild steel"),
    ]  # fmt: skip
    session.do(set_replicates, 1, 4)
    roles = [each.role for each in session.record.coupons_in_order() if each.treatment == 1]
    assert roles == ["control"] * 3 + ["test"]
    assert session.do(set_replicates, 1, 4).tables == {}


def test_coupons_without_room_lie_beside_the_board(session):
    session.do(set_grid, 1, 2)
    session.do(set_replicates, None, 3, "control")
    assert [each.position for each in session.record.coupons.values()] == [A1, A2, None]


def test_the_coupons_added_last_go_first_but_none_with_grades(session, refused):
    session.do(add_treatment, Treatment("T1"))
    session.do(set_replicates, 1, 4)
    session.do(add_inspection, Inspection(NOW))
    session.do(grade_coupon, GivenGrade(4, 1, 7))
    assert back_and_forth(session, set_replicates, 1, 2) == "Make it 2 coupons of T1"
    assert sorted(session.record.coupons) == [1, 4]
    assert refused(set_replicates, 1, 0) == "T1: 1 coupon with grades, which are never erased; keep at least 1."
    session.do(set_replicates, 1, 1)
    assert sorted(session.record.coupons) == [4]


def test_coupons_that_go_take_their_lots_along(filled):
    filled.do(draw_board_lots, 3)
    back_and_forth(filled, set_replicates, 2, 1)
    assert len(filled.record.lots) == len(filled.record.coupons) == 19


@pytest.mark.parametrize(("arguments", "sentence"), [
    ((1, -1), "A treatment has 0 to 200 coupons on one board."),
    ((1, 201), "A treatment has 0 to 200 coupons on one board."),
    ((9, 1), "This treatment is no longer on the board; it may have been taken away by undo."),
    ((1, 1, "spy"), "A coupon's role is test or control."),
])  # fmt: skip
def test_numbers_that_cannot_be_are_refused(session, refused, arguments, sentence):
    session.do(add_treatment, Treatment("T1"))
    assert refused(set_replicates, *arguments) == sentence


def test_no_more_coupons_are_added_than_a_board_holds(session, refused):
    session.do(_add_coupons, MOST_COUPONS - 1)
    session.do(add_treatment, Treatment("T1"))
    assert refused(set_replicates, 1, 2) == "A board holds at most 1000 coupons; start a second board."
    session.do(set_replicates, 1, 1)


def _add_coupons(tx, count):
    add_coupons(tx, [Coupon(f"X{number}") for number in range(count)])
    return Summary("Add coupons")


def test_new_coupons_are_set_out_where_the_others_are(sized):
    sized.do(set_grid, 4, 7)
    sized.do(set_replicates, 1, 4)
    assert sized.record.coupons[22].outline_mm == ()  # none has an outline so far
    sized.do(set_layout, replace(sized.record.layout, coupon_height_mm=90))
    sized.do(set_out_coupons)
    sized.do(set_replicates, 1, 5)
    new = sized.record.coupons[23]
    assert new.outline_mm == setting_out(sized.record.board, sized.record.layout, ())[new.position]


# ---- millimetres


def test_coupons_are_set_out_in_one_step(sized):
    sized.do(take_off, 4)
    assert back_and_forth(sized, set_out_coupons) == "Set out 20 coupons"
    outlines = setting_out(sized.record.board, sized.record.layout, ())
    for key, coupon in sized.record.coupons.items():
        assert coupon.outline_mm == (() if key == 4 else outlines[coupon.position])


def test_coupons_that_cannot_be_set_out_are_refused(sized, refused):
    sized.do(set_layout, replace(sized.record.layout, coupon_width_mm=101))
    assert refused(set_out_coupons) == (
        "3 x 7 coupons of 101 x 100 mm do not fit on the board; the largest that do are 100 x 133.3 mm."
    )
    sized.do(set_layout, replace(sized.record.layout, coupon_width_mm=60))
    photographed(sized)
    assert refused(set_out_coupons) == (
        "This board has photos, which show where its coupons are; their outlines stay as they are."
    )


def test_an_empty_board_has_nothing_to_set_out(session, refused):
    session.do(edit_board, replace(session.record.board, width_mm=700, height_mm=400))
    session.do(set_layout, Layout(coupon_width_mm=60, coupon_height_mm=100))
    assert refused(set_out_coupons) == "No coupon hangs on the board; hang coupons first."


def test_a_coupon_moved_between_markers_goes_to_where_its_new_position_is_set_out(sized):
    sized.do(place_markers, 30)
    sized.do(set_out_coupons)
    sized.do(remove_coupon, 21)  # C7 is free
    sized.do(move_coupon, 1, C7)
    outlines = setting_out(sized.record.board, sized.record.layout, sized.record.markers)
    assert sized.record.coupons[1].outline_mm == outlines[C7]


def test_markers_are_placed_and_removed(sized):
    assert back_and_forth(sized, place_markers, 30) == "Place four markers of 30 mm"
    assert sized.record.markers == corner_markers(sized.record.board, 30)
    sized.do(place_markers, 20)
    assert [each.size_mm for each in sized.record.markers] == [20] * 4
    assert back_and_forth(sized, remove_markers) == "Remove the markers"
    assert sized.record.markers == ()
    assert sized.do(remove_markers).tables == {}


def test_coupons_set_out_make_room_for_markers_in_the_same_step(sized):
    sized.do(set_out_coupons)
    assert back_and_forth(sized, place_markers, 30) == "Place four markers of 30 mm, and set out 21 coupons anew"
    coupons = sized.record.coupons.values()
    assert not any(on_a_marker(each.outline_mm, sized.record.markers) for each in coupons)
    assert sized.do(place_markers, 29).summary.text() == "Place four markers of 29 mm"


def test_markers_that_leave_no_room_for_coupons_set_out_are_refused(sized, refused):
    sized.do(set_layout, Layout(coupon_width_mm=100, coupon_height_mm=130))
    sized.do(set_out_coupons)
    assert refused(place_markers, 30) == (
        "3 x 7 coupons of 100 x 130 mm do not fit on the board beside its markers; the largest that do are "
        "87.7 x 133.3 mm."
    )
    assert sized.record.markers == ()


def test_outlines_drawn_or_photographed_stay_under_markers(sized):
    sized.do(edit_coupon, replace(sized.record.coupons[1], outline_mm=PLATE))
    assert sized.do(place_markers, 30).summary.text() == "Place four markers of 30 mm, over 1 coupon"
    assert sized.record.coupons[1].outline_mm == PLATE
    sized.do(remove_markers)
    sized.do(set_out_coupons)
    photographed(sized)
    assert sized.do(place_markers, 30).summary.text() == "Place four markers of 30 mm, over 4 coupons"


def test_markers_need_to_know_how_large_the_board_is(session, refused):
    assert refused(place_markers, 30) == (
        "The size of the board is not given; enter its width and height in mm first."
    )


def test_every_treatment_keeps_its_count_and_controls_hang_in_every_row(filled):
    filled.do(remove_line, "column", 6)
    for coupon in [each for each in filled.record.coupons.values() if each.position is None]:
        filled.do(remove_coupon, coupon.key)
    filled.do(set_grid, 3, 8)
    filled.do(set_replicates, None, 3, "control")
    before = Counter(each.treatment for each in filled.record.coupons.values())
    filled.do(draw_board_lots, 12)
    assert Counter(each.treatment for each in filled.record.coupons.values()) == before
    controls = [each for each in filled.record.coupons.values() if each.role == "control"]
    assert sorted(each.position.row for each in controls) == [0, 1, 2]
