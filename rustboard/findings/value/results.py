"""What protection costs, treatment by treatment."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ValuePoint:
    """One treatment's price and what it does for it.

    Attributes:
        group: id. name: what people call it.
        cost_per_m2, minutes_per_m2: None where not known.
        protection: mean of the measure.
        low, high: lowest and highest value of its coupons.
        best_for_money, best_for_time: whether no other protects as well or better for as little or less.
        days_above: days above the failing grade: the median, or as long as it was watched. at_least: the latter.
        cost_per_month: cost of one m2 for each 30.4375 days above the failing grade; None where not known.
        control: whether these are the controls, which are no choice but what choices are measured against.
    """

    group: str
    name: str
    cost_per_m2: float | None
    minutes_per_m2: float | None
    protection: float
    low: float
    high: float
    best_for_money: bool
    best_for_time: bool
    days_above: float | None
    at_least: bool
    cost_per_month: float | None
    control: bool = False


@dataclass(frozen=True, slots=True)
class ValueFindings:
    """Cost against protection.

    Attributes:
        points: best protection first; those without cost and minutes are not among them.
        unknown: names of treatments whose cost and minutes are both not known.
    """

    points: tuple[ValuePoint, ...]
    unknown: tuple[str, ...]
