"""Any percent of a surface, painted in a moment: the exact area, and more always holds less."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.scales.panels import growing_on_coupon, growing_panel, paint_rust, panel_on_coupon
from rustboard.scales.rust_fields import growth_order
from rustboard.scales.rust_paint import GrowingRust, bare_steel, growing_rust
from rustboard.support.problems import InputError

SHAPE = (60, 40)
PERCENTS = st.floats(0, 100)
# Of no hue that rust is painted in, so that every painted pixel differs from its ground.
GREEN = np.full((*SHAPE, 3), (0, 255, 0), np.uint8)


def surface() -> np.ndarray:
    """A coupon cut away at one corner, that fills most of its picture."""
    counted = np.zeros(SHAPE, np.bool_)
    counted[3:-3, 4:-4] = True
    counted[:20, :15] = False
    return counted


COUNTED = surface()
ORDERS = {letter: growth_order(SHAPE, COUNTED, letter, 4) for letter in "SGP"}
GROWING = {letter: growing_rust(GREEN, order, 4) for letter, order in ORDERS.items()}


def rust(growing: GrowingRust, percent: float) -> np.ndarray:
    """Return which pixels are painted."""
    return growing.painted(percent) != growing.ground


@given(st.sampled_from("SGP"), PERCENTS)
def test_the_area_painted_is_the_area_asked_for_within_a_pixel(letter, percent):
    painted = int(rust(GROWING[letter], percent).sum())
    assert abs(painted - percent / 100 * COUNTED.sum()) <= 0.5
    assert painted == GROWING[letter].rusted_pixels(percent)


@given(st.sampled_from("SGP"), PERCENTS, PERCENTS)
def test_more_percent_contains_less_percent(letter, one, other):
    less, more = sorted((one, other))
    assert not (rust(GROWING[letter], less) & ~rust(GROWING[letter], more)).any()


@given(st.sampled_from("SGP"), PERCENTS)
def test_what_does_not_count_never_rusts(letter, percent):
    assert not (rust(GROWING[letter], percent) & ~COUNTED).any()


@given(st.sampled_from("SGP"), PERCENTS)
def test_the_picture_is_that_of_the_reference_pictures(letter, percent):
    steel = bare_steel(SHAPE, 1)
    painted = growing_rust(steel, ORDERS[letter], 4).painted(percent)
    channels = np.stack([(painted >> shift).astype(np.uint8) for shift in (16, 8, 0)], axis=-1)
    assert np.array_equal(channels, paint_rust(steel, ORDERS[letter], percent, 4))
    assert (painted >> 24 == 255).all(), "opaque"


def test_what_is_not_to_be_seen_is_left_out():
    shown = np.ones(SHAPE, np.bool_)
    shown[:3] = False
    painted = growing_rust(GREEN, ORDERS["G"], 4, shown).painted(30)
    assert (painted[:3] == 0).all()
    assert (painted[3:] >> 24 == 255).all()


@settings(max_examples=10, deadline=None)
@given(st.sampled_from("SGP"), st.floats(0.005, 100))
def test_on_plain_steel_even_the_least_percent_is_met_to_one_percent_of_its_value(letter, percent):
    growing = growing_panel(letter)
    assert growing.rusted_pixels(percent) / growing.places.size * 100 == pytest.approx(percent, rel=0.01)


def test_a_small_picture_of_a_coupon_is_enlarged_until_the_least_percent_is_met():
    growing = growing_on_coupon(GREEN, COUNTED, COUNTED, "S")
    assert growing.places.size >= 1_000_000
    panel = panel_on_coupon(GREEN, COUNTED, 10, "S", "middle")
    assert growing.rusted_pixels(panel.percent) == panel.rusted_pixels
    painted = growing.painted(panel.percent)
    assert painted.shape == panel.rgb.shape[:2]
    assert (painted[panel.rgb[..., 1] < 255] != 0).all()


def test_a_coupon_of_which_nothing_counts_is_refused():
    nothing = np.zeros(SHAPE, np.bool_)
    with pytest.raises(InputError, match="Nothing of this coupon counts"):
        growing_on_coupon(GREEN, nothing, COUNTED, "S")


def test_a_picture_that_does_not_match_its_surface_is_our_mistake():
    with pytest.raises(ValueError, match="do not match"):
        growing_on_coupon(GREEN[1:], COUNTED, COUNTED, "S")
