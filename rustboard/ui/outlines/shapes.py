"""Rectangles, discs and polygons as lists of points: told apart, made, moved, turned and sized. No Qt."""

from __future__ import annotations

from math import atan2, cos, degrees, dist, hypot, pi, radians, sin
from typing import Final, Literal

from rustboard.board.model import Outline
from rustboard.board.outline import bounds

ShapeKind = Literal["rectangle", "disc", "polygon"]
SHAPE_KINDS: Final[tuple[ShapeKind, ...]] = ("rectangle", "disc", "polygon")

DISC_POINTS: Final = 48
"""Corners of a disc: its area is then 0.3 % less than a true disc's of the same radius (n/2 sin(2 pi/n) r^2)."""

_DECIMALS: Final = 4
_SQUARE_SINE: Final = 0.004  # a quarter of a degree
_ROUND_SHARE: Final = 0.005
_LEAST_DISC_POINTS: Final = 16

_Point = tuple[float, float]


def kind_of(outline: Outline) -> ShapeKind:
    """Return what a list of points is: four right angles make a rectangle, many points on a circle a disc."""
    if len(outline) == 4 and all(_is_square(outline, number) for number in range(4)):
        return "rectangle"
    if len(outline) >= _LEAST_DISC_POINTS:
        centre = centre_of(outline)
        far = [dist(each, centre) for each in outline]
        if max(far) - min(far) <= _ROUND_SHARE * max(far):
            return "disc"
    return "polygon"


def _is_square(outline: Outline, number: int) -> bool:
    before, here, after = outline[number - 1], outline[number], outline[(number + 1) % 4]
    one, other = (before[0] - here[0], before[1] - here[1]), (after[0] - here[0], after[1] - here[1])
    length = hypot(*one) * hypot(*other)
    return length > 0 and abs(one[0] * other[0] + one[1] * other[1]) <= _SQUARE_SINE * length


def centre_of(outline: Outline) -> _Point:
    """Return the middle of the box around an outline that is not empty; of a disc, of its corners."""
    if len(outline) >= _LEAST_DISC_POINTS:
        return sum(x for x, _ in outline) / len(outline), sum(y for _, y in outline) / len(outline)
    if len(outline) == 4:
        return sum(x for x, _ in outline) / 4, sum(y for _, y in outline) / 4
    left, top, right, bottom = bounds(outline)
    return (left + right) / 2, (top + bottom) / 2


def rectangle(centre: _Point, width: float, height: float, turn_deg: float = 0.0) -> Outline:
    """Return a rectangle, clockwise from the corner that is its top left before it is turned."""
    half_width, half_height = width / 2, height / 2
    upright = (
        (centre[0] - half_width, centre[1] - half_height),
        (centre[0] + half_width, centre[1] - half_height),
        (centre[0] + half_width, centre[1] + half_height),
        (centre[0] - half_width, centre[1] + half_height),
    )
    return turned(upright, turn_deg, centre)


def disc(centre: _Point, diameter: float) -> Outline:
    """Return a disc as a polygon of `DISC_POINTS` corners on its rim."""
    angles = [2 * pi * number / DISC_POINTS for number in range(DISC_POINTS)]
    return rounded(
        tuple((centre[0] + diameter / 2 * cos(each), centre[1] + diameter / 2 * sin(each)) for each in angles)
    )


def box_between(one: _Point, other: _Point) -> Outline:
    """Return the upright rectangle with these two opposite corners."""
    centre = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
    return rectangle(centre, abs(one[0] - other[0]), abs(one[1] - other[1]))


def size_of(outline: Outline) -> tuple[float, float]:
    """Return width and height in mm: of a rectangle along its own sides, of a disc its diameter, else of the box."""
    kind = kind_of(outline)
    if kind == "rectangle":
        return dist(outline[0], outline[1]), dist(outline[1], outline[2])
    if kind == "disc":
        diameter = 2 * dist(outline[0], centre_of(outline))
        return diameter, diameter
    left, top, right, bottom = bounds(outline)
    return right - left, bottom - top


def turn_of(outline: Outline) -> float:
    """Return by how many degrees, clockwise, a rectangle is turned (within 90 to either side); 0 of others."""
    if kind_of(outline) != "rectangle":
        return 0.0
    (x, y), (to_x, to_y) = outline[0], outline[1]
    return round(degrees(atan2(to_y - y, to_x - x)), 3) + 0.0


def moved(outline: Outline, right: float, down: float) -> Outline:
    """Return an outline shifted."""
    return rounded(tuple((x + right, y + down) for x, y in outline))


def centred(outline: Outline, centre: _Point) -> Outline:
    """Return an outline with its middle at a place."""
    x, y = centre_of(outline)
    return moved(outline, centre[0] - x, centre[1] - y)


def turned(outline: Outline, by_deg: float, about: _Point | None = None) -> Outline:
    """Return an outline turned clockwise (y downward) about a place, or its middle."""
    x, y = about or centre_of(outline)
    c, s = cos(radians(by_deg)), sin(radians(by_deg))
    return rounded(tuple((x + c * (a - x) - s * (b - y), y + s * (a - x) + c * (b - y)) for a, b in outline))


