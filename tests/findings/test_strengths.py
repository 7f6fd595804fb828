"""Strengths from choices between two: a published example, a second program, and what must not matter."""

import math
import random
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from statsmodels.genmod.families import Binomial
from statsmodels.genmod.generalized_linear_model import GLM

from rustboard.findings.side_by_side.choices import Choice, among, preferences
from rustboard.findings.side_by_side.strengths import fit_strengths

# Wins of the rows against the columns: Agresti, Categorical Data Analysis (1990), baseball of 1987, as the tests of
# another program for rankings repeat them.
TEAMS = ("Milwaukee", "Detroit", "Toronto", "New York", "Boston", "Cleveland", "Baltimore")
WINS = (
    (0, 7, 9, 7, 7, 9, 11),
    (6, 0, 7, 5, 11, 9, 9),
    (4, 6, 0, 7, 7, 8, 12),
    (6, 8, 6, 0, 6, 7, 10),
    (6, 2, 6, 7, 0, 7, 12),
    (4, 4, 5, 6, 6, 0, 6),
    (2, 4, 1, 3, 1, 7, 0),
)
ABILITIES = (1.5814, 1.4364, 1.2945, 1.2476, 1.1077, 0.6839, 0)

ITEMS = range(6)


@st.composite
def some_choices(draw, items=ITEMS):
    """Choices among items, some of them “cannot tell”."""
    found = []
    for _ in range(draw(st.integers(0, 25))):
        left, right = draw(st.permutations(list(items)))[:2]
        found.append(Choice(left, right, draw(st.sampled_from((left, right, None)))))
    return found


def values(strengths):
    return {each.item: each.value for each in strengths.order}


def wins(table):
    return [
        Choice(row, column, column)
        for row, line in enumerate(table)
        for column, won in enumerate(line)
        for _ in range(won)
    ]


def drawn_choices(seed, items=7, count=60):
    draw = random.Random(seed)
    true = [draw.gauss(0, 1) for _ in range(items)]
    found = []
    for _ in range(count):
        left, right = draw.sample(range(items), 2)
        wins_left = draw.random() < 1 / (1 + math.exp(true[right] - true[left]))
        found.append(Choice(left, right, draw.choices((right if wins_left else left, None), (5, 1))[0]))
    return found


def test_a_published_league_is_put_in_order():
    found = fit_strengths(range(7), wins(WINS), penalty=0)
    assert [TEAMS[each.item] for each in found.order] == list(TEAMS)
    lowest = found.order[-1].value
    assert [each.value - lowest for each in found.order] == pytest.approx(ABILITIES, abs=5e-5)
    assert (found.choices, found.parts) == (273, 1)
    assert found.order[0].choices == sum(WINS[0]) + sum(row[0] for row in WINS)


def test_a_small_penalty_changes_a_well_known_order_little():
    free, held = fit_strengths(range(7), wins(WINS), penalty=0), fit_strengths(range(7), wins(WINS))
    for one, other in zip(free.order, held.order, strict=True):
        assert one.item == other.item
        assert abs(other.value) <= abs(one.value) + 1e-9
        assert other.value == pytest.approx(one.value, abs=0.02)


@pytest.mark.parametrize("seed", range(8))
def test_a_second_program_finds_the_same_without_a_penalty(seed):
    items, choices = 7, drawn_choices(seed)
    found = fit_strengths(range(items), choices, penalty=0)
    won = preferences(range(items), choices)
    pairs = [(a, b) for a in range(items) for b in range(a) if won[a, b] + won[b, a]]
    design = np.zeros((len(pairs), items))
    for row, (a, b) in enumerate(pairs):
        design[row, a], design[row, b] = 1, -1
    counts = np.array([(won[a, b], won[b, a]) for a, b in pairs])
    other = GLM(counts, design[:, 1:], family=Binomial()).fit(tol=1e-12, maxiter=100)
    mine = values(found)
    assert [mine[item] - mine[0] for item in range(1, items)] == pytest.approx(list(other.params), abs=1e-6)
    place = {each.item: number for number, each in enumerate(found.order)}
    errors = [found.gap(place[item], place[0]).standard_error for item in range(1, items)]
    assert errors == pytest.approx(list(other.bse), rel=1e-5)


def test_standard_errors_are_those_of_the_centred_strengths():
    found = fit_strengths(range(7), drawn_choices(3), penalty=0)
    errors = np.array(found.covariance)
    assert errors.sum(axis=0) == pytest.approx(np.zeros(7), abs=1e-9)
    assert [each.standard_error for each in found.order] == pytest.approx(list(np.sqrt(np.diag(errors))))
    first = found.order[0]
    assert (first.low, first.high) == pytest.approx(
        (first.value - 1.96 * first.standard_error, first.value + 1.96 * first.standard_error), abs=1e-4
    )


