"""The board itself, its rows and columns, and what they are called."""

import math
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from rustboard.board.model import Board, Coupon
from rustboard.board.position import parse_position
from rustboard.operations.boards import add_line, edit_board, label_axis, remove_line
from rustboard.operations.coupons import add_coupon


@pytest.fixture
def filled(session):
    """Coupons named after their places on both diagonals, a label on each row and on two columns."""
    for place in ("A1", "B2", "C3", "A7", "B6", "C5"):
        session.do(add_coupon, Coupon(place.lower(), parse_position(place)))
    for number, label in enumerate(("eaves", "middle", "splash")):
        session.do(label_axis, "row", number, label)
    session.do(label_axis, "column", 0, "left")
    session.do(label_axis, "column", 6, "right")
    return session


def places(session):
    return {each.id: each.position.label if each.position else None for each in session.record.coupons.values()}


def labels(session, axis):
    return {each.number: each.label for each in session.record.axis_labels.values() if each.axis == axis}


def test_the_description_is_replaced_and_the_grid_stays(session):
    board = Board("Kai 7", 50, 50, 700, 400, 3, datetime(2026, 3, 2, 9), " harbour\twall ", "open", 45, 180, "Müller",
                  "Schmiede", "a\r\nb")  # fmt: skip
    changes = session.do(edit_board, board)
    assert session.record.board == replace(board, rows=3, columns=7, site="harbour wall", note="a\nb")
    assert changes.summary.text() == (
        "Edit the board: name, site, shelter, customer, shop, width mm, height mm, edge margin mm, incline deg, "
        "facing deg, started, note"
    )
    assert (changes.tables, changes.coupons) == ({"board": {1}}, frozenset())


def test_a_start_keeps_the_clock_on_the_wall_to_the_second(session):
    session.do(edit_board, Board("x", started=datetime(2026, 3, 2, 9, 0, 1, 999, tzinfo=UTC)))
    assert session.record.board.started == datetime(2026, 3, 2, 9, 0, 1)


@pytest.mark.parametrize(("board", "sentence"), [
    (Board(" \x00".strip("\x00")), "A board needs a name."),
    (Board("x", width_mm=100_001), "The width of a board is from 0 (not given) to 100,000 mm."),
    (Board("x", width_mm=math.nan), "The width of a board is from 0 (not given) to 100,000 mm."),
    (Board("x", height_mm=-1), "The height of a board is from 0 (not given) to 100,000 mm."),
    (Board("x", edge_margin_mm=math.inf), "The edge margin is from 0 to 1,000 mm."),
    (Board("x", incline_deg=181), "The incline is from 0 (flat) to 90 (upright), up to 180 (facing down) degrees."),
    (Board("x", facing_deg=-1), "The bearing a board faces is from 0 to 360 degrees; 180 is south."),
    (Board("x", started=datetime(1066, 10, 14)), "The year of the start is between 1900 and 2200; check the date."),
])  # fmt: skip
def test_a_board_that_cannot_be_is_refused(refused, board, sentence):
    assert refused(edit_board, board) == sentence


def test_a_row_or_column_is_named_renamed_and_unnamed(session):
    assert session.do(label_axis, "row", 0, " eaves ").summary.text() == "Label row A: eaves"
    assert session.do(label_axis, "column", 6, "right").summary.text() == "Label column 7: right"
    session.do(label_axis, "row", 0, "roof")
    assert (labels(session, "row"), labels(session, "column")) == ({0: "roof"}, {6: "right"})
    assert session.do(label_axis, "row", 0, " ").summary.text() == "Take the label off row A"
    assert labels(session, "row") == {}
    assert session.do(label_axis, "row", 0, "").tables == {}


@pytest.mark.parametrize("number", [-1, 3, 10**30])
def test_a_row_that_is_not_there_is_not_named_or_removed(refused, number):
    for operation, more in ((label_axis, ("x",)), (remove_line, ())):
        assert refused(operation, "row", number, *more) == "This row is no longer on the board, which has 3."


def test_a_row_is_added_at_the_top_and_all_below_moves_down(filled):
    assert filled.do(add_line, "row", 0).summary.text() == "Add row A"
    assert filled.record.board.rows == 4
    assert places(filled) == {"a1": "B1", "b2": "C2", "c3": "D3", "a7": "B7", "b6": "C6", "c5": "D5"}
    assert labels(filled, "row") == {1: "eaves", 2: "middle", 3: "splash"}
    assert labels(filled, "column") == {0: "left", 6: "right"}


def test_a_column_is_added_in_the_middle(filled):
    assert filled.do(add_line, "column", 2).summary.text() == "Add column 3"
    assert places(filled) == {"a1": "A1", "b2": "B2", "c3": "C4", "a7": "A8", "b6": "B7", "c5": "C6"}
    assert labels(filled, "column") == {0: "left", 7: "right"}


def test_a_row_added_at_the_end_moves_nothing(filled):
    before = places(filled)
    filled.do(add_line, "row", 3)
    assert (places(filled), filled.record.board.rows) == (before, 4)


def test_a_row_is_removed_and_its_coupons_lie_beside_the_board(filled):
    changes = filled.do(remove_line, "row", 1)
    assert changes.summary.text() == "Remove row B; its coupons (2) are off the board"
    assert places(filled) == {"a1": "A1", "b2": None, "c3": "B3", "a7": "A7", "b6": None, "c5": "B5"}
    assert labels(filled, "row") == {0: "eaves", 1: "splash"}
    filled.undo()
    assert places(filled)["b2"] == "B2"
    assert labels(filled, "row") == {0: "eaves", 1: "middle", 2: "splash"}


def test_the_first_column_is_removed(filled):
    filled.do(remove_line, "column", 0)
    assert places(filled) == {"a1": None, "b2": "B1", "c3": "C2", "a7": "A6", "b6": "B5", "c5": "C4"}
    assert labels(filled, "column") == {5: "right"}


def test_the_last_row_stays(session, refused):
    for _ in range(2):
        session.do(remove_line, "row", 0)
    assert refused(remove_line, "row", 0) == "A board has 1 to 60 rows."


def test_a_board_does_not_grow_beyond_its_bounds(session, refused):
    for _ in range(53):
        session.do(add_line, "column", 0)
    assert session.record.board.columns == 60
    assert refused(add_line, "column", 60) == "A board has 1 to 60 columns."


@pytest.mark.parametrize("number", [-1, 4])
def test_a_row_is_added_only_beside_others(refused, number):
    assert refused(add_line, "row", number) == (
        "The board has 3 rows; a new one goes before one of them or after the last."
    )
