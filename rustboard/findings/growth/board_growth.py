"""The growth of rust on a whole board: which groups a law could be fitted to, and what it says of their coupons."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from rustboard.board.grade import GRADES
from rustboard.findings.coupons.groups import Group
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.design_model import Numbers
from rustboard.findings.growth.fit import Courses
from rustboard.findings.growth.looks import ALL_RUST, NO_RUST, Look, looks_of
from rustboard.findings.growth.onset import GraceFit, fit_with_grace
from rustboard.findings.power import Progress
from rustboard.findings.sentence import Sentence
from rustboard.scales.rust_grade import UPPER_LIMITS

BEST: Final = GRADES[-1]
WORST: Final = GRADES[0]
_LIMITS: Final = np.log10(UPPER_LIMITS[:-1])
_SEED: Final = 71_009
_MOST_DRAWS: Final = 1_000
_LEAST_DRAWS: Final = 300
_MOST_AT_ONCE: Final = 100_000


@dataclass(frozen=True, eq=False)
class BoardGrowth:
    """The law fitted to the groups that could be fitted.

    Attributes:
        fit: None where no group could be fitted.
        coupons: keys of the coupons in the fit, in its order.
        why_none: by id of group, why it was not fitted.
        finished: keys of coupons of groups that were at grade 0 from the first: they stay there.
    """

    fit: GraceFit | None
    coupons: tuple[int, ...]
    why_none: Mapping[str, Sentence]
    finished: frozenset[int]

    @cached_property
    def _column(self) -> dict[int, int]:
        return {key: number for number, key in enumerate(self.coupons)}

    @cached_property
    def draws(self) -> int:
        """How many courses are drawn: fewer of large boards."""
        return max(_LEAST_DRAWS, min(_MOST_DRAWS, _MOST_AT_ONCE // max(len(self.coupons), 1)))

    @cached_property
    def _courses(self) -> Courses | None:
        return None if self.fit is None else self.fit.draws(self.draws, _SEED)

    def knows(self, coupon: int) -> bool:
        """Return whether anything is forecast of a coupon."""
        return coupon in self._column or coupon in self.finished

    def grades(self, coupons: Sequence[int], places: Sequence[float]) -> Numbers:
        """Return grades that looks may find: a row for each course, a column for each coupon.

        The same row goes on from place to place, so that a course never gets better.

        Args:
            coupons: keys, of which all are known.
            places: for each coupon its place on the clock, above 0.
        """
        found = np.full((self.draws, len(coupons)), float(WORST))
        fitted = [number for number, key in enumerate(coupons) if key in self._column]
        if self._courses is not None and fitted:
            columns = [self._column[coupons[number]] for number in fitted]
            there = np.array([places[number] for number in fitted])
            log_percent = self._courses.of(columns).log_percent(there)
            found[:, fitted] = BEST - np.searchsorted(_LIMITS, log_percent, side="left")
        return found


def board_growth(subject: Subject, progress: Progress | None = None) -> BoardGrowth:
    """Return the growth of rust on a board, from the looks at the coupons that count."""
    why_none: dict[str, Sentence] = {}
    finished: set[int] = set()
    members: list[tuple[int, ...]] = []
    looks = looks_of(subject, subject.measures)
    for group in subject.groups:
        coupons = tuple(each for each in group.coupons if each in looks)
        if not coupons:
            continue
        reason = _why_none(group, [looks[each] for each in coupons])
        if reason is None:
            members.append(coupons)
            continue
        why_none[group.id] = reason
        if _rusted_all_over([look for each in coupons for look in looks[each]]):
            finished.update(coupons)
    # By their coupons and not by their names, so that no name changes a figure.
    groups = sorted(members, key=min)
    fit = fit_with_grace(looks, groups, progress) if groups else None
    coupons = tuple(sorted(key for each in groups for key in each))
    return BoardGrowth(fit, coupons, why_none, frozenset(finished))


def _why_none(group: Group, coupons: Sequence[Sequence[Look]]) -> Sentence | None:
    """Return why no law can be fitted to a group, or None."""
    looks = [look for each in coupons for look in each]
    if not looks:
        return Sentence(
            "{0} was not graded since the clock began to run; growth shows in later looks.", (group.name,)
        )
    if all(look.high <= NO_RUST for look in looks):
        return Sentence("{0} shows no rust yet, so nothing tells how it will grow.", (group.name,))
    if _rusted_all_over(looks):
        return Sentence("{0} was rusted all over when it was first graded; nothing is left to grow.", (group.name,))
    if len({look.place for look in looks}) < 2:
        return Sentence(
            "{0} was graded at one place on the clock only; it takes two to see how rust grows.", (group.name,)
        )
    return None


def _rusted_all_over(looks: Sequence[Look]) -> bool:
    return bool(looks) and all(look.low >= ALL_RUST for look in looks)
