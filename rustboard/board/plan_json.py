"""Plans as JSON: one object that holds the board and, in lists of their own, what is on it and asked of it.

Every key but a coupon's ``id`` and ``position`` may be left out. Reading never stops at the first fault: a wrong
value or an unknown key is named and left out, a coupon without a usable id, position or role is left out whole.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Mapping
from typing import Final, TypeVar

from rustboard.board.cells import identity
from rustboard.board.json_fields import Fields, JsonObject
from rustboard.board.model import MOST_COUPONS, MOST_TREATMENTS, Plan, Treatment
from rustboard.board.plan_check import settle_plan
from rustboard.board.plan_json_parts import (
    BOARD_KEYS,
    COUPON_KEYS,
    MARKER_KEYS,
    TREATMENT_KEYS,
    board_object,
    coupon_object,
    marker_object,
    read_board,
    read_coupon,
    read_marker,
    read_treatment,
    treatment_object,
)
from rustboard.board.plan_rules import Place, Places, refuse_too_many, require_coupons
from rustboard.board.planning_json import (
    QUESTION_KEYS,
    calendar_object,
    layout_object,
    question_object,
    read_calendar,
    read_layout,
    read_question,
)
from rustboard.board.problem_list import ProblemList
from rustboard.board.recipe import Recipe

_PLAN_KEYS: Final = ("board", "markers", "treatments", "coupons", "questions", "layout", "calendar")

_Thing = TypeVar("_Thing")
_Placed = list[tuple[_Thing, Place]]


def read_plan_object(content: JsonObject, problems: ProblemList) -> Plan:
    """Read a plan from what a JSON file holds, and return everything in it that can be used.

    Rows and columns that the file does not state are as many as the positions need. A board without a name gets the
    file's.

    Args:
        content: of the file, as `parse_json` gives it.
        problems: names the file, and gathers what is left out and why.

    Raises:
        InputError: too many coupons, or no coupon that can be used.
    """
    top = Fields(content, "", problems, _PLAN_KEYS)
    coupons, treatments = top.items("coupons"), top.items("treatments")
    refuse_too_many(len(coupons), "coupons", MOST_COUPONS, problems)
    refuse_too_many(len(treatments), "treatments", MOST_TREATMENTS, problems)
    plan, places = _read_parts(top, coupons, treatments, problems.file)
    plan = settle_plan(plan, places, problems)
    require_coupons(plan, problems)
    return plan


def _read_parts(
    top: Fields, coupon_items: list[object], treatment_items: list[object], file: str
) -> tuple[Plan, Places]:
    coupons = _read_list(top.objects(coupon_items, "coupons", COUPON_KEYS), read_coupon)
    treatments = _read_list(top.objects(treatment_items, "treatments", TREATMENT_KEYS), read_treatment)
    markers = _read_list(top.objects(top.items("markers"), "markers", MARKER_KEYS), read_marker)
    questions = _read_list(top.objects(top.items("questions"), "questions", QUESTION_KEYS), read_question)
    recipes = _recipes_of(treatments)
    plan = Plan(
        board=read_board(top.child("board", BOARD_KEYS), [each.position for each, _ in coupons], file),
        treatments=tuple(treatment for (treatment, _), _ in treatments),
        coupons=_values(coupons),
        markers=_values(markers),
        recipes=_values(recipes),
        questions=_values(questions),
        layout=read_layout(top),
        calendar=read_calendar(top),
    )
    places = Places(_places(coupons), _places(treatments), _places(markers), _places(recipes), _places(questions))
    return plan, places


def _read_list(objects: Iterable[Fields], read: Callable[[Fields], _Thing | None]) -> _Placed[_Thing]:
    placed = ((read(each), each.place) for each in objects)
    return [(thing, place) for thing, place in placed if thing is not None]


def _recipes_of(treatments: _Placed[tuple[Treatment, Recipe]]) -> _Placed[tuple[str, Recipe]]:
    """Return the recipes; of two treatments with one id only the first is kept, and so its recipe or none."""
    first: dict[str, tuple[tuple[str, Recipe], Place]] = {}
    for (treatment, recipe), place in treatments:
        first.setdefault(identity(treatment.id), ((treatment.id, recipe), place))
    return list(first.values())


def write_plan_json(plan: Plan) -> str:
    """Return a plan as JSON, one line a coupon, treatment and marker; read back it is the same."""
    recipes = {identity(treatment): recipe for treatment, recipe in plan.recipes}
    treatments = [treatment_object(each, recipes.get(identity(each.id), Recipe())) for each in plan.treatments]
    parts = [
        f'"board": {_dumped(board_object(plan.board))}',
        _list_text("markers", map(marker_object, plan.markers)),
        _list_text("treatments", treatments),
        _list_text("coupons", map(coupon_object, plan.coupons)),
    ]
    if plan.questions:
        parts.append(_list_text("questions", map(question_object, plan.questions)))
    if plan.layout is not None:
        parts.append(f'"layout": {_dumped(layout_object(plan.layout))}')
    if plan.calendar is not None:
        parts.append(f'"calendar": {_dumped(calendar_object(plan.calendar))}')
    return "{" + ",\n ".join(parts) + "}\n"


def _values(placed: _Placed[_Thing]) -> tuple[_Thing, ...]:
    return tuple(value for value, _ in placed)


def _places(placed: _Placed[_Thing]) -> list[Place]:
    return [place for _, place in placed]


def _dumped(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _list_text(key: str, objects: Iterable[Mapping[str, object]]) -> str:
    lines = ",\n  ".join(_dumped(each) for each in objects)
    return f'"{key}": [\n  {lines}]' if lines else f'"{key}": []'
