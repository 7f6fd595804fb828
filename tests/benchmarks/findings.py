"""How long findings take on a large board: 96 coupons, 365 inspections, all pairs of 12 treatments.

python tests/benchmarks/findings.py
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1]))

from judged_boards import judged_board

from rustboard.board.question import Question
from rustboard.session.findings import FindingsAsked, first_findings, view_of, whole_findings
from rustboard.session.jobs import Progress

TREATMENTS, COUPONS, INSPECTIONS = 12, 8, 365


def large_board(method: str):
    """A board whose coupons lose grades one by one, some treatments sooner than others."""
    chance = np.random.default_rng(3)
    grades = {}
    for number in range(TREATMENTS):
        rate = 0.004 + 0.002 * number
        histories = [
            10 - np.cumsum(chance.poisson(rate * chance.uniform(0.7, 1.3), INSPECTIONS)) for _ in range(COUPONS)
        ]
        grades[f"treatment {number}"] = [[int(max(0, each)) for each in history] for history in histories]
    days = tuple(range(1, INSPECTIONS + 1))
    return judged_board(grades, method=method, days=days, question=Question("pairs"))


def main() -> None:
    """Print seconds."""
    for method in ("rows", "complete"):
        record = large_board(method)
        for measure in ("last grade", "mean grade", "days to failing grade"):
            own = view_of(record)
            asked = FindingsAsked(record, type(own)(own.failing_grade, measure, own.clock, own.compared))
            took = []
            for work in (first_findings, first_findings, whole_findings):
                begun = time.perf_counter()
                work(asked, Progress())
                took.append(time.perf_counter() - begun)
            sys.stdout.write(
                f"lots by {method:8} {measure:22}: first answer {took[0]:.2f} s, again {took[1]:.2f} s, "
                f"with exact tests and forecast {took[2]:.1f} s\n"
            )


if __name__ == "__main__":
    main()
