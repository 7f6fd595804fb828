"""Exact tests of boards, alone and over all comparisons of the question."""

from itertools import combinations
from math import comb

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from judged_boards import judged_board, subject_for

from rustboard.board.question import Question
from rustboard.findings import permutation
from rustboard.findings.compare import exact_pairs
from rustboard.findings.compare.closed_tests import with_family
from rustboard.findings.compare.comparing import compare
from rustboard.findings.compare.exact_pairs import exact_result
from rustboard.findings.compare.step_down import discrete_holm
from rustboard.findings.conclude.whole import with_exact_tests
from rustboard.findings.permutation import attainable_p


def judged(record, **question):
    """All comparisons of a board, each with its exact test alone and over the family."""
    subject = subject_for(record, **question)
    alone = [(each, exact_result(subject, each, subject.values)) for each in subject.comparisons]
    return {
        (comparison.a, comparison.b): exact
        for (comparison, _), exact in zip(alone, with_family(subject, alone, subject.values), strict=True)
    }


def test_three_against_three_wholly_apart():
    (exact,) = judged(judged_board({"wax": [8, 9, 9], "oil": [3, 2, 4]})).values()
    # Two of the 20 splits are as far apart (by hand).
    assert (exact.p, exact.smallest, exact.arrangements, exact.sampled) == (0.1, 0.1, 20, 0)
    assert exact.p_family == 0.1  # alone in its family


def test_a_coupon_without_a_value_counts_for_nothing():
    (exact,) = judged(judged_board({"wax": [8, 9, 9, None], "oil": [3, 2, 4, None]})).values()
    assert (exact.p, exact.smallest, exact.arrangements) == (0.1, 0.1, 20)


def test_labels_stay_within_rows_where_rows_are_blocks():
    (exact,) = judged(judged_board({"wax": [8, 9, 9, 7], "oil": [3, 2, 4, 1]}, method="rows")).values()
    assert (exact.p, exact.arrangements) == (pytest.approx(2 / 16), 16)


def test_many_arrangements_are_drawn_and_come_near_those_counted(monkeypatch):
    chance = np.random.default_rng(4)
    grades = {name: [int(each) for each in chance.integers(low, low + 6, 14)] for name, low in (("a", 3), ("b", 4))}
    record = judged_board(grades)
    subject = subject_for(record)
    counted = exact_result(subject, subject.comparisons[0], subject.values)
    monkeypatch.setattr(exact_pairs, "MOST_STATES", 20)
    drawn = exact_result(subject, subject.comparisons[0], subject.values)
    assert drawn.sampled > 0
    assert counted.sampled == 0
    assert drawn.arrangements == comb(28, 14)
    # Of 19,999 draws the share errs by 0.0035 (standard deviation, binomial distribution).
    assert drawn.p == pytest.approx(counted.p, abs=0.012)


def test_values_of_many_decimals_do_not_take_long_to_give_up(monkeypatch):
    chance = np.random.default_rng(5)
    record = judged_board({name: [int(each) for each in chance.integers(3, 9, 14)] for name in "ab"})
    subject = subject_for(record)
    values = {key: value + 1e-4 * chance.random() for key, value in subject.values.items()}  # no two sums alike
    seen = []
    monkeypatch.setattr(permutation, "_merged", seen.append)
    assert exact_result(subject, subject.comparisons[0], values).sampled > 0
    assert seen == []  # given up before the 40 million sums are there


def test_against_the_controls_a_single_comparison_needs_no_more_than_the_sets_it_is_in():
    record = judged_board({"wax": [9, 9, 8, 9, 9], "oil": [5, 4, 3, 4, 3]}, control=[3, 4, 5, 4, 3])
    found = judged(record)
    wax, oil = found["wax", "control"], found["oil", "control"]
    assert wax.p_family < 0.05
    assert wax.p_family >= wax.p
    assert oil.p_family > 0.2


