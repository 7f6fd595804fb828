"""The brush: what it does, how wide it is, where it is, and the stroke being drawn. It changes nothing itself."""

from __future__ import annotations

from dataclasses import replace

from rustboard.board.measured import MOST_STROKE_POINTS, Stroke

Place = tuple[float, float]

SIZES_MM = (0.3, 0.5, 0.8, 1.2, 2.0, 3.0, 5.0, 8.0, 12.0, 20.0)
"""Radii to choose from."""

_LEAST_STEP = 0.25  # of the radius: closer points change nothing that can be seen


class Brush:
    """A brush over one coupon in one photo.

    Attributes:
        on: whether drags paint. adds: whether it adds rust or takes it away. radius_mm: half its width.
        at: where the keyboard has it, mm from the corner of the outline's box; None = nowhere yet.
        stroke: what is being drawn, or None while it is lifted.
    """

    def __init__(self) -> None:
        """Start lifted and out of use."""
        self.on = False
        self.adds = True
        self.radius_mm = SIZES_MM[4]
        self.at: Place | None = None
        self.stroke: Stroke | None = None

    def press(self, photo: int, coupon: int, at: Place) -> None:
        """Put the brush down."""
        self.at = at
        self.stroke = Stroke(photo, coupon, self.adds, self.radius_mm, (at,))

    def draw_to(self, at: Place) -> bool:
        """Move the brush; return whether the stroke became longer.

        A stroke has room for so many points; the last one then follows the hand.
        """
        self.at = at
        stroke = self.stroke
        if stroke is None:
            return False
        last = stroke.points_mm[-1]
        if abs(at[0] - last[0]) + abs(at[1] - last[1]) < self.radius_mm * _LEAST_STEP:
            return False
        kept = stroke.points_mm[: MOST_STROKE_POINTS - 1]
        self.stroke = replace(stroke, points_mm=(*kept, at))
        return True

    def lift(self) -> Stroke | None:
        """End the stroke; return it, or None when none was begun."""
        stroke, self.stroke = self.stroke, None
        return stroke

    def give_up(self) -> bool:
        """Forget the stroke begun; return whether there was one."""
        return self.lift() is not None
