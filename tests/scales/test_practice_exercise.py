"""An exercise: the same for a seed, every grade about equally often, before and after alike."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.practice import LEAST_PERCENT, PARTS, TOTAL, PracticeCoupon, exercise
from rustboard.scales.practice_coupons import LEAST_COUNTED, paint_coupon
from rustboard.scales.practice_looks import LOOKS, SHAPES
from rustboard.scales.rust_grade import limits_percent

seeds = st.integers(0, 2**60)


def grades_of(coupons: tuple[PracticeCoupon, ...], part: str) -> list[int]:
    return [each.grade for each in coupons if each.part == part]


@given(seeds)
def test_a_seed_always_gives_the_same_list_in_the_parts_order(seed: int) -> None:
    coupons = exercise(seed)
    assert coupons == exercise(seed)
    assert [each.number for each in coupons] == list(range(TOTAL))
    assert [each.part for each in coupons] == [part for part, count in PARTS for _ in range(count)]


def test_the_list_of_a_seed_is_the_same_on_every_machine_and_from_version_to_version() -> None:
    # Not an outside value: a change here means that PLAN must be raised, or halves of two exercises are joined.
    first = [(each.grade, each.distribution, each.look.name, each.shape.name) for each in exercise(5)[:4]]
    assert first == [
        (0, "P", "brown", "tall"),
        (2, "S", "oiled", "panel"),
        (3, "G", "straw", "wide"),
        (8, "P", "bright", "disc"),
    ]


def test_other_seeds_give_other_lists() -> None:
    assert len({exercise(seed) for seed in range(20)}) == 20
    assert exercise(2**59) != exercise(2**59 + 1)


@given(seeds)
def test_in_each_part_every_grade_comes_at_least_once_and_at_most_twice(seed: int) -> None:
    coupons = exercise(seed)
    for part, _ in PARTS:
        counted = Counter(grades_of(coupons, part))
        assert set(counted) == set(range(11))
        assert max(counted.values()) == 2


@given(seeds)
def test_before_and_after_have_the_same_grades_so_that_they_are_equally_hard(seed: int) -> None:
    coupons = exercise(seed)
    assert sorted(grades_of(coupons, "before")) == sorted(grades_of(coupons, "after"))


@given(seeds)
def test_a_percent_lies_inside_its_grade_and_never_on_a_limit(seed: int) -> None:
    for each in exercise(seed):
        lower, upper = limits_percent(each.grade)
        assert max(lower, LEAST_PERCENT) < each.percent < upper


@given(seeds)
def test_a_third_of_each_part_lies_in_each_third_of_the_grades_so_near_the_limits_too(seed: int) -> None:
    coupons = exercise(seed)
    for part, count in PARTS:
        shares = []
        for each in coupons:
            lower, upper = limits_percent(each.grade)
            lower = max(lower, LEAST_PERCENT)
            if each.part == part:
                shares.append(np.log(each.percent / lower) / np.log(upper / lower))
        for band in range(3):
            # A third of the middle 96 % of a grade, by ratios.
            low, high = 0.02 + 0.32 * band, 0.02 + 0.32 * (band + 1)
            within = sum(low - 1e-9 <= share < high + 1e-9 for share in shares)
            assert count // 3 <= within <= count // 3 + 1


@given(seeds)
def test_patterns_looks_and_shapes_are_mixed_and_no_look_comes_twice_in_a_row(seed: int) -> None:
    coupons = exercise(seed)
    for part, count in PARTS:
        letters = Counter(each.distribution for each in coupons if each.part == part)
        assert set(letters) == {"S", "G", "P"}
        assert max(letters.values()) - min(letters.values()) <= (count % 3 > 0)
    assert {each.look for each in coupons} == set(LOOKS)
    assert {each.shape for each in coupons} == set(SHAPES)
    assert all(one.look != other.look for one, other in pairwise(coupons))
    assert len({each.seed for each in coupons}) == TOTAL


# ---- what is painted

SOME = exercise(11)


@pytest.mark.parametrize("number", range(0, TOTAL, 4))
def test_exactly_the_area_told_is_painted_and_nothing_else(number: int) -> None:
    coupon = SOME[number]
    painted = paint_coupon(coupon)
    bare = paint_coupon(replace(coupon, percent=0.0))
    changed = (painted.rgb != bare.rgb).any(axis=2)
    assert not (painted.rust & ~painted.steel).any()
    assert not (changed & ~painted.rust).any(), "rust is painted where none is counted"
    # A pixel of rust may by chance have the very colour of the steel under it.
    assert np.count_nonzero(painted.rust & ~changed) <= 0.002 * np.count_nonzero(painted.rust)
    counted = np.count_nonzero(painted.steel)
    assert counted >= LEAST_COUNTED
    assert painted.percent == 100 * np.count_nonzero(painted.rust) / counted
    assert painted.percent == pytest.approx(coupon.percent, abs=50 / counted)  # half a pixel, in percent


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: look.name)
@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: shape.name)
def test_on_every_steel_and_shape_rust_is_redder_than_the_steel_around_it(look, shape) -> None:
    painted = paint_coupon(replace(SOME[0], percent=20.0, look=look, shape=shape))
    red_over_blue = painted.rgb[..., 0].astype(int) - painted.rgb[..., 2]
    assert red_over_blue[painted.rust].mean() > red_over_blue[painted.steel & ~painted.rust].mean() + 20


@pytest.mark.parametrize("grade", range(11))
def test_close_to_both_limits_the_painted_area_is_still_of_its_grade(grade: int) -> None:
    lower, upper = limits_percent(grade)
    lower = max(lower, LEAST_PERCENT)
    for share in (0.02, 0.98):  # the nearest that an exercise goes
        percent = lower * (upper / lower) ** share
        painted = paint_coupon(replace(SOME[3], percent=percent))
        assert painted.grade == grade


def test_a_coupon_is_drawn_the_same_again_and_another_one_differently() -> None:
    one, again, other = paint_coupon(SOME[6]), paint_coupon(SOME[6]), paint_coupon(replace(SOME[6], seed=99))
    assert np.array_equal(one.rgb, again.rgb)
    assert np.array_equal(one.rust, again.rust)
    assert not np.array_equal(one.rust, other.rust)


def test_a_hole_is_no_part_of_the_coupon() -> None:
    panel = next(shape for shape in SHAPES if shape.hole)
    with_hole = paint_coupon(replace(SOME[0], shape=panel))
    without = paint_coupon(replace(SOME[0], shape=replace(panel, hole=False)))
    lost = without.steel & ~with_hole.steel
    rows, columns = np.nonzero(lost)
    assert lost.any()
    assert not with_hole.rust[lost].any()
    assert rows.max() < lost.shape[0] / 4
    assert columns.mean() == pytest.approx(lost.shape[1] / 2, abs=1)
