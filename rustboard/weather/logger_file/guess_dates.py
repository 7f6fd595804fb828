"""In which order a file's dates have day, month and year."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rustboard.board.cells import quoted
from rustboard.weather.logger_file.moment_shapes import Kind, shape_of, understood
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.options import DATE_ORDERS, DateOrder
from rustboard.weather.readings import Seconds

_FAR: Final = 20
"""How many times longer a file must be in one order for two digits in front to be no year."""
_WORDS: Final = {
    "year first": "the year first",
    "day first": "the day first",
    "month first": "the month first",
}


class Order(NamedTuple):
    """An order and what is not certain about it; an empty text when it is settled."""

    order: DateOrder
    doubt: str = ""


def guess_order(texts: Sequence[str], kind: Kind) -> Order:
    """Return the order of the dates in a column of times or dates.

    An order counts in which most dates are in the calendar. Where two orders are equal, the one is taken in which the
    times rise from row to row and the file is shortest, and that is a doubt; but two digits in front are no year when
    the file were many times longer with it.
    """
    cells = as_bytes(list(texts), 128)
    seconds = {each: read_moments(cells, kind, each).seconds for each in DATE_ORDERS}
    valid = {each: seconds[each] != NO_TIME for each in DATE_ORDERS}
    most = max(int(each.sum()) for each in valid.values())
    likely = [each for each in DATE_ORDERS if int(valid[each].sum()) == most]
    likely = _without_far(likely, seconds)
    if len(likely) == 1:
        return _settled(likely[0], texts, valid)
    if all(bool((seconds[each] == seconds[likely[0]]).all()) for each in likely):
        return Order(likely[0])
    best = _most_even(likely, texts, seconds)
    differing = np.flatnonzero(np.any([seconds[each] != seconds[best] for each in likely], axis=0))
    words = " or ".join(_WORDS[each] for each in likely)
    return Order(
        best,
        f"{quoted(texts[int(differing[0])])} can have {words}, and no date in the file settles it; "
        f"{_WORDS[best]} is taken because the times rise more evenly then, or because that is more common.",
    )


def _settled(order: DateOrder, texts: Sequence[str], valid: Mapping[DateOrder, NDArray[np.bool_]]) -> Order:
    others = np.flatnonzero(np.any(list(valid.values()), axis=0) & ~valid[order])
    if not len(others):
        return Order(order)
    return Order(
        order,
        f"Most dates have {_WORDS[order]}, but {quoted(texts[int(others[0])])} is no date then; "
        "such rows are left out.",
    )


def _without_far(likely: list[DateOrder], seconds: dict[DateOrder, Seconds]) -> list[DateOrder]:
    """Return the orders without those in which a year of two digits makes the file many times longer."""
    if "year first" not in likely or len(likely) == 1:
        return likely
    spans = {each: _span(seconds[each]) for each in likely}
    shortest = min(spans.values())
    if spans["year first"] == shortest:
        return [each for each in likely if each == "year first" or spans[each] <= _FAR * shortest]
    return [each for each in likely if each != "year first" or spans[each] <= _FAR * shortest]


def _span(seconds: Seconds) -> int:
    good = seconds[seconds != NO_TIME]
    return int(good.max() - good.min()) if len(good) else 0


def _most_even(likely: list[DateOrder], texts: Sequence[str], seconds: dict[DateOrder, Seconds]) -> DateOrder:
    def key(order: DateOrder) -> tuple[float, int, bool]:
        steps = np.diff(seconds[order][seconds[order] != NO_TIME])
        one_way = max(float((steps > 0).mean()), float((steps < 0).mean())) if len(steps) else 0.0
        return round(one_way, 2), -_span(seconds[order]), order == usual

    usual: DateOrder = "month first" if _by_halves_of_day(texts[0]) else "day first"
    return max(likely, key=key)


def _by_halves_of_day(text: str) -> bool:
    found = understood(shape_of(text), "time", "day first")
    return found is not None and bool(found.half) and "/" in text
