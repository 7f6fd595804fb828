"""How a board is laid out: by which lots, against which drips, with coupons of which size."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Final, Literal

from rustboard.board.position import Position

Method = Literal["complete", "rows", "hand"]
METHODS: Final[tuple[Method, ...]] = ("complete", "rows", "hand")

DrainCare = Literal["columns", "spacing", "drip edges", "none"]
DRAIN_CARES: Final[tuple[DrainCare, ...]] = ("columns", "spacing", "drip edges", "none")

MOST_FREE_ROWS: Final = 10
LARGEST_SEED: Final = 2**31 - 1


@dataclass(frozen=True, slots=True)
class Layout:
    """The rules the lots are drawn by, and when they were.

    Attributes:
        method: ``complete``: lots over the whole board. ``rows``: lots within each row, every treatment as evenly as
            can be in every row. ``hand``: no lots.
        drain: against coupons dripping on coupons of another treatment below them: ``columns``: only one treatment in
            a column. ``spacing``: ``free_rows`` empty positions between. ``drip edges``: strips under every row lead
            drips away. ``none``: nothing is done.
        free_rows: how many empty positions ``spacing`` wants between coupons of different treatments in a column.
        fair_edges: whether edge positions are spread as evenly as can be over the treatments.
        seed: of the lots that were drawn; None = not drawn.
        drawn_at: when they were drawn.
        coupon_width_mm, coupon_height_mm: size of every coupon; 0 = not given.
        hole_below_top_mm: centre of the hole, on the coupon's middle line, below its top edge (negative: above).
        drawn_rows, drawn_columns: of the grid that lots were drawn for; 0 = not drawn, or not known.
        drawn_in_columns: whether they moved whole columns; says nothing where the grid is not known.
    """

    method: Method = "rows"
    drain: DrainCare = "none"
    free_rows: int = 1
    fair_edges: bool = True
    seed: int | None = None
    drawn_at: datetime | None = None
    coupon_width_mm: float = 0.0
    coupon_height_mm: float = 0.0
    hole_below_top_mm: float = 8.0
    drawn_rows: int = 0
    drawn_columns: int = 0
    drawn_in_columns: bool = False
    key: int = 0

    @property
    def drawn_grid(self) -> tuple[int, int] | None:
        """Rows and columns that lots were drawn for; None where that is not known."""
        return (self.drawn_rows, self.drawn_columns) if self.drawn_rows and self.drawn_columns else None

    def undrawn(self) -> Layout:
        """Return the same rules without lots."""
        return replace(self, seed=None, drawn_at=None, drawn_rows=0, drawn_columns=0, drawn_in_columns=False)


@dataclass(frozen=True, slots=True)
class Lot:
    """Where the lots put one coupon; it may have been hung elsewhere since.

    Attributes:
        coupon: key.
    """

    coupon: int
    position: Position
    key: int = 0
