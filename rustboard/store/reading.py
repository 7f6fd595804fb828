"""Reading a whole board into a record, with every value of a stranger's file looked at."""

from __future__ import annotations

import gc
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from itertools import repeat
from typing import Any, Final, TypeVar

from rustboard.board.blind import MOST_BLIND_GRADES, MOST_BLIND_INSPECTIONS, MOST_ROUNDS, BlindGrade
from rustboard.board.damage import MOST_DAMAGES
from rustboard.board.grade import GRADES, SOURCES
from rustboard.board.measured import (
    MOST_AREAS,
    MOST_DISTURBANCES,
    MOST_MEASUREMENTS,
    MOST_STROKES,
    Measurement,
)
from rustboard.board.model import MOST_COUPONS, MOST_TREATMENTS, Grading
from rustboard.board.pair_choice import MOST_PAIR_CHOICES
from rustboard.board.question import MOST_QUESTIONS
from rustboard.board.record import BoardRecord
from rustboard.board.shelving import MOST_TAGS
from rustboard.board.weather import MOST_DAY_NOTES, MOST_WEATHER_FILES
from rustboard.board.weighing import MOST_WEIGHINGS
from rustboard.store.blind_tables import (
    BLIND_GRADES,
    BLIND_INSPECTIONS,
    BLIND_ROUNDS,
    DAMAGES,
    PAIR_CHOICES,
)
from rustboard.store.findings_tables import LEFT_OUT
from rustboard.store.measuring_tables import CARDS, DISTURBANCES, EXCLUDED_AREAS, MEASUREMENTS, STROKES
from rustboard.store.plan_tables import CALENDARS, LAYOUTS, LOTS, QUESTIONS, RECIPES
from rustboard.store.shelving_tables import FORERUNNERS, SHELVINGS, TAGS
from rustboard.store.table import Row, Table
from rustboard.store.tables import (
    AXIS_LABELS,
    BOARD,
    COUPONS,
    GRADINGS,
    INSPECTIONS,
    LETTERS,
    PHOTOS,
    STATES,
    TREATMENTS,
)
from rustboard.store.values import LARGEST_KEY
from rustboard.store.weather_tables import DAY_NOTES, SITES, WEATHER_FILES, WEIGHINGS
from rustboard.support.problems import InputError
from rustboard.support.text import NAME_LIMIT

T = TypeVar("T")
MOST_INSPECTIONS: Final = 100_000
MOST_PHOTOS: Final = 100_000
MOST_AXIS_LABELS: Final = 1_000
MOST_GRADINGS: Final = 5_000_000
_THAT_COUNT: Final = "WHERE state = 'current'"
_CHUNK: Final = 2_000
"""Gradings looked at together: few enough to stay in the processor's cache."""


