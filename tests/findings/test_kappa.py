"""Agreement of two series of grades: published tables, a second program, and what must not matter."""

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.stats.inter_rater import cohens_kappa

from rustboard.findings.agreement.kappa import Interval, agreement_of, grade_table, kappa

# 20 subjects graded 1 to 6 by three raters: the anxiety data of R's irr, from the tests of statsmodels.
R2 = (3, 6, 4, 6, 2, 4, 2, 4, 3, 3, 2, 3, 3, 3, 2, 2, 1, 3, 3, 4)
R3 = (2, 1, 4, 4, 3, 2, 1, 6, 1, 1, 1, 2, 3, 3, 1, 1, 3, 3, 2, 2)
SAS_TABLE = ((0, 4, 1), (0, 8, 0), (0, 1, 5))

GRADES = st.integers(0, 10)
PAIRS = st.lists(st.tuples(GRADES, GRADES), max_size=30)
WEIGHTINGS = ("simple", "linear", "quadratic")


def figures(found):
    return found and (found.value, found.standard_error, found.interval, found.null_error, found.z)


def test_simple_kappa_of_a_table_whose_second_rater_never_used_the_first_grade():
    # SAS print-out in the tests of statsmodels.
    found = kappa(SAS_TABLE, "simple")
    assert found.value == pytest.approx(0.4842, abs=5e-5)
    assert found.standard_error == pytest.approx(0.1380, abs=5e-5)
    assert found.interval == pytest.approx((0.2137, 0.7547), abs=5e-5)
    assert found.null_error == pytest.approx(0.1484, abs=5e-5)
    assert found.z == pytest.approx(3.2626, abs=5e-5)


def test_linear_kappa_of_the_same_table():
    # SAS print-out in the tests of statsmodels.
    found = kappa(SAS_TABLE, "linear")
    assert found.value == pytest.approx(0.4701, abs=5e-5)
    assert found.standard_error == pytest.approx(0.1457, abs=5e-5)
    assert found.interval == pytest.approx((0.1845, 0.7558), abs=5e-5)
    assert found.z == pytest.approx(3.2971, abs=5e-5)


def test_quadratic_kappa_of_the_same_table():
    # Worked out with statsmodels.
    assert kappa(SAS_TABLE, "quadratic").value == pytest.approx(0.4502, abs=5e-5)


def test_dropping_a_grade_nobody_gave_changes_weighted_kappas():
    # R's irr drops the unused 5, so that 6 counts as next to 4: 0.145907 and 0.252033 (tests of statsmodels). With
    # all six grades it is 0.126214 and 0.229798 (worked out with statsmodels).
    dropped = {1: 0, 2: 1, 3: 2, 4: 3, 6: 4}
    wrong = agreement_of([(dropped[a], dropped[b]) for a, b in zip(R2, R3, strict=True)], range(5))
    assert wrong.simple.value == pytest.approx(-0.006289, abs=5e-7)
    assert wrong.linear.value == pytest.approx(0.145907, abs=5e-7)
    assert wrong.quadratic.value == pytest.approx(0.252033, abs=5e-7)
    assert wrong.quadratic.z == pytest.approx(1.437, abs=5e-4)
    assert wrong.quadratic.p == pytest.approx(0.1506, abs=1e-4)
    right = agreement_of(zip(R2, R3, strict=True), range(1, 7))
    assert right.simple.value == pytest.approx(-0.006289, abs=5e-7)
    assert right.linear.value == pytest.approx(0.126214, abs=5e-7)
    assert right.quadratic.value == pytest.approx(0.229798, abs=5e-7)


def test_shares_are_counted():
    found = agreement_of([(10, 10), (9, 8), (5, 8), (4, 4)])
    assert (found.pairs, found.exact, found.within_one) == (4, 2, 3)
    assert (found.exact_share, found.within_one_share) == (0.5, 0.75)


def test_nothing_compared_has_no_figures():
    found = agreement_of([])
    assert (found.pairs, found.exact_share, found.within_one_share) == (0, None, None)
    assert found.simple is found.linear is found.quadratic is None


