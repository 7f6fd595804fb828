"""The smallest p of a layout: published counts, and full enumeration."""

import random
from dataclasses import replace
from math import comb

import numpy as np
import pytest
from enumeration import enumerated, labellings, units
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from rustboard.findings.exchange import EdgeLimits, Exchangeable, exchange_of
from rustboard.findings.smallest_p import arrangements, smallest_p


def exchanges(*strata):
    return [exchange_of(Exchangeable(units(strata)))]


@pytest.mark.parametrize(("each", "one_sided"), [(3, 0.05), (4, 0.0143), (5, 0.00397)])
def test_the_known_counts_of_equal_groups(each, one_sided):
    # Smallest exact p of n v n is 1 / C(2n, n), two-sided twice that: textbook counts, as in Fisher's exact reasoning
    # (the three one-sided values are 1/20, 1/70, 1/252); 3 v 3 cannot reach 0.05 two-sided.
    assert 1 / arrangements(exchanges((each, each))) == pytest.approx(one_sided, abs=5e-5)
    assert smallest_p(exchanges((each, each))) == pytest.approx(2 / comb(2 * each, each), rel=1e-12)


def test_three_against_three_cannot_pass_one_in_twenty():
    assert smallest_p(exchanges((3, 3))) == pytest.approx(0.10)
    assert smallest_p(exchanges((4, 4))) == pytest.approx(0.0286, abs=5e-5)


@pytest.mark.parametrize("blocks", [1, 2, 3, 5, 15])
def test_blocks_of_two_give_two_in_two_to_the_number_of_blocks(blocks):
    # Sign flips of pairs, as with Fisher's 15 pairs of Darwin's maize: 2^15 = 32768 arrangements.
    assert smallest_p(exchanges(*[(1, 1)] * blocks)) == pytest.approx(2 / 2**blocks)


def test_three_blocks_of_four_and_the_same_without_blocks():
    assert arrangements(exchanges((2, 2), (2, 2), (2, 2))) == 216
    assert smallest_p(exchanges((2, 2), (2, 2), (2, 2))) == pytest.approx(2 / 216)
    assert smallest_p(exchanges((6, 6))) == pytest.approx(2 / 924)


def test_unequal_groups_have_no_mirror_image():
    assert smallest_p(exchanges((4, 11))) == pytest.approx(1 / 1365)
    assert smallest_p(exchanges((1, 1), (1, 2))) == pytest.approx(1 / 6)


def test_rows_that_hold_only_one_of_the_groups_count_for_nothing():
    assert smallest_p(exchanges((1, 1), (1, 0), (0, 2), (1, 1))) == pytest.approx(2 / 4)


def test_one_coupon_each_proves_nothing():
    assert smallest_p(exchanges((1, 1))) == 1.0
    assert smallest_p(exchanges((1, 0), (0, 1))) == 1.0
    assert smallest_p([]) == 1.0


def test_levels_of_the_other_factor_multiply():
    two = [*exchanges((2, 2)), *exchanges((1, 3))]
    assert arrangements(two) == 6 * 4
    assert smallest_p(two) == pytest.approx(1 / 24)


def test_boards_of_any_size_are_counted_exactly():
    assert arrangements(exchanges(*[(20, 20)] * 12)) == comb(40, 20) ** 12
    assert 0 < smallest_p(exchanges(*[(20, 20)] * 12)) < 1e-100


def test_fair_edges_leave_fewer_arrangements():
    # 3 v 3, four of the six at the edge, each group two of them: C(4,2) * C(2,1) = 12 instead of 20.
    level = Exchangeable(units([(3, 3)], edges=[(2, 2)]), EdgeLimits(2, 2, 2, 2))
    assert smallest_p([exchange_of(level)]) == pytest.approx(2 / 12)


def test_with_an_odd_number_of_edges_either_group_may_have_the_odd_one():
    # Three of six at the edge, so one or two each: C(3,1)*C(3,2) + C(3,2)*C(3,1) = 18; the mirror image is allowed.
    level = Exchangeable(units([(3, 3)], edges=[(2, 1)]), EdgeLimits(1, 2, 1, 2))
    assert smallest_p([exchange_of(level)]) == pytest.approx(2 / 18)


