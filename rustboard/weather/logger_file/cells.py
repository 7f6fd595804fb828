"""The cells of a logger's file: of one line, and whole columns of all lines at once."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.weather import Quantity
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.moments import Bytes
from rustboard.weather.logger_file.numbers import PLAIN_NO_READING, number_in
from rustboard.weather.logger_file.options import DecimalMark, Delimiter, FileOptions, Unit
from rustboard.weather.readings import Numbers

if TYPE_CHECKING:
    import pandas as pd

_SHORT: Final = 24
_LONG: Final = 64
"""Bytes kept of a time: of the usual ones, and of those with names of days and zones."""
_LOOKED_AT: Final = 40
KINDS: Final[tuple[Kind, ...]] = ("time", "date", "clock time")


@dataclass(frozen=True, slots=True)
class Columns:
    """The columns that are read, a row for each line below the header.

    Attributes:
        times: the texts of the columns of times.
        numbers: as they stand in the file; NaN where there is none.
        unreadable: where a cell holds something that is no number.
    """

    times: Mapping[Kind, Bytes]
    numbers: Mapping[Quantity, Numbers]
    unreadable: Mapping[Quantity, NDArray[np.bool_]]


def split_line(line: str, delimiter: Delimiter) -> list[str]:
    """Return the cells of one line, without quotation marks and blanks around them."""
    if delimiter == " ":
        return line.replace('"', "").split()
    if '"' not in line:
        return [each.strip() for each in line.split(delimiter)]
    try:
        cells = next(csv.reader([line], delimiter=delimiter, skipinitialspace=True), [])
    except csv.Error:
        cells = line.split(delimiter)
    return [each.strip() for each in cells]


def read_columns(text: LoggerText, options: FileOptions) -> Columns:
    """Return the columns of a file; the options have been checked."""
    body = text.data[text.start(options.header_rows + 1) :]
    lines = len(text) - options.header_rows
    width = _width(text, options)
    frame = _frame(body, lines, text, options, width)
    times = _times(frame, options)
    if width == _SHORT and any(cells[:, -1].any() for cells in times.values()):  # a few are longer than those seen
        frame = _frame(body, lines, text, options, _LONG)
        times = _times(frame, options)
    numbers: dict[Quantity, Numbers] = {}
    unreadable: dict[Quantity, NDArray[np.bool_]] = {}
    for quantity in options.quantities():
        (index,) = options.indices(quantity)
        unit = options.columns[index].unit
        numbers[quantity], unreadable[quantity] = _numbers(frame[index], options.decimal_mark, unit)
    return Columns(times, numbers, unreadable)


def _times(frame: pd.DataFrame, options: FileOptions) -> dict[Kind, Bytes]:
    times: dict[Kind, Bytes] = {}
    for kind in KINDS:
        for index in options.indices(kind):
            cells = np.ascontiguousarray(frame[index].to_numpy())
            times[kind] = cells.view(np.uint8).reshape(len(cells), cells.dtype.itemsize)
    return times


def _frame(body: bytes, lines: int, text: LoggerText, options: FileOptions, width: int) -> pd.DataFrame:
    """Return the columns as pandas reads them, one row for each line whatever stands in it."""
    if options.delimiter == " ":
        body = re.sub(rb"[ \t]+", b"\t", body.replace(b'"', b""))
        body = re.sub(rb"^\t", b"", body, flags=re.MULTILINE)
    frame = _parsed(body, options, width)
    if frame is None or len(frame) != lines:  # a quotation mark that nobody closed took the lines after it along
        frame = _parsed(_closed(body, options.delimiter), options, width)
    if frame is None or len(frame) != lines:
        frame = _parsed(body.replace(b'"', b""), options, width)
    if frame is None or len(frame) != lines:
        raise text.refusal("The rows cannot be told apart; export the readings anew, as CSV.")
    return frame


def _parsed(body: bytes, options: FileOptions, width: int) -> pd.DataFrame | None:
    """Return the columns, or None when a quotation mark is open at the end."""
    import pandas as pd

    times = [index for kind in KINDS for index in options.indices(kind)]
    numbers = [index for each in options.quantities() for index in options.indices(each)]
    wanted = sorted({*times, *numbers})
    # As many cells as wanted stand in a row of its own before the others, which may all be shorter.
    delimiter = "\t" if options.delimiter == " " else options.delimiter
    first = (delimiter * (wanted[-1] + 1) + "\n").encode()
    try:
        frame: pd.DataFrame = pd.read_csv(  # type: ignore[call-overload]
            io.BytesIO(first + body),
            sep=delimiter,
            header=None,
            names=range(wanted[-1] + 1),
            usecols=wanted,
            index_col=False,
            dtype=dict.fromkeys(times, f"S{width}"),
            na_values={index: list(PLAIN_NO_READING) for index in numbers},
            keep_default_na=False,
            decimal=options.decimal_mark,
            skipinitialspace=options.delimiter != "\t",
            skip_blank_lines=False,
            low_memory=False,
            engine="c",
        )
    except pd.errors.ParserError:
        return None
    return frame.iloc[1:]


def _width(text: LoggerText, options: FileOptions) -> int:
    """Return how many bytes of each time are kept: more than the longest of some."""
    first = options.header_rows + 1
    step = max(1, (len(text) - first) // _LOOKED_AT)
    longest = 0
    for number in range(first, len(text) + 1, step):
        cells = split_line(text.line(number), options.delimiter)
        found = [cells[i] for kind in KINDS for i in options.indices(kind) if i < len(cells)]
        longest = max([longest, *(len(each.encode()) for each in found)])
    return _SHORT if longest < _SHORT else _LONG


def _closed(body: bytes, delimiter: Delimiter) -> bytes:
    """Return lines without the quotation marks in those where a cell's marks do not come in pairs around it."""
    mark = re.escape(delimiter)
    cell = rf' *"(?:[^"]|"")*" *|[^"{mark}]*'
    good = re.compile(rf"(?:{cell})(?:{mark}(?:{cell}))*".encode())
    lines = body.split(b"\n")
    return b"\n".join(
        each.replace(b'"', b"") if b'"' in each and good.fullmatch(each) is None else each for each in lines
    )


def _numbers(column: pd.Series[Any], mark: DecimalMark, unit: Unit) -> tuple[Numbers, NDArray[np.bool_]]:
    if column.dtype.kind in "fiu":
        read = column.to_numpy(np.float64)
        endless = np.isinf(read)
        return (np.where(endless, np.nan, read) if endless.any() else read), endless
    codes, texts = column.astype(object).factorize()
    found = [number_in(str(each), mark, unit) for each in texts]
    each_number = np.array([np.nan if value is None else value for value in found] + [np.nan])
    each_bad = np.array([value is None for value in found] + [False])
    return each_number[codes], each_bad[codes]  # -1, of what pandas knows as none, is the last of each
