"""Reading one state of a board file, and keeping SQLite's locks on it from being lost.

On POSIX systems, closing any handle of a file gives up all of the process's locks on that file, those of SQLite too
(SQLite's "How To Corrupt An SQLite Database File", section 2.2). SQLite minds this for the handles it opened itself;
it knows nothing of those that a look at a header or a plain copy opens. So these, and every transaction that reads or
writes, hold the guard of their file: a job that looks at the shelf never opens a commit in the window's thread, nor a
read under way, to another program.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from weakref import WeakValueDictionary


class FileGuard:
    """Held by one thread at a time, which may take it again; one a file, so that no board waits for another."""

    def __init__(self) -> None:
        """Make a guard that nobody holds."""
        self._lock = threading.RLock()

    def __enter__(self) -> None:
        self._lock.acquire()

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._lock.release()


_guards: WeakValueDictionary[object, FileGuard] = WeakValueDictionary()
_guards_lock = threading.Lock()


def guard_of(path: Path) -> FileGuard:
    """Return the guard of the file that is at ``path`` now, whatever links lead to it.

    A file that is put in its place later has another guard, as it has other locks.
    """
    try:
        status = path.stat()
        key: object = (status.st_dev, status.st_ino)
    except (OSError, ValueError):
        key = path  # nothing to lock; whoever opens it is told why not
    with _guards_lock:
        return _guards.setdefault(key, FileGuard())


@contextmanager
def snapshot(connection: sqlite3.Connection) -> Iterator[None]:
    """Let all reads in the block see one state of the file, whoever commits meanwhile."""
    inside_another = connection.in_transaction
    if inside_another:
        yield
        return
    connection.execute("BEGIN")
    try:
        yield
    finally:
        if connection.in_transaction:  # an error may have ended it
            connection.execute("ROLLBACK")
