"""Differences between levels, and differences of differences, with intervals that hold together."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from typing import Final

import numpy as np

from rustboard.findings.compare.model import BoardModel, ErrorSpread
from rustboard.findings.compare.together import Together
from rustboard.findings.design_model import Numbers
from rustboard.findings.factors.grid import FACTORS, Combination, Grid
from rustboard.findings.factors.results import Effect, Factor, Interaction, MainEffect

_TINY: Final = 1e-9


@dataclass(frozen=True)
class AdditiveModel:
    """The model without interaction: what a finish adds is the same with every protectant.

    Attributes:
        matrix: a row for each unit. Columns: finishes, protectants, then what is none of them (controls, rows,
            treatments of one and the same combination).
        levels: factor and level of the first columns.
        basis: orthonormal columns with the same span.
    """

    matrix: Numbers
    levels: tuple[tuple[Factor, str], ...]
    basis: Numbers

    def difference_weights(self, factor: Factor, a: str, b: str) -> Numbers | None:
        """Return the weight of every unit in level ``a`` less level ``b``; None where it cannot be estimated."""
        wanted = np.zeros(self.matrix.shape[1])
        wanted[self.levels.index((factor, a))] = 1.0
        wanted[self.levels.index((factor, b))] = -1.0
        weights = np.asarray(np.linalg.pinv(self.matrix).T @ wanted, dtype=np.float64)
        return weights if np.abs(self.matrix.T @ weights - wanted).max() < 1e-6 else None

    def left(self, values: Numbers) -> float:
        """Return the sum of squares that this model leaves."""
        return _left(values, self.basis)


def additive_model(model: BoardModel, grid: Grid) -> AdditiveModel:
    """Return the model without interaction for the units of a board."""
    cells = [each.cell for each in model.units]
    combination = {cell: each for each, members in grid.members.items() for cell in members}
    levels = tuple((factor, level) for factor in FACTORS for level in grid.levels(factor))
    columns = [
        [float(cell in combination and combination[cell][FACTORS.index(factor)] == level) for cell in cells]
        for factor, level in levels
    ]
    columns += [
        [float(cell == other) for cell in cells] for other in sorted(set(cells) - combination.keys(), key=str)
    ]
    columns += [
        [float(each.block == block) for each in model.units] for block in {each.block for each in model.units}
    ]
    for members in grid.members.values():
        first, *others = members
        # Weighed so that the mean over the units of the combination stays what finish and protectant make it.
        columns += [
            [(cell == other) / members[other] - (cell == first) / members[first] for cell in cells]
            for other in others
        ]
    matrix = np.array(columns, dtype=np.float64).T
    return AdditiveModel(matrix, levels, _span(matrix))


def _span(matrix: Numbers) -> Numbers:
    directions, sizes, _ = np.linalg.svd(matrix, full_matrices=False)
    return np.asarray(directions[:, sizes > sizes.max(initial=1.0) * _TINY], dtype=np.float64)


def _left(values: Numbers, basis: Numbers) -> float:
    # About their mean, which every model fits: sums of squares lose no digits then.
    level = values - values.mean()
    residuals = level - basis @ (basis.T @ level)
    return float(residuals @ residuals)


def additive_error(model: BoardModel, additive: AdditiveModel) -> ErrorSpread | None:
    """Return the spread that the model without interaction leaves, for boards where nothing was done twice."""
    freedom = len(model.values) - additive.basis.shape[1]
    if freedom < 1:
        return None
    variance = max(additive.left(model.values) / freedom, model.least_variance)
    return ErrorSpread(sqrt(variance), freedom) if variance > 0 else None


def interaction_test(model: BoardModel, additive: AdditiveModel) -> float | None:
    """Return p of the F test that there is no interaction: what the full model fits beyond the additive one.

    Comparison of nested linear models (the usual F test, type II and III sums of squares alike for the highest
    order). None without an error or without anything to test.
    """
    from scipy.special import fdtrc

    error = model.error
    freedom = model.design.basis.shape[1] - additive.basis.shape[1]
    if error is None or freedom < 1:
        return None
    more = max(additive.left(model.values) - _left(model.values, model.design.basis), 0.0)
    return float(fdtrc(freedom, error.degrees_of_freedom, more / freedom / error.sd**2))


def main_effects(
    model: BoardModel, grid: Grid, factor: Factor, error: ErrorSpread, additive: AdditiveModel | None
) -> tuple[MainEffect, ...]:
    """Return each level less each other, over the levels of the other factor that both were tried with.

    Args:
        model: of the board.
        grid: its combinations.
        factor: whose levels are compared.
        error: spread that the intervals rest on.
        additive: the model without interaction where the differences are taken from it, else None.
    """
    other: Factor = "protectant" if factor == "finish" else "finish"
    asked: list[tuple[str, str, tuple[str, ...]]] = []
    weights: list[Numbers] = []
    for a, b in combinations(grid.levels(factor), 2):
        over = grid.shared(factor, a, b)
        if not over:
            continue
        found = (
            model.design.weights(grid.of_cells(_over(grid, factor, a, b, over)))
            if additive is None
            else additive.difference_weights(factor, a, b)
        )
        if found is not None:
            asked.append((a, b, over))
            weights.append(found)
    names = [(grid.name(factor, a), grid.name(factor, b)) for a, b, _ in asked]
    effects = _effects(weights, [f"{a} less {b}" for a, b in names], model.values, error)
    return tuple(
        MainEffect(factor, a, b, tuple(grid.name(other, each) for each in over), effect)
        for (a, b), (_, _, over), effect in zip(names, asked, effects, strict=True)
    )


def _over(grid: Grid, factor: Factor, a: str, b: str, over: Sequence[str]) -> list[tuple[Combination, float]]:
    return [
        (grid.combination(factor, level, each), sign / len(over))
        for each in over
        for level, sign in ((a, 1), (b, -1))
    ]


def interactions(model: BoardModel, grid: Grid, error: ErrorSpread) -> tuple[Interaction, ...]:
    """Return how much the difference between two protectants depends on the finish, for every part tried whole."""
    asked, weights = [], []
    for one, other in combinations(grid.finishes, 2):
        for a, b in combinations(grid.protectants, 2):
            part = (((one, a), 1.0), ((one, b), -1.0), ((other, a), -1.0), ((other, b), 1.0))
            if any(each not in grid.members for each, _ in part):
                continue
            found = model.design.weights(grid.of_cells(part))
            if found is not None:
                asked.append(
                    (
                        (grid.name("finish", one), grid.name("finish", other)),
                        (grid.name("protectant", a), grid.name("protectant", b)),
                    )
                )
                weights.append(found)
    names = [f"({a} less {b}) on {one} less on {other}" for (one, other), (a, b) in asked]
    effects = _effects(weights, names, model.values, error)
    return tuple(Interaction(*pair, effect) for pair, effect in zip(asked, effects, strict=True))


def _effects(weights: Sequence[Numbers], names: Sequence[str], values: Numbers, error: ErrorSpread) -> list[Effect]:
    if not weights:
        return []
    matrix = np.array(weights)
    together = Together(matrix, error.degrees_of_freedom)
    errors = error.sd * np.linalg.norm(matrix, axis=1)
    seen = matrix @ values
    reach = together.critical_t * errors
    p_values = together.p_of(np.abs(seen) / errors)
    return [
        Effect(name, float(difference), float(difference - far), float(difference + far), float(p))
        for name, difference, far, p in zip(names, seen, reach, p_values, strict=True)
    ]
