"""The planned inspections, written for the user's calendar program."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

from rustboard.board.record import BoardRecord


def write_calendar_file(record: BoardRecord, path: Path, written: datetime) -> int:
    """Write the calendar file of a board; return how many looks it holds.

    Args:
        record: the board.
        path: the .ics file.
        written: the time of writing; without a zone it is a time of this computer.

    Raises:
        InputError: no start or no days, or the disk refused.
    """
    from rustboard.report.calendar_file import write_calendar

    return write_calendar(record, path, written=written)


def check_calendar(record: BoardRecord) -> None:
    """Refuse a board that a calendar file cannot be written of, before a file name is asked for.

    Raises:
        InputError: no start or no days.
    """
    from rustboard.report.calendar_file import calendar_start

    calendar_start(record)
