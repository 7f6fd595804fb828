"""Where the model's assumptions are doubtful, so that the exact test should have the say."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np

from rustboard.board.grade import GRADES
from rustboard.findings.compare.model import ENDS, BoardModel
from rustboard.findings.compare.results import Compared
from rustboard.findings.design_model import Numbers
from rustboard.findings.sentence import PValue, Sentence
from rustboard.findings.units import Cell

_UNEQUAL: Final = 0.05


def board_doubts(model: BoardModel) -> tuple[Sentence, ...]:
    """Return what speaks against the model as a whole."""
    found = []
    if _rests_on_the_ends(model):
        found.append(
            Sentence(
                "Most of what is known of the spread comes from groups with coupons at grade {0} or {1}, where the "
                "scale ends and nothing can scatter further, so the model takes the spread for too small.",
                (GRADES[-1], GRADES[0]),
            )
        )
    p = unequal_spread_p(model)
    if p is not None and p < _UNEQUAL:
        found.append(
            Sentence(
                "Groups differ in how much their coupons scatter (Brown-Forsythe test, p = {0}), so one common "
                "spread does not describe them all.",
                (PValue(float(f"{p:.2g}")),),
            )
        )
    if not model.subject.in_grades:
        found.append(
            Sentence(
                "Times to the failing grade are known only as intervals between inspections, and coupons that have "
                "not failed count up to their last grading: the model takes them for exact."
            )
        )
    return tuple(found)


def comparison_notes(model: BoardModel, compared: Compared) -> tuple[Sentence, ...]:
    """Return what to know of one comparison: a side that is wholly at an end of the scale.

    That does not speak against a difference: the scale makes it look smaller than it is, and the spread that it is
    judged by is that of the other groups.
    """
    if not model.subject.in_grades:
        return ()
    found = []
    for name, values in ((compared.comparison.a, compared.values_a), (compared.comparison.b, compared.values_b)):
        ends = set(values)
        if ends == {float(GRADES[-1])}:
            found.append(
                Sentence("All coupons of {0} are at grade 10, the end of the scale: it may be better still.", (name,))
            )
        elif ends == {float(GRADES[0])}:
            found.append(
                Sentence("All coupons of {0} are at grade 0, the end of the scale: it may be worse still.", (name,))
            )
    return tuple(found)


def _rests_on_the_ends(model: BoardModel) -> bool:
    """Return whether most units that the error is measured on belong to groups partly at an end of the scale."""
    if not model.subject.in_grades or model.error is None or model.error.borrowed:
        return False
    values: dict[Cell, list[float]] = defaultdict(list)
    for unit, value in zip(model.units, model.values, strict=True):
        values[unit.cell].append(float(value))
    inside = {cell: each for cell, each in values.items() if cell not in model.cells_at_an_end} or values
    capped = sum(len(each) - 1 for each in inside.values() if not set(ENDS).isdisjoint(each))
    return 2 * capped > sum(len(each) - 1 for each in inside.values())


def unequal_spread_p(model: BoardModel) -> float | None:
    """Return p of Brown and Forsythe's test that groups scatter alike; None where it cannot be made.

    Levene's test with distances from the medians (Brown and Forsythe 1974), on the residuals from rows where rows are
    blocks. Groups wholly at an end of the scale, and single coupons, do not enter.
    """
    groups = [each for cell, each in _residuals(model).items() if len(each) > 1 and cell not in model.cells_at_an_end]
    if len(groups) < 2 or sum(map(len, groups)) <= len(groups):
        return None
    distances = [np.abs(np.subtract(each, np.median(each))) for each in groups]
    if max(float(np.ptp(each)) for each in distances) < 1e-12:
        return None  # within every group all are equally far out: the test would divide by nothing
    return _f_test_p(distances)


def _f_test_p(groups: Sequence[Numbers]) -> float:
    """Return p of the F test that groups of numbers have one mean (one-way analysis of variance)."""
    from scipy.special import fdtrc

    count, whole = sum(map(len, groups)), np.concatenate(groups)
    between = sum(len(each) * float(each.mean() - whole.mean()) ** 2 for each in groups)
    within = sum(float(np.square(each - each.mean()).sum()) for each in groups)
    if within <= 0:
        return 0.0 if between > 0 else 1.0
    freedom = (len(groups) - 1, count - len(groups))
    return float(fdtrc(*freedom, between / freedom[0] / (within / freedom[1])))


def _residuals(model: BoardModel) -> Mapping[Cell, list[float]]:
    fitted = model.design.basis @ (model.design.basis.T @ model.values)
    of_rows = fitted if len(set(model.design.blocks)) > 1 else np.zeros(len(model.values))
    found: dict[Cell, list[float]] = defaultdict(list)
    for unit, value, fit in zip(model.units, model.values, of_rows, strict=True):
        found[unit.cell].append(float(value - fit))
    return found
