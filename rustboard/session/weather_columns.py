"""The columns of a logger's file when a person says otherwise how its lines are parted, or brings a file like it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from rustboard.weather.logger_file.cells import KINDS, split_line
from rustboard.weather.logger_file.decode import LoggerText
from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.moments import NO_TIME, as_bytes, read_moments
from rustboard.weather.logger_file.options import (
    MOST_COLUMNS,
    MOST_HEADER_ROWS,
    Column,
    DateOrder,
    Delimiter,
    FileOptions,
    Role,
    fitting_unit,
)
from rustboard.weather.logger_file.titles import is_time_title, meaning

_SAMPLE: Final = 40
_LONGEST_TIME: Final = 128


def laid_anew(
    text: LoggerText, options: FileOptions, *, delimiter: Delimiter | None = None, header_rows: int | None = None
) -> FileOptions:
    """Return the options for the same file with another mark between cells, or other lines before the readings.

    Columns that have the title of one before keep what it held; the others hold what their titles and their first
    cells say.
    """
    rows = options.header_rows if header_rows is None else max(0, min(header_rows, MOST_HEADER_ROWS, len(text) - 1))
    mark = delimiter or options.delimiter
    sample = _sample(text, rows, mark)
    width = min(MOST_COLUMNS, max((len(each) for each in sample), default=1))
    title_row = _title_row(text, rows, mark, width)
    titles = split_line(text.line(title_row), mark)[:width] if title_row else []
    titles += [""] * (width - len(titles))
    columns = _columns(titles, sample, options)
    return replace(options, delimiter=mark, header_rows=rows, title_row=title_row, columns=columns)


def laid_like(text: LoggerText, like: FileOptions) -> FileOptions | None:
    """Return options that another file was read with where this file has the same titles; else None."""
    if len(text) <= like.header_rows:
        return None
    titles = [each.title for each in like.columns]
    if like.title_row:
        found = split_line(text.line(like.title_row), like.delimiter)
        return like if found[: len(titles)] == titles else None
    sample = _sample(text, like.header_rows, like.delimiter)
    same = any(len(each) == len(titles) for each in sample)
    return like if same and not any(titles) and _columns(titles, sample, like) == like.columns else None


def _sample(text: LoggerText, header_rows: int, delimiter: Delimiter) -> list[list[str]]:
    lines = (text.line(number) for number in range(header_rows + 1, min(len(text), header_rows + _SAMPLE) + 1))
    return [split_line(each, delimiter) for each in lines if each.strip()]


def _title_row(text: LoggerText, header_rows: int, delimiter: Delimiter, width: int) -> int:
    """Return the last line before the readings that has a title for every column, or nearly so; 0 = none has."""
    for number in range(header_rows, 0, -1):
        cells = split_line(text.line(number), delimiter)
        if len(cells) >= max(1, width - 1) and any(is_time_title(each) or meaning(each) for each in cells):
            return number
    return 0


def _columns(titles: Sequence[str], sample: Sequence[Sequence[str]], options: FileOptions) -> tuple[Column, ...]:
    known = {each.title: each for each in options.columns if each.title and each.role != "ignored"}
    columns: list[Column] = []
    taken: set[Role] = set()
    for index, title in enumerate(titles):
        cells = [each[index] for each in sample if index < len(each) and each[index]]
        found = known.get(title) or _by_content(title, cells, options.date_order)
        if found.role in taken or (found.role in KINDS and taken & _against(found.role)):
            found = Column(title)
        if found.role != "ignored":
            taken.add(found.role)
        columns.append(replace(found, title=title))
    return tuple(columns)


def _against(role: Role) -> frozenset[Role]:
    """Return the columns of times that cannot stand beside one of this role."""
    return frozenset({"date", "clock time"}) if role == "time" else frozenset({"time"})


def _by_content(title: str, cells: Sequence[str], order: DateOrder) -> Column:
    kind = _kind_of(cells, order)
    if kind is not None and (not title or is_time_title(title) or meaning(title) is None):
        return Column(title, kind)
    said = meaning(title) if title else None
    return Column(title) if said is None else Column(title, said.role, fitting_unit(said.role, said.unit))


def _kind_of(cells: Sequence[str], order: DateOrder) -> Kind | None:
    """Return what kind of time the cells of a column hold, or None."""
    if not cells:
        return None
    for kind in KINDS:
        read = read_moments(as_bytes(list(cells), _LONGEST_TIME), kind, order)
        if int((read.seconds != NO_TIME).sum()) * 2 > len(cells):
            return kind
    return None
