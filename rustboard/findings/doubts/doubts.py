"""All doubts of a board, the weightiest first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.controls import control_doubts
from rustboard.findings.doubts.disturbances import disturbance_doubts
from rustboard.findings.doubts.gaps import gap_doubts, left_out_doubts
from rustboard.findings.doubts.grading_doubts import grading_doubts
from rustboard.findings.doubts.layout_doubts import layout_doubts
from rustboard.findings.doubts.odd_coupons import odd_coupon_doubts, odd_coupons
from rustboard.findings.doubts.places import position_doubts, position_effects
from rustboard.findings.doubts.question_doubts import question_doubts
from rustboard.findings.doubts.residuals import coupon_model, residuals_of
from rustboard.findings.doubts.results import Doubt, Doubts, Weight
from rustboard.findings.doubts.scale_doubts import scale_doubts

_WEIGHTS: Final[tuple[Weight, ...]] = ("serious", "caution", "note")


def doubts_of(subject: Subject, results: Sequence[GroupResult]) -> Doubts:
    """Return what speaks against the findings of a board.

    Args:
        subject: the board as the findings see it.
        results: what each group came to.
    """
    model = coupon_model(subject)
    odd = odd_coupons(subject, model)
    positions = position_effects(subject, model)
    return Doubts(
        _by_weight(
            [
                *scale_doubts(subject, results),
                *control_doubts(subject, model),
                *layout_doubts(subject, model),
                *position_doubts(subject, positions),
                *disturbance_doubts(subject),
                *grading_doubts(subject, model),
                *odd_coupon_doubts(subject, model, odd),
                *left_out_doubts(subject),
                *gap_doubts(subject),
                *question_doubts(subject),
            ]
        ),
        residuals_of(subject, model),
        odd,
        positions,
    )


def _by_weight(found: Iterable[Doubt]) -> tuple[Doubt, ...]:
    return tuple(sorted(found, key=lambda each: _WEIGHTS.index(each.weight)))
