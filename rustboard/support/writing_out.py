"""What to say when a file that the user asked for cannot be written, and another name to offer."""

from __future__ import annotations

import errno
from pathlib import Path

from rustboard.support.files import shown_name
from rustboard.support.problems import InputError

_MOST_TRIED = 999


class CannotReplaceError(InputError):
    """A file of this name is there and may not be replaced, as where another program has it open.

    Another name beside it may do: `free_name_beside`.
    """


def not_written(error: OSError | ValueError, path: Path, what: str) -> InputError:
    """Return the sentence for what the disk refused.

    Args:
        error: what the disk said; a ValueError means a name that no file can have.
        path: the file.
        what: is written, such as ``workbook``.
    """
    if isinstance(error, ValueError):
        return InputError(f"No file can have this name; choose another name for the {what}.", file=shown_name(path))
    number = errno.errorcode.get(error.errno or 0, "")  # by name, because not every system has every number
    if number in {"EACCES", "EPERM", "EBUSY", "ETXTBSY"} and path.is_file():
        return CannotReplaceError(
            "The file cannot be replaced; close it where it is open, or choose another name or folder.",
            file=shown_name(path),
        )
    return InputError(_reason(number, error, path, what), file=shown_name(path))


def _reason(number: str, error: OSError, path: Path, what: str) -> str:
    match number:
        case "ENOSPC" | "EDQUOT":
            return f"The disk is full, so the {what} was not written; free some space or choose another folder."
        case "ENOENT" | "ENOTDIR":
            return f"The folder {path.parent} does not exist; create it or choose another one."
        case "EISDIR":
            return f"A folder has this name; choose another name for the {what}."
        case "ENAMETOOLONG":
            return "The name is too long; choose a shorter one."
        case "EACCES" | "EPERM" | "EBUSY" | "EROFS":
            return f"The folder {path.parent} does not allow writing; choose another one."
        case _:
            return f"The {what} could not be written ({error.strerror or error}); choose another name or folder."


def free_name_beside(path: Path) -> Path:
    """Return a name in the same folder that nothing has: ``name (2).xlsx``, or with the next number.

    Of a name that already ends in such a number the next one is returned, not a number behind a number.
    """
    stem, number = _numbered(path.stem)
    for each in range(number + 1, number + _MOST_TRIED):
        found = path.with_name(f"{stem} ({each}){path.suffix}")
        if not found.exists() and not found.is_symlink():
            return found
    return path.with_name(f"{stem} ({number + _MOST_TRIED}){path.suffix}")


def _numbered(stem: str) -> tuple[str, int]:
    head, found, tail = stem.rpartition(" (")
    digits = tail.removesuffix(")")
    if found and tail.endswith(")") and digits.isascii() and digits.isdigit() and 0 < len(digits) < 5:
        return head, int(digits)
    return stem, 1
