"""What a report is written from, gathered beside the window; and the workbook written of it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.weather import WeatherRequest
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.report.choice import ReportChoice, Shop
    from rustboard.report.content import AuditLine, ReportContent
    from rustboard.report.findings_content import FindingsContent

GATHERING: Final = 80
"""Steps of a hundred that `gather_content` tells; writing takes the others."""
_WRITING: Final = 100


@dataclass(frozen=True, slots=True)
class ReportRequest:
    """What a report is gathered from; frozen.

    Attributes:
        record: a snapshot of the board. generated: when, as the cover shows it. by: who made it; may be empty.
        choice: what the user chose; None = everything, as the program writes it. shop: whoever makes it.
        weather: all that the board knows of its weather, or None.
        findings: as worked out already; None = work them out here, as the board's own question asks.
        audit: the record of changes, oldest first (`session/report_audit.py`).
        folder: of the board, for photos; None = no pictures.
    """

    record: BoardRecord
    generated: datetime
    by: str = ""
    choice: ReportChoice | None = None
    shop: Shop | None = None
    weather: WeatherRequest | None = None
    findings: FindingsContent | None = None
    audit: tuple[AuditLine, ...] = ()
    folder: Path | None = None


def gather_content(request: ReportRequest, progress: Progress) -> ReportContent:
    """Return everything that the forms of a report are written from; a job, told up to `GATHERING` of a hundred.

    Raises:
        InputError: the weather's readings are damaged.
        Cancelled: ``progress`` was asked to stop.
    """
    # Here, because the window that asks for a report brings none of it with it.
    from rustboard.report.choice import ReportChoice, Shop
    from rustboard.report.content import ReportContent
    from rustboard.session.agreement_report import agreement_content
    from rustboard.session.exposure_report import exposure_content
    from rustboard.session.report_days import day_readings
    from rustboard.session.report_pictures import report_pictures
    from rustboard.session.side_by_side_order import compared_coupons

    record, choice = request.record, request.choice or ReportChoice()
    progress.step(0, _WRITING)
    content = ReportContent(
        record,
        request.generated,
        request.by,
        choice,
        request.shop or Shop(),
        audit=request.audit,
        compared=compared_coupons(record),
        agreement=agreement_content(record),
    )
    progress.step(5, _WRITING)
    content = replace(content, exposure=exposure_content(record, request.weather, choice.writing))
    content = replace(content, days=day_readings(record, request.weather, _Part(progress, 10, 20)))
    content = replace(content, **_along_the_clock(request, choice, _Part(progress, 20, 25)))
    findings = request.findings or _own_findings(record, choice, _Part(progress, 25, 50))
    content = replace(content, findings=findings)
    if request.folder is not None:
        pictures = report_pictures(record, request.folder, choice, _Part(progress, 50, GATHERING))
        content = replace(content, pictures=pictures)
    progress.step(GATHERING, _WRITING)
    return content


def write_workbook_report(request: ReportRequest, path: Path, progress: Progress) -> Path:
    """Gather a report and write its workbook; return where. Stopped, it leaves the file as it was.

    Raises:
        InputError: the disk refused, or the weather's readings are damaged.
        Cancelled: ``progress`` was asked to stop.
    """
    from rustboard.report.workbook import write_workbook

    content = gather_content(request, progress)
    write_workbook(content, path, partial(progress.step, _WRITING - 1, _WRITING))
    return path


def write_report(
    record: BoardRecord,
    path: Path,
    generated: datetime,
    by: str,
    progress: Progress,
    *,
    weather: WeatherRequest | None = None,
    findings: FindingsContent | None = None,
) -> Path:
    """Write the workbook of a snapshot of a board with everything in it; as `write_workbook_report`."""
    request = ReportRequest(record, generated, by, weather=weather, findings=findings)
    return write_workbook_report(request, path, progress)


def write_whole_workbook(
    record: BoardRecord,
    path: Path,
    generated: datetime,
    *,
    by: str = "",
    weather: WeatherRequest | None = None,
    findings: FindingsContent | None = None,
    progress: Progress | None = None,
) -> None:
    """Write the workbook of a board with everything in it, for commands; as `write_workbook_report`.

    Without ``weather``, all that the board knows of its weather, the sheet of exposure is left out. Without
    ``findings`` they are worked out here, as the board's own question asks; ``progress`` may stop that.
    """
    request = ReportRequest(record, generated, by, weather=weather, findings=findings)
    write_workbook_report(request, path, progress or Progress())


def _along_the_clock(request: ReportRequest, choice: ReportChoice, progress: Progress) -> dict[str, Any]:
    """Return the chosen clock with the place of each inspection; days where that is not known.

    The choice goes back to days then, so that no heading names what is not drawn.
    """
    from rustboard.session.findings import FindingsAsked, clock_of, view_of

    record = request.record
    if choice.clock == "days" or not record.inspections:
        return {}
    view = replace(view_of(record), clock=choice.clock)
    try:
        clock = clock_of(FindingsAsked(record, view, request.weather), progress)
    except InputError:
        return {"choice": replace(choice, clock="days")}
    inspections = record.inspections_in_order()
    return {"places": {each.key: place for each, place in zip(inspections, clock.places, strict=True)}}


def _own_findings(record: BoardRecord, choice: ReportChoice, progress: Progress) -> FindingsContent | None:
    """Return what the board shows, as its own question asks; None where nothing was graded or something is hidden."""
    from rustboard.session.findings import FindingsAsked, view_of, whole_findings
    from rustboard.session.findings_report import findings_content

    if record.hidden_inspection is not None or not any(record.current.values()):
        return None
    asked = FindingsAsked(record, view_of(record))
    return findings_content(whole_findings(asked, progress), choice.writing)


class _Part(Progress):
    """Tells the steps of a part as steps of the whole, and stops where the whole is asked to."""

    def __init__(self, whole: Progress, first: int, last: int) -> None:
        super().__init__()
        self._whole, self._first, self._last = whole, first, last

    def step(self, done: int, total: int) -> None:
        """Tell how far the whole is."""
        share = min(1.0, done / total) if total > 0 else 1.0
        self._whole.step(self._first + round(share * (self._last - self._first)), _WRITING)
