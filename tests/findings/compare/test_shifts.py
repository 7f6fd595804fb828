"""Medians of differences with exact intervals: published examples, and scipy as a second source."""

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for
from scipy import stats

from rustboard.findings.compare.median_difference import median_difference
from rustboard.findings.compare.shifts import paired_shift, two_sample_shift

DARWIN = [49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48]


def test_blood_pressure_of_four_against_eleven():
    # Estimate 9.5, interval -4 to 22, p of ranks 0.0989: regression tests of R's exactRankTests, after StatXact.
    found = two_sample_shift((94, 108, 110, 90), (80, 94, 85, 90, 90, 90, 108, 94, 78, 105, 88))
    assert (found.estimate, found.low, found.high) == (9.5, -4, 22)
    assert found.p == pytest.approx(0.0989, abs=5e-5)


def test_permeability_of_two_ages():
    # Hollander and Wolfe (1973), page 69: R's wilcox.test; 0.305 with the interval -0.15 to 0.76.
    x = (0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46)
    y = (1.15, 0.88, 0.90, 0.74, 1.21)
    found = two_sample_shift(x, y)
    assert (found.estimate, found.low, found.high) == pytest.approx((0.305, -0.15, 0.76))
    assert found.p == pytest.approx(0.2544122544123)
    turned = two_sample_shift(y, x)
    assert (turned.estimate, turned.low, turned.high) == pytest.approx((-0.305, -0.76, 0.15))


def test_depression_before_and_after():
    # Hollander and Wolfe (1973), page 29: R's wilcox.test; -0.46 with the interval -0.786 to -0.010, p = 0.0391.
    x = (1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30)
    y = (0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29)
    found = paired_shift(y, x)
    assert (found.estimate, found.low, found.high) == pytest.approx((-0.46, -0.786, -0.010))
    assert found.p == pytest.approx(0.0391, abs=5e-5)


def test_darwins_maize():
    found = paired_shift(DARWIN, [0] * len(DARWIN))
    assert found.estimate == 25
    assert found.p == 0.041259765625  # scipy's documentation of wilcoxon


def test_a_small_rank_sum():
    found = two_sample_shift((19, 22, 16, 29, 24), (20, 11, 17, 12))
    assert found.p == pytest.approx(0.1111111, abs=5e-8)  # scipy's documentation of mannwhitneyu


@settings(max_examples=20)
@given(st.lists(st.integers(0, 10_000), min_size=4, max_size=14, unique=True), st.data())
def test_the_p_of_two_samples_is_that_of_scipy_without_ties(values, data):
    count = data.draw(st.integers(1, len(values) - 1))
    a, b = values[:count], values[count:]
    found = two_sample_shift(a, b)
    assert found.p == pytest.approx(stats.mannwhitneyu(a, b, method="exact").pvalue)
    assert found.estimate == np.median(np.subtract.outer(a, b))
    assert found.low is None or found.low <= found.estimate <= found.high


@settings(max_examples=20)
@given(st.lists(st.integers(1, 1000), min_size=3, max_size=12, unique=True), st.randoms(use_true_random=False))
def test_the_p_of_pairs_is_that_of_scipy_without_ties(sizes, random):
    differences = [each * random.choice((-1, 1)) for each in sizes]
    found = paired_shift(differences, [0] * len(differences))
    assert found.p == pytest.approx(stats.wilcoxon(differences, method="exact").pvalue)
    assert found.low is None or found.low <= found.estimate <= found.high


@settings(max_examples=20)
@given(st.lists(st.integers(0, 10), min_size=1, max_size=4), st.lists(st.integers(0, 10), min_size=1, max_size=4))
def test_with_ties_p_is_the_share_of_all_ways_to_deal_the_ranks(a, b):
    ranks = stats.rankdata([*a, *b])
    sums = np.array([sum(each) for each in combinations(ranks, len(a))])
    far = np.abs(sums - sums.mean())
    expected = np.mean(far >= abs(ranks[: len(a)].sum() - sums.mean()) - 1e-9)
    assert two_sample_shift(a, b).p == pytest.approx(expected)


def test_too_few_coupons_have_no_interval_and_equal_ones_no_difference():
    found = two_sample_shift((9, 8, 7), (3, 2, 1))
    assert (found.estimate, found.low, found.high) == (6, None, None)  # 1 in 20 at either end is more than 2.5 in 100
    assert two_sample_shift((5,), (5,)).p == 1.0
    equal = paired_shift((5, 5), (5, 5))
    assert (equal.estimate, equal.low, equal.p) == (0, None, 1.0)


def test_many_coupons_are_no_trouble():
    draw = np.random.default_rng(3)
    a, b = draw.permutation(96)[:48], draw.integers(200, 300, 48) / 7
    found = two_sample_shift(a, b)
    assert found.low < found.estimate < found.high
    assert 0 <= found.p <= 1


# ---- on boards


def shift_on(record, **question):
    subject = subject_for(record, **question)
    (comparison,) = subject.comparisons
    return median_difference(subject, comparison)


def test_lots_over_the_whole_board_are_two_samples_and_rows_of_one_each_are_pairs():
    wax, oil = [9, 9, 8, 7, 9], [3, 5, 5, 6, 2]
    assert shift_on(judged_board({"wax": wax, "oil": oil})) == two_sample_shift(wax, oil)
    assert shift_on(judged_board({"wax": wax, "oil": oil}, method="rows")) == paired_shift(wax, oil)
    by_hand = judged_board({"wax": wax, "oil": oil}, method="hand")
    assert shift_on(by_hand) == two_sample_shift(wax, oil)


def test_rows_with_more_on_one_side_and_times_have_no_median_difference():
    record = judged_board({"wax": [9, 8, 9], "oil": [4, None, 3]}, method="rows")
    assert shift_on(record) is None
    assert shift_on(judged_board({"wax": [9, 8], "oil": [4, 3]}), measure="days to failing grade") is None


def test_lots_that_keep_edges_fair_have_one_only_where_they_forbid_nothing():
    record = judged_board({"wax": [9, 8], "oil": [4, 3]})  # two columns: all coupons are at the edge
    record.layouts[1] = replace(record.layouts[1], fair_edges=True)
    assert shift_on(record) == two_sample_shift([9, 8], [4, 3])
    inside = judged_board({"a": [9, 8, 7], "b": [4, 3, 2], "c": [5, 5, 5]})  # the middle of b is not
    inside.layouts[1] = replace(inside.layouts[1], fair_edges=True)
    subject = subject_for(inside)
    first = subject.comparisons[0]
    level = subject.exchanges.of(first)[0]
    assert level.limits is not None
    kept = [each for each in combinations(level.units, 3)
            if level.limits.allow(sum(u.at_edge for u in each), 5 - sum(u.at_edge for u in each))]  # fmt: skip
    assert (median_difference(subject, first) is None) == (len(kept) < 20)
