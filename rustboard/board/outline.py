"""What a coupon's outline must be: a simple polygon with some area, on the board."""

from __future__ import annotations

import math
from typing import Final

from rustboard.board.model import MOST_OUTLINE_POINTS, Board, Outline

SMALLEST_AREA_MM2: Final = 1.0

_Point = tuple[float, float]
_Side = tuple[_Point, _Point]


def without_repeats(outline: Outline) -> Outline:
    """Return the outline without points that repeat the one before, the last one repeating the first included."""
    kept: list[_Point] = []
    for point in outline:
        if not kept or point != kept[-1]:
            kept.append(point)
    while len(kept) > 1 and kept[-1] == kept[0]:
        kept.pop()
    return tuple(kept)


def bounds(outline: Outline) -> tuple[float, float, float, float]:
    """Return left, top, right and bottom of an outline in mm."""
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    return min(xs), min(ys), max(xs), max(ys)


def area_mm2(outline: Outline) -> float:
    """Return the area of a closed polygon in mm² (shoelace formula), always positive."""
    twice = math.fsum(
        x * next_y - next_x * y for (x, y), (next_x, next_y) in zip(outline, outline[1:] + outline[:1], strict=True)
    )
    return abs(twice) / 2


def outline_fault(outline: Outline, board: Board) -> str:
    """Return what is wrong with an outline and how to mend it, as one sentence; empty when nothing is.

    An empty outline means *not given* and is right. Corners must lie at or below 0 mm in both directions, and within
    the board's width and height where these are known (not 0).
    """
    if not outline:
        return ""
    if len(outline) > MOST_OUTLINE_POINTS:
        return f"The outline has {len(outline)} points; use at most {MOST_OUTLINE_POINTS}."
    if not all(math.isfinite(x) and math.isfinite(y) for x, y in outline):
        return "The outline has a point that is not a finite number; give every point in mm."
    if len(outline) < 3:
        return f"The outline has {len(outline)} different points; a closed shape needs at least 3."
    beyond = _beyond(outline, board)
    if beyond:
        return beyond
    if area_mm2(outline) < SMALLEST_AREA_MM2:
        return "The outline encloses less than 1 mm²; give its corners in mm, in order around the coupon."
    if crosses_itself(outline):
        return "The outline crosses or touches itself; give its corners in order around the coupon."
    return ""


def _beyond(outline: Outline, board: Board) -> str:
    for x, y in outline:
        if x < 0 or y < 0 or (board.width_mm and x > board.width_mm) or (board.height_mm and y > board.height_mm):
            size = (
                f", which is {board.width_mm:g} x {board.height_mm:g} mm"
                if board.width_mm and board.height_mm
                else ""
            )
            return f"The outline's point ({x:g}, {y:g}) lies beyond the board{size}; mend one of them."
    return ""


def crosses_itself(outline: Outline) -> bool:
    """Return whether two sides of a closed polygon meet anywhere but at the corner that neighbours share.

    The sides are swept in order along the direction that separates them best (x, y, or across the longest side), so
    that even large outlines take few comparisons.
    """
    sides = list(zip(outline, outline[1:] + outline[:1], strict=True))
    along = min(_directions(sides), key=lambda direction: _overlap(sides, direction))
    swept = sorted((_Swept(number, side, along) for number, side in enumerate(sides)), key=lambda each: each.start)
    open_sides: list[_Swept] = []
    for side in swept:
        open_sides = [each for each in open_sides if each.end >= side.start]
        low, high = side.low, side.high
        near = [each for each in open_sides if each.low <= high and low <= each.high]
        if any(_meet(side, each, len(sides)) for each in near):
            return True
        open_sides.append(side)
    return False


class _Swept:
    """A side with its extent along the sweep (start, end) and across it (low, high).

    The extents are a billionth of a millimetre generous, because turned coordinates are rounded.
    """

    __slots__ = ("end", "high", "low", "number", "side", "start")

    def __init__(self, number: int, side: _Side, along: _Point) -> None:
        across = (-along[1], along[0])
        self.number = number
        self.side = side
        start, end = sorted(_projected(point, along) for point in side)
        low, high = sorted(_projected(point, across) for point in side)
        self.start, self.end = start, end + 1e-9
        self.low, self.high = low, high + 1e-9


def _projected(point: _Point, direction: _Point) -> float:
    return point[0] * direction[0] + point[1] * direction[1]


def _directions(sides: list[_Side]) -> list[_Point]:
    """Return the directions worth trying for a sweep, as unit vectors."""
    (x, y), (to_x, to_y) = max(sides, key=lambda side: math.dist(*side))
    length = math.hypot(to_x - x, to_y - y)
    return [(1.0, 0.0), (0.0, 1.0), ((y - to_y) / length, (to_x - x) / length)]


def _overlap(sides: list[_Side], direction: _Point) -> float:
    """Return how far all sides reach along a direction together, as a multiple of the outline's own reach."""
    reaches = [(_projected(start, direction), _projected(end, direction)) for start, end in sides]
    reach = max(start for start, _ in reaches) - min(start for start, _ in reaches)
    return sum(abs(start - end) for start, end in reaches) / reach if reach else math.inf


def _meet(one: _Swept, other: _Swept, count: int) -> bool:
    first, second = (one, other) if one.number < other.number else (other, one)
    gap = second.number - first.number
    if gap == 1:
        return _folds_back(first.side, second.side)
    if gap == count - 1:
        return _folds_back(second.side, first.side)
    return _cross(one.side, other.side)


def _folds_back(before: _Side, after: _Side) -> bool:
    """Return whether the second of two neighbouring sides runs back along the first."""
    (start, corner), (_, end) = before, after
    if _turn(start, corner, end) != 0:
        return False
    return (corner[0] - start[0]) * (end[0] - corner[0]) + (corner[1] - start[1]) * (end[1] - corner[1]) < 0


def _cross(one: _Side, other: _Side) -> bool:
    """Return whether two sides whose bounding boxes overlap share a point."""
    a, b = one
    c, d = other
    return _turn(a, b, c) * _turn(a, b, d) <= 0 and _turn(c, d, a) * _turn(c, d, b) <= 0


def _turn(a: _Point, b: _Point, c: _Point) -> int:
    """Return 1, 0 or -1: whether c lies left of, on, or right of the line from a to b."""
    product = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return (product > 0) - (product < 0)
