"""The question a board is to answer, written down before the exposure begins."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final, Literal

Compared = Literal["control", "pairs", "families", "grid", "chosen"]
COMPARED: Final[tuple[Compared, ...]] = ("control", "pairs", "families", "grid", "chosen")

Measure = Literal["last grade", "mean grade", "days to failing grade"]
MEASURES: Final[tuple[Measure, ...]] = ("last grade", "mean grade", "days to failing grade")

MOST_PAIRS: Final = 200
MOST_QUESTIONS: Final = 10_000
FAILING_GRADES: Final = range(10)
DEFAULT_FAILING_GRADE: Final = 7
DEFAULT_WORTHWHILE: Final = 2.0


@dataclass(frozen=True, slots=True)
class Question:
    """What is compared with what, and by what measure.

    Attributes:
        compared: ``control``: every treatment with the controls. ``pairs``: every treatment with every other.
            ``families``: every family with every other. ``grid``: every finish with every other and every protectant
            with every other, over all treatments. ``chosen``: only ``pairs``.
        pairs: ids of treatments, for ``chosen``; a pair whose treatment is gone counts for nothing.
        failing_grade: at this grade or below a coupon has failed, 0-9.
        measure: what the treatments are judged by.
        worthwhile: the smallest difference in grades that would matter to the user, above 0 up to 10.
        assumed_sd: standard deviation of grades between coupons treated alike, as the user assumes it; None = take it
            from earlier boards.
        words: the question in the user's own words.
        written: when it was written down; None = not yet kept.
        late: whether it was written or changed after the exposure began.
    """

    compared: Compared = "control"
    pairs: tuple[tuple[str, str], ...] = ()
    failing_grade: int = DEFAULT_FAILING_GRADE
    measure: Measure = "last grade"
    worthwhile: float = DEFAULT_WORTHWHILE
    assumed_sd: float | None = None
    words: str = ""
    written: datetime | None = None
    late: bool = False
    key: int = 0
