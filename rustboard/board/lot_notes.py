"""What is to be said about lots: which rule they could not keep, why, what would help, and what they let compare."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from rustboard.board.drain import Hung
from rustboard.board.edges import edge_excess
from rustboard.board.layout import Layout
from rustboard.board.lot_columns import columns_needed
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS
from rustboard.support.text import counted


def notes_on(
    hung: Sequence[Hung], layout: Layout, size: tuple[int, int], *, inclined: bool, in_columns: bool, breaks: int
) -> tuple[str, ...]:
    """Return the sentences about a layout that lots gave.

    Args:
        hung: the coupons where the lots put them.
        layout: the rules.
        size: rows and columns of the board.
        inclined: whether anything runs down the board.
        in_columns: whether whole columns were drawn.
        breaks: how many coupons drip on one of another treatment.
    """
    counts = list(Counter(each.treatment for each in hung).values())
    if not inclined:
        drain = _flat(layout)
    elif breaks:
        drain = f"{_why_broken(layout, counts, size)} As it is, {_drip(breaks)} on a coupon of another treatment."
    else:
        drain = ""
    return tuple(filter(None, (drain, _compared(layout, in_columns), _edges(hung, layout, size))))


def _flat(layout: Layout) -> str:
    if layout.drain in ("none", "drip edges"):
        return ""
    return "The board lies flat and nothing drains, so lots could be drawn without any care against drips."


def _drip(breaks: int) -> str:
    return "1 coupon drips" if breaks == 1 else f"{breaks} coupons drip"


def _why_broken(layout: Layout, counts: Sequence[int], size: tuple[int, int]) -> str:
    if layout.drain == "none":
        return "Nothing is done against drips; draw whole columns, leave rows free, or fit drip edges."
    if layout.drain == "columns":
        return _too_few_columns(counts, size)
    return _too_little_room(layout, counts, size)


def _too_few_columns(counts: Sequence[int], size: tuple[int, int]) -> str:
    needed, there = columns_needed(counts, size[0]), size[1]
    treatments = counted(len(counts), "treatment")
    room = f"{treatments} in whole columns need {counted(needed, 'column')} and the board has {there}"
    if needed > MOST_COLUMNS:
        return f"{room}, {MOST_COLUMNS} at most; fit drip edges or take fewer coupons."
    return f"{room}; add {counted(needed - there, 'column')} or fit drip edges."


def _too_little_room(layout: Layout, counts: Sequence[int], size: tuple[int, int]) -> str:
    rows, columns = size
    in_column = -(-sum(counts) // columns)
    spaced_rows = (in_column - 1) * (layout.free_rows + 1) + 1
    whole = columns_needed(counts, rows)
    ways = []
    if spaced_rows <= MOST_ROWS:
        ways.append(f"make it {spaced_rows} rows")
    if whole <= MOST_COLUMNS:
        ways.append(f"make it {whole} columns")
    free = counted(layout.free_rows, "free row")
    room = f"The board has no room for {free} between all coupons of different treatments"
    return f"{room}; {', '.join([*ways, 'or fit drip edges'])}."


def _compared(layout: Layout, in_columns: bool) -> str:
    if not in_columns:
        return ""
    if layout.drain == "columns":
        return "Lots were drawn for whole columns, so comparisons rest on the number of columns, not of coupons."
    return (
        "There is no room to leave rows free below every coupon, so coupons of one treatment hang in runs and lots "
        "were drawn for whole columns; comparisons rest on the number of columns, not of coupons."
    )


def _edges(hung: Sequence[Hung], layout: Layout, size: tuple[int, int]) -> str:
    if not layout.fair_edges or not edge_excess(hung, *size):
        return ""
    return "Positions at the edge could not be spread quite fairly over the treatments with this layout."
