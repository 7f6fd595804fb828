"""How fairly the positions at the edge of the board are spread over the treatments.

The edge is the outer ring of the grid: there wind, sun and spray differ from the middle. A board of fewer than three
rows or columns has no middle; all of it is edge.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from rustboard.board.drain import Hung, untreated_first
from rustboard.board.position import Position


@dataclass(frozen=True, slots=True)
class EdgeShare:
    """How many coupons of one treatment hang at the edge, and how many would be fair.

    Attributes:
        treatment: key, or None = untreated.
        at_edge, count: its coupons at the edge, and all that hang.
        fair_low, fair_high: its proportional share of the edge positions in use, rounded down and up.
    """

    treatment: int | None
    at_edge: int
    count: int
    fair_low: int
    fair_high: int

    @property
    def excess(self) -> int:
        """How many coupons too many or too few hang at the edge; 0 = a fair share."""
        return beyond(self.at_edge, self.fair_low, self.fair_high)


def beyond(count: int, low: int, high: int) -> int:
    """Return how far a number is below or above its range; 0 = within."""
    return max(low - count, count - high, 0)


def is_edge(position: Position, rows: int, columns: int) -> bool:
    """Return whether a position lies in the outer ring of a grid."""
    return position.row in (0, rows - 1) or position.column in (0, columns - 1) or rows < 3 or columns < 3


def edge_shares(hung: Iterable[Hung], rows: int, columns: int) -> list[EdgeShare]:
    """Return the share of every treatment that hangs, untreated first, then by key."""
    hanging = list(hung)
    at_edge = Counter(each.treatment for each in hanging if is_edge(each.position, rows, columns))
    counts = Counter(each.treatment for each in hanging)
    in_order = sorted(counts, key=untreated_first)
    return [
        EdgeShare(each, at_edge[each], counts[each], *fair_range(counts[each], at_edge.total(), len(hanging)))
        for each in in_order
    ]


def edge_excess(hung: Iterable[Hung], rows: int, columns: int) -> int:
    """Return how far a layout is from fair edges: the excess of all treatments together; 0 = fair."""
    return sum(each.excess for each in edge_shares(hung, rows, columns))


def fair_range(count: int, places: int, of_all: int) -> tuple[int, int]:
    """Return the proportional share of ``count`` coupons, of ``of_all``, in ``places``, rounded down and up."""
    return count * places // of_all, -(-count * places // of_all)
