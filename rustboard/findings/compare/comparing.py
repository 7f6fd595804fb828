"""All comparisons of the question, put together: the model at once, the exact tests afterwards."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from rustboard.board.comparisons import CONTROL, Comparison
from rustboard.findings.compare.assumptions import board_doubts, comparison_notes
from rustboard.findings.compare.letters import compact_letters
from rustboard.findings.compare.model import BoardModel, unit_values
from rustboard.findings.compare.results import Compared, Comparing
from rustboard.findings.compare.standing import judged
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.proof import spread_for
from rustboard.findings.smallest_p import LEVEL
from rustboard.findings.spread import Spread
from rustboard.findings.units import Cell


def compare(subject: Subject) -> Comparing:
    """Return what the model says of every comparison of the question."""
    spread = _spread_elsewhere(subject)
    model = BoardModel(subject, spread)
    comparisons = subject.comparisons
    doubts = board_doubts(model)
    found = []
    for comparison, (result, no_model) in zip(
        comparisons, model.differences(comparisons, _all_pairs_of(comparisons)), strict=True
    ):
        id_a, id_b = side_ids(subject, comparison)
        each = Compared(
            comparison,
            id_a,
            id_b,
            unit_values(subject, comparison.coupons_a, subject.values),
            unit_values(subject, comparison.coupons_b, subject.values),
            result,
            no_model,
            borrowed=result is not None and model.error is not None and model.error.borrowed,
        )
        found.append(judged(replace(each, doubts=doubts, notes=comparison_notes(model, each))))
    borrowed = spread if model.error is not None and model.error.borrowed else None
    return Comparing(tuple(found), _letters(subject, model), borrowed, None, doubts)


def _spread_elsewhere(subject: Subject) -> Spread:
    return spread_for(subject.question, subject.request.earlier)


def _all_pairs_of(comparisons: Sequence[Comparison]) -> int:
    """Return of how many groups the comparisons are all pairs; 0 where they are not."""
    names = {each.a for each in comparisons} | {each.b for each in comparisons}
    plain = all(each.kind in ("pair", "family") for each in comparisons)
    return len(names) if plain and len(comparisons) == len(names) * (len(names) - 1) // 2 else 0


def _letters(subject: Subject, model: BoardModel) -> dict[str, str]:
    """Return letters of the groups, from all pairs of them together.

    None where the spread is not this board's, and where something speaks against the model that they rest on.
    """
    if model.error is None or model.error.borrowed or board_doubts(model):
        return {}
    cells = group_cells(subject)
    there = [each.cell for each in model.units]
    ranked = sorted(
        (each for each in subject.group_results if each.mean is not None and cells[each.group.id] & set(there)),
        key=lambda each: -(each.mean or 0.0),
    )
    weights = {}
    for each in ranked:
        mine = [cell for cell in there if cell in cells[each.group.id]]
        weights[each.group.id] = {cell: mine.count(cell) / len(mine) for cell in set(mine)}
    names = [each.group.id for each in ranked]
    pairs = [(one, other) for number, one in enumerate(names) for other in names[number + 1 :]]
    if not pairs:
        return dict.fromkeys(names, "a")
    found = model.of_weights(
        [model.design.weights(_less(weights[one], weights[other])) for one, other in pairs], len(names)
    )
    different = [pair for pair, (result, _) in zip(pairs, found, strict=True) if result and result.p <= LEVEL]
    return compact_letters(names, different)


def _less(one: Mapping[Cell, float], other: Mapping[Cell, float]) -> dict[object, float]:
    return {cell: one.get(cell, 0.0) - other.get(cell, 0.0) for cell in one.keys() | other.keys()}


def group_cells(subject: Subject) -> dict[str, frozenset[Cell]]:
    """Return for each group, by id, what was done to its coupons as the lots see it."""
    coupons = subject.record.coupons
    return {
        group.id: frozenset((coupons[each].treatment, coupons[each].role) for each in group.coupons)
        for group in subject.groups
    }


def side_ids(subject: Subject, comparison: Comparison) -> tuple[str, str]:
    """Return what scripts call the sides: ids of treatments, ``control``, else the names people use."""
    return (
        _side_id(subject, comparison, comparison.a, comparison.coupons_a),
        _side_id(subject, comparison, comparison.b, comparison.coupons_b),
    )


def _side_id(subject: Subject, comparison: Comparison, name: str, coupons: frozenset[int]) -> str:
    if comparison.kind not in ("control", "pair") or name == CONTROL:
        return name
    treatments = {subject.record.coupons[each].treatment for each in coupons}
    one = next(iter(treatments)) if len(treatments) == 1 else None
    return subject.record.treatments[one].id if one in subject.record.treatments else name
