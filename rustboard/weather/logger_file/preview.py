"""The first rows of a logger's file as they stand in it and as they are understood."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from rustboard.board.weather import Quantity
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.options import FileOptions


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """One row.

    Attributes:
        row: its line in the file, 1 = the first.
        cells: as they stand in the file, one line each, safe to show; as many as ``FileOptions.columns``, the missing
            ones empty.
        when: the time by the file's clock, or None when it cannot be read.
        values: the numbers in our units, or None for a cell that is empty or cannot be used.
    """

    row: int
    cells: tuple[str, ...]
    when: datetime | None
    values: Mapping[Quantity, float | None]


def preview(text: LoggerText, options: FileOptions, rows: int = 12) -> list[PreviewRow]:
    """Return the first rows under the header that are not empty. Never raises; options may still be incomplete."""
    raise NotImplementedError
