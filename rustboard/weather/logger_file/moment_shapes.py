"""What the digits of a time mean, from its shape: the text with every digit put as 0.

All times of one logger have a few shapes between them, so each shape is understood once and the numbers are then
taken from all rows at the same places.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from rustboard.weather.logger_file.options import DATE_ORDERS, DateOrder

Kind = Literal["time", "date", "clock time"]
"""Date and time of day, the date alone, the time of day alone: the roles of columns."""

Place = tuple[int, int]
"""Where digits begin and end."""

_MONTHS: Final = (
    ("jan", "januar", "january", "jän", "jänner", "janv", "janvier", "ene", "enero"),
    ("feb", "februar", "february", "feber", "févr", "fév", "février", "febrero"),
    ("mar", "march", "mär", "mrz", "märz", "mars", "marzo"),
    ("apr", "april", "avr", "avril", "abr", "abril"),
    ("may", "mai", "mayo"),
    ("jun", "june", "juni", "juin", "junio"),
    ("jul", "july", "juli", "juil", "juillet", "julio"),
    ("aug", "august", "août", "aout", "ago", "agosto"),
    ("sep", "sept", "september", "septembre", "septiembre"),
    ("oct", "october", "okt", "oktober", "octobre", "octubre"),
    ("nov", "november", "novembre", "noviembre"),
    ("dec", "december", "dez", "dezember", "déc", "décembre", "dic", "diciembre"),
)
_MONTH_NUMBERS: Final = {word: number for number, words in enumerate(_MONTHS, 1) for word in words}

_HOUR: Final = 3600
_ZONES: Final = {"z": 0, "utc": 0, "gmt": 0, "wet": 0, "west": 1, "cet": 1, "mez": 1, "cest": 2, "mesz": 2,
                 "eet": 2, "eest": 3}  # fmt: skip
"""Hours ahead of UTC; only words that mean one thing everywhere (common practice, no source)."""

_WORD: Final = r"[A-Za-z\x80-\xff]{3,14}"
_WEEKDAY: Final = r"(?:[A-Za-z\x80-\xff]{2,12}\.?,?\s+)?"
_DATES: Final = (
    r"(?P<year>0000)(?P<mark>[-/.])(?P<month>00?)(?P=mark)(?P<day>00?)",
    r"(?P<year>0000) (?P<month>00) (?P<day>00)",
    r"(?P<year>0000)(?P<month>00)(?P<day>00)",
    r"(?P<one>00?)(?P<mark>[-/. ])(?P<two>00?)(?P=mark)(?P<year>0000)",
    r"(?P<one>00?)(?P<mark>[-/.])(?P<two>00?)(?P=mark)(?P<three>00)",
    r"(?P<one>00)(?P<two>00)(?P<three>00)",
    rf"(?P<day>00?)[-/. ]\s?(?P<word>{_WORD})\.?[-/., ]\s?(?P<year>0000|00)",
    rf"(?P<word>{_WORD})\.?[- ](?P<day>00?),?[- ]\s?(?P<year>0000|00)",
    rf"(?P<year>0000)[- ](?P<word>{_WORD})\.?[- ](?P<day>00?)",
)
_GLUED: Final = r"(?P<year>0000)(?P<month>00)(?P<day>00)(?P<hour>00)(?P<minute>00)(?P<second>00)?"
_HALF: Final = r"(?P<half>[AaPp])(?:\.?\s?[Mm]\.?)?"
_CLOCKS: Final = (
    r"(?P<hour>00?)[:.hH](?P<minute>00)(?:[:.](?P<second>00)(?:[.,]0{1,9})?)?(?:\s*" + _HALF + ")?",
    r"(?P<hour>00)(?P<minute>00)(?P<second>00)?",
    r"(?P<hour>00?)\s*(?P<half>[AaPp])\.?\s?[Mm]\.?",
)
_ZONE: Final = (
    r"(?:\s*(?P<zone>Z|UTC|GMT|WES?T|CES?T|EES?T|MES?Z)?(?:(?P<sign>[+-])(?P<ahead>00?)(?::?(?P<past>00))?)?)"
)
_GAP: Final = r"(?:\s*[T_]\s*|,?\s+|\s*-\s*)"


@dataclass(frozen=True, slots=True)
class Shape:
    """Where the numbers of a time stand; None for what it does not have.

    Attributes:
        month: its place, or the number that its name means.
        half: ``a`` or ``p`` before ``m``, or empty for a clock of 24 hours.
        offset: seconds ahead of UTC that a word names. sign, ahead, past: a sign and the places of hours and minutes
            that are added to it.
        count: what a bare number counts: seconds or milliseconds since 1970, or days since 1899-12-30 as
            spreadsheets do; its whole part. part: the digits behind its decimal mark.
    """

    year: Place | None = None
    month: Place | int = 0
    day: Place | None = None
    hour: Place | None = None
    minute: Place | None = None
    second: Place | None = None
    half: str = ""
    offset: int | None = None
    sign: int = 1
    ahead: Place | None = None
    past: Place | None = None
    count: Literal["", "seconds", "milliseconds", "days"] = ""
    whole: Place | None = None
    part: Place | None = None


_COUNTS: Final[tuple[tuple[Literal["seconds", "milliseconds", "days"], str], ...]] = (
    ("milliseconds", "(?P<whole>0{13})"),
    ("seconds", r"(?P<whole>0{9,10})(?:[.,](?P<part>0{1,9}))?"),
    ("days", r"(?P<whole>0{5})(?:[.,](?P<part>0{1,15}))?"),
)
_PART_OF_DAY: Final = re.compile(r"\s*(?P<whole>0)?[.,](?P<part>0{1,15})\s*")


def shape_of(text: str) -> str:
    """Return a time's shape. Letters beyond ASCII stand as their bytes in UTF-8, one character each."""
    return re.sub("[0-9]", "0", text).encode().decode("latin-1")


