"""Plans as JSON: one object with ``board``, ``markers``, ``treatments`` and ``coupons``.

Every key but a coupon's ``id`` and ``position`` may be left out. Reading never stops at the first fault: a wrong
value or an unknown key is named and left out, a coupon without a usable id, position or role is left out whole.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from typing import Final, TypeVar

from rustboard.board.cells import read_needed, read_role
from rustboard.board.json_fields import Fields, finite_number, parse_json
from rustboard.board.model import (
    MOST_COUPONS,
    MOST_TREATMENTS,
    Board,
    Marker,
    Outline,
    Plan,
    PlannedCoupon,
    Treatment,
)
from rustboard.board.plan_rules import (
    Place,
    Places,
    board_name,
    fitted_grid,
    refuse_too_many,
    require_coupons,
    settle_plan,
)
from rustboard.board.position import Position, parse_position
from rustboard.board.problem_list import ProblemList
from rustboard.support.problems import Problem

_PLAN_KEYS: Final = ("board", "markers", "treatments", "coupons")
_BOARD_KEYS: Final = (
    "name", "rows", "columns", "width_mm", "height_mm", "edge_margin_mm", "started", "incline_deg", "facing_deg",
    "site", "shelter", "customer", "shop", "note",
)  # fmt: skip
_MARKER_KEYS: Final = ("id", "centre_mm", "size_mm")
_TREATMENT_KEYS: Final = (
    "id", "name", "family", "preparation", "finish", "protectant", "coats", "batch", "cost_per_m2", "minutes_per_m2",
    "note",
)  # fmt: skip
_COUPON_KEYS: Final = ("id", "position", "treatment", "role", "substrate", "outline_mm", "note")

_Thing = TypeVar("_Thing")


def read_plan_json(data: bytes, file: str) -> tuple[Plan, list[Problem]]:
    """Read a plan.

    Rows and columns that the file does not state are as many as the positions need. A board without a name gets the
    file's.

    Args:
        data: the file's bytes: UTF-8, or UTF-16 or UTF-32 as the JSON standard's readers recognise them.
        file: the file's name, for the sentences.

    Returns:
        The plan with everything that can be used, and what was left out and why.

    Raises:
        InputError: not JSON, not an object, too large, too many coupons, or no coupon that can be used.
    """
    problems = ProblemList(file)
    top = Fields(parse_json(data, problems), "", problems, _PLAN_KEYS)
    coupon_items = top.items("coupons")
    treatment_items = top.items("treatments")
    refuse_too_many(len(coupon_items), "coupons", MOST_COUPONS, problems)
    refuse_too_many(len(treatment_items), "treatments", MOST_TREATMENTS, problems)
    coupons = _gathered(map(_read_coupon, top.objects(coupon_items, "coupons", _COUPON_KEYS)))
    treatments = _gathered(map(_read_treatment, top.objects(treatment_items, "treatments", _TREATMENT_KEYS)))
    markers = _gathered(map(_read_marker, top.objects(top.items("markers"), "markers", _MARKER_KEYS)))
    board = _read_board(top.child("board", _BOARD_KEYS), [each.position for each, _ in coupons], file)
    plan = Plan(board, _values(treatments), _values(coupons), _values(markers))
    places = Places([each for _, each in coupons], [each for _, each in treatments], [each for _, each in markers])
    plan = settle_plan(plan, places, problems)
    require_coupons(plan, problems)
    return plan, problems.listed()


def write_plan_json(plan: Plan) -> str:
    """Return a plan as JSON, one line a coupon, treatment and marker; `read_plan_json` reads it back the same."""
    parts = [
        f'"board": {_dumped(_board_object(plan.board))}',
        _list_text("markers", [_marker_object(each) for each in plan.markers]),
        _list_text("treatments", [_treatment_object(each) for each in plan.treatments]),
        _list_text("coupons", [_coupon_object(each) for each in plan.coupons]),
    ]
    return "{" + ",\n ".join(parts) + "}\n"


def _gathered(read: Iterable[tuple[_Thing, Place] | None]) -> list[tuple[_Thing, Place]]:
    return [each for each in read if each is not None]


def _values(placed: Iterable[tuple[_Thing, Place]]) -> tuple[_Thing, ...]:
    return tuple(value for value, _ in placed)


def _read_board(fields: Fields, positions: Sequence[Position], file: str) -> Board:
    rows, columns = fields.whole("rows"), fields.whole("columns")
    stated = Board(
        name=fields.text("name") or board_name(file),
        rows=1 if rows is None else rows,
        columns=1 if columns is None else columns,
        width_mm=fields.number("width_mm") or 0.0,
        height_mm=fields.number("height_mm") or 0.0,
        edge_margin_mm=fields.number("edge_margin_mm") or 0.0,
        started=fields.moment("started"),
        incline_deg=fields.number("incline_deg"),
        facing_deg=fields.number("facing_deg"),
        site=fields.text("site"),
        shelter=fields.text("shelter"),
        customer=fields.text("customer"),
        shop=fields.text("shop"),
        note=fields.lines("note"),
    )
    return fitted_grid(stated, positions, rows=rows is None, columns=columns is None)


def _read_treatment(fields: Fields) -> tuple[Treatment, Place] | None:
    treatment_id = fields.converted("id", read_needed)
    if treatment_id is None:
        return None
    treatment = Treatment(
        id=treatment_id,
        name=fields.text("name"),
        family=fields.text("family"),
        preparation=fields.text("preparation"),
        finish=fields.text("finish"),
        protectant=fields.text("protectant"),
        coats=fields.whole("coats"),
        batch=fields.text("batch"),
        cost_per_m2=fields.number("cost_per_m2"),
        minutes_per_m2=fields.number("minutes_per_m2"),
        note=fields.lines("note"),
    )
    return treatment, fields.place


def _read_coupon(fields: Fields) -> tuple[PlannedCoupon, Place] | None:
    coupon_id = fields.converted("id", read_needed)
    position = fields.converted("position", parse_position)
    role = fields.converted("role", read_role)
    if coupon_id is None or position is None or role is None:
        return None
    coupon = PlannedCoupon(
        id=coupon_id,
        position=position,
        treatment=fields.text("treatment"),
        role=role,
        substrate=fields.text("substrate"),
        outline_mm=_read_points(fields, "outline_mm"),
        note=fields.lines("note"),
    )
    return coupon, fields.place


def _read_marker(fields: Fields) -> tuple[Marker, Place] | None:
    number, size = fields.whole("id"), fields.number("size_mm")
    centre = _point(fields.items("centre_mm"))
    if number is None or size is None or centre is None:
        fields.refuse_all("A marker needs its id, its centre_mm as [x, y] and its size_mm; the marker was left out.")
        return None
    return Marker(number, centre, size), fields.place


def _read_points(fields: Fields, key: str) -> Outline:
    points = []
    for item in fields.items(key):
        point = _point(item)
        if point is None:
            fields.refuse(key, "An outline is a list of points [x, y] in mm; the outline was left out.")
            return ()
        points.append(point)
    return tuple(points)


def _point(item: object) -> tuple[float, float] | None:
    if not isinstance(item, list) or len(item) != 2:
        return None
    x, y = finite_number(item[0]), finite_number(item[1])
    return None if x is None or y is None else (x, y)


def _dumped(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def _list_text(key: str, objects: Sequence[Mapping[str, object]]) -> str:
    lines = ",\n  ".join(_dumped(each) for each in objects)
    return f'"{key}": [\n  {lines}]' if objects else f'"{key}": []'


def _stated(**values: object) -> dict[str, object]:
    """Return the values that say something: not None, not empty."""
    return {key: value for key, value in values.items() if value is not None and value not in ("", ())}


def _board_object(board: Board) -> dict[str, object]:
    return _stated(
        name=board.name,
        rows=board.rows,
        columns=board.columns,
        width_mm=board.width_mm or None,
        height_mm=board.height_mm or None,
        edge_margin_mm=board.edge_margin_mm or None,
        started=None if board.started is None else board.started.isoformat(),
        site=board.site,
        shelter=board.shelter,
        incline_deg=board.incline_deg,
        facing_deg=board.facing_deg,
        customer=board.customer,
        shop=board.shop,
        note=board.note,
    )


def _marker_object(marker: Marker) -> dict[str, object]:
    return _stated(id=marker.id, centre_mm=marker.centre_mm, size_mm=marker.size_mm)


def _treatment_object(treatment: Treatment) -> dict[str, object]:
    return _stated(
        id=treatment.id,
        name=treatment.name,
        family=treatment.family,
        preparation=treatment.preparation,
        finish=treatment.finish,
        protectant=treatment.protectant,
        coats=treatment.coats,
        batch=treatment.batch,
        cost_per_m2=treatment.cost_per_m2,
        minutes_per_m2=treatment.minutes_per_m2,
        note=treatment.note,
    )


def _coupon_object(coupon: PlannedCoupon) -> dict[str, object]:
    return _stated(
        id=coupon.id,
        position=coupon.position.label,
        treatment=coupon.treatment,
        role=coupon.role,
        substrate=coupon.substrate,
        outline_mm=coupon.outline_mm,
        note=coupon.note,
    )
