"""``rustboard demo``: two boards with coupons, pictures and grades, made up to try the program on."""

from __future__ import annotations

import argparse
import os
from contextlib import closing
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.app.commands.window import has_display, open_window_on, window_library_problem
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.session import Session
from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError, Problem

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("folder", metavar="FOLDER", type=Path, help="where to write the boards")
    parser.add_argument(
        "--no-window",
        action="store_true",
        help="measure, write reports and pictures of the window too, and open none",
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Write the boards, then open the first one or write reports and pictures.

    Raises:
        InputError: the folder cannot be used or written.
    """
    from rustboard.app.demo.build import build_demo  # brings the picture library, which takes its time

    folder: Path = arguments.folder
    windowless: bool = arguments.no_window
    if not windowless and not has_display():
        tell("There is no display here: the demo is written as boards, reports and pictures of the window.")
        windowless = True
    boards = build_demo(folder, _Steps(tell))
    if windowless:
        return _written(folder, boards, tell)
    return Outcome(
        _places("Boards", boards),
        _data(folder, boards, [], [], []),
        afterwards=partial(open_window_on, boards[0], demo=True),
    )


class _Steps:
    """Tells of a new kind of work when it begins, and of every tenth part of the whole."""

    def __init__(self, tell: Tell) -> None:
        self._tell = tell
        self._told: tuple[str, int] | None = None

    def __call__(self, what: str, done: int, steps: int) -> None:
        """Hear that ``done`` of all ``steps`` are done."""
        tenths = 10 * done // max(steps, 1)
        if self._told is None or what != self._told[0] or tenths > self._told[1]:
            self._told = (what, tenths)
            self._tell(f"{what} ({10 * tenths} %)")


def _written(folder: Path, boards: list[Path], tell: Tell) -> Outcome:
    problems = [problem for each in boards for problem in _measure(each, tell)]
    workbooks: list[Path] = []
    pages: list[Path] = []
    verdicts = []
    for each in boards:
        tell(f"What {each.name} shows...")
        findings = _findings(each)
        verdicts.append([sentence.text() for sentence in findings.verdict])
        workbook, *others = _write_report(folder, each, findings, tell)
        workbooks.append(workbook)
        pages.extend(others)
    pictures: list[Path] = []
    tell("Drawing pictures of the window...")
    try:
        pictures = _write_pictures(folder, boards)
    except InputError as error:
        problems.append(error.problem)
    titled = {"Boards": boards, "Workbooks": workbooks, "Pages": pages, "Pictures": pictures}
    places = [_places(title, paths) for title, paths in titled.items()]
    told = [
        "\n".join([f"{each.name}:", *(f"  {line}" for line in lines)])
        for each, lines in zip(boards, verdicts, strict=True)
    ]
    places = [*told, *places]
    data = _data(folder, boards, workbooks, pictures, problems)
    data["pages"] = [str(each) for each in pages]
    data["verdicts"] = {str(each): lines for each, lines in zip(boards, verdicts, strict=True)}
    return Outcome("\n".join(each for each in places if each), data, tuple(problems))


def _measure(board: Path, tell: Tell) -> tuple[Problem, ...]:
    """Measure the rust in a board's photos; return what could not be measured."""
    from rustboard.app.commands.measure import measure_board  # brings the picture libraries

    with closing(Session(board)) as session:
        if session.read_only_reason:  # open in a window: what is measured there is enough
            return ()
        tell(f"{session.record.board.name}:")
        return measure_board(session, tell).problems


def _findings(board: Path) -> Findings:
    """Return what a board shows, as its own question asks."""
    from rustboard.session.findings import FindingsAsked, view_of, whole_findings

    record = look_at_board(board)
    return whole_findings(FindingsAsked(record, view_of(record)), Progress())


def _write_report(folder: Path, board: Path, findings: Findings, tell: Tell) -> list[Path]:
    """Write the workbook, the PDF and the one page of a board; return where they are."""
    from rustboard.report.choice import Shop
    from rustboard.session.findings_report import findings_content
    from rustboard.session.report_forms import write_forms
    from rustboard.session.report_forms_wanted import FormWanted, targets_of
    from rustboard.session.report_requests import looked_at_request

    request = replace(looked_at_request(board, Shop(), wall_clock()), findings=findings_content(findings))
    tell(f"Writing the report of {request.record.board.name}...")
    forms = (FormWanted("workbook", ".xlsx"), FormWanted("pdf", ".pdf"), FormWanted("one page", ".pdf"))
    return write_forms(request, targets_of(folder, board.name, forms), frozenset(), Progress())


def _write_pictures(folder: Path, boards: list[Path]) -> list[Path]:
    os.environ["QT_QPA_PLATFORM"] = "offscreen"  # before the window library is loaded, so that nothing pops up
    try:
        from rustboard.ui.pictures import write_pictures
    except ImportError as error:
        raise window_library_problem(error) from error
    return write_pictures(boards, folder)


def _places(title: str, paths: list[Path]) -> str:
    return "\n".join([f"{title}:", *(f"  {each}" for each in paths)]) if paths else ""


def _data(
    folder: Path, boards: list[Path], workbooks: list[Path], pictures: list[Path], problems: list[Problem]
) -> dict[str, object]:
    return {
        "folder": str(folder),
        "boards": [str(each) for each in boards],
        "workbooks": [str(each) for each in workbooks],
        "pictures": [str(each) for each in pictures],
        "problems": problem_objects(problems),
    }
