"""What a report is gathered from: of a board that is open, and of one that is only looked at."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from rustboard.session.report_audit import audit_of, look_for_report
from rustboard.session.reporting import ReportRequest
from rustboard.session.session import Session
from rustboard.session.weather import weather_request
from rustboard.store.folder import board_file_of

if TYPE_CHECKING:
    from rustboard.report.choice import ReportChoice, Shop


def report_request(session: Session, choice: ReportChoice, shop: Shop, by: str, now: datetime) -> ReportRequest:
    """Return what the report of an open board is gathered from; frozen.

    Args:
        session: the board.
        choice: parts and looks.
        shop: whoever makes it.
        by: the person at the desk; may be empty.
        now: the time on the cover.

    Raises:
        InputError: the weather's readings are damaged.
    """
    return ReportRequest(
        session.record.snapshot(),
        now,
        by,
        choice,
        shop,
        weather_request(session),
        audit=audit_of(session),
        folder=session.folder,
    )


def looked_at_request(path: Path, shop: Shop, now: datetime) -> ReportRequest:
    """Return what the report of a board is gathered from that a window may have open; without a choice.

    Raises:
        InputError: there is no sound board, or the weather's readings are damaged.
    """
    record, weather, audit = look_for_report(path)
    folder = board_file_of(path).parent
    return ReportRequest(record, now, shop=shop, weather=weather, audit=audit, folder=folder)
