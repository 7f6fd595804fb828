"""``rustboard unpack``: a received board as a board folder."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.session.packing import UnpackResult, unpack_board
from rustboard.support.problems import Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import counted


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("file", metavar="FILE", type=Path, help="a packed board that somebody sent")
    parser.add_argument(
        "--into", metavar="FOLDER", type=Path, help="where the board's folder is made; without it among your boards"
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Unpack the board into a new folder; what is damaged in it and does not keep it from being opened is listed.

    Raises:
        InputError: it is no packed board, was altered, or the disk refused; then there is no new folder.
    """
    into = load_settings().boards_path() if arguments.into is None else arguments.into
    result = unpack_board(arguments.file, Path(os.path.abspath(into)))
    problems = tuple(Problem(each) for each in result.doubts)
    data = {
        "board": result.board,
        "folder": str(result.folder),
        "coupons": result.coupons,
        "inspections": result.inspections,
        "photos": result.photos,
        "missing_photos": result.missing,
        "problems": problem_objects(problems),
    }
    return Outcome("\n".join(_lines(result)), data, problems)


def _lines(result: UnpackResult) -> list[str]:
    lines = [
        f"The board {result.board} with {counted(result.coupons, 'coupon')}, "
        f"{counted(result.inspections, 'inspection')} and {counted(result.photos, 'photo')} is in {result.folder}"
    ]
    if result.missing:
        why = "did not reach the sender's file" if result.photos_wanted else "were left out by the sender"
        lines.append(f"{counted(result.missing, 'photo')} of it {why}; they are shown as missing.")
    return lines
