"""Keeping a record in step with the rows that an operation wrote, without reading the disk again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from operator import attrgetter
from typing import Any, Final

from rustboard.board.measured import Measurement
from rustboard.board.record import BoardRecord
from rustboard.store.blind_tables import BLIND_GRADES, DAMAGES, PAIR_CHOICES
from rustboard.store.measuring_tables import MEASUREMENTS
from rustboard.store.table import Table
from rustboard.store.tables import BY_NAME, GRADINGS, BoardRow
from rustboard.store.transaction import RowChange
from rustboard.store.weather_tables import WEIGHINGS

FIELDS: Final = {
    "treatment": "treatments",
    "coupon": "coupons",
    "inspection": "inspections",
    "photo": "photos",
    "axis_label": "axis_labels",
    "recipe": "recipes",
    "question": "questions",
    "layout": "layouts",
    "lot": "lots",
    "calendar": "calendars",
    "stroke": "strokes",
    "excluded_area": "excluded_areas",
    "card": "cards",
    "disturbance": "disturbances",
    "blind_inspection": "blind_inspections",
    "blind_round": "blind_rounds",
    "weather_file": "weather_files",
    "day_note": "day_notes",
    "site": "sites",
    "left_out": "left_out",
    "tag": "tags",
    "shelving": "shelvings",
    "forerunner": "forerunners",
}
"""The dictionaries of a record by table, where it holds every row."""

WITH_HISTORY: Final = (
    GRADINGS.name,
    MEASUREMENTS.name,
    BLIND_GRADES.name,
    PAIR_CHOICES.name,
    DAMAGES.name,
    WEIGHINGS.name,
)
"""Tables that keep what was superseded; a record holds only the rows that count."""

_THAT_COUNT: Final = {PAIR_CHOICES.name: "pair_choices", DAMAGES.name: "damages", WEIGHINGS.name: "weighings"}
"""The dictionaries of those tables that hold the rows that count by key alone."""


def follow(record: BoardRecord, changes: Sequence[RowChange]) -> tuple[set[int], set[int]]:
    """Bring a record up to date; return the coupons and the inspections of the grades and the damage that changed.

    From the rows as written, not by reading again: after the commit nothing is left that the disk can refuse.
    """
    # Rows of the same coupon and inspection come and go in one step; what leaves must leave first.
    gradings = [each for each in changes if each.table == GRADINGS.name]
    coupons, inspections = _follow_gradings(record, gradings)
    _follow_blind_grades(record, [each for each in changes if each.table == BLIND_GRADES.name])
    for each in changes:
        _follow_one(record, each)
    befores, afters = _both(DAMAGES, [each for each in changes if each.table == DAMAGES.name])
    for noted in (*befores, *afters):
        coupons.add(noted.coupon)
        inspections.add(noted.inspection)
    return coupons, inspections


def _follow_one(record: BoardRecord, change: RowChange) -> None:
    if change.table in (GRADINGS.name, BLIND_GRADES.name):
        return
    if change.table == MEASUREMENTS.name:
        _follow_measurement(record, change)
        return
    value = _value_after(change)
    if isinstance(value, BoardRow):
        record.board, record.markers = value.board, value.markers
        return
    held: dict[int, Any] = getattr(record, _THAT_COUNT.get(change.table) or FIELDS[change.table])
    if value is None or getattr(value, "state", "current") != "current":
        held.pop(change.key, None)
    else:
        held[change.key] = value


def _follow_measurement(record: BoardRecord, change: RowChange) -> None:
    # There may be many thousands: rows that do not count any more are not read.
    measured = record.measured
    if change.before is not None:
        photo, coupon = (change.before[each] for each in _MEASURED_OF)
        held = measured.get(photo, {})
        if held.get(coupon) is not None and held[coupon].key == change.key:
            del held[coupon]
            if not held:
                del measured[photo]
    if change.after is not None and change.after[_MEASURED_STATE] == "current":
        new: Measurement = _value_after(change)
        measured.setdefault(new.photo, {})[new.coupon] = new


def _follow_gradings(record: BoardRecord, changes: Sequence[RowChange]) -> tuple[set[int], set[int]]:
    befores, afters = _both(GRADINGS, changes)
    _follow_nested(record.current, befores, afters, attrgetter("coupon", "inspection"))
    changed = (*befores, *afters)
    return {each.coupon for each in changed}, {each.inspection for each in changed}


def _follow_blind_grades(record: BoardRecord, changes: Sequence[RowChange]) -> None:
    _follow_nested(record.blind_grades, *_both(BLIND_GRADES, changes), attrgetter("round", "number"))


def _follow_nested(
    held: dict[int, dict[int, Any]],
    befores: Iterable[Any],
    afters: Iterable[Any],
    place_of: Callable[[Any], tuple[int, int]],
) -> None:
    """Take out of nested dictionaries what no longer counts, and put in what does, by the two keys of its place."""
    for old in befores:
        outer, inner = place_of(old)
        there = held.get(outer, {}).get(inner)
        if there is not None and there.key == old.key:
            del held[outer][inner]
            if not held[outer]:
                del held[outer]
    for new in afters:
        if new.state == "current":
            outer, inner = place_of(new)
            held.setdefault(outer, {})[inner] = new


def _both(table: Table[Any], changes: Iterable[RowChange]) -> tuple[list[Any], list[Any]]:
    """Return what the rows meant before, and what they mean now."""
    listed = list(changes)
    befores = [table.read(each.before) for each in listed if each.before is not None]
    return befores, [table.read(each.after) for each in listed if each.after is not None]


def _value_after(change: RowChange) -> Any:
    """Return what a row means now, or None where it is gone."""
    if change.after is None or change.value is not None:
        return change.value
    return BY_NAME[change.table].read(change.after)


_MEASURED_OF = tuple(1 + MEASUREMENTS.columns.index(each) for each in ("photo", "coupon"))
_MEASURED_STATE = 1 + MEASUREMENTS.columns.index("state")