def test_a_mirror_image_that_the_edges_forbid_does_not_count():
    level = Exchangeable(units([(2, 2)], edges=[(2, 1)]), EdgeLimits(2, 2, 1, 1))
    assert arrangements([exchange_of(level)]) == 3
    assert smallest_p([exchange_of(level)]) == pytest.approx(1 / 3)


@st.composite
def small_levels(draw, most_levels=2):
    """A level or two with a few strata each, with or without limits at the edges that allow what is seen."""
    levels, first = [], 0
    for _ in range(draw(st.integers(1, most_levels))):
        sizes = draw(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=1, max_size=2))
        found = [
            replace(each, coupons=frozenset({first + key}), at_edge=draw(st.integers(0, 2)))
            for key, each in enumerate(units(sizes))
        ]
        limits = None
        if draw(st.booleans()):
            seen = [sum(each.at_edge for each in found if each.in_a is side) for side in (True, False)]
            # As with fair shares, what is seen lies within the limits or by the excess beyond.
            excess = draw(st.integers(0, 1))
            bounds = [(each - draw(st.integers(0, 1)), each + draw(st.integers(0, 1))) for each in seen]
            limits = EdgeLimits(bounds[0][0], bounds[0][1] - excess, *bounds[1], excess)
        first += len(found)
        levels.append(Exchangeable(found, limits))
    return levels


@given(small_levels(), st.integers(0, 2**32))
def test_no_grades_reach_below_it(levels, seed):
    counted = [exchange_of(each) for each in levels]
    keys = [key for level in levels for each in level.units for key in each.coupons]
    best = {key: 10 * each.in_a for level in levels for each in level.units for key in each.coupons}
    two_sided, greater, _, count = enumerated(levels, best)
    assert arrangements(counted) == count
    assert float(greater) == 1 / arrangements(counted)
    assert float(two_sided) >= smallest_p(counted)
    draw = random.Random(seed)
    for _ in range(15):
        values = {key: draw.randint(0, 10) for key in keys}
        assert float(enumerated(levels, values)[0]) >= smallest_p(counted)


@given(st.lists(st.tuples(st.integers(0, 3), st.integers(0, 3)), min_size=1, max_size=3))
def test_one_group_all_ten_and_the_other_all_nought_reaches_it(sizes):
    level = Exchangeable(units(sizes))
    values = {key: 10 * each.in_a for each in level.units for key in each.coupons}
    assert float(enumerated([level], values)[0]) == smallest_p([exchange_of(level)])


@given(small_levels(most_levels=1))
def test_some_values_reach_it_whatever_the_edges_allow(levels):
    """Values that set the seen arrangement alone at the far end exist just where none lies opposite to it."""
    (level,) = levels
    keys = [key for each in level.units for key in each.coupons]
    seen = np.array([float(each.in_a) for each in level.units])
    rows = np.array([[float(key in chosen) for key in keys] for chosen in labellings(level)])
    others = rows[(rows != seen).any(axis=1)]
    wanted = smallest_p([exchange_of(level)])
    if len(others) == 0:
        assert wanted == 1.0
        return
    mean = rows.mean(axis=0)
    if wanted == 1 / len(rows):
        sides = np.vstack([seen - others, seen + others - 2 * mean])
        found = linprog(np.zeros(len(keys)), A_ub=-sides, b_ub=-np.ones(len(sides)), bounds=(None, None))
        assert found.status == 0, "no values reach it"
        far = np.abs((rows - mean) @ found.x)
        assert np.count_nonzero(far >= abs((seen - mean) @ found.x) - 1e-6) == 1
    else:
        assert wanted == 2 / len(rows)
        assert any(np.allclose(each, 2 * mean - seen) for each in others)


def test_where_the_edges_leave_two_arrangements_they_are_each_others_mirror_image():
    level = Exchangeable(units([(1, 2)], edges=[(0, 1)]), EdgeLimits(0, 0, 1, 1))
    assert smallest_p([exchange_of(level)]) == 1.0
