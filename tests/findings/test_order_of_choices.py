"""What an order from choices is worth: groups, contradictions, grades beside it, and the words for it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau

from rustboard.findings.side_by_side.choices import Choice
from rustboard.findings.side_by_side.order import Misplaced, against_grades, contradictions, inseparable
from rustboard.findings.side_by_side.strengths import Strength, Strengths, fit_strengths
from rustboard.findings.side_by_side.words import MOST_GROUPS, order_words

NAMES = {number: f"C{number}" for number in range(40)}


def beats(*pairs, times=1):
    """Choices in which the first of each pair was called the less rusted."""
    return [Choice(a, b, b) for a, b in pairs for _ in range(times)]


def placed(*strengths, error=1.0):
    """An order of coupons 0, 1, 2… with these strengths and errors that do not hang together."""
    order = tuple(Strength(item, value, error, value - 2, value + 2, 4) for item, value in enumerate(strengths))
    count = len(strengths)
    covariance = tuple(tuple(error**2 * (a == b) for b in range(count)) for a in range(count))
    return Strengths(order, covariance, 2 * count, 1)


def told(strengths, choices=(), grades=None):
    graded = None if grades is None else against_grades(strengths, grades)
    return [each.text() for each in order_words(strengths, contradictions(strengths, choices), NAMES, graded)]


def test_runs_within_reach_of_each_other_are_not_told_apart():
    # Two differ for sure beyond 1.96 * sqrt(2) = 2.77.
    assert inseparable(placed(9, 7, 5, 0, -8, -8.5)) == ((0, 1), (1, 2), (4, 5))
    assert inseparable(placed(9, 8, 7)) == ((0, 1, 2),)
    assert inseparable(placed(9, 5, 0)) == ()
    assert inseparable(placed()) == inseparable(placed(1)) == ()


def test_a_circle_of_three_is_a_contradiction():
    choices = beats((1, 2), (2, 3), (3, 1), (1, 4), (2, 4))
    found = contradictions(fit_strengths([1, 2, 3, 4], choices), choices)
    assert (found.circles, found.threes, found.items) == (1, 2, ((1, 1), (2, 1), (3, 1)))
    assert (found.reversed_pairs, found.decided) == (0, 5)
    assert found.against >= 1


def test_circles_are_counted_as_kendall_and_babington_smith_do():
    # d = n(n-1)(2n-1)/12 - sum(a²)/2 of a complete set, a = times each was chosen.
    choices = beats((0, 1), (1, 2), (2, 3), (3, 4), (4, 0), (0, 2), (1, 3), (2, 4), (3, 0), (4, 1))
    found = contradictions(fit_strengths(range(5), choices), choices)
    assert found.circles == 5 * 4 * 9 / 12 - sum(2**2 for _ in range(5)) / 2 == 5
    assert found.threes == 10


@given(st.lists(st.booleans(), min_size=15, max_size=15))
def test_circles_of_any_complete_set_follow_that_formula(answers):
    pairs = [(a, b) for a in range(6) for b in range(a)]
    choices = [Choice(a, b, b if first else a) for (a, b), first in zip(pairs, answers, strict=True)]
    found = contradictions(fit_strengths(range(6), choices), choices)
    chosen = [sum(each.rustier != item and item in each[:2] for each in choices) for item in range(6)]
    assert found.circles == 6 * 5 * 11 / 12 - sum(each**2 for each in chosen) / 2
    assert found.threes == 20


def test_a_pair_answered_both_ways_is_counted_and_the_majority_decides():
    choices = [*beats((1, 2), times=2), *beats((2, 1)), Choice(2, 3, None), *beats((2, 3))]
    found = contradictions(fit_strengths([1, 2, 3], choices), choices)
    assert (found.reversed_pairs, found.circles, found.decided, found.against) == (1, 0, 4, 1)


@given(st.lists(st.tuples(st.integers(-3, 3), st.integers(0, 10)), min_size=2, max_size=12))
def test_rank_agreement_is_that_of_a_second_program(both):
    both.sort(reverse=True)
    found = against_grades(placed(*(value for value, _ in both)), {n: grade for n, (_, grade) in enumerate(both)})
    values, grades = zip(*both, strict=True)
    if len(set(values)) < 2 or len(set(grades)) < 2:
        assert found.tau is None
    else:
        assert found.tau == pytest.approx(kendalltau(values, grades).statistic)
    assert found.items == len(both)


def test_coupons_off_their_place_come_farthest_first():
    found = against_grades(placed(9, 8, 7, 6, 5), {0: 4, 1: 10, 2: 8, 3: 8, 4: 3})
    # By grade: coupon 1, then 2 and 3, then 0, then 4.
    assert found.misplaced == (
        Misplaced(0, 4, 1, 4, 4, -3),
        Misplaced(1, 10, 2, 1, 1, 1),
        Misplaced(3, 8, 4, 2, 3, 1),
    )
    assert (found.same, found.other) == (6, 3)


def test_coupons_without_a_grade_are_left_out_of_places_too():
    found = against_grades(placed(9, 8, 7), {0: 10, 2: 5})
    assert (found.items, found.tau, found.misplaced) == (2, 1, ())
    assert against_grades(placed(9, 8), {}).tau is None


def test_equal_grades_may_stand_either_way():
    assert against_grades(placed(9, 8, 7), {0: 5, 1: 7, 2: 7}).misplaced == (
        Misplaced(0, 5, 1, 3, 3, -2),
        Misplaced(2, 7, 3, 1, 2, 1),
    )
    assert against_grades(placed(9, 8, 7), {0: 7, 1: 7, 2: 5}).misplaced == ()


def test_a_small_order_is_told():
    choices = beats((1, 2), (2, 3), (3, 1), (1, 2), (2, 1))
    words = told(fit_strengths([1, 2, 3], choices), choices, {1: 3, 2: 3, 3: 9})
    assert words[:2] == [
        "The order of 3 coupons rests on 5 choices.",
        "No two coupons can be told apart for sure by these choices.",
    ]
    assert words[2].startswith("Of 5 choices, ")
    assert words[3] == (
        "1 time three coupons were chosen in a circle, each called less rusted than the next; most often with C1, "
        "C2, C3."
    )
    assert words[4] == "1 pair was answered both ways."
    assert words[-1] == "The order cannot be compared with the grades: in one of the two the coupons do not differ."


def test_coupons_off_their_place_are_named():
    words = told(placed(9, 8, 7), grades={0: 5, 1: 7, 2: 7})
    assert words[-2:] == [
        "C0 (grade 5) was chosen as less rusted than its grade says, by 2 places.",
        "C2 (grade 7) was chosen as more rusted than its grade says, by 1 place.",
    ]


def test_an_order_of_few_sure_gaps_names_the_groups():
    words = told(placed(9, 7, 5, 0), grades={0: 9, 1: 8, 2: 7, 3: 2})
    assert words == [
        "The order of 4 coupons rests on 8 choices.",
        "Not told apart: C0, C1.",
        "Not told apart: C1, C2.",
        "Of 6 pairs of coupons with different grades, 6 stand in the same order by choice (of 4 coupons; rank "
        "correlation 1, where 1 is the same order and 0 no connection).",
        "With fewer than 10 coupons a single one can change that much.",
    ]
    assert told(placed(9, 4, 0))[1] == "Every two coupons can be told apart."


def test_many_groups_are_counted_and_not_listed():
    strengths = [value for pair in range(MOST_GROUPS + 2) for value in (-10 * pair, -10 * pair - 1)]
    words = told(placed(*strengths))
    assert words[1:] == [
        "Neighbours in the order often cannot be told apart (5 groups); more choices would help.",
    ]


def test_parts_that_are_not_connected_are_told():
    words = told(fit_strengths([1, 2, 3], beats((1, 2))))
    assert words[0] == "The order of 3 coupons rests on 1 choice."
    assert words[1].startswith("Not all coupons are connected by choices yet: they fall into 2 parts")


def test_grades_that_do_not_differ_cannot_be_compared():
    words = told(placed(9, 4), grades={0: 8, 1: 8})
    assert words[-1] == "The order cannot be compared with the grades: in one of the two the coupons do not differ."


def test_nothing_chosen_says_nothing():
    assert told(fit_strengths([1, 2, 3], [])) == told(fit_strengths([1], [])) == []
