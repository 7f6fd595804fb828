"""The columns of a logger's file where a person says otherwise how it is written, or brings another like it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

from rustboard.board.cells import identity, quoted
from rustboard.support.problems import InputError
from rustboard.weather.logger_file.cells import KINDS, split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.guess_head import find_titles, units_beside
from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.options import (
    DATE_ORDERS,
    MOST_COLUMNS,
    MOST_HEADER_ROWS,
    Column,
    DateOrder,
    DecimalMark,
    Delimiter,
    FileOptions,
    Role,
    Unit,
    fitting_unit,
)
from rustboard.weather.logger_file.titles import is_time_title, meaning

_SAMPLE: Final = 40
_LONGEST_TIME: Final = 128
_LOOKED_THROUGH: Final = 200
_DAY_SECONDS: Final = 86_400


@dataclass(frozen=True, slots=True)
class SaidColumn:
    """What a person says of one column.

    Attributes:
        name: its title, or its number from the left, 1 = the first.
    """

    name: str
    role: Role
    unit: Unit = ""


@dataclass(frozen=True, slots=True)
class OptionChanges:
    """What a person says of a file; None = as it was guessed. Fields as those of `FileOptions`."""

    delimiter: Delimiter | None = None
    decimal_mark: DecimalMark | None = None
    date_order: DateOrder | None = None
    clock: str | None = None
    header_rows: int | None = None
    logger: str | None = None
    columns: tuple[SaidColumn, ...] = ()


NO_CHANGES: Final = OptionChanges()


def with_changes(text: LoggerText, options: FileOptions, changes: OptionChanges) -> FileOptions:
    """Return options with what a person says of the file.

    Raises:
        InputError: the file has no such column.
    """
    if changes.delimiter is not None or changes.header_rows is not None:
        options = laid_anew(text, options, delimiter=changes.delimiter, header_rows=changes.header_rows)
    options = replace(
        options,
        decimal_mark=changes.decimal_mark or options.decimal_mark,
        date_order=changes.date_order or options.date_order,
        clock=options.clock if changes.clock is None else changes.clock,
        logger=options.logger if changes.logger is None else changes.logger,
    )
    for each in changes.columns:
        options = with_role(options, _index_of(options, each.name, text.name), each.role, each.unit)
    return options


def open_doubts(
    doubts: Sequence[str], guessed: FileOptions, options: FileOptions, said: OptionChanges = NO_CHANGES
) -> tuple[str, ...]:
    """Return the doubts of a guess that are not settled by what a person has said since.

    A doubt about the order of dates, the decimal mark or a column goes when that was said; the others stay.
    """
    settled: list[str] = []
    if said.date_order is not None or options.date_order != guessed.date_order:
        settled += [f"have the {each}" for each in DATE_ORDERS]
    if said.decimal_mark is not None or options.decimal_mark != guessed.decimal_mark:
        settled.append("decimal comma")
    named = {identity(each.name.strip()) for each in said.columns}
    for number, column in enumerate(guessed.columns, 1):
        told = identity(column.title) in named or str(number) in named
        if column.title and (told or column not in options.columns):
            settled.append(f"{quoted(column.title)} ")
    return tuple(each for each in doubts if not any(words in each for words in settled))


def with_role(options: FileOptions, index: int, role: Role, unit: Unit = "") -> FileOptions:
    """Return the same with another role for one column; columns of times that cannot stand beside it are ignored."""
    if role in KINDS:
        against = _against(role)
        freed = tuple(Column(each.title) if each.role in against else each for each in options.columns)
        options = replace(options, columns=freed)
    return options.with_column(index, role, unit)


def _index_of(options: FileOptions, name: str, file: str) -> int:
    wanted = identity(name.strip())
    found = [number for number, each in enumerate(options.columns) if identity(each.title) == wanted]
    if not found and name.strip().isdecimal() and 1 <= int(name) <= len(options.columns):
        found = [int(name) - 1]
    if not found:
        titles = ", ".join(each.title or str(number) for number, each in enumerate(options.columns[:12], 1))
        raise InputError(f"There is no column “{name[:60]}”; the columns are {titles}.", file=file)
    return found[0]


# ---- laid out anew


def laid_anew(
    text: LoggerText, options: FileOptions, *, delimiter: Delimiter | None = None, header_rows: int | None = None
) -> FileOptions:
    """Return the options for the same file with another mark between cells, or other lines before the readings.

    Columns that have the title of one before keep what it held; the others hold what their titles and their first
    cells say.
    """
    rows = options.header_rows if header_rows is None else header_rows
    rows = max(0, min(rows, MOST_HEADER_ROWS, len(text) - 1))
    mark = delimiter or options.delimiter
    sample = _sample(text, rows, mark)
    width = min(MOST_COLUMNS, max((len(each) for each in sample), default=1))
    head = [split_line(text.line(number), mark) for number in range(1, rows + 1)]
    title_row = find_titles(head, width)
    titles = head[title_row - 1][:width] if title_row else []
    titles = [*titles, *[""] * (width - len(titles))]
    columns = _columns(titles, units_beside(head, title_row, width), sample, options)
    return replace(options, delimiter=mark, header_rows=rows, title_row=title_row, columns=columns)


def bare_options(text: LoggerText) -> FileOptions | None:
    """Return how a file is laid out of which nobody can say which column holds what; None without any time in it."""
    for number in range(1, min(len(text), _LOOKED_THROUGH) + 1):
        line = text.line(number)
        marks = (text.hint,) if text.hint else tuple(each for each in _BY_PREFERENCE if each in line)
        for mark in marks:
            cells = split_line(line, mark)
            if any(_kind_of([each], order) in ("time", "date") for each in cells if each for order in _ORDERS):
                empty = FileOptions(mark, "." if mark == "," else ",", 0, 0, _ORDERS[0], ())
                options = laid_anew(text, empty, delimiter=mark, header_rows=number - 1)
                return replace(options, decimal_mark="," if mark != "," and _has_comma(text, options) else ".")
    return None


_BY_PREFERENCE: Final[tuple[Delimiter, ...]] = (";", "\t", "|", ",", " ")
_ORDERS: Final[tuple[DateOrder, ...]] = ("day first", "month first", "year first")


def _has_comma(text: LoggerText, options: FileOptions) -> bool:
    return any("," in cell for row in _sample(text, options.header_rows, options.delimiter) for cell in row)


def laid_by(text: LoggerText, kept: FileOptions, guessed: FileOptions) -> FileOptions:
    """Return a kept profile's options for a file that a person says is such a file, whatever its columns are."""
    options = replace(kept, logger=kept.logger or guessed.logger, clock=kept.clock or guessed.clock)
    if [each.title for each in kept.columns] == [each.title for each in guessed.columns]:
        return replace(options, header_rows=guessed.header_rows, title_row=guessed.title_row)
    same = kept.delimiter == guessed.delimiter
    return laid_anew(text, options, header_rows=guessed.header_rows if same else kept.header_rows)


