"""What each treatment costs and how well it protected."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from statistics import median_low
from typing import Final

from rustboard.board.exposure_clock import day_clock
from rustboard.board.recipe_cost import recipe_cost, usual_area_mm2
from rustboard.board.record import BoardRecord
from rustboard.board.series import InspectionDay
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.measures import measures_of
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.value.frontier import Offer, on_frontier
from rustboard.findings.value.results import ValueFindings, ValuePoint

DAYS_A_MONTH: Final = 365.25 / 12


@dataclass(frozen=True, slots=True)
class Price:
    """What a treatment takes for a square metre; None = not known.

    Attributes:
        cost: in the user's own currency. minutes: of work.
    """

    cost: float | None = None
    minutes: float | None = None

    @property
    def known(self) -> bool:
        """Whether there is anything to go by."""
        return self.cost is not None or self.minutes is not None


def price_of(record: BoardRecord, treatment: int | None) -> Price:
    """Return what a treatment takes: as written for it, else what its recipe adds up to where nothing is missing.

    No treatment has no price: that bare steel costs nothing is for the user to write.
    """
    known = None if treatment is None else record.treatments.get(treatment)
    if treatment is None or known is None:
        return Price()
    by_recipe = recipe_cost(record.recipe_of(treatment), usual_area_mm2(record, treatment))
    return Price(
        by_recipe.whole_per_m2 if known.cost_per_m2 is None else known.cost_per_m2,
        by_recipe.whole_minutes_per_m2 if known.minutes_per_m2 is None else known.minutes_per_m2,
    )


def value_findings(subject: Subject, results: Sequence[GroupResult]) -> ValueFindings | None:
    """Return cost and minutes against protection; None where no treatment that was graded has either.

    Args:
        subject: the board.
        results: of its groups, with the days to failure where they are known.
    """
    watched = _days_watched(subject)
    points, unknown = [], []
    for result in results:
        price = price_of(subject.record, result.group.treatment)
        if result.mean is None:
            continue
        if price.known:
            points.append(_point(result, result.mean, price, watched))
        elif result.group.treatment in subject.record.treatments:
            unknown.append(result.group.name)
    if not points:
        return None
    for_money = on_frontier([Offer(each.cost_per_m2, each.protection) for each in points])
    for_time = on_frontier([Offer(each.minutes_per_m2, each.protection) for each in points])
    marked = [
        replace(each, best_for_money=money, best_for_time=time)
        for each, money, time in zip(points, for_money, for_time, strict=True)
    ]
    # Sorting keeps the order of groups among those that protect alike.
    return ValueFindings(tuple(sorted(marked, key=lambda each: -each.protection)), tuple(unknown))


def _point(result: GroupResult, mean: float, price: Price, watched: Mapping[int, float]) -> ValuePoint:
    seen = [watched[each] for each in result.counted if each in watched]
    reached = result.days_to_failure is not None
    days = result.days_to_failure if reached else median_low(seen) if seen else None
    # Nothing was bought where nothing was gained: no price of a month can be said.
    month = None if price.cost is None or not days else price.cost / days * DAYS_A_MONTH
    return ValuePoint(
        result.group.id,
        result.group.name,
        price.cost,
        price.minutes,
        mean,
        min(result.values),
        max(result.values),
        best_for_money=False,
        best_for_time=False,
        days_above=days,
        at_least=not reached,
        cost_per_month=month,
        control=result.group.role == "control",
    )


def _days_watched(subject: Subject) -> dict[int, float]:
    """Return how many days each coupon was seen above the failing grade.

    Half of a group stayed above it at least as long as the (lower) median of these says.
    """
    record = subject.record
    days = tuple(InspectionDay(each.key, record.day_of(each.at)) for each in record.inspections_in_order())
    measures = measures_of(record, day_clock(days), subject.question.failing_grade)
    return {key: each.failure.after for key, each in measures.items()}
