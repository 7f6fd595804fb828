"""What can be drawn on the board: outlines of coupons, areas of theirs that do not count, and a colour card."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from rustboard.board.measured import Card, ExcludedArea, ExcludedKind
from rustboard.board.model import Coupon, Outline
from rustboard.board.outline import bounds
from rustboard.board.record import BoardRecord
from rustboard.ui.outlines.shapes import centre_of, centred, kept_inside, kind_of, moved, size_of

_SAME_MM = 0.6


@dataclass(frozen=True, slots=True)
class Part:
    """One thing that has an outline.

    Attributes:
        kind: ``outline`` of a coupon, ``area`` of it that does not count, or ``card`` on the board.
        coupon: key, 0 for a card.
        area: key of the excluded area; 0 for one that is about to be drawn.
    """

    kind: Literal["outline", "area", "card"]
    coupon: int = 0
    area: int = 0


def shapes_on(record: BoardRecord) -> dict[Part, Outline]:
    """Return everything that has an outline, in board millimetres, what lies on top last."""
    shapes = {Part("outline", each.key): each.outline_mm for each in record.coupons_in_order() if each.outline_mm}
    for area in record.excluded_areas.values():
        origin = box_corner(record, area.coupon)
        if origin is not None:
            shapes[Part("area", area.coupon, area.key)] = moved(area.outline_mm, *origin)
    card = card_of(record)
    if card is not None:
        shapes[Part("card")] = card.outline_mm
    return shapes


def card_of(record: BoardRecord) -> Card | None:
    """Return the board's colour card, or None."""
    return next(iter(record.cards.values()), None)


def box_corner(record: BoardRecord, coupon: int) -> tuple[float, float] | None:
    """Return the top left corner of the box around a coupon's outline, or None where it has none."""
    found = record.coupons.get(coupon)
    return bounds(found.outline_mm)[:2] if found is not None and found.outline_mm else None


def areas_of(record: BoardRecord, coupon: int) -> list[ExcludedArea]:
    """Return the areas of a coupon that do not count, as they were drawn."""
    return sorted((each for each in record.excluded_areas.values() if each.coupon == coupon), key=_key_of)


def areas_with(record: BoardRecord, part: Part, outline: Outline, kind: ExcludedKind) -> list[ExcludedArea] | None:
    """Return a coupon's areas once one of them has another outline (board mm), or is new; an empty one goes.

    None when the coupon has no outline to count from.
    """
    origin = box_corner(record, part.coupon)
    if origin is None:
        return None
    drawn = moved(outline, -origin[0], -origin[1]) if outline else ()
    kept = [
        ExcludedArea(part.coupon, each.kind, drawn if each.key == part.area else each.outline_mm)
        for each in areas_of(record, part.coupon)
    ]
    if not part.area:
        kept.append(ExcludedArea(part.coupon, kind, drawn))
    return [each for each in kept if each.outline_mm]


def given_to(record: BoardRecord, source: Coupon, coupons: list[int]) -> dict[int, Outline]:
    """Return a coupon's shape at the places of others.

    Where a coupon has an outline, the shape goes to its middle; else it goes as far as the positions lie apart.
    """
    board = record.board
    given: dict[int, Outline] = {}
    for key in coupons:
        other = record.coupons[key]
        if other.outline_mm:
            shape = centred(source.outline_mm, centre_of(other.outline_mm))
        elif other.position is not None and source.position is not None and board.width_mm and board.height_mm:
            right = (other.position.column - source.position.column) * board.width_mm / board.columns
            down = (other.position.row - source.position.row) * board.height_mm / board.rows
            shape = moved(source.outline_mm, right, down)
        else:
            continue
        given[key] = kept_inside(shape, board.width_mm, board.height_mm)
    return given


def areas_given_to(record: BoardRecord, source: int, coupons: list[int]) -> Mapping[int, list[ExcludedArea]]:
    """Return a coupon's areas that do not count for others of the same shape."""
    areas = areas_of(record, source)
    return {key: [ExcludedArea(key, each.kind, each.outline_mm) for each in areas] for key in coupons}


def same_shaped(record: BoardRecord, source: Coupon) -> list[int]:
    """Return the other coupons that have about this shape already, or none yet and hang on the board."""
    kind, (width, height) = kind_of(source.outline_mm), size_of(source.outline_mm)
    found = []
    for each in record.coupons_in_order():
        if each.key == source.key:
            continue
        if not each.outline_mm:
            if each.position is not None and source.position is not None:
                found.append(each.key)
            continue
        other_width, other_height = size_of(each.outline_mm)
        alike = abs(other_width - width) <= _SAME_MM and abs(other_height - height) <= _SAME_MM
        if alike and kind_of(each.outline_mm) == kind:
            found.append(each.key)
    return found


def _key_of(area: ExcludedArea) -> int:
    return area.key
