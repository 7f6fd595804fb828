"""Agreement of two series of grades beyond chance: exact share, share within one grade, and Cohen's kappa.

Kappa compares the disagreement seen with the one to expect if both had given their grades, as often as they gave
each, to coupons drawn by lot: 1 is full agreement, 0 no more than chance, below 0 less than chance.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import erfc, sqrt
from typing import Final, Literal, NamedTuple

from rustboard.board.grade import GRADES

Weighting = Literal["simple", "linear", "quadratic"]
GradeTable = tuple[tuple[int, ...], ...]

_NORMAL_95: Final = 1.959963984540054  # standard normal distribution, 97.5 % of it lie below
_NOTHING: Final = 1e-12  # a variance below this is rounding of floats, as after full agreement


class Interval(NamedTuple):
    """Limits of a 95 % interval."""

    low: float
    high: float

    def holds(self, value: float) -> bool:
        """Return whether a value lies within, limits included."""
        return self.low <= value <= self.high


@dataclass(frozen=True, slots=True)
class Kappa:
    """A chance-corrected agreement.

    Attributes:
        value: kappa, at most 1.
        standard_error: asymptotic, for what is to be expected of other coupons.
        interval: ``value`` ± 1.96 standard errors within -1 and 1; None where the standard error is 0, as with full
            agreement: the formula then knows no error, which a few coupons do not prove.
        null_error: asymptotic standard error if there were no agreement but by chance.
        z: ``value`` by ``null_error``; None where that is 0, as when one of the two gave one grade throughout.
        p: two-sided, of ``z``.
    """

    value: float
    standard_error: float
    interval: Interval | None
    null_error: float
    z: float | None
    p: float | None


@dataclass(frozen=True, slots=True)
class Agreement:
    """How two series of grades agree.

    Attributes:
        pairs: how many grades are compared.
        exact: number of pairs of equal grades.
        within_one: number of pairs at most one grade apart.
        simple, linear, quadratic: kappas; None where both gave one and the same grade throughout, or nothing is
            compared: chance alone would then agree fully, so no figure corrected for chance exists.
    """

    pairs: int
    exact: int
    within_one: int
    simple: Kappa | None
    linear: Kappa | None
    quadratic: Kappa | None

    @property
    def exact_share(self) -> float | None:
        """Share of equal grades, 0 to 1; None without pairs."""
        return self.exact / self.pairs if self.pairs else None

    @property
    def within_one_share(self) -> float | None:
        """Share of grades at most one apart, 0 to 1; None without pairs."""
        return self.within_one / self.pairs if self.pairs else None


def agreement_of(pairs: Iterable[tuple[int, int]], categories: Sequence[int] = GRADES) -> Agreement:
    """Return how pairs of grades agree.

    Args:
        pairs: the two grades of each subject.
        categories: all grades there are, also those nobody gave.

    Raises:
        ValueError: a grade is none of the categories.
    """
    pairs = list(pairs)
    table = grade_table(pairs, categories)
    return Agreement(
        pairs=len(pairs),
        exact=sum(a == b for a, b in pairs),
        within_one=sum(abs(a - b) <= 1 for a, b in pairs),
        simple=kappa(table, "simple"),
        linear=kappa(table, "linear", categories),
        quadratic=kappa(table, "quadratic", categories),
    )


def grade_table(pairs: Iterable[tuple[int, int]], categories: Sequence[int] = GRADES) -> GradeTable:
    """Return how often each pair of grades was given: a row for each grade of the first, a column of the second.

    Grades that nobody gave keep their row and column. Dropping them, as tables made from the data do, moves grades
    nearer together than they are and changes weighted kappas.

    Raises:
        ValueError: a grade is none of the categories.
    """
    place = {grade: number for number, grade in enumerate(categories)}
    counts = [[0] * len(categories) for _ in categories]
    for a, b in pairs:
        if a not in place or b not in place:
            raise ValueError(f"{a} and {b} are not both among {list(categories)}")
        counts[place[a]][place[b]] += 1
    return tuple(map(tuple, counts))


def kappa(table: GradeTable, weighting: Weighting, categories: Sequence[int] | None = None) -> Kappa | None:
    """Return Cohen's kappa of a square table of counts.

    Disagreement counts 1 (simple), by the distance of the grades (linear) or by its square (quadratic). Standard
    errors: Fleiss, Cohen & Everitt 1969, "Large sample standard errors of kappa and weighted kappa".

    Args:
        table: counts, a row for each grade of the first, a column for each of the second.
        weighting: of disagreement.
        categories: grades of the rows and columns; 0, 1, 2… if left out.

    Returns:
        None where nothing is counted, or all counts lie in one cell of equal grades: no disagreement could be
        expected by chance, and there is nothing to compare with.
    """
    grades = range(len(table)) if categories is None else categories
    apart = _disagreement(grades, weighting)
    rows, columns = [sum(row) for row in table], [sum(column) for column in zip(*table, strict=True)]
    count, places = sum(rows), range(len(table))
    cells = [(i, j) for i in places for j in places]
    seen = count * sum(apart[i][j] * table[i][j] for i, j in cells)
    by_chance = sum(apart[i][j] * rows[i] * columns[j] for i, j in cells)
    if not by_chance:
        return None
    value = 1 - seen / by_chance
    most = max(map(max, apart))
    alike = [[1 - each / most for each in row] for row in apart]  # weights of agreement, 1 on the diagonal
    p_rows, p_columns = [each / count for each in rows], [each / count for each in columns]
    of_row = [sum(p_columns[j] * alike[i][j] for j in places) for i in places]
    of_column = [sum(p_rows[i] * alike[i][j] for i in places) for j in places]
    expected = 1 - by_chance / count**2 / most
    squares = (
        sum(table[i][j] / count * (alike[i][j] - (of_row[i] + of_column[j]) * (1 - value)) ** 2 for i, j in cells)
        - (value - expected * (1 - value)) ** 2
    )
    null_squares = (
        sum(p_rows[i] * p_columns[j] * (alike[i][j] - (of_row[i] + of_column[j])) ** 2 for i, j in cells)
        - expected**2
    )
    scale = sqrt(count) * (1 - expected)
    return _kappa(value, _root(squares) / scale, _root(null_squares) / scale)


def _disagreement(grades: Sequence[int], weighting: Weighting) -> list[list[int]]:
    if weighting == "simple":
        return [[int(a != b) for b in grades] for a in grades]
    power = 1 if weighting == "linear" else 2
    return [[abs(a - b) ** power for b in grades] for a in grades]


def _root(squares: float) -> float:
    return sqrt(squares) if squares > _NOTHING else 0.0


def _kappa(value: float, error: float, null_error: float) -> Kappa:
    z = value / null_error if null_error else None
    interval = None
    if error:
        interval = Interval(max(value - _NORMAL_95 * error, -1.0), min(value + _NORMAL_95 * error, 1.0))
    return Kappa(value, error, interval, null_error, z, None if z is None else erfc(abs(z) / sqrt(2)))
