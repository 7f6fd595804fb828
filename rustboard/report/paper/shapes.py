"""What a page is made of: lines, boxes, circles, polygons, squares, codes and words, all in millimetres.

The origin is the paper's top left corner, y downward. Whoever draws a page keeps to the numbers exactly, and keeps
every word inside its area.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

INK: Final = "#000000"
PALE: Final = "#6e6e6e"
FAINT: Final = "#b4b4b4"

Side = Literal["left", "middle", "right"]
Turn = Literal[0, 90, 270]

SMALLEST_WORDS_MM: Final = 1.6
"""Words are not made smaller than this to fit; they are cut instead."""


class Area(NamedTuple):
    """A rectangle."""

    left: float
    top: float
    width: float
    height: float

    @property
    def right(self) -> float:
        """The right edge."""
        return self.left + self.width

    @property
    def bottom(self) -> float:
        """The lower edge."""
        return self.top + self.height

    @property
    def middle(self) -> tuple[float, float]:
        """The point in the middle."""
        return self.left + self.width / 2, self.top + self.height / 2

    @property
    def corners(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """The top left and the bottom right corner."""
        return (self.left, self.top), (self.right, self.bottom)

    def shrunk(self, by: float) -> Area:
        """Return the area with a strip taken off all round; a negative strip is added."""
        return Area(self.left + by, self.top + by, self.width - 2 * by, self.height - 2 * by)

    def overlap(self, other: Area) -> Area | None:
        """Return what both share, or None when that is nothing."""
        left, top = max(self.left, other.left), max(self.top, other.top)
        right, bottom = min(self.right, other.right), min(self.bottom, other.bottom)
        return Area(left, top, right - left, bottom - top) if right > left and bottom > top else None

    def holds(self, x: float, y: float) -> bool:
        """Return whether a point is inside or on the edge."""
        return self.left <= x <= self.right and self.top <= y <= self.bottom

    def contains(self, other: Area, slack: float = 1e-6) -> bool:
        """Return whether another area is wholly inside, to a millionth of a millimetre."""
        return (
            other.left >= self.left - slack
            and other.top >= self.top - slack
            and other.right <= self.right + slack
            and other.bottom <= self.bottom + slack
        )


def area_around(points: Iterable[tuple[float, float]]) -> Area:
    """Return the smallest area that holds all points; there must be one at least."""
    xs, ys = zip(*points, strict=True)
    return Area(min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys))


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line."""

    x: float
    y: float
    to_x: float
    to_y: float
    line_mm: float = 0.2
    ink: str = INK
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle: its border, unless that is 0 mm wide, and its inside, unless that has no colour."""

    area: Area
    line_mm: float = 0.2
    ink: str = INK
    fill: str = ""
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Ring:
    """A circle."""

    x: float
    y: float
    radius: float
    line_mm: float = 0.2
    ink: str = INK


@dataclass(frozen=True, slots=True)
class Polygon:
    """A closed line through three points or more."""

    points: tuple[tuple[float, float], ...]
    line_mm: float = 0.2
    ink: str = INK
    fill: str = ""


@dataclass(frozen=True, slots=True)
class Cells:
    """Equal squares without gaps, row by row: ``1`` is black, ``0`` stays as it is.

    Attributes:
        left, top: corner of the first row's first square.
    """

    left: float
    top: float
    cell_mm: float
    rows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Code:
    """A square code to be scanned, with its white rim.

    Attributes:
        area: a square.
        text: what it says.
    """

    area: Area
    text: str


@dataclass(frozen=True, slots=True)
class Words:
    """A text in an area. What does not fit is drawn smaller, then cut.

    Attributes:
        size_mm: height of the letters' line, at most.
        side: where in the area's width.
        turned: degrees clockwise; at 90 and 270 the text runs along the area's height.
        wrapped: whether the text may go on in further lines, from the top; otherwise it is one line, halfway down.
    """

    text: str
    area: Area
    size_mm: float = 3.2
    side: Side = "left"
    bold: bool = False
    ink: str = INK
    turned: Turn = 0
    wrapped: bool = False


@dataclass(frozen=True, slots=True)
class Window:
    """Shapes seen through an opening: what lies outside it is cut off."""

    area: Area
    shapes: tuple[Shape, ...]


Shape = Line | Box | Ring | Polygon | Cells | Code | Words | Window


@dataclass(frozen=True, slots=True)
class Page:
    """One side of paper, ready to be drawn.

    Attributes:
        title: what it is, such as ``Board map``.
    """

    width_mm: float
    height_mm: float
    shapes: tuple[Shape, ...]
    title: str


def extent(shape: Shape) -> Area:
    """Return what a shape covers at most, half the width of its line included."""
    match shape:
        case Line():
            return area_around([(shape.x, shape.y), (shape.to_x, shape.to_y)]).shrunk(-shape.line_mm / 2)
        case Box():
            return shape.area.shrunk(-shape.line_mm / 2)
        case Ring():
            reach = shape.radius + shape.line_mm / 2
            return Area(shape.x - reach, shape.y - reach, 2 * reach, 2 * reach)
        case Polygon():
            return area_around(shape.points).shrunk(-shape.line_mm / 2)
        case Cells():
            across = max(map(len, shape.rows), default=0) * shape.cell_mm
            return Area(shape.left, shape.top, across, len(shape.rows) * shape.cell_mm)
        case Code() | Words() | Window():
            return shape.area
