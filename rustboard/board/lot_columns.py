"""Lots over whole columns: what hangs in each, and which of them goes where.

A treatment in a column to itself never drips on another one. Where the columns do not suffice, or the free rows of a
layout leave no room for single coupons, those of one treatment hang one below the other in runs, and the runs are
packed into the columns: longest first, each into the column with most room (or least, where that keeps more of them
together), cut only when no column has room for it. Packing so is quick but not always the best there is; what it
leaves broken is reported.

Which rows of a column are filled is drawn for each column by itself (`filled`): rows dealt round from one column of a
treatment to the next would lie more evenly, but then columns of two treatments could not have been exchanged.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from rustboard.board.chance import Chance
from rustboard.board.edges import beyond, fair_range

Column = list[tuple[int, int]]
"""What hangs in a column: row and number of the treatment."""

Run = list[tuple[int, int]]
"""What shares a column: number of the treatment and how many coupons of it hang one below the other."""

Runs = list[Run]
"""For each column what shares it."""

TRIES = 200
_ORDERS = 20


def columns_needed(counts: Sequence[int], rows: int) -> int:
    """Return how many columns hold all coupons with one treatment in each."""
    return sum(-(-each // rows) for each in counts)


def whole_columns(counts: Sequence[int], rows: int) -> Runs:
    """Return columns of one treatment each; a treatment in several fills them alike (to one coupon)."""
    runs: Runs = []
    for number, count in enumerate(counts):
        parts = -(-count // rows)
        runs.extend([(number, count // parts + (part < count % parts))] for part in range(parts))
    return runs


def packed(counts: Sequence[int], size: tuple[int, int], free_rows: int, chance: Chance) -> Runs | None:
    """Return runs packed into columns with ``free_rows`` between; None when no packing was found.

    Args:
        counts: coupons by number of treatment.
        size: rows and columns of the board.
        free_rows: wanted between two runs of a column.
        chance: in which order treatments are packed.
    """
    rows, _ = size
    pieces = [
        (min(rows, count - start), number) for number, count in enumerate(counts) for start in range(0, count, rows)
    ]
    best: Runs | None = None
    for attempt in range(_ORDERS):
        order = chance.shuffled(pieces)
        if attempt == 0:
            order.sort(key=lambda piece: -piece[0])
        for widest in (True, False):
            found = _packed_in_order(order, size, free_rows, widest=widest)
            if found is not None and (best is None or _cuts(found) < _cuts(best)):
                best = found
        if best is not None and _cuts(best) == len(pieces):
            return best
    return best


def _cuts(runs: Runs) -> int:
    return sum(map(len, runs))


def _packed_in_order(
    pieces: Sequence[tuple[int, int]], size: tuple[int, int], free_rows: int, *, widest: bool
) -> Runs | None:
    rows, columns = size
    room = [rows] * columns
    packed_runs: list[Counter[int]] = [Counter() for _ in range(columns)]
    waiting = list(reversed(pieces))
    while waiting:
        length, number = waiting.pop()
        fitting = [column for column in range(columns) if room[column] >= length]
        if fitting:
            column = (max if widest else min)(fitting, key=room.__getitem__)
        else:
            column = max(range(columns), key=room.__getitem__)
            if not room[column]:
                return None
            waiting.append((length - room[column], number))
            length = room[column]
        room[column] = max(0, room[column] - length - free_rows)
        packed_runs[column][number] += length
    return [sorted(each.items()) for each in packed_runs]


def filled(in_column: Run, rows: int, free_rows: int, chance: Chance) -> Column:
    """Return where what shares a column hangs in it, by lot.

    It is drawn for each column by itself and without regard to the treatment, so that columns of as many coupons of
    one treatment each can be exchanged with one another whatever their empty rows are.

    Args:
        in_column: runs of a column; the coupons of a single one take any rows, those of several hang one below the
            other, with ``free_rows`` between runs as often as fits.
        rows: of the board.
        free_rows: wanted between two runs.
        chance: the lots.
    """
    if len(in_column) == 1:
        ((number, length),) = in_column
        chosen = chance.shuffled(range(rows))[:length] if length < rows else range(rows)
        return [(row, number) for row in sorted(chosen)]
    order = chance.shuffled(in_column)
    spare = rows - sum(length for _, length in order)
    gaps = len(order) - 1
    kept = min(gaps, spare // free_rows) if free_rows and gaps > 0 else 0
    before = [0, *chance.shuffled([free_rows] * kept + [0] * (gaps - kept)), 0]
    for _ in range(spare - kept * free_rows):
        before[chance.below(len(before))] += 1
    column: Column = []
    row = 0
    for (number, length), gap in zip(order, before, strict=False):
        row += gap
        column.extend((row + step, number) for step in range(length))
        row += length
    return column


class ColumnLots:
    """The lots over whole columns: in which order they come, and which rows are filled in each."""

    def __init__(
        self, runs: Runs, counts: Sequence[int], size: tuple[int, int], free_rows: int, chance: Chance
    ) -> None:
        """Take what shares each column.

        Args:
            runs: of each column in use.
            counts: coupons by number of treatment.
            size: rows and columns of the board.
            free_rows: wanted between two runs of a column.
            chance: the lots.
        """
        self._runs, self._counts, self._total = runs, counts, sum(counts)
        (self._rows, self._columns), self._free_rows, self._chance = size, free_rows, chance

    def drawn(self, *, fair_edges: bool) -> list[Column]:
        """Return the columns from the left.

        As with single positions (`rustboard.board.lot_exchanges`), with fair edges all is drawn outright, rows too,
        until the edges are fair; then every such layout is as likely. Where none is found, one column after the
        other is exchanged or filled anew by lot, never towards less fair edges, so that in the end the layouts with
        the least excess found are about as likely.
        """
        columns = self._outright()
        if not fair_edges:
            return [each.column for each in columns]
        for _ in range(TRIES):
            if not self._excess(columns):
                break
            columns = self._outright()
        else:
            self._change_many(columns)
        return [each.column for each in columns]

    def _outright(self) -> list[_Filled]:
        return [self._filled(each) for each in self._chance.shuffled(self._runs)]

    def _filled(self, in_column: Run) -> _Filled:
        column = filled(in_column, self._rows, self._free_rows, self._chance)
        ends = (0, self._rows - 1)
        at_ends = Counter(number for row, number in column if row in ends)
        return _Filled(in_column, column, Counter(dict(in_column)), at_ends)

    def _change_many(self, columns: list[_Filled]) -> None:
        level = self._excess(columns)
        since_lowered = 0
        while since_lowered < 10 * len(columns) + 100:
            one, other = self._chance.below(len(columns)), self._chance.below(len(columns))
            before = columns[one], columns[other]
            if one == other:
                columns[one] = self._filled(before[0].runs)
            else:
                columns[one], columns[other] = columns[other], columns[one]
            now = self._excess(columns)
            if now > level:
                columns[one], columns[other] = before
            since_lowered = 0 if now < level else since_lowered + 1
            level = min(now, level)

    def _excess(self, columns: Sequence[_Filled]) -> int:
        """Return how far columns, in this order from the left, are from fair edges."""
        at_edge = [0] * len(self._counts)
        for place, each in enumerate(columns):
            all_edge = place in (0, self._columns - 1) or self._rows < 3 or self._columns < 3
            for number, count in (each.all if all_edge else each.at_ends).items():
                at_edge[number] += count
        places = sum(at_edge)
        excess = 0
        for count, found in zip(self._counts, at_edge, strict=True):
            low, high = fair_range(count, places, self._total)
            excess += beyond(found, low, high)
        return excess


class _Filled(NamedTuple):
    """A column with what it adds to the edge: all of it when it is an outer one, else what is at its ends."""

    runs: Run
    column: Column
    all: Counter[int]
    at_ends: Counter[int]
