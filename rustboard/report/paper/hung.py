"""What the map shows of the board: coupons with their outlines and holes, drip edges, markers, the region."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final, NamedTuple

from rustboard.board.model import Coupon, Marker
from rustboard.board.record import BoardRecord
from rustboard.report.paper.shapes import Area, area_around
from rustboard.support.text import one_line

EDGE_MM: Final = 6.0
"""Shown beyond the board's edge, for the words there."""


class Hung(NamedTuple):
    """A coupon on the board.

    Attributes:
        treatment: its name, or empty where it has none or may not be told.
        outline: empty when not given; then there are neither bounds nor hole.
        hole: centre of the hole: on the coupon's middle line, below its top edge.
    """

    position: str
    id: str
    treatment: str
    outline: tuple[tuple[float, float], ...]
    bounds: Area | None
    hole: tuple[float, float] | None


@dataclass(frozen=True, slots=True)
class MapContent:
    """What the map shows, in millimetres on the board.

    Attributes:
        board: the board itself; of the outermost things where its size is not known.
        size_known: whether the board's width and height are.
        drip_edges: heights of the strips that lead drips away.
    """

    rows: int
    columns: int
    board: Area
    size_known: bool
    coupons: tuple[Hung, ...]
    markers: tuple[Marker, ...]
    drip_edges: tuple[float, ...]

    @property
    def region(self) -> Area:
        """What the sheets must cover: the board, and whatever reaches beyond it by mistake."""
        areas = [self.board, *(each.bounds for each in self.coupons if each.bounds is not None)]
        areas += [marker_area(each) for each in self.markers]
        return area_around(corner for each in areas for corner in each.corners).shrunk(-EDGE_MM)

    @property
    def drawn(self) -> list[Hung]:
        """The coupons that have an outline."""
        return [each for each in self.coupons if each.bounds is not None]


def marker_area(marker: Marker) -> Area:
    """Return what a marker covers on the board."""
    x, y = marker.centre_mm
    return Area(x, y, 0.0, 0.0).shrunk(-marker.size_mm / 2)


def map_content(record: BoardRecord, *, treatments: bool) -> MapContent:
    """Return what the map of a board shows; treatments are named only when asked for."""
    hanging = [each for each in record.coupons_in_order() if each.position is not None]
    coupons = tuple(_hung(record, each, treatments=treatments) for each in hanging)
    size_known = bool(record.board.width_mm and record.board.height_mm)
    return MapContent(
        record.board.rows,
        record.board.columns,
        _board_area(record, coupons, size_known=size_known),
        size_known,
        coupons,
        record.markers,
        _drip_edges(hanging) if record.layout.drain == "drip edges" else (),
    )


def _hung(record: BoardRecord, coupon: Coupon, *, treatments: bool) -> Hung:
    treatment = record.treatment_of(coupon) if treatments else None
    bounds = area_around(coupon.outline_mm) if coupon.outline_mm else None
    hole = None if bounds is None else (bounds.middle[0], bounds.top + record.layout.hole_below_top_mm)
    return Hung(
        coupon.position.label if coupon.position is not None else "",
        one_line(coupon.id),
        "" if treatment is None else one_line(treatment.title),
        coupon.outline_mm,
        bounds,
        hole,
    )


def _board_area(record: BoardRecord, coupons: tuple[Hung, ...], *, size_known: bool) -> Area:
    if size_known:
        return Area(0.0, 0.0, record.board.width_mm, record.board.height_mm)
    corners = [(0.0, 0.0)]
    for each in coupons:
        corners += each.outline
    for marker in record.markers:
        corners += marker_area(marker).corners
    area = area_around(corners)
    return Area(0.0, 0.0, record.board.width_mm or area.right, record.board.height_mm or area.bottom)


def _drip_edges(hanging: list[Coupon]) -> tuple[float, ...]:
    """Return a height between each row of coupons and the next: in the middle of the gap, or where the row ends."""
    rows: dict[int, list[Area]] = {}
    for each in hanging:
        if each.position is not None and each.outline_mm:
            rows.setdefault(each.position.row, []).append(area_around(each.outline_mm))
    ordered = [rows[row] for row in sorted(rows)]
    edges = []
    for above, below in pairwise(ordered):
        end = max(area.bottom for area in above)
        start = min(area.top for area in below)
        edges.append((end + start) / 2 if start > end else end)
    return tuple(edges)
