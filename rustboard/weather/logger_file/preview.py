"""The first rows of a logger's file as they stand in it and as they are understood."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Final

import numpy as np

from rustboard.board.clock_names import clock_time
from rustboard.board.weather import Quantity
from rustboard.support.text import one_line
from rustboard.weather.logger_file.cells import KINDS, split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.numbers import number_in
from rustboard.weather.logger_file.options import FileOptions
from rustboard.weather.logger_file.read import seconds_by_clock, true_numbers

_LONGEST_CELL: Final = 80
_WIDTH: Final = 128
_MOST_EMPTY: Final = 1_000


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
    """Return the first rows under the header that are not empty.

    Options under which the file could not be read (see `rustboard.weather.logger_file.options.check_options`) are
    taken as far as they go; this never refuses.
    """
    found: list[PreviewRow] = []
    last = min(len(text), options.header_rows + rows + _MOST_EMPTY)
    for number in range(options.header_rows + 1, last + 1):
        cells = split_line(text.line(number), options.delimiter)
        if any(cells):
            found.append(_row(number, cells, options))
        if len(found) >= rows:
            break
    return found


def _row(number: int, cells: Sequence[str], options: FileOptions) -> PreviewRow:
    shown = [one_line(each, _LONGEST_CELL) for each in cells[: len(options.columns)]]
    values = {name: _value(cells, name, options) for name in options.quantities()}
    return PreviewRow(number, (*shown, *[""] * (len(options.columns) - len(shown))), _when(cells, options), values)


def _when(cells: Sequence[str], options: FileOptions) -> datetime | None:
    moments = {}
    for kind in KINDS:
        for index in options.indices(kind)[:1]:
            cell = cells[index] if index < len(cells) else ""
            moments[kind] = read_moments(as_bytes([cell], _WIDTH), kind, options.date_order)
    if "time" in moments:
        moments = {"time": moments["time"]}
    if set(moments) not in ({"time"}, {"date", "clock time"}):
        return None
    seconds = int(seconds_by_clock(moments, options.clock)[0])
    return None if seconds == NO_TIME else clock_time(seconds)


def _value(cells: Sequence[str], name: Quantity, options: FileOptions) -> float | None:
    index = options.indices(name)[0]
    unit = options.columns[index].unit
    read = number_in(cells[index] if index < len(cells) else "", options.decimal_mark, unit)
    if read is None:
        return None
    value = float(true_numbers(np.array([read]), name, unit)[0][0])
    return None if np.isnan(value) else value
