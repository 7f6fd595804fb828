"""A coupon's outline as it hung in one photo."""

from __future__ import annotations

from math import cos, radians, sin

from rustboard.board.model import Outline
from rustboard.board.outline import bounds

Hanging = tuple[float, float, float, float]
"""As `rustboard.board.measured.Measurement.motion` has it: dx mm, dy mm, turn in degrees, scale."""

_STILL: Hanging = (0.0, 0.0, 0.0, 1.0)


def hung(outline_mm: Outline, motion: Hanging = _STILL) -> Outline:
    """Return an outline turned and scaled about the middle of its box, then shifted (all in mm, y downward).

    The same as `rustboard.photo.looks.Motion.matrix`, whose module brings a library that the window does not need.
    """
    if motion == _STILL or not outline_mm:
        return outline_mm
    dx, dy, turn, scale = motion
    left, top, right, bottom = bounds(outline_mm)
    x0, y0 = (left + right) / 2, (top + bottom) / 2
    c, s = scale * cos(radians(turn)), scale * sin(radians(turn))
    return tuple(
        (x0 + dx + c * (x - x0) - s * (y - y0), y0 + dy + s * (x - x0) + c * (y - y0)) for x, y in outline_mm
    )
