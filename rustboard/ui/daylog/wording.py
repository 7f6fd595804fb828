"""What each kind of disturbance does to measuring, in words."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.measured import STARTS_ANEW, DisturbanceKind
from rustboard.ui.disturbance_words import kind_name

__all__ = ["kind_meaning", "kind_name", "starts_anew"]

_MEANINGS: Final[dict[DisturbanceKind, str]] = {
    "debris cleared": str(
        QT_TRANSLATE_NOOP("daylog", "What lay on it is gone; what a later photo does not show any more was no rust.")
    ),
    "touched": str(QT_TRANSLATE_NOOP("daylog", "Fingers leave salt: rust that follows may be their doing.")),
    "cleaned": str(
        QT_TRANSLATE_NOOP(
            "daylog", "Measuring starts anew for this coupon: its next photo counts as its first. Grades stay."
        )
    ),
    "replaced": str(
        QT_TRANSLATE_NOOP(
            "daylog", "Measuring starts anew for this coupon: its next photo counts as its first. Grades stay."
        )
    ),
    "lost": str(QT_TRANSLATE_NOOP("daylog", "It is no longer there to be measured.")),
    "rotated": str(QT_TRANSLATE_NOOP("daylog", "Its outline is looked for anew in the photos that follow.")),
    "board moved": str(
        QT_TRANSLATE_NOOP("daylog", "Another place means other weather: compare with care from here.")
    ),
    "other": str(QT_TRANSLATE_NOOP("daylog", "Kept as a note; nothing is measured differently.")),
}


def kind_meaning(kind: str) -> str:
    """Return what a kind of disturbance does to measuring, in the user's language."""
    return QCoreApplication.translate("daylog", _text(_MEANINGS, kind))


def starts_anew(kind: str) -> bool:
    """Return whether measuring starts anew after it."""
    return kind in STARTS_ANEW


def _text(texts: dict[DisturbanceKind, str], kind: str) -> str:
    return next((text for known, text in texts.items() if known == kind), "")
