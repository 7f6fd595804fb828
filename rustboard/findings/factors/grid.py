"""The treatments of a board as a grid of finishes and protectants."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass
from typing import Final

from rustboard.board.comparisons import factor_level, level_order
from rustboard.board.model import Treatment
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.factors.results import Factor, GridCell
from rustboard.findings.units import Cell, HungUnit
from rustboard.support.text import one_line

FACTORS: Final[tuple[Factor, Factor]] = ("finish", "protectant")
_LONGEST_NAME: Final = 80

Combination = tuple[str, str]
"""A finish and a protectant, each in the form in which two count as the same; empty for none."""


@dataclass(frozen=True)
class Grid:
    """Finishes and protectants of the test coupons that have a value.

    Attributes:
        finishes, protectants: levels in order, each in the form in which two count as the same.
        names: what people call them.
        members: of each combination that was tried, its treatments with how many units each has.
    """

    finishes: tuple[str, ...]
    protectants: tuple[str, ...]
    names: Mapping[tuple[Factor, str], str]
    members: Mapping[Combination, Mapping[Cell, int]]

    def levels(self, factor: Factor) -> tuple[str, ...]:
        """Return the levels of a factor in order."""
        return self.finishes if factor == "finish" else self.protectants

    def name(self, factor: Factor, level: str) -> str:
        """Return what people call a level."""
        return self.names[factor, level] if level else f"no {factor}"

    def combination(self, factor: Factor, level: str, other: str) -> Combination:
        """Return the combination of a level of one factor with one of the other."""
        return (level, other) if factor == "finish" else (other, level)

    def shared(self, factor: Factor, a: str, b: str) -> tuple[str, ...]:
        """Return the levels of the other factor that both levels were tried with."""
        others = self.protectants if factor == "finish" else self.finishes
        return tuple(
            each for each in others if all(self.combination(factor, level, each) in self.members for level in (a, b))
        )

    def of_cells(self, wanted: Iterable[tuple[Combination, float]]) -> dict[Hashable, float]:
        """Return weights of combinations as weights of their treatments, a unit counting as much as another."""
        found: dict[Hashable, float] = defaultdict(float)
        for combination, weight in wanted:
            members = self.members[combination]
            total = sum(members.values())
            for cell, units in members.items():
                found[cell] += weight * units / total
        return dict(found)

    @property
    def complete(self) -> bool:
        """Whether every combination was tried."""
        return len(self.members) == len(self.finishes) * len(self.protectants)


def combination_of(treatment: Treatment) -> Combination:
    """Return finish and protectant of a treatment; its preparation, coats and batch are not looked at."""
    return factor_level(_plain(treatment.finish)), factor_level(_plain(treatment.protectant))


def _plain(text: str) -> str:
    return one_line(text, _LONGEST_NAME)


def grid_of(subject: Subject) -> Grid | None:
    """Return the grid; None where nothing is crossed among graded test coupons.

    Two finishes at least were tried with one same protectant, and two protectants with one same finish.
    """
    members: dict[Combination, Counter[Cell]] = defaultdict(Counter)
    names: dict[tuple[Factor, str], str] = {}
    tested = {each.cell for each in subject.units if _treatment_of(subject, each) is not None}
    for cell in sorted(tested, key=lambda each: each[0] or 0):
        treatment = subject.record.treatments[cell[0] or 0]
        for factor, level in zip(FACTORS, combination_of(treatment), strict=True):
            names.setdefault((factor, level), _plain(getattr(treatment, factor)))
        members[combination_of(treatment)][cell] = sum(each.cell == cell for each in subject.units)
    finishes, protectants = (
        tuple(sorted({each[place] for each in members}, key=level_order)) for place in range(len(FACTORS))
    )
    if not all(_is_crossed(members, place) for place in range(len(FACTORS))):
        return None
    return Grid(finishes, protectants, names, members)


def _is_crossed(tried: Iterable[Combination], place: int) -> bool:
    """Return whether some level of one factor was tried with two of the other."""
    return max(Counter(each[place] for each in tried).values(), default=0) > 1


def _treatment_of(subject: Subject, unit: HungUnit) -> Treatment | None:
    treatment, role = unit.cell
    return subject.record.treatments.get(treatment) if treatment is not None and role == "test" else None


def grid_cells(subject: Subject, grid: Grid) -> tuple[GridCell, ...]:
    """Return every combination, finish by finish, those not tried with no values."""
    return tuple(
        _grid_cell(subject, grid, (finish, protectant)) for finish in grid.finishes for protectant in grid.protectants
    )


def _grid_cell(subject: Subject, grid: Grid, combination: Combination) -> GridCell:
    members = grid.members.get(combination, {})
    values = tuple(subject.unit_value(each) for each in subject.units if each.cell in members)
    return GridCell(
        grid.name("finish", combination[0]),
        grid.name("protectant", combination[1]),
        tuple(subject.record.treatments[key].id for key, _ in members if key is not None),
        values,
        sum(values) / len(values) if values else None,
    )
