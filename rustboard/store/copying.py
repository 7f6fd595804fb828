"""A copy of a whole board folder, and what a folder that was just made must not keep."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing, suppress
from pathlib import Path

from rustboard.store.database import DATABASE_ERRORS, database_problem, for_looking
from rustboard.store.folder import BACKUPS, BOARD_FILE, PHOTOS, board_file_of, folder_of
from rustboard.store.lock import LOCK_NAME, NOTE_NAME
from rustboard.support.files import copy_whole

Told = Callable[[int, int], None]
"""Takes how many parts are copied and how many there are; may raise to stop."""


def copy_into(source: Path, folder: Path, told: Told) -> None:
    """Copy a board, also one that is open, read-only or whose last write was cut off, into an empty folder.

    Args:
        source: the board's folder, its file, or one of its dated copies.
        folder: is there already; whoever made it takes it away when this fails.
        told: called before every part.

    Raises:
        InputError: there is no sound board, or the disk refused the file.
        OSError: a photo could not be read or written.
    """
    file = board_file_of(source)
    photos = _photos_of(folder_of(file))
    told(0, len(photos) + 1)
    with for_looking(file) as connection:
        try:
            with closing(sqlite3.connect(folder / BOARD_FILE)) as target:
                connection.backup(target)
        except DATABASE_ERRORS as error:
            raise database_problem(error, folder / BOARD_FILE) from error
    if photos:
        (folder / PHOTOS).mkdir()
    for number, photo in enumerate(photos, start=1):
        told(number, len(photos) + 1)
        _copy_photo(photo, folder / PHOTOS / photo.name)


def _photos_of(folder: Path) -> list[Path]:
    """Return the photos of a board; links, which may lead anywhere, are not followed."""
    photos = folder / PHOTOS
    if not photos.is_dir() or photos.is_symlink():
        return []
    return [each for each in sorted(photos.iterdir()) if each.is_file() and not each.is_symlink()]


def _copy_photo(photo: Path, target: Path) -> None:
    copy_whole(photo, target)
    # Its time, but not its permissions: a copy of what may not be written is for working on.
    times = photo.stat()
    with suppress(OSError):  # some shares keep no times
        os.utime(target, ns=(times.st_atime_ns, times.st_mtime_ns))


def remove_traces(folder: Path) -> None:
    """Take out of a folder that was just made, and that nobody has open, what opening it to fill it left there.

    A backup from then would stand in the way of today's real one.
    """
    shutil.rmtree(folder / BACKUPS, ignore_errors=True)
    for name in (LOCK_NAME, NOTE_NAME):
        with suppress(OSError):
            (folder / name).unlink(missing_ok=True)
