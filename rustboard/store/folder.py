"""The board folder: where things are in it, and folders that appear whole or not at all."""

from __future__ import annotations

import contextlib
import os
import re
import secrets
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from rustboard.support.files import disk_problem, is_device_name, shown_name
from rustboard.support.problems import InputError

BOARD_FILE = "board.rustboard"
PHOTOS = "photos"
BACKUPS = "backups"

_PHOTO_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,150}\.[A-Za-z0-9]{1,5}")


def board_file_of(path: Path) -> Path:
    """Return the board file that a folder or file path means."""
    return path / BOARD_FILE if os.path.isdir(path) else path


def is_backup(file: Path) -> bool:
    """Return whether a file is one of the dated copies of a board beside it."""
    return file.name != BOARD_FILE and file.parent.name == BACKUPS and os.path.isfile(file.parent.parent / BOARD_FILE)


def folder_of(file: Path) -> Path:
    """Return the board folder that a board file belongs to, also when it is one of its dated copies."""
    return file.parent.parent if is_backup(file) else file.parent


def photo_path(folder: Path, file: str) -> Path | None:
    """Return the path of a photo by its recorded name, or None when no photo of this board can have that name.

    The name comes from the board file, which may be a stranger's, as may be links in the folder.
    """
    if _PHOTO_NAME.fullmatch(file) is None or is_device_name(file):
        return None
    path = folder / PHOTOS / file
    try:
        inside = path.resolve().parent == folder.resolve() / PHOTOS
    except (OSError, RuntimeError, ValueError):
        return None
    return path if inside else None


@contextmanager
def fresh_folder(folder: Path) -> Iterator[Path]:
    """Give a hidden folder to fill, which becomes ``folder`` when the block ends well and vanishes otherwise.

    Raises:
        InputError: ``folder`` exists and is not an empty folder, or the disk refused.
    """
    exists = _is_empty_folder(folder)
    part: Path | None = None
    try:
        # An empty folder that is there stays: it may be where a disk is mounted, or where a shell stands.
        parent = folder if exists else folder.parent
        parent.mkdir(parents=True, exist_ok=True)
        part = parent / f".{folder.name[:60]}.{secrets.token_hex(6)}.part"
        part.mkdir()
        yield part
        if exists:
            _move_content(part, folder)
        else:
            os.rename(part, folder)
    except OSError as error:
        raise disk_problem(error, folder) from error
    finally:
        if part is not None:
            shutil.rmtree(part, ignore_errors=True)


def _is_empty_folder(folder: Path) -> bool:
    """Return whether the folder is there already, and empty."""
    try:
        names = [name for name in os.listdir(folder) if not name.endswith(".part")]
    except FileNotFoundError:
        return False
    except (OSError, ValueError) as error:
        if isinstance(error, NotADirectoryError) and os.path.lexists(folder):
            raise InputError(
                "A file with this name is already there; choose another name.", file=shown_name(folder)
            ) from None
        raise disk_problem(error, folder) from error
    if names:
        raise InputError("This folder already holds something; choose a new name.", file=shown_name(folder))
    return True


def _move_content(part: Path, folder: Path) -> None:
    moved: list[Path] = []
    # The board file last: without it the folder is no board.
    names = sorted(os.listdir(part), key=lambda name: (name == BOARD_FILE, name))
    try:
        for name in names:
            os.rename(part / name, folder / name)
            moved.append(folder / name)
    except BaseException:
        for each in reversed(moved):
            with contextlib.suppress(OSError):
                os.rename(each, part / each.name)
        raise
