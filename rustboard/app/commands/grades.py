"""``rustboard grades``: the tidy table of grades, one row a grade that counts."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from pathlib import Path

from rustboard.app.commands.opening import read_board
from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.app.commands.plain_table import plain_table
from rustboard.report.tidy import COLUMNS, grade_rows, grades_csv

_NUMBERS = frozenset({"grade", "percent"})


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    form = parser.add_mutually_exclusive_group()
    form.add_argument("--csv", action="store_true", help="print CSV, for spreadsheet programs")
    form.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Print the grades that count. Works while a window has the board open.

    Raises:
        InputError: there is no sound board.
    """
    record = read_board(arguments.board)
    if arguments.csv:
        return Outcome(grades_csv(record), None, verbatim=True)
    rows = grade_rows(record)
    if arguments.json:
        return Outcome("", rows)
    if not rows:
        return Outcome(f"The board {record.board.name} has no grades yet.", rows)
    cells = [[_cell(row, name) for name in COLUMNS] for row in rows]
    return Outcome(plain_table(COLUMNS, cells, right=_NUMBERS), rows)


def _cell(row: Mapping[str, object], name: str) -> str:
    value = row[name]
    if value is None:
        return ""
    if name == "inspected":
        return str(value).replace("T", " ")[:16]
    return f"{value:.4g}" if isinstance(value, float) else str(value)
