"""How far rust's colour lies from the coupon's own."""

import numpy as np
import pytest

from rustboard.photo.contrast import LITTLE, colour_contrast
from rustboard.photo.looks import Evidence

SHAPE = (40, 60)
EVERYWHERE = np.ones(SHAPE, np.bool_)


def painted(rust, steel, share=0.2):
    rgb = np.empty((*SHAPE, 3), np.uint8)
    rgb[:] = steel
    where = np.zeros(SHAPE, np.bool_)
    where[:, : round(SHAPE[1] * share)] = True
    rgb[where] = rust
    levels = np.where(where, np.int8(50), np.int8(-50))
    nothing = np.zeros(SHAPE, np.bool_)
    return rgb, Evidence(levels, np.where(where, 255, 0).astype(np.uint8), nothing, nothing)


def test_orange_rust_on_bright_steel_stands_out_and_black_rust_on_black_does_not():
    assert colour_contrast(*painted((190, 100, 45), (150, 150, 152)), EVERYWHERE) > 20
    assert colour_contrast(*painted((58, 50, 47), (56, 54, 55)), EVERYWHERE) < LITTLE


def test_the_difference_is_that_of_the_published_formula():
    # sRGB grey 119 is L* 50.04 and grey 148 is L* 61.31, a* = b* = 0: for greys CIEDE2000 is |dL| / S_L with
    # S_L = 1 + 0.015 (L - 50)^2 / sqrt(20 + (L - 50)^2), L the mean (Sharma, Wu, Dalal 2005; lightness from the
    # definition of sRGB and CIELAB).
    first, second = 50.04, 61.31
    middle = (first + second) / 2 - 50
    expected = (second - first) / (1 + 0.015 * middle**2 / np.sqrt(20 + middle**2))
    assert colour_contrast(*painted((119, 119, 119), (148, 148, 148)), EVERYWHERE) == pytest.approx(expected, abs=0.1)


def test_too_little_of_either_says_nothing():
    assert colour_contrast(*painted((190, 100, 45), (150, 150, 152), 0.0), EVERYWHERE) is None
    assert colour_contrast(*painted((190, 100, 45), (150, 150, 152), 1.0), EVERYWHERE) is None
    assert colour_contrast(*painted((190, 100, 45), (150, 150, 152)), ~EVERYWHERE) is None
