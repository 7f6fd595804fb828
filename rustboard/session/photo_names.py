"""When a photo was taken by its name, as phones and cameras name their files."""

from __future__ import annotations

import re
from datetime import datetime
from typing import Final

from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR

_TIME: Final = re.compile(
    r"(?<![0-9])((?:19|20|21)[0-9]{2})[-_. ]?([01][0-9])[-_. ]?([0-3][0-9])"
    r"(?:[-_. T]|\sat\s)*([0-2][0-9])[-_.:h ]?([0-5][0-9])[-_.:m ]?([0-5][0-9])(?:[0-9]{3})?(?![0-9])"
)
"""Year, month, day, hour, minute and second, with or without marks between; common practice, no source."""


def time_in_name(name: str) -> datetime | None:
    """Return the date and time in a file's name, or None; a date alone says too little."""
    for found in _TIME.finditer(name[:300]):
        try:
            when = datetime(*(int(each) for each in found.groups()))  # type: ignore[arg-type]  # six whole numbers
        except ValueError:
            continue
        if FIRST_YEAR <= when.year <= LAST_YEAR:
            return when
    return None
