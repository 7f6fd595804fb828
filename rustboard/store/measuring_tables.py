"""How measurements, strokes, excluded areas, cards and disturbances become rows and come back."""

from __future__ import annotations

import json
from typing import Any, Final

from rustboard.board.grade import DISTRIBUTIONS
from rustboard.board.measured import (
    CARD_KINDS,
    DISTURBANCE_KINDS,
    EXCLUDED_KINDS,
    MOST_STROKE_POINTS,
    PRESENT,
    Card,
    Disturbance,
    ExcludedArea,
    Measurement,
    Stroke,
)
from rustboard.board.model import MOST_OUTLINE_POINTS, Outline
from rustboard.store import values
from rustboard.store.table import Row, Table, key_of, names, real

_LETTERS: Final = ("", *DISTRIBUTIONS)
_STATES: Final = ("current", "superseded")
_MOST_WARNINGS: Final = 20
_MOST_SPOTS: Final = 100_000_000
_LARGEST_MM: Final = 100_000.0
_LEAST_CORNERS: Final = 3


def _measurement_to_row(each: Measurement) -> Row:
    return (
        each.photo,
        each.coupon,
        each.algorithm,
        each.inputs,
        real(each.percent),
        real(each.low),
        real(each.high),
        each.spots,
        float(each.largest_mm2),
        each.distribution,
        float(each.debris_percent),
        float(each.unseen_percent),
        float(each.resolvable_percent),
        int(each.confident),
        int(each.newest),
        json.dumps([float(number) for number in each.motion]),
        each.present,
        json.dumps(list(each.warnings), ensure_ascii=False),
        each.measured,
        each.state,
        each.replaces,
        each.reason,
    )


def _measurement_from_row(row: Row) -> Measurement:
    return Measurement(
        values.key(row[0]),
        values.key(row[1]),
        values.key(row[2]),
        values.whole(row[3], 0, 1_000_000),
        values.line(row[4]),
        _percent_or_none(row[5]),
        _percent_or_none(row[6]),
        _percent_or_none(row[7]),
        values.whole(row[8], 0, _MOST_SPOTS),
        values.within(row[9], 0, _LARGEST_MM**2),
        values.one_of(row[10], _LETTERS),
        values.percent(row[11]),
        values.percent(row[12]),
        values.percent(row[13]),
        values.flag(row[14]),
        values.flag(row[15]),
        _motion(row[16]),
        values.one_of(row[17], PRESENT),
        () if row[18] == "[]" else values.lines(row[18], _MOST_WARNINGS),
        values.line(row[19]),
        values.one_of(row[20], _STATES),
        values.key_or_none(row[21]),
        values.line(row[22]),
    )


def _percent_or_none(value: object) -> float | None:
    return None if value is None else values.percent(value)


def _motion(value: object) -> tuple[float, float, float, float]:
    dx, dy, turn, scale = [values.within(each, -_LARGEST_MM, _LARGEST_MM) for each in values.items(value, 4)]
    return dx, dy, turn, scale


def _points(outline: Outline) -> str:
    return json.dumps([[float(x), float(y)] for x, y in outline])


def _area(value: object) -> Outline:
    outline = values.points(value, MOST_OUTLINE_POINTS)
    if len(outline) < _LEAST_CORNERS:
        raise ValueError("an area has too few corners")
    return outline


def _stroke_from_row(row: Row) -> Stroke:
    key, photo, coupon, adds, radius, points = row
    return Stroke(
        values.key(photo),
        values.key(coupon),
        values.flag(adds),
        values.within(radius, 0, _LARGEST_MM),
        values.points(points, MOST_STROKE_POINTS),
        values.key(key),
    )


def _excluded_from_row(row: Row) -> ExcludedArea:
    key, coupon, kind, outline = row
    return ExcludedArea(
        values.key(coupon),
        values.one_of(kind, EXCLUDED_KINDS),
        _area(outline),
        values.key(key),
    )


def _card_from_row(row: Row) -> Card:
    key, kind, outline = row
    return Card(values.one_of(kind, CARD_KINDS), _area(outline), values.key(key))


def _disturbance_from_row(row: Row) -> Disturbance:
    key, at, kind, coupon, note = row
    return Disturbance(
        values.moment(at),
        values.one_of(kind, DISTURBANCE_KINDS),
        values.key_or_none(coupon),
        values.note(note),
        values.key(key),
    )


MEASUREMENTS: Final[Table[Measurement]] = Table(
    "measurement",
    names(
        "photo coupon algorithm inputs percent low high spots largest_mm2 distribution debris_percent unseen_percent"
        " resolvable_percent confident newest motion present warnings measured state replaces reason"
    ),
    _measurement_to_row,
    _measurement_from_row,
    key_of,
)
STROKES: Final[Table[Stroke]] = Table(
    "stroke",
    ("photo", "coupon", "adds", "radius_mm", "points_mm"),
    lambda each: (each.photo, each.coupon, int(each.adds), float(each.radius_mm), _points(each.points_mm)),
    _stroke_from_row,
    key_of,
)
EXCLUDED_AREAS: Final[Table[ExcludedArea]] = Table(
    "excluded_area",
    ("coupon", "kind", "outline_mm"),
    lambda each: (each.coupon, each.kind, _points(each.outline_mm)),
    _excluded_from_row,
    key_of,
)
CARDS: Final[Table[Card]] = Table(
    "card",
    ("kind", "outline_mm"),
    lambda each: (each.kind, _points(each.outline_mm)),
    _card_from_row,
    key_of,
)
DISTURBANCES: Final[Table[Disturbance]] = Table(
    "disturbance",
    ("at", "kind", "coupon", "note"),
    lambda each: (each.at.isoformat(), each.kind, each.coupon, each.note),
    _disturbance_from_row,
    key_of,
)

MEASURING_TABLES: Final[tuple[Table[Any], ...]] = (MEASUREMENTS, STROKES, EXCLUDED_AREAS, CARDS, DISTURBANCES)
