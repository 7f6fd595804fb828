"""The workbook with what is worked out for it, written beside the window."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.weather import WeatherRequest

if TYPE_CHECKING:
    from rustboard.report.findings_content import FindingsContent

_STEPS: Final = 3


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
    """Write the workbook of a snapshot of a board; return where. Stopped, it leaves the file as it was.

    Raises:
        InputError: the disk refused, or the weather's readings are damaged.
    """
    progress.step(0, _STEPS)
    last_look = partial(progress.step, _STEPS - 1, _STEPS)
    write_whole_workbook(
        record, path, generated, by=by, weather=weather, findings=findings, last_look=last_look, progress=progress
    )
    return path


def write_whole_workbook(
    record: BoardRecord,
    path: Path,
    generated: datetime,
    *,
    by: str = "",
    weather: WeatherRequest | None = None,
    findings: FindingsContent | None = None,
    last_look: Callable[[], None] | None = None,
    progress: Progress | None = None,
) -> None:
    """Write the workbook of a board with what has to be worked out for it; arguments as for `write_workbook`.

    Without ``weather``, all that the board knows of its weather, the sheet of exposure is left out. Without
    ``findings`` they are worked out here, as the board's own question asks; ``progress`` may stop that.

    Raises:
        InputError: the disk refused, or the weather's readings are damaged.
    """
    # Here, because the window that asks for a report brings none of it with it.
    from rustboard.report.workbook import write_workbook
    from rustboard.session.agreement_report import agreement_content
    from rustboard.session.exposure_report import exposure_content
    from rustboard.session.side_by_side_order import compared_coupons

    write_workbook(
        record,
        path,
        generated=generated,
        by=by,
        compared=compared_coupons(record),
        agreement=agreement_content(record),
        exposure=exposure_content(record, weather),
        findings=findings or _own_findings(record, progress),
        last_look=last_look,
    )


def _own_findings(record: BoardRecord, progress: Progress | None) -> FindingsContent | None:
    """Return what the board shows, as its own question asks; None where nothing was graded or something is hidden."""
    from rustboard.session.findings import FindingsAsked, view_of, whole_findings
    from rustboard.session.findings_report import findings_content

    if record.hidden_inspection is not None or not any(record.current.values()):
        return None
    asked = FindingsAsked(record, view_of(record))
    return findings_content(whole_findings(asked, Progress() if progress is None else _Quiet(progress)))


class _Quiet(Progress):
    """Asks whether to stop, and tells nothing: the steps told are those of the whole workbook."""

    def __init__(self, whole: Progress) -> None:
        super().__init__()
        self._whole = whole

    def step(self, done: int, total: int) -> None:
        """Stop where the whole was asked to stop."""
        self._whole.step(1, _STEPS)
