"""Strokes, offsets, days in view and places of names: the arithmetic of the timeline."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from rustboard.ui.timeline.day_range import SHORTEST, DayRange
from rustboard.ui.timeline.end_labels import spread
from rustboard.ui.timeline.geometry import Floats, shifted, side_by_side, strokes, value_at_right_edge

NONE = float("nan")

tables = st.integers(1, 10).flatmap(
    lambda columns: arrays.arrays(
        np.float64,
        st.tuples(st.integers(1, 4), st.just(columns)),
        elements=st.sampled_from([NONE, 0.0, 5.0, 5.5, 10.0]),
    )
)


def covered(values: Floats) -> list[tuple[int, int, float]]:
    """Row, cell between two inspections, grade: what level lines have to cover."""
    joined = np.isfinite(values[:, :-1]) & np.isfinite(values[:, 1:])
    return [(int(row), int(at), float(values[row, at])) for row, at in zip(*np.nonzero(joined), strict=True)]


@given(tables)
def test_level_lines_cover_exactly_what_lies_between_two_graded_inspections(values: Floats) -> None:
    found = strokes(np.arange(values.shape[1], dtype=np.float64), values)
    level = found.lines[:, 1] == found.lines[:, 3]
    cells = [
        (int(row), at, float(y))
        for (x0, y, x1, _), row in zip(found.lines[level], found.line_rows[level], strict=True)
        for at in range(round(x0), round(x1))
    ]
    assert sorted(cells) == sorted(covered(values))


@given(tables)
def test_upright_lines_are_the_changes_between_two_graded_inspections(values: Floats) -> None:
    found = strokes(np.arange(values.shape[1], dtype=np.float64), values)
    upright = found.lines[found.lines[:, 1] != found.lines[:, 3]]
    assert (upright[:, 0] == upright[:, 2]).all()
    steps = np.diff(values, axis=1)
    assert len(upright) == int((np.isfinite(steps) & (steps != 0)).sum())


@given(tables)
def test_every_grade_is_a_point_and_those_between_gaps_are_alone(values: Floats) -> None:
    found = strokes(np.arange(values.shape[1], dtype=np.float64), values)
    assert len(found.points) == int(np.isfinite(values).sum())
    padded = np.pad(np.isfinite(values), ((0, 0), (1, 1)))
    alone = padded[:, 1:-1] & ~padded[:, :-2] & ~padded[:, 2:]
    assert int(found.alone.sum()) == int(alone.sum())


def test_equal_grades_in_a_row_make_one_line() -> None:
    found = strokes(np.array([0.0, 2.0, 5.0, 9.0]), np.array([[10.0, 10.0, 10.0, 9.0]]))
    assert found.lines.tolist() == [[0, 10, 9, 10], [9, 10, 9, 9]]


@pytest.mark.parametrize("count", [2, 3, 7, 8, 16])
@pytest.mark.parametrize("grade_px", [10.0, 30.0, 60.0, 200.0])
def test_tracks_side_by_side_stay_nearest_to_their_own_grade(count: int, grade_px: float) -> None:
    offsets = side_by_side(count, grade_px)
    assert np.abs(offsets).max() <= 0.12 + 1e-12  # rounding
    assert offsets.sum() == pytest.approx(0)
    assert not offsets.any() or (np.diff(offsets) * grade_px <= -0.5).all()


@pytest.mark.parametrize("count", [2, 7])
def test_tracks_on_the_outermost_grades_hardly_leave_the_scale(count: int) -> None:
    offsets = side_by_side(count, 36.0)
    top, bottom = shifted(np.full(count, 10.0), offsets), shifted(np.zeros(count), offsets)
    assert top.max() <= 10.06
    assert bottom.min() >= -0.06
    for heights, grade in ((top, 10.0), (bottom, 0.0)):
        assert np.abs(heights - grade).max() <= 0.12 + 1e-12
        assert (np.diff(heights) < 0).all()


@given(arrays.arrays(np.float64, 20, elements=st.sampled_from([0.0, 0.5, 3.0, 9.5, 10.0])), st.integers(2, 20))
def test_no_shifted_line_lies_further_than_an_eighth_of_a_grade_from_its_own(values: Floats, count: int) -> None:
    offsets = side_by_side(count, 500.0)[np.arange(20) % count]
    assert np.abs(shifted(values, offsets) - values).max() <= 0.12 + 1e-9


def test_points_without_lines_on_one_grade_stand_in_a_row_and_corners_of_lines_on_their_day() -> None:
    found = strokes(np.array([0.0]), np.array([[10.0], [9.0], [10.0], [10.0]]))
    assert found.aside.tolist() == [-1, 0, 0, 1]
    found = strokes(np.array([0.0, 7.0, 14.0]), np.array([[10.0, 9.0, 8.0], [10.0, NONE, 8.0], [10.0, NONE, 8.0]]))
    assert found.aside.tolist() == [0, 0, 0, -0.5, -0.5, 0.5, 0.5]


def test_too_many_tracks_lie_on_their_grade() -> None:
    assert not side_by_side(96, 30.0).any()


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [
        (0, 30, [7.0, 6.0]),  # the last grade in view
        (0, 15, [9.0, 8.0]),
        (11, 14, [9.0, NONE]),  # held through the days in view, or in the middle of a gap
        (31, 40, [NONE, NONE]),  # after the last inspection
    ],
)
def test_names_stand_where_lines_leave_the_view(low: float, high: float, expected: list[float]) -> None:
    days = np.array([0.0, 10.0, 20.0, 30.0])
    values = np.array([[10.0, 9.0, 8.0, 7.0], [10.0, 8.0, NONE, 6.0]])
    np.testing.assert_array_equal(value_at_right_edge(days, values, low, high), expected)


moves = st.lists(
    st.one_of(
        st.tuples(st.just("zoom"), st.floats(0.01, 50), st.floats(-100, 500)),
        st.tuples(st.just("pan"), st.floats(-1000, 1000), st.just(0.0)),
        st.tuples(st.just("show"), st.floats(-50, 450), st.just(0.0)),
    ),
    max_size=8,
)


@given(st.floats(-50, 50), st.floats(0, 400), moves)
def test_days_in_view_never_leave_the_board_whatever_is_done(
    first: float, length: float, done: list[tuple[str, float, float]]
) -> None:
    days = DayRange.over(first, first + length)
    assert days.high - days.low >= SHORTEST * 0.999
    for what, amount, centre in done:
        days = {
            "zoom": lambda d, a=amount, c=centre: d.zoomed(a, c),
            "pan": lambda d, a=amount: d.panned(a),
            "show": lambda d, a=amount: d.showing(a),
        }[what](days)
        assert days.first - 1e-9 <= days.low < days.high <= days.last + 1e-9


@pytest.mark.parametrize(
    ("first", "last", "expected"),
    [(0.0, 0.0, (-0.5, 1.5)), (0.0, 1.0, (-0.5, 1.5)), (0.0, 1.6, (-0.2, 1.8)), (0.0, 100.0, (-3.0, 103.0))],
)
def test_few_days_are_shown_as_two_days_from_the_first_inspection_on(
    first: float, last: float, expected: tuple[float, float]
) -> None:
    days = DayRange.over(first, last)
    assert (days.low, days.high) == pytest.approx(expected)


def test_zooming_keeps_the_day_under_the_pointer_in_its_place() -> None:
    days = DayRange.over(0, 100)
    closer = days.zoomed(0.5, 40.0)
    before = (40.0 - days.low) / (days.high - days.low)
    assert (40.0 - closer.low) / (closer.high - closer.low) == pytest.approx(before)


def test_one_more_inspection_widens_the_view_only_when_all_days_were_shown() -> None:
    longer = DayRange.over(0, 120)
    assert DayRange.over(0, 100).moved_to(longer) == longer
    closer = DayRange.over(0, 100).zoomed(0.5, 50).moved_to(longer)
    assert (closer.low, closer.high) == pytest.approx((23.5, 76.5), abs=0.6)


@given(st.lists(st.floats(-20, 320), min_size=1, max_size=20))
def test_names_never_overlap_and_stay_within_the_plot(wanted: list[float]) -> None:
    places = spread(wanted, 15.0, 0.0, 300.0)
    assert min(places) >= 7.5 - 1e-6
    assert max(places) <= 292.5 + 1e-6
    assert all(after - before >= 15.0 - 1e-6 for before, after in pairwise(sorted(places)))
    assert [at for _, at in sorted(zip(places, range(len(wanted)), strict=True))] == sorted(
        range(len(wanted)), key=wanted.__getitem__
    )


def test_names_with_room_stay_at_the_ends_of_their_lines() -> None:
    assert spread([40.0, 200.0, 90.0], 15.0, 0.0, 300.0) == [40.0, 200.0, 90.0]


def test_names_for_lines_that_end_together_are_centred_on_them() -> None:
    assert spread([100.0, 100.0, 100.0], 20.0, 0.0, 300.0) == pytest.approx([80.0, 100.0, 120.0])
