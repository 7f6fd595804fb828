"""Whether the rows of a board share the treatments evenly, as lots drawn row by row make them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from rustboard.board.drain import Hung, untreated_first
from rustboard.board.edges import fair_range


class UnevenRow(NamedTuple):
    """A row that holds too many or too few coupons of one treatment.

    Attributes:
        row: 0 at the top. treatment: key, or None = untreated.
        there: its coupons in the row. low, high: how many there would be if all rows in use shared it evenly.
    """

    row: int
    treatment: int | None
    there: int
    low: int
    high: int


def uneven_rows(hung: Iterable[Hung]) -> list[UnevenRow]:
    """Return where a row has not its even share of a treatment, from the top, untreated first, then by key.

    Rows in which nothing hangs do not count. An even share is the treatment's coupons divided by the rows in use,
    rounded down or up.
    """
    hanging = list(hung)
    rows = sorted({each.position.row for each in hanging})
    totals = Counter(each.treatment for each in hanging)
    in_row = Counter((each.position.row, each.treatment) for each in hanging)
    in_order = sorted(totals, key=untreated_first)
    uneven = []
    for row in rows:
        for treatment in in_order:
            low, high = fair_range(totals[treatment], 1, len(rows))
            count = in_row[row, treatment]
            if not low <= count <= high:
                uneven.append(UnevenRow(row, treatment, count, low, high))
    return uneven
