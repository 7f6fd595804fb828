"""What one tile says, gathered from the record in one go so that painting asks nothing."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.board.damage import Damage
from rustboard.board.left_out import LeftOut
from rustboard.board.measured import Measurement
from rustboard.board.model import Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.session.photo_days import measured_at
from rustboard.support.text import printable


@dataclass(frozen=True, slots=True)
class TileView:
    """One tile's content.

    Attributes:
        grading: the grade at the inspection in view, or None.
        earlier: the newest grade before it, or None; shown small while the coupon is ungraded.
        earlier_day: day of exposure of that grade.
        history: (day, grade, gap before) of every grade up to the inspection in view.
        last_day: right end of the small history, the same for every tile.
        outline: points in mm, or empty.
        measured: what the photo of the inspection says, once the coupon is graded; else None.
        damages: what is noted at the inspection beside the grade.
        left_out: why the coupon is left out of the findings; empty where it counts.
    """

    key: int
    id: str
    treatment: str
    is_control: bool
    grading: Grading | None
    earlier: Grading | None
    earlier_day: float
    history: tuple[tuple[float, int, bool], ...]
    last_day: float
    outline: tuple[tuple[float, float], ...]
    measured: Measurement | None = None
    damages: tuple[Damage, ...] = ()
    left_out: str = ""


def tile_view(
    record: BoardRecord,
    coupon: Coupon,
    inspection: Inspection | None,
    inspections: list[Inspection],
    damages: tuple[Damage, ...] = (),
    left_out: LeftOut | None = None,
) -> TileView:
    """Return what the tile of a coupon shows with ``inspection`` in view.

    ``inspections`` are those up to and with the one in view, by time; ``damages`` those noted at it;
    ``left_out`` says why the coupon is left out of the findings.
    """
    treatment = record.treatment_of(coupon)
    history = record.history(coupon.key, inspections)
    grading = None if inspection is None else record.grading(coupon.key, inspection.key)
    before = [each for each in history if inspection is None or each.grading.inspection != inspection.key]
    return TileView(
        key=coupon.key,
        id=printable(coupon.id),
        treatment=printable(treatment.title) if treatment is not None else "",
        is_control=coupon.role == "control",
        grading=grading,
        earlier=before[-1].grading if before else None,
        earlier_day=before[-1].day if before else 0.0,
        history=tuple((each.day, each.grading.grade, each.missed) for each in history),
        last_day=max(record.day_of(inspections[-1].at), 1.0) if inspections else 1.0,
        outline=coupon.outline_mm,
        measured=photo_of_graded(record, coupon.key, grading),
        damages=damages,
        left_out="" if left_out is None else printable(left_out.reason),
    )


def photo_of_graded(record: BoardRecord, coupon: int, grading: Grading | None) -> Measurement | None:
    """Return what the photo says beside a grade that was given; nothing before, so that it sways nobody."""
    if grading is None or not record.measured:
        return None
    return measured_at(record, coupon, grading.inspection)


def seen_inspections(record: BoardRecord, inspection: Inspection | None) -> list[Inspection]:
    """Return the inspections up to and with the one in view, by time."""
    ordered = record.inspections_in_order()
    if inspection is None:
        return ordered
    limit = (inspection.at, inspection.key)
    return [each for each in ordered if (each.at, each.key) <= limit]
