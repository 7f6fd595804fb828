"""How coupons that are left out of the findings become rows and come back; and the table of format 6 as SQL."""

from __future__ import annotations

from typing import Any, Final

from rustboard.board.left_out import MOST_REASON, LeftOut
from rustboard.store import values
from rustboard.store.table import Row, Table, key_of, names
from rustboard.support.text import one_line

FINDINGS_TABLE_TEXTS: Final[tuple[str, ...]] = (
    """CREATE TABLE left_out (
    key INTEGER PRIMARY KEY AUTOINCREMENT,
    coupon INTEGER NOT NULL UNIQUE REFERENCES coupon (key),
    reason TEXT NOT NULL CHECK (reason != ''),
    who TEXT NOT NULL,
    recorded TEXT NOT NULL
) STRICT""",
)
"""What format 6 added to format 5; `rustboard.store.schema` puts it together with the older ones."""


def _from_row(row: Row) -> LeftOut:
    key, coupon, reason, who, recorded = row
    why = one_line(values.line(reason), MOST_REASON)
    if not why:
        raise ValueError("a coupon is left out without a reason")
    return LeftOut(
        values.key(key),
        values.key(coupon),
        why,
        values.line(who),
        values.line(recorded),
    )


LEFT_OUT: Final[Table[LeftOut]] = Table(
    "left_out",
    names("coupon reason who recorded"),
    lambda each: each[1:],
    _from_row,
    key_of,
)

FINDINGS_TABLES: Final[tuple[Table[Any], ...]] = (LEFT_OUT,)
