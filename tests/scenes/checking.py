"""How far what the program measured is from what is true, in the figures that the program must keep."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import isnan
from typing import Protocol

import numpy as np
from scipy.stats import spearmanr

from scenes.scene import CouponTruth

Measured = Mapping[str, Mapping[str, Mapping[str, float | None]]]
"""By photo name and coupon id: ``percent``, ``low`` and ``high``. A photo or coupon that is not there was refused."""

D610_LIMITS = (0.01, 0.03, 0.1, 0.3, 1.0, 3.0, 10.0, 16.0, 33.0, 50.0)
"""Most rust (%) of the grades 10 to 1 of ASTM D610, the limit itself included (facts.md section 1, S1)."""

CLEAN = D610_LIMITS[0]


class HasTruth(Protocol):
    """A `Scene` or a `StoredScene`."""

    count: int

    def name(self, number: int) -> str: ...

    def truth(self, number: int) -> dict[str, CouponTruth]: ...


@dataclass(frozen=True)
class SceneResult:
    """What was measured on one scene beside its truth, both by photo name and coupon id; photos in order of time."""

    scene: str
    truth: Mapping[str, Mapping[str, CouponTruth]]
    measured: Measured


@dataclass(frozen=True)
class Case:
    """One coupon in one photo."""

    scene: str
    photo: str
    coupon: str
    true: float
    percent: float
    low: float
    high: float
    debris: float
    last: bool

    @property
    def error(self) -> float:
        """Measured less true, in percent of the area."""
        return self.percent - self.true

    @property
    def relative(self) -> float:
        """Error as a share of what is true."""
        return abs(self.error) / self.true

    @property
    def grades_apart(self) -> int:
        return abs(grade(self.percent) - grade(self.true))

    def __str__(self) -> str:
        return (
            f"{self.photo} {self.coupon}: true {self.true:.3f} %, measured {self.percent:.3f} % "
            f"({self.low:.3f} to {self.high:.3f}), debris {self.debris:.1f} %"
        )


@dataclass(frozen=True)
class Score:
    """The figures; shares are 0-1.

    Attributes:
        cases: coupon-days compared. unmeasured: coupon-days that hang there but have no figure.
        invented: coupon-days that are missing but have a figure.
        median_relative_error: where truly above 0.1 %. error_95: 95th percentile of the error, percent of area.
        within_one_grade: of D610. false_alarms: clean coupons with debris called rusted by more than 0.3 %.
        false_alarms_everywhere: the same of all clean coupon-days. inside: true percent within low to high.
        spearman: of the last photo's percents, mean over the scenes; least_spearman: of the worst scene.
        spearman_by_scene: nan where all coupons are alike.
        worst: by figure, the cases that hurt most.
    """

    cases: int
    unmeasured: int
    invented: int
    median_relative_error: float
    error_95: float
    within_one_grade: float
    false_alarms: float
    false_alarms_everywhere: float
    inside: float
    spearman: float
    least_spearman: float
    spearman_by_scene: Mapping[str, float]
    worst: Mapping[str, tuple[Case, ...]]

    def holds(self) -> dict[str, bool]:
        """Return which of the figures that must hold do."""
        return {
            "median relative error <= 20 %": self.median_relative_error <= 0.20,
            "95th percentile of the error <= 3 percent-area": self.error_95 <= 3.0,
            "within one grade in >= 95 %": self.within_one_grade >= 0.95,
            "clean coupons with distractors called rusted < 2 %": not self.false_alarms >= 0.02,
            "true percent inside the range in >= 85 %": self.inside >= 0.85,
            "Spearman of the final ranking >= 0.97": self.spearman >= 0.97,
        }

    def __str__(self) -> str:
        lines = [
            f"{self.cases} coupon-days, {self.unmeasured} without a figure, {self.invented} with one but missing",
            f"median relative error (truly > 0.1 %)  {100 * self.median_relative_error:.1f} %",
            f"95th percentile of the error           {self.error_95:.2f} percent-area",
            f"within one grade                       {100 * self.within_one_grade:.1f} %",
            f"clean with debris, called rusted       {100 * self.false_alarms:.2f} %",
            f"clean at all, called rusted            {100 * self.false_alarms_everywhere:.2f} %",
            f"true percent inside the range          {100 * self.inside:.1f} %",
            f"Spearman of the final ranking          {self.spearman:.3f} (worst scene {self.least_spearman:.3f})",
        ]
        lines += [f"{'holds' if held else 'FAILS'}: {what}" for what, held in self.holds().items()]
        for what, cases in self.worst.items():
            lines += [f"worst by {what}:", *(f"  {case}" for case in cases)]
        return "\n".join(lines)


def grade(percent: float) -> int:
    """Return the D610 grade of a rusted area."""
    return 10 - int(np.searchsorted(D610_LIMITS, percent, side="left"))


def result_of(scene: HasTruth, measured: Measured, name: str = "") -> SceneResult:
    """Return what was measured on a scene beside its truth."""
    names = [scene.name(number) for number in range(scene.count)]
    truth = {each: scene.truth(number) for number, each in enumerate(names)}
    return SceneResult(name or names[0], truth, measured)


def score(results: Iterable[SceneResult], worst: int = 8) -> Score:
    """Return the figures over several scenes.

    Args:
        results: by scene.
        worst: how many cases are named for each figure.
    """
    gathered = [(result, *_cases(result)) for result in results]
    cases = [case for _, found, _, _ in gathered for case in found]
    rusted = [case for case in cases if case.true > 0.1]
    clean = [case for case in cases if case.true <= CLEAN]
    dirty = [case for case in clean if case.debris > 0]
    ranked = {result.scene: _spearman([case for case in found if case.last]) for result, found, _, _ in gathered}
    known = [each for each in ranked.values() if not isnan(each)]
    return Score(
        cases=len(cases),
        unmeasured=sum(each for _, _, each, _ in gathered),
        invented=sum(each for _, _, _, each in gathered),
        median_relative_error=_median([case.relative for case in rusted]),
        error_95=float(np.percentile([abs(case.error) for case in cases], 95)) if cases else float("nan"),
        within_one_grade=_share([case.grades_apart <= 1 for case in cases]),
        false_alarms=_share([case.percent > 0.3 for case in dirty]),
        false_alarms_everywhere=_share([case.percent > 0.3 for case in clean]),
        inside=_share([_is_inside(case) for case in cases]),
        spearman=float(np.mean(known)) if known else float("nan"),
        least_spearman=min(known, default=float("nan")),
        spearman_by_scene=ranked,
        worst={
            "relative error": _most(rusted, lambda case: case.relative, worst),
            "error": _most(cases, lambda case: abs(case.error), worst),
            "grades apart": _most(cases, lambda case: case.grades_apart, worst),
            "clean called rusted": _most(clean, lambda case: case.percent, worst),
            "outside the range": _most(
                [case for case in cases if not _is_inside(case)], lambda c: abs(c.error), worst
            ),
        },
    )


def _cases(result: SceneResult) -> tuple[list[Case], int, int]:
    """Return the coupon-days to compare, how many have no figure, and how many have one without a coupon.

    A coupon that hangs in another's place is not compared: what is right for it is a warning, not a figure.
    """
    cases, unmeasured, invented = [], 0, 0
    last = list(result.truth)[-1]
    for photo, coupons in result.truth.items():
        for coupon, truth in coupons.items():
            figures = result.measured.get(photo, {}).get(coupon)
            percent = None if figures is None else figures.get("percent")
            if truth.missing:
                invented += percent is not None
            elif figures is None or percent is None:
                unmeasured += 1
            elif truth.hanging == coupon:
                low, high = figures.get("low"), figures.get("high")
                cases.append(
                    Case(
                        result.scene,
                        photo,
                        coupon,
                        truth.percent,
                        float(percent),
                        float("nan") if low is None else float(low),
                        float("nan") if high is None else float(high),
                        truth.debris_percent,
                        photo == last,
                    )
                )
    return cases, unmeasured, invented


def _is_inside(case: Case) -> bool:
    rounding = 1e-9
    return case.low - rounding <= case.true <= case.high + rounding


def _spearman(last: Sequence[Case]) -> float:
    """Return how well the order of the coupons by rust agrees; what is grade 10 counts as alike."""
    true = [0.0 if case.true <= CLEAN else case.true for case in last]
    measured = [0.0 if case.percent <= CLEAN else case.percent for case in last]
    if len(set(true)) < 2 or len(set(measured)) < 2:
        return float("nan")
    return float(spearmanr(true, measured).statistic)


def _median(values: Sequence[float]) -> float:
    return float(np.median(values)) if values else float("nan")


def _share(hits: Sequence[bool]) -> float:
    return sum(hits) / len(hits) if hits else float("nan")


def _most(cases: Sequence[Case], by: Callable[[Case], float], count: int) -> tuple[Case, ...]:
    return tuple(sorted(cases, key=by, reverse=True)[:count])
