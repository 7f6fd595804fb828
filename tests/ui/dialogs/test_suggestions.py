"""What the dialogs suggest: ids, shapes, numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtWidgets import QApplication

from rustboard.board.cells import identity, read_decimal
from rustboard.board.model import Board, Coupon
from rustboard.board.next_id import next_id
from rustboard.board.outline import outline_fault
from rustboard.board.position import Position
from rustboard.ui.dialogs.coupon_shape import bounds, is_rectangle, rectangle, size_mm, usual_size_mm
from rustboard.ui.forms.numbers import number_field, number_in, shown_number

PLATE = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0), (30.0, 160.0))


@pytest.mark.parametrize(
    ("ids", "default", "following"),
    [
        ([], "C01", "C01"),
        (["C01", "C02"], "C01", "C03"),
        (["C1", "C9"], "C01", "C10"),
        (["C98", "C99"], "C01", "C100"),
        (["007"], "C01", "008"),
        (["C01", "C02", "X9"], "C01", "C03"),
        (["door", "gate"], "C01", "C01"),
        (["c01"], "T1", "c02"),
        (["C01", "C02", "c03"], "C01", "C04"),
        (["A-1-7", "A-1-8"], "C01", "A-1-9"),
    ],
)
def test_the_next_id_follows_the_pattern_on_the_board(ids: list[str], default: str, following: str) -> None:
    assert next_id(ids, default) == following


@given(st.lists(st.text(alphabet="Cc0129-é²", max_size=5), max_size=8))
def test_the_next_id_is_always_free(ids: list[str]) -> None:
    following = next_id(ids, "C01")
    assert identity(following) not in {identity(each) for each in ids}


@given(
    st.integers(1, 60),
    st.integers(1, 60),
    st.data(),
    st.sampled_from([(0.0, 0.0), (700.0, 400.0)]),
)
def test_a_suggested_rectangle_is_a_sound_outline_in_its_own_position(
    rows: int, columns: int, data: st.DataObject, size: tuple[float, float]
) -> None:
    position = Position(data.draw(st.integers(0, rows - 1)), data.draw(st.integers(0, columns - 1)))
    board = Board("a", rows, columns, *size)
    cell = (size[0] / columns or 75.0, size[1] / rows or 150.0)
    width, height = cell[0] * 0.8, cell[1] * 0.8
    outline = rectangle(board, position, width, height)
    assert outline_fault(outline, board) == ""
    left, top, right, bottom = bounds(outline)
    assert position.column * cell[0] < left < right < (position.column + 1) * cell[0]
    assert position.row * cell[1] < top < bottom < (position.row + 1) * cell[1]
    assert size_mm(outline) == (pytest.approx(width), pytest.approx(height))


def test_rectangles_are_told_from_other_shapes() -> None:
    assert is_rectangle(PLATE)
    assert not is_rectangle(())
    assert not is_rectangle((*PLATE[:3], (40.0, 160.0)))


def test_the_usual_size_is_the_commonest() -> None:
    small = tuple((x / 2, y / 2) for x, y in PLATE)
    coupons = [
        Coupon("a", outline_mm=PLATE),
        Coupon("b", outline_mm=small),
        Coupon("c", outline_mm=PLATE),
        Coupon("d"),
    ]
    assert usual_size_mm(coupons) == (60.0, 120.0)
    assert usual_size_mm([Coupon("d")]) is None


@given(st.floats(0, 1e9))
def test_a_number_shown_is_read_back_exactly(value: float) -> None:
    assert read_decimal(shown_number(value)) == value


@pytest.mark.parametrize("value", [None, 0.0, 3.25, 40.0, 1e-7])
def test_numbers_come_back_from_a_field_with_a_decimal_comma(
    qapp: QApplication, german: object, value: float | None
) -> None:
    assert number_in(number_field(value)) == value
