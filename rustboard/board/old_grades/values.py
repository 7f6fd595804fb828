"""One grade from the cells that state it, and other cells of old tables."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, NamedTuple, TypeVar

from rustboard.board.cells import quoted, read_distribution, read_grade, read_percent, read_role
from rustboard.board.grade import SOURCES, Source, check_grade
from rustboard.board.model import Role
from rustboard.board.old_grades.layout import Halves, Scale
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines

GradeOfPercent = Callable[[float], int]

_Read = TypeVar("_Read")

_BLANK: Final = frozenset({"", "-", "–", "—", "n/a", "na", "n.a.", "not graded", "none", "nan"})
_BETWEEN: Final = re.compile(r"([0-9]{1,2})[.,]([0-9]*[1-9])0*(\s*-?\s*[A-Za-z])?")
_SUMS: Final = frozenset(
    {
        "mean", "average", "avg", "sum", "total", "totals", "median", "min", "max", "minimum", "maximum", "std", "sd",
        "stdev", "stddev", "count", "n", "range", "mittelwert", "mittel", "durchschnitt", "summe", "gesamt", "anzahl",
        "standardabweichung", "schnitt", "ø",
    }
)  # fmt: skip
_ROLES: Final[dict[str, Role]] = {
    "control": "control", "ctrl": "control", "kontrolle": "control", "reference": "control", "untreated": "control",
    "test": "test", "coupon": "test", "sample": "test", "treated": "test", "probe": "test",
}  # fmt: skip
_UNTREATED: Final = frozenset(
    {"control", "controls", "ctrl", "untreated", "bare", "none", "nothing", "kontrolle", "unbehandelt", "blank"}
)
_BESIDE_UNTREATED: Final = frozenset(
    {
        "steel",
        "metal",
        "coupon",
        "coupons",
        "panel",
        "sample",
        "group",
        "surface",
        "treatment",
        "no",
        "stahl",
        "blech",
    }
)
"""Words that leave a treatment's name saying that there was none; with any other it names something put on."""


@dataclass(frozen=True, slots=True)
class HowRead:
    """How cells are read.

    Attributes:
        exact: whether the cells are the program's own: nothing in them is judged but what the scale allows.
    """

    halves: Halves
    scale: Scale
    grade_of_percent: GradeOfPercent
    exact: bool = False


class ReadValue(NamedTuple):
    """A grade as it is understood; ``told`` goes into its note."""

    grade: int
    distribution: str = ""
    percent: float | None = None
    told: str = ""


class CellError(Exception):
    """What is wrong with one of the cells of a grade.

    Attributes:
        cell: which: ``grade``, ``percent`` or ``distribution``.
    """

    def __init__(self, cell: str, error: InputError) -> None:
        super().__init__(error.problem.what)
        self.cell = cell
        self.what = error.problem.what


def is_blank(text: str) -> bool:
    """Return whether a cell says that nothing was graded."""
    return text.casefold() in _BLANK


def is_sum(text: str) -> bool:
    """Return whether a row's first word says that it sums others up."""
    words = re.split(r"[\s:.,(/]+", text.casefold().strip(" :.="))
    return bool(words) and words[0] in _SUMS


def means_control(text: str) -> bool:
    """Return whether a treatment's name says that there was none."""
    words = set(re.findall(r"[^\W\d_]+", text.casefold()))
    if words - _UNTREATED - _BESIDE_UNTREATED:
        return False
    return bool(words & _UNTREATED) or {"no", "treatment"} <= words


def read_old_role(text: str) -> Role:
    """Return the role that a cell names, in a few more words than the program's own.

    Raises:
        InputError: no role.
    """
    return _ROLES.get(text.casefold()) or read_role(text)


def read_source(text: str) -> Source:
    """Return how a grade was given; an empty cell is by eye.

    Raises:
        InputError: no source that the program knows.
    """
    found = next((each for each in SOURCES if each == text.casefold()), None)
    if found is None and text:
        raise InputError(f"{quoted(text)} is not a source of grades; use {', '.join(SOURCES)}.")
    return found or "eye"


def read_value(grade: str, percent: str, letter: str, how: HowRead) -> ReadValue | None:
    """Return what the cells of one grade say; None when nothing was graded.

    Raises:
        CellError: a cell cannot be used.
    """
    if how.scale == "percents" and is_blank(percent):
        grade, percent = "", grade
    if is_blank(grade) and is_blank(percent):
        return None
    if how.scale == "another" and not is_blank(grade):
        raise CellError(
            "grade",
            InputError(
                f"{quoted(grade)} is of another scale; published tables that pair such ratings with rust grades "
                "disagree, so it is not converted. State the percent rusted instead."
            ),
        )
    stated = _cell("percent", lambda: None if is_blank(percent) else read_percent(percent))
    behind, told = "", ""
    if is_blank(grade):
        assert stated is not None  # one of the two is there
        number = how.grade_of_percent(stated)
    else:
        number, behind, told = _cell("grade", lambda: _grade(grade, how.halves))
    own = _cell("distribution", lambda: read_distribution("" if is_blank(letter) else letter))
    if behind and own and behind != own:
        what = f"{own} contradicts the letter {behind} behind the grade; keep one of them."
        raise CellError("distribution", InputError(what))
    _cell("distribution", lambda: check_grade(number, behind or own, stated))
    if stated is not None and not how.exact and not is_blank(grade) and how.grade_of_percent(stated) != number:
        what = f"{stated:g} % rusted is not grade {number} but {how.grade_of_percent(stated)}; mend one of them."
        raise CellError("percent", InputError(what))
    return ReadValue(number, behind or own, stated, told)


def with_told(note: str, *told: str) -> str:
    """Return a note with what there is to tell behind it."""
    return many_lines("\n".join(filter(None, (note, *told))))


def _cell(cell: str, read: Callable[[], _Read]) -> _Read:
    try:
        return read()
    except InputError as error:
        raise CellError(cell, error) from None


def _grade(text: str, halves: Halves) -> tuple[int, str, str]:
    """Return grade, letter and what is to be told of it."""
    between = _BETWEEN.fullmatch(text)
    if between is None or float(f"{between[1]}.{between[2]}") > 10:
        number, letter = read_grade(text)
        return number, letter, ""
    if halves == "refused":
        raise InputError(
            f"{quoted(text)} lies between two grades; write the whole grade that fits better, or choose that such "
            "grades are rounded down."
        )
    whole, letter = read_grade(f"{math.floor(int(between[1]))}{between[3] or ''}")
    return whole, letter, f"{text} in the file, rounded down"
