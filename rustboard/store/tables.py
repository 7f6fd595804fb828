"""How each value of the domain becomes a row and comes back.

A row read from a stranger's file that the domain does not allow raises ValueError; the store turns that into a
sentence.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Final, Generic, TypeVar

from rustboard.board.model import AxisLabel, Board, Coupon, Grading, Inspection, Marker, Photo, Treatment
from rustboard.board.position import Position

Value = str | int | float | None
Row = tuple[Any, ...]
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Table(Generic[T]):
    """One table and the values it holds.

    Attributes:
        columns: all but ``key``, in the order of `to_row`.
        to_row: value to column values, without the key.
        from_row: key and column values to value.
        with_key: the same value under another key.
    """

    name: str
    columns: tuple[str, ...]
    to_row: Callable[[T], Row]
    from_row: Callable[[Row], T]
    key_of: Callable[[T], int]
    with_key: Callable[[T, int], T]

    @property
    def select(self) -> str:
        """``SELECT key, columns FROM table``."""
        return f"SELECT key, {', '.join(self.columns)} FROM {self.name}"


@dataclass(frozen=True, slots=True)
class BoardRow:
    """The board's one row: the board and its markers."""

    board: Board
    markers: tuple[Marker, ...] = ()


def _time(text: object) -> datetime:
    if not isinstance(text, str):
        raise ValueError("a time is missing")
    when = datetime.fromisoformat(text)
    return when.replace(tzinfo=None)


def _time_or_none(text: object) -> datetime | None:
    return None if text is None else _time(text)


def _text(when: datetime | None) -> str | None:
    return None if when is None else when.isoformat()


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
        _text(board.started),
        board.site,
        board.shelter,
        board.incline_deg,
        board.facing_deg,
        board.customer,
        board.shop,
        board.note,
        json.dumps(markers),
    )


def _board_from_row(row: Row) -> BoardRow:
    markers = tuple(
        Marker(int(number), (float(x), float(y)), float(size)) for number, x, y, size in _list(row[15], most=50)
    )
    board = Board(
        name=row[1],
        rows=row[2],
        columns=row[3],
        width_mm=row[4],
        height_mm=row[5],
        edge_margin_mm=row[6],
        started=_time_or_none(row[7]),
        site=row[8],
        shelter=row[9],
        incline_deg=row[10],
        facing_deg=row[11],
        customer=row[12],
        shop=row[13],
        note=row[14],
    )
    return BoardRow(board, markers)


def _list(text: object, most: int) -> list[Any]:
    content = json.loads(str(text))
    if not isinstance(content, list) or len(content) > most:
        raise ValueError("a list is damaged")
    return content


def _coupon_to_row(coupon: Coupon) -> Row:
    row, column = coupon.position if coupon.position is not None else (None, None)
    outline = json.dumps([[x, y] for x, y in coupon.outline_mm])
    return (coupon.id, row, column, coupon.treatment, coupon.role, coupon.substrate, outline, coupon.note)


def _coupon_from_row(row: Row) -> Coupon:
    key, name, row_number, column_number, treatment, role, substrate, outline, note = row
    position = None if row_number is None or column_number is None else Position(row_number, column_number)
    points = tuple((float(x), float(y)) for x, y in _list(outline, most=10_000))
    return Coupon(name, position, treatment, role, substrate, points, note, key)


def _photo_to_row(photo: Photo) -> Row:
    placed = json.dumps(list(photo.mm_to_px) if photo.mm_to_px is not None else [])
    return (
        photo.name,
        photo.file,
        photo.sha256,
        photo.width_px,
        photo.height_px,
        _text(photo.taken),
        photo.inspection,
        placed,
    )


def _photo_from_row(row: Row) -> Photo:
    key, name, file, sha256, width, height, taken, inspection, placed = row
    numbers = tuple(float(each) for each in _list(placed, most=9))
    if len(numbers) not in (0, 9):
        raise ValueError("a photo's placing is damaged")
    return Photo(name, file, sha256, width, height, _time_or_none(taken), inspection, numbers or None, key)


def _names(text: str) -> tuple[str, ...]:
    return tuple(text.split())


def _key_last(row: Row) -> Row:
    return (*row[1:], row[0])


def _inspection_from_row(row: Row) -> Inspection:
    key, at, grader, light, surface, note = row
    return Inspection(_time(at), grader, light, surface, note, key)


def _rekeyed(value: Any, key: int) -> Any:
    return replace(value, key=key)


BOARD: Final[Table[BoardRow]] = Table(
    "board",
    _names(
        "name row_count column_count width_mm height_mm edge_margin_mm started site shelter incline_deg facing_deg"
        " customer shop note markers"
    ),
    _board_to_row,
    _board_from_row,
    lambda value: 1,
    lambda value, key: value,
)
TREATMENTS: Final[Table[Treatment]] = Table(
    "treatment",
    _names("id name family preparation finish protectant coats batch cost_per_m2 minutes_per_m2 note"),
    lambda each: (
        each.id,
        each.name,
        each.family,
        each.preparation,
        each.finish,
        each.protectant,
        each.coats,
        each.batch,
        each.cost_per_m2,
        each.minutes_per_m2,
        each.note,
    ),
    lambda row: Treatment(*_key_last(row)),
    lambda each: each.key,
    _rekeyed,
)
COUPONS: Final[Table[Coupon]] = Table(
    "coupon",
    ("id", "row_number", "column_number", "treatment", "role", "substrate", "outline_mm", "note"),
    _coupon_to_row,
    _coupon_from_row,
    lambda each: each.key,
    _rekeyed,
)
INSPECTIONS: Final[Table[Inspection]] = Table(
    "inspection",
    ("at", "grader", "light", "surface", "note"),
    lambda each: (each.at.isoformat(), each.grader, each.light, each.surface, each.note),
    lambda row: _inspection_from_row(row),
    lambda each: each.key,
    _rekeyed,
)
GRADINGS: Final[Table[Grading]] = Table(
    "grading",
    _names("coupon inspection grade distribution percent grader source note recorded state replaces"),
    lambda each: each[1:],
    Grading._make,
    lambda each: each.key,
    lambda each, key: each._replace(key=key),
)
PHOTOS: Final[Table[Photo]] = Table(
    "photo",
    ("name", "file", "sha256", "width_px", "height_px", "taken", "inspection", "mm_to_px"),
    _photo_to_row,
    _photo_from_row,
    lambda each: each.key,
    _rekeyed,
)


AXIS_LABELS: Final[Table[AxisLabel]] = Table(
    "axis_label",
    ("axis", "number", "label"),
    lambda each: (each.axis, each.number, each.label),
    lambda row: AxisLabel(row[1], row[2], row[3], row[0]),
    lambda each: each.key,
    _rekeyed,
)

ALL: Final[tuple[Table[Any], ...]] = (BOARD, TREATMENTS, COUPONS, INSPECTIONS, GRADINGS, PHOTOS, AXIS_LABELS)
BY_NAME: Final = {each.name: each for each in ALL}
