"""Strengths of coupons from choices between two (Bradley & Terry 1952, "Rank analysis of incomplete block designs").

The chance that coupon a is called less rusted than b is ``1 / (1 + exp(b - a))`` of their strengths, which are
log-odds: higher means less rust, as with grades. “Cannot tell” counts half a choice to each.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cosh, sqrt
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rustboard.findings.side_by_side.choices import Choice, Numbers, preferences

PENALTY: Final = 0.1
"""Of half the squared strengths, as if these had a normal distribution with standard deviation 3.2 around their mean.
It keeps strengths finite where a coupon always wins, or where no path of choices links two coupons, and is weak
beside a handful of choices for each coupon (a choice of our own)."""

_NORMAL_95: Final = 1.959963984540054
_MOST_STEPS: Final = 200
_SMALL: Final = 1e-11


class Strength(NamedTuple):
    """Where a coupon stands.

    Attributes:
        item: key of the coupon.
        value: log-odds against the mean of all; higher = less rust.
        standard_error: of ``value``, from the observed information, the penalty included.
        low, high: limits of the 95 % interval of ``value``.
        choices: how many choices the coupon was in.
    """

    item: int
    value: float
    standard_error: float
    low: float
    high: float
    choices: int


class Gap(NamedTuple):
    """How far one coupon stands above another.

    Attributes:
        value: difference of strengths, log-odds.
        standard_error: of it.
    """

    value: float
    standard_error: float

    @property
    def is_sure(self) -> bool:
        """Whether 0 lies outside the 95 % interval, so that the two can be told apart."""
        return abs(self.value) > _NORMAL_95 * self.standard_error

    @property
    def doubt(self) -> float:
        """Product of the chances of both answers: 0.25 for equal strengths, near 0 for very different ones."""
        half = 1 / (2 * cosh(self.value / 2))
        return half * half


@dataclass(frozen=True, slots=True)
class Strengths:
    """The order of coupons.

    Attributes:
        order: least rusted first; equal ones by key.
        covariance: of the strengths, rows and columns as in ``order``.
        choices: how many choices it rests on.
        parts: in how many parts the choices leave the coupons unconnected; 1 = connected. With more, the place of
            coupons of different parts to one another means nothing.
    """

    order: tuple[Strength, ...]
    covariance: tuple[tuple[float, ...], ...]
    choices: int
    parts: int

    def gap(self, higher: int, lower: int) -> Gap:
        """Return how far the coupon at place ``higher`` of the order stands above the one at ``lower`` (from 0)."""
        errors = self.covariance
        squares = errors[higher][higher] + errors[lower][lower] - 2 * errors[higher][lower]
        return Gap(self.order[higher].value - self.order[lower].value, sqrt(max(squares, 0.0)))


def fit_strengths(items: Sequence[int], choices: Iterable[Choice], penalty: float = PENALTY) -> Strengths:
    """Return the strengths of coupons.

    Newton's method on the concave penalised likelihood. Strengths are centred: their sum is 0.

    Args:
        items: keys of the coupons, each once; also those never shown, which get 0 and a wide interval.
        choices: those of other coupons do not count.
        penalty: of half the sum of squared strengths; 0 for plain maximum likelihood.

    Raises:
        ValueError: without a penalty no finite strengths exist, because the coupons fall into two sets of which one
            never lost against the other (Ford 1957); or a choice is none.
    """
    items = sorted(items)
    won = preferences(items, choices)
    met = won + won.T
    if not penalty and not (_reachable(won > 0)).all():
        raise ValueError("without a penalty these choices have no finite strengths")
    values = _fitted(won, penalty)
    covariance = _covariance(values, met, penalty)
    order = sorted(range(len(items)), key=lambda place: (-round(float(values[place]), 9), items[place]))
    found = []
    for place in order:
        value, error = float(values[place]), sqrt(max(float(covariance[place, place]), 0.0))
        low, high = value - _NORMAL_95 * error, value + _NORMAL_95 * error
        found.append(Strength(items[place], value, error, low, high, round(float(met[place].sum()))))
    return Strengths(
        tuple(found),
        tuple(tuple(map(float, covariance[place, order])) for place in order),
        round(float(met.sum() / 2)),
        len({tuple(row) for row in _reachable(met > 0).tolist()}),
    )


def _fitted(won: Numbers, penalty: float) -> Numbers:
    met, count = won + won.T, len(won)
    values = np.zeros(count)
    flat = np.full((count, count), 1 / max(count, 1))  # holds the mean, which the choices say nothing of
    reached = _loss(values, won, penalty)
    for _ in range(_MOST_STEPS if count else 0):
        chances = _chances(values)
        slope = won.sum(axis=1) - (met * chances).sum(axis=1) - penalty * values
        step = np.linalg.solve(_information(chances, met, penalty) + flat, slope)
        while (loss := _loss(values + step, won, penalty)) > reached + _SMALL * (1 + reached):
            step = step / 2
        values, reached = values + step, loss
        values -= values.mean()
        if np.abs(step).max() < _SMALL:
            break
    return values


def _loss(values: Numbers, won: Numbers, penalty: float) -> float:
    gaps = values[:, None] - values[None, :]
    return float((won * np.logaddexp(0, -gaps)).sum() + penalty / 2 * (values**2).sum())


def _chances(values: Numbers) -> Numbers:
    return np.asarray((1 + np.tanh((values[:, None] - values[None, :]) / 2)) / 2)  # never overflows


def _information(chances: Numbers, met: Numbers, penalty: float) -> Numbers:
    shared = met * chances * (1 - chances)
    return np.asarray(np.diag(shared.sum(axis=1) + penalty) - shared)


def _covariance(values: Numbers, met: Numbers, penalty: float) -> Numbers:
    """Return the covariance of the centred strengths: the inverse of the information but for the mean's direction."""
    count = len(values)
    if not count:
        return np.zeros((0, 0))
    flat = np.full((count, count), 1 / count)
    inverse = np.linalg.inv(_information(_chances(values), met, penalty) + flat)
    return np.asarray(inverse - flat / (1 + penalty))


def _reachable(linked: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return which coupons lead to which along links, itself included."""
    found = linked | np.eye(len(linked), dtype=bool)
    while True:
        further = (found.astype(float) @ found.astype(float)) > 0
        if (further == found).all():
            return found
        found = further
