"""The order in which a grader sees the coupons: all of them, some twice, the same for a seed wherever it is drawn."""

from __future__ import annotations

import math
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.blind import BASES, TURNS, Showing
from rustboard.board.blind_order import draw_showings, least_between, others_between, repeats_of

keys = st.lists(st.integers(1, 10_000), min_size=1, max_size=60, unique=True)
percents = st.floats(0, 100) | st.sampled_from([0.0, 5.0, 10.0, 25.0, 50.0, 100.0])
seeds = st.integers(0, 2**62)
bases = st.sampled_from(BASES)


@given(keys, percents, bases, seeds)
def test_every_coupon_is_shown_once_and_as_many_as_asked_twice(coupons, percent, basis, seed):
    showings = draw_showings(coupons, percent, basis, seed)
    first = [each.coupon for each in showings if not each.again]
    second = [each.coupon for each in showings if each.again]
    assert sorted(first) == sorted(coupons)
    assert len(second) == len(set(second)) == repeats_of(len(coupons), percent)
    seen: set[int] = set()
    for each in showings:
        assert each.again == (each.coupon in seen)
        seen.add(each.coupon)


@given(keys, percents, seeds)
def test_a_second_picture_is_turned_otherwise_than_the_first(coupons, percent, seed):
    turned: dict[int, str] = {}
    for each in draw_showings(coupons, percent, "photo", seed):
        assert each.turn in TURNS
        assert turned.get(each.coupon) != each.turn
        turned[each.coupon] = each.turn


@given(keys, percents, seeds)
def test_nothing_is_turned_at_the_bench(coupons, percent, seed):
    assert {each.turn for each in draw_showings(coupons, percent, "bench", seed)} == {""}


@given(keys, percents, bases, seeds)
def test_the_two_showings_of_a_coupon_lie_far_apart(coupons, percent, basis, seed):
    order = [each.coupon for each in draw_showings(coupons, percent, basis, seed)]
    assert least_between(order) >= others_between(len(coupons))


@given(keys, percents, bases, seeds)
def test_a_seed_gives_the_same_order_always(coupons, percent, basis, seed):
    assert draw_showings(coupons, percent, basis, seed) == draw_showings(list(coupons), percent, basis, seed)


def test_seeds_give_different_orders():
    orders = {tuple(each.coupon for each in draw_showings(range(1, 9), 0, "bench", seed)) for seed in range(50)}
    assert len(orders) > 45


def test_the_end_of_a_round_does_not_tell_which_are_repeats():
    """Of 24 coupons with 5 repeats the last showing is one in about half of the rounds."""
    last = [draw_showings(range(1, 25), 20, "bench", seed)[-1].again for seed in range(400)]
    assert 0.35 < sum(last) / len(last) < 0.6


def test_the_order_of_a_seed_is_that_of_the_first_version():
    """A round keeps what was drawn; but who draws it again from its seed must come to the same."""
    assert draw_showings([1, 2, 3, 4, 5, 6, 7, 8], 25, "photo", 2026) == (
        Showing(2, "mirrored half turn"),
        Showing(6, "mirrored"),
        Showing(3, "mirrored half turn"),
        Showing(8, "half turn"),
        Showing(5, "half turn"),
        Showing(3, again=True),
        Showing(2, again=True),
        Showing(7, "mirrored half turn"),
        Showing(4, "mirrored half turn"),
        Showing(1, "mirrored half turn"),
    )
    at_bench = draw_showings([1, 2, 3, 4, 5, 6, 7, 8], 50, "bench", 2026)
    assert [each.coupon for each in at_bench] == [8, 6, 5, 7, 6, 2, 3, 8, 2, 3, 4, 1]


@pytest.mark.parametrize(("coupons", "percent", "repeats"), [
    (21, 25, 6), (20, 25, 5), (21, 0, 0), (21, 100, 21), (1, 1, 1), (0, 100, 0), (10, 30, 3), (1000, 0.1, 1),
])  # fmt: skip
def test_the_share_shown_twice_is_rounded_up(coupons, percent, repeats):
    assert repeats_of(coupons, percent) == repeats


@pytest.mark.parametrize(("order", "between"), [
    ([1, 2, 3], 3), ([1, 1], 0), ([1, 2, 3, 1], 2), ([1, 2, 1, 3, 4, 2], 1), ([], 0),
])  # fmt: skip
def test_the_least_between_two_showings_is_counted(order, between):
    assert least_between(order) == between


def _share_is_fair(counts: Counter, kinds: int) -> bool:
    # Pearson's chi-square under its mean and five standard deviations (textbook values, from memory), fixed seeds.
    expected = counts.total() / kinds
    found = math.fsum((counts[each] - expected) ** 2 for each in range(1, kinds + 1)) / expected
    return found < (kinds - 1) + 5 * math.sqrt(2 * (kinds - 1))


def test_every_coupon_is_as_likely_to_come_first_and_to_come_twice():
    first: Counter = Counter()
    twice: Counter = Counter()
    for seed in range(1_500):
        showings = draw_showings(range(1, 11), 30, "bench", seed)
        first[showings[0].coupon] += 1
        twice.update(each.coupon for each in showings if each.again)
    assert _share_is_fair(first, 10)
    assert _share_is_fair(twice, 10)


def test_no_coupons_are_no_showings():
    assert draw_showings([], 25, "photo", 1) == ()
