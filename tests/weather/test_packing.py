"""Readings as bytes: what goes in comes out to a thousandth, and bytes of nobody's making are refused."""

from __future__ import annotations

import struct
import zlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.weather import MOST_READINGS, QUANTITIES
from rustboard.weather.packing import EARLIEST_SECONDS, LATEST_SECONDS, pack, unpack
from rustboard.weather.readings import ReadingTable

numbers = st.floats(-1_000, 1_000_000, allow_nan=False).map(lambda each: round(each, 3)) | st.just(float("nan"))


@st.composite
def tables(draw):
    count = draw(st.integers(0, 20))
    seconds = draw(st.lists(st.integers(EARLIEST_SECONDS, LATEST_SECONDS), min_size=count, max_size=count))
    names = draw(st.sets(st.sampled_from(QUANTITIES)))
    columns = {name: draw(st.lists(numbers, min_size=count, max_size=count)) for name in QUANTITIES if name in names}
    return ReadingTable(np.array(seconds, np.int64), {name: np.array(column) for name, column in columns.items()})


@given(tables())
def test_readings_come_back_as_they_went_to_a_thousandth(table):
    back = unpack(pack(table))
    assert np.array_equal(back.seconds, table.seconds)
    assert list(back.values) == list(table.values)
    for name, column in table.values.items():
        # Half a thousandth is all that rounding may take, and NaN stays NaN.
        np.testing.assert_allclose(back.values[name], column, rtol=0, atol=0.000_5)


@given(st.binary(max_size=200))
def test_bytes_of_nobodys_making_are_refused(data):
    with pytest.raises(ValueError, match="damaged"):
        unpack(data)


def sound() -> bytes:
    return pack(ReadingTable(np.arange(50, dtype=np.int64), {"temperature": np.linspace(0, 5, 50)}))


@given(st.integers(0, 10_000), st.integers(0, 255))
def test_a_changed_byte_is_refused_or_gives_readings_of_the_same_number(place, byte):
    data = bytearray(sound())
    data[place % len(data)] = byte
    try:
        table = unpack(bytes(data))
    except ValueError:
        return
    assert all(len(column) == len(table) for column in table.values.values())


def with_head(count: int, names: bytes, body: bytes) -> bytes:
    return struct.pack("<4sII", b"RBW1", count, len(names)) + names + zlib.compress(body)


@pytest.mark.parametrize("data", [
    with_head(MOST_READINGS + 1, b"[]", b""),
    with_head(1, b"[]", bytes(9)),
    with_head(2, b"[]", bytes(9)),
    with_head(0, b'["gold"]', b""),
    with_head(0, b'["rain", "temperature"]', b""),
    with_head(0, b'["rain", "rain"]', b""),
    with_head(0, b"{}", b""),
    with_head(0, b"no JSON", b""),
    with_head(0, b"[" * 3_000, b""),
    with_head(1, b"[]", struct.pack("<q", 2**62)),
    with_head(10, b"[]", bytes(50_000_000)),
    sound()[:-5],
])  # fmt: skip
def test_a_head_that_lies_or_a_body_that_unrolls_without_end_is_refused(data):
    with pytest.raises(ValueError, match=r"damaged|out of range|Expecting"):
        unpack(data)
