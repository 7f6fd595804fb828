"""Colour differences and conversions, against published pairs and against OpenCV's own."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.photo.colour import difference, lab_from_srgb, linear_from_srgb, xyz_from_srgb

# Sharma, Wu and Dalal 2005, table 1; the file names it too.
PAIRS = np.loadtxt(Path(__file__).parent / "data" / "ciede2000_pairs.csv", delimiter=",", skiprows=2)
LEVELS = st.tuples(*[st.integers(0, 255)] * 3)


def test_all_published_pairs_have_their_published_difference() -> None:
    assert len(PAIRS) == 34
    assert np.abs(difference(PAIRS[:, :3], PAIRS[:, 3:6]) - PAIRS[:, 6]).max() < 1e-4


def test_the_difference_is_the_same_both_ways_for_all_published_pairs() -> None:
    assert difference(PAIRS[:, 3:6], PAIRS[:, :3]) == pytest.approx(difference(PAIRS[:, :3], PAIRS[:, 3:6]), abs=1e-9)


def test_lab_agrees_with_opencv() -> None:
    steps = np.arange(0, 256, 17, dtype=np.uint8)
    grid = np.stack(np.meshgrid(steps, steps, steps), axis=-1).reshape(-1, 1, 3)
    # From linear light: from levels OpenCV goes by a coarse table, off by up to 0.3.
    theirs = cv2.cvtColor(linear_from_srgb(grid).astype(np.float32), cv2.COLOR_LRGB2Lab)
    assert np.abs(lab_from_srgb(grid) - theirs).max() < 0.01


@pytest.mark.parametrize("levels", [(255, 0, 0), (0, 255, 0), (0, 0, 255)])
def test_the_primaries_have_their_known_lab(levels: tuple[int, int, int]) -> None:
    # Widely published values of sRGB's primaries under D65, from memory.
    known = {
        (255, 0, 0): (53.24, 80.09, 67.20),
        (0, 255, 0): (87.73, -86.18, 83.18),
        (0, 0, 255): (32.30, 79.19, -107.86),
    }
    assert lab_from_srgb(levels) == pytest.approx(known[levels], abs=0.02)


def test_xyz_agrees_with_opencv() -> None:
    linear = linear_from_srgb(np.array([[[200, 120, 40]], [[12, 250, 99]]]))
    theirs = cv2.cvtColor(linear.astype(np.float32), cv2.COLOR_RGB2XYZ)
    assert xyz_from_srgb(np.array([[[200, 120, 40]], [[12, 250, 99]]])) == pytest.approx(theirs, abs=1e-4)


def test_white_grey_and_black_have_no_colour() -> None:
    lab = lab_from_srgb([[255, 255, 255], [119, 119, 119], [0, 0, 0]])
    assert lab[:, 0] == pytest.approx([100, 50.0344, 0], abs=1e-3)  # 119 is nearly L* 50, computed from CIE 15
    assert np.abs(lab[:, 1:]).max() < 1e-3


@given(LEVELS, LEVELS)
def test_a_difference_is_positive_and_symmetrical(first: tuple[int, int, int], second: tuple[int, int, int]) -> None:
    one, two = lab_from_srgb(first), lab_from_srgb(second)
    there, back = float(difference(one, two)), float(difference(two, one))
    assert there == pytest.approx(back, abs=1e-9)
    assert (there > 0) == (first != second)
