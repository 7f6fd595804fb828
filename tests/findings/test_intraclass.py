"""Intraclass correlations: the published example, other programs' intervals, and edges."""

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.findings.agreement.intraclass import intraclass, mean_squares

# Shrout & Fleiss 1979, table 2.
EXAMPLE = ((9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7))
# Anxiety data of R's irr, from the tests of statsmodels.
ANXIETY = tuple(
    zip(
        (3, 3, 3, 4, 5, 5, 2, 3, 5, 2, 2, 6, 1, 5, 2, 2, 1, 2, 4, 3),
        (3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4),
        (2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2),
        strict=True,
    )
)
FIGURES = ("one_way", "absolute", "consistent", "one_way_mean", "absolute_mean", "consistent_mean")


@st.composite
def tables(draw):
    graders = draw(st.integers(2, 5))
    return draw(st.lists(st.lists(st.integers(0, 10), min_size=graders, max_size=graders), min_size=2, max_size=9))


def test_mean_squares_of_the_published_example():
    # Shrout & Fleiss 1979, table 3.
    found = mean_squares(EXAMPLE)
    assert float(found.between_coupons) == pytest.approx(11.2417, abs=5e-5)
    assert float(found.within_coupons) == pytest.approx(6.2639, abs=5e-5)
    assert float(found.between_graders) == pytest.approx(32.4861, abs=5e-5)
    assert float(found.error) == pytest.approx(1.0194, abs=5e-5)
    assert (found.coupons, found.graders) == (6, 4)


def test_six_correlations_of_the_published_example():
    # Published: .17 .29 .71 .44 .62 .91; with four decimals worked out from the mean squares.
    found = intraclass(EXAMPLE)
    assert [round(getattr(found, each), 4) for each in FIGURES] == [0.1657, 0.2898, 0.7148, 0.4428, 0.6201, 0.9093]
    assert (found.coupons, found.graders) == (6, 4)


def test_interval_of_the_published_example():
    # R's psych prints for ICC2 of this table: lower bound 0.019, upper bound 0.76 (a course's page of its output).
    low, high = intraclass(EXAMPLE).interval
    assert low == pytest.approx(0.019, abs=5e-4)
    assert high == pytest.approx(0.76, abs=5e-3)


def test_interval_of_the_anxiety_data():
    # R's irr, type "agreement": 0.198, from -0.039 to 0.494 (tests of pyirr, which repeat its figures).
    found = intraclass(ANXIETY)
    assert found.absolute == pytest.approx(0.198, abs=5e-4)
    assert found.interval == pytest.approx((-0.039, 0.494), abs=5e-4)


def test_a_constant_offset_is_forgiven_by_one_figure_only():
    # 2 4, 4 6, 6 8: McGraw & Wong 1996 give 0.67 and 1.
    found = intraclass(((2, 4), (4, 6), (6, 8)))
    assert found.absolute == pytest.approx(2 / 3)
    assert found.consistent == 1


def test_one_coupon_or_one_grader_has_no_figure():
    assert intraclass(()) is None
    assert intraclass(((3, 4, 5),)) is None
    assert intraclass(((3,), (4,))) is None
    assert mean_squares(((3,), (4,))) is None


def test_equal_grades_have_no_figure():
    found = intraclass(((7, 7, 7),) * 4)
    assert all(getattr(found, each) is None for each in FIGURES)
    assert found.interval is None


def test_full_agreement_on_coupons_that_differ_is_1_without_an_interval():
    found = intraclass(((7, 7), (4, 4), (9, 9)))
    assert all(getattr(found, each) == 1 for each in FIGURES)
    assert found.interval is None


def test_coupons_alike_and_graders_apart_tell_nothing_of_coupons():
    found = intraclass(((7, 5), (7, 5), (7, 5)))
    assert found.absolute == 0
    assert found.consistent is None
    assert found.one_way < 0


def test_error_beyond_the_coupons_is_below_0():
    found = intraclass(((3, 7), (7, 3), (4, 6)))
    assert found.absolute < 0
    assert found.consistent == -1
    assert found.absolute_mean is None or found.absolute_mean < 0


@given(tables())
def test_sums_of_squares_add_up(rows):
    found = mean_squares(rows)
    n, k = found.coupons, found.graders
    total = sum((Fraction(each) - Fraction(sum(map(sum, rows)), n * k)) ** 2 for row in rows for each in row)
    error = (n - 1) * (k - 1) * found.error
    assert (n - 1) * found.between_coupons + (k - 1) * found.between_graders + error == total
    assert n * (k - 1) * found.within_coupons == (k - 1) * found.between_graders + error
    assert found.error >= 0


@given(tables())
def test_error_is_the_rest_of_a_least_squares_fit(rows):
    # A second route: effects of coupons and graders fitted by numpy.
    n, k = len(rows), len(rows[0])
    effects = np.vstack([np.kron(np.eye(n), np.ones(k)), np.kron(np.ones(n), np.eye(k))]).T
    values = np.array(rows, float).ravel()
    rest = values - effects @ np.linalg.lstsq(effects, values, rcond=None)[0]
    assert float(mean_squares(rows).error) == pytest.approx(rest @ rest / ((n - 1) * (k - 1)), abs=1e-9)


@given(tables())
def test_figures_are_numbers_no_larger_than_1_and_intervals_hold_them(rows):
    found = intraclass(rows)
    for figure in filter(None, (getattr(found, each) for each in FIGURES)):
        assert math.isfinite(figure)
        assert figure <= 1
    if found.interval is not None:
        assert all(map(math.isfinite, found.interval))
        assert found.interval.low <= found.absolute <= found.interval.high <= 1


@given(tables(), st.integers(-20, 20))
def test_an_offset_of_one_grader_leaves_the_consistent_figure(rows, offset):
    moved = intraclass([(row[0] + offset, *row[1:]) for row in rows])
    assert moved.consistent == intraclass(rows).consistent
    assert moved.consistent_mean == intraclass(rows).consistent_mean


@given(tables(), st.randoms(use_true_random=False))
def test_order_of_coupons_and_graders_does_not_matter(rows, draw):
    shuffled = [list(row) for row in rows]
    draw.shuffle(shuffled)
    columns = [list(column) for column in zip(*shuffled, strict=True)]
    draw.shuffle(columns)
    assert intraclass(list(zip(*columns, strict=True))) == intraclass(rows)
