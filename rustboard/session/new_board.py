"""New boards: from a plan, like one there is, as a copy of one; and folders with names that every disk allows.

The one place where a board folder is made from a plan: the window, the command ``new`` and the demo share it.
"""

from __future__ import annotations

import os
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Final

from rustboard.board.csv_table import MOST_BYTES, open_table
from rustboard.board.model import AxisLabel, Plan
from rustboard.board.plan_csv import PLAN_LAYOUT
from rustboard.board.plan_preview import PlanPreview, preview_json, preview_table
from rustboard.board.problem_list import ProblemList
from rustboard.board.record import BoardRecord, is_archived, tags_of
from rustboard.operations.boards import checked_board, edit_board, label_axis
from rustboard.operations.plans import carry_out_plan, plan_of
from rustboard.operations.shelving import bring_back, set_tags
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_board
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.copying import copy_into, remove_traces
from rustboard.store.folder import BOARD_FILE, fresh_folder
from rustboard.store.tables import BoardRow
from rustboard.store.transaction import Transaction
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.files import is_device_name, read_bounded, shown_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.summary import Summary
from rustboard.support.text import one_line

LONGEST_FOLDER_NAME: Final = 60
_WORKBOOKS: Final = frozenset({".xlsx", ".xlsm", ".xltx", ".xls"})
"""Endings of workbooks; of an old one the reader says what to do."""
_MOST_NAME_BYTES: Final = 180
_MOST_TRIES: Final = 10_000
_NOT_IN_NAMES: Final = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f\ufffd]+')


def read_plan(path: Path) -> tuple[Plan, list[Problem]]:
    """Read a plan by the ending of its name; with another ending, by how it begins.

    Returns:
        What of the plan can be used, and what was left out and why.

    Raises:
        InputError: the file cannot be read, or nothing in it can be used.
    """
    preview = preview_plan(path)
    return preview.plan, list(preview.problems)


def preview_plan(path: Path) -> PlanPreview:
    """Read a plan as `read_plan` does, and keep what its file holds, to be looked at before a board is made.

    Raises:
        InputError: as `read_plan`.
    """
    data = read_bounded(path, MOST_BYTES)
    kind = _kind_of(path, data)
    if kind == ".json":
        return preview_json(data, path.name)
    problems = ProblemList(path.name)
    if kind == ".csv":
        return preview_table(open_table(data, PLAN_LAYOUT, problems), problems)
    from rustboard.report.sheet_reading import read_sheet

    return preview_table(read_sheet(data, PLAN_LAYOUT, problems), problems)


def _kind_of(path: Path, data: bytes) -> str:
    ending = path.suffix.lower()
    if ending in {".json", ".csv", *_WORKBOOKS}:
        return ".xlsx" if ending in _WORKBOOKS else ending
    if data.startswith(b"PK\x03\x04"):
        return ".xlsx"
    # Blanks and the marks of UTF-8, UTF-16 and UTF-32 may stand before the brace.
    return ".json" if data.lstrip(b"\xef\xbb\xbf\xff\xfe\x00 \t\r\n").startswith(b"{") else ".csv"


def create_from_plan(
    folder: Path,
    plan: Plan,
    *,
    who: str = "",
    clock: Clock = wall_clock,
    labels: Iterable[AxisLabel] = (),
    tags: Iterable[str] = (),
    further: Callable[[Transaction], object] | None = None,
) -> None:
    """Make a board folder from a plan; it appears whole or not at all.

    Args:
        folder: the folder to make; an empty one that is there already is used.
        plan: what goes where.
        who: name written into the audit.
        clock: gives the time written into the audit.
        labels: names of rows and columns, which a plan does not have.
        tags: which a plan does not have either.
        further: done in the same step, once the plan is carried out.

    Raises:
        InputError: the folder holds something already, the plan names what cannot be, or the disk refused.
    """
    plan = replace(plan, board=checked_board(plan.board))
    with fresh_folder(folder) as part, named_as(part, folder):
        create_board(part, BoardRow(plan.board, plan.markers))
        named, tagged = tuple(labels), tuple(tags)
        bare = plan == Plan(plan.board, markers=plan.markers)
        if named or tagged or further or not bare:  # else nothing to set up, nothing to undo
            with closing(Session(part, who=who, clock=clock)) as session:
                session.do(set_up_board, plan, named, tagged, further)
            remove_traces(part)


@contextmanager
def named_as(part: Path, folder: Path) -> Iterator[None]:
    """Let sentences about a folder being made name it as the user knows it: by the name it is to have."""
    try:
        yield
    except InputError as error:
        hidden = error.problem.file in {part.name, BOARD_FILE}
        raise InputError(error.problem.what, file=shown_name(folder) if hidden else error.problem.file) from error


