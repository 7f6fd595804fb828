"""A plan file as it was read: its cells, which of them cannot be used and why, and the plan that the rest makes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from rustboard.board.cells import identity
from rustboard.board.json_fields import parse_json
from rustboard.board.model import Plan
from rustboard.board.plan_csv import read_plan_table
from rustboard.board.plan_json import read_plan_object
from rustboard.board.plan_json_parts import COUPON_KEYS
from rustboard.board.position import Position, parse_position
from rustboard.board.problem_list import ProblemList
from rustboard.board.table_rows import Table
from rustboard.support.problems import InputError, Problem
from rustboard.support.text import one_line

MOST_ROWS_SHOWN: Final = 5_000
MOST_CHARACTERS_SHOWN: Final = 200
MOST_EXTRA_CELLS: Final = 20
"""Cells shown of a row beyond the last column that the header names."""
_HEADS: Final = {"id": "coupon", "outline_mm": "outline, mm", "drawn": "drawn by lot"}
"""Plain words for the keys of JSON that need them."""
_COUPON_PLACE: Final = re.compile(r"coupons\[([0-9]+)\](?:\.([a-z_]+))?.*")


class PreviewCell(NamedTuple):
    """One cell of the preview.

    Attributes:
        row: place among the rows of the preview.
        column: place among its columns, or None for the whole row.
    """

    row: int
    column: int | None


@dataclass(frozen=True, slots=True)
class PlanPreview:
    """A plan file as it was read.

    Attributes:
        file: its name.
        plan: what of it can be used.
        header: names of the columns.
        names: of the rows, as the file counts them.
        rows: cells, each row as long as the header.
        row_count: how many rows the file has; ``rows`` holds the first of very many.
        problems: what was left out and why.
        places: the cell of each problem; None for one that is in no cell shown.
        rows_left_out: places of the rows shown that became no coupon.
    """

    file: str
    plan: Plan
    header: tuple[str, ...]
    names: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    row_count: int
    problems: tuple[Problem, ...]
    places: tuple[PreviewCell | None, ...]
    rows_left_out: frozenset[int] = frozenset()

    @property
    def left_out(self) -> int:
        """How many rows did not become coupons."""
        return self.row_count - len(self.plan.coupons)

    def faults(self) -> Mapping[PreviewCell, tuple[str, ...]]:
        """Return the sentences about each cell, and about each whole row."""
        found: dict[PreviewCell, tuple[str, ...]] = {}
        for problem, place in zip(self.problems, self.places, strict=True):
            if place is not None:
                found[place] = (*found.get(place, ()), problem.what)
        return found


def preview_table(table: Table, problems: ProblemList) -> PlanPreview:
    """Read a plan from a table whose header has been read, and keep the table's cells.

    Raises:
        InputError: nothing in it can be used.
    """
    plan, listed = read_plan_table(table, problems)
    numbers: list[int] = []
    rows: list[tuple[str, ...]] = []
    row_count = 0
    for number, cells in table.filled(ProblemList(problems.file)):
        row_count += 1
        if row_count <= MOST_ROWS_SHOWN:
            numbers.append(number)
            rows.append(_without_blanks(tuple(map(_shown, cells[: len(table.titles) + MOST_EXTRA_CELLS]))))
    by_number = {number: index for index, number in enumerate(numbers)}

    def place(problem: Problem) -> PreviewCell | None:
        row = by_number.get(problem.row) if problem.row is not None else None
        return None if row is None else PreviewCell(row, table.place_of(problem.column))

    header, evened = _even(list(map(_shown, table.titles)), rows)
    places = tuple(map(place, listed))
    names = tuple(map(str, numbers))
    lost = _lost(plan, evened, table.columns["coupon"], table.columns["position"], places)
    return PlanPreview(problems.file, plan, header, names, evened, row_count, tuple(listed), places, lost)


def preview_json(data: bytes, file: str) -> PlanPreview:
    """Read a plan from JSON, and keep what it says of its coupons as a table.

    Raises:
        InputError: nothing in it can be used.
    """
    problems = ProblemList(file)
    content = parse_json(data, problems)
    plan, listed = read_plan_object(content, problems), problems.listed()
    items = content.get("coupons")
    coupons = [each if isinstance(each, dict) else {} for each in items] if isinstance(items, list) else []
    stated = {key for each in coupons for key in each}
    header = [key for key in COUPON_KEYS if key in stated or key in {"id", "position"}]
    rows = tuple(tuple(_json_cell(each.get(key)) for key in header) for each in coupons)
    names = tuple(row[header.index("id")] or f"coupons[{number}]" for number, row in enumerate(rows))

    def place(problem: Problem) -> PreviewCell | None:
        found = _COUPON_PLACE.fullmatch(problem.column)
        if found is None:
            return None
        return PreviewCell(int(found[1]), header.index(found[2]) if found[2] in header else None)

    places = tuple(map(place, listed))
    lost = _lost(plan, rows, header.index("id"), header.index("position"), places)
    if "treatment" in header:
        rows = _with_names(rows, header.index("treatment"), plan)
    titles = tuple(_HEADS.get(key, key) for key in header)
    return PlanPreview(file, plan, titles, names, rows, len(rows), tuple(listed), places, lost)


_Cells = tuple[str, ...]


def _lost(
    plan: Plan, rows: Sequence[_Cells], id_at: int, position_at: int, places: Sequence[PreviewCell | None]
) -> frozenset[int]:
    """Return the rows that became no coupon: those with a fault that no coupon of the plan answers to.

    Of rows with the same id and position one became the coupon: the one without a fault, or the first.
    """
    faulty = {each.row for each in places if each is not None}
    kept = {(identity(each.id), each.position) for each in plan.coupons}
    order = sorted(range(len(rows)), key=lambda number: number in faulty)
    lost = set()
    for number in order:
        cells = rows[number]
        coupon = (identity(cells[id_at].strip()), _position(cells[position_at]))
        if coupon in kept:
            kept.remove(coupon)
        elif number in faulty:
            lost.add(number)
    return frozenset(lost)


def _position(text: str) -> Position | None:
    try:
        return parse_position(text)
    except InputError:
        return None


def _with_names(rows: Sequence[_Cells], column: int, plan: Plan) -> tuple[_Cells, ...]:
    """Return rows that show a treatment's name behind its id."""
    named = {identity(each.id): one_line(each.name) for each in plan.treatments if each.name not in ("", each.id)}

    def shown(cell: str) -> str:
        name = named.get(identity(cell.strip()), "")
        return _shown(f"{cell} · {name}") if name else cell

    return tuple((*row[:column], shown(row[column]), *row[column + 1 :]) for row in rows)


def _without_blanks(cells: _Cells) -> _Cells:
    """Return a row without the empty cells at its end."""
    filled = len(cells)
    while filled and not cells[filled - 1]:
        filled -= 1
    return cells[:filled]


def _even(
    titles: Sequence[str], rows: Sequence[tuple[str, ...]]
) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Return header and rows of the same length, with names for the columns that have none."""
    width = max([len(titles), *map(len, rows)])
    named = [title or f"column {number}" for number, title in enumerate(titles, 1)]
    header = (*named, *(f"column {number}" for number in range(len(titles) + 1, width + 1)))
    return header, tuple((*row, *[""] * (width - len(row))) for row in rows)


def _json_cell(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{…}"
    if isinstance(value, list):
        return f"{len(value)} points" if all(isinstance(each, list) for each in value) else "[…]"
    return _shown(str(value))


def _shown(text: str) -> str:
    return one_line(text, MOST_CHARACTERS_SHOWN)
