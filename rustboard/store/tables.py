"""How each value of the domain becomes a row and comes back.

A row read from a stranger's file, or from a damaged one, may hold anything: `Table.read` refuses what no version of
this program writes, and makes texts safe to show.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any, Final

from rustboard.board.grade import DISTRIBUTIONS, GRADES, SOURCES
from rustboard.board.measured import PLACED_BY
from rustboard.board.model import (
    MOST_OUTLINE_POINTS,
    ROLES,
    Axis,
    AxisLabel,
    Board,
    Coupon,
    Grading,
    Inspection,
    Marker,
    Photo,
    Treatment,
)
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS
from rustboard.store import values
from rustboard.store.blind_tables import BLIND_TABLES
from rustboard.store.findings_tables import FINDINGS_TABLES
from rustboard.store.measuring_tables import MEASURING_TABLES
from rustboard.store.plan_tables import PLAN_TABLES
from rustboard.store.shelving_tables import SHELVING_TABLES
from rustboard.store.table import Row, Table, key_of, names, real
from rustboard.store.weather_tables import WEATHER_TABLES

AXES: Final[tuple[Axis, ...]] = ("row", "column")
STATES: Final = ("current", "superseded", "withdrawn")
LETTERS: Final = ("", *DISTRIBUTIONS)
_MOST_MARKERS = 50
_MOST_PIXELS = 200_000
_MOST_WARNINGS = 20
_MOST_OFFSET_MINUTES = 24 * 60


@dataclass(frozen=True, slots=True)
class BoardRow:
    """The board's one row: the board and its markers."""

    board: Board
    markers: tuple[Marker, ...] = ()


def _board_to_row(value: BoardRow) -> Row:
    board = value.board
    markers = [[each.id, each.centre_mm[0], each.centre_mm[1], each.size_mm] for each in value.markers]
    return (
        board.name,
        board.rows,
        board.columns,
        float(board.width_mm),
        float(board.height_mm),
        float(board.edge_margin_mm),
        values.moment_text(board.started),
        board.site,
        board.shelter,
        real(board.incline_deg),
        real(board.facing_deg),
        board.customer,
        board.shop,
        board.note,
        json.dumps(markers),
    )


def _board_from_row(row: Row) -> BoardRow:
    board = Board(
        name=values.line(row[1]),
        rows=values.whole(row[2], 1, MOST_ROWS),
        columns=values.whole(row[3], 1, MOST_COLUMNS),
        width_mm=values.amount("width_mm", row[4]),
        height_mm=values.amount("height_mm", row[5]),
        edge_margin_mm=values.amount("edge_margin_mm", row[6]),
        started=values.moment_or_none(row[7]),
        site=values.line(row[8]),
        shelter=values.line(row[9]),
        incline_deg=values.amount_or_none("incline_deg", row[10]),
        facing_deg=values.amount_or_none("facing_deg", row[11]),
        customer=values.line(row[12]),
        shop=values.line(row[13]),
        note=values.note(row[14]),
    )
    return BoardRow(board, tuple(_marker(*each) for each in values.items(row[15], _MOST_MARKERS)))


def _marker(number: object, x: object, y: object, size: object) -> Marker:
    return Marker(
        values.whole(number, 0, _MOST_MARKERS - 1),
        (values.finite(x), values.finite(y)),
        values.amount("size_mm", size),
    )


def _treatment_to_row(each: Treatment) -> Row:
    return (
        each.id,
        each.name,
        each.family,
        each.preparation,
        each.finish,
        each.protectant,
        each.coats,
        each.batch,
        real(each.cost_per_m2),
        real(each.minutes_per_m2),
        each.note,
    )


def _treatment_from_row(row: Row) -> Treatment:
    coats = values.amount_or_none("coats", row[7])
    return Treatment(
        id=values.needed(row[1]),
        name=values.line(row[2]),
        family=values.line(row[3]),
        preparation=values.line(row[4]),
        finish=values.line(row[5]),
        protectant=values.line(row[6]),
        coats=None if coats is None else int(coats),
        batch=values.line(row[8]),
        cost_per_m2=values.amount_or_none("cost_per_m2", row[9]),
        minutes_per_m2=values.amount_or_none("minutes_per_m2", row[10]),
        note=values.note(row[11]),
        key=values.key(row[0]),
    )


def _coupon_to_row(coupon: Coupon) -> Row:
    row, column = coupon.position if coupon.position is not None else (None, None)
    outline = json.dumps([[float(x), float(y)] for x, y in coupon.outline_mm])
    return (coupon.id, row, column, coupon.treatment, coupon.role, coupon.substrate, outline, coupon.note)


def _coupon_from_row(row: Row) -> Coupon:
    key, name, row_number, column_number, treatment, role, substrate, outline, note = row
    position = None
    if row_number is not None or column_number is not None:
        position = values.position(row_number, column_number)
    return Coupon(
        id=values.needed(name),
        position=position,
        treatment=values.key_or_none(treatment),
        role=values.one_of(role, ROLES),
        substrate=values.line(substrate),
        outline_mm=values.points(outline, MOST_OUTLINE_POINTS),
        note=values.note(note),
        key=values.key(key),
    )


