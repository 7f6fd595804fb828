"""``rustboard check``: whether a board's file and photos are sound. Writes nothing."""

from __future__ import annotations

import argparse
from pathlib import Path

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.store.check import CheckResult, check_board
from rustboard.support.problems import InputError, Problem
from rustboard.support.text import counted


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Look a board over; problems found are the outcome's problems."""
    try:
        result = check_board(existing(arguments.board))
    except InputError as error:
        return _outcome(CheckResult(), (error.problem,), failed=True)
    return _outcome(result, tuple(Problem(each) for each in result.problems))


def _outcome(result: CheckResult, problems: tuple[Problem, ...], *, failed: bool = False) -> Outcome:
    data = {
        "board": result.board,
        "sound": not problems,
        "problems": problem_objects(problems),
        "notes": result.notes,
        "counts": result.counts,
    }
    text = "" if failed else "\n".join(_lines(result, len(problems)))
    return Outcome(text, data, problems, failed=failed)


def _lines(result: CheckResult, problem_count: int) -> list[str]:
    verdict = "The board is sound." if not problem_count else f"{counted(problem_count, 'problem')} found."
    lines = [f"{result.board}: {verdict}" if result.board else verdict, *result.notes]
    if result.counts:
        lines.append(
            "It holds " + ", ".join(_counted_kind(number, kind) for kind, number in result.counts.items()) + "."
        )
    return lines


def _counted_kind(number: int, kind: str) -> str:
    return counted(number, "audit line" if kind == "audit" else kind.replace("_", " "))
