"""The board folder: where things are in it, and folders that appear whole or not at all."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from rustboard.support.files import disk_problem
from rustboard.support.problems import InputError

BOARD_FILE = "board.rustboard"
PHOTOS = "photos"


def board_file_of(path: Path) -> Path:
    """Return the board file that a folder or file path means."""
    return path / BOARD_FILE if path.is_dir() else path


def photo_path(folder: Path, file: str) -> Path | None:
    """Return the path of a photo by its recorded name, or None when the name leaves the photos folder.

    The name comes from the board file, which may be a stranger's.
    """
    if not file or file in {".", ".."} or any(mark in file for mark in "/\\:\0"):
        return None
    path = folder / PHOTOS / file
    try:
        inside = path.resolve().parent == (folder / PHOTOS).resolve()
    except (OSError, RuntimeError):
        return None
    return path if inside else None


@contextmanager
def fresh_folder(folder: Path) -> Iterator[Path]:
    """Give a hidden folder to fill, which becomes ``folder`` when the block ends well and vanishes otherwise.

    Raises:
        InputError: ``folder`` exists and is not an empty folder, or the disk refused.
    """
    _refuse_if_taken(folder)
    part: Path | None = None
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        part = Path(tempfile.mkdtemp(prefix=f".{folder.name[:60]}.", suffix=".part", dir=folder.parent))
        yield part
        part.chmod(0o755)
        if folder.exists():
            folder.rmdir()
        os.rename(part, folder)
    except OSError as error:
        raise disk_problem(error, folder) from error
    finally:
        if part is not None:
            shutil.rmtree(part, ignore_errors=True)


def _refuse_if_taken(folder: Path) -> None:
    try:
        if not folder.exists():
            return
        if not folder.is_dir():
            raise InputError("A file with this name is already there; choose another name.", file=folder.name)
        if any(folder.iterdir()):
            raise InputError("This folder already holds something; choose a new name.", file=folder.name)
    except OSError as error:
        raise disk_problem(error, folder) from error


def copy_photos(source: Path, target: Path) -> None:
    """Copy the photos of one board folder into another; links are not followed."""
    photos = source / PHOTOS
    if not photos.is_dir():
        return
    (target / PHOTOS).mkdir()
    for each in sorted(photos.iterdir()):
        if each.is_file() and not each.is_symlink():
            shutil.copy2(each, target / PHOTOS / each.name)
