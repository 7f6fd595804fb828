"""``rustboard pack``: a board as one file to send."""

from __future__ import annotations

import argparse
from pathlib import Path

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.session.pack_names import PACK_ENDING
from rustboard.session.packing import pack_board
from rustboard.support.problems import InputError
from rustboard.support.text import counted


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument(
        "-o",
        "--output",
        metavar=f"FILE{PACK_ENDING}",
        type=Path,
        required=True,
        help="the file to write; one of that name is replaced",
    )
    parser.add_argument(
        "--without-photos",
        action="store_true",
        help="leave the photos out, and with them the places they were taken at",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Pack the board; photos that could not travel are listed. Works while a window has the board open.

    Raises:
        InputError: there is no sound board, the name does not end as it should, or the disk refused.
    """
    target: Path = arguments.output
    if target.suffix.lower() != PACK_ENDING:
        raise InputError(f"A packed board's name ends in {PACK_ENDING}; give it that ending.", file=target.name)
    packed = pack_board(existing(arguments.board), target, photos=not arguments.without_photos)
    data = {
        "board": packed.board,
        "file": str(target),
        "bytes": packed.size,
        "photos": packed.photos,
        "without_photos": arguments.without_photos,
        "problems": problem_objects(packed.left_out),
    }
    photos = "without its photos" if arguments.without_photos else f"with {counted(packed.photos, 'photo')}"
    text = (
        f"{packed.board}, {photos}, is packed in {target}\n"
        "All else of the board travels: names of graders and customer, notes, and the record of changes."
    )
    return Outcome(text, data, packed.left_out)