def read_record(connection: sqlite3.Connection) -> BoardRecord:
    """Return the board with the grades that count.

    Raises:
        InputError: a row holds what no version of this program writes.
        sqlite3.Error: the file could not be read.
    """
    board = _all(connection, BOARD, 1).get(1)
    if board is None:
        raise InputError("The file holds no board; restore a copy from the backups folder.")
    record = BoardRecord(
        board=board.board,
        markers=board.markers,
        treatments=_all(connection, TREATMENTS, MOST_TREATMENTS),
        coupons=_all(connection, COUPONS, MOST_COUPONS),
        inspections=_all(connection, INSPECTIONS, MOST_INSPECTIONS),
        photos=_all(connection, PHOTOS, MOST_PHOTOS),
        axis_labels=_all(connection, AXIS_LABELS, MOST_AXIS_LABELS),
        recipes=_all(connection, RECIPES, MOST_TREATMENTS),
        questions=_all(connection, QUESTIONS, MOST_QUESTIONS),
        layouts=_all(connection, LAYOUTS, 1),
        lots=_all(connection, LOTS, MOST_COUPONS),
        calendars=_all(connection, CALENDARS, 1),
        strokes=_all(connection, STROKES, MOST_STROKES),
        excluded_areas=_all(connection, EXCLUDED_AREAS, MOST_AREAS),
        cards=_all(connection, CARDS, MOST_AREAS),
        disturbances=_all(connection, DISTURBANCES, MOST_DISTURBANCES),
        blind_inspections=_all(connection, BLIND_INSPECTIONS, MOST_BLIND_INSPECTIONS),
        blind_rounds=_all(connection, BLIND_ROUNDS, MOST_BLIND_INSPECTIONS * MOST_ROUNDS),
        pair_choices=_all(connection, PAIR_CHOICES, MOST_PAIR_CHOICES, _THAT_COUNT),
        damages=_all(connection, DAMAGES, MOST_DAMAGES, _THAT_COUNT),
        weather_files=_all(connection, WEATHER_FILES, MOST_WEATHER_FILES),
        day_notes=_all(connection, DAY_NOTES, MOST_DAY_NOTES),
        sites=_all(connection, SITES, 1),
        weighings=_all(connection, WEIGHINGS, MOST_WEIGHINGS, _THAT_COUNT),
        left_out=_all(connection, LEFT_OUT, MOST_COUPONS),
        tags=_all(connection, TAGS, MOST_TAGS),
        shelvings=_all(connection, SHELVINGS, 1),
        forerunners=_all(connection, FORERUNNERS, 1),
    )
    record.current = _current_gradings(connection)
    record.measured = _current_measurements(connection)
    record.blind_grades = _current_blind_grades(connection)
    _check_places(record)
    _check_keys(record)
    return record


def _all(connection: sqlite3.Connection, table: Table[T], most: int, where: str = "") -> dict[int, T]:
    with _no_collection():
        rows = connection.execute(f"{table.select} {where} LIMIT {most + 1:d}").fetchall()
        if len(rows) > most:
            raise InputError(
                f"The table {table.name} has more rows than any board (at most {most}); the file was altered."
            )
        return {row[0]: table.read(row) for row in rows}


def _current_gradings(connection: sqlite3.Connection) -> dict[int, dict[int, Grading]]:
    # The whole table in its own order: by the index of current grades it would take longer.
    query = f"{GRADINGS.select} NOT INDEXED WHERE state = 'current' LIMIT {MOST_GRADINGS:d}"
    cursor = connection.execute(query)
    current: dict[int, dict[int, Grading]] = {}
    with _no_collection():
        while rows := cursor.fetchmany(_CHUNK):
            for grading in _gradings(rows):
                by_inspection = current.get(grading[1])
                if by_inspection is None:
                    by_inspection = current[grading[1]] = {}
                by_inspection[grading[2]] = grading
    return current


def _current_measurements(connection: sqlite3.Connection) -> dict[int, dict[int, Measurement]]:
    query = f"{MEASUREMENTS.select} WHERE state = 'current' LIMIT {MOST_MEASUREMENTS:d}"
    measured: dict[int, dict[int, Measurement]] = {}
    with _no_collection():
        for row in connection.execute(query):
            measurement = MEASUREMENTS.read(row)
            measured.setdefault(measurement.photo, {})[measurement.coupon] = measurement
    return measured


def _current_blind_grades(connection: sqlite3.Connection) -> dict[int, dict[int, BlindGrade]]:
    found: dict[int, dict[int, BlindGrade]] = {}
    for each in _all(connection, BLIND_GRADES, MOST_BLIND_GRADES, _THAT_COUNT).values():
        found.setdefault(each.round, {})[each.number] = each
    return found


@contextmanager
def _no_collection() -> Iterator[None]:
    # Plain tuples by the hundred thousand and no cycles: looking for garbage would only cost time.
    enabled = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if enabled:
            gc.enable()


def _gradings(rows: list[Row]) -> Iterable[Grading]:
    if _all_plain(rows):
        return map(tuple.__new__, repeat(Grading), rows)  # `Grading._make` without its count of the columns
    return map(GRADINGS.read, rows)


