"""Giving a board folder another name or place, so that at every moment one whole board is there.

On one disk that is a single step of the disk. Between two disks the folder is copied beside its new place under a
hidden name, compared with what it was copied from, put in its place, and only then taken away where it was.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import os
import re
import secrets
import shutil
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Final

from rustboard.store.folder import BOARD_FILE
from rustboard.store.lock import LOCK_NAME, NOTE_NAME, BoardLock, is_held_elsewhere
from rustboard.support.files import copy_whole, disk_problem, shown_name
from rustboard.support.problems import InputError

Told = Callable[[int, int], None]
"""Takes how many files are copied and how many there are; may raise to stop."""

MOST_FILES: Final = 200_000
DEEPEST: Final = 16
_OLD: Final = 24 * 3600.0
_LEFT_BEHIND: Final = re.compile(r"\.rustboard-[0-9a-f]{16}\.moving")
_TAKEN: Final = "Something with this name is already there; choose another name."
_OURS: Final = frozenset({LOCK_NAME, NOTE_NAME})


@dataclass(frozen=True, slots=True)
class _Listed:
    """What a board folder holds.

    Attributes:
        folders: paths inside it, those further out first.
        files: path inside it, size and time of change.
    """

    folders: tuple[str, ...]
    files: tuple[tuple[str, int, int], ...]


def move_folder(source: Path, target: Path, told: Told, now: datetime) -> None:
    """Make the board folder ``source`` be ``target``, whose parent is there already.

    Raises:
        InputError: a window has the board open, the target is taken or not possible, or the disk refused; the board
            is then where it was.
        Exception: whatever ``told`` raises; the board is then where it was.
    """
    check_move(source, target)
    with _held(source, now) as lock:
        if os.name == "nt":  # where a folder cannot be renamed while anything in it is open, even by ourselves
            lock.release()
        try:
            os.rename(source, target)
        except OSError as error:
            if error.errno != errno.EXDEV:
                raise disk_problem(error, target) from error
        else:
            with contextlib.suppress(OSError):
                (target / NOTE_NAME).unlink()
            return
        _move_across(source, target, told)


def check_move(source: Path, target: Path) -> None:
    """Refuse what cannot be moved, and places to which nothing can be moved.

    Raises:
        InputError: with the sentence.
    """
    name = shown_name(source)
    if source.is_symlink():
        raise InputError("This is a link to the board's folder; move the folder itself.", file=name)
    if not os.path.isfile(source / BOARD_FILE) or (source / BOARD_FILE).is_symlink():
        raise InputError("There is no board in this folder any more, so nothing was moved.", file=name)
    try:
        parent, inside = target.parent.resolve(strict=True), source.resolve(strict=True)
    except (OSError, RuntimeError, ValueError) as error:
        raise InputError(
            "The folder to move the board into is not there; choose another.", file=shown_name(target.parent)
        ) from error
    if not parent.is_dir():
        raise InputError("A board can only be moved into a folder; choose one.", file=shown_name(parent))
    if inside == parent or inside in parent.parents:
        raise InputError("A board cannot be moved into its own folder; choose one outside it.", file=name)
    if any(os.path.lexists(each / BOARD_FILE) for each in (parent, *parent.parents)):
        raise InputError(
            "This place is inside another board's folder; choose one outside it.", file=shown_name(parent)
        )
    if os.path.lexists(target) and not _differs_in_capitals_alone(source, target):
        raise InputError(_TAKEN, file=shown_name(target))


def _differs_in_capitals_alone(source: Path, target: Path) -> bool:
    """Return whether a disk that takes capitals for small letters finds the folder itself under its new name."""
    if source.name == target.name or source.name.casefold() != target.name.casefold():
        return False
    with contextlib.suppress(OSError):
        return os.path.samefile(source, target) and target.name not in os.listdir(target.parent)
    return False


@contextmanager
def _held(folder: Path, now: datetime) -> Iterator[BoardLock]:
    """Keep all windows from opening the board for writing."""
    lock = BoardLock(folder)
    reason = lock.take(now)
    if is_held_elsewhere(reason):
        raise InputError("This board is open in another window; close it there, then try again.", file=folder.name)
    if reason:
        raise InputError("The board's folder may not be written, so it stays where it is.", file=shown_name(folder))
    try:
        yield lock
    finally:
        lock.release()


def _move_across(source: Path, target: Path, told: Told) -> None:
    _tidy(target.parent)
    part = target.parent / f".rustboard-{secrets.token_hex(8)}.moving"
    try:
        listed = _listed(source)
        told(0, len(listed.files))
        part.mkdir()
        _copy(source, part, listed, told)
        if _listed(source) != listed:
            raise InputError("The board was changed while it was copied; it stays where it is. Try again.")
        if os.path.lexists(target):
            raise InputError(_TAKEN, file=shown_name(target))
        os.rename(part, target)
    except OSError as error:
        raise disk_problem(error, target) from error
    finally:
        shutil.rmtree(part, ignore_errors=True)
    _take_away(source, target, listed)


def _copy(source: Path, part: Path, listed: _Listed, told: Told) -> None:
    for inside in listed.folders:
        (part / inside).mkdir()
    for number, (inside, _, _) in enumerate(listed.files, start=1):
        copy_whole(source / inside, part / inside)
        if _digest(source / inside) != _digest(part / inside):
            raise InputError("A file was not copied as it is; the board stays where it is.", file=Path(inside).name)
        times = (source / inside).stat()
        with contextlib.suppress(OSError):  # some shares keep no times
            os.utime(part / inside, ns=(times.st_atime_ns, times.st_mtime_ns))
        told(number, len(listed.files))


def _digest(file: Path) -> str:
    with file.open("rb") as stream:
        return hashlib.file_digest(stream, "sha256").hexdigest()


def _listed(folder: Path) -> _Listed:
    """Return what is in a folder but our own lock, which is made anew wherever the board is.

    Raises:
        InputError: there are links or other things that are no files, or too many.
        OSError: as the disk says.
    """
    folders: list[str] = []
    files: list[tuple[str, int, int]] = []
    left = [""]
    while left:
        inside = left.pop()
        for name, about in _entries(folder / inside):
            path = os.path.join(inside, name)
            if stat.S_ISDIR(about.st_mode):
                folders.append(path)
                left.append(path)
            elif path not in _OURS:
                files.append((path, about.st_size, about.st_mtime_ns))
            if len(files) + len(folders) > MOST_FILES or path.count(os.sep) >= DEEPEST:
                raise InputError(
                    "The board's folder holds more than any board does; move it with the file manager.",
                    file=shown_name(folder),
                )
    return _Listed(tuple(folders), tuple(files))


def _entries(folder: Path) -> Iterator[tuple[str, os.stat_result]]:
    with os.scandir(folder) as found:
        entries = sorted(found, key=_name_of)
    for entry in entries:
        about = entry.stat(follow_symlinks=False)
        if (not stat.S_ISDIR(about.st_mode) and not stat.S_ISREG(about.st_mode)) or _leads_elsewhere(about):
            raise InputError(
                "There is a link in the board's folder, which cannot be moved to another disk; take it out first.",
                file=shown_name(Path(entry.name)),
            )
        yield entry.name, about


def _name_of(entry: os.DirEntry[str]) -> str:
    return entry.name


def _leads_elsewhere(about: os.stat_result) -> bool:
    """Return whether a folder is one of Windows' junctions, which are links in all but the name."""
    return bool(getattr(about, "st_reparse_tag", 0))


