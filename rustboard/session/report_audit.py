"""The record of changes of a board, for the report."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.session.looking import look
from rustboard.session.session import Session
from rustboard.session.weather import WeatherRequest, request_of
from rustboard.store.journal import audit_lines
from rustboard.store.reading import read_record
from rustboard.store.weather_content import read_content
from rustboard.support.summary import Summary

if TYPE_CHECKING:
    from rustboard.board.record import BoardRecord
    from rustboard.report.content import AuditLine

MOST_LINES: Final = 50_000
"""Of the record of changes in a report; of a longer one the newest are in it."""


def audit_of(session: Session) -> tuple[AuditLine, ...]:
    """Return the record of changes of an open board, oldest first."""
    return _oldest_first(session.audit(MOST_LINES))


def look_for_report(path: Path) -> tuple[BoardRecord, WeatherRequest, tuple[AuditLine, ...]]:
    """Return a board, its weather and its record of changes, of one moment; else as `looking.look_at_board`.

    Raises:
        InputError: there is no sound board, or the readings are damaged.
    """
    return look(path, _with_all)


def _with_all(connection: sqlite3.Connection) -> tuple[BoardRecord, WeatherRequest, tuple[AuditLine, ...]]:
    record = read_record(connection)
    weather = request_of(record, partial(read_content, connection))
    return record, weather, _oldest_first(audit_lines(connection, MOST_LINES))


def _oldest_first(lines: Iterable[tuple[str, str, str, Summary]]) -> tuple[AuditLine, ...]:
    from rustboard.report.content import AuditLine

    return tuple(AuditLine(at, who, what.text()) for at, who, _, what in reversed(list(lines)))
