"""What the user chose for a film, and the words for it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.model import Photo
from rustboard.ui.wording import date_only, day_text

if TYPE_CHECKING:
    from rustboard.report.film import FilmKind

KIND_NAMES: Final[dict[FilmKind, object]] = {
    "mp4": QT_TRANSLATE_NOOP("films", "MP4 film"),
    "webp": QT_TRANSLATE_NOOP("films", "Animated WebP"),
    "gif": QT_TRANSLATE_NOOP("films", "GIF"),
}
KIND_WORDS: Final[dict[FilmKind, object]] = {
    "mp4": QT_TRANSLATE_NOOP("films", "Small and sharp; for showing, sending, and putting into slides."),
    "webp": QT_TRANSLATE_NOOP("films", "For web pages: moves by itself, in all colours, and begins again."),
    "gif": QT_TRANSLATE_NOOP(
        "films", "For where nothing else moves, such as old mail programs: large, small picture, only 256 colours."
    ),
}
KIND_FILES: Final[dict[FilmKind, object]] = {
    "mp4": QT_TRANSLATE_NOOP("films", "MP4 films (*.mp4)"),
    "webp": QT_TRANSLATE_NOOP("films", "Animated WebP (*.webp)"),
    "gif": QT_TRANSLATE_NOOP("films", "GIF (*.gif)"),
}


@dataclass(frozen=True, slots=True)
class FilmChoice:
    """What to film.

    Attributes:
        coupon: key, or None for the whole board. photos: by time. seconds_each: how long each picture stands.
        stamped: with day, date and grades.
    """

    coupon: int | None
    photos: tuple[Photo, ...]
    seconds_each: float
    kind: FilmKind
    stamped: bool


def say(text: object) -> str:
    """Return a text of this room in the user's language."""
    return QCoreApplication.translate("films", str(text))


def line_of(subject: str, day: float | None, when: datetime, grade: str) -> str:
    """Return the line under a picture."""
    parts = [subject, *([] if day is None else [day_text(day)]), date_only(when)]
    if grade:
        parts.append(say(QT_TRANSLATE_NOOP("films", "grade {0}")).format(grade))
    return " · ".join(parts)
