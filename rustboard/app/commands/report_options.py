"""What a command line says of a report: its forms, parts and looks."""

from __future__ import annotations

import argparse
import os
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path
from typing import Final, TypeVar

from rustboard.board.exposure_clock import CLOCK_KINDS
from rustboard.board.record import BoardRecord
from rustboard.report.choice import PARTS, WRITINGS, Part, ReportChoice, writing_named
from rustboard.session.findings import clocks_for
from rustboard.session.report_choices import PAPER_NAMES, ReportChoices
from rustboard.session.report_forms_wanted import ENDINGS, FormKind, FormTarget
from rustboard.support.files import shown_name
from rustboard.support.problems import InputError

_Word = TypeVar("_Word", bound=str)

_WHOLE: Final[dict[str, FormKind]] = {".xlsx": "workbook", ".pdf": "pdf"}
_PICTURES: Final[tuple[tuple[str, FormKind], ...]] = (
    ("one_page", "one page"),
    ("board_picture", "board"),
    ("timeline_picture", "timeline"),
)


def add_form_arguments(parser: argparse.ArgumentParser) -> None:
    """Say which forms can be written."""
    parser.add_argument(
        "-o",
        "--output",
        metavar="FILE",
        type=Path,
        action="append",
        default=[],
        help="the whole report: a workbook (FILE.xlsx) or a PDF (FILE.pdf); may be given twice",
    )
    forms = (
        ("--one-page", "FILE.pdf|png|svg", "the report on one page, for a wall or a forum"),
        ("--board-picture", "FILE.png|svg", "a picture of the board"),
        ("--timeline-picture", "FILE.png|svg", "a picture of the histories"),
        ("--csv", "FOLDER", "all data as CSV files, into this folder"),
    )
    for name, metavar, what in forms:
        parser.add_argument(name, metavar=metavar, type=Path, action="append", default=[], help=what)


def add_choice_arguments(parser: argparse.ArgumentParser) -> None:
    """Say how the parts and looks are chosen."""
    parts = ", ".join(PARTS)
    parser.add_argument("--parts", metavar="LIST", help=f"only these parts, with commas between them: {parts}")
    parser.add_argument("--without", metavar="LIST", help="leave these parts out")
    writings = "; ".join(f"“{each.name}” ({each.shown})" for each in WRITINGS)
    parser.add_argument("--writing", metavar="NAME", help=f"how numbers and dates are written: {writings}")
    parser.add_argument("--paper", metavar="NAME", help=f"for printing: {' or '.join(PAPER_NAMES)}")
    parser.add_argument(
        "--clock", metavar="NAME", help=f"that histories are drawn along: {', '.join(map(_quoted, CLOCK_KINDS))}"
    )
    parser.add_argument(
        "--customer-choice",
        action="store_true",
        help="what was chosen in the window for this board's customer; without it everything is written, so that "
        "a script does the same each time",
    )


def targets_asked(arguments: argparse.Namespace) -> tuple[FormTarget, ...]:
    """Return the forms and where they go.

    Raises:
        InputError: none is asked for, an ending is not one of its form's, or two go to one place.
    """
    whole = [FormTarget(_whole_kind(path), path) for path in arguments.output]
    pictures = [
        FormTarget(kind, _with_ending(path, kind)) for name, kind in _PICTURES for path in getattr(arguments, name)
    ]
    targets = (*whole, *pictures, *(FormTarget("data", path) for path in arguments.csv))
    if not targets:
        raise InputError(
            "The following arguments are required: -o/--output, or another form such as --one-page. See “rustboard "
            "report --help”."
        )
    places = [Path(os.path.realpath(each.path)) for each in targets]  # two names may lead to one file
    for place in places:
        if places.count(place) > 1:
            raise InputError("Two forms cannot go to one file; name another.", file=shown_name(place))
    return targets


def choice_asked(arguments: argparse.Namespace, record: BoardRecord) -> ReportChoice:
    """Return parts and looks.

    Raises:
        InputError: a word is none of ours, nothing is left, or the board cannot be told by the clock.
    """
    choice, there = ReportChoice(), clocks_for(record)
    if arguments.customer_choice:
        choice = ReportChoices().remembered(record.board.customer).choice
        if choice.clock not in there:
            choice = replace(choice, clock="days")
    if arguments.parts is not None:
        choice = replace(choice, parts=frozenset(_parts(arguments.parts, "--parts")))
    if arguments.without is not None:
        choice = replace(choice, parts=choice.parts - frozenset(_parts(arguments.without, "--without")))
    if not choice.parts:
        raise InputError("No part of the report is left; name at least one.")
    if arguments.writing is not None:
        name = _one_of(arguments.writing, [each.name for each in WRITINGS], "--writing")
        choice = replace(choice, writing=writing_named(name))
    if arguments.paper is not None:
        choice = replace(choice, paper=_one_of(arguments.paper, PAPER_NAMES, "--paper"))
    if arguments.clock is not None:
        clock = _one_of(arguments.clock, CLOCK_KINDS, "--clock")
        if clock not in there:
            told = ", ".join(map(_quoted, there))
            raise InputError(f"This board cannot be told by {_quoted(clock)} yet; it can be by {told}.")
        choice = replace(choice, clock=clock)
    return choice


def _whole_kind(path: Path) -> FormKind:
    kind = _WHOLE.get(path.suffix.lower())
    if kind is None:
        raise InputError("A report's name ends in .xlsx or .pdf; give it one of these endings.", file=path.name)
    return kind


def _with_ending(path: Path, kind: FormKind) -> Path:
    if path.suffix.lower() not in ENDINGS[kind]:
        *first, last = ENDINGS[kind]
        raise InputError(f"This name must end in {', '.join(first)} or {last}.", file=shown_name(path))
    return path


def _parts(text: str, option: str) -> list[Part]:
    words = [each.strip().lower() for each in text.split(",") if each.strip()]
    return [_one_of(each, PARTS, option) for each in words]


def _one_of(word: str, known: Iterable[_Word], option: str) -> _Word:
    known = list(known)
    found = next((each for each in known if each.casefold() == word.casefold()), None)
    if found is None:
        raise InputError(f"{option} knows no {_quoted(word[:60])}; it knows {', '.join(map(_quoted, known))}.")
    return found


def _quoted(word: str) -> str:
    return f"“{word}”"
