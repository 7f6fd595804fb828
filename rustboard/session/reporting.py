"""The workbook with what is worked out for it, written beside the window."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from functools import partial
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress


def write_report(record: BoardRecord, path: Path, generated: datetime, by: str, progress: Progress) -> Path:
    """Write the workbook of a snapshot of a board; return where. Stopped, it leaves the file as it was.

    Raises:
        InputError: the disk refused.
    """
    progress.step(0, 2)
    write_whole_workbook(record, path, generated, by=by, last_look=partial(progress.step, 1, 2))
    return path


def write_whole_workbook(
    record: BoardRecord,
    path: Path,
    generated: datetime,
    *,
    by: str = "",
    last_look: Callable[[], None] | None = None,
) -> None:
    """Write the workbook of a board with what has to be worked out for it; arguments as for `write_workbook`.

    Raises:
        InputError: the disk refused.
    """
    # Here, because the window that asks for a report brings none of it with it.
    from rustboard.report.workbook import write_workbook
    from rustboard.session.agreement_report import agreement_content
    from rustboard.session.side_by_side_order import compared_coupons

    compared, agreement = compared_coupons(record), agreement_content(record)
    write_workbook(
        record, path, generated=generated, by=by, compared=compared, agreement=agreement, last_look=last_look
    )
