"""A cut is laid onto the first picture by the coupon's marks, only where that is clearly better."""

import numpy as np
import pytest
from hung_boards import STEEL, Hung, disc, painted

from rustboard.photo.cutting import cut_grid
from rustboard.photo.hanging.align import aligned
from rustboard.photo.looks import Motion


@pytest.fixture(scope="module")
def scene():
    return painted([Hung(disc(200, 150, 40), STEEL, lettering=3)], size=(2400, 1800), seed=2)


@pytest.mark.parametrize(("dx", "dy"), [(0.15, 0.0), (-0.1, 0.2), (0.0, -0.22)])
def test_a_small_shift_is_taken_back(scene, dx, dy):
    frame, true = scene.frames[0], scene.motions[0]
    base = cut_grid(scene.rgb, scene.placement, frame, true).rgb
    wrong = Motion(true.dx_mm + dx, true.dy_mm + dy, true.turn_deg, true.scale)
    cut = cut_grid(scene.rgb, scene.placement, frame, wrong)
    better = aligned(cut.rgb, cut.shown, frame, base, wrong)
    assert np.hypot(better.dx_mm - true.dx_mm, better.dy_mm - true.dy_mm) < 0.07


def test_without_common_marks_nothing_moves(scene):
    frame, true = scene.frames[0], scene.motions[0]
    cut = cut_grid(scene.rgb, scene.placement, frame, true)
    noise = np.random.default_rng(1).integers(90, 160, cut.rgb.shape, dtype=np.uint8)
    assert aligned(noise, cut.shown, frame, cut.rgb, true) is true
    assert aligned(cut.rgb, np.zeros_like(cut.shown), frame, cut.rgb, true) is true
