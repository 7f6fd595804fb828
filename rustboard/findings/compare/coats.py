"""Whether more coats do better: treatments that are alike in all but the number of their coats, in its order."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rustboard.board.cells import identity
from rustboard.board.model import Treatment
from rustboard.findings.amounts import listed, shown, shown_p
from rustboard.findings.compare.ranks import complete_table, page_exact_p
from rustboard.findings.compare.shuffling import share_as_large, shuffled
from rustboard.findings.coupons.groups import Group
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL

LEAST_STEPS: Final = 3
"""Fewer numbers of coats have no order to follow, only a difference."""
_DRAWS: Final = 9_999


@dataclass(frozen=True, slots=True)
class CoatsTrend:
    """What the number of coats does.

    Attributes:
        name: what is coated with, as people call it.
        coats: numbers of coats, ascending. means: of their coupons.
        rising: whether more coats did better, by the trend.
        p: two-sided, that luck alone makes as strong a trend.
        test: ``Page``: by ranks within rows, all arrangements counted; ``exchanged``: labels exchanged by chance as
            the lots could have fallen.
    """

    name: str
    coats: tuple[int, ...]
    means: tuple[float, ...]
    rising: bool
    p: float
    test: Literal["Page", "exchanged"]


def coats_trends(subject: Subject, values: Mapping[int, float]) -> tuple[CoatsTrend, ...]:
    """Return a trend for each set of treatments that differ in nothing but coats, at least `LEAST_STEPS` of them.

    Args:
        subject: the board.
        values: by key of coupon.
    """
    hanging = {each.coupon for each in subject.board.hung}
    found = []
    for steps in _alike(subject).values():
        coupons = {
            coats: frozenset(key for group in groups for key in group.coupons if key in hanging and key in values)
            for coats, groups in sorted(steps.items())
        }
        there = {coats: each for coats, each in coupons.items() if each}
        if len(there) >= LEAST_STEPS:
            first = next(iter(steps.values()))[0]
            found.append(_trend(subject, values, _name(subject, first), there))
    return tuple(found)


def _alike(subject: Subject) -> dict[tuple[str, ...], dict[int, list[Group]]]:
    """Return test groups by all that their treatments have in common but coats, then by coats."""
    found: dict[tuple[str, ...], dict[int, list[Group]]] = defaultdict(lambda: defaultdict(list))
    for group in subject.groups:
        treatment = subject.record.treatments.get(group.treatment or 0)
        if treatment is not None and group.role == "test" and treatment.coats is not None and _is_coated(treatment):
            key = (treatment.family, treatment.preparation, treatment.finish, treatment.protectant)
            found[tuple(map(identity, key))][treatment.coats].append(group)
    return found


def _is_coated(treatment: Treatment) -> bool:
    return bool(treatment.protectant or treatment.finish)


def _name(subject: Subject, group: Group) -> str:
    treatment = subject.record.treatments[group.treatment or 0]
    return treatment.protectant or treatment.finish


def _trend(
    subject: Subject, values: Mapping[int, float], name: str, coupons: Mapping[int, frozenset[int]]
) -> CoatsTrend:
    units = [subject.exchanges.units_of(each) for each in coupons.values()]
    there = shuffled(units, values)
    means = tuple(float(there.raw[there.groups == each].mean()) for each in range(len(units)))
    table = complete_table(there)
    steps = there.groups.astype(np.float64)
    seen = float(there.values @ steps)
    if table is not None:
        both = [page_exact_p(each) for each in (table, -table)]
        if None not in both:
            smaller = min(each for each in both if each is not None)
            return CoatsTrend(name, tuple(coupons), means, seen > 0, min(1.0, 2 * smaller), "Page")
    # Steps less their middle within each stratum: what cannot change by exchanging must not count.
    drawn = there.arrangements(_DRAWS, len(units)) @ steps
    p = share_as_large(abs(seen), np.abs(drawn))
    return CoatsTrend(name, tuple(coupons), means, seen > 0, p, "exchanged")


def coats_words(found: CoatsTrend) -> Sentence:
    """Return what a trend says."""
    coats = listed(map(str, found.coats))
    means = listed(f"{shown(each):g}" for each in found.means)
    parts = (coats, found.name, means, shown_p(found.p))
    if found.p > LEVEL:
        return Sentence(
            "Whether more coats of {1} do better cannot be told: with {0} coats the means are {2} (trend, p = {3}).",
            parts,
        )
    if found.rising:
        return Sentence(
            "More coats of {1} went with better results: with {0} coats the means are {2} "
            "(trend, p = {3} taken alone).",
            parts,
        )
    return Sentence(
        "More coats of {1} went with worse results: with {0} coats the means are {2} (trend, p = {3} taken alone).",
        parts,
    )
