"""Whether place on the board mattered beside treatment: rows, columns, the edge, below an oily neighbour."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final, Literal

import numpy as np

from rustboard.board.drain import drain_breaks
from rustboard.board.edges import is_edge
from rustboard.findings.amounts import amount_unit, shown, shown_p
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Design, Numbers
from rustboard.findings.doubts.residuals import CouponModel
from rustboard.findings.doubts.results import Doubt, PositionEffect
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL

Kind = Literal["rows", "columns", "edge", "downstream"]

DRAWS: Final = 1_999
TEST: Final = "permutation of residuals within groups"
_SEED: Final = 20_261_127
_TINY: Final = 1e-9
_OILY: Final = re.compile(
    r"\boil|wax|greas|lanolin|tallow|petrolatum|petroleum|paraffin|\bfat\b|\blard\b", re.IGNORECASE
)


def position_effects(subject: Subject, model: CouponModel) -> tuple[PositionEffect, ...]:
    """Return the effects of place that can be tested, each p after Holm's correction for all of them.

    The residuals of the model are exchanged between the coupons of a group and the model with the place in it is
    fitted anew, 1,999 times (Freedman and Lane 1983, from memory). Where rows are no blocks these are the values
    themselves, and the test is exact: if place does not matter, any coupon of a group could have had any value of it.
    """
    if len(model.coupons) < 3 or not model.residuals.any():
        return ()
    design = _within(subject, model)
    drawn = _exchanged(design, model.values - design.basis @ (design.basis.T @ model.values))
    kinds = _kinds(subject, model)
    found = []
    for kind, labels in kinds.items():
        p = _tested(design, drawn, labels)
        if p is not None:
            there = frozenset(key for key, at in zip(model.coupons, labels, strict=True) if at == 1)
            found.append(PositionEffect(kind, _difference(kind, model.residuals, labels), p, TEST, _of(kind, there)))
    return _holm(found)


def _of(kind: Kind, there: frozenset[int]) -> frozenset[int]:
    return there if kind in ("edge", "downstream") else frozenset()


def _within(subject: Subject, model: CouponModel) -> Design:
    """Return the design that leaves what place may explain; where lots moved whole columns, within the columns."""
    if not subject.board.columns_are_units:
        return model.design
    columns = {each.coupon: each.position.column for each in subject.board.drawn}
    cells = tuple((cell, columns[key]) for key, cell in zip(model.coupons, model.design.cells, strict=True))
    return Design(cells, model.design.blocks)


def _kinds(subject: Subject, model: CouponModel) -> Mapping[Kind, Sequence[int]]:
    board = subject.board
    places = {each.coupon: each.position for each in board.hung}
    below = downstream_coupons(subject)
    found: dict[Kind, Sequence[int]] = {}
    if not board.rows_are_blocks:
        found["rows"] = [places[key].row for key in model.coupons]
    if not board.columns_are_units:
        found["columns"] = [places[key].column for key in model.coupons]
    found["edge"] = [int(is_edge(places[key], board.rows, board.columns)) for key in model.coupons]
    found["downstream"] = [int(key in below) for key in model.coupons]
    return found


def downstream_coupons(subject: Subject) -> frozenset[int]:
    """Return the coupons on which one drips whose treatment sounds oily or waxy, and is another than their own."""
    record = subject.record
    oily = {
        key
        for key, each in record.treatments.items()
        if _OILY.search(f"{each.family}; {each.protectant}; {each.name}")
    }
    breaks = drain_breaks(subject.board.hung, subject.board.layout, record.board.incline_deg)
    return frozenset(each.below for each in breaks if record.coupons[each.above].treatment in oily)


def _exchanged(design: Design, residuals: Numbers) -> Numbers:
    """Return the residuals as they are, then exchanged within groups, a column each; what the model fits is out."""
    groups: dict[object, int] = {}
    # Numbered as one reads the board, so that names of treatments change nothing.
    numbers = np.array([groups.setdefault(cell, len(groups)) for cell in design.cells])
    order = np.argsort(numbers, kind="stable")
    draw = np.random.default_rng(_SEED)
    mixed = np.argsort(draw.random((DRAWS, len(numbers))) + numbers[order], axis=1)
    drawn = np.empty((len(numbers), DRAWS + 1))
    drawn[:, 0] = residuals
    drawn[order, 1:] = residuals[order][mixed].T
    return np.asarray(drawn - design.basis @ (design.basis.T @ drawn), dtype=np.float64)


def _tested(design: Design, drawn: Numbers, labels: Sequence[int]) -> float | None:
    """Return the share of exchanges in which place explains as much as it does; None where it explains nothing."""
    levels = sorted(set(labels))
    matrix = np.array([[float(each == level) for level in levels] for each in labels])
    free = matrix - design.basis @ (design.basis.T @ matrix)
    directions, sizes, _ = np.linalg.svd(free, full_matrices=False)
    directions = directions[:, sizes > 1e-6]
    left = np.einsum("ij,ij->j", drawn, drawn)
    if not directions.shape[1] or left[0] <= _TINY:
        return None
    explained = np.square(directions.T @ drawn).sum(axis=0) / np.maximum(left, _TINY)
    if float(np.ptp(explained)) < _TINY:
        return None  # every exchange explains as much: nothing was there to be exchanged
    return float(np.count_nonzero(explained >= explained[0] - _TINY)) / (DRAWS + 1)


def _difference(kind: Kind, residuals: Numbers, labels: Sequence[int]) -> float:
    by_level: dict[int, list[float]] = defaultdict(list)
    for residual, label in zip(residuals, labels, strict=True):
        by_level[label].append(float(residual))
    means = {level: sum(each) / len(each) for level, each in by_level.items()}
    if kind in ("edge", "downstream"):
        return means[1] - means[0]
    return max(means.values()) - min(means.values())


def _holm(found: Sequence[PositionEffect]) -> tuple[PositionEffect, ...]:
    """Return p values that hold for all together (Holm 1979)."""
    largest, adjusted = 0.0, {}
    for rank, each in enumerate(sorted(found, key=lambda each: each.p)):
        largest = max(largest, min(1.0, each.p * (len(found) - rank)))
        adjusted[each.kind] = largest
    return tuple(replace(each, p=adjusted[each.kind]) for each in found)


_SAID: Final[Mapping[Kind, str]] = {
    "rows": "Rows of the board came out differently beside the treatments: their means are up to {0} {1} apart",
    "columns": "Columns of the board came out differently beside the treatments: their means are up to {0} {1} apart",
    "edge": "Coupons at the edge of the board came out better than others of their groups, by {0} {1}",
    "downstream": "Coupons below an oily or waxy neighbour came out better than others of their groups, by {0} {1}",
}


def _said(effect: PositionEffect) -> str:
    pattern = _SAID[effect.kind]
    return pattern.replace("came out better", "came out worse") if effect.difference < 0 else pattern


def position_doubts(subject: Subject, effects: Sequence[PositionEffect]) -> list[Doubt]:
    """Return a doubt for each effect of place that luck does not explain."""
    by_hand = subject.state.method == "hand"
    if by_hand:
        why = Sentence("Nobody drew lots for the positions, so a good place may pass for a good treatment.")
    else:
        why = Sentence(
            "The lots spread such places over the treatments, so this adds to the spread more than it favours any."
        )
    found = []
    for each in effects:
        if each.p > LEVEL:
            continue
        amount = abs(shown(each.difference))
        found.append(
            Doubt(
                "position",
                "serious" if by_hand else "caution",
                Sentence(
                    f"{_said(each)} (permutation test, p = {{2}}).",
                    (amount, amount_unit(subject, amount), shown_p(each.p)),
                ),
                why,
                each.coupons,
            )
        )
    return found
