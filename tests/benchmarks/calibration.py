"""How often the findings are wrong by luck, and how often right: simulated boards, judged by the program's own steps.

Boards are drawn by lot as the program draws them, graded in whole numbers from 0 to 10, and judged as a user's board
is: the model, the doubts about it, and where these give it the say, the exact test after closed testing.

    python tests/benchmarks/calibration.py [--boards 1000] [--quick]
"""

from __future__ import annotations

import argparse
import sys
import time
import zlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np

from rustboard.board.exposure_clock import day_clock
from rustboard.board.layout import Layout, Lot
from rustboard.board.lots import draw_lots
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.question import Compared, Question
from rustboard.board.record import BoardRecord
from rustboard.board.series import inspection_days
from rustboard.findings.compare.comparing import compare
from rustboard.findings.coupons.subject import FindingsRequest, subject_of

START = datetime(2026, 3, 2, 9)


@dataclass(frozen=True)
class Scene:
    """What kind of boards are drawn; frozen, so that it can seed its own luck.

    Attributes:
        compared: the question. treatments: how many, the last of them the controls. each: coupons of every one.
        level: true mean grade where nothing differs. sd: between coupons treated alike.
        method: of the lots.
        shifts: added to the level of the first treatments.
    """

    compared: Compared
    treatments: int
    each: int
    level: float
    sd: float
    method: str = "rows"
    shifts: tuple[float, ...] = ()

    @property
    def levels(self) -> np.ndarray:
        """True levels of the treatments."""
        found = np.full(self.treatments, self.level)
        found[: len(self.shifts)] += self.shifts
        return found


