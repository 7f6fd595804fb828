"""A guess how a logger's file is written, and what is not certain in it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from rustboard.board.cells import quoted
from rustboard.support.text import one_line
from rustboard.weather.logger_file.cells import split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.guess_columns import Finding, cells_of, find_quantities
from rustboard.weather.logger_file.guess_dates import Order, guess_order
from rustboard.weather.logger_file.guess_head import find_clock, find_logger, find_titles, units_beside
from rustboard.weather.logger_file.guess_times import TimeColumns, find_times
from rustboard.weather.logger_file.guess_titles import named_in_rows, titles_above
from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.options import (
    MOST_COLUMNS,
    MOST_HEADER_ROWS,
    Column,
    DecimalMark,
    Delimiter,
    FileOptions,
    Role,
    Unit,
)
from rustboard.weather.logger_file.sample import (
    Sample,
    is_time,
    is_value,
    most_lines_of_head,
    rows_below,
    shape_in,
    some_lines,
)
from rustboard.weather.logger_file.titles import known_titles

_LINES_WITH_TITLES: Final = 60
_ENOUGH_HOURS: Final = 24
_BY_PREFERENCE: Final[tuple[Delimiter, ...]] = (";", "\t", "|", ",", " ")
_COMMA: Final = re.compile(r"[+-]?[0-9]*,[0-9]+\D*")
_POINT: Final = re.compile(r"[+-]?[0-9]*\.[0-9]+\D*")
_OF_UTC: Final = re.compile(r"(?:utc|gmt)$", re.IGNORECASE)
_HALF_ALONE: Final = re.compile(r"[AaPp]\.?[Mm]\.?")


@dataclass(frozen=True, slots=True)
class Guess:
    """What a file seems to be.

    Attributes:
        options: the best guess.
        doubts: what the file does not settle, one plain sentence each; empty when all is settled.
    """

    options: FileOptions
    doubts: tuple[str, ...] = ()


def guess_options(text: LoggerText, delimiter: Delimiter | None = None) -> Guess:
    """Guess how a file is written, from a sample of its lines.

    Where no title and no numbers tell what the columns hold, that is a doubt and all but the times are ignored.

    Args:
        text: the file.
        delimiter: where a person has said what stands between the cells; all else is guessed.

    Raises:
        InputError: no line holds a time, or none holds a number beside it: this is no file of readings.
    """
    delimiter, times = _structure(text, _BY_PREFERENCE if delimiter is None else (delimiter,))
    header_rows = _header_rows(text, delimiter, times)
    sample = rows_below(text, header_rows, delimiter)
    width, title_row = _width(sample, times)
    titles, doubts = titles_above(sample, title_row, width, times, text)
    mark, mark_doubt = _decimal_mark(sample, times, width)
    units = units_beside(sample.head, title_row, width)
    columns = {
        index: cells_of(
            index,
            titles[index],
            [_cell(row, index) for row in sample.some()],
            [_cell(row, index) for row in sample.first],
            mark,
        )
        for index in range(width)
        if index not in times.columns.values() and index not in times.others
    }
    finding = find_quantities(columns, units)
    if not finding.roles:
        finding.doubts.append("No column can be told to hold temperature, humidity, rain or wind; say which does.")
    order, order_doubt = _date_order(sample, times)
    clock, clock_doubt = _clock(sample, times, titles)
    logger = find_logger(sample.head, title_row) or named_in_rows(titles, sample)
    held = _columns(titles, times, finding)
    options = FileOptions(delimiter, mark, header_rows, title_row, order, held, clock, logger)
    doubts += [mark_doubt, order_doubt, *finding.doubts, clock_doubt, *_doubts_of_times(sample, times, titles)]
    return Guess(options, tuple(one_line(each) for each in doubts if each))


def _width(sample: Sample, times: TimeColumns) -> tuple[int, int]:
    """Return how many columns there are, and which line holds their titles."""
    usual = Counter(map(len, sample.rows)).most_common(1)[0][0]
    width = max([usual, *(index + 1 for index in times.columns.values())])
    title_row = find_titles(sample.head, width)
    if title_row and sample.delimiter != " ":  # rows may end early where nothing was read
        filled = [index + 1 for index, each in enumerate(sample.head[title_row - 1]) if each]
        width = max([width, *filled])
    return min(width, MOST_COLUMNS), title_row


def with_titles(text: LoggerText, options: FileOptions, header_rows: int, title_row: int) -> FileOptions:
    """Return options in which a person has said where the readings begin and which line holds the titles.

    The roles of the columns stay. Columns are added where the rows or the titles have more cells.

    Args:
        text: the file.
        options: to be changed.
        header_rows: lines before the first reading.
        title_row: the line with the titles, 1 = the first, or 0; one that is no line before the readings counts as 0.
    """
    header_rows = min(header_rows, MOST_HEADER_ROWS, len(text) - 1)
    title_row = title_row if 0 < title_row <= header_rows else 0
    titles = split_line(text.line(title_row), options.delimiter) if title_row else []
    below = range(header_rows + 1, min(len(text), header_rows + _LINES_WITH_TITLES) + 1)
    widest = max(len(split_line(text.line(each), options.delimiter)) for each in below)
    width = min(max(len(options.columns), len(titles), widest), MOST_COLUMNS)
    old = (*options.columns, *[Column("")] * (width - len(options.columns)))
    columns = tuple(replace(each, title=one_line(_cell(titles, index))) for index, each in enumerate(old))
    return replace(options, header_rows=header_rows, title_row=title_row, columns=columns)


def _cell(row: Sequence[str], index: int) -> str:
    return row[index] if index < len(row) else ""


# ---- how lines are parted


def _structure(text: LoggerText, delimiters: Sequence[Delimiter]) -> tuple[Delimiter, TimeColumns]:
    """Return the delimiter, one of some, and where the times are."""
    lines = some_lines(text)
    top = [text.line(number) for number in range(1, min(len(text), _LINES_WITH_TITLES) + 1)]
    best: tuple[float, Delimiter, TimeColumns] | None = None
    with_times = False
    first = [text.hint] if text.hint is not None and text.hint in delimiters else []
    for delimiter in (*first, *delimiters):
        titles = max((split_line(each, delimiter) for each in top), key=known_titles)
        for part in (lines, lines[len(lines) // 2 :], lines[-max(1, len(lines) // 4) :]):  # a short file is half head
            rows = [split_line(each, delimiter) for each in part]
            times = find_times(rows, titles if known_titles(titles) else ())
            if times is not None:
                with_times = True
                score = sum(_is_row(each, times) for each in rows) / len(rows)
                if score and (best is None or score > best[0]):
                    best = (score, delimiter, times)
                if score:
                    break
    if best is None:
        raise text.refusal(_NO_NUMBERS if with_times else _NO_TIMES)
    return best[1], best[2]


_NO_TIMES: Final = (
    "No column of this file holds the time of readings; each row needs a date and time and the numbers read then."
)
_NO_NUMBERS: Final = "No column of this file holds numbers beside the times; export the readings as a table."


def _is_row(cells: Sequence[str], times: TimeColumns) -> bool:
    """Return whether a row has a time and something read."""
    held = times.columns.values()
    for kind, index in times.columns.items():
        if not is_time(_cell(cells, index), kind):
            return False
    return any(each and is_value(each) for index, each in enumerate(cells) if index not in held)


def _header_rows(text: LoggerText, delimiter: Delimiter, times: TimeColumns) -> int:
    for number in range(1, most_lines_of_head(text) + 1):
        if _is_row(split_line(text.line(number), delimiter), times):
            return number - 1
    raise text.refusal("There are too many lines before the first reading; delete those above the titles.")


def _columns(titles: Sequence[str], times: TimeColumns, finding: Finding) -> tuple[Column, ...]:
    held: dict[int, tuple[Role, Unit]] = {index: (kind, "") for kind, index in times.columns.items()}
    held |= finding.roles
    return tuple(Column(title, *held.get(index, ("ignored", ""))) for index, title in enumerate(titles))


# ---- numbers and times


def _decimal_mark(sample: Sample, times: TimeColumns, width: int) -> tuple[DecimalMark, str]:
    held = times.columns.values()
    cells = [each for row in sample.some() for index, each in enumerate(row[:width]) if index not in held and each]
    commas = sum(_COMMA.fullmatch(each) is not None for each in cells)
    points = sum(_POINT.fullmatch(each) is not None for each in cells)
    if commas and points:
        told = "comma" if commas > points else "point"
        doubt = (
            f"Some numbers have a decimal comma and some a decimal point; the {told} is taken, the others are lost."
        )
        return ("," if commas > points else "."), doubt
    return ("," if commas else "."), ""


def _date_order(sample: Sample, times: TimeColumns) -> Order:
    kind: Kind = "time" if "time" in times.columns else "date"
    return guess_order(_texts(sample.rows, times, kind), kind)


def _texts(rows: Sequence[Sequence[str]], times: TimeColumns, kind: Kind) -> list[str]:
    """Return what looks like times in the column of a kind."""
    index = times.columns[kind]
    return [row[index] for row in rows if index < len(row) and shape_in(row[index], kind) is not None]


def _clock(sample: Sample, times: TimeColumns, titles: Sequence[str]) -> tuple[str, str]:
    """Return what the times are told by, and a doubt about it."""
    for kind in times.columns:
        shapes = [shape_in(each, kind) for each in _texts(sample.some(), times, kind)]
        told = [each is not None and each.offset is not None for each in shapes]
        if any(told):
            some = (
                "" if all(told) else "Some times say how far they are from UTC and some do not; those count as UTC."
            )
            return "UTC", some
        if any(each is not None and each.count for each in shapes) and _counts(sample, times, kind):
            return "UTC", (
                "The times are seconds since 1970, which is UTC unless the logger counts by a clock of its own."
            )
    named = any(_OF_UTC.search(titles[index]) for index in times.columns.values())
    return find_clock(sample.head) or ("UTC" if named else ""), ""


def _counts(sample: Sample, times: TimeColumns, kind: Kind) -> bool:
    return read_moments(as_bytes(_texts(sample.some(), times, kind)), kind, "day first").counts


def _doubts_of_times(sample: Sample, times: TimeColumns, titles: Sequence[str]) -> list[str]:
    doubts = []
    held = [*times.columns.values(), *times.others]
    if times.others:
        first, second = (quoted(titles[each] or f"column {each + 1}") for each in (held[0], times.others[0]))
        doubts.append(f"{first} and {second} both hold times; {first} is taken.")
    last = max(times.columns.values())
    if any(_HALF_ALONE.fullmatch(_cell(row, last + 1)) for row in sample.rows[:_LINES_WITH_TITLES]):
        doubts.append(
            "AM or PM stands in a cell of its own, which cannot be read, so hours after noon come out wrong; export "
            "the times with 24 hours, or with AM and PM in the same cell."
        )
    elif _may_lack_halves(sample, times):
        doubts.append("No hour is before 1 or after 12; if AM and PM were lost in the export, export the file anew.")
    return doubts


def _may_lack_halves(sample: Sample, times: TimeColumns) -> bool:
    """Return whether the hours run only from 1 to 12, in a file long enough to have others."""
    kind: Kind = "time" if "time" in times.columns else "clock time"
    texts = _texts(sample.some(), times, kind)
    if len(texts) < _ENOUGH_HOURS or any(
        (found := shape_in(each, kind)) is not None and found.half for each in texts
    ):
        return False
    seconds = read_moments(as_bytes(texts), kind, "day first").seconds
    seconds = seconds[seconds != NO_TIME]
    hours = set((seconds % 86_400 // 3_600).tolist())
    return len(hours) == 12 and hours == set(range(1, 13))
