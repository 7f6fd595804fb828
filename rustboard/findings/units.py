"""The units of a board as its lots made them, and between which of them a comparison may exchange labels."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from itertools import count
from typing import Final

from rustboard.board.comparisons import Comparison
from rustboard.board.drain import Hung, drains, free_rows_between, neighbours_in_columns
from rustboard.board.edges import fair_range, is_edge
from rustboard.board.layout import Layout
from rustboard.board.model import Role
from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit

Cell = tuple[int | None, Role]
"""What was done to a coupon: treatment and role."""

_WHOLE_BOARD: Final = 0


@dataclass(frozen=True, slots=True)
class HungBoard:
    """A board as it hangs, or as lots would hang it.

    Attributes:
        hung: the coupons on it. roles: by key of coupon.
        rows, columns: of the grid.
        layout: the rules.
        incline_deg: or None.
    """

    hung: tuple[Hung, ...]
    roles: Mapping[int, Role]
    rows: int
    columns: int
    layout: Layout
    incline_deg: float | None = None

    @property
    def by_lot(self) -> bool:
        """Whether lots decide where a coupon hangs."""
        return self.layout.method != "hand"

    @property
    def columns_are_units(self) -> bool:
        """Whether the lots move whole columns, so that the coupons of one are no replicates of one another."""
        return self.by_lot and self.layout.drain == "columns"

    @property
    def rows_are_blocks(self) -> bool:
        """Whether lots are drawn within each row."""
        return self.layout.method == "rows" and not self.columns_are_units


@dataclass(frozen=True, slots=True)
class HungUnit:
    """What hangs as one: a coupon, or the coupons of one treatment in a column.

    Attributes:
        coupons: keys.
        cell: what was done to them.
        block: row where rows are blocks, else 0.
        at_edge: whether it is at the edge.
        stays: whether it cannot change places with another without breaking the rule against drips.
    """

    coupons: frozenset[int]
    cell: Cell
    block: int = _WHOLE_BOARD
    at_edge: bool = False
    stays: bool = False


def units_of(board: HungBoard) -> list[HungUnit]:
    """Return the units of a board."""
    if board.columns_are_units:
        return _column_units(board)
    together = _hanging_together(board)
    return [
        HungUnit(
            frozenset({each.coupon}),
            (each.treatment, board.roles[each.coupon]),
            each.position.row if board.rows_are_blocks else _WHOLE_BOARD,
            is_edge(each.position, board.rows, board.columns),
            each.coupon in together,
        )
        for each in board.hung
    ]


def _column_units(board: HungBoard) -> list[HungUnit]:
    found: dict[tuple[int, Cell], set[int]] = defaultdict(set)
    for each in board.hung:
        found[each.position.column, (each.treatment, board.roles[each.coupon])].add(each.coupon)
    return [HungUnit(frozenset(coupons), cell) for (_, cell), coupons in found.items()]


def _hanging_together(board: HungBoard) -> set[int]:
    """Return coupons so near below another of their treatment that only both together could hang elsewhere."""
    if not board.by_lot or board.layout.drain != "spacing" or not drains(board.incline_deg):
        return set()
    near = [pair for pair in neighbours_in_columns(board.hung) if free_rows_between(*pair) < board.layout.free_rows]
    return {each.coupon for pair in near for each in pair if pair[0].treatment == pair[1].treatment}


def exchangeable(comparison: Comparison, board: HungBoard, units: list[HungUnit]) -> list[Exchangeable]:
    """Return between which units of a comparison labels may change places, by level of the other factor.

    Lots within rows: within rows. Lots that spread the edges fairly: only so that the treatments keep a fair share of
    the edges. A group made of several treatments keeps exactly its share, because not every other share is as likely.
    By hand there were no lots; the count is then that of lots over the whole board.
    """
    fair = board.by_lot and board.layout.fair_edges and not board.columns_are_units
    found = []
    for level in comparison.levels:
        limits = _limits(level.a, level.b, board) if fair else None
        alone = count(-1, -1)
        here: list[Unit] = []
        for each in units:
            in_a = not each.coupons.isdisjoint(level.a)
            if not in_a and each.coupons.isdisjoint(level.b):
                continue
            stratum: tuple[int, ...] = (next(alone),) if each.stays else (each.block,)
            if fair and limits is None:
                stratum = (*stratum, int(each.at_edge))
            here.append(Unit(each.coupons, in_a, stratum, each.at_edge))
        found.append(Exchangeable(tuple(here), limits))
    return found


def _limits(a: frozenset[int], b: frozenset[int], board: HungBoard) -> EdgeLimits | None:
    """Return the fair shares of the edges where both groups are one whole treatment each, else None."""
    treatments = {each.coupon: each.treatment for each in board.hung}
    counts: Counter[Hashable] = Counter(treatments.values())
    edges = Counter(each.treatment for each in board.hung if is_edge(each.position, board.rows, board.columns))
    ranges: list[int] = []
    for group in (a, b):
        own = {treatments[each] for each in group}
        if len(own) != 1 or counts[next(iter(own))] != len(group):
            return None
        (treatment,) = own
        low, high = fair_range(len(group), edges.total(), len(board.hung))
        # Hung otherwise than drawn, a share may be unfair; the arrangement that is seen always counts.
        ranges += [min(low, edges[treatment]), max(high, edges[treatment])]
    return EdgeLimits(*ranges)
