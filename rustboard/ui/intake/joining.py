"""Which inspection each photo will join or make, as the record says before they are added."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Final

from PySide6.QtCore import QCoreApplication

from rustboard.board.record import BoardRecord
from rustboard.ui.wording import date_time

_TOGETHER: Final = timedelta(minutes=30)  # as `rustboard.operations.photo_ties`: a test compares the two


def joined(record: BoardRecord, times: Mapping[int, datetime | None]) -> dict[int, str]:
    """Return in words what becomes of each photo: by its day and time, in the order of time."""
    said: dict[int, str] = {}
    new: list[tuple[datetime, datetime]] = []
    fixed = record.inspections_in_order()
    for number, taken in sorted(times.items(), key=lambda each: (each[1] or datetime.max, each[0])):
        if taken is None:
            said[number] = _say("none: it has no time")
            continue
        same_day = [each for each in fixed if each.at.date() == taken.date()]
        if same_day:
            nearest = min(same_day, key=lambda each: (abs(each.at - taken), each.at, each.key))
            said[number] = _say("joins {0}").format(date_time(nearest.at))
            continue
        if new and taken - new[-1][1] <= _TOGETHER:
            new[-1] = (new[-1][0], taken)
        else:
            new.append((taken, taken))
        said[number] = _say("makes a new one, {0}").format(date_time(new[-1][0]))
    return said


def _say(text: str) -> str:
    return QCoreApplication.translate("intake", text)
