"""The lowest and highest of any stretch are those that looking at all of it finds."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from rustboard.weather.extremes import Extremes


@given(st.integers(0, 3_000), st.data())
def test_blocks_find_what_looking_at_all_finds(count, data):
    numbers = np.random.default_rng(count).normal(size=count)
    numbers[::7] = np.nan
    first = data.draw(st.integers(0, count))
    behind = data.draw(st.integers(first, count))
    known = [each for each in numbers[first:behind] if not np.isnan(each)]
    expected = (min(known), max(known)) if known else (None, None)
    assert Extremes(numbers, numbers).between(first, behind) == expected


def test_no_numbers_have_no_extremes():
    assert Extremes(np.zeros(0), np.zeros(0)).between(0, 0) == (None, None)
