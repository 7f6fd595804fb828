"""Readings as bytes, small and bounded, the way the board file keeps them.

After a head of ``RBW1``, the number of readings and the names of the quantities (JSON, its length first) stand,
deflated, the times as 64-bit seconds and then each quantity's numbers as 32-bit thousandths of its unit, all little
endian; the lowest 32-bit number stands for none.
"""

from __future__ import annotations

import json
import struct
import zlib
from typing import Final

import numpy as np

from rustboard.board.weather import MOST_READINGS, QUANTITIES, Quantity
from rustboard.weather.readings import ReadingTable

MOST_PACKED_BYTES: Final = 128 << 20
_MARK: Final = b"RBW1"
_NONE: Final = np.iinfo(np.int32).min
_THOUSANDTHS: Final = 1_000.0
_LEVEL: Final = 1
_HEAD: Final = struct.Struct("<4sII")
_MOST_NAMES: Final = 4_000
EARLIEST_SECONDS: Final = -2_208_988_800
"""1900-01-01."""
LATEST_SECONDS: Final = 7_289_654_400
"""2201-01-01."""


def pack(table: ReadingTable) -> bytes:
    """Return readings as bytes; numbers are kept to a thousandth of their unit."""
    names = [each for each in QUANTITIES if each in table.values]
    head = json.dumps(names).encode()
    parts = [table.seconds.astype("<i8").tobytes()]
    for name in names:
        scaled = np.rint(table.values[name] * _THOUSANDTHS)
        parts.append(np.where(np.isnan(scaled), _NONE, scaled).astype("<i4").tobytes())
    return _HEAD.pack(_MARK, len(table), len(head)) + head + zlib.compress(b"".join(parts), _LEVEL)


def unpack(data: bytes, expected: int | None = None) -> ReadingTable:
    """Return the readings in bytes that `pack` made.

    Args:
        data: the bytes.
        expected: how many readings they hold, where that is known; others are refused before they are unrolled.

    Raises:
        ValueError: the bytes are damaged, or no version of this program made them.
    """
    try:
        mark, count, length = _HEAD.unpack_from(data)
        if expected is not None and count != expected:
            raise ValueError("the readings are damaged")
        names = _names(data[_HEAD.size : _HEAD.size + length], mark, count, length)
        size = count * (8 + 4 * len(names))
        # One byte more than should be there, so that a longer stream shows itself without being unrolled.
        stream = zlib.decompressobj()
        raw = stream.decompress(data[_HEAD.size + length :], size + 1)
    except (struct.error, zlib.error, UnicodeDecodeError, RecursionError) as error:
        raise ValueError("the readings are damaged") from error
    if len(raw) != size or not stream.eof:
        raise ValueError("the readings are damaged")
    seconds = np.frombuffer(raw, "<i8", count).astype(np.int64)
    if count and not (int(seconds.min()) >= EARLIEST_SECONDS and int(seconds.max()) <= LATEST_SECONDS):
        raise ValueError("a time is out of range")
    values: dict[Quantity, np.ndarray[tuple[int, ...], np.dtype[np.float64]]] = {}
    for number, name in enumerate(names):
        scaled = np.frombuffer(raw, "<i4", count, 8 * count + 4 * count * number)
        values[name] = np.where(scaled == _NONE, np.nan, scaled / _THOUSANDTHS)
    return ReadingTable(seconds, values)


def _names(head: bytes, mark: bytes, count: int, length: int) -> list[Quantity]:
    if mark != _MARK or count > MOST_READINGS or length > _MOST_NAMES:
        raise ValueError("the readings are damaged")
    told = json.loads(head)
    if not isinstance(told, list) or len(told) > len(QUANTITIES):
        raise ValueError("the readings are damaged")
    names = [each for each in QUANTITIES if each in told]
    if names != told:
        raise ValueError("the readings are damaged")
    return names
