"""What the lines above the readings say: titles, units, the logger's name and its clock."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.weather.logger_file.numbers import unit_word
from rustboard.weather.logger_file.options import Unit, checked_clock
from rustboard.weather.logger_file.titles import known_titles, known_units, plain

_LONGEST_NAME: Final = 80
_FEW_CELLS: Final = 3
_NAME: Final = re.compile(
    r"logger|device|station|gerat|appareil|enregistreur|equipo|dispositivo|sensor|plot title|name|nom\b"
)
_SERIAL: Final = re.compile(r"serial|seriennummer|\bs/?n\b|serie|identi|\bid\b")
_NO_NAME: Final = re.compile(
    r"interval|rate|firmware|version|model|type|typ\b|time|date|zeit|status|count|height|lat|lon|file"
)
# Behind a time of day it tells that time, which may be when the file was exported.
_OF_UTC: Final = re.compile(
    r"(?<![A-Za-z0-9])(?<![0-9] )(?:UTC|GMT)(?![A-Za-z])\s*(?:([+-])\s*([0-9]{1,2})(?::?([0-9]{2}))?(?![0-9]))?",
    re.IGNORECASE,
)
_ZONE_NAME: Final = re.compile(
    r"(?<![A-Za-z/])(?:Africa|America|Antarctica|Arctic|Asia|Atlantic|Australia|Europe|Indian|Pacific)"
    r"/[A-Za-z_-]+(?:/[A-Za-z_-]+)?"
)


def find_titles(head: Sequence[Sequence[str]], width: int) -> int:
    """Return which line holds the titles, 1 = the first, or 0.

    It is the one with the most words that name what is read, or else the last one with as many cells as the rows.
    """
    best, most = 0, 0
    for number, cells in enumerate(head, 1):
        known = known_titles(cells) if sum(map(bool, cells)) > 1 else 0
        if known and known >= most and known_units(cells) <= known:
            best, most = number, known
    if best:
        return best
    for number in range(len(head), 0, -1):
        filled = sum(map(bool, head[number - 1]))
        if filled >= max(2, width - 1) and known_units(head[number - 1]) < filled / 2:
            return number
    return 0


def units_beside(head: Sequence[Sequence[str]], title_row: int, width: int) -> list[Unit]:
    """Return the units of the columns that stand in a line of their own, empty ones where there are none."""
    rows = [cells for number, cells in enumerate(head, 1) if number != title_row and sum(map(bool, cells)) > 1]
    best = max(rows, key=known_units, default=[])
    return [unit_word(best[index].strip("()[]{}")) if index < len(best) else "" for index in range(width)]


def find_logger(head: Sequence[Sequence[str]], title_row: int) -> str:
    """Return the name of the logger, or its serial number, or an empty text."""
    serial = ""
    for number, cells in enumerate(head, 1):
        filled = [each for each in cells if each]
        if number == title_row or not 1 <= len(filled) <= _FEW_CELLS:
            continue
        key, _, value = ": ".join(filled).lstrip("#*; \t").partition(":")
        words, name = plain(key), one_line(value.strip(' :;,="\t'), _LONGEST_NAME)
        if not name or len(words) > 40 or _NO_NAME.search(words):
            continue
        if _SERIAL.search(words):
            serial = serial or name
        elif _NAME.search(words):
            return name
    return serial


def is_logger_word(title: str) -> bool:
    """Return whether the title of a column says that it holds the name of the logger."""
    words = plain(title)
    return _NAME.search(words) is not None and _NO_NAME.search(words) is None


def find_clock(head: Sequence[Sequence[str]]) -> str:
    """Return the clock that a line above the readings names, or an empty text."""
    for cells in head:
        line = " ".join(cells)[:2_000]
        zone = _ZONE_NAME.search(line)
        if zone is not None:
            try:
                return checked_clock(zone[0])
            except InputError:
                pass
        found = _OF_UTC.search(line)
        if found is not None:
            return _clock_of(found)
    return ""


def _clock_of(found: re.Match[str]) -> str:
    if not found[1]:
        return "UTC"
    clock = f"UTC{found[1]}{int(found[2]):02}:{found[3] or '00'}"
    try:
        return "UTC" if clock[4:] == "00:00" else checked_clock(clock)
    except InputError:
        return ""
