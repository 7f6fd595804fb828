"""``rustboard add-grades``: grades typed elsewhere."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from contextlib import closing
from dataclasses import asdict, dataclass
from pathlib import Path

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.board.csv_table import MOST_BYTES
from rustboard.board.grades_csv import read_grades_csv
from rustboard.board.record import BoardRecord
from rustboard.operations.typed_grades import add_typed_grades, match_typed_grades
from rustboard.session.session import Session
from rustboard.support.files import read_bounded
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import counted

_EXPLANATION = """
The file has the columns date, coupon and grade; distribution, percent, grader and note may follow. A grade that
differs from the one the board has corrects it; the old one is kept in the record. A grade that the board has, or
had before it was corrected, is not added again: the same file twice changes nothing. All rows that can be used are
added in one step, which the window can undo.
"""


@dataclass(frozen=True, slots=True)
class Counts:
    """What became of the rows that could be used.

    Attributes:
        added: grades where there was none.
        corrected: grades that took the place of another.
        already_there: grades that the board had just so, the corrected ones among them.
        inspections_added: visits that the board did not have yet.
    """

    added: int = 0
    corrected: int = 0
    already_there: int = 0
    inspections_added: int = 0


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.epilog = _EXPLANATION
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument("file", metavar="FILE.csv", type=Path, help="the grades")
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Add the grades of all rows that can be used, in one step.

    Raises:
        InputError: board or file cannot be read, or the board may not be written; nothing was added.
    """
    file: Path = arguments.file
    typed, problems = read_grades_csv(read_bounded(file, MOST_BYTES), file.name)
    with closing(Session(existing(arguments.board), who=load_settings().grader)) as session:
        if session.read_only_reason:
            raise InputError(f"{session.read_only_reason.removesuffix('.')}; no grade was added.")
        matched, unmatched = match_typed_grades(session.record, typed, file.name)
        problems = sorted([*problems, *unmatched], key=_by_row)
        before = _standing(session.record)
        inspections = len(session.record.inspections)
        changed: frozenset[int] = frozenset()
        if matched:
            changed = session.do(add_typed_grades, matched).tables.get("grading", frozenset())
        record = session.record
        # What was there and has changed was the grade that counted; the rest is new.
        recorded = len(changed - set(before.values()))
        added = len(_standing(record).keys() - before.keys())
        counts = Counts(
            added, recorded - added, len(matched) - recorded, inspections_added=len(record.inspections) - inspections
        )
    return _outcome(record.board.name, file.name, counts, problems, nothing_usable=not matched)


def _by_row(problem: Problem) -> float:
    return float("inf") if problem.row is None else problem.row


def _standing(record: BoardRecord) -> dict[tuple[int, int], int]:
    """Return the key of the grade that counts by coupon and inspection."""
    return {
        (coupon, inspection): grading.key
        for coupon, graded in record.current.items()
        for inspection, grading in graded.items()
    }


def _outcome(board: str, file: str, counts: Counts, problems: Sequence[Problem], *, nothing_usable: bool) -> Outcome:
    data = {"board": board, "file": file, **asdict(counts), "problems": problem_objects(problems)}
    if nothing_usable:
        text = f"No row of {file} could be used; the board {board} is as it was."
    else:
        text = (
            f"{board}: {counted(counts.added, 'grade')} added, {counts.corrected} corrected, "
            f"{counts.already_there} already there, {counted(counts.inspections_added, 'new inspection')}."
        )
    return Outcome(text, data, tuple(problems), failed=nothing_usable)
