"""One coupon on the map: outline, drill mark, and the words about it."""

from __future__ import annotations

from typing import Final, NamedTuple

from rustboard.report.paper import sentences
from rustboard.report.paper.hung import Hung
from rustboard.report.paper.shapes import Area, Line, Polygon, Ring, Shape, Side, Words

DRILL_REACH_MM: Final = 4.0
"""The drill cross reaches this far beyond the hole."""

_LEAST_WIDE_MM = 12.0
_LEAST_HIGH_MM = 8.0
_MOST_HIGH_MM = 24.0
_APART_MM = 1.0


class View(NamedTuple):
    """How millimetres on the board become millimetres on paper.

    Attributes:
        left, top: where on paper the board's point ``from_x``, ``from_y`` is.
        scale: 1 = true.
    """

    left: float
    top: float
    from_x: float
    from_y: float
    scale: float = 1.0

    def point(self, x: float, y: float) -> tuple[float, float]:
        """Return a point on paper."""
        return self.left + (x - self.from_x) * self.scale, self.top + (y - self.from_y) * self.scale

    def area(self, area: Area) -> Area:
        """Return an area on paper."""
        left, top = self.point(area.left, area.top)
        return Area(left, top, area.width * self.scale, area.height * self.scale)


def outline_shape(coupon: Hung, view: View, line_mm: float = 0.25) -> Polygon:
    """Return a coupon's outline."""
    return Polygon(tuple(view.point(x, y) for x, y in coupon.outline), line_mm)


def drill_mark(x: float, y: float, hole_mm: float) -> list[Shape]:
    """Return the mark of a hole whose centre on paper is ``x``, ``y``: a circle, and a cross through it."""
    reach = hole_mm / 2 + DRILL_REACH_MM
    return [
        Ring(x, y, hole_mm / 2, 0.25),
        Line(x - reach, y, x + reach, y, 0.15),
        Line(x, y - reach, x, y + reach, 0.15),
    ]


def words_area(coupon: Hung, hole_mm: float, region: Area) -> Area:
    """Return where on the board the words about a coupon go.

    Below its hole or above it, inside the coupon; where that is too small for them, beside the hole, but within what
    the map shows.
    """
    assert coupon.bounds is not None
    assert coupon.hole is not None
    bounds = coupon.bounds.shrunk(_APART_MM)
    x, y = coupon.hole
    reach = hole_mm / 2 + DRILL_REACH_MM + _APART_MM
    below = _between(bounds, max(bounds.top, y + reach), bounds.bottom)
    above_end = min(bounds.bottom, y - reach)
    above = _between(bounds, max(bounds.top, above_end - _MOST_HIGH_MM), above_end)
    for area in (below, above):
        if area.width >= _LEAST_WIDE_MM and area.height >= _LEAST_HIGH_MM:
            return area
    beside = Area(x - _LEAST_WIDE_MM, y + reach, 2 * _LEAST_WIDE_MM, _LEAST_HIGH_MM)
    if beside.bottom > region.bottom:
        beside = beside._replace(top=max(region.top, y - reach - _LEAST_HIGH_MM))
    left = max(region.left, min(beside.left, region.right - beside.width))
    return beside._replace(left=left)


def _between(bounds: Area, top: float, bottom: float) -> Area:
    return Area(bounds.left, top, bounds.width, min(_MOST_HIGH_MM, bottom - top))


def map_words(coupon: Hung, seen: Area, decimal_mark: str) -> list[Shape]:
    """Return the words about a coupon at true scale in an area on paper."""
    assert coupon.hole is not None
    lines = [(f"{coupon.position}  {coupon.id}", 1.5, True)]
    lines.append((sentences.hole_at(*coupon.hole, decimal_mark), 1.0, False))
    if coupon.treatment:
        lines.append((coupon.treatment, 1.0, False))
    return stacked(lines, seen, 4.2)


def stacked(
    lines: list[tuple[str, float, bool]],
    area: Area,
    most_mm: float,
    *,
    side: Side = "middle",
    halfway: bool = False,
) -> list[Shape]:
    """Return lines under one another, from the top of the area or together halfway down it.

    Each line with its text, relative height, and whether it is bold; one of height 1 is at most ``most_mm`` high.
    """
    unit = min(most_mm, area.height / sum(share for _, share, _ in lines) / 1.25)
    shapes: list[Shape] = []
    top = area.top
    if halfway:
        top += (area.height - unit * 1.25 * sum(share for _, share, _ in lines)) / 2
    for text, share, bold in lines:
        high = unit * share * 1.25
        shapes.append(Words(text, Area(area.left, top, area.width, high), unit * share, side=side, bold=bold))
        top += high
    return shapes
