"""Which columns of a logger's file hold which quantity, and in which unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Final

import numpy as np

from rustboard.board.cells import quoted
from rustboard.board.weather import QUANTITIES
from rustboard.weather.logger_file.numbers import no_reading, split_number, unit_word
from rustboard.weather.logger_file.options import UNITS_OF, DecimalMark, Role, Unit
from rustboard.weather.logger_file.titles import Meaning, meaning, names_another
from rustboard.weather.readings import Numbers

_MOST_NUMBERS: Final = 0.5
"""Share of the filled cells that must be numbers in a column that is read."""
_RAINS: Final[tuple[Role, ...]] = ("rain", "rain total", "rain rate")
_HOT_FOR_C: Final = 55.0
"""No air in the shade was ever hotter in C by much (record 56.7 C, from memory)."""
_HOT_FOR_F: Final = 200.0
_FRACTION_ENDS: Final = 1.05


@dataclass(frozen=True, slots=True)
class Cells:
    """One column of the sample.

    Attributes:
        shown: the title in quotation marks, or the number of the column where it has none.
        numbers: of the rows all over the file. first: of the first rows. NaN where there is none.
        unit: behind the numbers, or empty.
        share: of the filled cells that hold numbers.
    """

    title: str
    shown: str
    numbers: Numbers
    first: Numbers
    unit: Unit
    share: float


@dataclass(slots=True)
class Finding:
    """Roles and units by place, and what is not certain about them."""

    roles: dict[int, tuple[Role, Unit]] = field(default_factory=dict)
    doubts: list[str] = field(default_factory=list)


def cells_of(index: int, title: str, rows: Sequence[str], first: Sequence[str], mark: DecimalMark) -> Cells:
    """Return what is in a column; its place counts from 0."""
    found = [split_number(each, mark) for each in rows]
    filled = sum(not no_reading(each) for each in rows)
    units = {unit_word(each[1]) for each in found if each is not None and each[1]}
    return Cells(
        title,
        quoted(title) if title else f"Column {index + 1}",
        _numbers(rows, mark),
        _numbers(first, mark),
        next(iter(units)) if len(units) == 1 else "",
        sum(each is not None for each in found) / filled if filled else 0.0,
    )


def _numbers(cells: Sequence[str], mark: DecimalMark) -> Numbers:
    found = [split_number(each, mark) for each in cells]
    return np.array([np.nan if each is None or abs(each[0]) in (999.0, 9999.0) else each[0] for each in found])


def find_quantities(columns: dict[int, Cells], units: Sequence[Unit]) -> Finding:
    """Return which columns hold what.

    Args:
        columns: by place, those that hold no times.
        units: by place, from a line of units.
    """
    finding = Finding()
    found: dict[Role, list[tuple[int, Meaning]]] = {}
    for index, cells in columns.items():
        unit = (units[index] if index < len(units) else "") or cells.unit
        told = meaning(cells.title, unit)
        if told is not None and (cells.share >= _MOST_NUMBERS or not len(cells.numbers)):
            found.setdefault(told.role, []).append((index, told))
    for role, candidates in found.items():
        _choose(role, candidates, columns, finding)
    _one_rain(columns, finding)
    if not finding.roles:
        _by_values(columns, units, finding)
    return finding


def _choose(role: Role, candidates: list[tuple[int, Meaning]], columns: dict[int, Cells], finding: Finding) -> None:
    least = min(each.lesser for _, each in candidates)
    best = [(index, each) for index, each in candidates if each.lesser == least]
    index, told = best[0]
    title = columns[index].shown
    if len(best) > 1:
        others = ", ".join(columns[each].shown for each, _ in best[1:4])
        finding.doubts.append(f"Several columns may hold the {role}: {title} is taken, not {others}.")
    elif role == "rain total" and told.lesser:
        finding.doubts.append(f"{title} is taken for a counter of rain that starts anew now and then.")
    elif told.lesser:
        finding.doubts.append(f"{title} is taken for the {role}, though its title says something more.")
    taken, unit = _with_rise(role, columns[index], told.unit, finding)
    finding.roles[index] = (taken, _unit(taken, unit, columns[index], finding))


def _with_rise(role: Role, cells: Cells, unit: Unit, finding: Finding) -> tuple[Role, Unit]:
    """Return the kind of rain: amounts that never fall while they change are a counter's."""
    if role == "rain" and _only_rises(cells.first):
        finding.doubts.append(f"{cells.shown} only ever rises, so it is taken for a counter of all rain.")
        return "rain total", unit
    if role == "rain total" and _often_falls(cells.first):
        finding.doubts.append(
            f"{cells.shown} is taken for a counter, but often goes down; it may be the rain of each reading."
        )
    return role, unit