def resized(outline: Outline, width: float, height: float) -> Outline:
    """Return an outline of another size about the same middle; a disc takes the width as its diameter."""
    kind, centre = kind_of(outline), centre_of(outline)
    if kind == "rectangle":
        return rectangle(centre, width, height, turn_of(outline))
    if kind == "disc":
        return disc(centre, width)
    old_width, old_height = size_of(outline)
    across, down = width / max(old_width, 1e-9), height / max(old_height, 1e-9)
    x, y = centre
    return rounded(tuple((x + (a - x) * across, y + (b - y) * down) for a, b in outline))


def with_corner(outline: Outline, number: int, to: _Point, *, free: bool = False) -> Outline:
    """Return an outline with a corner dragged to a place.

    A rectangle stays one: the corner across stays where it is. A disc changes its diameter. ``free`` moves the one
    point alone.
    """
    kind = "polygon" if free else kind_of(outline)
    if kind == "disc":
        return disc(centre_of(outline), 2 * max(dist(to, centre_of(outline)), 0.5))
    if kind == "rectangle":
        return _rectangle_with(outline, number, to)
    points = list(outline)
    points[number] = to
    return rounded(tuple(points))


def _rectangle_with(outline: Outline, number: int, to: _Point) -> Outline:
    across = outline[(number + 2) % 4]
    turn = radians(turn_of(outline))
    along, down = (cos(turn), sin(turn)), (-sin(turn), cos(turn))
    x, y = to[0] - across[0], to[1] - across[1]
    width, height = x * along[0] + y * along[1], x * down[0] + y * down[1]
    # The dragged corner may not cross the sides of the one across: the corners would change places.
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))[number]
    width, height = signs[0] * max(signs[0] * width, 0.5), signs[1] * max(signs[1] * height, 0.5)
    centre = (
        across[0] + (width * along[0] + height * down[0]) / 2,
        across[1] + (width * along[1] + height * down[1]) / 2,
    )
    return rectangle(centre, abs(width), abs(height), turn_of(outline))


def with_point_after(outline: Outline, number: int, at: _Point | None = None) -> Outline:
    """Return an outline with one more point after another: at a place, or in the middle of the side."""
    here, following = outline[number], outline[(number + 1) % len(outline)]
    middle = ((here[0] + following[0]) / 2, (here[1] + following[1]) / 2)
    return rounded((*outline[: number + 1], at or middle, *outline[number + 1 :]))


def without_point(outline: Outline, number: int) -> Outline:
    """Return an outline without a point; a triangle stays as it is."""
    return outline if len(outline) <= 3 else outline[:number] + outline[number + 1 :]


def side_near(outline: Outline, place: _Point) -> tuple[int, float, _Point]:
    """Return the side nearest to a place: the number of its first point, how far away it is, and the foot on it."""
    best = (0, float("inf"), place)
    for number, (start, end) in enumerate(zip(outline, outline[1:] + outline[:1], strict=True)):
        x, y = end[0] - start[0], end[1] - start[1]
        square = x * x + y * y
        share = ((place[0] - start[0]) * x + (place[1] - start[1]) * y) / square if square else 0.0
        share = min(max(share, 0.0), 1.0)
        foot = (start[0] + share * x, start[1] + share * y)
        away = dist(foot, place)
        if away < best[1]:
            best = (number, away, foot)
    return best


def holds(outline: Outline, place: _Point) -> bool:
    """Return whether a place lies inside an outline (even-odd rule)."""
    inside = False
    for (x, y), (to_x, to_y) in zip(outline, outline[1:] + outline[:1], strict=True):
        if (y > place[1]) != (to_y > place[1]) and place[0] < x + (place[1] - y) * (to_x - x) / (to_y - y):
            inside = not inside
    return inside


def as_kind(outline: Outline, kind: ShapeKind) -> Outline:
    """Return an outline made into another kind, of about the same place and size."""
    if kind_of(outline) == kind:
        return outline
    width, height = size_of(outline)
    if kind == "disc":
        return disc(centre_of(outline), min(width, height))
    if kind == "rectangle":
        return rectangle(centre_of(outline), width, height)
    if kind_of(outline) == "disc":  # few enough points to drag
        return rounded(outline[:: max(1, len(outline) // 12)])
    return outline


def rounded(outline: Outline) -> Outline:
    """Return an outline with its places to a ten-thousandth of a millimetre."""
    return tuple((round(x, _DECIMALS) + 0.0, round(y, _DECIMALS) + 0.0) for x, y in outline)


def kept_inside(outline: Outline, width: float, height: float) -> Outline:
    """Return an outline shifted back onto a board of this size (0 = not known) where it can be."""
    left, top, right, bottom = bounds(outline)
    across = -left if left < 0 else min(0.0, width - right) if width else 0.0
    down = -top if top < 0 else min(0.0, height - bottom) if height else 0.0
    return moved(outline, across, down) if across or down else outline
