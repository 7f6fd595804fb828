"""What disturbances are called on the screen, and the letter each one is marked by in pictures."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.measured import DisturbanceKind

_NAMES: Final[dict[DisturbanceKind, str]] = {
    "debris cleared": str(QT_TRANSLATE_NOOP("daylog", "debris cleared off")),
    "touched": str(QT_TRANSLATE_NOOP("daylog", "touched")),
    "cleaned": str(QT_TRANSLATE_NOOP("daylog", "cleaned")),
    "replaced": str(QT_TRANSLATE_NOOP("daylog", "replaced by another piece")),
    "lost": str(QT_TRANSLATE_NOOP("daylog", "lost")),
    "rotated": str(QT_TRANSLATE_NOOP("daylog", "moved, turned or hung anew")),
    "board moved": str(QT_TRANSLATE_NOOP("daylog", "board moved")),
    "other": str(QT_TRANSLATE_NOOP("daylog", "something else")),
}
_LETTERS: Final[dict[DisturbanceKind, str]] = {
    "debris cleared": str(QT_TRANSLATE_NOOP("daylog", "D")),
    "touched": str(QT_TRANSLATE_NOOP("daylog", "T")),
    "cleaned": str(QT_TRANSLATE_NOOP("daylog", "C")),
    "replaced": str(QT_TRANSLATE_NOOP("daylog", "R")),
    "lost": str(QT_TRANSLATE_NOOP("daylog", "L")),
    "rotated": str(QT_TRANSLATE_NOOP("daylog", "H")),
    "board moved": str(QT_TRANSLATE_NOOP("daylog", "M")),
    "other": str(QT_TRANSLATE_NOOP("daylog", "O")),
}


def kind_name(kind: str) -> str:
    """Return what a kind of disturbance is called, in the user's language."""
    return QCoreApplication.translate("daylog", _text(_NAMES, kind) or kind)


def kind_letter(kind: str) -> str:
    """Return the letter that stands for a kind of disturbance in a picture."""
    return QCoreApplication.translate("daylog", _text(_LETTERS, kind) or "?")


def _text(texts: dict[DisturbanceKind, str], kind: str) -> str:
    return next((text for known, text in texts.items() if known == kind), "")
