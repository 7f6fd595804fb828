"""Weather on the board: loggers' files, days noted by hand, the site."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from math import isfinite

from rustboard.board.clock_names import is_zone
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.board.weather import (
    COLDEST_C,
    CONDITIONS,
    DEW_POINT_SETS,
    HOTTEST_C,
    LARGEST_DEPOSITION,
    LARGEST_RAIN_MM,
    MOST_BOARD_READINGS,
    MOST_DAY_NOTES,
    MOST_TOLD,
    MOST_WEATHER_FILES,
    DayNote,
    Quantity,
    Site,
    WeatherFile,
)
from rustboard.store.transaction import Transaction
from rustboard.store.weather_tables import DAY_NOTES, SITES, WEATHER_FILES
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import many_lines, one_line

_DAY_HOURS = 24.0


@dataclass(frozen=True, slots=True)
class GivenReadings:
    """The readings of a logger's file as they are to be kept; see `WeatherFile` for what the fields mean.

    Attributes:
        packed: the readings (see `rustboard.weather.packing.pack`).
    """

    name: str
    sha256: str
    logger: str
    clock: str
    quantities: tuple[Quantity, ...]
    count: int
    first: datetime
    last: datetime
    packed: bytes
    left_out: int = 0
    told: tuple[str, ...] = ()


def add_weather_file(tx: Transaction, given: GivenReadings) -> Summary:
    """Put the readings of a logger's file on the board; the same file read otherwise takes the old one's place.

    Raises:
        InputError: the board holds as many files as it can.
    """
    same = tx.find(WEATHER_FILES, sha256=given.sha256)
    if not same and tx.count(WEATHER_FILES) >= MOST_WEATHER_FILES:
        raise InputError(f"A board holds at most {MOST_WEATHER_FILES} weather files; join some of them first.")
    others = sum(each.count for each in tx.find(WEATHER_FILES) if each.sha256 != given.sha256)
    if others + given.count > MOST_BOARD_READINGS:
        raise InputError(f"A board holds at most {MOST_BOARD_READINGS:,} readings; take another file off first.")
    content = hashlib.sha256(given.packed).hexdigest()
    new = WeatherFile(
        name=one_line(given.name),
        sha256=given.sha256,
        logger=one_line(given.logger),
        clock=one_line(given.clock),
        quantities=given.quantities,
        count=given.count,
        first=given.first,
        last=given.last,
        left_out=given.left_out,
        told=tuple(one_line(each) for each in given.told[:MOST_TOLD]),
        added=tx.now.isoformat(),
        content=content,
        key=same[0].key if same else 0,
    )
    summary = Summary("Weather file {0}: {1} readings", (new.name, str(new.count)))
    tx.keep_content(content, given.packed)
    if same and replace(same[0], added="", name="") == replace(new, added="", name=""):
        return summary
    tx.put(WEATHER_FILES, new)
    return summary


def remove_weather_file(tx: Transaction, key: int) -> Summary:
    """Take the readings of a logger's file off the board.

    Raises:
        InputError: it is not there.
    """
    found = tx.get(WEATHER_FILES, key)
    if found is None:
        raise InputError("This weather file is no longer on the board; it may have been taken away by undo.")
    tx.drop(WEATHER_FILES, key)
    return Summary("Take weather file {0} off the board", (found.name,))


def note_day(tx: Transaction, note: DayNote) -> Summary:
    """Note the weather of a day by hand; what was noted of that day before gives way.

    Raises:
        InputError: a value cannot be, or there is nothing to note.
    """
    clean = checked_day(note)
    same = tx.find(DAY_NOTES, day=clean.day.isoformat())
    moved = clean.key != 0 and tx.get(DAY_NOTES, clean.key) is not None
    if moved and same and same[0].key != clean.key:
        raise InputError(f"Another note is about {clean.day.isoformat()} already; edit that one.")
    if not same and not moved and tx.count(DAY_NOTES) >= MOST_DAY_NOTES:
        raise InputError(f"A board holds notes of at most {MOST_DAY_NOTES} days.")
    key = clean.key if moved else same[0].key if same else 0
    tx.put(DAY_NOTES, replace(clean, key=key))
    return Summary("Note the weather of {0}: {1}", (clean.day.isoformat(), ", ".join(clean.conditions) or "numbers"))


def note_days(tx: Transaction, notes: Sequence[DayNote]) -> Summary:
    """Note the weather of several days in one step.

    Raises:
        InputError: as `note_day`.
    """
    for each in notes:
        note_day(tx, each)
    return Summary("Note the weather of {0} days", (str(len(notes)),))


def remove_day_note(tx: Transaction, key: int) -> Summary:
    """Take back what was noted of a day's weather.

    Raises:
        InputError: nothing is noted under this key.
    """
    found = tx.get(DAY_NOTES, key)
    if found is None:
        raise InputError("This day's weather is no longer noted; it may have been taken away by undo.")
    tx.drop(DAY_NOTES, key)
    return Summary("Take back the weather of {0}", (found.day.isoformat(),))


def checked_day(note: DayNote) -> DayNote:
    """Return a day's note as it may be kept.

    Raises:
        InputError: a value cannot be, or there is nothing to note.
    """
    _check_date(note.day)
    conditions = tuple(each for each in CONDITIONS if each in note.conditions)
    if len(conditions) != len(set(note.conditions)):
        raise InputError(f"The weather of a day is one or more of: {', '.join(CONDITIONS)}.")
    if "dry" in conditions and len(conditions) > 1:
        raise InputError("A day that was dry had no dew, rain, fog, frost or snow; choose one or the other.")
    _check(note.rain_mm, 0, LARGEST_RAIN_MM, "Rain", "mm")
    _check(note.highest_c, COLDEST_C, HOTTEST_C, "The highest temperature", "°C")
    _check(note.lowest_c, COLDEST_C, HOTTEST_C, "The lowest temperature", "°C")
    _check(note.wet_hours, 0, _DAY_HOURS, "The time wet", "hours")
    if note.highest_c is not None and note.lowest_c is not None and note.lowest_c > note.highest_c:
        raise InputError("The lowest temperature is above the highest; change them over.")
    if "dry" in conditions and (note.rain_mm or note.wet_hours):
        raise InputError("A dry day has neither rain nor wet hours; take “dry” away, or the numbers.")
    text = many_lines(note.note)
    numbers = (note.rain_mm, note.highest_c, note.lowest_c, note.wet_hours)
    if not conditions and all(each is None for each in numbers) and not text:
        raise InputError("Choose what the day was like, or give a number or a note.")
    return replace(note, conditions=conditions, note=text)


def describe_site(tx: Transaction, site: Site) -> Summary:
    """Say what reading the weather needs to know of the place.

    Raises:
        InputError: a value cannot be.
    """
    tx.put(SITES, checked_site(site))
    return Summary("Describe the site's weather")


def checked_site(site: Site) -> Site:
    """Return what is said of a site as it may be kept.

    Raises:
        InputError: a value cannot be.
    """
    if site.dew_point_set not in DEW_POINT_SETS:
        raise InputError("There is no such set of dew point coefficients; choose one from the list.")
    zone = one_line(site.zone)
    if zone and not is_zone(zone):
        raise InputError(f"No zone is called “{zone[:60]}”; choose one from the list, such as Europe/Berlin.")
    _check(site.dew_day_hours, 0, _DAY_HOURS, "The time wet on a day with dew", "hours")
    _check(site.wet_day_hours, 0, _DAY_HOURS, "The time wet on a day with rain", "hours")
    _check(site.sulphur_dioxide, 0, LARGEST_DEPOSITION, "The deposition of sulphur dioxide", "mg/(m² d)")
    _check(site.chloride, 0, LARGEST_DEPOSITION, "The deposition of chloride", "mg/(m² d)")
    return replace(site, zone=zone, key=1)


def _check_date(day: date) -> None:
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise InputError(f"The year of a day is between {FIRST_YEAR} and {LAST_YEAR}; check the date.")


def _check(value: float | None, low: float, high: float, what: str, unit: str) -> None:
    if value is not None and not (isfinite(value) and low <= value <= high):
        raise InputError(f"{what} is from {low:g} to {high:g} {unit}.")
