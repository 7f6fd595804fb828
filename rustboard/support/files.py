"""Files written whole or not at all, and read with a bound."""

from __future__ import annotations

import contextlib
import errno
import os
import re
import secrets
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import BinaryIO

from rustboard.support.problems import InputError
from rustboard.support.text import one_line


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that other readers see the old content or the new, never a part.

    Raises:
        InputError: the disk is full, the folder cannot be written, or another program holds the file.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        replace_file(path, data)
    except (OSError, ValueError) as error:
        raise disk_problem(error, path) from error


def replace_file(path: Path, data: bytes) -> None:
    """Do `write_whole` in a folder that is there, for callers with sentences of their own.

    Raises:
        OSError: as the disk says; what was there before is still there.
        ValueError: no file can have this name.
    """

    def fill(stream: BinaryIO) -> None:
        stream.write(data)

    put_in_place(path, fill)


def copy_whole(source: Path, target: Path) -> None:
    """Copy a file's bytes so that ``target`` is the whole copy, on the disk, or stays as it was.

    Raises:
        OSError: a file could not be read or written; the caller says which, in its own words.
    """

    def fill(stream: BinaryIO) -> None:
        with source.open("rb") as original:
            shutil.copyfileobj(original, stream, 1 << 20)

    put_in_place(target, fill)


def put_in_place(path: Path, fill: Callable[[BinaryIO], None]) -> None:
    """Write a file piece by piece, so that ``path`` is the whole file, on the disk, or stays as it was.

    Raises:
        OSError: as the disk says; whatever ``fill`` raises comes through as well.
        ValueError: no file can have this name.
    """
    # Of a long name only the start: with what is added it would be too long for the disk.
    part = path.with_name(f".{path.name[:20]}.{secrets.token_hex(6)}.part")
    # Not the tempfile module: its files are for their owner alone, and boards lie on shares.
    handle = os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY | getattr(os, "O_BINARY", 0), 0o666)
    try:
        with os.fdopen(handle, "wb") as stream:
            fill(stream)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(part, path)
    except BaseException:
        # A leftover part file harms nobody, and the first error is the one to tell.
        with contextlib.suppress(OSError):
            part.unlink()
        raise
    _settle(path.parent)


def _settle(folder: Path) -> None:
    """Make the new name of a file outlive a power cut, where the system can promise that (not on Windows)."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY | getattr(os, "O_DIRECTORY", 0))
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def read_bounded(path: Path, most_bytes: int) -> bytes:
    """Return the content of a file of at most ``most_bytes``.

    Raises:
        InputError: the file is not there, cannot be read, is a folder, or is larger.
    """
    try:
        with path.open("rb") as stream:
            data = stream.read(most_bytes + 1)
    except (OSError, ValueError) as error:
        raise disk_problem(error, path) from error
    if len(data) > most_bytes:
        most = f"{most_bytes >> 20} MiB" if most_bytes >= 1 << 20 else f"{most_bytes:,} bytes"
        raise InputError(f"The file is larger than {most}; split it into smaller ones.", file=shown_name(path))
    return data


# Windows keeps these for devices, whatever the ending and the case (Windows' rules for file names, from memory).
_DEVICES = re.compile(r"(con|prn|aux|nul|com[0-9¹²³]|lpt[0-9¹²³])\s*(\..*)?", re.IGNORECASE)


def is_device_name(name: str) -> bool:
    """Return whether Windows takes this name of a file or folder for a device."""
    return _DEVICES.fullmatch(name) is not None


_REASONS = {
    errno.ENOSPC: "The disk is full; free some space and try again. Nothing was changed.",
    errno.EDQUOT: "Your share of the disk is used up; free some space and try again. Nothing was changed.",
    errno.EACCES: "This place may not be read or written; choose another, or change its permissions.",
    errno.EPERM: "This place may not be read or written; choose another, or change its permissions.",
    errno.EROFS: "This place is read-only; choose another folder.",
    errno.ENOENT: "There is no such file or folder; check the name.",
    errno.ENOTDIR: "Part of this path is a file, not a folder; check the name.",
    errno.EISDIR: "This is a folder, and a file is needed; choose a file.",
    errno.ENAMETOOLONG: "The name is too long for this disk; choose a shorter one.",
    errno.EEXIST: "Something with this name is already there; choose another name.",
    errno.ELOOP: "The links in this path lead round in a circle; check the name.",
}
_HELD_ON_WINDOWS = frozenset({32, 33})
"""Windows' own numbers for a file that another program has open (sharing and lock violation)."""


def disk_problem(error: OSError | ValueError, path: Path) -> InputError:
    """Return the sentence for what the disk refused; a ValueError means a name that no file can have."""
    if isinstance(error, ValueError):
        reason: str | None = "No file can have this name; choose another."
    elif getattr(error, "winerror", None) in _HELD_ON_WINDOWS:
        reason = "Another program has this file open; close it there and try again."
    else:
        reason = _REASONS.get(error.errno or 0)
    if reason is None:
        detail = getattr(error, "strerror", None) or type(error).__name__
        reason = f"The disk refused this ({detail}); try again or choose another place."
    return InputError(reason, file=shown_name(path))


def shown_name(path: Path) -> str:
    """Return a path's last part as a sentence shows it."""
    return one_line(path.name or str(path), 200)
