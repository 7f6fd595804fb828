"""What our own workbook says beside its grades: its sheets of coupons and of treatments, known by their headers.

These sheets hold texts as they are; only the tidy table guards texts that would run as formulas, because its twin is
a text file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, Final, TypeVar

from rustboard.board.cells import identity, read_decimal, read_role, read_whole
from rustboard.board.model import Treatment
from rustboard.board.old_grades.grid import Grid
from rustboard.board.old_grades.reading import OldCoupon
from rustboard.board.plan_rules import amount_fault
from rustboard.board.position import parse_position
from rustboard.board.table_rows import plain_name
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines, one_line

COUPONS: Final = "Coupons"
TREATMENTS: Final = "Treatments"
_COUPON_COLUMNS: Final = frozenset({"coupon", "position", "treatment", "role", "substrate", "note"})
_TREATMENT_TEXTS: Final = ("name", "family", "preparation", "finish", "protectant", "batch")
_TREATMENT_COLUMNS: Final = frozenset({"treatment", *_TREATMENT_TEXTS, "coats", "note"})
_TREATMENT_NUMBERS: Final[dict[str, Callable[[str], float]]] = {
    "coats": read_whole,
    "cost_per_m2": read_decimal,
    "minutes_per_m2": read_decimal,
}
_HEADS_LOOKED_AT: Final = 20

_Value = TypeVar("_Value")


@dataclass(frozen=True, slots=True)
class OurSheets:
    """Coupons and treatments of the workbook, by the form in which ids are compared."""

    coupons: Mapping[str, OldCoupon] = field(default_factory=dict)
    treatments: Mapping[str, Treatment] = field(default_factory=dict)


def read_our_sheets(coupons: Grid | None, treatments: Grid | None) -> OurSheets:
    """Return what these sheets say; a sheet with another header says nothing."""
    found = {} if coupons is None else {identity(each.id): each for each in _coupons(coupons)}
    recipes = {} if treatments is None else {identity(each.id): each for each in _treatments(treatments)}
    return OurSheets(found, recipes)


def _coupons(grid: Grid) -> Iterator[OldCoupon]:
    for row, cells in _rows(grid, _COUPON_COLUMNS):
        name = one_line(cells["coupon"])
        if name:
            yield OldCoupon(
                row,
                name,
                _sound(cells["position"], parse_position, None),
                one_line(cells["treatment"]),
                "",
                _sound(cells["role"], read_role, "test"),
                one_line(cells["substrate"]),
                many_lines(cells["note"]),
            )


def _treatments(grid: Grid) -> Iterator[Treatment]:
    for _, cells in _rows(grid, _TREATMENT_COLUMNS):
        name = one_line(cells["treatment"])
        if name:
            texts: dict[str, Any] = {key: one_line(cells[key]) for key in _TREATMENT_TEXTS}
            yield Treatment(name, note=many_lines(cells["note"]), **texts, **dict(_amounts(cells)))


def _amounts(cells: Mapping[str, str]) -> Iterator[tuple[str, Any]]:
    for key, reader in _TREATMENT_NUMBERS.items():
        value = _sound(cells.get(key, ""), reader, None)
        if value is not None and not amount_fault(key, value):
            yield key, value


def _sound(text: str, read: Callable[[str], _Value], otherwise: _Value) -> _Value:
    try:
        return read(text.strip()) if text.strip() else otherwise
    except InputError:
        return otherwise  # somebody changed it by hand; the board is made without it


def _rows(grid: Grid, columns: frozenset[str]) -> Iterator[tuple[int, dict[str, str]]]:
    header: list[str] = []
    for number, cells in grid.rows.items():
        if header:
            yield (
                number,
                {name: text for name, text in zip(header, (*cells, *[""] * len(header)), strict=False) if name},
            )
            continue
        titles = [plain_name(each) for each in cells]
        if columns <= set(titles):
            header = titles
        elif number > _HEADS_LOOKED_AT:
            return
