"""An inspection hidden, for tests of several boards."""

from __future__ import annotations

from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.session import Session


def hide_last(session: Session) -> None:
    """Hide the last inspection of an open board: it is being graded blind from now on."""
    session.do(start_blind, BlindChoice(max(session.record.inspections), "bench", None, 50.0))
