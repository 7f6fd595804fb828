"""What happened before an inspection, in sentences and figures."""

from __future__ import annotations

from datetime import datetime, time
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.board.weather import Condition, DayNote
from rustboard.session.between import Change, Stretch
from rustboard.support.text import one_line
from rustboard.ui import wording
from rustboard.ui.disturbance_words import kind_name

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure

NAME_LIMIT: Final = 80
NOTE_LIMIT: Final = 400
MOST_NAMED: Final = 20
"""Coupons named one after another; more are counted."""

_CONDITIONS: Final[dict[Condition, str]] = {
    "dry": str(QT_TRANSLATE_NOOP("between", "dry")),
    "dew": str(QT_TRANSLATE_NOOP("between", "dew")),
    "rain": str(QT_TRANSLATE_NOOP("between", "rain")),
    "fog": str(QT_TRANSLATE_NOOP("between", "fog")),
    "frost": str(QT_TRANSLATE_NOOP("between", "frost")),
    "snow": str(QT_TRANSLATE_NOOP("between", "snow")),
}


def _say(text: str) -> str:
    return QCoreApplication.translate("between", text)


def title(stretch: Stretch) -> str:
    """Return what is told, in one line."""
    return _say("What happened before the inspection of {0}").format(wording.date_time(stretch.inspection.at))


def span_sentence(record: BoardRecord, stretch: Stretch) -> str:
    """Return from when to when, and how long that is."""
    start, end = (wording.day_text(record.day_of(each)) for each in (stretch.start, stretch.end))
    if stretch.end <= stretch.start:
        return _say("Exposure begins with this inspection ({0}): nothing came before it.").format(end)
    days = wording.number(stretch.days)
    if stretch.before is None:
        pattern = _say("From the start of exposure on {0} to this inspection ({1}): {2} days.")
        return pattern.format(wording.date_time(stretch.start), end, days)
    pattern = _say("From the inspection of {0} ({1}) to this one ({2}): {3} days.")
    return pattern.format(wording.date_time(stretch.start), start, end, days)


def grades_sentences(stretch: Stretch) -> list[str]:
    """Return what became of the grades."""
    compared = len(stretch.fell) + len(stretch.rose) + stretch.same
    said = []
    if compared:
        said.append(_fell_sentence(stretch, compared))
    if stretch.rose:
        better = _say(
            "Better than before: {0}. Rust does not go away by itself: unless it was cleaned or replaced, look again."
        )
        said.append(better.format(_names([each.coupon.id for each in stretch.rose])))
    if stretch.first:
        said.append(
            _say("Graded for the first time: {0}.").format(_names([each.coupon.id for each in stretch.first]))
        )
    if stretch.not_graded:
        said.append(_say("Not graded at this inspection: {0}.").format(_names([c.id for c in stretch.not_graded])))
    return said


def _fell_sentence(stretch: Stretch, compared: int) -> str:
    if not stretch.fell:
        return _say("No grade fell among the {0} coupons that can be compared.").format(compared)
    worst = stretch.fell[0].fell
    names = _names([each.coupon.id for each in stretch.fell if each.fell == worst])
    by = _say("1 grade") if worst == 1 else _say("{0} grades").format(worst)
    if len(stretch.fell) == 1:
        return _say("One of {0} coupons fell: {1}, by {2}.").format(compared, names, by)
    return _say("{0} of {1} coupons fell; furthest {2}, by {3}.").format(len(stretch.fell), compared, names, by)


def weather_sentences(stretch: Stretch, *, working: bool) -> list[str]:
    """Return the weather, and how much of it is known."""
    found = stretch.exposure
    if found is None:
        if working:
            return [_say("The weather is being worked out.")]
        if stretch.end <= stretch.start:
            return []
        return [_say("Nothing is known of the weather of this time: add a logger's file, or note days by hand.")]
    said = [_wet_sentence(found), _rain_sentence(found), _gap_sentence(found)]
    return [*(each for each in said if each), *found.cautions]


def _wet_sentence(found: Exposure) -> str:
    if found.wet_hours is None:
        return _say("Whether the coupons were wet is not known.")
    hours = wording.number(found.wet_hours)
    if found.wet_hours <= 0:
        return _say("As far as is known, the coupons stayed dry.")
    if found.wet_hours_by_hand is None or found.coverage_by_hand <= 0:
        return _say("The coupons were wet for {0} hours.").format(hours)
    by_logger = wording.number(found.wet_hours_by_logger or 0.0)
    by_hand = wording.number(found.wet_hours_by_hand)
    pattern = _say("The coupons were wet for {0} hours: {1} by loggers, {2} by days noted by hand.")
    return pattern.format(hours, by_logger, by_hand)


def _rain_sentence(found: Exposure) -> str:
    if found.rain_mm is None:
        return _say("Rain is not known.")
    if found.rain_mm <= 0:
        return _say("No rain fell.")
    return _say("{0} mm of rain fell.").format(wording.number(found.rain_mm))


