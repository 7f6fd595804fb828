"""Holm's step-down over several exact tests, sharpened by what each of them could have come to at all."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Final

from rustboard.board.comparisons import Comparison
from rustboard.findings.compare.exact_pairs import MOST_STATES, levels_with_values
from rustboard.findings.compare.results import ExactResult
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.permutation import attainable_p
from rustboard.findings.power import Progress

_SLACK: Final = 1e-12


def step_down(
    subject: Subject,
    results: Sequence[tuple[Comparison, ExactResult]],
    values: Mapping[int, float],
    progress: Progress | None = None,
) -> list[ExactResult]:
    """Return each result with its p over the family.

    Args:
        subject: the board.
        results: the comparisons with their exact tests alone.
        values: by key of coupon.
        progress: told how far the work is; may end it by raising.
    """
    attainable: list[tuple[float, ...] | None] = []
    for number, (comparison, exact) in enumerate(results):
        if progress is not None:
            progress.step(number, len(results))
        levels = levels_with_values(subject, comparison, values)
        attainable.append(None if exact.sampled else attainable_p(levels, values, most_states=MOST_STATES))
    adjusted = discrete_holm([exact.p for _, exact in results], attainable)
    return [replace(exact, p_family=p) for (_, exact), p in zip(results, adjusted, strict=True)]


def discrete_holm(p_values: Sequence[float], attainable: Sequence[Sequence[float] | None]) -> list[float]:
    """Return p values adjusted for all of them together.

    Holm (1979) adds up, for those not yet rejected, the chance that each comes as low as the smallest of them; here
    with the chance that each really has, which for an exact test is its largest attainable p not above that (after
    Tarone 1990; from memory). A test that cannot come so low costs the others nothing.

    Args:
        p_values: of the tests.
        attainable: every p that each could have had, ascending; None = any.
    """
    order = sorted(range(len(p_values)), key=lambda each: p_values[each])
    found, largest = [1.0] * len(p_values), 0.0
    for place, number in enumerate(order):
        total = sum(_chance(p_values[number], attainable[other]) for other in order[place:])
        largest = max(largest, min(1.0, total))
        found[number] = largest
    return found


def _chance(p: float, attainable: Sequence[float] | None) -> float:
    if attainable is None:
        return p
    below = bisect_right(attainable, p + _SLACK)
    return attainable[below - 1] if below else 0.0
