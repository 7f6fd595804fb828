"""``rustboard report``: the report of a board in its forms."""

from __future__ import annotations

import argparse
import os
from dataclasses import replace
from pathlib import Path
from typing import Final

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.app.commands.report_options import (
    add_choice_arguments,
    add_form_arguments,
    choice_asked,
    targets_asked,
)
from rustboard.board.record import BoardRecord
from rustboard.report.tidy import iso
from rustboard.session.jobs import Progress
from rustboard.session.report_choices import ReportChoices
from rustboard.session.report_forms_wanted import FormKind, FormTarget, check_own_folders
from rustboard.session.report_targets import TargetHeldError
from rustboard.store.folder import board_file_of
from rustboard.support.clock import wall_clock
from rustboard.support.files import shown_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.writing_out import free_name_beside

_CALLED: Final[dict[FormKind, str]] = {
    "workbook": "workbook",
    "pdf": "PDF",
    "one page": "one page",
    "board": "picture of the board",
    "timeline": "picture of the timeline",
    "data": "data",
}


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    add_form_arguments(parser)
    add_choice_arguments(parser)
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Write the report. Works while a window has the board open.

    Raises:
        InputError: there is no sound board, its weather is damaged, a name has the wrong ending, another program has
            a file open, or the disk refused.
    """
    targets = targets_asked(arguments)

    from rustboard.session.report_forms import write_forms
    from rustboard.session.report_requests import looked_at_request

    board = existing(arguments.board)
    _check_places(targets, board_file_of(board).parent)
    choices = ReportChoices()
    shop = choices.shop()
    problems = (Problem(choices.problem),) if choices.problem else ()
    request = looked_at_request(board, shop, wall_clock())
    request = replace(request, choice=choice_asked(arguments, request.record))
    try:
        files = write_forms(request, targets, frozenset(), Progress())
    except TargetHeldError as error:
        path = error.held.path
        raise InputError(
            f"{error.problem.what} {shown_name(free_name_beside(path))} is free.", file=shown_name(path)
        ) from error
    return _outcome(request.record, targets, files, problems)


def _check_places(targets: tuple[FormTarget, ...], board: Path) -> None:
    """Refuse what would lie among the board's photos and backups, through whatever link.

    Raises:
        InputError: with how to mend it.
    """
    for each in targets:
        real = Path(os.path.realpath(each.path))
        check_own_folders(real if each.is_folder else real.parent, board)


def _outcome(
    record: BoardRecord, targets: tuple[FormTarget, ...], files: list[Path], problems: tuple[Problem, ...]
) -> Outcome:
    blind = record.hidden_inspection
    hidden = None if blind is None else record.inspections[blind.inspection]
    data = {
        "board": record.board.name,
        "file": str(targets[0].path),
        "files": [str(each) for each in files],
        "coupons": len(record.coupons),
        "inspections": len(record.inspections),
        "grades": sum(len(each) for each in record.current.values()),
        "hidden": None if hidden is None else iso(hidden.at),
        "problems": problem_objects(problems),
    }
    told = "\n".join(f"The {_CALLED[each.kind]} of {record.board.name} is {each.path}" for each in targets)
    if hidden is not None:
        told += (
            f"\nThe inspection of {hidden.at:%Y-%m-%d %H:%M} is being graded blind and still hidden; its blind "
            "grades are not in yet."
        )
    return Outcome(told, data, problems)
