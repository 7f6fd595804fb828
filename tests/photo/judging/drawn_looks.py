"""Evidence drawn from a known truth: what a photo would say, with noise, shifts, covers and dirt."""

import numpy as np

from rustboard.photo.judging.judge import Look
from rustboard.photo.looks import CouponFrame, Evidence

SCALE = 5.0


def frame_of(width_mm=50.0, height_mm=100.0, scale=SCALE):
    outline = ((20.0, 20.0), (20.0 + width_mm, 20.0), (20.0 + width_mm, 20.0 + height_mm), (20.0, 20.0 + height_mm))
    return CouponFrame(1, "C1", outline, scale)


def surface_of(frame):
    surface = np.zeros(frame.shape, np.bool_)
    pad = round(8 * frame.pixels_per_mm)
    surface[pad:-pad, pad:-pad] = True
    return surface


def evidence_of(rusted, *, noise=0.0, seed=0, foreign=None, unseen=None, shift=(0, 0), strength=40):
    """What a photo says of a coupon rusted in these pixels; ``strength`` in tenths of a natural logarithm."""
    random = np.random.default_rng(seed)
    shown = np.roll(rusted, shift, (0, 1))
    levels = np.where(shown, strength, -strength) + noise * random.standard_normal(rusted.shape)
    none = np.zeros(rusted.shape, np.bool_)
    return Evidence(
        np.clip(levels, -100, 100).astype(np.int8),
        np.full(rusted.shape, 255, np.uint8),
        none if foreign is None else foreign,
        none if unseen is None else unseen,
    )


def look_of(days, rusted, *, strokes=(), pixels_per_mm=SCALE, **how):
    return Look(float(days), evidence_of(rusted, **how), pixels_per_mm, strokes=strokes)


def disc(frame, x_mm, y_mm, radius_mm):
    """Pixels of a disc; places from the outline's top left corner."""
    height, width = frame.shape
    y = (np.arange(height)[:, None] + 0.5) / frame.pixels_per_mm - 8 - y_mm
    x = (np.arange(width)[None, :] + 0.5) / frame.pixels_per_mm - 8 - x_mm
    return x**2 + y**2 <= radius_mm**2


def percent_of(mask, surface):
    return 100 * float(np.count_nonzero(mask & surface)) / float(np.count_nonzero(surface))