def _all_plain(rows: Sequence[Row]) -> bool:
    """Return whether all gradings are as this program writes them, so that none needs looking at by itself.

    The same rules as `GRADINGS.from_row`, a column at a time, because boards hold a hundred thousand.
    """
    columns: list[Sequence[Any]] = list(zip(*rows, strict=True))
    key, coupon, inspection, grade, letter, percent, grader, source, note, recorded, state, replaces = columns
    return (
        all(_are_whole(each, 1, LARGEST_KEY) for each in (key, coupon, inspection, _present(replaces)))
        and _are_whole(grade, GRADES[0], GRADES[-1])
        and set(letter) <= set(LETTERS)
        and set(source) <= set(SOURCES)
        and set(state) <= set(STATES)
        and _are_percents(_present(percent))
        and all(_are_plain_lines(set(each)) for each in (grader, note, recorded))
    )


def _present(column: Iterable[Any]) -> list[Any]:
    return [each for each in column if each is not None]


def _are_whole(column: Sequence[Any], low: int, high: int) -> bool:
    return not column or (set(map(type, column)) == {int} and low <= min(column) and max(column) <= high)


def _are_percents(column: Sequence[Any]) -> bool:
    # SQLite has no NaN, so the lowest and the highest are what they seem.
    return not column or (set(map(type, column)) == {float} and min(column) >= 0 and max(column) <= 100)


def _are_plain_lines(texts: set[Any]) -> bool:
    return all(type(each) is str and len(each) <= NAME_LIMIT and each.isprintable() for each in texts)


def _check_places(record: BoardRecord) -> None:
    for coupon in record.coupons.values():
        if coupon.position is not None and not record.board.has(coupon.position):
            raise InputError(
                f"Coupon {coupon.id[:60]} is at {coupon.position.label}, which the board does not have; the file was "
                "altered. Restore a copy from the backups folder."
            )


def _check_keys(record: BoardRecord) -> None:
    inspections = record.inspections.keys()
    sound = all(
        coupon in record.coupons and graded.keys() <= inspections for coupon, graded in record.current.items()
    )
    sound = sound and all(
        each.treatment is None or each.treatment in record.treatments for each in record.coupons.values()
    )
    sound = sound and all(each.treatment in record.treatments for each in record.recipes.values())
    sound = sound and all(each.coupon in record.coupons for each in record.lots.values())
    sound = sound and all(each.coupon in record.coupons for each in record.weighings.values())
    sound = sound and all(each.coupon in record.coupons for each in record.left_out.values())
    sound = sound and _measuring_is_sound(record) and _blind_grading_is_sound(record)
    if not sound:
        raise InputError(
            "Some rows point at coupons or inspections that are not there; restore a copy from the backups folder."
        )


def _measuring_is_sound(record: BoardRecord) -> bool:
    coupons, photos = record.coupons.keys(), record.photos.keys()
    return (
        all(photo in photos and measured.keys() <= coupons for photo, measured in record.measured.items())
        and all(each.photo in photos and each.coupon in coupons for each in record.strokes.values())
        and all(each.coupon in coupons for each in record.excluded_areas.values())
        and all(each.coupon is None or each.coupon in coupons for each in record.disturbances.values())
    )


def _blind_grading_is_sound(record: BoardRecord) -> bool:
    coupons, inspections, rounds = record.coupons.keys(), record.inspections.keys(), record.blind_rounds
    graded_as_shown = all(
        key in rounds
        and all(
            number < len(rounds[key].showings) and rounds[key].showings[number].coupon == each.coupon
            for number, each in given.items()
        )
        for key, given in record.blind_grades.items()
    )
    return (
        graded_as_shown
        and sum(each.revealed is None for each in record.blind_inspections.values()) <= 1
        and all(
            each.inspection in inspections and (each.photo is None or each.photo in record.photos)
            for each in record.blind_inspections.values()
        )
        and all(
            each.blind in record.blind_inspections and all(shown.coupon in coupons for shown in each.showings)
            for each in rounds.values()
        )
        and all(
            each.inspection in inspections and {each.left, each.right} <= coupons
            for each in record.pair_choices.values()
        )
        and all(each.inspection in inspections and each.coupon in coupons for each in record.damages.values())
    )
