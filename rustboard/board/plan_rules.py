"""What a plan must keep to before a board can be made from it: limits, ranges, and how a file names a place."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import PurePath
from typing import Any, Final, TypeVar

from rustboard.board.layout import Layout
from rustboard.board.model import (
    Board,
    Plan,
    Treatment,
)
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS, Position
from rustboard.board.problem_list import ProblemList
from rustboard.board.question import Question
from rustboard.board.recipe import RecipeStep
from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.support.text import one_line

_Thing = TypeVar("_Thing", Board, Treatment, RecipeStep, Question, Layout)

MARKER_IDS: Final = range(4)

RANGES: Final[dict[str, tuple[float, float, str]]] = {
    "width_mm": (0, 100_000, " mm"),
    "height_mm": (0, 100_000, " mm"),
    "edge_margin_mm": (0, 1_000, " mm"),
    "incline_deg": (0, 180, " degrees"),
    "facing_deg": (0, 360, " degrees"),
    "coats": (0, 100, ""),
    "cost_per_m2": (0, 1e9, ""),
    "minutes_per_m2": (0, 1e6, ""),
    "size_mm": (1, 10_000, " mm"),
    "quantity": (0, 1e6, ""),
    "container_price": (0, 1e9, ""),
    "container_quantity": (0, 1e6, ""),
    "minutes": (0, 1e6, " minutes"),
    "temperature_c": (-100, 1_500, " °C"),
    "worthwhile": (0.1, 10, " grades"),
    "assumed_sd": (0.05, 5, " grades"),
    "coupon_width_mm": (0, 10_000, " mm"),
    "coupon_height_mm": (0, 10_000, " mm"),
    "hole_below_top_mm": (-1_000, 10_000, " mm"),
}
"""Lowest and highest sensible value and unit, by the name of the value (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where in the user's file a coupon, a treatment or a marker stands.

    Attributes:
        row: row of a table, or None.
        path: key in a JSON file such as ``coupons[3]``, or empty.
    """

    row: int | None = None
    path: str = ""

    def column(self, key: str) -> str:
        """Return how the file names one value of this thing: ``coupons[3].position``, or the table's column."""
        if self.path:
            return f"{self.path}.{key}"
        return "coupon" if key == "id" else key

    def words(self) -> str:
        """Return the place as part of a sentence; empty when it is nowhere in particular."""
        return self.path if self.row is None else f"row {self.row}"


@dataclass(frozen=True, slots=True)
class Places:
    """The places of what a plan holds, each as long as the plan's own tuple.

    Attributes:
        recipes: of the treatments they belong to.
    """

    coupons: Sequence[Place]
    treatments: Sequence[Place]
    markers: Sequence[Place]
    recipes: Sequence[Place] = ()
    questions: Sequence[Place] = ()

    @classmethod
    def numbered(cls, plan: Plan) -> Places:
        """Return places by number, for a plan that comes from no file: ``coupons[0]`` and so on."""
        return cls(
            [Place(path=f"coupons[{number}]") for number in range(len(plan.coupons))],
            [Place(path=f"treatments[{number}]") for number in range(len(plan.treatments))],
            [Place(path=f"markers[{number}]") for number in range(len(plan.markers))],
            [Place(path=f"recipes[{number}]") for number in range(len(plan.recipes))],
            [Place(path=f"questions[{number}]") for number in range(len(plan.questions))],
        )


def refuse_too_many(count: int, things: str, most: int, problems: ProblemList) -> None:
    """Refuse a plan with more things than a board can hold.

    Raises:
        InputError: ``count`` is above ``most``.
    """
    if count > most:
        raise problems.refusal(
            f"The plan has {count} {things} and a board holds at most {most}; split the plan into several boards."
        )


def require_coupons(plan: Plan, problems: ProblemList) -> None:
    """Refuse a plan of which no coupon is left.

    Raises:
        InputError: no coupon; the sentence gives the first reason.
    """
    if plan.coupons:
        return
    first = problems.first()
    if not first:
        raise problems.refusal("The plan has no coupons; add at least one with an id and a position.")
    raise problems.refusal(f"No coupon of this plan can be used; the first problem: {first}")


def board_name(file: str) -> str:
    """Return the name of a board whose plan gives it none: the file's, without its ending."""
    return one_line(PurePath(file).stem) or "Board"


def amount_fault(name: str, value: float) -> str:
    """Return what is wrong with an amount such as ``coats`` or ``width_mm``; empty when nothing is."""
    low, high, unit = RANGES[name]
    if low <= value <= high:  # false for NaN
        return ""
    return f"{value:g}{unit} is not between {low:g} and {high:g}{unit}; the value was left out."


def note_fault(problems: ProblemList, place: Place, what: str, key: str = "") -> None:
    """Note what is wrong at a place, with one of its keys or as a whole."""
    problems.add(what, row=place.row, column=place.column(key) if key else place.path)


def with_sound_amounts(
    thing: _Thing, names: Iterable[str], usual: object, place: Place, problems: ProblemList
) -> _Thing:
    """Return a thing with those of its amounts that are out of range as in ``usual``, or not known."""
    wrong: dict[str, Any] = {}
    for name in names:
        value = getattr(thing, name)
        fault = "" if value is None else amount_fault(name, value)
        if fault:
            note_fault(problems, place, fault, name)
            wrong[name] = getattr(usual, name, None)
    return replace(thing, **wrong)


def sound_moment(when: datetime | None, place: Place, key: str, problems: ProblemList) -> datetime | None:
    """Return a moment, or None where its year cannot be."""
    if when is None or FIRST_YEAR <= when.year <= LAST_YEAR:
        return when
    what = f"The year {when.year} is not between {FIRST_YEAR} and {LAST_YEAR}; the value was left out."
    note_fault(problems, place, what, key)
    return None


def fitted_grid(board: Board, positions: Sequence[Position], *, rows: bool, columns: bool) -> Board:
    """Return the board with its rows and columns, where asked, as many as the positions need.

    Positions beyond `MOST_ROWS` and `MOST_COLUMNS` do not count; they are judged later.
    """
    inside = [each for each in positions if each.row < MOST_ROWS and each.column < MOST_COLUMNS]
    if not inside:
        return board
    return replace(
        board,
        rows=max(each.row for each in inside) + 1 if rows else board.rows,
        columns=max(each.column for each in inside) + 1 if columns else board.columns,
    )
