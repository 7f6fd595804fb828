"""Which columns of a logger's file hold the times."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final, NamedTuple

from rustboard.weather.logger_file.moment_shapes import Kind
from rustboard.weather.logger_file.sample import is_bare_number, is_time, shape_in
from rustboard.weather.logger_file.titles import is_time_title

_MOST: Final = 0.6
"""Share of rows in which a column must look like times: the others may be a broken tail or a second table."""
_MOST_COLUMNS_LOOKED_AT: Final = 60
_MIDNIGHTS: Final = ("00:00", "0:00", "00:00:00", "12:00 am", "12:00:00 am")


class TimeColumns(NamedTuple):
    """Where the times are.

    Attributes:
        columns: place of each kind.
        others: places of further columns that hold dates and times.
    """

    columns: Mapping[Kind, int]
    others: tuple[int, ...] = ()


def find_times(rows: Sequence[Sequence[str]], titles: Sequence[str] = ()) -> TimeColumns | None:
    """Return where the times are in some rows, or None when no column holds any.

    Args:
        rows: of cells.
        titles: of the columns, if they are known: a bare number is taken for a time where its title says so, or where
            the column is the first.
    """
    if not rows:
        return None
    width = min(max(map(len, rows)), _MOST_COLUMNS_LOOKED_AT)
    columns = [[row[index] if index < len(row) else "" for row in rows] for index in range(width)]

    def places(test: Callable[[str], bool]) -> list[int]:
        return [index for index, cells in enumerate(columns) if _share(cells, test) >= _MOST]

    dates = places(_is_date)
    clocks = [index for index in places(_is_clock) if index not in dates]
    whole = [index for index in dates if _share(columns[index], _has_clock) >= _MOST / 2]
    if whole and not (clocks and all(map(_is_midnight, columns[whole[0]]))):
        return TimeColumns({"time": whole[0]}, tuple(whole[1:]))
    if dates:
        clock = _clock_beside(dates[0], clocks, columns, titles)
        return TimeColumns({"date": dates[0], "clock time": clock} if clock is not None else {"time": dates[0]})
    return _bare(columns, clocks, titles)


def _share(cells: Sequence[str], test: Callable[[str], bool]) -> float:
    filled = [each for each in cells if each]
    return sum(map(test, filled)) / len(cells) if filled else 0.0


def _is_date(cell: str) -> bool:
    return not is_bare_number(cell) and is_time(cell, "time")


def _is_clock(cell: str) -> bool:
    return not is_bare_number(cell) and is_time(cell, "clock time")


def _has_clock(cell: str) -> bool:
    found = shape_in(cell, "time")
    return found is not None and found.hour is not None


def _is_midnight(cell: str) -> bool:
    return not cell or cell.casefold().endswith(_MIDNIGHTS)


def _clock_beside(
    date: int, clocks: Sequence[int], columns: Sequence[Sequence[str]], titles: Sequence[str]
) -> int | None:
    """Return the column with the times of day that belongs to a column of dates."""
    if clocks:
        return min(clocks, key=lambda each: (abs(each - date), each < date))
    for index in (date + 1, date - 1):
        titled = 0 <= index < len(titles) and is_time_title(titles[index])
        if titled and index < len(columns) and _share(columns[index], _is_clock_number) >= _MOST:
            return index
    return None


def _is_clock_number(cell: str) -> bool:
    return is_time(cell, "clock time")


def _bare(columns: Sequence[Sequence[str]], clocks: Sequence[int], titles: Sequence[str]) -> TimeColumns | None:
    """Return where times are written as numbers: 20260302, seconds since 1970, days as spreadsheets count them."""
    for index, cells in enumerate(columns):
        titled = index < len(titles) and is_time_title(titles[index])
        if not (titled or (index == 0 and not any(titles))) or _share(cells, _is_date_number) < _MOST:
            continue
        shape = next(found for each in cells if (found := shape_in(each, "time")) is not None)
        if shape.hour is None and not shape.count:
            clock = _clock_beside(index, clocks, columns, titles)
            return TimeColumns({"date": index, "clock time": clock} if clock is not None else {"time": index})
        if shape.count == "days" and clocks and all(each.isdigit() for each in cells if each):
            return TimeColumns({"date": index, "clock time": clocks[0]})
        return TimeColumns({"time": index})
    return None


def _is_date_number(cell: str) -> bool:
    return is_time(cell, "time")
