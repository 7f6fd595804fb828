"""Dated copies of the board file, a bounded number of them."""

from __future__ import annotations

import logging
import os
import shutil
from datetime import date
from pathlib import Path

from rustboard.support.files import disk_problem

_LOG = logging.getLogger(__name__)
FOLDER = "backups"
MOST_DAILY = 30


def daily(board_file: Path, day: date) -> Path | None:
    """Copy the board file once a day; return the new copy, or None when today's is there or could not be made.

    A copy that cannot be made (full disk, read-only folder) is logged and does not stop the user.
    """
    target = board_file.parent / FOLDER / f"board-{day.isoformat()}.rustboard"
    if target.exists():
        return None
    try:
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
        raise disk_problem(error, target) from error
    return target


def _copy(source: Path, target: Path) -> None:
    target.parent.mkdir(exist_ok=True)
    part = target.with_name(f".{target.name}.{os.getpid()}.part")
    try:
        shutil.copyfile(source, part)
        os.replace(part, target)
    finally:
        part.unlink(missing_ok=True)


def _drop_oldest(folder: Path) -> None:
    copies = sorted(folder.glob("board-[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9].rustboard"))
    for old in copies[:-MOST_DAILY]:
        old.unlink()
