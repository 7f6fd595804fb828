"""Plans as tables, CSV or a sheet of a workbook: one row a coupon.

What the treatment column says is the treatment's name. It is its id as well when it has at most 12 characters and no
blank; a longer text gets the next free one of T1, T2, T3... Rows with the same text are replicates, upper and lower
case making no difference. A treatment's family, preparation, finish, protectant, coats and cost are those of the
first row that states them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final

from rustboard.board.cells import identity, quoted, read_decimal, read_needed, read_role, read_whole
from rustboard.board.model import MOST_COUPONS, Board, Plan, PlannedCoupon, Role, Treatment
from rustboard.board.plan_check import settle_plan
from rustboard.board.plan_rules import (
    Place,
    Places,
    amount_fault,
    board_name,
    fitted_grid,
    refuse_too_many,
    require_coupons,
)
from rustboard.board.position import Position, parse_position
from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import Layout, Row, Table
from rustboard.support.problems import InputError, Problem
from rustboard.support.text import many_lines

LONGEST_TREATMENT_ID: Final = 12

_RECIPE_TEXTS: Final = ("family", "preparation", "finish", "protectant")
_RECIPE_NUMBERS: Final[dict[str, Callable[[str], float]]] = {"coats": read_whole, "cost_per_m2": read_decimal}
PLAN_LAYOUT: Final = Layout(
    needed=("coupon", "position"),
    known=("coupon", "position", "treatment", "role", "substrate", *_RECIPE_TEXTS, *_RECIPE_NUMBERS, "note"),
    aliases={"notes": "note"},
)


def read_plan_table(table: Table, problems: ProblemList) -> tuple[Plan, list[Problem]]:
    """Read a plan from a table, one row a coupon.

    The board gets the file's name and as many rows and columns as the positions need. Columns without a meaning are
    kept in the coupon's note as ``column: value``; so is the recipe of a row without a treatment.

    Args:
        table: with the columns of `PLAN_LAYOUT`; its header has been read.
        problems: names the file, and gathers what cannot be used.

    Returns:
        The plan with every row that can be used, and what was left out and why.

    Raises:
        InputError: too many coupons, or none that can be used.
    """
    refuse_too_many(sum(1 for _ in table.rows(ProblemList(problems.file))), "coupons", MOST_COUPONS, problems)
    rows = list(table.rows(problems))
    recipes = _Recipes(rows)
    coupons: list[PlannedCoupon] = []
    places: list[Place] = []
    for row in rows:
        coupon = _read_coupon(row, recipes)
        if coupon is not None:
            coupons.append(coupon)
            places.append(Place(row=row.number))
    board = fitted_grid(
        Board(board_name(problems.file), 1, 1), [each.position for each in coupons], rows=True, columns=True
    )
    plan = Plan(board, recipes.treatments(), tuple(coupons))
    plan = settle_plan(plan, Places(places, recipes.places(), []), problems)
    require_coupons(plan, problems)
    return plan, problems.listed()


_NOWHERE: Final = Position(-1, -1)


def _read_coupon(row: Row, recipes: _Recipes) -> PlannedCoupon | None:
    coupon_id = row.read("coupon", read_needed, "")
    position = row.read("position", parse_position, _NOWHERE)
    role: Role = row.read("role", read_role, "test")
    if row.failed:
        return None
    note = row.note()
    if row.text("treatment"):
        treatment = recipes.take(row)
    else:
        treatment = ""
        stated = ((key, row.text(key)) for key in (*_RECIPE_TEXTS, *_RECIPE_NUMBERS))
        note = many_lines("\n".join([note, *(f"{key}: {text}" for key, text in stated if text)]))
    return PlannedCoupon(coupon_id, position, treatment, role, row.text("substrate"), note=note)


@dataclass(slots=True)
class _Recipe:
    """A treatment while its rows are read.

    Attributes:
        stated: value and row by column, for each column that some row filled in.
    """

    id: str
    name: str
    row: int
    stated: dict[str, tuple[str | float, int]] = field(default_factory=dict)

    def text(self, key: str) -> str:
        return str(self.stated[key][0]) if key in self.stated else ""

    def number(self, key: str) -> float | None:
        return float(self.stated[key][0]) if key in self.stated else None

    def treatment(self) -> Treatment:
        coats = self.number("coats")
        return Treatment(
            id=self.id,
            name=self.name,
            family=self.text("family"),
            preparation=self.text("preparation"),
            finish=self.text("finish"),
            protectant=self.text("protectant"),
            coats=None if coats is None else int(coats),
            cost_per_m2=self.number("cost_per_m2"),
        )


class _Recipes:
    """The treatments of a table, in the order in which they first appear."""

    def __init__(self, rows: list[Row]) -> None:
        self._by_name: dict[str, _Recipe] = {}
        self._taken = {identity(text) for row in rows if _is_id(text := row.text("treatment"))}

    def take(self, row: Row) -> str:
        """Note what a row says about its treatment, and return that treatment's id."""
        text = row.text("treatment")
        recipe = self._by_name.get(identity(text))
        if recipe is None:
            recipe = _Recipe(text if _is_id(text) else self._free_id(), text, row.number)
            self._by_name[identity(text)] = recipe
        for key in _RECIPE_TEXTS:
            _state(recipe, key, row.text(key), row)
        for key, reader in _RECIPE_NUMBERS.items():
            if row.text(key):
                _state_number(recipe, key, reader, row)
        return recipe.id

    def treatments(self) -> tuple[Treatment, ...]:
        return tuple(each.treatment() for each in self._by_name.values())

    def places(self) -> list[Place]:
        return [Place(row=each.row) for each in self._by_name.values()]

    def _free_id(self) -> str:
        number = 1
        while identity(f"T{number}") in self._taken:
            number += 1
        self._taken.add(identity(f"T{number}"))
        return f"T{number}"


def _is_id(text: str) -> bool:
    return 0 < len(text) <= LONGEST_TREATMENT_ID and len(text.split()) == 1


def _state_number(recipe: _Recipe, key: str, reader: Callable[[str], float], row: Row) -> None:
    value = row.read(key, reader, None)
    if value is None:
        return
    fault = amount_fault(key, value)
    if fault:
        row.refuse(InputError(fault), key)
    else:
        _state(recipe, key, value, row)


def _state(recipe: _Recipe, key: str, value: str | float, row: Row) -> None:
    if value == "":
        return
    before, first_row = recipe.stated.setdefault(key, (value, row.number))
    if identity(str(before)) != identity(str(value)):
        row.refuse(
            InputError(
                f"{quoted(_shown(value))} differs from {quoted(_shown(before))} in row {first_row} for the same "
                f"treatment {quoted(recipe.name)}; the first was kept."
            ),
            key,
        )


def _shown(value: str | float) -> str:
    return value if isinstance(value, str) else f"{value:g}"
