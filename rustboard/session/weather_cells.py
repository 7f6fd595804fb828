"""The cells of a logger's file as a preview shows them: what stands there, and what is understood."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Literal

import numpy as np

from rustboard.weather.logger_file.cells import KINDS
from rustboard.weather.logger_file.numbers import number_in, without_marks
from rustboard.weather.logger_file.options import UNITS_OF, Column, FileOptions, Role, Unit
from rustboard.weather.logger_file.preview import PreviewRow

CellState = Literal["ignored", "good", "no reading", "bad"]


@dataclass(frozen=True, slots=True)
class SeenCell:
    """One cell.

    Attributes:
        text: as it stands in the file.
        state: whether it is read; ``no reading``: it is empty or says so itself; ``bad``: it cannot be used.
        value: the time, or the number in the unit it is kept in; None where there is none.
        unit: of that number. role: what the column holds.
    """

    text: str
    state: CellState = "ignored"
    value: datetime | float | None = None
    unit: Unit = ""
    role: Role = "ignored"


def seen_cells(row: PreviewRow, options: FileOptions) -> tuple[SeenCell, ...]:
    """Return the cells of a row, one for each column."""
    found = zip(row.cells, options.columns, strict=True)
    return tuple(replace(_seen(text, column, row, options), role=column.role) for text, column in found)


def _seen(text: str, column: Column, row: PreviewRow, options: FileOptions) -> SeenCell:
    if column.role == "ignored":
        return SeenCell(text)
    if column.role in KINDS:
        return SeenCell(text, "bad" if row.when is None else "good", row.when)
    quantity = column.quantity
    if quantity is None:
        return SeenCell(text)
    value = row.values.get(quantity)
    if value is not None:
        return SeenCell(text, "good", value, UNITS_OF[quantity][0])
    read = number_in(text, options.decimal_mark, column.unit)
    if read is None:
        return SeenCell(text, "bad")
    is_none = np.isnan(without_marks(np.array([read]), quantity, column.unit)[0])
    return SeenCell(text, "no reading" if is_none else "bad")
