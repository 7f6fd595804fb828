"""One writer at a time: a lock that the system takes back when its holder dies, and a note of who holds it.

The system's lock works between programs on one computer and on most network shares. In a folder that a service
copies between computers it does not; there the note, renewed while the board is open, tells of the other computer.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
import platform
import stat
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from filelock import FileLock, Timeout

from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

LOCK_NAME = ".board.lock"
NOTE_NAME = ".board.open-in.json"
STALE_AFTER = timedelta(minutes=5)
"""A note from another computer that was not renewed for this long is taken for a leftover."""

FOLDER_NOT_WRITABLE = "The folder cannot be written, so the board is open for reading only."
_NOTE_BYTES = 4096
_BUSY = "The board is open in another window"


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has the board open.

    Attributes:
        seen: when the note was renewed, in UTC: two computers may stand in two time zones.
    """

    computer: str
    process: int
    seen: datetime


class BoardLock:
    """The right to write one board folder. Use `take`, `renew` and `release`."""

    def __init__(self, folder: Path) -> None:
        """Prepare the lock of a board folder without taking it."""
        self._file = folder / LOCK_NAME
        self._note = folder / NOTE_NAME
        self._lock = FileLock(self._file, timeout=0)
        self._held = False

    def take(self, now: datetime) -> str:
        """Take the lock; return an empty text, or the sentence that says why this window may only read.

        Args:
            now: local wall-clock time.
        """
        try:
            _refuse_special(self._file)
            self._lock.acquire()
        except Timeout:
            return self._busy_sentence()
        except (OSError, NotImplementedError) as error:
            return _no_lock_sentence(error)
        holder = _read_note(self._note)
        if holder is not None and holder.computer != platform.node() and abs(_utc(now) - holder.seen) < STALE_AFTER:
            self._lock.release()
            return self._busy_sentence()
        self._held = True
        self.renew(now)
        return ""

    def renew(self, now: datetime) -> None:
        """Write that the board is still open here."""
        if not self._held:
            return
        note = {"computer": platform.node(), "process": os.getpid(), "seen": _utc(now).isoformat()}
        # The lock itself holds; the note only helps people on another computer.
        with contextlib.suppress(InputError):
            write_whole(self._note, json.dumps(note).encode())

    def release(self) -> None:
        """Give the lock back. Its empty file stays: taking it away could let two programs in at once."""
        if not self._held:
            return
        self._held = False
        with contextlib.suppress(OSError):
            self._note.unlink(missing_ok=True)
        self._lock.release()

    def _busy_sentence(self) -> str:
        holder = _read_note(self._note)
        where = ""
        if holder is not None:
            here = holder.computer == platform.node()
            where = " on this computer" if here else f" on the computer “{one_line(holder.computer, 60)}”"
        return f"{_BUSY}{where}, so it is open for reading only here."


def is_held_elsewhere(reason: str) -> bool:
    """Return whether a window may only read because another one writes; ``reason`` is what `BoardLock.take` said."""
    return reason.startswith(_BUSY)


def _refuse_special(path: Path) -> None:
    # A link in a stranger's folder could make us open, or empty, any file of the user's.
    try:
        mode = path.lstat().st_mode
    except FileNotFoundError:
        return
    if not stat.S_ISREG(mode):
        raise OSError(errno.EPERM, "the lock is not a plain file")


def _no_lock_sentence(error: Exception) -> str:
    number = error.errno if isinstance(error, OSError) else errno.ENOSYS
    if number == errno.ENOSPC:
        return "The disk is full, so the board is open for reading only; free some space and open it again."
    if number in {errno.ENOSYS, errno.ENOLCK, errno.EOPNOTSUPP}:
        return "This disk cannot lock files, so the board is open for reading only; copy its folder to another disk."
    return FOLDER_NOT_WRITABLE


def _utc(now: datetime) -> datetime:
    return now.astimezone(UTC)


def _read_note(path: Path) -> Holder | None:
    try:
        if not stat.S_ISREG(path.lstat().st_mode):
            return None
        content = json.loads(read_bounded(path, _NOTE_BYTES))
        seen = datetime.fromisoformat(content["seen"])
        seen = seen.replace(tzinfo=UTC) if seen.tzinfo is None else seen.astimezone(UTC)
        return Holder(str(content["computer"]), int(content["process"]), seen)
    except (InputError, OSError, ValueError, KeyError, TypeError, OverflowError, RecursionError):
        return None  # no note, or a torn one: the system's lock decides
