"""The record of changes in a report tells what was undone, and no grade that is still hidden."""

from __future__ import annotations

from contextlib import closing
from datetime import datetime
from pathlib import Path

from rustboard.board.model import Inspection
from rustboard.operations.blind import BlindChoice, GivenBlind, begin_round, give_blind, start_blind
from rustboard.operations.inspections import add_inspection
from rustboard.session.report_audit import audit_of, look_for_report
from rustboard.session.session import Session


def both_ways(session: Session, folder: Path) -> list[str]:
    """Return the lines of an open board, which are those of the board looked at."""
    lines = audit_of(session)
    assert look_for_report(folder)[2] == lines
    return [each.what for each in lines]


def test_a_step_that_was_taken_back_and_done_again_says_so(graded_board: Path) -> None:
    with closing(Session(graded_board)) as session:
        session.do(add_inspection, Inspection(datetime(2026, 3, 16, 9)))
        session.undo()
        session.redo()
        step = "Add inspection of 2026-03-16 09:00"
        assert both_ways(session, graded_board)[-3:] == [step, f"Undone: {step}", f"Done again: {step}"]


def test_while_an_inspection_is_hidden_no_line_tells_a_blind_grade(graded_board: Path) -> None:
    with closing(Session(graded_board)) as session:
        (inspection,) = session.do(add_inspection, Inspection(datetime(2026, 3, 16, 9))).tables["inspection"]
        (blind,) = session.do(start_blind, BlindChoice(inspection, "bench")).tables["blind_inspection"]
        (key,) = session.do(begin_round, blind, "Ada", 7).tables["blind_round"]
        session.do(give_blind, GivenBlind(key, 0, 3))
        session.do(give_blind, GivenBlind(key, 0, 9))
        session.undo()
        told = both_ways(session, graded_board)[-3:]
    shown = told[0].rpartition(" of ")[2]
    assert told == [
        f"Blind grade 1 of {shown}",
        f"Correct blind grade 1 of {shown}",
        f"Undone: Correct blind grade 1 of {shown}",
    ]
    assert shown.isdigit()
