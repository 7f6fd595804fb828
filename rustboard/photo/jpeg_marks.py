"""The marks by which a JPEG file is divided (ITU-T T.81, annex B), read without decoding."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

MOST_SCANS: Final = 100
"""A picture is sent in one to some fifteen scans (common practice, no source); each costs the time of a whole one."""

_MARK: Final = re.compile(rb"\xff([\x01-\xcf\xd8-\xfe])")  # not the stuffed zero, not the restarts D0-D7
_END: Final = 0xD9
_SCAN: Final = 0xDA
_ALONE: Final = 0x01
_UNWRITTEN: Final = bytes(64)


def has_too_many_scans(data: bytes) -> bool:
    """Return whether decoding would take far longer than the picture's size lets one expect."""
    # The bytes are counted first, which is quick; in what follows the picture they stand by chance.
    if data.count(b"\xff\xda") <= MOST_SCANS:
        return False
    return sum(mark == _SCAN for mark in _marks(data)) > MOST_SCANS


def ends_unwritten(data: bytes) -> bool:
    """Return whether the end mark is missing and zeros stand there: space kept for bytes that never came.

    The decoder takes such zeros for picture.
    """
    return data.endswith(_UNWRITTEN) and _END not in _marks(data)


def _marks(data: bytes) -> Iterator[int]:
    """Yield the marks after the first, up to that of the end."""
    place = 2
    while (found := _MARK.search(data, place)) is not None:
        mark = found[1][0]
        yield mark
        if mark == _END:
            return
        place = found.end()
        if mark != _ALONE:  # all others have a length
            place += max(2, int.from_bytes(data[place : place + 2], "big"))
