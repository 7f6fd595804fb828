"""How far one sample lies from another: medians of all differences (Hodges and Lehmann), with exact intervals."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import ceil, floor

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.smallest_p import LEVEL


@dataclass(frozen=True, slots=True)
class Shift:
    """A shift with its exact interval.

    Attributes:
        estimate: median of the differences.
        low, high: interval of at least 95 %; None where so few values give none.
        p: exact two-sided p that there is none, ties counted as they fall.
    """

    estimate: float
    low: float | None
    high: float | None
    p: float


def two_sample_shift(a: Sequence[float], b: Sequence[float]) -> Shift:
    """Return how far ``a`` lies above ``b``: the median of all differences a - b (Hollander and Wolfe).

    The interval leaves out the differences that the exact distribution of the rank sum, with the ties that there are,
    does not allow. Either side has at least one value.
    """
    from scipy.stats import rankdata

    differences = np.sort((np.asarray(a, float)[:, None] - np.asarray(b, float)[None, :]).ravel())
    doubled = np.rint(2 * rankdata(np.round([*a, *b], 9))).astype(int).tolist()
    least = len(a) * (len(a) + 1)
    ways = {total - least: each for total, each in _sums_of(doubled, len(a)).items()}
    return _shift(differences, ways, sum(doubled[: len(a)]) - least)


def paired_shift(a: Sequence[float], b: Sequence[float]) -> Shift:
    """Return how far ``a`` lies above ``b`` pair by pair: the median of the means of every two differences.

    The interval leaves out the means that the exact distribution of the signed ranks, with the ties that there are,
    does not allow. For p, pairs that are equal are left out.
    """
    from scipy.stats import rankdata

    differences = np.asarray(a, float) - np.asarray(b, float)
    rows, columns = np.triu_indices(len(differences))
    means = np.sort((differences[rows] + differences[columns]) / 2)
    known = differences[np.abs(differences) > 0]
    doubled = np.rint(2 * rankdata(np.round(np.abs(known), 9))).astype(int).tolist() if len(known) else []
    ways: dict[int, float] = {0: 1.0}
    for rank in doubled:
        grown = dict(ways)
        for total, each in ways.items():
            grown[total + rank] = grown.get(total + rank, 0) + each
        ways = grown
    return _shift(means, ways, sum(rank for rank, each in zip(doubled, known, strict=True) if each > 0))


def _sums_of(doubled: Sequence[int], count: int) -> dict[int, float]:
    """Return in how many ways ``count`` of the ranks have each sum; beyond 2 ** 53 ways to 15 digits."""
    states = np.zeros((count + 1, sum(sorted(doubled)[-count:]) + 1))
    states[0, 0] = 1
    for rank in doubled:
        states[1:, rank:] += states[:-1, : states.shape[1] - rank].copy()
    return {int(total): float(states[count, total]) for total in np.flatnonzero(states[count])}


def _shift(ordered: Numbers, ways: Mapping[int, float], seen: int) -> Shift:
    """Return the shift from ordered differences and the distribution of twice the statistic that counts them."""
    count, middle = sum(ways.values()), sum(total * each for total, each in ways.items()) / sum(ways.values())
    p = sum(each for total, each in ways.items() if abs(total - middle) >= abs(seen - middle) - 1e-9) / count
    lowest = _last_within(sorted(ways), ways, count)
    highest = _last_within(sorted(ways, reverse=True), ways, count)
    if lowest is None or highest is None:
        return Shift(float(np.median(ordered)), None, None, p)
    low = ordered[max(len(ordered) - ceil(highest / 2), 0)]
    high = ordered[max(len(ordered) - 1 - floor(lowest / 2), 0)]
    return Shift(float(np.median(ordered)), float(low), float(high), p)


def _last_within(totals: Sequence[int], ways: Mapping[int, float], count: float) -> int | None:
    """Return the last total that still belongs to the outer 2.5 % at one end."""
    out, last = 0.0, None
    for total in totals:
        out += ways[total]
        if out / count > LEVEL / 2:
            break
        last = total
    return last
