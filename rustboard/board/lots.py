"""Lots: which coupon hangs where on a board, drawn from a seed within the rules of its layout.

A seed and a board give the same layout always and everywhere: coupons are taken by key, treatments by key with the
untreated first, and nothing but the seed's own sequence decides (`rustboard.board.chance`). How it decides,
numbers of tries included, is part of what a seed means: a change here makes old seeds give other layouts.

**What is drawn over.** First the positions in use are fixed by numbers alone (`rustboard.board.lot_places`); then the
treatments are drawn over them; last, which coupon of a treatment takes which of its positions.

- *Single positions*: the layout's drain care is ``none`` or ``drip edges``, or it is ``spacing`` and every coupon can
  have its free rows below it. With ``complete`` each layout over all positions in use is as likely. With ``rows``
  each treatment is dealt over the rows as evenly as can be (counts in two rows differ by one at most; where
  ``spacing`` forces rows of different loads, in proportion to these), then each order within each row is as likely.
- *Whole columns*: the drain care is ``columns``, or ``spacing`` without room for single coupons. What hangs in a
  column is made up beforehand (`rustboard.board.lot_columns`), and each order of the columns in use is as likely.
  Which rows of a partly filled column are filled is drawn for each column by itself and in the same way whatever the
  treatment, so that columns of as many coupons of one treatment could have come exchanged. The method changes nothing
  then: rows are no blocks where columns are moved whole.

**Fair edges** narrow this down: of those layouts only the ones with no treatment beyond its fair share of edge
positions (`rustboard.board.edges`) are allowed; where none such was found, those with the least excess found. Each
allowed layout is as likely: exactly so where a plain draw within a number of tries kept the rules, else nearly so, by
a long chain of exchanges of which each is as likely as its reverse (`rustboard.board.lot_exchanges`).

**What a test that respects the lots may exchange**: the units of each block of `exchange_blocks`, among the places
that these units have. With fair edges only those exchanges count after which `edge_excess` is no higher than it was
as drawn. Within rows this holds whatever share of a treatment fell to each row, as that is kept.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from rustboard.board.chance import Chance
from rustboard.board.drain import (
    DrainBreak,
    Hung,
    drain_breaks,
    drains,
    free_rows_between,
    neighbours_in_columns,
    untreated_first,
)
from rustboard.board.layout import Layout
from rustboard.board.lot_changes import drawn_positions
from rustboard.board.lot_columns import ColumnLots, Runs, columns_needed, packed, whole_columns
from rustboard.board.lot_exchanges import Exchanges
from rustboard.board.lot_notes import notes_on
from rustboard.board.lot_places import filled_from_the_left, most_spaced, spaced
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.support.problems import InputError
from rustboard.support.text import counted

Block = tuple[tuple[int, ...], ...]
"""Units that were exchanged with one another at random: each a tuple of coupon keys that stay together."""


@dataclass(frozen=True, slots=True)
class DrawnLots:
    """A layout as the lots gave it.

    Attributes:
        positions: by coupon key; every coupon has one.
        drain_breaks: where the drain rule could not be kept, or was not asked for.
        notes: sentences on what could not be kept and what would help, and what it means for comparisons.
        in_columns: whether whole columns were drawn.
    """

    positions: dict[int, Position]
    drain_breaks: tuple[DrainBreak, ...]
    notes: tuple[str, ...]
    in_columns: bool


def draw_lots(
    rows: int,
    columns: int,
    coupons: Sequence[tuple[int, int | None]],
    layout: Layout,
    seed: int,
    incline_deg: float | None,
) -> DrawnLots:
    """Draw lots for all coupons of a board.

    Args:
        rows: of the board.
        columns: of the board.
        coupons: key and treatment key (None = untreated) of each, in any order.
        layout: the rules.
        seed: of the lots, a whole number.
        incline_deg: of the board; None = not known, taken to be inclined.

    Raises:
        InputError: the layout is by hand, or there are more coupons than positions.
    """
    if layout.method == "hand":
        raise InputError("This layout is made by hand, so no lots are drawn; choose lots over the board or in rows.")
    if len(coupons) > rows * columns:
        raise InputError(
            f"The board has {counted(rows * columns, 'position')} for {counted(len(coupons), 'coupon')}; "
            "add rows or columns, or take coupons away."
        )
    if not coupons:
        return DrawnLots({}, (), (), in_columns=False)
    board = _Board(rows, columns, coupons, layout)
    chance = Chance(seed)
    hung = board.named(board.drawn(chance), chance)
    breaks = tuple(drain_breaks(hung, layout, incline_deg))
    notes = _notes(hung, layout, (rows, columns), incline_deg, in_columns=board.in_columns)
    return DrawnLots({each.coupon: each.position for each in hung}, breaks, notes, board.in_columns)


def drawn_coupons(record: BoardRecord) -> list[Hung]:
    """Return the coupons where the lots put them, by key; those that had no lots are not among them."""
    places = drawn_positions(record)
    return [Hung(key, record.coupons[key].treatment, place) for key, place in sorted(places.items())]


def notes_on_lots(record: BoardRecord) -> tuple[str, ...]:
    """Return what `draw_lots` had to say about a board's lots; nothing without lots, or for a layout by hand."""
    drawn, board = drawn_coupons(record), record.board
    if not drawn or record.layout.method == "hand":
        return ()
    in_columns = hangs_in_columns(drawn, record.layout)
    return _notes(drawn, record.layout, (board.rows, board.columns), board.incline_deg, in_columns=in_columns)


