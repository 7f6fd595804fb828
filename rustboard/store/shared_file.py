"""A small file of the user's that all windows write: taken in turns, and what is damaged is put aside."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final

from filelock import FileLock, Timeout

from rustboard.support.files import disk_problem, shown_name
from rustboard.support.problems import InputError

_MOST_PUT_ASIDE: Final = 1_000


@contextmanager
def taking_turns(path: Path, what: str, seconds: float) -> Iterator[None]:
    """Hold the lock beside a file, which is made with its folder where it is not there yet.

    Args:
        path: the file; it need not be there.
        what: its name in a sentence, such as ``recipe library``.
        seconds: how long to wait for the turn.

    Raises:
        InputError: another window has its turn for longer, or the disk refused.
    """
    lock = FileLock(path.with_name(f".{path.name}.lock"), timeout=seconds)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        lock.acquire()
    except Timeout:
        raise InputError(f"Another window is busy with the {what}; try again in a moment.") from None
    except NotImplementedError as error:
        raise InputError(f"This disk cannot lock files, so the {what} cannot be changed.") from error
    except OSError as error:
        raise disk_problem(error, path) from error
    try:
        yield
    finally:
        lock.release()


def name_aside(path: Path) -> Path:
    """Return a free name beside a file for what is damaged of it: ``recipes.damaged-1.json``.

    Raises:
        InputError: too many were put aside before.
    """
    for number in range(1, _MOST_PUT_ASIDE):
        name = path.with_name(f"{path.stem}.damaged-{number}{path.suffix}")
        if not name.exists():
            return name
    raise InputError("Too many damaged files were put aside; clear them away.", file=shown_name(path))
