"""Everything a report is written from: the board, what was worked out for it, and what the user chose."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TYPE_CHECKING, NamedTuple

from rustboard.board.record import BoardRecord
from rustboard.report.choice import ReportChoice, ReportPictures, Shop

if TYPE_CHECKING:
    from rustboard.report.agreement_sheet import AgreementContent
    from rustboard.report.exposure_sheet import ExposureContent
    from rustboard.report.findings_content import FindingsContent
    from rustboard.report.side_by_side_sheet import ComparedCoupon


class AuditLine(NamedTuple):
    """One step in the record of changes: when (as recorded), who, and what in words."""

    at: str
    who: str
    what: str


class DayReadings(NamedTuple):
    """The weather of one day; what is not known is None.

    Attributes:
        day: at the board. wet_hours: ISO 9223. coverage: share of the day that is known, 0 to 1.
    """

    day: date
    wet_hours: float | None
    rain_mm: float | None
    mean_temperature_c: float | None
    lowest_temperature_c: float | None
    highest_temperature_c: float | None
    mean_rh_percent: float | None
    coverage: float


@dataclass(frozen=True, slots=True)
class ReportContent:
    """All that the forms of a report (workbook, PDF, one page, pictures) are written from.

    Attributes:
        record: the board. generated: the time shown on the cover; the same content makes the same bytes.
        by: who made it; may be empty.
        compared: the coupons in their order by choices side by side.
        agreement, exposure, findings: None where there is nothing, or it was not worked out.
        places: along the chosen clock, of each inspection by key; empty = by days.
        audit: oldest first. days: of the weather, in order.
    """

    record: BoardRecord
    generated: datetime
    by: str = ""
    choice: ReportChoice = field(default_factory=ReportChoice)
    shop: Shop = field(default_factory=Shop)
    compared: Sequence[ComparedCoupon] = ()
    agreement: AgreementContent | None = None
    exposure: ExposureContent | None = None
    findings: FindingsContent | None = None
    pictures: ReportPictures = field(default_factory=ReportPictures)
    places: dict[int, float | None] = field(default_factory=dict)
    audit: tuple[AuditLine, ...] = ()
    days: tuple[DayReadings, ...] = ()
