"""What is done with a board from the shelf, without showing it: tags, the archive, its name, its folder's place."""

from __future__ import annotations

import logging
import os
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Final

from rustboard.operations.boards import edit_board
from rustboard.operations.shelving import archive, bring_back, set_tags
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.jobs import Progress
from rustboard.session.new_board import folder_name
from rustboard.session.session import Session
from rustboard.store.lock import is_held_elsewhere
from rustboard.store.moving import check_move, move_folder
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.files import shown_name
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import one_line

_LOG = logging.getLogger(__name__)

_IN_USE: Final = "This board is open in another window; close it there, then try again."
_NOT_WRITABLE: Final = "This board may not be written, so nothing of it was changed."


def tag_board(
    folder: Path, words: Sequence[str], progress: Progress | None = None, *, who: str = "", clock: Clock = wall_clock
) -> Summary:
    """Give a board these tags and no others.

    Raises:
        InputError: the board cannot be opened or may not be changed now, or the tags cannot be.
    """
    with _for_a_change(folder, who, clock) as session:
        return session.do(set_tags, tuple(words)).summary


def put_away(
    folder: Path, archived: bool, progress: Progress | None = None, *, who: str = "", clock: Clock = wall_clock
) -> Summary:
    """Put a board into the archive, or bring it back.

    Raises:
        InputError: the board cannot be opened or may not be changed now, or is so already.
    """
    with _for_a_change(folder, who, clock) as session:
        return session.do(archive if archived else bring_back).summary


def rename_board(
    folder: Path,
    name: str,
    called: str,
    progress: Progress | None = None,
    *,
    who: str = "",
    clock: Clock = wall_clock,
    matchings: BoardMatchings | None = None,
) -> Path:
    """Call a board and its folder otherwise, or one of the two; return the folder as it is now.

    Args:
        folder: of the board.
        name: of the board; empty = it stays.
        called: the folder's new name, made fit for every disk; empty = it stays.
        progress: not told; a name is changed at once.
        who: name written into the audit.
        clock: gives the time written into the audit.
        matchings: kept by folder; the user's own where none are given.

    Raises:
        InputError: the board cannot be opened or may not be changed now, the name is taken, or the disk refused.
            Board and folder are then called as before.
    """
    target = folder.with_name(folder_name(called)) if one_line(called) else folder
    if target.name == folder.name:
        target = folder
    else:
        check_move(folder, target)
    renamed = _name_board(folder, one_line(name), who, clock)
    if target == folder:
        return folder
    try:
        return _moved(folder, target, progress, clock, matchings)
    except BaseException:
        if renamed:
            _take_name_back(folder, who, clock)
        raise


def move_board(
    folder: Path,
    into: Path,
    progress: Progress | None = None,
    *,
    clock: Clock = wall_clock,
    matchings: BoardMatchings | None = None,
) -> Path:
    """Move a board's folder into another folder; return it as it is now.

    Args:
        folder: of the board.
        into: where it is to be.
        progress: told before every file where the board goes to another disk, and asked whether to stop.
        clock: gives the time for the lock.
        matchings: kept by folder; the user's own where none are given.

    Raises:
        InputError: a window has the board open, the place is taken or not possible, or the disk refused. The board is
            then where it was.
        Cancelled: ``progress`` was asked to stop; the board is where it was.
    """
    target = into / folder.name
    if os.path.realpath(into) == os.path.realpath(folder.parent):
        raise InputError("The board is in this folder already.", file=shown_name(into))
    return _moved(folder, target, progress, clock, matchings)


def _moved(
    folder: Path, target: Path, progress: Progress | None, clock: Clock, matchings: BoardMatchings | None
) -> Path:
    old = folder.resolve()
    move_folder(folder, target, (progress or Progress()).step, clock())
    try:
        (matchings or BoardMatchings()).follow_move(old, target)
    except InputError as error:  # the board is safe; treatments have to be matched once more at worst
        _LOG.info("the matched treatments do not follow the moved board: %s", error)
    return target


def _name_board(folder: Path, name: str, who: str, clock: Clock) -> bool:
    """Call a board otherwise; return whether that was anything new."""
    if not name:
        return False
    with _for_a_change(folder, who, clock) as session:
        if session.record.board.name == name:
            return False
        session.do(edit_board, replace(session.record.board, name=name))
        return True


def _take_name_back(folder: Path, who: str, clock: Clock) -> None:
    try:
        with _for_a_change(folder, who, clock) as session:
            session.undo()
    except InputError as error:  # the sentence about the folder is the one to tell
        _LOG.info("the board keeps its new name: %s", error)


@contextmanager
def _for_a_change(folder: Path, who: str, clock: Clock) -> Iterator[Session]:
    with closing(Session(folder, who=who, clock=clock)) as session:
        if session.read_only_reason:
            held = is_held_elsewhere(session.read_only_reason)
            raise InputError(_IN_USE if held else _NOT_WRITABLE, file=shown_name(folder))
        yield session