@lru_cache(maxsize=4096)
def understood(shape: str, kind: Kind, order: DateOrder) -> Shape | None:
    """Return what a shape means, or None when it is no time."""
    if not 1 <= shape.count("0") <= 30:
        return None
    if kind == "clock time":
        return _clock_alone(shape) or _counted(shape, kind)
    for pattern in _patterns():
        found = pattern.fullmatch(shape)
        if found is not None:
            made = _made(found, order)
            if made is not None:
                return made
    return _counted(shape, kind)


def depends_on_order(shape: str, kind: Kind) -> bool:
    """Return whether another order of the numbers gives a shape another meaning."""
    return len({understood(shape, kind, order) for order in DATE_ORDERS}) > 1


@lru_cache(maxsize=1)
def _patterns() -> tuple[re.Pattern[str], ...]:
    clocks = [rf"(?:{_GAP}{clock}{_ZONE})?" for clock in _CLOCKS]
    usual = [rf"{_WEEKDAY}{date}{clock}" for date in _DATES for clock in clocks]
    return tuple(re.compile(rf"\s*{each}\s*") for each in (*usual, rf"{_GLUED}{_ZONE}"))


def _clock_alone(shape: str) -> Shape | None:
    for clock in _CLOCKS:
        found = re.fullmatch(rf"\s*{clock}{_ZONE}\s*", shape)
        if found is not None:
            return _with_clock(Shape(), found)
    return None


def _made(found: re.Match[str], order: DateOrder) -> Shape | None:
    groups = found.groupdict()
    if groups.get("word"):
        month: Place | int | None = _MONTH_NUMBERS.get(
            groups["word"].encode("latin-1").decode("utf-8", errors="replace").casefold()
        )
        if month is None:
            return None
        return _with_clock(Shape(found.span("year"), month, found.span("day")), found)
    if groups.get("three"):
        one, two, three = found.span("one"), found.span("two"), found.span("three")
        year, month, day = {
            "year first": (one, two, three),
            "day first": (three, two, one),
            "month first": (three, one, two),
        }[order]
        return _with_clock(Shape(year, month, day), found)
    if groups.get("one"):
        if order == "year first":
            return None
        one, two = found.span("one"), found.span("two")
        month, day = (two, one) if order == "day first" else (one, two)
        return _with_clock(Shape(found.span("year"), month, day), found)
    return _with_clock(Shape(found.span("year"), found.span("month"), found.span("day")), found)


def _with_clock(date: Shape, found: re.Match[str]) -> Shape:
    groups = found.groupdict()

    def place(name: str) -> Place | None:
        return found.span(name) if groups.get(name) else None

    zone, sign = groups.get("zone"), groups.get("sign")
    return Shape(
        date.year,
        date.month,
        date.day,
        place("hour"),
        place("minute"),
        place("second"),
        (groups.get("half") or "").casefold(),
        _ZONES[zone.casefold()] * _HOUR if zone else 0 if sign else None,
        -1 if sign == "-" else 1,
        place("ahead"),
        place("past"),
    )


def _counted(shape: str, kind: Kind) -> Shape | None:
    if kind == "clock time":
        found = _PART_OF_DAY.fullmatch(shape)
        return Shape(count="days", part=found.span("part")) if found else None
    for count, pattern in _COUNTS:
        found = re.fullmatch(rf"\s*{pattern}\s*", shape)
        if found is not None:
            part = found.span("part") if found.groupdict().get("part") else None
            return Shape(count=count, whole=found.span("whole"), part=part)
    return None
