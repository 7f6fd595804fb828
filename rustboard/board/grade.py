"""What a grade may be: 0 to 10, with a distribution letter where the scale has one."""

from __future__ import annotations

from typing import Final, Literal

from rustboard.support.problems import InputError
from rustboard.support.text import one_line

GRADES: Final = range(11)

Source = Literal["eye", "photo", "photo confirmed", "blind", "agreed"]
SOURCES: Final[tuple[Source, ...]] = ("eye", "photo", "photo confirmed", "blind", "agreed")
"""By eye knowing which coupon it was, by the photo, by the photo and confirmed by eye, by eye without knowing (by the
rule of the blind inspection), or agreed upon after the blind grades were revealed."""

BY_PHOTO: Final[tuple[Source, ...]] = ("photo", "photo confirmed")
"""Sources that rest on what was measured in a photo."""

UNBIASED: Final[tuple[Source, ...]] = ("blind", "agreed")
"""Sources that rest on blind grades."""

DISTRIBUTIONS: Final = ("S", "G", "P", "H")
"""Spot, general, pinpoint, hybrid (ASTM D610)."""


def carries_letter(grade: int) -> bool:
    """Return whether the scale gives this grade a distribution letter (ASTM D610: only 9 to 1)."""
    return 1 <= grade <= 9


def check_grade(grade: int, distribution: str = "", percent: float | None = None) -> None:
    """Refuse a grade that the scale does not have.

    Raises:
        InputError: grade not 0-10, a letter that is not S, G, P or H or not allowed at this grade, or a
            percent outside 0-100.
    """
    if isinstance(grade, bool) or grade not in GRADES:
        raise InputError(f"{grade} is not a grade; grades are whole numbers from 0 to 10.", column="grade")
    if distribution and distribution not in DISTRIBUTIONS:
        raise InputError(
            f"“{one_line(distribution, 20)}” is not a distribution letter; use S, G, P or H, or leave it out.",
            column="distribution",
        )
    if distribution and not carries_letter(grade):
        raise InputError(
            f"Grade {grade} carries no distribution letter; letters go with grades 9 to 1.", column="distribution"
        )
    if percent is not None and not 0 <= percent <= 100:
        raise InputError("Percent rusted is from 0 to 100.", column="percent")


def written(grade: int, distribution: str = "") -> str:
    """Return a grade as the trade writes it: ``7-S``, ``10``."""
    return f"{grade}-{distribution}" if distribution else str(grade)