def test_one_grade_throughout_leaves_nothing_for_chance():
    found = agreement_of([(10, 10)] * 12)
    assert found.exact_share == 1
    assert found.simple is found.linear is found.quadratic is None


def test_one_rater_with_one_grade_throughout_agrees_no_more_than_chance():
    for found in (kappa(grade_table([(10, 10), (10, 9), (10, 7)]), each) for each in WEIGHTINGS):
        assert found.value == 0
        assert (found.null_error, found.z, found.p) == (0, None, None)


def test_full_agreement_has_no_interval():
    for found in (kappa(grade_table([(10, 10), (9, 9), (3, 3)]), each) for each in WEIGHTINGS):
        assert found.value == 1
        assert (found.standard_error, found.interval) == (0, None)


def test_a_grade_that_does_not_exist_is_refused():
    with pytest.raises(ValueError, match="11 and 3"):
        agreement_of([(11, 3)])


def test_an_interval_holds_its_limits():
    assert Interval(-1, 2).holds(2)
    assert not Interval(0.1, 2).holds(0)


@pytest.mark.parametrize("seed", range(12))
@pytest.mark.parametrize("weighting", WEIGHTINGS)
def test_a_second_program_finds_the_same(seed, weighting):
    draw = random.Random(seed)
    pairs = []
    for _ in range(draw.randint(5, 60)):
        grade = draw.randint(0, 10)
        pairs.append((grade, min(max(grade + draw.choice((-2, -1, 0, 0, 1, 3)), 0), 10)))
    table = grade_table(pairs)
    found = kappa(table, weighting)
    other = cohens_kappa(np.array(table), wt=None if weighting == "simple" else weighting)
    assert found.value == pytest.approx(other.kappa, abs=1e-12)
    assert found.standard_error == pytest.approx(other.std_kappa, abs=1e-9)
    assert found.null_error == pytest.approx(other.std_kappa0, abs=1e-9)
    assert found.interval.low == pytest.approx(max(other.kappa_low, -1), abs=1e-9)
    assert found.interval.high == pytest.approx(min(other.kappa_upp, 1), abs=1e-9)
    assert found.p == pytest.approx(other.pvalue_two_sided, abs=1e-9)


@given(PAIRS)
def test_who_is_first_does_not_matter(pairs):
    found, swapped = agreement_of(pairs), agreement_of([(b, a) for a, b in pairs])
    assert (found.pairs, found.exact, found.within_one) == (swapped.pairs, swapped.exact, swapped.within_one)
    for weighting in WEIGHTINGS:
        one, other = getattr(found, weighting), getattr(swapped, weighting)
        assert (one is None) == (other is None)
        if one is not None:
            assert one.value == pytest.approx(other.value)
            assert one.standard_error == pytest.approx(other.standard_error, abs=1e-6)


@given(PAIRS, st.randoms(use_true_random=False))
def test_the_order_of_coupons_does_not_matter(pairs, draw):
    shuffled = list(pairs)
    draw.shuffle(shuffled)
    assert agreement_of(shuffled) == agreement_of(pairs)


@given(PAIRS)
def test_grades_that_nobody_gave_change_nothing(pairs):
    found, wider = agreement_of(pairs), agreement_of(pairs, range(-3, 20))
    for weighting in WEIGHTINGS:
        one, other = getattr(found, weighting), getattr(wider, weighting)
        assert (one is None) == (other is None)
        if one is not None:
            assert one.value == pytest.approx(other.value, abs=1e-12)
            assert one.standard_error == pytest.approx(other.standard_error, abs=1e-6)


@given(PAIRS)
def test_every_figure_is_a_number_within_bounds(pairs):
    found = agreement_of(pairs)
    for each in filter(None, (found.simple, found.linear, found.quadratic)):
        assert each.value <= 1
        numbers = [each.value, each.standard_error, each.null_error, *(each.interval or ()), each.z or 0, each.p or 0]
        assert all(map(math.isfinite, numbers))
        if each.interval is not None:
            assert -1 <= each.interval.low <= each.interval.high <= 1
