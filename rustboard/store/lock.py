"""One writer at a time: a lock that the system takes back when its holder dies, and a note of who holds it.

The system's lock works between programs on one computer and on most network shares. In a folder that a service
copies between computers it does not; there the note, renewed while the board is open, tells of the other computer.
"""

from __future__ import annotations

import contextlib
import json
import os
import platform
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from filelock import FileLock, Timeout

from rustboard.support.files import read_bounded, write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

LOCK_NAME = ".board.lock"
NOTE_NAME = ".board.open-in.json"
STALE_AFTER = timedelta(minutes=5)
"""A note from another computer that was not renewed for this long is taken for a leftover."""


@dataclass(frozen=True, slots=True)
class Holder:
    """Who has the board open."""

    computer: str
    process: int
    seen: datetime


class BoardLock:
    """The right to write one board folder. Use `take`, `renew` and `release`."""

    def __init__(self, folder: Path) -> None:
        """Prepare the lock of a board folder without taking it."""
        self._note = folder / NOTE_NAME
        self._lock = FileLock(folder / LOCK_NAME, timeout=0)
        self._held = False

    def take(self, now: datetime) -> str:
        """Take the lock; return an empty text, or the sentence that says why this window may only read."""
        try:
            self._lock.acquire()
        except Timeout:
            return self._busy_sentence()
        except OSError:
            return "The folder cannot be written, so the board is open for reading only."
        holder = _read_note(self._note)
        if holder is not None and holder.computer != platform.node() and now - holder.seen < STALE_AFTER:
            self._lock.release()
            return self._busy_sentence()
        self._held = True
        self.renew(now)
        return ""

    def renew(self, now: datetime) -> None:
        """Write that the board is still open here."""
        if not self._held:
            return
        note = {"computer": platform.node(), "process": os.getpid(), "seen": now.isoformat()}
        # The lock itself holds; the note only helps people on another computer.
        with contextlib.suppress(InputError):
            write_whole(self._note, json.dumps(note).encode())

    def release(self) -> None:
        """Give the lock back."""
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
        return f"The board is open in another window{where}, so it is open for reading only here."


def _read_note(path: Path) -> Holder | None:
    try:
        content = json.loads(read_bounded(path, 4096))
        return Holder(str(content["computer"]), int(content["process"]), datetime.fromisoformat(content["seen"]))
    except (InputError, ValueError, KeyError, TypeError, RecursionError):
        return None  # no note, or a torn one: the system's lock decides