def _steps(numbers: Numbers) -> Numbers:
    good = numbers[~np.isnan(numbers)]
    steps: Numbers = np.diff(good)
    changes: Numbers = steps[steps != 0.0]
    return changes


def _only_rises(numbers: Numbers) -> bool:
    steps = _steps(numbers)
    return len(steps) >= 3 and bool((steps > 0).all() or (steps < 0).all())


def _often_falls(numbers: Numbers) -> bool:
    steps = _steps(numbers)
    return len(steps) >= 10 and 0.1 < float((steps < 0).mean()) < 0.9


def _unit(role: Role, unit: Unit, cells: Cells, finding: Finding) -> Unit:
    """Return a column's unit: named, or else read from its values, which is a doubt."""
    allowed = next(units for quantity, units in UNITS_OF.items() if quantity == role)
    title = cells.shown
    numbers = cells.numbers[~np.isnan(cells.numbers)]
    high = float(np.percentile(numbers, 99)) if len(numbers) else 0.0
    if role == "humidity":
        return _unit_of_humidity(unit, high, title, finding)
    if unit:
        if unit == "C" and high > _HOT_FOR_C:
            finding.doubts.append(f"{title} says °C but reaches {high:.0f}; look whether it is °F.")
        return unit
    if role in ("temperature", "dew point") and high > _HOT_FOR_C:
        guessed: Unit = "K" if high > _HOT_FOR_F else "F"
        shown = "K" if guessed == "K" else "°F"
        finding.doubts.append(f"{title} names no unit; {shown} is taken because it reaches {high:.0f}.")
        return guessed
    shown = "°C" if allowed[0] == "C" else allowed[0]
    finding.doubts.append(f"{title} names no unit; {shown} is taken.")
    return allowed[0]


def _unit_of_humidity(unit: Unit, high: float, title: str, finding: Finding) -> Unit:
    if high > _FRACTION_ENDS or high <= 0:
        return unit or "%"
    finding.doubts.append(f"{title} never exceeds 1, so it is taken for a fraction and not for percent.")
    return "fraction"


def _one_rain(columns: dict[int, Cells], finding: Finding) -> None:
    """Keep one column of rain: amounts before a counter before a rate."""
    held = {role: index for index, (role, _) in finding.roles.items() if role in _RAINS}
    kept = next((role for role in _RAINS if role in held), None)
    for role, index in held.items():
        if role != kept:
            finding.roles.pop(index)
            title = columns[index].shown
            finding.doubts = [each for each in finding.doubts if not each.startswith(f"{title} ")]


def _by_values(columns: dict[int, Cells], units: Sequence[Unit], finding: Finding) -> None:
    """Take columns whose titles say nothing by their numbers alone."""
    wanted: list[Role] = ["temperature", "humidity"]
    for index, cells in columns.items():
        numbers = cells.numbers[~np.isnan(cells.numbers)]
        known = names_another(cells.title) or cells.share < _MOST_NUMBERS
        if not wanted or known or not len(numbers) or not _varies(numbers):
            continue
        role = wanted.pop(0)
        low, high = float(numbers.min()), float(numbers.max())
        fits = (low >= -60 and high <= 130) if role == "temperature" else (low >= 0 and high <= 105)
        if not fits:
            wanted.insert(0, role)
            continue
        finding.doubts.append(f"{cells.shown} does not say what it holds; by its numbers it is taken for the {role}.")
        unit = (units[index] if index < len(units) else "") or cells.unit
        finding.roles[index] = (role, _unit(role, unit if unit in _allowed(role) else "", cells, finding))


def _varies(numbers: Numbers) -> bool:
    """Return whether numbers may be readings: not the number of the row."""
    if len(numbers) < 4:
        return True
    steps = np.diff(numbers)
    return steps[0] == 0 or not bool((steps == steps[0]).all())


def _allowed(role: Role) -> tuple[Unit, ...]:
    return next(UNITS_OF[each] for each in QUANTITIES if each == role)
