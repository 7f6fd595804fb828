"""Power by simulation, against the formulas for the normal case, and what rounding does to it."""

import numpy as np
import pytest
from scipy import stats
from statsmodels.stats.power import TTestIndPower, TTestPower

from rustboard.findings.critical import Together
from rustboard.findings.design_model import Design, even_design
from rustboard.findings.power import (
    UNROUNDED,
    WHOLE_GRADES,
    Grading,
    PowerTest,
    coupons_needed,
    detectable_difference,
    first_enough,
    power,
)

DRAWS = 20_000


def ready(cells, blocks=None, compared=None):
    design = Design(tuple(cells), tuple(blocks or [0] * len(cells)))
    contrast = compared or {"a": 1.0, "b": -1.0}
    weights = design.weights(contrast)
    shift = np.array([(contrast.get(each, 0.0) > 0) * 0.5 - (contrast.get(each, 0.0) < 0) * 0.5 for each in cells])
    return PowerTest(design, weights, shift, Together(weights[None]).critical_t(design.degrees_of_freedom))


def agrees(simulated, exact):
    """Within 4 standard errors of a share of so many simulated boards: by luck missed 6 times in 100,000 (normal)."""
    return abs(simulated - exact) < 4 * np.sqrt(exact * (1 - exact) / DRAWS)


@pytest.mark.parametrize(("of_a", "of_b", "difference", "sd"), [
    (2, 2, 3, 0.8), (3, 3, 2.5, 1), (5, 5, 1.5, 1), (9, 9, 1, 0.7), (20, 20, 0.5, 1), (3, 7, 2, 1), (12, 4, 1.2, 0.8),
    (4, 4, 0, 1),
])  # fmt: skip
def test_two_groups_agree_with_the_power_of_the_t_test(of_a, of_b, difference, sd):
    test = ready(["a"] * of_a + ["b"] * of_b)
    # statsmodels: power of the two-sided independent t test at 5 %.
    exact = TTestIndPower().power(difference / sd, of_a, 0.05, of_b / of_a)
    assert agrees(power(test, difference, sd, UNROUNDED, draws=DRAWS), exact)


@pytest.mark.parametrize(("rows", "difference", "sd"), [(3, 3, 1), (6, 1.2, 0.8), (12, 0.9, 1)])
def test_pairs_in_rows_agree_with_the_power_of_the_paired_t_test(rows, difference, sd):
    test = ready(["a", "b"] * rows, [row for row in range(rows) for _ in "ab"])
    # statsmodels: power of the one-sample t test; a difference of two has sqrt(2) times the spread of one.
    exact = TTestPower().power(difference / (sd * np.sqrt(2)), rows, 0.05)
    assert agrees(power(test, difference, sd, UNROUNDED, draws=DRAWS), exact)


@pytest.mark.parametrize(("others", "each"), [(3, 3), (6, 4)])
def test_several_treatments_share_their_error(others, each):
    cells = [cell for cell in ("a", "b", *range(others)) for _ in range(each)]
    free = len(cells) - (others + 2)
    # The noncentral t distribution, with the degrees of freedom of the pooled error.
    limit, far = stats.t.ppf(0.975, free), 1.3 / np.sqrt(2 / each)
    exact = stats.nct.sf(limit, free, far) + stats.nct.cdf(-limit, free, far)
    assert agrees(power(ready(cells), 1.3, 1.0, UNROUNDED, draws=DRAWS), exact)


def test_rows_that_differ_do_not_disturb_a_design_in_rows():
    design = even_design(["a", "b", "c"], 4, 4)
    assert design.degrees_of_freedom == 12 - 3 - 3
    weights = design.weights({"a": 1.0, "b": -1.0})
    in_rows = np.array([weights[np.array(design.blocks) == row].sum() for row in range(4)])
    assert np.abs(in_rows).max() < 1e-9
    assert weights @ weights == pytest.approx(2 / 4)


def test_two_treatments_that_share_no_row_cannot_be_told_from_their_rows():
    design = Design(("a", "a", "b", "b"), (0, 0, 1, 1))
    assert design.weights({"a": 1.0, "b": -1.0}) is None
    linked = Design(("a", "c", "b", "c"), (0, 0, 1, 1))
    assert linked.weights({"a": 1.0, "b": -1.0}) == pytest.approx([1, -1, -1, 1])


def test_an_uneven_design_with_fewer_units_than_rows_uses_fewer_rows():
    assert set(even_design(["a", "b"], 2, 12).blocks) == {0, 1}
    assert set(even_design(["a", "b"], 5, 3).blocks) == {0, 1, 2}
    assert set(even_design(["a", "b"], 5, None).blocks) == {0}


