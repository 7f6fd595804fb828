"""The record of changes of a board, for the report."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.operations.blind_steps import CORRECTED, GIVEN
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

_STEPS: Final = {"undo": "Undone: {0}", "redo": "Done again: {0}"}
_WITHOUT_THE_GRADE: Final = {GIVEN: "Blind grade {0} of {1}", CORRECTED: "Correct blind grade {0} of {1}"}
"""How a blind grade is told while an inspection is hidden: the next grader may read the report."""


def audit_of(session: Session) -> tuple[AuditLine, ...]:
    """Return the record of changes of an open board, oldest first."""
    return _oldest_first(session.record, session.audit(MOST_LINES))


def look_for_report(path: Path) -> tuple[BoardRecord, WeatherRequest, tuple[AuditLine, ...]]:
    """Return a board, its weather and its record of changes, of one moment; else as `looking.look_at_board`.

    Raises:
        InputError: there is no sound board, or the readings are damaged.
    """
    return look(path, _with_all)


def _with_all(connection: sqlite3.Connection) -> tuple[BoardRecord, WeatherRequest, tuple[AuditLine, ...]]:
    record = read_record(connection)
    weather = request_of(record, partial(read_content, connection))
    return record, weather, _oldest_first(record, audit_lines(connection, MOST_LINES))


def _oldest_first(record: BoardRecord, lines: Iterable[tuple[str, str, str, Summary]]) -> tuple[AuditLine, ...]:
    from rustboard.report.content import AuditLine

    withheld = {} if record.hidden_inspection is None else _WITHOUT_THE_GRADE
    return tuple(
        AuditLine(at, who, _STEPS.get(operation, "{0}").replace("{0}", what.text(withheld.get(what.pattern))))
        for at, who, operation, what in reversed(list(lines))
    )