def _notes(
    hung: Sequence[Hung], layout: Layout, size: tuple[int, int], incline_deg: float | None, *, in_columns: bool
) -> tuple[str, ...]:
    return notes_on(
        hung,
        layout,
        size,
        inclined=drains(incline_deg),
        in_columns=in_columns,
        breaks=len(drain_breaks(hung, layout, incline_deg)),
    )


def exchange_blocks(layout: Layout, hung: Iterable[Hung]) -> tuple[Block, ...]:
    """Return the blocks within which lots exchanged treatments at random, from where they put the coupons.

    Args:
        layout: the rules the lots were drawn by, and whether they moved whole columns.
        hung: the coupons where the lots put them (not where they hang now).

    Returns:
        For whole columns, one block whose units are the columns. Else, for lots over the whole board one block, for
        lots within rows a block for each row in use; their units are single coupons. None for a layout by hand.
    """
    drawn = sorted(hung, key=lambda each: each.position)
    if layout.method == "hand" or not drawn:
        return ()
    if hangs_in_columns(drawn, layout):
        in_use = sorted({each.position.column for each in drawn})
        return (tuple(tuple(each.coupon for each in drawn if each.position.column == column) for column in in_use),)
    if layout.method == "complete":
        return (tuple((each.coupon,) for each in drawn),)
    rows_in_use = sorted({each.position.row for each in drawn})
    return tuple(tuple((each.coupon,) for each in drawn if each.position.row == row) for row in rows_in_use)


def hangs_in_columns(hung: Iterable[Hung], layout: Layout) -> bool:
    """Return whether whole columns were drawn, rather than single positions.

    The lots tell; where they do not, as before they are drawn, the rules and the coupons do.
    """
    if layout.drawn_grid is not None:
        return layout.drawn_in_columns
    if layout.drain == "columns":
        return True
    return layout.drain == "spacing" and any(
        free_rows_between(above, below) < layout.free_rows for above, below in neighbours_in_columns(hung)
    )


class _Board:
    """The board and its coupons, with treatments numbered from 0."""

    def __init__(self, rows: int, columns: int, coupons: Sequence[tuple[int, int | None]], layout: Layout) -> None:
        self._size = (rows, columns)
        self._layout = layout
        self._total = len(coupons)
        keys: dict[int | None, list[int]] = {}
        for coupon, treatment in sorted(coupons, key=lambda each: (untreated_first(each[1]), each[0])):
            keys.setdefault(treatment, []).append(coupon)
        self._treatments = list(keys)
        self._coupons = list(keys.values())
        self._counts = [len(each) for each in self._coupons]
        has_no_room = layout.drain == "spacing" and self._total > most_spaced(rows, columns, layout.free_rows)
        self.in_columns = layout.drain == "columns" or has_no_room

    def drawn(self, chance: Chance) -> list[tuple[Position, int]]:
        """Return positions with the number of the treatment that hangs there."""
        care, free_rows = self._layout.drain, self._layout.free_rows
        if self.in_columns:
            return self._in_columns(free_rows if care == "spacing" else 0, chance)
        if care == "spacing":
            return self._singly(spaced(self._total, *self._size, free_rows), chance)
        return self._singly(filled_from_the_left(self._total, *self._size), chance)

    def named(self, drawn: Sequence[tuple[Position, int]], chance: Chance) -> list[Hung]:
        """Return which coupon takes which position of its treatment, by lot."""
        waiting = [chance.shuffled(each) for each in self._coupons]
        return [Hung(waiting[number].pop(), self._treatments[number], place) for place, number in sorted(drawn)]

    def _singly(self, places: list[Position], chance: Chance) -> list[tuple[Position, int]]:
        by_rows, edges = self._layout.method == "rows", self._layout.fair_edges
        board = Exchanges(places, self._counts, self._size, rows=by_rows, edges=edges)
        return list(zip(places, board.drawn(chance), strict=True))

    def _in_columns(self, free_rows: int, chance: Chance) -> list[tuple[Position, int]]:
        runs = self._runs(free_rows, chance)
        lots = ColumnLots(runs, self._counts, self._size, free_rows, chance)
        return [
            (Position(row, number), treatment)
            for number, column in enumerate(lots.drawn(fair_edges=self._layout.fair_edges))
            for row, treatment in column
        ]

    def _runs(self, free_rows: int, chance: Chance) -> Runs:
        rows, columns = self._size
        if columns_needed(self._counts, rows) <= columns:
            return whole_columns(self._counts, rows)
        runs = packed(self._counts, self._size, free_rows, chance) or packed(self._counts, self._size, 0, chance)
        if runs is None:
            raise AssertionError("runs that may be cut fit wherever single coupons do")
        return runs