def test_a_coupon_that_always_wins_has_strength_only_with_a_penalty():
    choices = [Choice(1, 2, 2), Choice(1, 3, 3), Choice(2, 3, 3), Choice(3, 2, 2)]
    with pytest.raises(ValueError, match="no finite strengths"):
        fit_strengths([1, 2, 3], choices, penalty=0)
    found = fit_strengths([1, 2, 3], choices)
    assert found.order[0].item == 1
    assert all(map(math.isfinite, found.order[0]))


def test_a_single_choice_by_hand():
    # The slope is 0 where 1 / (1 + exp(2 s)) = penalty * s.
    top, bottom = fit_strengths([4, 9], [Choice(9, 4, 9)], penalty=0.1).order
    assert (top.item, bottom.item) == (4, 9)
    assert 1 / (1 + math.exp(2 * top.value)) == pytest.approx(0.1 * top.value)
    assert bottom.value == -top.value


def test_unconnected_coupons_are_counted_in_parts():
    found = fit_strengths([1, 2, 3, 4, 5], [Choice(1, 2, 2), Choice(3, 4, None)])
    assert found.parts == 3
    assert values(found)[5] == pytest.approx(0, abs=1e-9)
    assert found.order[[each.item for each in found.order].index(5)].choices == 0
    assert fit_strengths([], []).order == ()
    assert fit_strengths([7], []).order[0].value == 0


def test_cannot_tell_counts_half_to_each():
    once_each = fit_strengths([1, 2, 3], [Choice(1, 2, 1), Choice(1, 2, 2), Choice(2, 3, 3), Choice(3, 2, 2)])
    tied = fit_strengths([1, 2, 3], [Choice(1, 2, None), Choice(1, 2, None), Choice(2, 3, None), Choice(2, 3, None)])
    assert values(tied) == pytest.approx(values(once_each), abs=1e-9)
    assert values(tied) == pytest.approx({1: 0, 2: 0, 3: 0}, abs=1e-9)


def test_what_is_no_choice_is_refused_and_other_coupons_do_not_count():
    for wrong in (Choice(1, 1, 1), Choice(1, 2, 3)):
        with pytest.raises(ValueError, match="not a choice"):
            among([1, 2], [wrong])
    assert among([1, 2], [Choice(1, 2, None), Choice(1, 3, 3)]) == [Choice(1, 2, None)]


def test_doubt_is_that_of_a_coin_for_equal_strengths():
    found = fit_strengths(range(3), [])
    assert found.gap(0, 1).doubt == pytest.approx(0.25)
    assert not found.gap(0, 1).is_sure
    sure = fit_strengths([1, 2], [Choice(1, 2, 2)] * 30)
    assert sure.gap(0, 1).is_sure
    top = 1 / (1 + math.exp(-sure.gap(0, 1).value))
    assert sure.gap(0, 1).doubt == pytest.approx(top * (1 - top))


@given(some_choices())
def test_strengths_are_centred_and_finite(choices):
    found = fit_strengths(ITEMS, choices)
    assert sum(each.value for each in found.order) == pytest.approx(0, abs=1e-9)
    assert all(math.isfinite(number) for each in found.order for number in each)
    assert all(upper.value >= lower.value - 1e-9 for upper, lower in pairwise(found.order))


@given(some_choices())
def test_choosing_the_other_each_time_turns_the_order_around(choices):
    mirrored = [
        each if each.rustier is None else each._replace(rustier=each.left + each.right - each.rustier)
        for each in choices
    ]
    here, there = values(fit_strengths(ITEMS, choices)), values(fit_strengths(ITEMS, mirrored))
    assert there == pytest.approx({item: -value for item, value in here.items()}, abs=1e-7)


@given(some_choices(), st.permutations(list(ITEMS)), st.randoms(use_true_random=False))
def test_names_sides_and_order_of_choices_do_not_matter(choices, names, draw):
    renamed = [
        Choice(names[each.right], names[each.left], None if each.rustier is None else names[each.rustier])
        for each in choices
    ]
    draw.shuffle(renamed)
    here, there = values(fit_strengths(ITEMS, choices)), values(fit_strengths(ITEMS, renamed))
    assert there == pytest.approx({names[item]: value for item, value in here.items()}, abs=1e-7)
