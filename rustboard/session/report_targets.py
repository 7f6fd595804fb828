"""Where the forms of a report go: files open elsewhere, free names, and all put in place together."""

from __future__ import annotations

import contextlib
import errno
import os
import secrets
import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Final, NamedTuple

from rustboard.session.report_forms_wanted import FormTarget
from rustboard.support.files import shown_name
from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.support.writing_out import CannotReplaceError, not_written

_MOST_LOCK_BYTES: Final = 4_096
_SHARING_VIOLATION: Final = 32
_LOCK_VIOLATION: Final = 33


class Held(NamedTuple):
    """A file that another program has open.

    Attributes:
        path: the file. lock: name of the lock file that says so, or empty where the system itself refuses.
        who: whom the lock file names, or empty.
    """

    path: Path
    lock: str = ""
    who: str = ""


class TargetHeldError(CannotReplaceError):
    """A report cannot be written where it was wanted, because another program has the file open.

    Attributes:
        held: which file, and how that is known.
    """

    def __init__(self, held: Held) -> None:
        self.held = held
        super().__init__(held_sentence(held), file=shown_name(held.path))


def held_sentence(held: Held) -> str:
    """Return what is said of a file that another program has open."""
    if not held.lock:
        return "Another program has this file open; close it there, or write under another name."
    by = f", of {held.who}," if held.who else ""
    return (
        f"Another program{by} seems to have this file open: its lock {held.lock} lies beside it. Close it there, or "
        "write under another name."
    )


def held(path: Path) -> Held | None:
    """Return how it is known that another program has a file open; None where nothing says so.

    Office programs lay a lock file beside a document while it is open, ``.~lock.NAME#`` or ``~$NAME`` (common
    practice, from memory); Windows refuses to open a file for writing that another program holds.
    """
    if not _is_file(path):
        return None
    for name in (f".~lock.{path.name}#", f"~${path.name}", f"~${path.name[2:]}"):
        lock = path.with_name(name)
        if _is_file(lock):
            return Held(path, name, _owner(lock))
    try:
        with path.open("r+b"):
            return None
    except OSError as error:
        return Held(path) if _is_held(error) else None


def first_held(targets: Sequence[FormTarget]) -> Held | None:
    """Return the first target that another program has open."""
    return next((found for each in targets if not each.is_folder and (found := held(each.path))), None)


def _is_file(path: Path) -> bool:
    try:
        return path.is_file()
    except (OSError, ValueError):  # a name too long for the disk, such as that of a lock for a long name
        return False


def _is_held(error: OSError) -> bool:
    return getattr(error, "winerror", None) in (_SHARING_VIOLATION, _LOCK_VIOLATION) or error.errno in (
        errno.EBUSY,
        errno.ETXTBSY,
    )


def _owner(lock: Path) -> str:
    """Return whom a lock file names: such files begin with a name, told apart by commas or after its length."""
    try:
        with lock.open("rb") as stream:
            content = stream.read(_MOST_LOCK_BYTES)
    except OSError:
        return ""
    if lock.name.startswith("~$"):
        length = content[0] if content else 0
        return one_line(content[1 : 1 + length].decode("utf-8", "replace"), 60)
    names = content.decode("utf-8", "replace").split(",")[:2]  # the name given to the program, else that of the login
    return next((found for each in names if (found := one_line(each, 60))), "")


@dataclass(frozen=True, slots=True)
class _Staged:
    """A form being made: where it goes, and where it is made meanwhile, on the same disk."""

    target: FormTarget
    part: Path
    folder: Path


@contextmanager
def staged(targets: Sequence[FormTarget]) -> Iterator[Staging]:
    """Hand out places beside the targets; whatever was not put in place when the block ends is gone.

    Raises:
        InputError: a folder cannot be written.
    """
    staging = Staging()
    try:
        for each in targets:
            staging.add(each)
        yield staging
    finally:
        staging.clear()


class Staging:
    """The forms while they are made. `put_in_place` replaces all files, or leaves all as they were."""

    def __init__(self) -> None:
        """Start empty."""
        self._staged: list[_Staged] = []
        self._folders: dict[Path, Path] = {}

    def add(self, target: FormTarget) -> None:
        """Make room for a form beside where it goes.

        Raises:
            InputError: its folder cannot be written, or a folder has its name.
        """
        path = target.path
        try:
            real = Path(os.path.realpath(path))  # a link keeps pointing where it did
            if real.is_dir() != target.is_folder and os.path.lexists(real):
                raise InputError(_wrong_kind(target), file=shown_name(path))
            folder = self._folder(real.parent)
            part = folder / f"{len(self._staged)}{path.suffix}"
            if target.is_folder:
                part.mkdir()
        except (OSError, ValueError) as error:
            raise _refused(error, path) from error
        self._staged.append(_Staged(FormTarget(target.kind, real), part, folder))

    def part(self, number: int) -> Path:
        """Return where to make a form: the file, or the folder, which is there."""
        return self._staged[number].part

    def put_in_place(self) -> list[Path]:
        """Put every form where it belongs; return all files.

        Raises:
            InputError: one of them cannot be replaced; then all are as they were.
        """
        done: list[tuple[Path, Path | None]] = []
        written = []
        try:
            for each in self._staged:
                for part, path in _files(each):
                    written.append(path)
                    done.append((path, self._put(part, path, each.folder)))
        except (OSError, InputError) as error:
            for path, old in reversed(done):
                with contextlib.suppress(OSError):  # what can be put back is
                    _put_back(path, old)
            if isinstance(error, InputError):
                raise
            raise _refused(error, written[-1]) from error
        return written

    def _put(self, part: Path, path: Path, folder: Path) -> Path | None:
        """Replace one file; return where the old one is kept meanwhile, None where there was none."""
        path.parent.mkdir(exist_ok=True)
        old: Path | None = None
        if path.is_file():
            old = folder / f"old-{secrets.token_hex(6)}"
            shutil.copyfile(path, old)
        os.replace(part, path)
        return old

    def _folder(self, beside: Path) -> Path:
        if beside not in self._folders:
            folder = beside / f".report.{secrets.token_hex(6)}.part"
            folder.mkdir()
            self._folders[beside] = folder
        return self._folders[beside]

    def clear(self) -> None:
        """Take away what was not put in place."""
        for folder in self._folders.values():
            shutil.rmtree(folder, ignore_errors=True)


def _files(each: _Staged) -> list[tuple[Path, Path]]:
    """Return the files of a form: where each was made, and where it goes."""
    if not each.target.is_folder:
        twin = each.part.with_suffix(".txt")  # the words of a one-page summary
        beside = [(twin, each.target.path.with_suffix(".txt"))] if twin.is_file() and twin != each.part else []
        return [(each.part, each.target.path), *beside]
    return [(file, each.target.path / file.name) for file in sorted(each.part.iterdir())]


def _put_back(path: Path, old: Path | None) -> None:
    if old is None:
        path.unlink()
    else:
        os.replace(old, path)


def _wrong_kind(target: FormTarget) -> str:
    if target.is_folder:
        return "A file has this name, and a folder is needed; choose another name."
    return "A folder has this name; choose another name for the report."


def _refused(error: OSError | ValueError, path: Path) -> InputError:
    """Return what to say of a report that cannot be written where it was wanted."""
    if isinstance(error, OSError) and _is_file(path) and (_is_held(error) or getattr(error, "winerror", None)):
        return TargetHeldError(Held(path))
    return not_written(error, path, "report")
