"""A shape on its way: dragged from corner to corner, from the middle to the rim, or tapped point by point."""

from __future__ import annotations

from math import dist
from typing import Final

from rustboard.board.model import Outline
from rustboard.ui.outlines.shapes import ShapeKind, box_between, disc, rounded

_LEAST_MM: Final = 1.0


class Drawing:
    """What was drawn so far.

    Attributes:
        kind: what is drawn. points: tapped or dragged so far, board mm.
    """

    def __init__(self, kind: ShapeKind) -> None:
        """Start with nothing."""
        self.kind = kind
        self.points: list[tuple[float, float]] = []
        self.hand: tuple[float, float] | None = None

    def begin(self, place: tuple[float, float]) -> None:
        """The button or finger goes down."""
        if self.kind == "polygon":
            self.points.append(place)
        else:
            self.points = [place]
        self.hand = place

    def move(self, place: tuple[float, float]) -> None:
        """The pointer is somewhere else."""
        self.hand = place
        if self.kind == "polygon" and self.points:
            self.points[-1] = place

    def step_back(self) -> None:
        """Forget the last point."""
        if self.points:
            self.points.pop()

    def seen(self) -> Outline:
        """Return the points to show."""
        if self.kind == "polygon":
            return tuple(self.points)
        return self.outline()

    def outline(self) -> Outline:
        """Return the shape, or nothing while it is too small or has too few points."""
        if self.kind == "polygon":
            return rounded(tuple(self.points)) if len(self.points) >= 3 else ()
        if not self.points or self.hand is None:
            return ()
        start, end = self.points[0], self.hand
        if self.kind == "disc":
            across = dist(start, end)
            middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            return disc(middle, across) if across >= _LEAST_MM else ()
        if min(abs(start[0] - end[0]), abs(start[1] - end[1])) < _LEAST_MM:
            return ()
        return box_between(start, end)
