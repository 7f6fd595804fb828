"""The values a board is made of."""

from dataclasses import FrozenInstanceError

import pytest

from rustboard.board.model import Board, Coupon, Treatment
from rustboard.board.position import Position


@pytest.mark.parametrize(
    ("position", "inside"),
    [((0, 0), True), ((2, 6), True), ((3, 0), False), ((0, 7), False), ((-1, 0), False), ((0, -1), False)],
)
def test_a_board_has_the_positions_of_its_grid(position, inside):
    assert Board("b", rows=3, columns=7).has(Position(*position)) is inside


def test_a_treatment_without_a_name_goes_by_its_id():
    assert Treatment("T1").title == "T1"
    assert Treatment("T1", "hot beeswax blend").title == "hot beeswax blend"


def test_values_cannot_be_changed_in_place():
    coupon = Coupon("C1")
    with pytest.raises(FrozenInstanceError):
        coupon.id = "C2"
