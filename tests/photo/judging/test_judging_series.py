"""What stays is rust, what goes was dirt: whole series, with known truth."""

from itertools import pairwise

import numpy as np
import pytest
from drawn_looks import disc, evidence_of, frame_of, look_of, percent_of, surface_of
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.photo.judging.judge import Disturbance, Look, Reset, judge_coupon
from rustboard.photo.judging.series import Stretch
from rustboard.photo.judging.strokes import Stroke
from rustboard.scales.rust_fields import growth_order, rusted

FRAME = frame_of(30, 40)
SURFACE = surface_of(FRAME)
ORDER = growth_order(FRAME.shape, SURFACE, "G", 5, coarseness=3)
NONE = np.zeros(FRAME.shape, np.bool_)
SPOT = disc(FRAME, 10, 15, 1.0)
LEAF = disc(FRAME, 20, 25, 5.0)


def percents(looks, resets=()):
    return [each.finding.percent for each in judge_coupon(looks, SURFACE, FRAME, resets)]


def series(masks, **how):
    return [look_of(3 * number, mask, seed=number, **how) for number, mask in enumerate(masks)]


def test_clear_rust_is_measured_to_the_pixel_in_every_photo():
    masks = [rusted(ORDER, percent) for percent in (0, 0.5, 2, 6)]
    found = judge_coupon(series(masks), SURFACE, FRAME)
    for each, mask in zip(found, masks, strict=True):
        assert each.finding.percent == pytest.approx(percent_of(mask, SURFACE), rel=0.04, abs=0.01)
        assert each.finding.low <= percent_of(mask, SURFACE) <= each.finding.high


def test_a_leaf_that_is_gone_in_the_newest_photo_was_dirt_in_all():
    lying = series([NONE, LEAF, LEAF, LEAF, LEAF])
    before = judge_coupon(lying, SURFACE, FRAME)
    assert before[4].finding.percent > 5
    after = judge_coupon([*lying, look_of(15, NONE)], SURFACE, FRAME)
    assert [each.finding.percent for each in after] == [0] * 6
    assert after[3].finding.debris_percent == pytest.approx(percent_of(LEAF, SURFACE), rel=0.05)


def test_a_leaf_over_real_rust_goes_and_the_rust_stays():
    rust = disc(FRAME, 18, 25, 2.0)
    masks = [NONE, rust, rust | LEAF, rust | LEAF, rust]
    found = percents(series(masks))
    assert found[1:] == [pytest.approx(percent_of(rust, SURFACE), rel=0.02)] * 4


def test_no_spot_heals_from_its_middle():
    spot, middle = disc(FRAME, 15, 20, 5), disc(FRAME, 15, 20, 3)
    # Old rust turns nearly black, which a dark finish hides; its rim still shows.
    found = percents(series([NONE, spot, spot, spot, spot & ~middle, spot & ~middle, spot & ~middle]))
    assert found[1:] == [pytest.approx(percent_of(spot, SURFACE), rel=0.02)] * 6


def test_a_leaf_that_comes_overnight_is_not_counted_before_a_later_photo_confirms_it():
    found = judge_coupon([look_of(0, SPOT), look_of(1, SPOT), look_of(2, SPOT | LEAF)], SURFACE, FRAME)[-1].finding
    assert found.percent == pytest.approx(percent_of(SPOT, SURFACE), rel=0.05)
    assert found.high > percent_of(LEAF, SURFACE)
    assert found.newest
    assert not found.confident
    assert any("large patch" in warning for warning in found.warnings)


def test_a_lone_patch_that_grows_is_rust_and_one_that_does_not_is_waited_for():
    lying = [look_of(0, NONE), look_of(2, LEAF), look_of(4, LEAF)]
    assert percents(lying) == [0, 0, 0]
    assert percents([*lying, look_of(6, LEAF)])[-1] > 5
    grown = disc(FRAME, 20, 25, 5.4)
    assert percents([*lying[:2], look_of(4, grown)])[1:] == pytest.approx(
        [percent_of(LEAF, SURFACE), percent_of(grown, SURFACE)], rel=0.03
    )


def test_a_lone_patch_is_waited_for_when_the_next_photo_does_not_show_the_coupon():
    looks = [look_of(0, NONE), look_of(2, LEAF), look_of(4, NONE, unseen=SURFACE)]
    found = judge_coupon(looks, SURFACE, FRAME)[-1].finding
    assert found.percent == 0
    assert found.high > percent_of(LEAF, SURFACE)
    assert not found.confident


