"""Rust grade 10 to 0 from the percent of the significant surface that is rusted, and back to its limits.

Limits as in ASTM D610 (the same table as SSPC-VIS 2): above the lower limit, up to and with the upper one.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from typing import Final

from rustboard.board.grade import check_grade
from rustboard.support.problems import InputError

UPPER_LIMITS: Final[tuple[float, ...]] = (0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 16.0, 33.0, 50.0, 100.0)
"""The most percent rusted that still belongs to a grade: grade 10 first, grade 0 last (ASTM D610)."""


def check_percent(percent: float) -> None:
    """Refuse a percent of a surface that cannot be.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    if math.isnan(percent) or not 0 <= percent <= 100:
        raise InputError(f"{percent:g} is not a percent of a surface; give 0 to 100.", column="percent")


def grade_from_percent(percent: float) -> int:
    """Return the rust grade, 10 to 0, of ``percent`` (0-100) of the significant surface rusted.

    Limits of ASTM D610, lower exclusive, upper inclusive: 0.03 is a 9, anything above it an 8.

    Raises:
        InputError: below 0, above 100 or not a number.
    """
    check_percent(percent)
    return 10 - bisect_left(UPPER_LIMITS, percent)


def limits_percent(grade: int) -> tuple[float, float]:
    """Return the lower and the upper limit of a grade in percent rusted.

    The lower limit itself belongs to the next better grade; only grade 10's lower limit, no rust at all, is its own.

    Raises:
        InputError: no such grade.
    """
    check_grade(grade)
    place = 10 - grade
    return (UPPER_LIMITS[place - 1] if place else 0.0, UPPER_LIMITS[place])


def middle_percent(grade: int) -> float:
    """Return the percent that stands for the middle of a grade.

    The geometric middle of the limits, because the scale goes by ratios of area: 0.173 % for grade 7, 40.6 % for
    grade 1, and by the same rule 70.7 % for grade 0. Grade 10 begins at nothing, which has no geometric middle: it
    takes half its upper limit, 0.005 %. Our choice throughout; the scale names limits only.

    Raises:
        InputError: no such grade.
    """
    lower, upper = limits_percent(grade)
    return math.sqrt(lower * upper) if lower else upper / 2


def percent_text(grade: int) -> str:
    """Return the limits of a grade in plain English words for the report: ``0.1 to 0.3 %``.

    Raises:
        InputError: no such grade.
    """
    lower, upper = limits_percent(grade)
    if grade == 10:
        return f"up to {upper:g} %"
    if grade == 0:
        return f"over {lower:g} %"
    return f"{lower:g} to {upper:g} %"
