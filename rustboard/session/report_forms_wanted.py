"""The forms a report can be written in, and what their files are called."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Final, Literal, NamedTuple

from rustboard.session.new_board import folder_name
from rustboard.support.files import is_device_name, shown_name
from rustboard.support.problems import InputError

FormKind = Literal["workbook", "pdf", "one page", "board", "timeline", "data"]
FORM_KINDS: Final[tuple[FormKind, ...]] = ("workbook", "pdf", "one page", "board", "timeline", "data")

ENDINGS: Final[dict[FormKind, tuple[str, ...]]] = {
    "workbook": (".xlsx",),
    "pdf": (".pdf",),
    "one page": (".pdf", ".png", ".svg"),
    "board": (".png", ".svg"),
    "timeline": (".png", ".svg"),
    "data": ("",),
}
"""The endings a form's file may have, the usual one first. The data are a folder of files."""

_NAMED: Final[dict[FormKind, str]] = {
    "workbook": "",
    "pdf": "",
    "one page": ", one page",
    "board": ", board",
    "timeline": ", timeline",
    "data": ", data",
}
"""What stands behind the report's name, so that forms of one kind of file do not meet."""

_LONGEST_NAME: Final = 200


class FormWanted(NamedTuple):
    """A form and the ending of its file."""

    kind: FormKind
    ending: str


@dataclass(frozen=True, slots=True)
class FormTarget:
    """A form and where it goes.

    Attributes:
        kind: of form.
        path: its file; of the data the folder.
    """

    kind: FormKind
    path: Path

    @property
    def is_folder(self) -> bool:
        """Whether several files are written, into a folder."""
        return self.kind == "data"


def report_name(board: str, day: date) -> str:
    """Return what the report of a board is called before its endings."""
    return f"{folder_name(board)} {day:%Y-%m-%d}"


def targets_of(folder: Path, name: str, forms: Sequence[FormWanted]) -> tuple[FormTarget, ...]:
    """Return where each form goes."""
    return tuple(FormTarget(kind, folder / f"{name}{_NAMED[kind]}{ending}") for kind, ending in forms)


def check_report_name(name: str) -> None:
    """Refuse what cannot be the name of files on every system.

    Raises:
        InputError: with how to mend it.
    """
    if not name.strip(". "):
        raise InputError("The report needs a name; write one.")
    if any(each in name for each in '/\\:*?"<>|') or not name.isprintable():
        raise InputError('A name of files holds none of / \\ : * ? " < > |; write another one.')
    if len(name) > _LONGEST_NAME or len(name.encode("utf-8", "replace")) > _LONGEST_NAME:
        raise InputError("The name is too long; write a shorter one.")
    if is_device_name(name):
        raise InputError("This name is kept for a device on some systems; write another one.")


def check_report_folder(folder: Path, board: Path) -> None:
    """Refuse a folder that is not there, and the board's own folders of photos and backups.

    Raises:
        InputError: with how to mend it.
    """
    check_own_folders(folder, board)
    if not folder.is_dir():
        raise InputError("There is no such folder; choose another one.", file=shown_name(folder))


def check_own_folders(folder: Path, board: Path) -> None:
    """Refuse the board's own folders of photos and backups, there or not, and what cannot be a folder.

    Raises:
        InputError: with how to mend it.
    """
    try:
        folder.is_dir()
        real = folder.resolve()
        kept = [(board / each).resolve() for each in ("photos", "backups")]
    except (OSError, ValueError, RuntimeError) as error:
        raise InputError("This folder cannot be used; choose another one.", file=shown_name(folder)) from error
    if any(real == each or each in real.parents for each in kept):
        raise InputError("This folder is for the board's own files; choose another one.", file=shown_name(folder))
