"""Several files that belong together, written all or none."""

from __future__ import annotations

import contextlib
import os
import secrets
from collections.abc import Callable, Mapping
from pathlib import Path

from rustboard.support.files import disk_problem, replace_file


def write_together(
    folder: Path, files: Mapping[str, bytes], last_look: Callable[[], None] | None = None
) -> list[Path]:
    """Write files into a folder that is there, replacing those of the same names; return where they are.

    All are written beside first. When one cannot be put in its place, those put before it are taken away again and
    what was there before comes back.

    Args:
        folder: where.
        files: content by name.
        last_look: called when all are written and none is in its place yet; what it raises leaves all as it was.

    Raises:
        InputError: the disk refused; nothing was changed.
    """
    mark = secrets.token_hex(6)
    fresh = {name: folder / f".{name}.{mark}.new" for name in files}
    current = folder
    try:
        for name, data in files.items():
            current = folder / name
            replace_file(fresh[name], data)
        if last_look is not None:
            last_look()
        _put_in_place({path: folder / name for name, path in fresh.items()}, mark)
    except (OSError, ValueError) as error:
        raise disk_problem(error, current) from error
    finally:
        for path in fresh.values():
            with contextlib.suppress(OSError, ValueError):
                path.unlink(missing_ok=True)
    return [folder / name for name in files]


def _put_in_place(moves: Mapping[Path, Path], mark: str) -> None:
    """Put each file in its place, or leave every place as it was."""
    before: dict[Path, Path | None] = {}
    try:
        for fresh, place in moves.items():
            kept = place.with_name(f".{place.name}.{mark}.old")
            before[place] = _set_aside(place, kept)
            os.replace(fresh, place)
    except BaseException:
        for place, old in reversed(before.items()):
            with contextlib.suppress(OSError):  # the first error is the one to tell
                _bring_back(place, old)
        raise
    for old in before.values():
        if old is not None:
            with contextlib.suppress(OSError):
                old.unlink()


def _set_aside(place: Path, kept: Path) -> Path | None:
    """Move a file out of the way; return where it is, or None when there was none."""
    if not place.is_file():  # a folder of this name is refused by what comes next
        return None
    os.replace(place, kept)
    return kept


def _bring_back(place: Path, old: Path | None) -> None:
    if old is None:
        if place.is_file():
            place.unlink()
    else:
        os.replace(old, place)
