"""Carrying a coupon to another place: one class for the gesture, by mouse, finger or keys alike.

The board itself changes once, at the end.
"""

from __future__ import annotations

from PySide6.QtCore import QPointF

from rustboard.ui.grid.geometry import Place


class Carry:
    """A coupon on its way.

    Attributes:
        coupon: key. source: where it was picked up. target: where it would land now, or None.
        hand: where the pointer is, or None when it is carried by keys.
        grip: pointer minus the tile's corner when it was picked up.
    """

    def __init__(self, coupon: int, source: Place, hand: QPointF | None = None, grip: QPointF | None = None) -> None:
        """Pick a coupon up."""
        self.coupon = coupon
        self.source = source
        self.target: Place | None = source
        self.hand = hand
        self.grip = grip or QPointF()

    def move(self, target: Place | None, hand: QPointF | None = None) -> None:
        """Carry it over another place; a spot of the tray is only a target by its existence, not for swapping."""
        self.target = target
        self.hand = hand

    def lands(self) -> Place | None:
        """Return where it lands when let go now; None means nothing changes."""
        return None if self.target is None or self.target == self.source else self.target
