"""Effects of boards pooled: against a second source, and what must hold whatever the boards."""

from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.findings.boards.random_effects import OneEffect, pooled_effect, t_interval

MANY = 10**6  # degrees of freedom: standard errors as good as known, which the second source takes them for


def effects(pairs, freedom=MANY):
    return [OneEffect(float(difference), float(error), freedom) for difference, error in pairs]


def second_source(pairs, method):
    from statsmodels.stats.meta_analysis import combine_effects

    differences, errors = np.array(pairs).T
    return combine_effects(differences, errors**2, method_re=method, use_t=True)


@pytest.mark.parametrize("seed", range(12))
def test_random_boards_come_out_as_in_statsmodels(seed):
    # statsmodels 0.14: Paule-Mandel ("iterated"), Cochran's Q, I squared, Hartung-Knapp interval by t.
    draw = np.random.default_rng(seed)
    count = int(draw.integers(3, 8))
    pairs = np.column_stack([draw.normal(1, 1.5, count), draw.uniform(0.3, 1.0, count)])
    found, other = pooled_effect(effects(pairs)), second_source(pairs, "iterated")
    assert found.q == pytest.approx(other.q)
    assert found.q_p == pytest.approx(other.test_homogeneity().pvalue)
    assert found.i_squared == pytest.approx(max(0.0, other.i2))
    if other.q <= count - 1:
        assert found.tau == 0
        assert found.difference == pytest.approx(other.mean_effect_fe)
        return
    assert found.tau**2 == pytest.approx(other.tau2, abs=1e-4)  # it stops at 1e-5 of Q
    assert found.difference == pytest.approx(other.mean_effect_re, abs=1e-5)
    low, high = other.conf_int()[1 + 2]  # random effects with the Hartung-Knapp standard error
    of_one = 1.959964 / sqrt(sum(1 / error**2 for _, error in pairs))
    half = max((high - low) / 2, of_one)
    assert found.high - found.low == pytest.approx(2 * half, rel=1e-4)


def test_one_true_difference_is_the_plain_weighted_mean():
    # By hand: variances 1 and 1/4, weights 1/5 and 4/5, mean 2.8, variance 1/5; Q = 1 / (1 + 1/4) = 0.8.
    found = pooled_effect(effects([(2, 1), (3, 0.5)]))
    assert found.difference == pytest.approx(2.8)
    assert found.weights == pytest.approx((0.2, 0.8))
    assert found.q == pytest.approx(0.8)
    assert (found.tau, found.i_squared) == (0, 0)
    half = 12.7062047 * sqrt((0.2 * 0.8**2 + 0.8 * 0.2**2) / 1)  # t table, 1 degree of freedom
    assert found.high == pytest.approx(2.8 + half)


def test_boards_that_agree_by_luck_give_no_narrower_interval_than_one_difference_would():
    found = pooled_effect(effects([(2, 1), (2, 1), (2, 1)]))
    assert (found.low, found.high) == pytest.approx((2 - 1.959964 / sqrt(3), 2 + 1.959964 / sqrt(3)), abs=1e-5)


def test_standard_errors_from_few_coupons_widen_it():
    few, many = (pooled_effect(effects([(2, 1), (2, 1), (2, 1)], freedom)) for freedom in (2, MANY))
    # Satterthwaite: 3 boards alike with 2 degrees of freedom each have 6 together; t table 2.446912.
    assert few.high - few.difference == pytest.approx(2.446912 / sqrt(3), rel=1e-6)
    assert few.high > many.high


def test_one_board_is_not_pooled_and_has_its_own_interval():
    assert pooled_effect(effects([(2, 1)])) is None
    assert pooled_effect([]) is None
    assert t_interval(OneEffect(2.0, 1.0, 4)) == pytest.approx((2 - 2.776445, 2 + 2.776445))  # t table


pairs_of_boards = st.lists(
    st.tuples(st.floats(-10, 10), st.floats(0.01, 10)), min_size=2, max_size=6
)  # fmt: skip


@settings(max_examples=40)
@given(pairs_of_boards, st.randoms(use_true_random=False))
def test_order_mirror_and_shift_of_boards(pairs, random):
    found = pooled_effect(effects(pairs, 5))
    assert found.low <= found.difference <= found.high
    assert sum(found.weights) == pytest.approx(1)
    mirrored = pooled_effect(effects([(-difference, error) for difference, error in pairs], 5))
    assert (mirrored.low, mirrored.high) == pytest.approx((-found.high, -found.low), rel=1e-6, abs=1e-6)
    shuffled = list(pairs)
    random.shuffle(shuffled)
    again = pooled_effect(effects(shuffled, 5))
    assert (again.difference, again.tau, again.q) == pytest.approx((found.difference, found.tau, found.q), abs=1e-5)
    up = pooled_effect(effects([(difference + 3, error) for difference, error in pairs], 5))
    assert up.difference == pytest.approx(found.difference + 3, abs=1e-5)
    assert up.tau == pytest.approx(found.tau, abs=1e-4)
