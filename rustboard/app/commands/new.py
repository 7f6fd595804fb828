"""``rustboard new``: a new board, from a plan or empty."""

from __future__ import annotations

import argparse
import os
from dataclasses import replace
from pathlib import Path

from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.board.model import Board, Plan
from rustboard.session.new_board import create_from_plan, read_plan
from rustboard.support.problems import Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import counted, one_line


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("folder", metavar="FOLDER", type=Path, help="the folder to make; a new name")
    parser.add_argument(
        "--plan",
        metavar="PLAN",
        type=Path,
        help="what goes where, as PLAN.json, PLAN.csv or PLAN.xlsx; without it the board is empty, 3 rows of 7",
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
        # A table names no board, and the folder's name was chosen for it.
        if arguments.plan.suffix.lower() in {".csv", ".xlsx"}:
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


def make_board(folder: Path, plan: Plan) -> None:
    """Make a board folder from a plan; it appears whole or not at all.

    Raises:
        InputError: the folder holds something already, the plan names what cannot be, or the disk refused.
    """
    create_from_plan(folder, plan, who=load_settings().grader)
