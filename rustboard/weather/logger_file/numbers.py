"""Numbers in a logger's file: with their units behind them, or the marks that stand for no reading."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Final

import numpy as np

from rustboard.board.weather import QUANTITY_LIMITS, Quantity
from rustboard.weather.logger_file.options import DecimalMark, Unit
from rustboard.weather.readings import Numbers

NO_READING_WORDS: Final = frozenset(
    {"", "na", "n/a", "#n/a", "nan", "-nan", "null", "none", "nodata", "no data", "missing", "error", "err", "fault",
     "-", "--", "---", "----", "-----", "--.-", "---.-", "--,-", "---,-", "–", "—", "*", "**", "***", "****", "?",
     "x", "m", "//", "///", "#", ".", "#div/0!", "#num!", "#value!", "#ref!", "open", "n.a.", "k.a.", "inv", "lost"}
)  # fmt: skip
"""What loggers and spreadsheets write where there is no reading, in small letters (common practice, no source)."""
PLAIN_NO_READING: Final = ("", "NA", "N/A", "NaN", "nan", "NAN", "null", "NULL", "None", "-", "--", "---")
"""The commonest of them as they are usually written."""
NO_READING_NUMBERS: Final = (-99.0, -99.9, -99.99, -999.0, -999.9, -999.99, -9999.0, -9999.9, -99999.0,
                             999.9, 9999.0, 9999.9, 99999.0)  # fmt: skip
"""Numbers that stand for no reading: the negative ones always, the others where no such reading can be (common
practice, no source)."""

_DIGITS: Final = r"([+-]?(?:[0-9]+(?:{mark}[0-9]*)?|{mark}[0-9]+)(?:[eE][+-]?[0-9]{{1,3}})?)\s*(.*)"
_NUMBER: Final = {mark: re.compile(_DIGITS.format(mark=re.escape(mark))) for mark in (".", ",")}
# A degree sign read in another code page is a replacement character, a question mark or two characters.
_DEGREES: Final = re.compile(r"^(?:â?[º°]|\ufffd|\?|deg\.?|degrees?)\s*", re.IGNORECASE)
_UNIT_WORDS: Final[Mapping[str, Unit]] = {
    "c": "C", "celsius": "C", "℃": "C", "f": "F", "fahrenheit": "F", "℉": "F", "k": "K", "kelvin": "K",
    "%": "%", "%rh": "%", "% rh": "%", "rh%": "%", "%rf": "%", "% rf": "%", "%r.f.": "%", "% r.f.": "%",
    "%hr": "%", "% hr": "%", "%r.h.": "%", "% r.h.": "%", "pct": "%", "percent": "%", "prozent": "%",
    "mm": "mm", "l/m²": "mm", "l/m2": "mm", "mm/m²": "mm", "in": "in", "inch": "in",
    "inches": "in", "″": "in",
    "mm/h": "mm/h", "mm/hr": "mm/h", "in/h": "in/h", "in/hr": "in/h",
    "m/s": "m/s", "mps": "m/s", "m/sec": "m/s", "ms-1": "m/s", "m s-1": "m/s",
    "km/h": "km/h", "kmh": "km/h", "kph": "km/h",
    "mph": "mph", "mi/h": "mph", "kn": "kn", "kt": "kn", "kts": "kn", "knots": "kn",
}  # fmt: skip

_CONVERSIONS: Final[Mapping[Unit, Callable[[Numbers], Numbers]]] = {
    "F": lambda read: (read - 32.0) / 1.8,
    "K": lambda read: read - 273.15,
    "fraction": lambda read: read * 100.0,
    "in": lambda read: read * 25.4,
    "in/h": lambda read: read * 25.4,
    "km/h": lambda read: read / 3.6,
    "mph": lambda read: read * 0.44704,
    "kn": lambda read: read * (1852.0 / 3600.0),
}
"""Into our units; inch, mile and nautical mile are exact by definition."""


def unit_word(text: str) -> Unit:
    """Return the unit that a text names, or empty."""
    plain = _DEGREES.sub("", text.strip().casefold()).strip()
    return _UNIT_WORDS.get(plain, "")


def split_number(text: str, mark: DecimalMark) -> tuple[float, str] | None:
    """Return the number at the beginning of a text and what stands behind it, or None."""
    found = _NUMBER[mark].fullmatch(text.strip())
    if found is None:
        return None
    number = float(found[1].replace(",", "."))
    return (number, found[2].strip()) if np.isfinite(number) else None


def no_reading(text: str) -> bool:
    """Return whether a text says that there is no reading."""
    return text.strip().strip('"').strip().casefold() in NO_READING_WORDS


def number_in(text: str, mark: DecimalMark, unit: Unit) -> float | None:
    """Return the number in a cell, NaN when the cell says that there is none, or None when it cannot be read.

    A unit behind the number must be the column's.
    """
    if no_reading(text):
        return float("nan")
    found = split_number(text.strip().strip('"'), mark)
    if found is None:
        return None
    number, behind = found
    if not behind or unit_word(behind) == unit or (unit == "fraction" and not behind):
        return number
    return None


def without_marks(read: Numbers, quantity: Quantity, unit: Unit) -> Numbers:
    """Return numbers with those that stand for no reading as NaN."""
    marks = [each for each in NO_READING_NUMBERS if each < 0 or not _can_be(each, quantity, unit)]
    found = np.isin(read, marks) if _spread(read) else np.zeros(len(read), np.bool_)
    return np.where(found, np.nan, read) if found.any() else read


def _spread(read: Numbers) -> bool:
    """Return whether any number is as far out as the marks."""
    return bool(len(read)) and bool(np.fmax.reduce(np.abs(read)) >= 99.0)


def _can_be(number: float, quantity: Quantity, unit: Unit) -> bool:
    low, high = QUANTITY_LIMITS[quantity]
    return low <= float(in_our_unit(np.array([number]), unit)[0]) <= high


def in_our_unit(read: Numbers, unit: Unit) -> Numbers:
    """Return numbers in the unit in which their quantity is kept."""
    convert = _CONVERSIONS.get(unit)
    return read if convert is None else convert(read)
