"""The linear model a board's layout allows: a mean for every treatment, and for every row where rows are blocks."""

from __future__ import annotations

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

Numbers = npt.NDArray[np.float64]

_TINY = 1e-9


@dataclass(frozen=True)
class Design:
    """The units of a board.

    Attributes:
        cells: what was done to each unit; units of one cell are replicates.
        blocks: the row of each unit where rows are blocks, else the same for all.
    """

    cells: tuple[Hashable, ...]
    blocks: tuple[int, ...]

    @cached_property
    def cell_names(self) -> tuple[Hashable, ...]:
        """The cells, each once, in the order in which they come."""
        return tuple(dict.fromkeys(self.cells))

    @cached_property
    def _matrix(self) -> Numbers:
        """Indicators of the cells, then of the blocks."""
        cells = {name: number for number, name in enumerate(self.cell_names)}
        blocks = {name: len(cells) + number for number, name in enumerate(dict.fromkeys(self.blocks))}
        matrix = np.zeros((len(self.cells), len(cells) + len(blocks)))
        for unit, (cell, block) in enumerate(zip(self.cells, self.blocks, strict=True)):
            matrix[unit, cells[cell]] = matrix[unit, blocks[block]] = 1.0
        return matrix

    @cached_property
    def _directions(self) -> tuple[Numbers, Numbers]:
        """Eigenvectors and eigenvalues of the cells' and blocks' common counts, those of 0 left out."""
        sizes, directions = np.linalg.eigh(self._matrix.T @ self._matrix)
        kept = sizes > sizes.max(initial=1.0) * _TINY
        return directions[:, kept], sizes[kept]

    @cached_property
    def basis(self) -> Numbers:
        """Orthonormal columns that span what the model can fit."""
        directions, sizes = self._directions
        return np.ascontiguousarray(self._matrix @ directions / np.sqrt(sizes))

    @property
    def degrees_of_freedom(self) -> int:
        """What is left for the error when all means are fitted."""
        return len(self.cells) - int(self.basis.shape[1])

    def weights(self, contrast: Mapping[Hashable, float]) -> Numbers | None:
        """Return the weight of every unit in the best estimate of a contrast between cells.

        None when the layout cannot estimate it, such as two treatments that share no row, where rows are blocks.
        """
        wanted = np.zeros(self._matrix.shape[1])
        for number, name in enumerate(self.cell_names):
            wanted[number] = contrast.get(name, 0.0)
        directions, sizes = self._directions
        weights = self._matrix @ (directions @ (directions.T @ wanted / sizes))
        if np.abs(self._matrix.T @ weights - wanted).max(initial=0.0) > 1e-6:
            return None
        return np.asarray(weights, dtype=np.float64)


def even_design(cells: Sequence[Hashable], each: int, rows: int | None) -> Design:
    """Return a design with ``each`` units of every cell, every row with as many of one cell as of another.

    Args:
        cells: what is done to the units.
        each: units of every cell; with fewer of them than rows, only so many rows are used.
        rows: how many rows are blocks, or None where rows are not.
    """
    used = min(rows, each) if rows else 1
    names = tuple(cell for cell in cells for _ in range(each))
    return Design(names, tuple(number % used for _ in cells for number in range(each)))
