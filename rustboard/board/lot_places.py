"""Which positions a board of lots uses, before any coupon is drawn for them.

Rows hold numbers of coupons as equal as can be. Which positions stay empty is fixed by the numbers alone, not drawn,
so that lots over the positions in use are lots over all that may differ.
"""

from __future__ import annotations

from rustboard.board.position import Position


def filled_from_the_left(count: int, rows: int, columns: int) -> list[Position]:
    """Return ``count`` positions, column by column from the left and each from the top; the last may not be full."""
    places = [Position(row, column) for column in range(columns) for row in range(rows)]
    return sorted(places[:count])


def most_spaced(rows: int, columns: int, free_rows: int) -> int:
    """Return how many coupons a board holds with ``free_rows`` empty positions below each."""
    return columns * -(-rows // (free_rows + 1))


def spaced(count: int, rows: int, columns: int, free_rows: int) -> list[Position]:
    """Return ``count`` positions, at most `most_spaced`, with ``free_rows`` empty ones between those of a column.

    Columns hold numbers as equal as can be. Each column takes the rows in which the fewest hang so far, the upper one
    where they are equal, which staggers the columns.
    """
    loads = [0] * rows
    places: list[Position] = []
    for column in range(columns):
        number = count // columns + (column < count % columns)
        for row in _lightest_rows(loads, number, free_rows):
            loads[row] += 1
            places.append(Position(row, column))
    return sorted(places)


def _lightest_rows(loads: list[int], number: int, free_rows: int) -> tuple[int, ...]:
    """Return ``number`` rows, so far apart, with the least sum of loads; of equal ones the first in order."""
    step = free_rows + 1
    rows = len(loads)
    # best[start]: load and rows of the best choice so far made of rows from ``start`` on.
    best: list[tuple[int, tuple[int, ...]] | None] = [(0, ())] * (rows + step)
    for _ in range(number):
        chosen: list[tuple[int, tuple[int, ...]] | None] = [None] * (rows + step)
        for row in range(rows - 1, -1, -1):
            later = best[row + step]
            here = None if later is None else (later[0] + loads[row], (row, *later[1]))
            chosen[row] = min((each for each in (here, chosen[row + 1]) if each is not None), default=None)
        best = chosen
    found = best[0]
    if found is None:
        raise ValueError(f"{number} coupons with {free_rows} rows free do not fit into {rows} rows")
    return found[1]
