"""Files written whole or not at all, and read with a bound."""

from __future__ import annotations

import errno
import os
import tempfile
from pathlib import Path

from rustboard.support.problems import InputError


def write_whole(path: Path, data: bytes) -> None:
    """Write a file so that other readers see the old content or the new, never a part.

    Raises:
        InputError: the disk is full, the folder cannot be written, or another program holds the file.
    """
    temporary: str | None = None
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name[:80]}.", suffix=".part", dir=path.parent)
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        os.replace(temporary, path)
        temporary = None
    except OSError as error:
        raise disk_problem(error, path) from error
    finally:
        if temporary is not None:
            _forget(temporary)


def _forget(temporary: str) -> None:
    try:
        os.unlink(temporary)
    except OSError:
        return  # a leftover part file harms nobody, and the first error is the one to tell


def read_bounded(path: Path, most_bytes: int) -> bytes:
    """Return the content of a file of at most ``most_bytes``.

    Raises:
        InputError: the file is not there, cannot be read, is a folder, or is larger.
    """
    try:
        with path.open("rb") as stream:
            data = stream.read(most_bytes + 1)
    except OSError as error:
        raise disk_problem(error, path) from error
    if len(data) > most_bytes:
        raise InputError(
            f"The file is larger than {most_bytes // 2**20} MiB; split it into smaller ones.", file=path.name
        )
    return data


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
}


def disk_problem(error: OSError, path: Path) -> InputError:
    """Return the sentence for what the disk refused."""
    reason = _REASONS.get(error.errno or 0)
    if reason is None:
        reason = (
            f"The disk refused this ({error.strerror or type(error).__name__}); try again or choose another place."
        )
    return InputError(reason, file=path.name or str(path))
