"""The program chooses which two coupons to show next, and stops when it is enough."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau

from rustboard.findings.side_by_side.choices import Choice, unordered
from rustboard.findings.side_by_side.pairs import choices_wanted, choose_pair, is_enough
from rustboard.findings.side_by_side.strengths import fit_strengths


def answers_all(items, seed, answer, *, most=400, go_on=False):
    """Let somebody answer all pairs that are asked; ``answer(pair)`` gives the more rusted or None."""
    choices = []
    while len(choices) < most and (pair := choose_pair(items, choices, seed, go_on=go_on)) is not None:
        choices.append(Choice(*pair, answer(pair)))
    return choices


def order_of(items, choices):
    return [each.item for each in fit_strengths(items, choices).order]


def asked(choices):
    return [unordered(each.left, each.right) for each in choices]


def test_all_coupons_are_connected_first():
    items = list(range(100, 109))
    choices = answers_all(items, 5, lambda pair: None, most=8)
    assert fit_strengths(items, choices).parts == 1
    assert len(choices) == 8
    met = {item: sum(item in pair for pair in asked(choices)) for item in items}
    assert sorted(met.values()) == [1, 1, 2, 2, 2, 2, 2, 2, 2]  # a chain


def test_coupons_connected_already_are_not_connected_again():
    star = [Choice(1, other, other) for other in range(2, 7)]
    pair = choose_pair(range(1, 7), star, 3)
    assert 1 not in pair
    late = choose_pair(range(1, 8), star, 3)
    assert 7 in late


@pytest.mark.parametrize("seed", range(5))
def test_a_sure_eye_gets_the_whole_order_of_24_coupons(seed):
    true = random.Random(seed).sample(range(24), 24)  # least rusted first
    choices = answers_all(range(24), seed, lambda pair: max(pair, key=true.index))
    assert order_of(range(24), choices) == true
    assert len(choices) <= choices_wanted(24) == 111  # 24 * log2(24) = 110.04


@pytest.mark.parametrize("seed", range(4))
def test_an_eye_that_errs_gets_the_order_nearly(seed):
    # Neighbours are told apart 2 times in 3, coupons four apart 15 times in 16.
    draw = random.Random(seed)
    true = draw.sample(range(24), 24)

    def answer(pair):
        lead = true.index(pair.right) - true.index(pair.left)
        return pair.right if draw.random() < 1 / (1 + math.exp(-0.7 * lead)) else pair.left

    choices = answers_all(range(24), seed, answer)
    found = [true.index(item) for item in order_of(range(24), choices)]
    assert kendalltau(found, range(24)).statistic > 0.8
    assert len(choices) <= choices_wanted(24)


def test_chosen_pairs_order_better_than_pairs_by_lot():
    def quality(seed, by_lot):
        draw = random.Random(seed)
        true = draw.sample(range(16), 16)
        choices = []
        for _ in range(48):
            left, right = draw.sample(range(16), 2) if by_lot else choose_pair(range(16), choices, seed, go_on=True)
            lead = true.index(right) - true.index(left)
            choices.append(Choice(left, right, right if draw.random() < 1 / (1 + math.exp(-lead)) else left))
        return kendalltau([true.index(item) for item in order_of(range(16), choices)], range(16)).statistic

    chosen = sum(quality(seed, False) for seed in range(8)) / 8
    assert chosen > sum(quality(seed, True) for seed in range(8)) / 8


@pytest.mark.parametrize("count", [2, 3, 5, 9])
def test_no_pair_comes_again_before_all_others_were_asked(count):
    every = count * (count - 1) // 2
    choices = answers_all(
        range(count), 8, lambda pair: random.Random(str(pair)).choice(pair), most=2 * every, go_on=True
    )
    assert len(set(asked(choices[:every]))) == every
    assert len(set(asked(choices[every:]))) == every


def test_an_interrupted_session_goes_on_with_the_same_pair():
    items = [11, 4, 8, 30, 2]
    answers = random.Random(1)
    choices = []
    while (pair := choose_pair(items, choices, 77)) is not None:
        assert choose_pair(list(reversed(items)), list(reversed(choices)), 77) == pair
        choices.append(Choice(*pair, answers.choice((*pair, None))))
    assert choices


def test_seeds_draw_other_chains_and_other_sides():
    first = [choose_pair(range(10), [], seed) for seed in range(40)]
    assert len(set(first)) > 10
    assert 10 <= sum(pair.left < pair.right for pair in first) <= 30


def test_the_better_coupon_is_on_no_side_more_often():
    choices = answers_all(range(24), 2, max)
    on_the_left = sum(each.left < each.right for each in choices) / len(choices)
    assert 0.35 < on_the_left < 0.65


def test_nothing_to_compare_asks_nothing():
    assert choose_pair([], [], 1) is choose_pair([7], [], 1) is choose_pair([7], [], 1, go_on=True) is None
    assert is_enough([], []) is is_enough([7], []) is True


def test_two_coupons_take_one_choice():
    pair = choose_pair([7, 9], [], 1)
    assert set(pair) == {7, 9}
    assert not is_enough([7, 9], [])
    for answer in (7, 9, None):
        assert choose_pair([7, 9], [Choice(*pair, answer)], 1) is None


def test_unconnected_coupons_are_never_enough():
    many = [Choice(1, 2, 2)] * 50
    assert not is_enough([1, 2, 3], many)
    assert 3 in choose_pair([1, 2, 3], many, 4)


def test_neighbours_whose_answers_contradict_the_order_are_not_decided():
    # 1 is called less rusted than 2, but 2 than all others, so that the order has 2 first and 1 next.
    choices = [Choice(1, 2, 2), Choice(2, 3, 3), Choice(3, 1, 1), Choice(2, 4, 4), Choice(2, 5, 5)]
    assert order_of(range(1, 6), choices)[:2] == [2, 1]
    assert not is_enough(range(1, 6), choices)
    assert is_enough(range(1, 6), choices + [Choice(4, 5, None)] * 7)  # 5 * log2(5) = 11.6


def test_choices_of_other_coupons_do_not_count():
    other = [Choice(1, 90, 90), Choice(90, 2, 90)]
    assert choose_pair([1, 2, 3], other, 6) == choose_pair([1, 2, 3], [], 6)


@given(st.integers(2, 8), st.integers(0, 1000), st.randoms(use_true_random=False))
def test_every_session_ends(count, seed, draw):
    choices = answers_all(range(count), seed, lambda pair: draw.choice((*pair, None)))
    assert count - 1 <= len(choices) <= max(choices_wanted(count), count - 1)
    assert is_enough(range(count), choices)
