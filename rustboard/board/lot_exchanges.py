"""Lots over single positions: drawn until they keep the rules, or brought there by exchanges.

Treatments are numbered from 0 here. A layout is drawn outright a number of times, each layout being as likely; the
first one that keeps all rules is taken, so that each allowed layout is as likely. Only when none of them did,
exchanges start from the last: two positions at random change treatments, and the exchange stands unless the rules
are broken by more than before. An exchange and its reverse are as likely, so that in the long run each layout of the
lowest level found is as likely, as far as exchanges lead from one to the other without passing a higher level. They
go on for a good while after the level was last lowered.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rustboard.board.chance import Chance
from rustboard.board.edges import fair_range, is_edge
from rustboard.board.position import Position

TRIED_POSITIONS = 6_000
"""How many positions are drawn for outright before exchanges begin: 21 coupons 286 times, 1,000 seven times."""

_ROWS_FIRST = 10_000
"""Weight of one coupon too many in a row against one too many at the edge: more than all coupons of a board."""


class _Tally:
    """Counts with a range that is right for each; ``excess`` is by how much all of them together are out of it."""

    def __init__(self, ranges: Sequence[tuple[int, int]], weight: int) -> None:
        self._ranges = ranges
        self._weight = weight
        self._counts = [0] * len(ranges)
        self.excess = 0

    def start(self, counts: Counter[int]) -> None:
        """Count anew."""
        self._counts = [counts[number] for number in range(len(self._ranges))]
        self.excess = sum(self._beyond(number) for number in range(len(self._ranges)))

    def shift(self, number: int, by: int) -> None:
        """Change one count."""
        self.excess -= self._beyond(number)
        self._counts[number] += by
        self.excess += self._beyond(number)

    def _beyond(self, number: int) -> int:
        low, high = self._ranges[number]
        count = self._counts[number]
        return self._weight * (low - count if count < low else count - high if count > high else 0)


class Exchanges:
    """One board of single positions, its rules, and treatments that change places on it."""

    def __init__(
        self, places: Sequence[Position], counts: Sequence[int], size: tuple[int, int], *, rows: bool, edges: bool
    ) -> None:
        """Take the positions in use and how many coupons each treatment has.

        Args:
            places: as many as there are coupons, in reading order.
            counts: coupons by number of treatment.
            size: rows and columns of the board.
            rows: whether treatments are to be spread evenly over rows.
            edges: whether they are to be spread evenly over edge positions.
        """
        self._row = [each.row for each in places]
        self._rows = size[0]
        self._at_edge = [int(is_edge(each, *size)) for each in places]
        self._counts = counts
        self._by_rows, self._fair_edges = rows, edges
        self._in_row: dict[int, list[int]] = {}
        for number, row in enumerate(self._row):
            self._in_row.setdefault(row, []).append(number)
        total = len(places)
        self._edges = _Tally([fair_range(each, sum(self._at_edge), total) for each in counts], 1)
        self._spread = _Tally(self._row_ranges() if rows else (), _ROWS_FIRST)
        self._hung: list[int] = []

    def drawn(self, chance: Chance) -> list[int]:
        """Return the treatment of every position."""
        for _ in range(1 + TRIED_POSITIONS // len(self._row)):
            self._start(self._dealt_over_rows(chance) if self._by_rows else self._dealt(chance))
            if not self._broken():
                return self._hung
        return self._exchanged(chance)

    def exchanged(self, hung: Sequence[int], chance: Chance) -> list[int]:
        """Return the treatment of every position after exchanges alone that began with ``hung``."""
        self._start(list(hung))
        return self._exchanged(chance)

    def _row_ranges(self) -> list[tuple[int, int]]:
        """Return how many coupons of a treatment may hang in a row, for every treatment and row."""
        loads = [len(self._in_row.get(row, ())) for row in range(self._rows)]
        total = len(self._row)
        if max(loads) - min(loads) <= 1:
            return [fair_range(each, 1, self._rows) for each in self._counts for _ in loads]
        return [fair_range(each, load, total) for each in self._counts for load in loads]

    def _dealt(self, chance: Chance) -> list[int]:
        return chance.shuffled(number for number, count in enumerate(self._counts) for _ in range(count))

    def _dealt_over_rows(self, chance: Chance) -> list[int]:
        """Deal treatment after treatment round the rows, then shuffle each row.

        Every treatment comes to lie in the rows as evenly as can be, because its coupons follow one another. Rows
        with room for one more come first in the round, so that all are full when the coupons are dealt.
        """
        order = chance.shuffled(self._in_row)
        treatments = chance.shuffled(range(len(self._counts)))
        coupons = [number for number in treatments for _ in range(self._counts[number])]
        uneven = self._uneven
        turns = sorted(
            ((turn + 0.5) / len(self._in_row[row]) if uneven else turn, -len(self._in_row[row]), at, row)
            for at, row in enumerate(order)
            for turn in range(len(self._in_row[row]))
        )
        dealt: dict[int, list[int]] = {row: [] for row in order}
        for (*_, row), number in zip(turns, coupons, strict=True):
            dealt[row].append(number)
        hung = [0] * len(self._row)
        for row in sorted(dealt):
            for place, number in zip(self._in_row[row], chance.shuffled(dealt[row]), strict=True):
                hung[place] = number
        return hung

    @property
    def _uneven(self) -> bool:
        loads = [len(places) for places in self._in_row.values()]
        return max(loads) - min(loads) > 1

    def _start(self, hung: list[int]) -> None:
        self._hung = hung
        if self._fair_edges:
            self._edges.start(Counter(each for each, edge in zip(self._hung, self._at_edge, strict=True) if edge))
        if self._by_rows:
            cells = (self._cell(each, row) for each, row in zip(self._hung, self._row, strict=True))
            self._spread.start(Counter(cells))

    def _cell(self, treatment: int, row: int) -> int:
        return treatment * self._rows + row

    def _broken(self) -> int:
        return self._edges.excess + self._spread.excess

    def _exchanged(self, chance: Chance) -> list[int]:
        total = len(self._hung)
        level = self._broken()
        enough = 20 * total + 1_000
        since_lowered = 0
        while since_lowered < enough:
            one, other = self._two_places(chance)
            self._exchange(one, other)
            now = self._broken()
            if now > level:
                self._exchange(one, other)
            since_lowered = 0 if now < level else since_lowered + 1
            level = min(now, level)
        return self._hung

    def _two_places(self, chance: Chance) -> tuple[int, int]:
        """Return two positions: any, or by rows every other time two of one row, as they seldom may differ in it."""
        one = chance.below(len(self._hung))
        if self._by_rows and chance.below(2):
            places = self._in_row[self._row[one]]
            return one, places[chance.below(len(places))]
        return one, chance.below(len(self._hung))

    def _exchange(self, one: int, other: int) -> None:
        first, second = self._hung[one], self._hung[other]
        if first == second:
            return
        self._hung[one], self._hung[other] = second, first
        gain = self._at_edge[other] - self._at_edge[one]
        if self._fair_edges and gain:
            self._edges.shift(first, gain)
            self._edges.shift(second, -gain)
        here, there = self._row[one], self._row[other]
        if self._by_rows and here != there:
            for treatment, to, away in ((first, there, here), (second, here, there)):
                self._spread.shift(self._cell(treatment, to), 1)
                self._spread.shift(self._cell(treatment, away), -1)
