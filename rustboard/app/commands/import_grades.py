"""``rustboard import-grades``: a new board of an old table of grades, where the table leaves no question."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Final

from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.board.old_grades.guess import Doubt
from rustboard.board.old_grades.layout import OldLayout
from rustboard.board.old_grades.past_board import PastBoard, old_treatments, past_board, usual_choice
from rustboard.session.jobs import Progress
from rustboard.session.new_board import free_folder
from rustboard.session.old_grades import OldTable, TableRequest, load_old_file, make_past_board, read_old_table
from rustboard.support.paths import login_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import counted, one_line

_ANSWERS: Final = {"order": "Answer with --day-first or --month-first."}
_IN_THE_WINDOW: Final = "The window can be told: “Import old grades…” in the menu “File”."


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("file", metavar="FILE", type=Path, help="a workbook (.xlsx) or CSV file with old grades")
    parser.add_argument(
        "--into", metavar="FOLDER", type=Path, help="where the board's folder is made; without it among your boards"
    )
    parser.add_argument(
        "--sheet", metavar="NAME", default="", help="the workbook's sheet; without it the one most like grades"
    )
    parser.add_argument("--name", metavar="NAME", default="", help="the board's name; without it the file's")
    order = parser.add_mutually_exclusive_group()
    order.add_argument("--day-first", action="store_true", help="03/04/2019 is the third of April")
    order.add_argument("--month-first", action="store_true", help="03/04/2019 is the fourth of March")
    parser.add_argument(
        "--round-halves-down", action="store_true", help="a grade such as 8.5 becomes 8; without it it is refused"
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Make the board; the cells of the table that cannot be used are listed.

    Raises:
        InputError: the file cannot be read, leaves a question, or the disk refused; then there is no new folder.
    """
    table = _table(arguments)
    reading = table.reading
    if not reading.is_settled:
        raise InputError(_question(reading.doubts), file=reading.grid.where)
    settings = load_settings()
    into = settings.boards_path() if arguments.into is None else arguments.into
    past = _board(table, one_line(arguments.name))
    folder = free_folder(Path(os.path.abspath(into)), past.board.name)
    made, left_out = make_past_board(folder, past, (), settings.grader or login_name(), Progress())
    problems = (*reading.problems, *left_out)
    return Outcome(_text(past, table, made), _data(past, table, made, problems), problems)


def _table(arguments: argparse.Namespace) -> OldTable:
    """Read the table as it is guessed, and once more where an option says otherwise."""
    file = load_old_file(arguments.file, Progress())
    if arguments.sheet and not file.sheets:
        raise InputError("This file has no sheets; leave --sheet out.", file=file.name)
    table = read_old_table(TableRequest(file, arguments.sheet), Progress())
    guessed = table.reading.layout
    wanted = _as_told(guessed, arguments)
    if wanted == guessed:
        return table
    return read_old_table(TableRequest(file, arguments.sheet, layout=wanted, before=table.reading), Progress())


def _as_told(layout: OldLayout, arguments: argparse.Namespace) -> OldLayout:
    if arguments.day_first and not layout.ours:
        layout = replace(layout, date_order="day first")
    if arguments.month_first and not layout.ours:
        layout = replace(layout, date_order="month first")
    if arguments.round_halves_down:
        layout = replace(layout, halves="rounded down")
    return layout


def _question(doubts: Sequence[Doubt]) -> str:
    """Return the first question that must be answered, and how."""
    first = next(each for each in doubts if each.blocking)
    return f"{first.sentence} {_ANSWERS.get(first.about, _IN_THE_WINDOW)}"


def _board(table: OldTable, name: str) -> PastBoard:
    choice = usual_choice(table.reading, table.ours)
    treatments = old_treatments(table.reading, table.ours)
    return past_board(table.reading, table.ours, treatments, replace(choice, name=name or choice.name))


def _text(past: PastBoard, table: OldTable, folder: Path) -> str:
    lines = [
        f"The board {past.board.name} with {counted(len(past.coupons), 'coupon')}, "
        f"{counted(len(past.treatments), 'treatment')} and {counted(len(past.grades), 'grade')} is in {folder}"
    ]
    lines += [each.sentence for each in table.reading.doubts]
    lines += [each.sentence() for each in table.reading.skipped]
    return "\n".join(lines)


def _data(past: PastBoard, table: OldTable, folder: Path, problems: Sequence[Problem]) -> dict[str, object]:
    return {
        "board": past.board.name,
        "folder": str(folder),
        "sheet": table.reading.grid.sheet,
        "coupons": len(past.coupons),
        "treatments": len(past.treatments),
        "grades": len(past.grades),
        "refused": table.reading.refused,
        "skipped": [each.sentence() for each in table.reading.skipped],
        "problems": problem_objects(problems),
    }
