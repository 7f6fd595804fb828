"""A coupon that the user leaves out of the findings, and why; its grades stay as they are."""

from __future__ import annotations

from typing import Final, NamedTuple

MOST_REASON: Final = 500
"""Characters of a reason."""


class LeftOut(NamedTuple):
    """One coupon left out of all comparisons.

    Attributes:
        coupon: key.
        reason: in the user's words, never empty; the report prints it.
        who: left it out. recorded: when, ISO date and time.
    """

    key: int
    coupon: int
    reason: str
    who: str
    recorded: str
