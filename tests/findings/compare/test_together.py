"""Differences judged together: published examples, and general libraries as a second source."""

from math import inf, sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, special, stats

from rustboard.findings.compare.together import Together
from rustboard.findings.design_model import Design


def fitted(*groups):
    """Design, values and error of groups of numbers."""
    design = Design(tuple(number for number, group in enumerate(groups) for _ in group), (0,) * sum(map(len, groups)))
    values = np.concatenate([np.asarray(group, float) for group in groups])
    left = values @ values - np.square(values @ design.basis).sum()
    return design, values, sqrt(left / design.degrees_of_freedom)


def differences(design, values, sd, pairs):
    weights = np.array([design.weights({a: 1.0, b: -1.0}) for a, b in pairs])
    return weights, weights @ values, sd * np.linalg.norm(weights, axis=1)


def test_all_pairs_of_three_groups():
    # p .01444833, .98031072, .02033114: scipy's tests of tukey_hsd.
    groups = (24.5, 23.5, 26.4, 27.1, 29.9), (28.4, 34.2, 29.5, 32.2, 30.1), (26.1, 28.3, 24.3, 26.2, 27.8)
    design, values, sd = fitted(*groups)
    weights, seen, errors = differences(design, values, sd, [(0, 1), (0, 2), (1, 2)])
    together = Together(weights, design.degrees_of_freedom, 3)
    assert together.method == "studentized range"
    assert together.p_of(np.abs(seen / errors)) == pytest.approx([0.01444833, 0.98031072, 0.02033114], abs=5e-9)


def test_dunnetts_own_example():
    # Dunnett 1955, blood counts: t .85703, 3.69375; two-sided p .6201, .0058; intervals -1.2564 to 2.5564 and
    # .8396 to 4.4164. From scipy's tests of dunnett, which allow 1e-3 for their own integration by chance.
    control = (7.40, 8.50, 7.20, 8.24, 9.84, 8.32)
    drugs = (9.76, 8.80, 7.68, 9.36), (12.80, 9.68, 12.16, 9.20, 10.55)
    design, values, sd = fitted(control, *drugs)
    weights, seen, errors = differences(design, values, sd, [(1, 0), (2, 0)])
    together = Together(weights, design.degrees_of_freedom)
    assert together.method == "many to one"
    assert seen / errors == pytest.approx([0.85703, 3.69375], abs=5e-6)
    assert together.p_of(np.abs(seen / errors)) == pytest.approx([0.6201, 0.0058], abs=5e-5)
    assert seen - together.critical_t * errors == pytest.approx([-1.2564, 0.8396], abs=1e-3)
    assert seen + together.critical_t * errors == pytest.approx([2.5564, 4.4164], abs=1e-3)


def test_the_critical_size_against_a_control_leaves_five_in_a_hundred():
    # Integrated once more by scipy's general quadrature, over the common control and the error.
    control, first, second, freedom = 6, 4, 5, 12
    design = Design((0,) * control + (1,) * first + (2,) * second, (0,) * 15)
    weights = np.array([design.weights({1: 1.0, 0: -1.0}), design.weights({2: 1.0, 0: -1.0})])
    size = Together(weights, freedom).critical_t
    loadings = [sqrt(each / (each + control)) for each in (first, second)]

    def inside(place, error):
        reach = 1.0
        for loading in loadings:
            own = sqrt(1 - loading**2)
            ends = (size * error - loading * place) / own, (-size * error - loading * place) / own
            reach *= special.ndtr(ends[0]) - special.ndtr(ends[1])
        density = 2 * freedom * error * stats.chi2.pdf(freedom * error**2, freedom)
        return reach * density * np.exp(-(place**2) / 2) / sqrt(2 * np.pi)

    assert integrate.dblquad(inside, 0.05, 3.5, -7, 7, epsabs=1e-7)[0] == pytest.approx(0.95, abs=1e-6)


@pytest.mark.parametrize(("groups", "each"), [(3, 2), (5, 4), (12, 8)])
def test_the_critical_size_of_all_pairs_is_that_of_the_studentized_range(groups, each):
    design = Design(tuple(number for number in range(groups) for _ in range(each)), (0,) * (groups * each))
    pairs = [(a, b) for a in range(groups) for b in range(a)]
    weights = np.array([design.weights({a: 1.0, b: -1.0}) for a, b in pairs])
    together = Together(weights, design.degrees_of_freedom, groups)
    published = stats.studentized_range.ppf(0.95, groups, design.degrees_of_freedom) / sqrt(2)  # scipy as source
    assert together.critical_t == pytest.approx(published, abs=1e-6)
    simulated = Together(weights, design.degrees_of_freedom)
    assert simulated.method == "simulated"
    assert simulated.critical_t == pytest.approx(published, rel=0.01)


def test_unequal_numbers_against_a_control_agree_with_scipy():
    chance = np.random.default_rng(5)
    groups = [chance.normal(shift, 1, size) for shift, size in ((0, 4), (0.8, 3), (1.6, 5), (2.2, 6))]
    design, values, sd = fitted(*groups)
    weights, seen, errors = differences(design, values, sd, [(1, 0), (2, 0), (3, 0)])
    ours = Together(weights, design.degrees_of_freedom).p_of(np.abs(seen / errors))
    theirs = stats.dunnett(*groups[1:], control=groups[0], rng=np.random.default_rng(1)).pvalue
    assert ours == pytest.approx(theirs, abs=1e-3)  # scipy integrates by chance


def test_an_assumed_error_takes_the_normal_distribution():
    weights = np.array([[1.0, -1.0]])
    together = Together(weights, inf)
    assert together.critical_t == pytest.approx(1.959964, abs=1e-6)
    assert together.p_of(np.array([1.959964])) == pytest.approx([0.05], abs=1e-6)


@settings(max_examples=15, deadline=None)
@given(st.integers(2, 5), st.integers(2, 4), st.integers(0, 10**6))
def test_p_falls_as_the_difference_grows_and_lies_between_one_comparison_and_bonferroni(groups, each, seed):
    chance = np.random.default_rng(seed)
    weights = chance.normal(size=(groups, groups * each))
    together = Together(weights, float(each))
    sizes = np.linspace(0.1, 8, 9)
    found = together.p_of(sizes)
    alone = 2 * stats.t.sf(sizes, each)
    assert np.all(np.diff(found) <= 1e-9)
    assert np.all(found >= alone - 1e-6)
    assert np.all(found <= np.minimum(1, groups * alone) + 1e-12)
