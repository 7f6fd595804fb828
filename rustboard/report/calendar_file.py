"""The planned inspections as a calendar file (.ics, RFC 5545), for the calendar program that the user has already.

Times are floating ones, without a zone: a look at nine is at nine by the clock on the wall at the board, as all times
of the program are. They are events of half an hour and not of a whole day, because the same hour every time makes
looks comparable. The id of an event is the calendar's own random one with the day of the look, so that a
file written again after a change of the start, the hour or the board's description updates the events and adds no
second ones, and no other board's events are meant.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from icalendar import Alarm, Calendar, Event

from rustboard.board.inspection_calendar import look_time
from rustboard.board.record import BoardRecord
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError
from rustboard.support.text import counted, one_line

LENGTH: Final = timedelta(minutes=30)
"""Of one look (own advice, no source)."""

ALARM_BEFORE: Final = timedelta(hours=1)

_NAME_LIMIT: Final = 200


def write_calendar(record: BoardRecord, path: Path, *, written: datetime) -> int:
    """Write the planned inspections of a board, whole or not at all; return how many.

    Args:
        record: the board.
        path: the .ics file.
        written: the time of writing, with its zone; calendar programs take the newer of two files by it.

    Raises:
        InputError: there is no start or there are no days; or the disk refused.
    """
    content = calendar_bytes(record, written=written)
    write_whole(path, content)
    return len(record.calendar.days)


def calendar_bytes(record: BoardRecord, *, written: datetime) -> bytes:
    """Return the bytes of the file; arguments as for `write_calendar`."""
    started = calendar_start(record)
    calendar = Calendar()
    calendar.add("prodid", "-//rustboard//inspection calendar//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for event in _events(record, started, written.astimezone(UTC)):
        calendar.add_component(event)
    content: bytes = calendar.to_ical()
    return content


def calendar_start(record: BoardRecord) -> datetime:
    """Return the start from which the days of a board's calendar are counted.

    Raises:
        InputError: there is no start or there are no days.
    """
    if not record.calendar.days:
        raise InputError("No inspections are planned yet; write down the days, or let the program suggest some.")
    started = record.day_zero()
    if started is None:
        raise InputError("A calendar needs dates; say when the exposure begins first.")
    return started


def _events(record: BoardRecord, started: datetime, written: datetime) -> Iterator[Event]:
    name = one_line(record.board.name, _NAME_LIMIT) or "Board"
    site = one_line(record.board.site, _NAME_LIMIT)
    for day in record.calendar.days:
        begins = look_time(record.calendar, started, day).replace(tzinfo=None)
        title = f"{name}: look, day {day}"
        event = Event()
        event.add("uid", f"{record.calendar.uid}-day-{day}@rustboard")
        event.add("dtstamp", written)
        event.add("dtstart", begins)
        event.add("dtend", begins + LENGTH)
        event.add("summary", title)
        event.add("description", _description(record, started, day))
        if site:
            event.add("location", site)
        if record.calendar.remind:
            event.add_component(_alarm(title))
        yield event


def _alarm(title: str) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", title)
    alarm.add("trigger", -ALARM_BEFORE)
    return alarm


def _description(record: BoardRecord, started: datetime, day: int) -> str:
    hanging = sum(each.position is not None for each in record.coupons.values())
    coupons = f"all {counted(hanging, 'coupon')}" if hanging > 1 else "every coupon"
    if day == 0:
        what = f"Photograph the board and look at {coupons} before anything has happened."
    else:
        what = f"Photograph the board and grade {coupons} in one go; note the light, and whether they are wet or dry."
    return f"{what}\nExposure began on {started:%Y-%m-%d}; this is day {day}."
