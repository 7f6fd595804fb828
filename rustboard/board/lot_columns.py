"""Lots over whole columns: what hangs in each, and which of them goes where.

A treatment in a column to itself never drips on another one. Where the columns do not suffice, or the free rows of a
layout leave no room for single coupons, those of one treatment hang one below the other in runs, and the runs are
packed into the columns: longest first, each into the column with most room (or least, where that keeps more of them
together), cut only when no column has room for it. Packing so is quick but not always the best there is; what it
leaves broken is reported.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rustboard.board.chance import Chance
from rustboard.board.edges import fair_range

Column = list[tuple[int, int]]
"""What hangs in a column: row and number of the treatment."""

Runs = list[list[tuple[int, int]]]
"""For each column its runs: number of the treatment and how many coupons."""

TRIES = 200
_ORDERS = 20


def columns_needed(counts: Sequence[int], rows: int) -> int:
    """Return how many columns hold all coupons with one treatment in each."""
    return sum(-(-each // rows) for each in counts)


def whole_columns(counts: Sequence[int], rows: int, chance: Chance) -> list[Column]:
    """Return columns of one treatment each.

    A treatment in several columns fills them alike (to one coupon), and its coupons lie in the rows as evenly as can
    be: they are dealt round the rows from one column to the next.
    """
    columns: list[Column] = []
    for number, count in enumerate(counts):
        order = chance.shuffled(range(rows))
        turn = 0
        parts = -(-count // rows)
        for part in range(parts):
            size = count // parts + (part < count % parts)
            columns.append(sorted((order[(turn + step) % rows], number) for step in range(size)))
            turn += size
    return columns


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


def hung_in_runs(runs: Runs, rows: int, free_rows: int, chance: Chance) -> list[Column]:
    """Return columns in which the runs hang in an order drawn by lot, with ``free_rows`` between as often as fits."""
    columns: list[Column] = []
    for in_column in runs:
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
        columns.append(column)
    return columns


def placed(columns: Sequence[Column], counts: Sequence[int], size: tuple[int, int], chance: Chance) -> list[Column]:
    """Return columns in an order drawn by lot, with fair edges where columns can have them.

    As with single positions (`rustboard.board.lot_exchanges`), orders are drawn outright until one has fair edges;
    when none had, columns are exchanged, an exchange standing unless edges are spread less fairly than before.
    """
    judge = _Edges(columns, counts, size)
    order = chance.shuffled(range(len(columns)))
    for _ in range(TRIES):
        if not judge.excess(order):
            break
        order = chance.shuffled(order)
    else:
        _exchange_many(order, judge, chance)
    return [columns[each] for each in order]


def _exchange_many(order: list[int], judge: _Edges, chance: Chance) -> None:
    level = judge.excess(order)
    since_lowered = 0
    while since_lowered < 10 * len(order) + 100:
        one, other = chance.below(len(order)), chance.below(len(order))
        order[one], order[other] = order[other], order[one]
        now = judge.excess(order)
        if now > level:
            order[one], order[other] = order[other], order[one]
        since_lowered = 0 if now < level else since_lowered + 1
        level = min(now, level)


class _Edges:
    """How far an order of the columns is from fair edges."""

    def __init__(self, columns: Sequence[Column], counts: Sequence[int], size: tuple[int, int]) -> None:
        self._rows, self._columns = size
        self._counts = counts
        self._total = sum(counts)
        # What each column adds to the edge when it is an outer one, and when it is not.
        self._outer = [Counter(number for _, number in column) for column in columns]
        ends = (0, self._rows - 1)
        self._inner = [Counter(number for row, number in column if row in ends) for column in columns]

    def excess(self, order: Sequence[int]) -> int:
        """Return it for the numbers of the columns, from the left."""
        at_edge = [0] * len(self._counts)
        for place, column in enumerate(order):
            all_edge = place in (0, self._columns - 1) or self._rows < 3 or self._columns < 3
            for number, count in (self._outer if all_edge else self._inner)[column].items():
                at_edge[number] += count
        places = sum(at_edge)
        excess = 0
        for count, found in zip(self._counts, at_edge, strict=True):
            low, high = fair_range(count, places, self._total)
            excess += max(low - found, found - high, 0)
        return excess
