"""Names of places on a board."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position, parse_position, row_letters
from rustboard.support.problems import InputError


@given(st.integers(0, MOST_ROWS - 1), st.integers(0, MOST_COLUMNS - 1))
def test_every_place_is_found_again_by_its_label(row, column):
    assert parse_position(Position(row, column).label) == (row, column)


@pytest.mark.parametrize(("row", "letters"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA"), (59, "BH")])
def test_rows_go_on_with_two_letters_after_z(row, letters):
    assert row_letters(row) == letters


@pytest.mark.parametrize("text", ["b3", " B3 ", "B03", "B 3", "b 003"])
def test_a_label_may_be_written_loosely(text):
    assert parse_position(text) == Position(1, 2)


@pytest.mark.parametrize("text", ["B", "3", "3B", "B0", "B-1", "B1.5", "ABC1", "B1000", "B٣", "Ä1"])
def test_what_is_no_label_is_refused(text):
    with pytest.raises(InputError) as caught:
        parse_position(text)
    assert caught.value.problem.sentence() == (
        f"“{text}” is not a position; write a row letter and a column number, such as B3."
    )


def test_a_missing_label_is_named_as_missing():
    with pytest.raises(InputError, match="The position is missing; write a row letter and a column number"):
        parse_position(" ")


def test_a_hostile_label_is_shown_safely_and_shortly():
    with pytest.raises(InputError) as caught:
        parse_position("\x1b[31m" + "x" * 1_000)
    assert caught.value.problem.what.isprintable()
    assert len(caught.value.problem.what) < 130
