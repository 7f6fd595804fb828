"""The workbook, written beside the window."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress


def write_report(record: BoardRecord, path: Path, generated: datetime, by: str, progress: Progress) -> Path:
    """Write the workbook of a snapshot of a board; return where.

    Raises:
        InputError: the disk refused.
    """
    from rustboard.report.workbook import write_workbook

    progress.step(0, 1)
    write_workbook(record, path, generated=generated, by=by)
    return path
