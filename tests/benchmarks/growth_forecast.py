"""How good the forecast of rust is, on simulated boards whose future is known, and how long it takes.

Says how often the 90 % bands hold the mean grades and the differences that come, and how often a comparison was in
truth told from luck then, beside the chance that was forecast. Run:
python tests/benchmarks/growth_forecast.py [boards]
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parent.parent))

from exposed_boards import comparing_of, exposed_board, subject
from rust_courses import Truth, grades_from_log, random_truth

from rustboard.findings.growth.findings import growth_findings
from rustboard.findings.growth.results import GrowthFindings

SIZES = ((2, 3, 5, 0), (3, 4, 8, 0), (6, 5, 12, 0), (3, 4, 8, 48), (3, 4, 20, 48))
"""Treatments, coupons of each, looks, and up to how many days of grace there are before rust begins."""

SEEN, THEN = 120, 180


def board_of(truth: Truth, days: np.ndarray, grades: np.ndarray):
    histories = {
        f"T{group + 1}": [list(map(int, row)) for row in grades[truth.group_of == group]]
        for group in range(len(truth.level))
    }
    return subject(exposed_board([float(day) for day in days], histories), compared="pairs")


def boards(groups: int, each: int, looks: int, grace: int, number: int) -> Iterator[tuple[GrowthFindings, object]]:
    """Yield what is forecast of each board, and the board as it then came to be."""
    days = np.append(np.geomspace(4, SEEN, looks), THEN)
    for seed in range(number):
        truth = random_truth(seed, groups, each, SEEN, grace)
        grades = grades_from_log(truth.log_percent(days))
        now = board_of(truth, days[:-1], grades[:, :-1])
        yield growth_findings(now, comparing_of(now), THEN - SEEN), board_of(truth, days, grades)


def score(groups: int, each: int, looks: int, grace: int, number: int) -> str:
    means, differences, chances, told = [], [], [], []
    for found, then in boards(groups, each, looks, grace, number):
        came = {each.group.id: each.last_mean for each in then.group_results}
        ends = {curve.group: curve.band[-1] for curve in found.curves if curve.band}
        means += [end.low - 1e-9 <= came[group] <= end.high + 1e-9 for group, end in ends.items()]
        for expected, compared in zip(found.expected, comparing_of(then).compared, strict=True):
            if expected.chance is not None and expected.outlook != "settled":
                difference = came[expected.id_a] - came[expected.id_b]
                differences.append(expected.low - 1e-9 <= difference <= expected.high + 1e-9)
                chances.append(expected.chance)
                told.append(compared.standing in ("better", "worse"))
    lines = [
        f"{groups} treatments of {each}, {looks} looks, grace up to {grace} days",
        f"  bands hold: means {np.mean(means):.3f} of {len(means)}, differences {np.mean(differences):.3f} of "
        f"{len(differences)}",
        f"  told from luck then: forecast {np.mean(chances):.3f}, came {np.mean(told):.3f}",
    ]
    for low, high in ((0.0, 0.2), (0.2, 0.8), (0.8, 1.01)):
        here = [came for chance, came in zip(chances, told, strict=True) if low <= chance < high]
        if here:
            lines.append(f"    forecast {low:.1f} to {high:.1f}: came {np.mean(here):.2f} of {len(here)}")
    return "\n".join(lines) + "\n"


def seconds_of_a_large_board() -> float:
    truth = random_truth(1, 12, 8, 365)
    days = np.arange(1.0, 366.0)
    about = board_of(truth, days, grades_from_log(truth.log_percent(days)))
    comparing = comparing_of(about)
    start = time.perf_counter()
    growth_findings(about, comparing)
    return time.perf_counter() - start


def main() -> None:
    number = int(sys.argv[1]) if len(sys.argv) > 1 else 300
    for size in SIZES:
        sys.stdout.write(score(*size, number))
    sys.stdout.write(f"96 coupons, 365 inspections, 66 comparisons: {seconds_of_a_large_board():.2f} s\n")


if __name__ == "__main__":
    main()
