"""Labels exchanged by chance within strata, many times at once: where there are too many arrangements to count."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.exchange import Unit

SEED: Final = 771_020
_SLACK: Final = 1e-9


@dataclass(frozen=True, eq=False)
class Shuffled:
    """Units of several groups with their values.

    Attributes:
        raw: values of the units.
        groups: number of the group of each unit.
        strata: numbers of the units of each stratum.
    """

    raw: Numbers
    groups: np.ndarray
    strata: tuple[np.ndarray, ...]

    @cached_property
    def values(self) -> Numbers:
        """Of the units, each less the mean of its stratum: what cannot change by exchanging is left out."""
        found = self.raw.copy()
        for stratum in self.strata:
            found[stratum] -= found[stratum].mean()
        return found

    @property
    def indicators(self) -> Numbers:
        """A column for each group that takes the mean of its units."""
        count = int(self.groups.max()) + 1
        found = (self.groups[:, None] == np.arange(count)[None, :]).astype(np.float64)
        return np.asarray(found / found.sum(axis=0), dtype=np.float64)

    def arrangements(self, draws: int, seed: int) -> Numbers:
        """Return values exchanged within strata, a row for each draw."""
        draw = np.random.default_rng((SEED, seed))
        found = np.empty((draws, len(self.values)))
        for stratum in self.strata:
            order = draw.random((draws, len(stratum))).argsort(axis=1)
            found[:, stratum] = self.values[stratum][order]
        return found


def shuffled(groups: Sequence[Sequence[Unit]], values: Mapping[int, float]) -> Shuffled:
    """Return the units of groups ready to be exchanged; units without a value are left out."""
    known: list[float] = []
    labels: list[int] = []
    strata: dict[tuple[int, ...], list[int]] = defaultdict(list)
    for label, units in enumerate(groups):
        for unit in units:
            mine = [values[each] for each in sorted(unit.coupons) if each in values]
            if mine:
                strata[unit.stratum].append(len(known))
                known.append(sum(mine) / len(mine))
                labels.append(label)
    members = tuple(np.array(each) for _, each in sorted(strata.items()))
    return Shuffled(np.array(known), np.array(labels, dtype=int), members)


def share_as_large(seen: float, found: Numbers) -> float:
    """Return p from sampled arrangements: the one seen counts as one of them, (k + 1) / (m + 1)."""
    reach = seen - _SLACK * max(1.0, abs(seen))
    return float((np.count_nonzero(found >= reach) + 1) / (len(found) + 1))
