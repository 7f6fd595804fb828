"""How often a difference is found where there is none, by who looks again and again and stops at the first one.

Two treatments that are the same, growing rust by the law of `rustboard.findings.growth.fit`, graded in whole grades,
and a t test after each look. Beside it the figures of Armitage, McPherson and Rowe (1969, "Repeated significance
tests on accumulating data") for news that is independent at each look: 14.2 % after 5 looks and 19.3 % after 10 (from
memory), worked out here again by simulation.

Run: python tests/benchmarks/stopping_early.py [boards]
"""

from __future__ import annotations

import sys

import numpy as np
from scipy.special import stdtrit

from rustboard.scales.rust_grade import UPPER_LIMITS

LEVEL = 0.05
LIMITS = np.log10(UPPER_LIMITS[:-1])
LOOKS = (1, 2, 3, 5, 8, 10, 15, 20)
LEAST_VARIANCE = 1 / 12


def rusting(random: np.random.Generator, boards: int, each: int, looks: int, coupon_sd: float, look_sd: float):
    """Grades (boards x looks x groups x coupons) of two groups alike, from all bright to well rusted."""
    slope = random.uniform(1.0, 2.5, (boards, 1, 1, 1))
    end = random.uniform(-0.5, 1.5, (boards, 1, 1, 1))
    places = np.linspace(-1.0, 0.0, looks).reshape(1, looks, 1, 1)
    own = random.normal(0.0, coupon_sd, (boards, 1, 2, each))
    scatter = random.normal(0.0, look_sd, (boards, looks, 2, each))
    return 10 - np.searchsorted(LIMITS, end + slope * places + own + scatter)


def found_on_rust(random: np.random.Generator, boards: int, each: int, looks: int, coupon_sd: float, look_sd: float):
    """Return the shares of boards with a difference at the last look, and at any look."""
    grades = rusting(random, boards, each, looks, coupon_sd, look_sd).astype(float)
    means = grades.mean(axis=3)
    variance = np.maximum(grades.var(axis=3, ddof=1).mean(axis=2), LEAST_VARIANCE)
    size = np.abs(means[:, :, 0] - means[:, :, 1]) / np.sqrt(2 * variance / each)
    passed = size > stdtrit(2 * each - 2, 1 - LEVEL / 2)
    return passed[:, -1].mean(), passed.any(axis=1).mean()


def found_on_independent_news(random: np.random.Generator, boards: int, looks: int) -> float:
    """Return the share with a difference at any look where each look adds as much independent news."""
    sums = random.standard_normal((boards, looks)).cumsum(axis=1) / np.sqrt(np.arange(1, looks + 1))
    return float((np.abs(sums) > 1.959963984540054).any(axis=1).mean())


def main() -> None:
    boards = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    sys.stdout.write("share of boards, in 100, with a difference where there is none\n")
    sys.stdout.write(
        "looks  independent news   rust of 5 coupons each: at the last look, at any; scatter large: last, any\n"
    )
    for looks in LOOKS:
        random = np.random.default_rng(looks)
        news = found_on_independent_news(random, boards, looks)
        usual = found_on_rust(random, boards, 5, looks, 0.4, 0.2)
        rough = found_on_rust(random, boards, 5, looks, 0.3, 0.4)
        shown = [100 * each for each in (news, *usual, *rough)]
        sys.stdout.write(
            f"{looks:5}  {shown[0]:10.1f} {shown[1]:16.1f} {shown[2]:6.1f} {shown[3]:24.1f} {shown[4]:6.1f}\n"
        )


if __name__ == "__main__":
    main()
