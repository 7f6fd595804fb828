"""Controls that are missing, that do not rust, or that disagree with each other."""

from __future__ import annotations

import numpy as np

from rustboard.board.exposure_clock import BEST_GRADE
from rustboard.findings.amounts import p_is, shown, shown_p, unit_words
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.residuals import CouponModel
from rustboard.findings.doubts.results import Doubt
from rustboard.findings.doubts.wording import counted, coupon_names
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL


def control_doubts(subject: Subject, model: CouponModel) -> list[Doubt]:
    """Return what is wrong with the controls."""
    if not model.coupons:
        return []
    controls = [key for key in model.coupons if subject.record.coupons[key].role == "control"]
    if not controls:
        return [_missing(subject)]
    found = []
    if len(controls) == 1:
        found.append(_single(subject, controls))
    unrusted = _unrusted(subject, controls)
    if unrusted is not None:
        found.append(unrusted)
    if len({subject.record.coupons[key].treatment for key in controls}) > 1:
        found.append(_mixed(controls))
    disagreeing = _disagreeing(subject, model, controls)
    if disagreeing is not None:
        found.append(disagreeing)
    return found


def _missing(subject: Subject) -> Doubt:
    return Doubt(
        "controls",
        "serious" if subject.question.compared == "control" else "caution",
        Sentence("No control was graded: nothing untreated hangs beside the treatments."),
        Sentence("So nobody can say how hard the exposure was, nor how much any treatment does at all."),
    )


def _single(subject: Subject, controls: list[int]) -> Doubt:
    return Doubt(
        "controls",
        "caution" if subject.question.compared == "control" else "note",
        Sentence("There is a single control, {0}.", (coupon_names(subject.record, controls),)),
        Sentence("If something is amiss with it, every comparison with the controls is wrong."),
        frozenset(controls),
    )


def _unrusted(subject: Subject, controls: list[int]) -> Doubt | None:
    if any(subject.measures[key].last_grade < BEST_GRADE for key in controls):
        return None
    return Doubt(
        "controls",
        "serious",
        counted(
            len(controls),
            "The control shows no rust yet: the exposure was too mild, or too short, to tell treatments apart.",
            "None of the {0} controls shows any rust yet: the exposure was too mild, or too short, to tell "
            "treatments apart.",
        ),
        Sentence("A treatment whose coupons are clean has not been shown to do anything."),
        frozenset(controls),
    )


def _mixed(controls: list[int]) -> Doubt:
    return Doubt(
        "controls",
        "caution",
        Sentence("The controls are not all alike: they are of different treatments."),
        Sentence("They count as one group here, so a difference between them passes for luck."),
        frozenset(controls),
    )


def _disagreeing(subject: Subject, model: CouponModel, controls: list[int]) -> Doubt | None:
    """Return a doubt where controls scatter more than coupons of the treatments: one-sided F test of the spreads.

    Rows are taken out where they are blocks, of both spreads alike. Groups wholly at an end of the scale do not
    enter; neither spread counts as less than rounding makes.
    """
    from scipy.special import fdtrc

    roles = [subject.record.coupons[key].role for key in model.coupons]
    of_controls = [number for number, role in enumerate(roles) if role == "control"]
    others = [number for number, role in enumerate(roles) if role != "control" and model.inside[number]]
    spread, freedom = _spread(model, of_controls)
    usual, other_freedom = _spread(model, others)
    if freedom < 1 or other_freedom < 1 or usual <= 0:
        return None
    p = float(fdtrc(freedom, other_freedom, spread / usual))
    if p > LEVEL:
        return None
    values = [float(model.values[each]) for each in of_controls]
    return Doubt(
        "controls",
        "caution",
        Sentence(
            "The controls disagree with each other more than coupons of one treatment do: they lie from {0} to {1} "
            f"{{2}} (F test of the spreads, {{3}} against {{4}}, {p_is(p)} {{5}}).",
            (
                shown(min(values)), shown(max(values)), unit_words(subject)[1],
                shown(spread**0.5), shown(usual**0.5), shown_p(p),
            ),
        ),
        Sentence("Where one hangs, or what was done to it, may matter: what treatments gain is less certain."),
        frozenset(controls),
    )  # fmt: skip


def _spread(model: CouponModel, numbers: list[int]) -> tuple[float, int]:
    """Return the variance within groups of some coupons, and its degrees of freedom."""
    freedom = len(numbers) - len({model.design.cells[each] for each in numbers})
    if freedom < 1:
        return 0.0, 0
    squares = float(np.square(model.residuals[numbers]).sum())
    return max(squares / freedom, model.least_variance), freedom