def brute_force(record, pairs):
    """The largest adjusted p over all sets of groups that hold a pair, every arrangement within a set counted."""
    subject = subject_for(record)
    groups = {}
    for each in subject.comparisons:
        groups[each.a] = [subject.values[key] for key in sorted(each.coupons_a)]
        groups[each.b] = [subject.values[key] for key in sorted(each.coupons_b)]
    names = sorted(groups)
    largest = dict.fromkeys(pairs, 0.0)
    for size in range(2, len(names) + 1):
        for members in combinations(names, size):
            p = counted_p([groups[name] for name in members])
            adjusted = p if size >= len(names) - 1 else 1 - (1 - p) ** (len(names) / size)
            for pair in pairs:
                if set(pair) <= set(members):
                    largest[pair] = max(largest[pair], adjusted)
    return largest


def counted_p(groups):
    """Share of all ways to deal the values whose largest difference of means is as large."""
    values = [value for group in groups for value in group]
    seen = max(np.mean(group) for group in groups) - min(np.mean(group) for group in groups)
    found = []

    def deal(left, sizes, means):
        if not sizes:
            found.append(max(means) - min(means))
            return
        for chosen in combinations(range(len(left)), sizes[0]):
            rest = [value for place, value in enumerate(left) if place not in chosen]
            deal(rest, sizes[1:], [*means, sum(left[place] for place in chosen) / sizes[0]])

    deal(values, [len(group) for group in groups], [])
    return sum(each >= seen - 1e-9 for each in found) / len(found)


def test_closed_testing_agrees_with_counting_every_set_of_groups():
    record = judged_board({"a": [9, 8, 9], "b": [6, 7, 5], "c": [2, 3, 1]})
    found = judged(record)
    wanted = brute_force(record, list(found))
    for pair, exact in found.items():
        assert exact.p_family == pytest.approx(wanted[pair], abs=0.02)


@settings(max_examples=10, deadline=None)
@given(st.integers(0, 10**6), st.sampled_from(["control", "pairs", "families", "chosen"]))
def test_no_comparison_is_surer_in_its_family_than_alone(seed, compared):
    chance = np.random.default_rng(seed)
    names = ("wax", "oil", "film")
    grades = {name: [int(each) for each in chance.integers(0, 11, 3)] for name in names}
    question = Question(compared, pairs=(("T1", "T2"), ("T2", "T3")))
    fields = {name: {"family": f"family {name}"} for name in names}
    record = judged_board(grades, control=[1, 2, 1], question=question, **fields)
    for exact in judged(record).values():
        assert exact.smallest - 1e-12 <= exact.p <= exact.p_family + 1e-12


def test_under_luck_alone_a_false_difference_is_rare():
    chance = np.random.default_rng(11)
    boards = 120
    false = 0
    for _ in range(boards):
        grades = {name: [int(each) for each in chance.integers(0, 11, 4)] for name in "abc"}
        false += any(exact.p_family <= 0.05 for exact in judged(judged_board(grades)).values())
    # 5 in 100 of 120 are 6; 12 or more would come by luck less than 2 times in 100 (binomial distribution).
    assert false < 12


def test_with_every_p_possible_it_is_holms_step_down():
    # By hand: 3 x 0.01, 2 x 0.02, 1 x 0.2; never falling.
    assert discrete_holm([0.02, 0.01, 0.2], [None] * 3) == pytest.approx([0.04, 0.03, 0.2])


def test_a_test_that_cannot_come_so_low_costs_the_others_nothing():
    # By hand: only the first can come to 0.02; the second's smallest is 0.1.
    assert discrete_holm([0.02, 0.1], [[0.02, 0.3, 1.0], [0.1, 0.4, 1.0]]) == pytest.approx([0.02, 0.1])


def test_every_p_that_a_test_could_have_had():
    record = judged_board({"wax": [8, 9], "oil": [3, 2]})
    subject = subject_for(record)
    # By hand: of the 6 splits of 2, 3, 8, 9 two are 6 apart, two 1 and two 0.
    levels = subject.exchanges.of(subject.comparisons[0])
    assert attainable_p(levels, subject.values) == pytest.approx((1 / 3, 2 / 3, 1.0))


def test_unequal_spread_lets_the_exact_test_decide():
    record = judged_board({"wax": [9, 9, 9, 9, 8, 9, 9, 9]}, control=[1, 6, 0, 5, 1, 6, 0, 5])
    subject = subject_for(record)
    before = compare(subject)
    after = with_exact_tests(subject, before)
    assert before.doubts
    assert before.compared[0].standing == "leans better"
    assert after.compared[0].exact.p_family < 0.001
    assert after.compared[0].standing == "better"
