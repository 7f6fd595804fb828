"""Shifts by medians of differences: published examples, and scipy as a second source."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from rustboard.findings.compare.shifts import Shift, paired_shift, two_sample_shift


def test_blood_pressure_with_ties():
    # 9.5, interval -4 to 22, ranks p .0989: regression tests of R's exactRankTests, after StatXact.
    found = two_sample_shift((94, 108, 110, 90), (80, 94, 85, 90, 90, 90, 108, 94, 78, 105, 88))
    assert (found.estimate, found.low, found.high) == (9.5, -4.0, 22.0)
    assert found.p == pytest.approx(0.0989, abs=5e-5)


def test_hollander_and_wolfe_with_two_samples():
    # -0.305 for y - x, interval -0.76 to 0.15, p 0.2544122544: the same tests, and scipy's of mannwhitneyu.
    x = (0.80, 0.83, 1.89, 1.04, 1.45, 1.38, 1.91, 1.64, 0.73, 1.46)
    found = two_sample_shift((1.15, 0.88, 0.90, 0.74, 1.21), x)
    assert (found.estimate, found.low, found.high) == pytest.approx((-0.305, -0.76, 0.15))
    assert found.p == pytest.approx(0.2544122544123)


def test_hollander_and_wolfe_with_pairs():
    # -0.46 for y - x, interval -0.786 to -0.010, p 0.0391: the same tests.
    x = (1.83, 0.50, 1.62, 2.48, 1.68, 1.88, 1.55, 3.06, 1.30)
    found = paired_shift((0.878, 0.647, 0.598, 2.05, 1.06, 1.29, 1.06, 3.14, 1.29), x)
    assert (found.estimate, found.low, found.high) == pytest.approx((-0.46, -0.786, -0.010))
    assert found.p == pytest.approx(0.0391, abs=5e-5)


def test_darwins_maize():
    # Hodges-Lehmann 25 (worked out from the data), p 0.041259765625: scipy's documentation of wilcoxon.
    differences = (49, -67, 8, 16, 6, 23, 28, 41, 14, 29, 56, 24, 75, 60, -48)
    found = paired_shift(differences, [0] * 15)
    assert found.estimate == 25.0
    assert found.p == 0.041259765625


def test_a_small_mann_whitney_test():
    # U 17, exact p 0.1111111: scipy's documentation of mannwhitneyu.
    assert two_sample_shift((19, 22, 16, 29, 24), (20, 11, 17, 12)).p == pytest.approx(1 / 9)


def test_too_few_values_have_no_interval():
    assert two_sample_shift((3.0,), (1.0, 2.0)) == Shift(1.5, None, None, pytest.approx(2 / 3))


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.integers(3, 6), st.integers(3, 6))
def test_without_ties_p_is_that_of_mann_and_whitney(seed, of_a, of_b):
    chance = np.random.default_rng(seed)
    a, b = chance.normal(0.5, 1, of_a), chance.normal(0, 1, of_b)
    found = two_sample_shift(a, b)
    assert found.p == pytest.approx(stats.mannwhitneyu(a, b, method="exact").pvalue)  # scipy as source
    mirrored = two_sample_shift(b, a)
    assert mirrored.estimate == pytest.approx(-found.estimate)
    assert mirrored.p == pytest.approx(found.p)


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6), st.integers(5, 9))
def test_without_ties_p_is_that_of_wilcoxon(seed, count):
    chance = np.random.default_rng(seed)
    differences = chance.normal(0.4, 1, count)
    found = paired_shift(differences, np.zeros(count))
    assert found.p == pytest.approx(stats.wilcoxon(differences, method="exact").pvalue)  # scipy as source
