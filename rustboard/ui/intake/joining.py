"""Which inspection each photo will join or make, as the record says before they are added."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from PySide6.QtCore import QCoreApplication

from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord
from rustboard.operations.photo_ties import FROM_A_PHOTO, TOGETHER
from rustboard.ui.wording import date_time


@dataclass(slots=True)
class _Visit:
    """An inspection that photos make: their times, which of the new ones are among them, and whether it is there."""

    times: list[datetime]
    numbers: list[int] = field(default_factory=list)
    there: bool = False

    def is_near(self, taken: datetime) -> bool:
        return any(abs(each - taken) <= TOGETHER for each in self.times)


def joined(record: BoardRecord, times: Mapping[int, datetime | None]) -> dict[int, str]:
    """Return in words what becomes of each photo, by the rules of `rustboard.operations.photo_ties`.

    Args:
        record: the board.
        times: of the photos, by number.
    """
    visits, loose = _loose_visits(record)
    fixed = [each for each in record.inspections_in_order() if each.key not in loose]
    said: dict[int, str] = {}
    for number, taken in sorted(times.items(), key=lambda each: (each[1] or datetime.max, each[0])):
        same_day = [each for each in fixed if taken is not None and each.at.date() == taken.date()]
        if taken is None:
            said[number] = _say("none: it has no time")
        elif same_day:
            said[number] = _say("joins {0}").format(date_time(_nearest(same_day, taken).at))
        else:
            _put(visits, number, taken)
    for visit in visits:
        text = _say("joins {0}") if visit.there else _say("makes a new one, {0}")
        said.update(dict.fromkeys(visit.numbers, text.format(date_time(min(visit.times)))))
    return said


def _nearest(inspections: list[Inspection], taken: datetime) -> Inspection:
    return min(inspections, key=lambda each: (abs(each.at - taken), each.at, each.key))


def _put(visits: list[_Visit], number: int, taken: datetime) -> None:
    near = [each for each in visits if each.is_near(taken)]
    if not near:
        visits.append(_Visit([taken], [number]))
        return
    home = near[0]
    for other in near[1:]:  # this photo stands between them
        home.times += other.times
        home.numbers += other.numbers
        home.there = home.there or other.there
        visits.remove(other)
    home.times.append(taken)
    home.numbers.append(number)


def _loose_visits(record: BoardRecord) -> tuple[list[_Visit], set[int]]:
    """Return the inspections that still follow the photos that made them, and their keys."""
    graded = {inspection for given in record.current.values() for inspection in given}
    visits, keys = [], set()
    for each in record.inspections_in_order():
        taken = [photo.taken for photo in record.photos.values() if photo.inspection == each.key]
        times = [when for when in taken if when is not None]
        edited = each.grader or each.light or each.surface or min(times, default=None) != each.at
        if each.note == FROM_A_PHOTO and not edited and each.key not in graded:
            visits.append(_Visit(times, there=True))
            keys.add(each.key)
    return visits, keys


def _say(text: str) -> str:
    return QCoreApplication.translate("intake", text)