def set_up_board(
    tx: Transaction,
    plan: Plan,
    labels: Iterable[AxisLabel],
    tags: Sequence[str] = (),
    further: Callable[[Transaction], object] | None = None,
) -> Summary:
    """Carry out a plan on an empty board, name its rows and columns, tag it and do what comes further, in one step.

    Raises:
        InputError: the board is not empty, or the plan names what cannot be.
    """
    summary = carry_out_plan(tx, plan)
    for each in labels:
        label_axis(tx, each.axis, each.number, each.label)
    if tags:
        set_tags(tx, tags)
    if further is not None:
        further(tx)
    return summary


def like(
    source: Session | BoardRecord | Path, new_folder: Path, name: str, *, who: str = "", clock: Clock = wall_clock
) -> None:
    """Make a board with the layout, treatments, markers, labels and tags of another: no dates, photos or grades.

    Coupons that were taken off the other board are left out.

    Args:
        source: the other board: open, read, or its folder.
        new_folder: the folder to make.
        name: of the new board.
        who: name written into the audit.
        clock: gives the time written into the audit.

    Raises:
        InputError: the other board cannot be read, an inspection of it is hidden, the folder holds something, or the
            disk refused.
    """
    if isinstance(source, Session):
        record = source.record
    else:
        record = look_at_board(source) if isinstance(source, Path) else source
    if record.hidden_inspection is not None:
        raise InputError(
            "This board is being graded blind, and one like it would show which coupon had which treatment; make it "
            "after the reveal."
        )
    labels = sorted(record.axis_labels.values(), key=lambda each: (each.axis, each.number))
    create_from_plan(new_folder, plan_of(record, name), who=who, clock=clock, labels=labels, tags=tags_of(record))


def copy_board(
    source: Path,
    new_folder: Path,
    name: str = "",
    progress: Progress | None = None,
    *,
    who: str = "",
    clock: Clock = wall_clock,
) -> Path:
    """Write a copy of a board folder with its photos, grades, steps of undo and audit; return the copy's folder.

    The board may be open, may lie where nothing can be written, and its last write may have been cut off.

    Args:
        source: the board's folder, its file, or one of its dated copies.
        new_folder: the folder to make; nothing is left of it when copying fails or is stopped.
        name: of the copy, an ordinary step of undo in it, which also takes it out of the archive; empty = as the
            board is called, and in the archive where the board is.
        progress: told before every photo, and asked whether to stop.
        who: name written into the audit for the new name.
        clock: gives the time written into the audit.

    Raises:
        InputError: the board cannot be read, the folder holds something, or the disk refused.
        Cancelled: ``progress`` was asked to stop.
    """
    told = progress or Progress()
    with fresh_folder(new_folder) as part:
        copy_into(source, part, told.step)
        if name:
            with named_as(part, new_folder), closing(Session(part, who=who, clock=clock)) as session:
                if is_archived(session.record):  # whoever makes a copy wants to see it
                    session.do(bring_back)
                session.do(edit_board, replace(session.record.board, name=name))
            remove_traces(part)
    return new_folder


def free_folder(boards_folder: Path, name: str) -> Path:
    """Return a folder for a new board inside the boards folder, named like the board; nothing has this name yet.

    The name holds nothing that a usual disk refuses and cannot lead out of the boards folder. When it is taken, in
    whatever case, a number follows: ``Harbour wall 2``.
    """
    plain = folder_name(name)
    try:
        taken = {each.casefold() for each in os.listdir(boards_folder)}
    except OSError:
        taken = set()  # not there yet, or not to be seen; whoever makes the folder is told
    if plain.casefold() not in taken:
        return boards_folder / plain
    numbered = (f"{_cut(plain, room=6)} {number}" for number in range(2, _MOST_TRIES))
    return boards_folder / next(each for each in numbered if each.casefold() not in taken)


def free_name(boards_folder: Path, name: str) -> str:
    """Return a name for a new board that no board in the boards folder has: the same, or with a number behind it."""
    free = free_folder(boards_folder, name).name
    return f"{name} {free.rpartition(' ')[2]}" if name and free != folder_name(name) else name


def folder_name(name: str) -> str:
    """Return a board's name as a folder may be called: one part, no reserved name, of bounded length."""
    text = unicodedata.normalize("NFC", one_line(name))
    text = _NOT_IN_NAMES.sub("-", text).lstrip(". ")
    text = _cut(text)
    if not text.strip("-. "):
        return "Board"
    return f"Board {text}" if is_device_name(text) else text


def _cut(text: str, room: int = 0) -> str:
    """Return the start of a name that leaves ``room``, without the blanks and dots that Windows drops at an end."""
    shown = text[: LONGEST_FOLDER_NAME - room]
    while len(shown.encode("utf-8", "replace")) > _MOST_NAME_BYTES - room:
        shown = shown[:-1]
    return shown.rstrip(". ")
