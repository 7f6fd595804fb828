"""The units of a board as its lots made them, and between which of them a comparison may exchange labels."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from rustboard.board.comparisons import Comparison
from rustboard.board.drain import Hung
from rustboard.board.edges import edge_shares, is_edge
from rustboard.board.layout import Layout
from rustboard.board.lots import Block, exchange_blocks, hangs_in_columns
from rustboard.board.model import Role
from rustboard.findings.exchange import EdgeLimits, Exchangeable, Unit

Cell = tuple[int | None, Role]
"""What was done to a coupon: treatment and role."""

_WHOLE_BOARD = 0


@dataclass(frozen=True, slots=True)
class HungBoard:
    """The coupons of a board: where they hang, and where the lots put them.

    Attributes:
        hung: where they hang.
        drawn: the same coupons where the lots put them; one the lots did not know is where it hangs.
        roles: by key of coupon.
        rows, columns: of the grid.
        layout: the rules of the lots.
        without_lot: keys of coupons that the lots did not know; they stay where they are.
    """

    hung: tuple[Hung, ...]
    drawn: tuple[Hung, ...]
    roles: Mapping[int, Role]
    rows: int
    columns: int
    layout: Layout
    without_lot: frozenset[int] = frozenset()

    @property
    def by_lot(self) -> bool:
        """Whether lots decide where a coupon hangs."""
        return self.layout.method != "hand"

    @property
    def columns_are_units(self) -> bool:
        """Whether the lots moved whole columns, so that coupons of one column are no replicates of one another."""
        return self.by_lot and hangs_in_columns(self.drawn, self.layout)

    @property
    def rows_are_blocks(self) -> bool:
        """Whether lots were drawn within each row."""
        return self.layout.method == "rows" and not self.columns_are_units


@dataclass(frozen=True, slots=True)
class HungUnit:
    """What hangs as one: a coupon, or the coupons of one treatment in a column.

    Attributes:
        coupons: keys.
        cell: what was done to them.
        block: row where rows are blocks, else 0; of where it hangs, or of where the lots put it.
        at_edge: how many of its coupons are at the edge.
        alone: whether it was drawn by itself; treatments that share a column were not, nor what has no lot.
    """

    coupons: frozenset[int]
    cell: Cell
    block: int = _WHOLE_BOARD
    at_edge: int = 0
    alone: bool = True


def hanging_units(board: HungBoard) -> list[HungUnit]:
    """Return the units as they hang: what a model with rows as blocks sees."""
    if board.columns_are_units:
        return drawn_units(board)
    return [
        HungUnit(
            frozenset({each.coupon}),
            (each.treatment, board.roles[each.coupon]),
            each.position.row if board.rows_are_blocks else _WHOLE_BOARD,
        )
        for each in board.hung
    ]


def drawn_units(board: HungBoard) -> list[HungUnit]:
    """Return the units as the lots drew them; by hand every coupon is one, and the whole board their block."""
    places = {each.coupon: each for each in board.drawn}
    blocks: Sequence[Block] = exchange_blocks(board.layout, board.drawn)
    if not board.by_lot:
        blocks = [tuple((each.coupon,) for each in board.drawn)]
    found = []
    for number, block in enumerate(blocks):
        for coupons in block:
            cells: dict[Cell, set[int]] = defaultdict(set)
            for each in coupons:
                cells[places[each].treatment, board.roles[each]].add(each)
            for cell, members in cells.items():
                at_edge = sum(is_edge(places[each].position, board.rows, board.columns) for each in members)
                alone = len(cells) == 1 and board.without_lot.isdisjoint(members)
                found.append(HungUnit(frozenset(members), cell, number, at_edge, alone))
    return found


class Exchanges:
    """Between which units of a board labels may change places.

    Lots within rows: within rows. Lots of whole columns: between columns that hold one treatment and as many coupons.
    Lots that spread the edges fairly: only so that edges are spread no less fairly. A group made of several
    treatments keeps exactly its share of the edges then, because not every other share is as likely. By hand there
    were no lots; the count is that of lots over the whole board.
    """

    def __init__(self, board: HungBoard) -> None:
        """Look a board over once, for all its comparisons."""
        self._fair = board.by_lot and board.layout.fair_edges
        self._units = drawn_units(board)
        self._unit_of = {coupon: number for number, each in enumerate(self._units) for coupon in each.coupons}
        self._treatment_of = {each.coupon: each.treatment for each in board.drawn}
        self._shares = {each.treatment: each for each in edge_shares(board.drawn, board.rows, board.columns)}

    def of(self, comparison: Comparison) -> list[Exchangeable]:
        """Return the units of a comparison by level of the other factor, and what the lots kept to."""
        found = []
        for level in comparison.levels:
            limits = self._limits(level.a, level.b) if self._fair else None
            units = [
                self._unit(number, in_a=in_a, fix_edges=self._fair and limits is None)
                for in_a, group in ((True, level.a), (False, level.b))
                for number in sorted({self._unit_of[each] for each in group})
            ]
            found.append(Exchangeable(tuple(units), limits))
        return found

    def units_of(self, coupons: frozenset[int]) -> list[Unit]:
        """Return the units of a group; where the lots kept to the edges, labels keep to equal shares of them.

        Exchanging only within these strata is one of the ways the lots could have fallen, so that a test over several
        groups at once stays exact.
        """
        numbers = sorted({self._unit_of[each] for each in coupons})
        return [self._unit(number, in_a=True, fix_edges=self._fair) for number in numbers]

    def _unit(self, number: int, *, in_a: bool, fix_edges: bool) -> Unit:
        unit = self._units[number]
        stratum: tuple[int, ...] = (unit.block, len(unit.coupons)) if unit.alone else (-1, number)
        if fix_edges:
            stratum = (*stratum, unit.at_edge)
        return Unit(unit.coupons, in_a, stratum, unit.at_edge)

    def _limits(self, a: frozenset[int], b: frozenset[int]) -> EdgeLimits | None:
        """Return the fair shares of the edges where both groups are one whole treatment each, else None."""
        shares = []
        for group in (a, b):
            own = {self._treatment_of[each] for each in group}
            if len(own) != 1 or self._shares[next(iter(own))].count != len(group):
                return None
            shares.append(self._shares[own.pop()])
        of_a, of_b = shares
        return EdgeLimits(of_a.fair_low, of_a.fair_high, of_b.fair_low, of_b.fair_high, of_a.excess + of_b.excess)
