"""What is said of a photo as a whole: its day, its date, and how far measuring it has come."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Literal

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.measured import SETTINGS_PARTS, SettingsPart
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.photo_days import photos_in_order, time_of
from rustboard.support.text import printable
from rustboard.ui.measured_words import PRESENT_WORDS
from rustboard.ui.measured_words import say as say_measured
from rustboard.ui.wording import date_only, date_time, day_text

PhotoState = Literal["measured", "again", "waiting", "unplaced", "unsearched", "missing"]

STATE_WORDS: dict[PhotoState, str] = {
    "measured": str(QT_TRANSLATE_NOOP("photos", "measured")),
    "again": str(QT_TRANSLATE_NOOP("photos", "measure again")),
    "waiting": str(QT_TRANSLATE_NOOP("photos", "not measured")),
    "unplaced": str(QT_TRANSLATE_NOOP("photos", "board not found")),
    "unsearched": str(QT_TRANSLATE_NOOP("photos", "not placed yet")),
    "missing": str(QT_TRANSLATE_NOOP("photos", "photo missing")),
}

AGAIN_WORDS: dict[SettingsPart, str] = {
    "shape": str(
        QT_TRANSLATE_NOOP("photos", "To be measured again: its outline, or what of it counts, has changed since.")
    ),
    "log": str(QT_TRANSLATE_NOOP("photos", "To be measured again: the day log says otherwise what was done to it.")),
    "order": str(
        QT_TRANSLATE_NOOP("photos", "To be measured again: photos came, went, or were placed or dated anew since.")
    ),
    "strokes": str(QT_TRANSLATE_NOOP("photos", "To be measured again: its mask was painted since.")),
}
"""Why figures no longer fit the board."""

HIDDEN_WORDS = str(
    QT_TRANSLATE_NOOP(
        "photos",
        "Hidden until you have graded this coupon at this inspection, so that it cannot sway you.",
    )
)


def say(text: str) -> str:
    """Return a text of the photo screen in the user's language."""
    return QCoreApplication.translate("photos", text)


@dataclass(frozen=True, slots=True)
class Day:
    """One photo in the strip of days.

    Attributes:
        photo: key. day: of exposure, in words. date: in the user's format. state: how far it is.
        because: why the board was not found. newest: whether no photo is later. name: of the file.
    """

    photo: int
    day: str
    date: str
    when: str
    state: PhotoState
    because: str
    newest: bool
    name: str

    def words(self) -> str:
        """Return all of it in one sentence, for screen readers and tool tips."""
        parts = [self.day, self.when, self.name, say(STATE_WORDS[self.state])]
        if self.because:
            parts.append(self.because)
        if self.newest:
            parts.append(say("newest"))
        return ", ".join(each for each in parts if each)

    def state_words(self) -> str:
        """Return how far it is, and whether it is the newest."""
        words = say(STATE_WORDS[self.state])
        return say("{0}, newest").format(words) if self.newest else words

    def short(self) -> str:
        """Return day and date."""
        return ", ".join(each for each in (self.day, self.date) if each)


def days_of(record: BoardRecord, to_measure: Collection[int] = ()) -> list[Day]:
    """Return the photos by time; ``to_measure`` are those in which something is to be measured (again)."""
    photos = photos_in_order(record)
    last = photos[-1].key if photos else 0
    return [_day(record, each, last, to_measure) for each in photos]


def _day(record: BoardRecord, photo: Photo, last: int, to_measure: Collection[int]) -> Day:
    when = time_of(record, photo)
    return Day(
        photo.key,
        say("no date") if when is None else day_text(record.day_of(when)),
        "" if when is None else date_only(when),
        "" if when is None else date_time(when),
        state_of(record, photo, to_measure),
        printable(photo.unplaced_because) if photo.mm_to_px is None else "",
        photo.key == last,
        printable(photo.name),
    )


def state_of(record: BoardRecord, photo: Photo, to_measure: Collection[int] = ()) -> PhotoState:
    """Return how far measuring a photo has come."""
    if photo.mm_to_px is None:
        return "unplaced" if photo.unplaced_because else "unsearched"
    if photo.key not in record.measured:
        return "waiting"
    return "again" if photo.key in to_measure else "measured"


def again_words(parts: Collection[SettingsPart]) -> str:
    """Return why figures are to be measured again, a sentence; empty where they fit the board."""
    return next((say(AGAIN_WORDS[part]) for part in SETTINGS_PARTS if part in parts), "")


def left_out(record: BoardRecord, photo: Photo) -> list[tuple[str, str]]:
    """Return id and reason of every coupon on the board that is not among the confident ones of a photo."""
    standing = OutOfDate(record)
    confident, again = frozenset(standing.confident(photo)), standing.in_photo(photo.key)
    return [
        (printable(each.id), _why_left_out(record, photo, each.key, again=each.key in again))
        for each in record.coupons_in_order()
        if each.position is not None and each.key not in confident
    ]


def _why_left_out(record: BoardRecord, photo: Photo, coupon: int, *, again: bool) -> str:
    found = record.measured.get(photo.key, {}).get(coupon)
    if record.grading(coupon, photo.inspection or 0) is not None:
        return say("graded already")
    if found is None:
        return say("not measured")
    if again:
        return say("to be measured again")
    if found.present in PRESENT_WORDS and found.present != "unsure":
        return say_measured(PRESENT_WORDS[found.present])
    if found.percent is None:
        return printable(found.warnings[0]) if found.warnings else say("not measured")
    if found.confident:
        return say("the photo belongs to no inspection")
    return printable(found.warnings[0]) if found.warnings else say("wants a closer look")


def grouped(items: list[tuple[str, str]], most: int = 8) -> str:
    """Return ids by their reason in one line: ``C01, C02 and 3 more: graded already; C07: glare``."""
    by_reason: dict[str, list[str]] = {}
    for name, reason in items:
        by_reason.setdefault(reason, []).append(name)
    parts = []
    for reason, names in by_reason.items():
        shown = ", ".join(names[:most])
        if len(names) > most:
            shown = say("{0} and {1} more").format(shown, len(names) - most)
        parts.append(say("{0}: {1}").format(shown, reason.rstrip(".")))
    return "; ".join(parts)
