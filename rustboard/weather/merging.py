"""Files of one logger made one series: by true time, every moment once, whatever the order of rows and files."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from rustboard.board.weather import QUANTITIES, Quantity, Site
from rustboard.weather.clocks import Clock, Truths, clock_of
from rustboard.weather.dew_point import humidity_percent
from rustboard.weather.readings import LoggerReadings, Numbers, ReadingTable, Seconds
from rustboard.weather.segments import LONGEST_JOINED_S

STUCK_FROM_PERCENT: Final = 99.5
STUCK_S: Final = 24 * 3_600.0
"""Humidity that stands still this high for this long may be a sensor that is wet itself (own rule, no source)."""


@dataclass(frozen=True, slots=True, eq=False)
class Series:
    """The readings of one logger.

    Attributes:
        seconds: true time, rising, every moment once.
        values: by quantity, NaN = none.
        stuck: where humidity stood still at its highest value.
        conflicts: moments of which the files said different things, in order. skipped: those of readings in an hour
            that the clock never showed. guessed: those of readings taken for the second pass of an hour shown twice.
    """

    logger: str
    seconds: Seconds
    values: Mapping[Quantity, Numbers]
    stuck: Truths
    conflicts: Seconds
    skipped: Seconds
    guessed: Seconds
    names: tuple[Quantity, ...] = field(default=())

    def of(self, quantity: Quantity) -> Numbers:
        """Return the numbers of a quantity, all NaN where it was not read."""
        found = self.values.get(quantity)
        return np.full(len(self.seconds), np.nan) if found is None else found


_NONE: Final[Seconds] = np.zeros(0, np.int64)


@dataclass(slots=True)
class _Told:
    """What merging met."""

    conflicts: list[Seconds] = field(default_factory=list)
    skipped: list[Seconds] = field(default_factory=list)
    guessed: list[Seconds] = field(default_factory=list)


def series_of(files: Sequence[LoggerReadings], site: Site) -> tuple[Series, ...]:
    """Return one series a logger, in the order in which the loggers first come.

    Raises:
        InputError: a clock is of no zone that there is.
    """
    names = list(dict.fromkeys(each.logger for each in files))
    found = (_one_logger(name, [each for each in files if each.logger == name], site) for name in names)
    return tuple(each for each in found if len(each.seconds))


def _one_logger(logger: str, files: Sequence[LoggerReadings], site: Site) -> Series:
    names: tuple[Quantity, ...] = tuple(each for each in QUANTITIES if any(each in one.table.values for one in files))
    told = _Told()
    tables: list[tuple[Seconds, Numbers]] = []
    # The board's clock named and not named is one clock, and without a zone all are taken as they are.
    clocks = [(each.clock or site.zone) if site.zone else "" for each in files]
    for clock_name in sorted(set(clocks)):
        tables_of = [each.table for each, clock in zip(files, clocks, strict=True) if clock == clock_name]
        seconds, matrix = _joined(tables_of, names)
        if not len(seconds):
            continue
        clock = clock_of(clock_name, site.zone, int(seconds[0]), int(seconds[-1]))
        tables.append(_by_true_time(seconds, matrix, names, clock, told))
    if not tables:
        return Series(logger, _NONE, {}, np.zeros(0, bool), _NONE, _NONE, _NONE)
    seconds = np.concatenate([each for each, _ in tables])
    matrix = np.concatenate([each for _, each in tables])
    if len(tables) > 1 or bool((np.diff(seconds) <= 0).any()):
        seconds, matrix = _ordered(seconds, matrix)
        seconds, matrix = _once(seconds, matrix, told)
    values = {name: matrix[:, number] for number, name in enumerate(names)}
    _fill_humidity(values, site)
    stuck = _stuck(seconds, values.get("humidity"))
    if site.leave_out_stuck and "humidity" in values:
        values["humidity"] = np.where(stuck, np.nan, values["humidity"])
    conflicts, skipped, guessed = (
        np.unique(np.concatenate([_NONE, *each])) for each in (told.conflicts, told.skipped, told.guessed)
    )
    return Series(logger, seconds, values, stuck, conflicts, skipped, guessed, names)


def _joined(tables: Sequence[ReadingTable], names: Sequence[Quantity]) -> tuple[Seconds, Numbers]:
    """Return the rows of several tables by the clock's time; equal rows are one."""
    seconds = np.concatenate([each.seconds for each in tables])
    matrix = (
        np.column_stack(
            [np.concatenate([each.values.get(name, np.full(len(each), np.nan)) for each in tables]) for name in names]
        )
        if names
        else np.zeros((len(seconds), 0))
    )
    if bool((np.diff(seconds) > 0).all()):
        return seconds, matrix
    seconds, matrix = _ordered(seconds, matrix)
    new = np.concatenate([[True], np.diff(seconds) != 0])
    repeated = np.flatnonzero(~new)
    new[repeated] = _differ(matrix[repeated], matrix[repeated - 1])
    return seconds[new], matrix[new]


