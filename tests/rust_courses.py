"""Rust that grows by the law of `rustboard.findings.growth.fit`, for tests and benchmarks that know the truth."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from rustboard.findings.growth.looks import Looks
from rustboard.scales.rust_grade import UPPER_LIMITS

LIMITS = np.log10(UPPER_LIMITS[:-1])
Numbers = np.ndarray[Any, np.dtype[np.float64]]


def grades_from_log(log_percent: Numbers) -> Any:
    """Grades of logarithms of percent."""
    return 10 - np.searchsorted(LIMITS, log_percent, side="left")


@dataclass
class Truth:
    """Groups of as many coupons each, with the law that is known here.

    Attributes:
        level, slope: of each group; the level is that at 1 on the clock.
        each: coupons of every group. coupon_sd, look_sd: standard deviations.
        grace: place on the clock of each group at which its rust begins; the law counts from there.
    """

    level: Numbers
    slope: Numbers
    each: int
    coupon_sd: float = 0.4
    look_sd: float = 0.2
    seed: int = 0
    grace: Numbers | None = None

    def __post_init__(self) -> None:
        self.random = np.random.default_rng(self.seed)
        self.group_of = np.repeat(np.arange(len(self.level)), self.each)
        self.own = self.random.normal(0, self.coupon_sd, len(self.group_of))

    def log_percent(self, places: Any) -> Numbers:
        """What looks find: a row for each coupon, a column for each place."""
        there = np.atleast_1d(np.asarray(places, dtype=float))[None]
        if self.grace is not None:
            there = np.maximum(there - self.grace[self.group_of, None], 1e-6)
        course = self.level[self.group_of, None] + self.slope[self.group_of, None] * np.log10(there)
        course = course + self.own[:, None]
        return course + self.random.normal(0, self.look_sd, course.shape)


def looks_at(truth: Truth, places: Any, *, exact: bool = False) -> Looks:
    """Looks at the coupons, as grades or as percent to the point."""
    found = truth.log_percent(places)
    place = np.tile(np.log10(places), len(found))
    coupon = np.repeat(np.arange(len(found)), len(places))
    if exact:
        return Looks(place, found.ravel(), found.ravel(), coupon, truth.group_of)
    at = np.searchsorted(LIMITS, found, side="left")
    low, high = np.concatenate([[-np.inf], LIMITS])[at], np.concatenate([LIMITS, [np.inf]])[at]
    return Looks(place, low.ravel(), high.ravel(), coupon, truth.group_of)


def random_truth(seed: int, groups: int, each: int, last: float, grace: float = 0.0, **rest: Any) -> Truth:
    """Groups that end between 0.03 % and 30 % at the place ``last``, with up to so much grace."""
    random = np.random.default_rng((seed, 1))
    slope = np.clip(random.normal(1.8, 0.6, groups), 0.2, None)
    end = random.uniform(-1.5, 1.5, groups)
    begins = random.uniform(0.0, 1.0, groups) * grace
    return Truth(end - slope * np.log10(last - begins), slope, each, seed=seed, grace=begins, **rest)
