"""Dated copies of the board file, a bounded number of them."""

from __future__ import annotations

import contextlib
import logging
from datetime import date
from pathlib import Path

from rustboard.store.folder import BACKUPS
from rustboard.support.files import copy_whole, disk_problem
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)
FOLDER = BACKUPS
MOST_DAILY = 30


def daily(board_file: Path, day: date) -> Path | None:
    """Copy the board file once a day; return the new copy, or None when today's is there or could not be made.

    A copy that cannot be made (full disk, read-only folder) is logged and does not stop the user.
    """
    target = board_file.parent / FOLDER / f"board-{day.isoformat()}.rustboard"
    try:
        if target.exists():
            return None
        _copy(board_file, target)
        _drop_oldest(target.parent)
    except OSError as error:
        _LOG.info("no backup today: %s", error.strerror)
        return None
    return target


def before_migration(board_file: Path, old_format: int) -> Path:
    """Copy the board file before its format changes.

    Raises:
        InputError: the copy cannot be made, and so the migration must not be.
    """
    target = board_file.parent / FOLDER / f"board-before-leaving-format-{old_format}.rustboard"
    try:
        _copy(board_file, target)
    except OSError as error:
        problem = disk_problem(error, target).problem
        raise InputError(
            f"The board must be brought up to date, and the copy to be made first failed: {problem.what}",
            file=problem.file,
        ) from error
    return target


def _copy(source: Path, target: Path) -> None:
    # Called by the one who holds the file's guard, while no transaction is open: see `store.handles`.
    folder = target.parent
    folder.mkdir(exist_ok=True)
    if folder.is_symlink():
        raise NotADirectoryError(0, "the backups folder is a link")  # a stranger's may lead anywhere
    for left in folder.glob(".board-*.part"):  # by a copy that was cut off; nobody else copies while we hold the lock
        with contextlib.suppress(OSError):
            left.unlink()
    copy_whole(source, target)


def _drop_oldest(folder: Path) -> None:
    copies = sorted(folder.glob("board-[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9].rustboard"))
    for old in copies[:-MOST_DAILY]:
        old.unlink()
