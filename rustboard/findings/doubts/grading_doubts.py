"""How the coupons were graded: knowing which was which, and by whom."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np
import numpy.typing as npt

from rustboard.board.grade import UNBIASED
from rustboard.board.model import Grading
from rustboard.findings.amounts import listed, shown_p
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.residuals import CouponModel
from rustboard.findings.doubts.results import Doubt
from rustboard.findings.doubts.wording import counted
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL
from rustboard.support.text import one_line

Indices = npt.NDArray[np.intp]

DRAWS: Final = 1_999
_SEED: Final = 20_261_128
_LONGEST_NAME: Final = 60
_UNKNOWN: Final = "somebody unnamed"


def grading_doubts(subject: Subject, model: CouponModel) -> list[Doubt]:
    """Return what speaks against the way the coupons were graded."""
    return [*_openly(subject, model), *_graders(subject, model)]


def _deciding(subject: Subject, model: CouponModel) -> list[Grading]:
    """Return the grades that the measure rests on: the last ones, or all of them."""
    current = subject.record.current
    if subject.question.measure == "last grade":
        return [current[key][subject.measures[key].last_inspection] for key in model.coupons]
    return [each for key in model.coupons for each in current[key].values()]


def _openly(subject: Subject, model: CouponModel) -> Iterator[Doubt]:
    """Yield grades given by eyes that knew the coupon; what the program alone measured in a photo knows nothing."""
    deciding = _deciding(subject, model)
    openly = [each for each in deciding if each.source not in UNBIASED and each.source != "photo"]
    if not openly:
        return
    graders = listed(dict.fromkeys(_grader(each) for each in openly))
    if len(openly) == len(deciding):
        sentence = counted(
            len(openly),
            "The grade that decides was not given blind: {1} could know which treatment it was.",
            "None of the {0} grades that decide was given blind: {1} could know which treatment they looked at.",
            graders,
        )
    else:
        sentence = counted(
            len(openly),
            "1 of the {2} grades that decide was not given blind, by {1}.",
            "{0} of the {2} grades that decide were not given blind, by {1}.",
            graders,
            len(deciding),
        )
    yield Doubt(
        "not blind",
        "caution",
        sentence,
        Sentence("Who knows the treatment grades a favourite more kindly without noticing it."),
        frozenset(each.coupon for each in openly) if len(openly) < len(deciding) else frozenset(),
    )


def _grader(grading: Grading) -> str:
    return one_line(grading.grader, _LONGEST_NAME) or _UNKNOWN


def _graders(subject: Subject, model: CouponModel) -> Iterator[Doubt]:
    """Yield a doubt where several people gave the last grades and did not share the groups evenly."""
    last = {key: _grader(subject.record.current[key][subject.measures[key].last_inspection]) for key in model.coupons}
    graders = sorted(set(last.values()))
    if len(graders) < 2:
        return
    of_group: dict[object, Counter[str]] = defaultdict(Counter)
    for key, cell in zip(model.coupons, model.design.cells, strict=True):
        of_group[cell][last[key]] += 1
    if len(of_group) < 2:
        return
    if all(len(each) == 1 for each in of_group.values()):
        yield Doubt(
            "not blind",
            "serious",
            Sentence(
                "{0} gave the last grades, but no group was graded by more than one of them.", (listed(graders),)
            ),
            Sentence("That one grades more strictly than another cannot be told from a difference between groups."),
        )
        return
    p = _uneven_p([last[key] for key in model.coupons], list(model.design.cells))
    if p <= LEVEL:
        yield Doubt(
            "not blind",
            "caution",
            Sentence(
                "{0} gave the last grades and did not share the groups evenly (permutation test, p = {1}).",
                (listed(graders), shown_p(p)),
            ),
            Sentence("If one grades more strictly than another, that may pass for a difference between groups."),
        )


def _uneven_p(graders: Sequence[str], cells: Sequence[object]) -> float:
    """Return p of the chi-square statistic of graders by groups, over random exchanges of the graders."""
    who = np.array([list(dict.fromkeys(graders)).index(each) for each in graders], dtype=np.intp)
    what = np.array([list(dict.fromkeys(cells)).index(each) for each in cells], dtype=np.intp)
    draw = np.random.default_rng(_SEED)
    seen = _chi_square(who, what)
    as_large = sum(_chi_square(draw.permutation(who), what) >= seen - 1e-9 for _ in range(DRAWS))
    return (as_large + 1) / (DRAWS + 1)


def _chi_square(who: Indices, what: Indices) -> float:
    counts = np.zeros((int(who.max()) + 1, int(what.max()) + 1))
    np.add.at(counts, (who, what), 1)
    expected = np.outer(counts.sum(axis=1), counts.sum(axis=0)) / counts.sum()
    return float((np.square(counts - expected) / expected).sum())
