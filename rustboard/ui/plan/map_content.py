"""What the plan's map shows at each place: which coupon, of which treatment, and what is amiss there."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication

from rustboard.board.drain import drain_breaks, hung_coupons
from rustboard.board.lot_changes import drawn_positions
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.support.text import printable
from rustboard.ui.grid.geometry import Place


@dataclass(frozen=True, slots=True)
class PlanTile:
    """One coupon on the map.

    Attributes:
        key: of the coupon. treatment: key of its treatment, or None.
        drips_on, dripped_by: ids of coupons of other treatments below and above it in a drip's way; mostly empty.
        drawn: where the lots put it when it hangs elsewhere now, else None.
    """

    key: int
    id: str
    treatment: int | None
    treatment_id: str
    treatment_title: str
    control: bool
    drips_on: str = ""
    dripped_by: str = ""
    drawn: Position | None = None


def map_tiles(record: BoardRecord) -> dict[Place, PlanTile]:
    """Return every coupon by the place where it is shown; those off the board stand in the tray."""
    below, above = _drips(record)
    drawn = drawn_positions(record)
    tiles: dict[Place, PlanTile] = {}
    spot = 0
    for coupon in record.coupons_in_order():
        place = Place(coupon.position) if coupon.position is not None else Place(tray=spot)
        spot += coupon.position is None
        treatment = record.treatment_of(coupon)
        lot = drawn.get(coupon.key)
        tiles[place] = PlanTile(
            key=coupon.key,
            id=coupon.id,
            treatment=coupon.treatment,
            treatment_id="" if treatment is None else treatment.id,
            treatment_title="" if treatment is None else treatment.title,
            control=coupon.role == "control",
            drips_on=below.get(coupon.key, ""),
            dripped_by=above.get(coupon.key, ""),
            drawn=lot if lot is not None and lot != coupon.position else None,
        )
    return tiles


def _drips(record: BoardRecord) -> tuple[dict[int, str], dict[int, str]]:
    below: dict[int, str] = {}
    above: dict[int, str] = {}
    for each in drain_breaks(hung_coupons(record), record.layout, record.board.incline_deg):
        below[each.above] = record.coupons[each.below].id
        above[each.below] = record.coupons[each.above].id
    return below, above


def described(tile: PlanTile | None, place: Place) -> str:
    """Return in one line what stands at a place, for reading it aloud and for the line above the map."""
    say = QCoreApplication.translate
    label = place.position.label if place.position is not None else say("plan", "off the board")
    if tile is None:
        return say("plan", "{0}: empty position").format(label)
    parts = [f"{label}: {tile.id}", tile.treatment_title or say("plan", "no treatment")]
    if tile.control:
        parts.append(say("plan", "control"))
    if tile.dripped_by:
        parts.append(say("plan", "{0} above drips on it").format(tile.dripped_by))
    if tile.drips_on:
        parts.append(say("plan", "drips on {0} below").format(tile.drips_on))
    if tile.drawn is not None:
        parts.append(say("plan", "drawn for {0}").format(tile.drawn.label))
    return printable(", ".join(parts))
