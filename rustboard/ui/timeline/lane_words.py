"""What the lane of the weather shows, in words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.support.text import one_line
from rustboard.ui import wording
from rustboard.ui.disturbance_words import kind_name

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure

MOST_TOLD = 4
"""Disturbances told one by one; more are counted."""
_NOTE_LIMIT = 60


def _say(text: str) -> str:
    return QCoreApplication.translate("timeline", text)


def weather_text(found: Exposure) -> str:
    """Return the weather of a stretch: ``4.2 mm, wet 7 h, -1 to 6 °C``; says what is not known."""
    parts = [_rain(found), _wet(found)]
    low, high = found.lowest_temperature_c, found.highest_temperature_c
    if low is not None and high is not None:
        parts.append(_say("{0} to {1} °C").format(wording.number(low), wording.number(high)))
    if found.coverage_by_hand > found.coverage_by_logger:
        parts.append(_say("noted by hand"))
    return ", ".join(each for each in parts if each) or _say("weather not known")


def _rain(found: Exposure) -> str:
    if found.rain_mm is None:
        return _say("rain not known")
    return _say("{0} mm").format(wording.number(found.rain_mm))


def _wet(found: Exposure) -> str:
    if found.wet_hours is None:
        return _say("wetness not known")
    hours = wording.number(found.wet_hours)
    if found.coverage >= 0.995:
        return _say("wet {0} h").format(hours)
    return _say("wet {0} h (known {1} % of the time)").format(hours, wording.number(int(found.coverage * 100), 0))


def span_text(start: float, end: float) -> str:
    """Return a stretch of days: ``day 12.3 to 13``."""
    return _say("day {0} to {1}").format(wording.number(start), wording.number(end))


def disturbance_text(record: BoardRecord, entry: Disturbance) -> str:
    """Return a disturbance in a few words: ``debris cleared off C03``."""
    coupon = record.coupons.get(entry.coupon or 0)
    about = _say("whole board") if coupon is None else one_line(coupon.id, _NOTE_LIMIT)
    said = _say("{0}: {1}").format(about, kind_name(entry.kind))
    note = one_line(entry.note, _NOTE_LIMIT)
    return _say("{0} ({1})").format(said, note) if note else said


def told(record: BoardRecord, entries: Sequence[Disturbance]) -> str:
    """Return some disturbances one after another; an empty text for none."""
    shown = [disturbance_text(record, each) for each in entries[:MOST_TOLD]]
    more = len(entries) - len(shown)
    if more > 0:
        shown.append(_say("and {0} more").format(more))
    return "; ".join(shown)


def stretch_text(span: str, weather: str, disturbances: str) -> str:
    """Return all that is told of a stretch in one line."""
    said = _say("{0}: {1}").format(span, weather) if weather else span
    return _say("{0}; {1}").format(said, disturbances) if disturbances else said