def test_one_photo_that_misses_a_spot_does_not_erase_it():
    masks = [NONE, SPOT, SPOT, SPOT, NONE, SPOT, SPOT]
    found = percents(series(masks))
    assert found == [0.0] + [pytest.approx(percent_of(SPOT, SURFACE))] * 6


def test_a_spot_that_jumps_by_a_pixel_stays_and_keeps_its_size():
    shifts = [(0, 0), (1, 0), (0, -1), (0, 0), (-1, 1), (0, 0)]
    looks = [look_of(3 * number, SPOT, shift=shift) for number, shift in enumerate(shifts)]
    found = percents(looks)
    assert found == pytest.approx([percent_of(SPOT, SURFACE)] * 6, rel=0.35)


def test_rust_below_dirt_between_two_rusty_photos_stays_rust():
    foreign = disc(FRAME, 10, 15, 3.0)
    looks = [look_of(0, SPOT), look_of(3, SPOT), look_of(6, NONE, foreign=foreign), look_of(9, SPOT)]
    assert percents(looks) == [pytest.approx(percent_of(SPOT, SURFACE))] * 4


def test_what_was_hidden_before_it_showed_began_in_the_middle_of_that_time():
    hidden = disc(FRAME, 10, 15, 3.0)
    looks = [look_of(0, NONE), *(look_of(day, NONE, unseen=hidden) for day in range(1, 5)), look_of(5, SPOT)]
    looks.append(look_of(6, SPOT))
    found = percents(looks)
    assert found[2] < 0.01
    assert found[3] > 0.2


def test_a_photo_that_shows_nothing_of_what_grew_for_weeks_is_not_believed_at_once():
    masks = [rusted(ORDER, percent) for percent in (0, 1, 2, 3, 4, 5, 6)]
    looks = series([*masks, NONE])
    found = judge_coupon(looks, SURFACE, FRAME)[-1].finding
    assert found.percent > 3
    assert not found.confident
    assert any("day log" in warning for warning in found.warnings)


@pytest.mark.parametrize("what", [Disturbance.CLEANED, Disturbance.REPLACED])
def test_after_cleaning_or_replacing_rust_starts_anew(what):
    looks = series([NONE, SPOT, SPOT, NONE, NONE, SPOT])
    size = pytest.approx(percent_of(SPOT, SURFACE))
    assert percents(looks, [Reset(7.5, what)]) == [0, size, size, 0, 0, size]


def test_what_a_touch_rubs_off_is_no_proof_of_dirt():
    looks = series([NONE, SPOT, SPOT, SPOT, NONE])
    size = pytest.approx(percent_of(SPOT, SURFACE))
    assert percents(looks, [Reset(10.5, Disturbance.TOUCHED)]) == [0] + [size] * 4
    assert percents(looks, [Reset(10.5, Disturbance.MOVED)]) == [0] * 5


def test_a_missing_coupon_keeps_what_is_known_and_says_so():
    looks = [*series([NONE, SPOT]), Look(6.0, None, 5.0), look_of(9, SPOT)]
    found = judge_coupon(looks, SURFACE, FRAME)
    assert found[2].finding.percent == pytest.approx(percent_of(SPOT, SURFACE))
    assert found[2].finding.unseen_percent == 100
    assert not found[2].finding.confident
    assert found[2].finding.warnings == ("the coupon is not in this photo",)


def test_single_pixels_of_noise_are_no_rust():
    speck = NONE.copy()
    speck[100, 100] = speck[130, 90] = True
    assert percents(series([NONE, speck])) == [0, 0]
    assert percents(series([NONE, speck, speck, speck]))[-1] > 0


def test_a_person_who_takes_rust_away_makes_it_dirt_before_and_one_who_adds_it_keeps_it():
    around = Stroke(False, 2.0, ((30.0, 35.0),))
    masks = [NONE, SPOT, SPOT, SPOT]
    looks = series(masks)
    looks[2] = look_of(6, SPOT, strokes=(around,))
    found = percents(looks)
    assert found[:3] == [0, 0, 0]
    assert found[3] > 0
    looks = series([NONE] * 4)
    looks[1] = look_of(3, NONE, strokes=(Stroke(True, 1.0, ((30.0, 35.0),)),))
    assert percents(looks) == [0] + [pytest.approx(percent_of(SPOT, SURFACE), rel=0.1)] * 3


