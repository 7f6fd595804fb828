"""How large the largest t of several comparisons may grow by luck alone."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.findings.design_model import Numbers

LEVEL: Final = 0.05
"""Chance of any false difference among all comparisons of the question (common practice)."""

MOST_TOGETHER: Final = 400
_DRAWS: Final = 40_000
_SEED: Final = 20_260_302


def critical_t(weights: Numbers, degrees_of_freedom: int) -> float:
    """Return the size that the largest t of all comparisons passes only 5 times in 100 when nothing differs.

    For one comparison this is Student's t. For several it is simulated, because comparisons that share a control or
    the error are not independent; for more than `MOST_TOGETHER` Bonferroni's bound, which is larger, takes its place.

    Args:
        weights: a row for each comparison, a column for each unit (`Design.weights`).
        degrees_of_freedom: of the error.
    """
    from scipy.special import stdtrit

    count = weights.shape[0]
    if count <= 1 or count > MOST_TOGETHER:
        return float(stdtrit(degrees_of_freedom, 1 - LEVEL / 2 / max(count, 1)))
    scaled = weights / np.linalg.norm(weights, axis=1, keepdims=True)
    sizes, directions = np.linalg.eigh(scaled @ scaled.T)
    kept = sizes > 1e-9
    roots = directions[:, kept] * np.sqrt(sizes[kept])
    draw = np.random.default_rng(_SEED)
    largest = np.empty(_DRAWS)
    step = max(1, 1_000_000 // count)
    for start in range(0, _DRAWS, step):
        several = draw.standard_normal((min(step, _DRAWS - start), roots.shape[1])) @ roots.T
        largest[start : start + len(several)] = np.abs(several).max(axis=1)
    largest /= np.sqrt(draw.chisquare(degrees_of_freedom, _DRAWS) / degrees_of_freedom)
    return float(np.quantile(largest, 1 - LEVEL))
