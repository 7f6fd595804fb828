"""What a report says of the findings, as plain values: the sheets and pages that show them know no more than this.

Every place on the clock (medians, steps) counts in `FindingsContent.unit`; every mean, value and difference is in the
measure's own unit, named in `FindingsContent.measure`. What cannot be had is None. Names are as people wrote them.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, NamedTuple


class RankedLine(NamedTuple):
    """What one treatment, or the controls, came to.

    Attributes:
        treatment: its name. coupons: that count. mean, sd: in the measure's unit; None where there are too few.
        letters: shared with those it cannot be told apart from; empty where nothing can be said.
        failed: coupons that fell to the failing grade.
        median_days: of exposure until half had failed; None = not reached, or not known.
        id: of the treatment, or ``control``. control: whether these are the controls.
        values: what each coupon that counts is judged by. coupon_ids: of these coupons, in the same order.
        mean_low, mean_high: 95 % interval of this mean alone; None where the spread is not known.
    """

    treatment: str
    coupons: int
    mean: float | None
    sd: float | None
    letters: str
    failed: int
    median_days: float | None
    id: str = ""
    control: bool = False
    values: tuple[float, ...] = ()
    coupon_ids: tuple[str, ...] = ()
    mean_low: float | None = None
    mean_high: float | None = None


class ComparedLine(NamedTuple):
    """One comparison; what cannot be had is None.

    Attributes:
        a, b: names. difference, low, high: of a less b, with a 95 % interval for all comparisons together.
        p_model: by the model. p_exact: by the exact test. p_smallest: that this board could give.
        p_family: after closed testing. at_least: whether that is known only to be this or larger.
        standing: in words.
    """

    a: str
    b: str
    difference: float | None
    low: float | None
    high: float | None
    p_model: float | None
    p_exact: float | None
    p_smallest: float | None
    p_family: float | None
    at_least: bool
    standing: str


class LeftOutLine(NamedTuple):
    """One coupon that the findings do without.

    Attributes:
        when: it was left out; as text where it is no time.
    """

    coupon: str
    position: str
    reason: str
    who: str
    when: datetime | str


class FailingStep(NamedTuple):
    """A fall of the curve: between two places on the clock a share of the coupons failed, nobody saw where.

    Attributes:
        after, before: the places; equal where it is known to the point.
        above: share of the coupons still above the failing grade once it has fallen, 0 to 1.
    """

    after: float
    before: float
    above: float


class FailingLine(NamedTuple):
    """Time to the failing grade of one treatment, or of the controls.

    Attributes:
        id, treatment, control: as in `RankedLine`.
        coupons: that count. failed: of these.
        median: place by which half had failed; None = half have not. low, high: its interval; None = no end known.
        confidence: of the interval, 0 to 1: what so few coupons can give, 0.95 where they can.
        steps: of the survival curve (Turnbull), which begins with 1 at place 0; empty = none has failed.
        followed: the furthest place to which one that has not failed was followed; the curve is drawn until there,
            or to the last step where that is further.
        words: the same in one sentence.
    """

    id: str
    treatment: str
    control: bool
    coupons: int
    failed: int
    median: float | None
    low: float | None
    high: float | None
    confidence: float
    steps: tuple[FailingStep, ...]
    followed: float
    words: str


class ValueLine(NamedTuple):
    """Cost against protection of one treatment, or of the controls.

    Attributes:
        id, treatment, control: as in `RankedLine`.
        cost_per_m2: in the user's own money. minutes_per_m2: of work. Either may be None.
        mean: of the measure. low, high: lowest and highest value of its coupons.
        best_for_money, best_for_time: whether nothing that came out as well or better costs, or takes, as little.
        days_above: days above the failing grade: the median, or as long as it was watched.
        at_least: whether it is the latter.
        cost_of_month: of one m2 for each 30.4375 days above the failing grade (an upper figure where ``at_least``).
    """

    id: str
    treatment: str
    control: bool
    cost_per_m2: float | None
    minutes_per_m2: float | None
    mean: float
    low: float
    high: float
    best_for_money: bool
    best_for_time: bool
    days_above: float | None
    at_least: bool
    cost_of_month: float | None


class DoubtLine(NamedTuple):
    """What speaks against the findings; the weightiest come first.

    Attributes:
        weight: ``serious`` may turn the result round, ``caution`` weakens it, ``note`` is good to know.
        doubt: a sentence with its figure. why: what that means for the result, or empty.
        coupons: ids of those concerned; empty = the board as a whole.
    """

    weight: Literal["serious", "caution", "note"]
    doubt: str
    why: str
    coupons: tuple[str, ...]


class GridCellLine(NamedTuple):
    """One combination of finish and protectant; ``mean`` None and ``coupons`` 0 where it was not tried."""

    finish: str
    protectant: str
    coupons: int
    mean: float | None


class EffectLine(NamedTuple):
    """What a finish or protectant does: a difference with its 95 % interval; ``p`` for all of its kind together.

    Attributes:
        name: of what is compared, for people. together: whether this is a difference of differences (an interaction).
    """

    name: str
    together: bool
    difference: float
    low: float
    high: float
    p: float


@dataclass(frozen=True, slots=True)
class GridContent:
    """Finish by protectant, where treatments form a grid.

    Attributes:
        finishes, protectants: names, in order. cells: finish by finish, every combination.
        effects: the plain ones first. words: sentences.
    """

    finishes: tuple[str, ...]
    protectants: tuple[str, ...]
    cells: tuple[GridCellLine, ...]
    effects: tuple[EffectLine, ...]
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FindingsContent:
    """What the report says of the findings.

    Attributes:
        measure: in words, with its unit: what means and differences are of. failing_grade: at or below it a coupon
            has failed.
        verdict, cautions: sentences.
        ranked: the best first; controls among them. compared: in the order of the question.
        left_out: in reading order.
        complete: whether the exact tests have been worked out.
        unit: of the clock that the findings go by: ``days``, ``wet hours``, ``mm of rain``, ``grades lost by the
            controls``.
        in_grades: whether the measure is in grades, from 0 to 10; otherwise it is in ``unit``.
        failing: time to the failing grade; empty where nothing was graded.
        value: best protection first; empty where no cost and no work is known. value_words: sentences on it.
        unpriced: names of treatments whose cost and work are both not known.
        doubts: the weightiest first.
        more_days: sentences: what more exposure could still settle, and whether to stop.
        grid: finish by protectant, or None.
    """

    measure: str
    failing_grade: int
    verdict: tuple[str, ...]
    ranked: tuple[RankedLine, ...]
    compared: tuple[ComparedLine, ...]
    cautions: tuple[str, ...]
    left_out: tuple[LeftOutLine, ...]
    complete: bool = True
    unit: str = "days"
    in_grades: bool = True
    failing: tuple[FailingLine, ...] = ()
    value: tuple[ValueLine, ...] = ()
    value_words: tuple[str, ...] = ()
    unpriced: tuple[str, ...] = ()
    doubts: tuple[DoubtLine, ...] = ()
    more_days: tuple[str, ...] = ()
    grid: GridContent | None = None