def test_a_patch_that_a_person_painted_is_not_suspect():
    painted = Stroke(True, 5.0, ((40.0, 45.0),))
    looks = [look_of(0, NONE), look_of(1, NONE, strokes=(painted,))]
    assert percents(looks)[-1] == pytest.approx(percent_of(LEAF, SURFACE), rel=0.02)


def test_a_year_of_daily_photos_is_judged():
    small = frame_of(4, 4)
    surface, spot = surface_of(small), disc(small, 2, 2, 1.0)
    looks = (look_of(day, spot if day >= 300 else spot & False) for day in range(366))
    found = judge_coupon(looks, surface, small)
    assert [each.finding.percent for each in found[:300]] == [0] * 300
    assert [each.finding.percent for each in found[300:]] == [pytest.approx(percent_of(spot, surface))] * 66


def test_photos_are_read_once_and_little_is_kept_of_each():
    rust = rusted(ORDER, 5)
    asked = []

    def one_by_one():
        for number in range(40):
            asked.append(number)
            yield look_of(number, rust)

    assert len(judge_coupon(one_by_one(), SURFACE, FRAME)) == 40
    assert asked == list(range(40))
    stretch = Stretch(SURFACE)
    stretch.add(evidence_of(rust & SURFACE))
    kept = stretch.kept[0]
    size = len(kept.rusty) + len(kept.foreign) + len(kept.unseen) + kept.cover.nbytes
    assert size < SURFACE.size * (3 / 8 + 0.05) + 10


@settings(max_examples=15)
@given(
    st.lists(st.floats(0, 20), min_size=2, max_size=7).map(sorted),
    st.lists(st.tuples(st.integers(0, 5), st.floats(3, 27), st.floats(3, 37), st.floats(0.5, 6)), max_size=4),
    st.integers(0, 1000),
)
def test_rust_never_falls_lies_within_its_range_and_dirt_that_has_gone_raises_nothing(grown, dirt, seed):
    masks = [rusted(ORDER, percent) for percent in grown]
    masks.append(masks[-1])
    dirty = [mask.copy() for mask in masks]
    for number, x_mm, y_mm, radius_mm in dirt:
        if number < len(masks) - 1:
            dirty[number] |= disc(FRAME, x_mm, y_mm, radius_mm)
    looks = [look_of(5 * n, mask, noise=10, seed=seed + n) for n, mask in enumerate(dirty)]
    found = [each.finding for each in judge_coupon(looks, SURFACE, FRAME)]
    for each, mask, lying in zip(found, masks, dirty, strict=True):
        assert 0 <= each.low <= each.percent <= each.high <= 100
        # Dirt that lay where there is rust by the time it has gone cannot be told from that rust.
        assert each.percent <= percent_of(mask | (lying & masks[-1]), SURFACE) * 1.1 + 0.2
    assert all(later.percent >= earlier.percent for earlier, later in pairwise(found))


@settings(max_examples=15)
@given(st.lists(st.floats(0.5, 6), min_size=3, max_size=7).map(sorted))
def test_one_more_photo_makes_no_earlier_percent_larger(radii_mm):
    # Spots, not specks: a speck of a pixel or two counts only once a second photo has it too. And so far apart that
    # rust has time to grow: what comes fast, large and alone counts only once a second photo has it, too.
    masks = [disc(FRAME, 10, 12, radius) | disc(FRAME, 20, 28, radius / 2) for radius in radii_mm]
    looks = [look_of(70 * number, mask) for number, mask in enumerate(masks)]
    before, after = percents(looks[:-1]), percents(looks)
    for earlier, later in zip(before, after, strict=False):
        assert later <= earlier + 1e-9


def test_a_leaf_on_the_newest_photo_is_not_taken_over_unseen_and_the_next_photo_decides():
    frame = frame_of()
    surface = surface_of(frame)
    rust = disc(frame, 15, 20, 7)
    leaf = disc(frame, 35, 70, 2.8)  # within the same grade: the range alone would not tell
    looks = [look_of(0, rust & False), look_of(5, rust), look_of(6, rust), look_of(7, rust | leaf)]
    last = judge_coupon(looks, surface, frame)[-1].finding
    assert not last.confident
    assert any("later photo will tell" in each for each in last.warnings)
    stays = judge_coupon([*looks, look_of(8, rust | leaf), look_of(9, rust | leaf)], surface, frame)
    assert stays[3].finding.confident
    assert stays[-1].finding.confident
