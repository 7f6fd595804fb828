"""The board, the treatments, the coupons and the markers of a plan in JSON: each read from an object, and written."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.board.cells import read_needed, read_role
from rustboard.board.json_fields import Fields, finite_number, stated
from rustboard.board.model import Board, Marker, Outline, PlannedCoupon, Treatment
from rustboard.board.plan_rules import board_name, fitted_grid
from rustboard.board.position import Position, parse_position
from rustboard.board.recipe import Recipe
from rustboard.board.recipe_json import read_recipe, recipe_object

BOARD_KEYS: Final = (
    "name", "rows", "columns", "width_mm", "height_mm", "edge_margin_mm", "started", "incline_deg", "facing_deg",
    "site", "shelter", "customer", "shop", "note",
)  # fmt: skip
MARKER_KEYS: Final = ("id", "centre_mm", "size_mm")
TREATMENT_KEYS: Final = (
    "id", "name", "family", "preparation", "finish", "protectant", "coats", "batch", "cost_per_m2", "minutes_per_m2",
    "note", "steps", "library_id", "recipe_version",
)  # fmt: skip
COUPON_KEYS: Final = ("id", "position", "treatment", "role", "substrate", "outline_mm", "note", "drawn")


def read_board(fields: Fields, positions: Sequence[Position], file: str) -> Board:
    """Return the board; what the file leaves out is as the positions need it."""
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


def read_treatment(fields: Fields) -> tuple[Treatment, Recipe] | None:
    """Return a treatment and its recipe, or None when its id cannot be used."""
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
    return treatment, read_recipe(fields)


def read_coupon(fields: Fields) -> PlannedCoupon | None:
    """Return a coupon, or None when its id, position or role cannot be used."""
    coupon_id = fields.converted("id", read_needed)
    position = fields.converted("position", parse_position)
    role = fields.converted("role", read_role)
    if coupon_id is None or position is None or role is None:
        return None
    return PlannedCoupon(
        id=coupon_id,
        position=position,
        treatment=fields.text("treatment"),
        role=role,
        substrate=fields.text("substrate"),
        outline_mm=_read_points(fields, "outline_mm"),
        note=fields.lines("note"),
        drawn=fields.converted("drawn", parse_position) if fields.text("drawn") else None,
    )


def read_marker(fields: Fields) -> Marker | None:
    """Return a marker, or None when part of it is missing."""
    number, size = fields.whole("id"), fields.number("size_mm")
    centre = _point(fields.items("centre_mm"))
    if number is None or size is None or centre is None:
        fields.refuse_all("A marker needs its id, its centre_mm as [x, y] and its size_mm; the marker was left out.")
        return None
    return Marker(number, centre, size)


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


def board_object(board: Board) -> dict[str, object]:
    """Return the board as JSON has it."""
    return stated(
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


def marker_object(marker: Marker) -> dict[str, object]:
    """Return a marker as JSON has it."""
    return stated(id=marker.id, centre_mm=marker.centre_mm, size_mm=marker.size_mm)


def treatment_object(treatment: Treatment, recipe: Recipe) -> dict[str, object]:
    """Return a treatment and its recipe as JSON has them."""
    return stated(
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
        **recipe_object(recipe),
    )


def coupon_object(coupon: PlannedCoupon) -> dict[str, object]:
    """Return a coupon as JSON has it."""
    return stated(
        id=coupon.id,
        position=coupon.position.label,
        treatment=coupon.treatment,
        role=coupon.role,
        substrate=coupon.substrate,
        outline_mm=coupon.outline_mm,
        note=coupon.note,
        drawn=None if coupon.drawn is None else coupon.drawn.label,
    )
