"""A guess how a logger's file is written, and what is not certain in it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rustboard.board.cells import quoted
from rustboard.support.text import counted, one_line
from rustboard.weather.logger_file.cells import split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.guess_columns import Finding, cells_of, find_quantities
from rustboard.weather.logger_file.guess_dates import Order, guess_order
from rustboard.weather.logger_file.guess_head import find_clock, find_logger, find_titles, units_beside
from rustboard.weather.logger_file.guess_times import TimeColumns, find_times
from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.options import (
    MOST_COLUMNS,
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


def guess_options(text: LoggerText) -> Guess:
    """Guess how a file is written, from a sample of its lines.

    Raises:
        InputError: no line holds a time, or none holds a number beside it: this is no file of readings.
    """
    delimiter, times = _structure(text)
    header_rows = _header_rows(text, delimiter, times)
    sample = rows_below(text, header_rows, delimiter)
    width = min(Counter(map(len, sample.rows)).most_common(1)[0][0], MOST_COLUMNS)
    width = max(width, *(index + 1 for index in times.columns.values()))
    title_row = find_titles(sample.head, width)
    titles, doubts = _titles(sample, title_row, width, times, text)
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
        raise text.refusal(
            "No column can be told to hold temperature, humidity, rain or wind; put titles above the columns, such "
            "as “time, temperature C, humidity %”, or say which column holds what."
        )
    order, order_doubt = _date_order(sample, times)
    clock, clock_doubt = _clock(sample, times)
    options = FileOptions(
        delimiter, mark, header_rows, title_row, order, _columns(titles, times, finding), clock,
        find_logger(sample.head, title_row),
    )  # fmt: skip
    doubts += [mark_doubt, order_doubt, *finding.doubts, clock_doubt, *_doubts_of_times(sample, times, titles)]
    return Guess(options, tuple(one_line(each) for each in doubts if each))


def _cell(row: Sequence[str], index: int) -> str:
    return row[index] if index < len(row) else ""


# ---- how lines are parted


def _structure(text: LoggerText) -> tuple[Delimiter, TimeColumns]:
    """Return the delimiter and where the times are."""
    lines = some_lines(text)
    top = [text.line(number) for number in range(1, min(len(text), _LINES_WITH_TITLES) + 1)]
    best: tuple[float, Delimiter, TimeColumns] | None = None
    with_times = False
    first = (text.hint,) if text.hint is not None else ()
    for delimiter in (*first, *_BY_PREFERENCE):
        titles = max((split_line(each, delimiter) for each in top), key=known_titles)
        for part in (lines, lines[len(lines) // 2 :], lines[-max(1, len(lines) // 4) :]):  # a short file is half head
            rows = [split_line(each, delimiter) for each in part]
            times = find_times(rows, titles if known_titles(titles) else ())
            if times is not None:
                with_times = True
                score = sum(_is_row(each, times) for each in rows) / len(rows)
                if score and (best is None or score > best[0]):
                    best = (score, delimiter, times)
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
    return any(is_value(each) or each[:1].isdigit() for index, each in enumerate(cells) if index not in held and each)


def _header_rows(text: LoggerText, delimiter: Delimiter, times: TimeColumns) -> int:
    for number in range(1, most_lines_of_head(text) + 1):
        if _is_row(split_line(text.line(number), delimiter), times):
            return number - 1
    raise text.refusal("There are too many lines before the first reading; delete those above the titles.")


def _titles(
    sample: Sample, title_row: int, width: int, times: TimeColumns, text: LoggerText
) -> tuple[list[str], list[str]]:
    """Return the titles of all columns, and doubts about them."""
    if not title_row:
        return [""] * width, []
    titles = [each.lstrip("#").strip() for each in sample.head[title_row - 1]]
    if sample.delimiter == " " and len(titles) != width:
        titles = _titles_of_blanks(text.line(title_row), width, titles)
    while titles and not titles[-1]:
        titles.pop()
    doubts = []
    if len(titles) == width - 1 and set(times.columns) == {"date", "clock time"} and sample.delimiter == " ":
        place = min(times.columns.values())
        titles.insert(place + 1, titles[place])
    filled = max((index + 1 for row in sample.rows[:200] for index, each in enumerate(row) if each), default=0)
    if len(titles) < filled and sample.delimiter == ",":
        doubts.append(
            f"The rows have {filled} cells and there are only {counted(len(titles), 'title')}; if commas are decimal "
            "marks too, export the file with semicolons."
        )
    elif sample.delimiter == " " and len(titles) != width:
        doubts.append("The titles do not stand above the columns one by one; look which column holds what.")
    titles = [one_line(each) for each in titles[:width]]
    return titles + [""] * (width - len(titles)), doubts


def _titles_of_blanks(line: str, width: int, otherwise: list[str]) -> list[str]:
    """Return titles with blanks in them, which stand at least two blanks or a tab apart."""
    wide = [each.strip() for each in re.split(r"\s{2,}|\t", line.strip().lstrip("#").strip())]
    return wide if len(wide) in (width, width - 1) else otherwise


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


def _clock(sample: Sample, times: TimeColumns) -> tuple[str, str]:
    """Return what the times are told by, and a doubt about it."""
    for kind in times.columns:
        shapes = [shape_in(each, kind) for each in _texts(sample.some(), times, kind)]
        told = [each is not None and each.offset is not None for each in shapes]
        if any(told):
            some = (
                "" if all(told) else "Some times say how far they are from UTC and some do not; those count as UTC."
            )
            return "UTC", some
        if any(each is not None and each.count in ("seconds", "milliseconds") for each in shapes):
            return "UTC", (
                "The times are seconds since 1970, which is UTC unless the logger counts by a clock of its own."
            )
    return find_clock(sample.head), ""


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
