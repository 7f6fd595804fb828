"""``rustboard new``: a new board, from a plan or empty."""

from __future__ import annotations

import argparse
import os
import shutil
from contextlib import closing, suppress
from dataclasses import replace
from pathlib import Path

from rustboard.app.commands.outcome import Outcome, Tell, counted, problem_objects
from rustboard.board.csv_table import MOST_BYTES
from rustboard.board.model import Board, Plan
from rustboard.board.plan_csv import read_plan_csv
from rustboard.board.plan_json import read_plan_json
from rustboard.operations.plans import carry_out_plan
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.folder import BACKUPS, BOARD_FILE, fresh_folder
from rustboard.store.lock import LOCK_NAME
from rustboard.store.tables import BoardRow
from rustboard.support.files import read_bounded
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("folder", metavar="FOLDER", type=Path, help="the folder to make; a new name")
    parser.add_argument(
        "--plan",
        metavar="PLAN",
        type=Path,
        help="what goes where, as PLAN.json or PLAN.csv; without it the board is empty, 3 rows of 7",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Make the board; what of the plan could not be used is listed.

    Raises:
        InputError: the folder holds something, nothing in the plan can be used, or the disk refused. Then there is
            no new folder.
    """
    folder = Path(os.path.abspath(arguments.folder))
    problems: list[Problem] = []
    if arguments.plan is None:
        plan = Plan(Board(one_line(folder.name) or "Board"))
    else:
        plan, problems = read_plan(arguments.plan)
        if arguments.plan.suffix.lower() == ".csv":  # a table names no board, and the folder's name was chosen for it
            plan = replace(plan, board=replace(plan.board, name=one_line(folder.name) or plan.board.name))
    make_board(folder, plan)
    board = plan.board
    data = {
        "board": board.name,
        "folder": str(folder),
        "rows": board.rows,
        "columns": board.columns,
        "coupons": len(plan.coupons),
        "treatments": len(plan.treatments),
        "problems": problem_objects(problems),
    }
    text = (
        f"The board {board.name} with {counted(len(plan.coupons), 'coupon')} and "
        f"{counted(len(plan.treatments), 'treatment')} is in {folder}"
    )
    return Outcome(text, data, tuple(problems))


def read_plan(path: Path) -> tuple[Plan, list[Problem]]:
    """Read a plan by the ending of its name; with another ending, by how it begins.

    Returns:
        What of the plan can be used, and what was left out and why.

    Raises:
        InputError: the file cannot be read, or nothing in it can be used.
    """
    data = read_bounded(path, MOST_BYTES)
    ending = path.suffix.lower()
    if ending not in {".json", ".csv"}:
        # Blanks and the marks of UTF-8, UTF-16 and UTF-32 may stand before the brace.
        ending = ".json" if data.lstrip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n").startswith(b"{") else ".csv"
    read = read_plan_json if ending == ".json" else read_plan_csv
    return read(data, path.name)


def make_board(folder: Path, plan: Plan) -> None:
    """Make a board folder from a plan; it appears whole or not at all.

    Raises:
        InputError: the folder holds something already, the plan names what cannot be, or the disk refused.
    """
    with fresh_folder(folder) as part:
        try:
            create_board(part, BoardRow(plan.board, plan.markers))
            if plan.coupons or plan.treatments:
                with closing(Session(part, who=load_settings().grader)) as session:
                    session.do(carry_out_plan, plan)
                _remove_traces(part)
        except InputError as error:
            # The user knows the folder by the name it was to have.
            hidden = error.problem.file in {part.name, BOARD_FILE}
            raise InputError(error.problem.what, file=folder.name if hidden else error.problem.file) from error


def _remove_traces(part: Path) -> None:
    # A backup of the board before it had coupons would stand in the way of today's real one.
    shutil.rmtree(part / BACKUPS, ignore_errors=True)
    with suppress(OSError):
        (part / LOCK_NAME).unlink(missing_ok=True)
