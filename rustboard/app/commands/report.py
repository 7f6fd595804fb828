"""``rustboard report``: the workbook of a board."""

from __future__ import annotations

import argparse
from pathlib import Path

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell
from rustboard.report.tidy import iso
from rustboard.session.looking import look_at_weather
from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE.xlsx",
        type=Path,
        required=True,
        help="the workbook to write; one of that name is replaced",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Write the workbook. Works while a window has the board open.

    Raises:
        InputError: there is no sound board, its weather is damaged, the name does not end in .xlsx, or the disk
            refused.
    """
    target: Path = arguments.output
    if target.suffix.lower() != ".xlsx":
        raise InputError("A workbook's name ends in .xlsx; give it that ending.", file=target.name)
    record, weather = look_at_weather(existing(arguments.board))

    from rustboard.session.reporting import write_whole_workbook  # brings much that takes its time

    write_whole_workbook(record, target, wall_clock(), weather=weather)
    blind = record.hidden_inspection
    hidden = None if blind is None else record.inspections[blind.inspection]
    gradings = sum(len(each) for each in record.current.values())
    data = {
        "board": record.board.name,
        "file": str(target),
        "coupons": len(record.coupons),
        "inspections": len(record.inspections),
        "grades": gradings,
        "hidden": None if hidden is None else iso(hidden.at),
        "problems": [],
    }
    told = f"The workbook of {record.board.name} is {target}"
    if hidden is not None:
        told += (
            f"\nThe inspection of {hidden.at:%Y-%m-%d %H:%M} is being graded blind and still hidden; its blind "
            "grades are not in yet."
        )
    return Outcome(told, data)
