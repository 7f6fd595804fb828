"""``rustboard add-photos``: photographs copied into a board."""

from __future__ import annotations

import argparse
import glob
import os
import re
from collections.abc import Sequence
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.board.typed_dates import agreed_order, moment_of, read_iso_moment, read_typed_date
from rustboard.operations.photos import ON_THE_BOARD
from rustboard.operations.typed_grades import NOON
from rustboard.session.intake import AddedPhotos, IncomingPhoto, keep_and_add, read_files, with_folders_opened
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import load_settings
from rustboard.support.text import counted

_EXPLANATION = """
A folder given as FILE stands for the pictures in it. Each photo is kept byte for byte, and belongs to the inspection
of its day nearest in time; on a day without one it makes one. The time is the camera's, or that of --taken, which
then counts for all the files given, also where the camera wrote another; a date alone means noon. A photo that is on
the board already is not added again. All photos are added in one step, which the window can undo.
"""

_CORNER: Final = re.compile(r"(-?[0-9]{1,7}(?:\.[0-9]{1,9})?),(-?[0-9]{1,7}(?:\.[0-9]{1,9})?)")
_HOW: Final = (
    "give four corners as x,y in pixels of the upright picture, clockwise from the board's top left, with a comma in "
    "each, blanks between them and points for decimals, such as “120,80 3900,95 3880.5,2950 110,2930”"
)

Corners = tuple[tuple[float, float], ...]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.epilog = _EXPLANATION
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument("files", metavar="FILE", nargs="+", help="photos (JPEG, PNG, TIFF, HEIC), or folders of them")
    parser.add_argument("--taken", metavar="TIME", help="when the photos were taken, such as 2026-03-02T09:05")
    parser.add_argument(
        "--corners", metavar="X,Y...", help="where the board's corners are: " + _HOW.split("as ", 1)[1]
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Add the photos that can be used, in one step.

    Raises:
        InputError: the board cannot be read or written, or the time or the corners cannot be; nothing was added.
    """
    taken = None if arguments.taken is None else _moment(arguments.taken)
    corners = None if arguments.corners is None else _corners(arguments.corners)
    files, problems = with_folders_opened(_expanded(arguments.files))
    with closing(Session(existing(arguments.board), who=load_settings().grader)) as session:
        if session.read_only_reason:
            raise InputError(f"{session.read_only_reason.removesuffix('.')}; no photo was added.")
        if corners is not None:
            _place(session.record.board, corners)  # refused before anything is read
        known = {each.sha256 for each in session.record.photos.values()}
        result = read_files(files, Progress(), known)
        problems.extend(result.problems)
        ready = []
        for each in result.found:
            try:
                ready.append(_made_ready(each, session.record.board, taken, corners))
            except InputError as error:
                problems.append(error.located(file=each.name).problem)
        added = keep_and_add(session, ready, Progress())
        problems.extend(added.problems)
        return _outcome(session.record, added, problems)


def _moment(text: str) -> datetime:
    """Return the time that a person typed; noon where it is a date alone."""
    typed = read_typed_date(text.strip())
    if typed.year_first:
        moment = moment_of(typed)
    else:
        try:
            moment = moment_of(typed, agreed_order([(1, typed)]))
        except InputError:
            moment = read_iso_moment(text.strip())  # says that it can be read in two ways
    return moment.when.replace(microsecond=0) if moment.has_hour else datetime.combine(moment.when.date(), NOON)


def _corners(text: str) -> Corners:
    found = [_CORNER.fullmatch(each) for each in text.replace(";", " ").split()]
    corners = tuple((float(each[1]), float(each[2])) for each in found if each is not None)
    if len(found) != 4 or len(corners) != 4:
        raise InputError(f"“{text[:80]}” are not four corners; {_HOW}.")
    return corners


def _expanded(given: Sequence[str]) -> list[Path]:
    """Return the files meant; wildcards that name no file are looked up, as some shells leave that to us."""
    paths: list[Path] = []
    for each in given:
        if any(mark in each for mark in "*?[") and not os.path.lexists(each):
            paths.extend(Path(name) for name in sorted(glob.glob(each)) or [each])
        else:
            paths.append(Path(each))
    return list(dict.fromkeys(paths))


def _place(board: Board, corners: Corners) -> tuple[float, ...]:
    from rustboard.photo.homography import placed_by_corners

    return placed_by_corners(corners, board.width_mm, board.height_mm)


def _made_ready(
    incoming: IncomingPhoto, board: Board, taken: datetime | None, corners: Corners | None
) -> IncomingPhoto:
    """Return a photo with what the command line says of it.

    Raises:
        InputError: it has no time, or cannot show the board there.
    """
    if taken is not None:
        incoming = replace(incoming, taken=taken)
    if incoming.taken is None:
        raise InputError("The picture does not say when it was taken; add it with --taken and the time.")
    if corners is None:
        return incoming
    width, height = incoming.width_px, incoming.height_px
    for x, y in corners:
        if not (-width / 2 <= x <= width * 1.5 and -height / 2 <= y <= height * 1.5):
            raise InputError(
                f"The corner {x:g},{y:g} is far outside this picture of {width} x {height} pixels; give the corners "
                "in pixels of the upright picture."
            )
    return replace(incoming, mm_to_px=_place(board, corners), placed_by="corners")


def _outcome(record: BoardRecord, added: AddedPhotos, problems: Sequence[Problem]) -> Outcome:
    photos = []
    for each in added.photos:
        visit = None if each.inspection is None else record.inspections[each.inspection].at.isoformat()
        when = None if each.taken is None else each.taken.isoformat()
        photos.append({"file": each.name, "taken": when, "inspection": visit, "stored": each.file})
    data = {"board": record.board.name, "added": photos, "problems": problem_objects(problems)}
    text = (
        f"{record.board.name}: {counted(len(photos), 'photo')} added, "
        f"{counted(added.inspections_made, 'new inspection')}."
    )
    if not photos:
        text = f"No photo was added; the board {record.board.name} is as it was."
    nothing_new = any(each.what == ON_THE_BOARD for each in problems)
    return Outcome(text, data, tuple(problems), failed=not photos and not nothing_new)