def empty_board(scene: Scene, seed: int) -> BoardRecord:
    """A board drawn by lot: as many rows as coupons of a treatment."""
    rows, columns = scene.each, scene.treatments
    count = scene.treatments
    finishes, protectants = ("plain", "blued"), ("wax", "oil", "film")
    treatments = {
        key: Treatment(
            f"T{key}", f"treatment {key}", f"family {(key - 1) // 2}" if key < count else "",
            finish=finishes[(key - 1) % 2], protectant=protectants[(key - 1) // 2 % 3], key=key,
        )
        for key in range(1, count + 1)
    }  # fmt: skip
    layout = Layout(method=scene.method, fair_edges=False, drain="none")
    wanted = [(key, (key - 1) % count + 1) for key in range(1, rows * columns + 1)]
    drawn = draw_lots(rows, columns, wanted, layout, seed, 45.0)
    coupons = {
        key: Coupon(
            f"C{key}", drawn.positions[key], treatment, "control" if treatment == count else "test", key=key
        )
        for key, treatment in wanted
    }  # fmt: skip
    record = BoardRecord(Board("simulated", rows, columns, started=START, incline_deg=45.0), treatments, coupons)
    record.layouts = {
        1: replace(
            layout, seed=seed, drawn_rows=rows, drawn_columns=columns, drawn_in_columns=drawn.in_columns, key=1
        )
    }
    record.lots = {key: Lot(key, drawn.positions[key], key) for key in coupons}
    record.inspections = {1: Inspection(START, key=1)}
    record.questions = {1: Question(scene.compared, key=1)}
    return record


def grade(record: BoardRecord, scene: Scene, draw: np.random.Generator) -> None:
    """Give every coupon one grade: its level, luck, rounded and kept within the scale."""
    levels = scene.levels
    for key, coupon in record.coupons.items():
        value = levels[(coupon.treatment or 1) - 1] + scene.sd * draw.standard_normal()
        given = int(np.clip(np.rint(value), 0, 10))
        record.current[key] = {1: Grading(key, key, 1, given, "", None, "", "blind", "", "2026-03-02T09:00:00")}


def true_means(scene: Scene) -> np.ndarray:
    """Expected grade of each treatment, rounding and the ends of the scale taken in."""
    draw = np.random.default_rng(1)
    luck = scene.sd * draw.standard_normal(400_000)
    return np.array([np.clip(np.rint(level + luck), 0, 10).mean() for level in scene.levels])


@dataclass
class Tally:
    """What was counted over boards."""

    boards: int = 0
    false_any: int = 0
    false_model: int = 0
    doubted: int = 0
    covered: int = 0
    found: int = 0
    differing: int = 0


def run(scene: Scene, boards: int, seed: int = 1) -> Tally:
    """Judge so many boards."""
    from rustboard.findings.conclude.whole import with_exact_tests

    draw = np.random.default_rng((seed, zlib.crc32(repr(scene).encode())))
    means = true_means(scene)
    tally = Tally()
    layouts = [empty_board(scene, 1 + number) for number in range(20)]
    for number in range(boards):
        record = layouts[number % len(layouts)]
        grade(record, scene, draw)
        record.questions[1] = replace(record.questions[1])
        request = FindingsRequest(record, day_clock(inspection_days(record)), record.questions[1])
        subject = subject_of(request)
        comparing = compare(subject)
        tally.boards += 1
        tally.doubted += bool(comparing.doubts)
        if comparing.doubts and any(each.model is not None and each.model.p < 0.2 for each in comparing.compared):
            comparing = with_exact_tests(subject, comparing, None)
        false, false_model, covered = False, False, True
        for each in comparing.compared:
            if each.model is None:
                continue
            truth = difference(record, each.comparison.coupons_a, each.comparison.coupons_b, means)
            covered &= each.model.low - 1e-9 <= truth <= each.model.high + 1e-9
            shown = each.standing in ("better", "worse")
            wrong = shown and (abs(truth) < 0.02 or (truth > 0) != (each.standing == "better"))
            false |= wrong
            false_model |= each.model.p <= 0.05 and abs(truth) < 0.02
            if abs(truth) >= 0.02:
                tally.differing += 1
                tally.found += shown and not wrong
        tally.false_any += false
        tally.false_model += false_model
        tally.covered += covered
    return tally


def difference(record: BoardRecord, a: Sequence[int], b: Sequence[int], means: np.ndarray) -> float:
    """True difference between two groups of coupons."""
    of_a, of_b = (
        np.mean([means[(record.coupons[each].treatment or 1) - 1] for each in side]) for side in (a, b)
    )  # fmt: skip
    return float(of_a - of_b)


def tell(line: str) -> None:
    """Print a line at once."""
    sys.stdout.write(f"{line}\n")
    sys.stdout.flush()


def told(scene: Scene, found: Tally, seconds: float) -> str:
    """Return the figures of one scene in a line."""
    share = 100 / found.boards
    line = (
        f"{scene.compared:9} n={scene.each} level {scene.level} sd {scene.sd} {scene.method:8}: "
        f"false {share * found.false_any:4.1f}, by the model alone {share * found.false_model:4.1f}, "
        f"covered {share * found.covered:5.1f}, doubted {share * found.doubted:5.1f}"
    )
    if found.differing:
        line += f", found of what differs {100 * found.found / found.differing:5.1f}"
    return f"{line}  ({1000 * seconds / found.boards:.0f} ms a board)"


def planned_power(scene: Scene) -> float:
    """Return how often the plan says the first difference of a scene is found, in %."""
    from rustboard.findings.compare.model import BoardModel
    from rustboard.findings.power import PowerTest, power
    from rustboard.findings.simulation import contrast, sides_of

    record = empty_board(scene, 1)
    grade(record, scene, np.random.default_rng(1))
    subject = subject_of(FindingsRequest(record, day_clock(inspection_days(record)), record.questions[1]))
    model = BoardModel(subject)
    first = subject.comparisons[0]
    weights = model.design.weights(contrast(sides_of(first, model.units)))
    result = model.differences(subject.comparisons)[0][0]
    critical = (result.high - result.low) / 2 / result.standard_error
    shift = np.array([0.5 * (each.coupons <= first.coupons_a) - 0.5 * (each.coupons <= first.coupons_b)
                      for each in model.units])  # fmt: skip
    return 100 * power(PowerTest(model.design, weights, shift, critical), scene.shifts[0], scene.sd)


def main() -> None:
    """Print the figures."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--boards", type=int, default=1_000)
    parser.add_argument("--quick", action="store_true")
    given = parser.parse_args()
    each = (3,) if given.quick else (3, 6)
    families: tuple[Compared, ...] = ("control", "pairs", "families", "grid")
    tell("No true difference: boards with any false “did better”, in %; boards whose intervals all cover, in %")
    for compared in families:
        for count in each:
            for level, sd in ((5.3, 1.0), (9.4, 1.0)):
                report(Scene(compared, 7, count, level, sd), given.boards)
    tell("Some at the ends of the scale, the rest alike")
    for count in each:
        report(Scene("pairs", 7, count, 5.3, 1.0, shifts=(9.0, 9.0, 9.0, 9.0)), given.boards)
    tell("Lots over the whole board")
    report(Scene("pairs", 7, 4, 5.3, 1.0, "complete"), given.boards)
    tell("One treatment better: found, and what the plan promised")
    for count, shift in ((3, 3.0), (4, 2.0), (6, 2.0)):
        scene = Scene("control", 5, count, 5.0, 1.0, shifts=(shift,))
        report(scene, given.boards)
        tell(f"    the plan promised {planned_power(scene):.1f} %")


def report(scene: Scene, boards: int) -> None:
    """Run a scene and print its line."""
    begun = time.perf_counter()
    tell(told(scene, run(scene, boards), time.perf_counter() - begun))


if __name__ == "__main__":
    main()
