"""How a board is cut into sheets that overlap, and the crosses by which they are joined again."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import NamedTuple

from rustboard.report.paper.shapes import Area

_ROUNDING = 1e-9


class Tile(NamedTuple):
    """One sheet's part of the board.

    Attributes:
        row, column: 1 is the top row and the leftmost column of sheets.
        part: in millimetres on the board.
    """

    row: int
    column: int
    part: Area


class Cross(NamedTuple):
    """A point of the board that several sheets show.

    Attributes:
        number: the same on every sheet that shows it.
    """

    number: int
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Tiling:
    """The sheets of a board, row by row.

    Attributes:
        region: what they cover together.
    """

    region: Area
    overlap_mm: float
    rows: int
    columns: int
    tiles: tuple[Tile, ...]
    crosses: tuple[Cross, ...]

    def alone(self, this: Tile) -> Area:
        """Return what no other sheet shows; along a side where that is hardly anything, the whole side."""
        left, right = _alone(this.part.left, this.part.right, this.column, self.columns, self.overlap_mm)
        top, bottom = _alone(this.part.top, this.part.bottom, this.row, self.rows, self.overlap_mm)
        return Area(left, top, right - left, bottom - top)


def _alone(start: float, end: float, number: int, count: int, overlap: float) -> tuple[float, float]:
    alone = start + (overlap if number > 1 else 0.0), end - (overlap if number < count else 0.0)
    return alone if alone[1] - alone[0] >= 2 * overlap else (start, end)


def count_tiles(region: Area, width: float, height: float, overlap_mm: float) -> tuple[int, int]:
    """Return how many rows and columns of sheets a region takes; a sheet shows ``width`` x ``height``."""
    return _count(region.height, height, overlap_mm), _count(region.width, width, overlap_mm)


def _count(length: float, reach: float, overlap: float) -> int:
    if reach <= overlap:
        raise ValueError("a sheet must show more than the overlap")
    return 1 + max(0, math.ceil((length - reach) / (reach - overlap) - _ROUNDING))


def tile(region: Area, width: float, height: float, overlap_mm: float) -> Tiling:
    """Return the sheets of a region; neighbours share exactly ``overlap_mm``, and the last ones may be smaller."""
    rows, columns = count_tiles(region, width, height, overlap_mm)
    across = _parts(region.left, region.right, width, overlap_mm, columns)
    down = _parts(region.top, region.bottom, height, overlap_mm, rows)
    tiles = tuple(
        Tile(row, column, Area(left, top, right - left, bottom - top))
        for row, (top, bottom) in enumerate(down, start=1)
        for column, (left, right) in enumerate(across, start=1)
    )
    return Tiling(region, overlap_mm, rows, columns, tiles, _crosses(across, down, overlap_mm))


def _parts(start: float, end: float, reach: float, overlap: float, count: int) -> list[tuple[float, float]]:
    step = reach - overlap
    return [(start + number * step, min(end, start + number * step + reach)) for number in range(count)]


def _crosses(across: list[tuple[float, float]], down: list[tuple[float, float]], overlap: float) -> tuple[Cross, ...]:
    """Put two crosses on the middle line of every overlap, a quarter from the ends of the sheets' edges."""
    seams_x = [right - overlap / 2 for _, right in across[:-1]]
    seams_y = [bottom - overlap / 2 for _, bottom in down[:-1]]
    points = [(x, y) for x in seams_x for y in _quarters(down)]
    points += [(x, y) for y in seams_y for x in _quarters(across)]
    points.sort(key=lambda point: (point[1], point[0]))
    return tuple(Cross(number, x, y) for number, (x, y) in enumerate(points, start=1))


def _quarters(parts: list[tuple[float, float]]) -> list[float]:
    return [start + share * (end - start) for start, end in parts for share in (0.25, 0.75)]
