"""How large the largest t of several comparisons may grow by luck alone."""

from __future__ import annotations

from typing import Final

import numpy as np

from rustboard.findings.design_model import Numbers
from rustboard.findings.smallest_p import LEVEL

MOST_TOGETHER: Final = 400
_DRAWS: Final = 40_000
_SEED: Final = 20_260_302


class Together:
    """Several comparisons of one question, judged together so that luck makes a false difference 5 times in 100."""

    def __init__(self, weights: Numbers, *, more: int = 0) -> None:
        """Look at comparisons.

        Args:
            weights: a row for each comparison, a column for each unit (`Design.weights`).
            more: comparisons that were asked for and cannot be estimated; they count, by Bonferroni's bound.
        """
        self._count = len(weights) + more
        simulated = not more and 1 < self._count <= MOST_TOGETHER
        self._largest = _largest_normals(weights) if simulated else None

    def critical_t(self, degrees_of_freedom: int) -> float:
        """Return the size that the largest t of all passes only 5 times in 100 when nothing differs.

        For one comparison this is Student's t. For several it is simulated, because comparisons that share a control
        or the error are not independent; for more than `MOST_TOGETHER` Bonferroni's bound, which is larger, takes
        its place.
        """
        from scipy.special import stdtrit

        if self._largest is None:
            return float(stdtrit(degrees_of_freedom, 1 - LEVEL / 2 / max(self._count, 1)))
        draw = np.random.default_rng((_SEED, degrees_of_freedom))
        error = np.sqrt(draw.chisquare(degrees_of_freedom, _DRAWS) / degrees_of_freedom)
        return float(np.quantile(self._largest / error, 1 - LEVEL))


def _largest_normals(weights: Numbers) -> Numbers:
    """Draw the estimates, each with its own error variance as the unit, and keep the size of the largest."""
    scaled = weights / np.linalg.norm(weights, axis=1, keepdims=True)
    sizes, directions = np.linalg.eigh(scaled @ scaled.T)
    kept = sizes > 1e-9
    roots = directions[:, kept] * np.sqrt(sizes[kept])
    draw = np.random.default_rng(_SEED)
    largest = np.empty(_DRAWS)
    step = max(1, 1_000_000 // len(weights))
    for start in range(0, _DRAWS, step):
        several = draw.standard_normal((min(step, _DRAWS - start), roots.shape[1])) @ roots.T
        largest[start : start + len(several)] = np.abs(several, out=several).max(axis=1)
    return largest