def _gap_sentence(found: Exposure) -> str:
    if found.gap < 0.005:
        return ""
    return _say("For {0} of the time nothing is known of wetness; those hours are not counted.").format(
        percent(found.gap)
    )


def figures(found: Exposure) -> list[tuple[str, str]]:
    """Return the figures of the exposure with their names; what is not known is left out."""
    hours, mm = _say("{0} h"), _say("{0} mm")
    rows: list[tuple[str, str | None]] = [
        (_say("Length"), _say("{0} days").format(wording.number(found.days, 2))),
        (_say("Wet, by loggers"), _told(found.wet_hours_by_logger, hours)),
        (_say("Wet, by hand"), _told(found.wet_hours_by_hand, hours)),
        (_say("Rain"), _told(found.rain_mm, mm)),
        (_say("Wet spells that dried"), None if found.wet_spells is None else wording.number(found.wet_spells, 0)),
        (_say("Temperature"), _temperatures(found)),
        (_say("At or below 0 °C"), _told(found.frost_hours, hours)),
        (_say("Mean humidity"), _told(found.mean_rh_percent, _say("{0} % RH"))),
        (_say("Dew at night (estimated, an upper figure)"), _told(found.dew_hours, hours)),
        (_say("Wetness known"), _coverage(found)),
        (_say("Rain known"), _say("{0} of the time").format(percent(found.rain_coverage))),
    ]
    return [(name, value) for name, value in rows if value is not None]


def _told(value: float | None, pattern: str) -> str | None:
    return None if value is None else pattern.format(wording.number(value))


def _temperatures(found: Exposure) -> str | None:
    low, mean, high = found.lowest_temperature_c, found.mean_temperature_c, found.highest_temperature_c
    if low is None or mean is None or high is None:
        return None
    numbers = (wording.number(each) for each in (low, mean, high))
    return _say("lowest {0}, mean {1}, highest {2} °C").format(*numbers)


def _coverage(found: Exposure) -> str:
    whole = _say("{0} of the time").format(percent(found.coverage))
    if found.coverage_by_hand <= 0:
        return whole
    pattern = _say("{0}: {1} by loggers, {2} by hand")
    return pattern.format(whole, percent(found.coverage_by_logger), percent(found.coverage_by_hand))


def percent(share: float) -> str:
    """Return a share in whole %; what is not all of it is never told as 100, nor what is not none as 0."""
    whole = round(share * 100)
    if 0 < share < 1:
        whole = min(99, max(1, whole))
    return _say("{0} %").format(wording.number(whole, 0))


def disturbance_line(record: BoardRecord, entry: Disturbance) -> str:
    """Return a disturbance as one line: when, what it was about, what happened."""
    coupon = record.coupons.get(entry.coupon or 0)
    about = _say("the whole board") if coupon is None else one_line(coupon.id, NAME_LIMIT)
    said = _say("{0}: {1}, {2}").format(wording.date_time(entry.at), about, kind_name(entry.kind))
    note = one_line(entry.note, NOTE_LIMIT)
    return _say("{0} ({1})").format(said, note) if note else said


def day_note_line(note: DayNote) -> str:
    """Return a day noted by hand as one line."""
    parts = [_say(_CONDITIONS[each]) for each in note.conditions]
    numbers = (
        (_say("{0} mm"), note.rain_mm),
        (_say("wet {0} h"), note.wet_hours),
        (_say("lowest {0} °C"), note.lowest_c),
        (_say("highest {0} °C"), note.highest_c),
    )
    parts += [pattern.format(wording.number(value)) for pattern, value in numbers if value is not None]
    if note.note:
        parts.append(one_line(note.note, NOTE_LIMIT))
    day = wording.date_only(datetime.combine(note.day, time()))
    return _say("{0}: {1}").format(day, ", ".join(parts))


def note_lines(stretch: Stretch) -> list[str]:
    """Return the notes of the two inspections."""
    found = []
    for inspection in (stretch.before, stretch.inspection):
        if inspection is not None and inspection.note.strip():
            note = one_line(inspection.note, NOTE_LIMIT)
            found.append(_say("Inspection of {0}: {1}").format(wording.date_time(inspection.at), note))
    return found


def change_row(record: BoardRecord, change: Change) -> tuple[str, str, str, str, str]:
    """Return coupon, treatment, grade before, grade now, and by how many it fell."""
    treatment = record.treatment_of(change.coupon)
    before = wording.grade_text(change.before)
    if change.older is not None:
        before = _say("{0} (on {1})").format(before, wording.date_only(change.older))
    name = "–" if treatment is None else one_line(treatment.title, NAME_LIMIT)
    if treatment is None and change.coupon.role == "control":
        name = _say("control, untreated")
    return (
        one_line(change.coupon.id, NAME_LIMIT),
        name,
        before,
        wording.grade_text(change.now),
        wording.number(change.fell, 0),
    )


def _names(ids: list[str]) -> str:
    shown = [one_line(each, NAME_LIMIT) for each in ids[:MOST_NAMED]]
    more = len(ids) - len(shown)
    return ", ".join(shown) + (_say(" and {0} more").format(more) if more > 0 else "")
