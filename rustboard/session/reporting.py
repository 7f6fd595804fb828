"""The workbook, written beside the window."""

from __future__ import annotations

from datetime import datetime
from functools import partial
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.session.agreement_report import agreement_content
from rustboard.session.jobs import Progress


def write_report(record: BoardRecord, path: Path, generated: datetime, by: str, progress: Progress) -> Path:
    """Write the workbook of a snapshot of a board; return where. Stopped, it leaves the file as it was.

    Raises:
        InputError: the disk refused.
    """
    from rustboard.report.workbook import write_workbook

    progress.step(0, 2)
    agreement = agreement_content(record)
    last_look = partial(progress.step, 1, 2)
    write_workbook(record, path, generated=generated, by=by, agreement=agreement, last_look=last_look)
    return path
