"""How much a camera's clock was wrong, as people write it: ``+1 h 03 min``, ``-2:15``, ``3 days``."""

from __future__ import annotations

import re
from typing import Final

from PySide6.QtCore import QCoreApplication

from rustboard.support.problems import InputError

MOST_SECONDS: Final = 100 * 366 * 86_400

_UNITS: Final = {"d": 86_400, "h": 3_600, "m": 60, "s": 1}
_PART: Final = re.compile(
    r"\s*([0-9]{1,6}(?:[.,][0-9]{1,4})?)\s*"
    r"(days?|d|hours?|hrs?|h|minutes?|mins?|min|m|seconds?|secs?|sec|s)(?![a-z])\s*[,;]?",
    re.IGNORECASE,
)
_CLOCK: Final = re.compile(r"([0-9]{1,5}):([0-5]?[0-9])(?::([0-5]?[0-9]))?")


def read_span(text: str) -> int:
    """Return a span in seconds; negative with a minus before it.

    Raises:
        InputError: it cannot be read, or is longer than a century.
    """
    body = text.strip().replace("−", "-").replace("–", "-")
    sign = -1 if body.startswith("-") else 1
    body = body.lstrip("+-").strip()
    clock = _CLOCK.fullmatch(body)
    if clock is not None:
        hours, minutes, seconds = (int(each or 0) for each in clock.groups())
        return _bounded(sign * (hours * 3_600 + minutes * 60 + seconds))
    total, at = 0.0, 0
    while at < len(body):
        part = _PART.match(body, at)
        if part is None:
            break
        total += float(part[1].replace(",", ".")) * _UNITS[part[2][0].lower()]
        at = part.end()
    if not body or at < len(body):
        raise InputError(say("Write by how much the clock is wrong like +1 h 03 min, -2:15 or 3 days."))
    return _bounded(sign * round(total))


def _bounded(seconds: int) -> int:
    if abs(seconds) > MOST_SECONDS:
        raise InputError(say("The times cannot be shifted by more than a century; check the number."))
    return seconds


def span_text(seconds: int) -> str:
    """Return a span as people read it: ``+1 h 3 min``; without a sign for none."""
    rest = abs(seconds)
    parts = []
    for unit, name in ((86_400, "d"), (3_600, "h"), (60, "min"), (1, "s")):
        count, rest = divmod(rest, unit)
        if count:
            parts.append(f"{count} {name}")
    return f"{'-' if seconds < 0 else '+'}{' '.join(parts)}" if parts else "0 min"


def say(text: str) -> str:
    """Return a text of this module's kind in the user's language."""
    return QCoreApplication.translate("intake", text)
