"""Rows that no longer share the treatments evenly are found."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.drain import Hung
from rustboard.board.layout import Layout
from rustboard.board.lots import draw_lots
from rustboard.board.position import parse_position
from rustboard.board.row_balance import uneven_rows


def hung(text: str) -> list[Hung]:
    """Return coupons from words such as ``A1=1``: position and treatment."""
    places = [each.split("=") for each in text.split()]
    return [Hung(key, int(treatment), parse_position(at)) for key, (at, treatment) in enumerate(places, 1)]


def test_a_swap_between_rows_leaves_two_rows_uneven_in_two_treatments() -> None:
    assert uneven_rows(hung("A1=1 A2=2 B1=2 B2=1")) == []
    found = uneven_rows(hung("A1=1 A2=1 B1=2 B2=2"))
    assert [tuple(each) for each in found] == [(0, 1, 2, 1, 1), (0, 2, 0, 1, 1), (1, 1, 0, 1, 1), (1, 2, 2, 1, 1)]


def test_one_more_in_a_row_is_even_when_the_number_does_not_divide() -> None:
    assert uneven_rows(hung("A1=1 A2=1 A3=2 B1=1 B2=2")) == []


def test_rows_in_which_nothing_hangs_do_not_count() -> None:
    assert uneven_rows(hung("A1=1 A2=2 C1=1 C2=2")) == []


@settings(max_examples=40)
@given(st.integers(2, 5), st.integers(1, 4), st.integers(1, 6), st.integers(0, 99))
def test_lots_drawn_row_by_row_are_even(rows: int, treatments: int, each: int, seed: int) -> None:
    coupons = [(number + 1, number % treatments + 1) for number in range(treatments * each)]
    columns = -(-len(coupons) // rows) + 1
    drawn = draw_lots(rows, columns, coupons, Layout(method="rows", drain="drip edges"), seed, 45.0)
    kinds = dict(coupons)
    assert uneven_rows(Hung(key, kinds[key], at) for key, at in drawn.positions.items()) == []