def test_one_comparison_is_judged_by_students_t():
    assert Together(np.array([[1.0, -1.0]])).critical_t(10) == pytest.approx(stats.t.ppf(0.975, 10))


def test_several_against_one_control_are_judged_like_dunnetts():
    # Dunnett's two-sided 5 % point for 3 treatments of equal numbers and 20 degrees of freedom: 2.54 (from memory).
    each, treatments = 6, 3
    design = even_design(["k", *range(treatments)], each, None)
    weights = np.array([design.weights({number: 1.0, "k": -1.0}) for number in range(treatments)])
    found = Together(weights).critical_t(design.degrees_of_freedom)
    assert found == pytest.approx(2.54, abs=0.02)


def test_all_pairs_are_judged_like_tukeys():
    design = even_design(range(5), 4, None)
    pairs = [(one, other) for one in range(5) for other in range(one)]
    weights = np.array([design.weights({one: 1.0, other: -1.0}) for one, other in pairs])
    exact = stats.studentized_range.ppf(0.95, 5, design.degrees_of_freedom) / np.sqrt(2)  # scipy's own distribution
    assert Together(weights).critical_t(design.degrees_of_freedom) == pytest.approx(exact, abs=0.03)


def test_too_many_comparisons_for_a_simulation_fall_back_on_bonferroni():
    weights = np.eye(500)
    assert Together(weights).critical_t(30) == pytest.approx(stats.t.ppf(1 - 0.025 / 500, 30))
    assert Together(np.eye(3), more=2).critical_t(30) == pytest.approx(stats.t.ppf(1 - 0.025 / 5, 30))


def test_rounding_costs_power_and_its_spread_is_never_taken_for_none():
    test = ready(["a"] * 5 + ["b"] * 5)
    assert power(test, 1.5, 0.7, draws=DRAWS) < power(test, 1.5, 0.7, UNROUNDED, draws=DRAWS)
    # With next to no spread all replicates get one grade; without a floor under the variance every difference that
    # rounding makes would be found.
    small = ready(["a"] * 2 + ["b"] * 2)
    assert power(small, 0.5, 0.01, draws=2_000) == 0.0
    assert power(small, 0.5, 0.01, Grading(least_variance=0.0), draws=2_000) > 0.4


@pytest.mark.parametrize("each", [2, 3, 6])
def test_where_nothing_differs_little_is_found(each):
    test = ready([cell for cell in "abcd" for _ in range(each)])
    assert agrees(power(test, 0.0, 1.0, UNROUNDED, draws=DRAWS), 0.05)
    # Of whole grades, few of them, the t test finds a little more than it should: t takes only some values.
    assert power(test, 0.0, 1.0, draws=DRAWS) < 0.07


def test_the_difference_found_is_the_smallest():
    test = ready(["a"] * 4 + ["b"] * 4)
    found = detectable_difference(test, 0.8)
    assert power(test, found, 0.8) >= 0.8 > power(test, found - 0.1, 0.8)


def test_a_difference_that_even_the_whole_scale_does_not_show_is_none():
    assert detectable_difference(ready(["a", "a", "b"]), 5.0) is None


def test_the_coupons_needed_are_the_fewest():
    def even(each):
        return ready(["a"] * each + ["b"] * each)

    found = coupons_needed(even, 1.0, 0.8)
    assert power(even(found), 1.0, 0.8) >= 0.8 > power(even(found - 1), 1.0, 0.8)
    # Unrounded it is the textbook number: sd 1, difference 1 takes 17 in each group (statsmodels below).
    exact = int(np.ceil(TTestIndPower().solve_power(1.0, None, 0.05, 0.8)))
    assert abs(coupons_needed(even, 1.0, 1.0, UNROUNDED) - exact) <= 1
    assert coupons_needed(even, 0.1, 1.0) is None
    assert coupons_needed(even, 0.6, 1.0, most=10) is None


def test_the_same_question_gets_the_same_answer():
    test = ready(["a"] * 3 + ["b"] * 3)
    assert power(test, 2.0, 1.0, WHOLE_GRADES) == power(test, 2.0, 1.0, WHOLE_GRADES)


def test_work_can_be_stopped():
    class StoppedError(Exception):
        pass

    def stop():
        raise StoppedError

    with pytest.raises(StoppedError):
        detectable_difference(ready(["a"] * 3 + ["b"] * 3), 1.0, pause=stop)


def test_the_first_number_that_is_enough():
    assert first_enough(1, 100, lambda number: number >= 37) == 37
    assert first_enough(1, 100, lambda number: number >= 1) == 1
    assert first_enough(1, 100, lambda _: False) is None