def _take_away(source: Path, target: Path, listed: _Listed) -> None:
    """Take the folder away whose copy is in its place: under a hidden name first, so that no half of it is seen.

    Raises:
        InputError: it may not be taken away; then the copy is, and the board is where it was.
    """
    gone = source.parent / f".rustboard-{secrets.token_hex(8)}.moved"
    try:
        os.rename(source, gone)
    except OSError as error:
        hidden = target.parent / f".rustboard-{secrets.token_hex(8)}.moving"
        with contextlib.suppress(OSError):
            os.rename(target, hidden)
            shutil.rmtree(hidden, ignore_errors=True)
        if os.path.lexists(target):
            raise InputError(
                "The disk took the board away from neither place, so it is whole in both now; remove one with "
                "the file manager.",
                file=shown_name(source),
            ) from error
        raise InputError(
            "The board's folder may not be taken away from where it is, so it stays there.", file=shown_name(source)
        ) from error
    # Only what was copied; anything else that got into the folder by then stays, hidden and whole.
    inside = [*(each for each, _, _ in listed.files), *_OURS]
    for each in inside:
        with contextlib.suppress(OSError):
            os.unlink(gone / each)
    for each in (*reversed(listed.folders), ""):
        with contextlib.suppress(OSError):
            os.rmdir(gone / each)


def _tidy(parent: Path) -> None:
    """Take away what a copy that was cut off left in a folder a day ago or earlier; its board is where it was."""
    with contextlib.suppress(OSError):
        for entry in list(os.scandir(parent)):
            if _LEFT_BEHIND.fullmatch(entry.name) is None or not entry.is_dir(follow_symlinks=False):
                continue
            if time.time() - entry.stat(follow_symlinks=False).st_mtime > _OLD:
                shutil.rmtree(entry.path, ignore_errors=True)
