"""A process that practises until it is killed, saying after each answer how many it has been told are on the disk.

Run with the history's file, a grader and a seed.
"""

from __future__ import annotations

import sys
from pathlib import Path

from practice_grading import grade_on

from rustboard.scales.practice import TOTAL
from rustboard.session.practice import Practice


def main() -> None:
    file, grader, seed = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])
    practice = Practice(file, draw_seed=lambda bits: seed)
    done = 0
    while True:
        practice.start(grader)
        while practice.number < TOTAL:
            grade_on(practice, 1)
            if practice.trouble:
                raise SystemExit(practice.trouble)
            done += 1
            sys.stdout.write(f"{done}\n")
            sys.stdout.flush()


if __name__ == "__main__":
    main()