def _ordered(seconds: Seconds, matrix: Numbers) -> tuple[Seconds, Numbers]:
    """Return rows by time; rows of one time by their numbers, the warmer first, so that no order is left over."""
    order = np.argsort(seconds, kind="stable")
    sorted_seconds = seconds[order]
    again = np.flatnonzero(np.diff(sorted_seconds) == 0)
    # Most rows of one time are the same file once more: only those that differ have to be put in order.
    again = again[_differ(matrix[order[again]], matrix[order[again + 1]])]
    if len(again):
        places = np.flatnonzero(np.isin(sorted_seconds, sorted_seconds[again]))
        rows = order[places]
        # NaN sorts last, and minus makes the largest first; the temperature is the first column where there is one.
        keys = [*(-matrix[rows, column] for column in reversed(range(matrix.shape[1]))), seconds[rows]]
        order[places] = rows[np.lexsort(keys)]
    return seconds[order], matrix[order]


def _differ(one: Numbers, other: Numbers) -> Truths:
    both_none = np.isnan(one) & np.isnan(other)
    differ: Truths = ((one != other) & ~both_none).any(axis=1)
    return differ


def _by_true_time(
    seconds: Seconds, matrix: Numbers, names: Sequence[Quantity], clock: Clock, told: _Told
) -> tuple[Seconds, Numbers]:
    """Return rows by true time.

    Of different rows at a time that the clock showed twice the warmest is of the first pass, all others are of the
    second: nights grow colder, and no order of rows is needed to say so.
    """
    true = clock.true_of(seconds)
    told.skipped.append(true[clock.is_skipped(seconds)])
    twice, second = clock.second_pass(seconds)
    rows = np.flatnonzero(twice)
    rows = rows[_is_later(seconds[rows], matrix[rows], names)]
    true[rows] = second[rows]
    told.guessed.append(second[rows])
    if bool((np.diff(true) <= 0).any()):
        true, matrix = _ordered(true, matrix)
        return _once(true, matrix, told)
    return true, matrix


def _is_later(shown: Seconds, matrix: Numbers, names: Sequence[Quantity]) -> Truths:
    """Return which rows, all at times that the clock showed twice, are of the second pass.

    A row is compared only with those that hold the same quantities: a file with temperatures and one with humidities
    tell of the same two hours. Where it was equally warm, or not known how warm, the lower numbers come first.
    """
    if not len(shown) or not names:
        return np.zeros(len(shown), bool)
    absent = np.isnan(matrix)
    kind = absent @ (1 << np.arange(len(names)))
    rising = np.where(absent, 0.0, matrix * np.array([-1.0 if name == "temperature" else 1.0 for name in names]))
    order = np.lexsort((*rising.T[::-1], kind, shown))
    other = np.ones(len(shown), bool)
    other[1:] = (np.diff(shown[order]) != 0) | (np.diff(kind[order]) != 0)
    differs = ~other
    differs[1:] &= (np.diff(rising[order], axis=0) != 0).any(axis=1)
    before = np.cumsum(differs)
    later = np.zeros(len(shown), bool)
    later[order] = before > before[other][np.cumsum(other) - 1]
    return later


def _once(seconds: Seconds, matrix: Numbers, told: _Told) -> tuple[Seconds, Numbers]:
    """Return every time once: where rows say different things, the mean of each quantity."""
    starts = np.flatnonzero(np.concatenate([[True], np.diff(seconds) != 0]))
    if len(starts) == len(seconds):
        return seconds, matrix
    counts = np.diff(np.concatenate([starts, [len(seconds)]]))
    result = matrix[starts]
    several = counts > 1
    true, matrix = seconds[starts], matrix[np.repeat(several, counts)]
    starts = np.concatenate([[0], np.cumsum(counts[several])[:-1]])
    known = ~np.isnan(matrix)
    sums = np.add.reduceat(np.where(known, matrix, 0.0), starts, axis=0)
    numbers = np.add.reduceat(known.astype(np.int64), starts, axis=0)
    highest = np.maximum.reduceat(np.where(known, matrix, -np.inf), starts, axis=0)
    lowest = np.minimum.reduceat(np.where(known, matrix, np.inf), starts, axis=0)
    told.conflicts.append(true[several][(highest > lowest).any(axis=1)])
    with np.errstate(invalid="ignore"):
        means = np.where(numbers > 0, np.where(highest == lowest, highest, sums / np.maximum(numbers, 1)), np.nan)
    result[several] = means
    return true, result


def _fill_humidity(values: dict[Quantity, Numbers], site: Site) -> None:
    """Work humidity out where only the dew point was read; nothing is above 100 %."""
    if "dew point" in values and "temperature" in values:
        worked_out = humidity_percent(values["temperature"], values["dew point"], site.dew_point_set)
        had = values.get("humidity")
        values["humidity"] = worked_out if had is None else np.where(np.isnan(had), worked_out, had)
    if "humidity" in values:
        values["humidity"] = np.minimum(values["humidity"], 100.0)


def _stuck(seconds: Seconds, humidity: Numbers | None) -> Truths:
    """Return where humidity stood still at its highest for a day or longer while readings went on."""
    if humidity is None:
        return np.zeros(len(seconds), bool)
    high = humidity >= STUCK_FROM_PERCENT
    goes_on = high[1:] & (humidity[1:] == humidity[:-1]) & (np.diff(seconds) <= LONGEST_JOINED_S)
    starts = np.flatnonzero(np.concatenate([[True], ~goes_on])) if len(seconds) else np.zeros(0, np.int64)
    ends = np.concatenate([starts[1:], [len(seconds)]]) - 1 if len(starts) else starts
    long = high[starts] & (seconds[ends] - seconds[starts] >= STUCK_S)
    stuck: Truths = np.repeat(long, ends - starts + 1)
    return stuck