def laid_like(text: LoggerText, like: FileOptions) -> FileOptions | None:
    """Return options that another file was read with where this file has the same titles; else None."""
    if len(text) <= like.header_rows:
        return None
    titles = [each.title for each in like.columns]
    if like.title_row:
        found = split_line(text.line(like.title_row), like.delimiter)
        return like if found[: len(titles)] == titles else None
    sample = _sample(text, like.header_rows, like.delimiter)
    return like if any(len(each) == len(titles) for each in sample) and _fits(sample, like) else None


def _fits(sample: Sequence[Sequence[str]], like: FileOptions) -> bool:
    """Return whether the columns of times hold times here too."""
    for kind in KINDS:
        for index in like.indices(kind):
            if _kind_of([each[index] for each in sample if index < len(each)], like.date_order) != kind:
                return False
    return True


def _sample(text: LoggerText, header_rows: int, delimiter: Delimiter) -> list[list[str]]:
    lines = (text.line(number) for number in range(header_rows + 1, min(len(text), header_rows + _SAMPLE) + 1))
    return [split_line(each, delimiter) for each in lines if each.strip()]


def _columns(
    titles: Sequence[str], units: Sequence[Unit], sample: Sequence[Sequence[str]], options: FileOptions
) -> tuple[Column, ...]:
    known = {each.title: each for each in options.columns if each.title and each.role != "ignored"}
    columns: list[Column] = []
    taken: set[Role] = set()
    for index, title in enumerate(titles):
        cells = [each[index] for each in sample if index < len(each) and each[index]]
        found = known.get(title) or _by_content(title, units[index], cells, options.date_order)
        if found.role in taken or taken & _against(found.role):
            found = Column(title)
        if found.role != "ignored":
            taken.add(found.role)
        columns.append(replace(found, title=title))
    return tuple(columns)


def _against(role: Role) -> frozenset[Role]:
    """Return the columns of times that cannot stand beside one of this role."""
    if role == "time":
        return frozenset({"date", "clock time"})
    return frozenset({"time"}) if role in KINDS else frozenset()


def _by_content(title: str, unit: Unit, cells: Sequence[str], order: DateOrder) -> Column:
    said = meaning(title, unit) if title else None
    if said is None or is_time_title(title):
        kind = _kind_of(cells, order)
        return Column(title) if kind is None else Column(title, kind)
    return Column(title, said.role, fitting_unit(said.role, said.unit))


def _kind_of(cells: Sequence[str], order: DateOrder) -> Kind | None:
    """Return what kind of time the cells of a column hold, or None."""
    filled = [each for each in cells if each and not _is_plain_number(each)]
    for kind in KINDS if filled else ():
        seconds = read_moments(as_bytes(filled, _LONGEST_TIME), kind, order).seconds
        good = seconds[seconds != NO_TIME]
        if len(good) * 2 > len(cells):
            has_hours = bool((good % _DAY_SECONDS).any()) or any(":" in each for each in filled)
            return "date" if kind == "time" and not has_hours else kind
    return None


def _is_plain_number(cell: str) -> bool:
    """Return whether a cell is a number alone, which may count days or seconds but is far more often a reading."""
    return cell.replace(",", "", 1).replace(".", "", 1).lstrip("+-").isdecimal() and len(cell) < 10