def _inspection_from_row(row: Row) -> Inspection:
    key, at, grader, light, surface, note = row
    return Inspection(
        values.moment(at),
        values.line(grader),
        values.line(light),
        values.line(surface),
        values.note(note),
        values.key(key),
    )


def _grading_from_row(row: Row) -> Grading:
    key, coupon, inspection, grade, letter, percent, grader, source, note, recorded, state, replaces = row
    return Grading(
        values.key(key),
        values.key(coupon),
        values.key(inspection),
        values.whole(grade, GRADES[0], GRADES[-1]),
        values.one_of(letter, LETTERS),
        None if percent is None else values.percent(percent),
        values.line(grader),
        values.one_of(source, SOURCES),
        values.note(note),
        values.line(recorded),
        values.one_of(state, STATES),
        values.key_or_none(replaces),
    )


def _photo_to_row(photo: Photo) -> Row:
    placed = json.dumps([float(each) for each in photo.mm_to_px or ()])
    return (
        photo.name,
        photo.file,
        photo.sha256,
        photo.width_px,
        photo.height_px,
        values.moment_text(photo.taken),
        photo.inspection,
        placed,
        values.moment_text(photo.camera_time),
        photo.offset_minutes,
        float(photo.lens),
        photo.placed_by,
        real(photo.placing_error_px),
        photo.unplaced_because,
        json.dumps(list(photo.warnings), ensure_ascii=False),
    )


def _photo_from_row(row: Row) -> Photo:
    key, name, file, sha256, width, height, taken, inspection, placed, clock, offset, lens, by, error, why, told = row
    return Photo(
        name=values.line(name),
        file=values.line(file),
        sha256=values.line(sha256),
        width_px=values.whole(width, 1, _MOST_PIXELS),
        height_px=values.whole(height, 1, _MOST_PIXELS),
        taken=values.moment_or_none(taken),
        inspection=values.key_or_none(inspection),
        mm_to_px=values.homography(placed) or None,
        camera_time=values.moment_or_none(clock),
        offset_minutes=None if offset is None else values.whole(offset, -_MOST_OFFSET_MINUTES, _MOST_OFFSET_MINUTES),
        lens=values.within(lens, -1, 1),
        placed_by=values.one_of(by, PLACED_BY),
        placing_error_px=None if error is None else values.within(error, 0, _MOST_PIXELS),
        unplaced_because=values.line(why),
        warnings=values.lines(told, _MOST_WARNINGS),
        key=values.key(key),
    )


def _axis_label_from_row(row: Row) -> AxisLabel:
    return AxisLabel(
        values.one_of(row[1], AXES),
        values.whole(row[2], 0, max(MOST_ROWS, MOST_COLUMNS) - 1),
        values.line(row[3]),
        values.key(row[0]),
    )


BOARD: Final[Table[BoardRow]] = Table(
    "board",
    names(
        "name row_count column_count width_mm height_mm edge_margin_mm started site shelter incline_deg facing_deg"
        " customer shop note markers"
    ),
    _board_to_row,
    _board_from_row,
    lambda value: 1,
)
TREATMENTS: Final[Table[Treatment]] = Table(
    "treatment",
    names("id name family preparation finish protectant coats batch cost_per_m2 minutes_per_m2 note"),
    _treatment_to_row,
    _treatment_from_row,
    key_of,
)
COUPONS: Final[Table[Coupon]] = Table(
    "coupon",
    ("id", "row_number", "column_number", "treatment", "role", "substrate", "outline_mm", "note"),
    _coupon_to_row,
    _coupon_from_row,
    key_of,
)
INSPECTIONS: Final[Table[Inspection]] = Table(
    "inspection",
    ("at", "grader", "light", "surface", "note"),
    lambda each: (each.at.isoformat(), each.grader, each.light, each.surface, each.note),
    _inspection_from_row,
    key_of,
)
GRADINGS: Final[Table[Grading]] = Table(
    "grading",
    names("coupon inspection grade distribution percent grader source note recorded state replaces"),
    lambda each: each[1:],
    _grading_from_row,
    key_of,
)
PHOTOS: Final[Table[Photo]] = Table(
    "photo",
    names(
        "name file sha256 width_px height_px taken inspection mm_to_px camera_time offset_minutes lens placed_by"
        " placing_error_px unplaced_because warnings"
    ),
    _photo_to_row,
    _photo_from_row,
    key_of,
)


AXIS_LABELS: Final[Table[AxisLabel]] = Table(
    "axis_label",
    ("axis", "number", "label"),
    lambda each: (each.axis, each.number, each.label),
    _axis_label_from_row,
    key_of,
)

ALL: Final[tuple[Table[Any], ...]] = (
    BOARD,
    TREATMENTS,
    COUPONS,
    INSPECTIONS,
    GRADINGS,
    PHOTOS,
    AXIS_LABELS,
    *PLAN_TABLES,
    *MEASURING_TABLES,
    *BLIND_TABLES,
    *WEATHER_TABLES,
    *FINDINGS_TABLES,
    *SHELVING_TABLES,
)
BY_NAME: Final = {each.name: each for each in ALL}
