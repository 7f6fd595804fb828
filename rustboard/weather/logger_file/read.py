"""The readings of a logger's file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.board.cells import quoted
from rustboard.board.clock_names import fixed_difference
from rustboard.board.weather import MOST_READINGS, MOST_TOLD, QUANTITY_LIMITS, Quantity
from rustboard.support.problems import InputError, Problem
from rustboard.weather.logger_file.cells import KINDS, Columns, read_columns, split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.moments import NO_TIME, Moments, as_bytes, read_moments, why_no_time
from rustboard.weather.logger_file.numbers import in_our_unit, number_in, without_marks
from rustboard.weather.logger_file.options import UNITS_OF, FileOptions, check_options
from rustboard.weather.readings import Numbers, ReadingTable, Seconds

Truths = NDArray[np.bool_]

_FULL: Final = 100.0
_NOTHING_BUT_MARKS: Final = re.compile(r"[\s,;|\"]*")


@dataclass(frozen=True, slots=True)
class ReadLoggerFile:
    """What was read of a file.

    Attributes:
        table: all rows with a time and at least one number, in the order of the file, repeated ones included; only
            quantities of which there is at least one number.
        left_out: rows without a time or without any number; empty lines do not count.
        told: what is wrong with rows and cells, in words, with row as the line in the file and the column's title; at
            most `rustboard.board.weather.MOST_TOLD`.
        missing: of each quantity, rows in the table where its cell is empty or says that there is no reading.
        unusable: of each quantity, rows in the table where its cell holds no number, or one that cannot be true.
        repeated_times: rows in the table whose time was there before. repeated_rows: those of them with the very same
            numbers.
    """

    table: ReadingTable
    left_out: int
    told: tuple[Problem, ...]
    missing: Mapping[Quantity, int]
    unusable: Mapping[Quantity, int]
    repeated_times: int
    repeated_rows: int


@dataclass(frozen=True, slots=True)
class Rows:
    """All lines below the header as they are understood.

    Attributes:
        seconds: by the file's clock, `NO_TIME` where there is no time.
        values: in our units; NaN where there is no number that can be true.
        unreadable: cells that hold no number. beyond: cells whose number cannot be true.
    """

    seconds: Seconds
    values: Mapping[Quantity, Numbers]
    unreadable: Mapping[Quantity, Truths]
    beyond: Mapping[Quantity, Truths]


def read_logger_file(text: LoggerText, options: FileOptions) -> ReadLoggerFile:
    """Read a file. A second or two for a million rows: for a job.

    Raises:
        InputError: the options cannot be (see `rustboard.weather.logger_file.options.check_options`), more than
            `rustboard.board.weather.MOST_READINGS` rows, or no row can be used.
    """
    try:
        check_options(options)
    except InputError as error:
        raise error.located(file=text.name) from None
    if len(text) <= options.header_rows:
        raise text.refusal("There is no row below the titles; say how many lines come before the readings.")
    rows = understood_rows(read_columns(text, options), options)
    timed = rows.seconds != NO_TIME
    numbered = np.zeros(len(timed), np.bool_)
    for each in rows.values.values():
        numbered |= ~np.isnan(each)
    kept = timed & numbered
    left_out = _left_out(text, options, rows, kept)
    told = tuple(_told(text, options, rows, left_out, numbered))
    if not kept.any():
        raise _nothing_read(text, told)
    if int(kept.sum()) > MOST_READINGS:
        raise text.refusal(f"The file has more than {MOST_READINGS:,} readings; split it into several files.")
    return _read(rows, kept, len(left_out), told)


def _nothing_read(text: LoggerText, told: tuple[Problem, ...]) -> InputError:
    first = f" The first: {Problem(told[0].what, '', told[0].row, told[0].column).sentence()}" if told else ""
    return text.refusal(
        "No row can be used as the file is read now; choose other columns, units, separators or another order of "
        f"dates.{first}"
    )


def _read(rows: Rows, kept: Truths, left_out: int, told: tuple[Problem, ...]) -> ReadLoggerFile:
    whole = bool(kept.all())

    def of_kept(each: NDArray[np.generic]) -> NDArray[np.generic]:
        return each if whole else each[kept]

    seconds: Seconds = of_kept(rows.seconds)  # type: ignore[assignment]
    values: dict[Quantity, Numbers] = {}
    missing: dict[Quantity, int] = {}
    unusable: dict[Quantity, int] = {}
    for name, numbers in rows.values.items():
        mine: Numbers = of_kept(numbers)  # type: ignore[assignment]
        none = int(np.isnan(mine).sum())
        unusable[name] = int((rows.unreadable[name] & kept).sum() + (rows.beyond[name] & kept).sum())
        missing[name] = none - unusable[name]
        if none < len(mine):
            values[name] = mine
    table = ReadingTable(seconds, values)
    return ReadLoggerFile(table, left_out, told, missing, unusable, *_repeated(table))


def _repeated(table: ReadingTable) -> tuple[int, int]:
    """Return rows whose time was there before, and those of them that say the same."""
    if len(table) < 2 or bool((np.diff(table.seconds) > 0).all()):
        return 0, 0
    order = np.argsort(table.seconds, kind="stable")
    same = np.diff(table.seconds[order]) == 0
    if not same.any():
        return 0, 0
    again = order[np.append(same, False) | np.append(False, same)]
    columns = [np.nan_to_num(each[again], nan=np.inf) for each in table.values.values()]
    columns.append(table.seconds[again].astype(np.float64))
    by_row = np.lexsort(columns)
    alike = np.ones(len(by_row) - 1, np.bool_)
    for each in columns:
        alike &= each[by_row][1:] == each[by_row][:-1]
    return int(same.sum()), int(alike.sum())


# ---- understanding


def understood_rows(columns: Columns, options: FileOptions) -> Rows:
    """Return what texts and numbers mean."""
    values: dict[Quantity, Numbers] = {}
    beyond: dict[Quantity, Truths] = {}
    for name, numbers in columns.numbers.items():
        (index,) = options.indices(name)
        values[name], beyond[name] = true_numbers(numbers, name, options.columns[index].unit)
    moments = {kind: read_moments(cells, kind, options.date_order) for kind, cells in columns.times.items()}
    return Rows(seconds_by_clock(moments, options.clock), values, columns.unreadable, beyond)


def true_numbers(numbers: Numbers, name: Quantity, unit: str) -> tuple[Numbers, Truths]:
    """Return numbers in our unit, NaN where they cannot be true, and where that is."""
    low, high = QUANTITY_LIMITS[name]
    read = in_our_unit(without_marks(numbers, name, unit), unit)  # type: ignore[arg-type]
    beyond = (read < low) | (read > high)
    if beyond.any():
        read = np.where(beyond, np.nan, read)
    if name == "humidity":
        read = np.minimum(read, _FULL)
    return read, beyond


def seconds_by_clock(moments: Mapping[Kind, Moments], clock: str) -> Seconds:
    """Return the times by a file's clock.

    A difference from UTC that stands with a time counts when the clock is UTC or a fixed difference from it; with any
    other clock the time counts as it was shown.
    """
    seconds = next(iter(moments.values())).seconds
    has_offset = np.zeros(len(seconds), np.bool_)
    offsets = np.zeros(len(seconds), np.int64)
    for each in moments.values():
        has_offset |= each.has_offset
        offsets += each.offsets
    if len(moments) == 2:
        both = (moments["date"].seconds != NO_TIME) & (moments["clock time"].seconds != NO_TIME)
        seconds = np.where(both, moments["date"].seconds + moments["clock time"].seconds, NO_TIME)
    ahead = fixed_difference(clock)
    if ahead is None or not has_offset.any():
        return seconds
    return np.where(has_offset & (seconds != NO_TIME), seconds - offsets + ahead, seconds)


# ---- what is wrong


def _left_out(text: LoggerText, options: FileOptions, rows: Rows, kept: Truths) -> Seconds:
    """Return the places of the lines that are left out and not empty."""
    candidates = np.flatnonzero(~kept)
    starts = text.ends[options.header_rows - 1 : -1] if options.header_rows else np.append(-1, text.ends[:-1])
    lengths = text.ends[options.header_rows :] - starts - 1
    candidates = candidates[lengths[candidates] > 0]
    unsure = (rows.seconds[candidates] == NO_TIME) & (lengths[candidates] < 200)
    empty = [
        _NOTHING_BUT_MARKS.fullmatch(text.line(options.header_rows + 1 + int(place))) is not None if look else False
        for place, look in zip(candidates, unsure, strict=True)
    ]
    return candidates[~np.array(empty, np.bool_)]


def _told(
    text: LoggerText, options: FileOptions, rows: Rows, left_out: Seconds, numbered: Truths
) -> Iterator[Problem]:
    """Yield the first problems by row, in words."""
    timed = rows.seconds != NO_TIME
    wrong = np.zeros(len(timed), np.bool_)
    for name in rows.values:
        wrong |= rows.unreadable[name] | rows.beyond[name]
    wrong &= timed
    wrong[left_out] = True
    count = 0
    for place in np.flatnonzero(wrong)[:MOST_TOLD]:
        for problem in _row_told(text, options, rows, int(place), bool(timed[place])):
            count += 1
            if count > MOST_TOLD:
                return
            yield problem


def _row_told(text: LoggerText, options: FileOptions, rows: Rows, place: int, timed: bool) -> Iterator[Problem]:
    row = options.header_rows + 1 + place
    cells = split_line(text.line(row), options.delimiter)

    def problem(index: int, what: str) -> Problem:
        title = options.columns[index].title if index < len(options.columns) else ""
        return Problem(what, text.name, row, title or str(index + 1))

    if not timed:
        yield problem(*_time_told(cells, options))
        return
    said = False
    for name in rows.values:
        (index,) = options.indices(name)
        shown = quoted(cells[index] if index < len(cells) else "")
        if rows.unreadable[name][place]:
            said = True
            yield problem(index, _unreadable(cells[index] if index < len(cells) else "", options, index))
        elif rows.beyond[name][place]:
            said = True
            low, high = QUANTITY_LIMITS[name]
            told = f"{shown} cannot be true: {name} is from {low:g} to {high:,g} {UNITS_OF[name][0]}"
            yield problem(index, f"{told}; the reading was left out.")
    if not said:
        yield Problem("The row holds no reading and was left out.", text.name, row)


def _unreadable(cell: str, options: FileOptions, index: int) -> str:
    other = "," if options.decimal_mark == "." else "."
    named = "comma" if options.decimal_mark == "," else "point"
    if number_in(cell.replace(other, ""), options.decimal_mark, options.columns[index].unit) is not None:
        return (
            f"{quoted(cell)} is not a number when the decimal mark is a {named}, and no mark may part thousands; "
            "the reading was left out."
        )
    return f"{quoted(cell)} is not a number; the reading was left out."


def _time_told(cells: list[str], options: FileOptions) -> tuple[int, str]:
    index = 0
    what = "There is no time here; the row was left out."
    for kind in KINDS:
        for index in options.indices(kind):
            cell = cells[index] if index < len(cells) else ""
            read = read_moments(as_bytes([cell], 128), kind, options.date_order)
            if read.seconds[0] == NO_TIME or len(cell) > 60:
                return index, why_no_time(cell, kind, options.date_order)
    return index, what
