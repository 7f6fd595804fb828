"""How logger files, days noted by hand, the site and weighed coupons become rows and come back."""

from __future__ import annotations

import json
import re
from datetime import date
from typing import Any, Final

from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.board.weather import (
    COLDEST_C,
    CONDITIONS,
    DEW_POINT_SETS,
    HOTTEST_C,
    LARGEST_DEPOSITION,
    LARGEST_RAIN_MM,
    MOST_READINGS,
    MOST_TOLD,
    QUANTITIES,
    DayNote,
    Quantity,
    Site,
    WeatherFile,
)
from rustboard.board.weighing import (
    DENSITIES_G_CM3,
    HEAVIEST_G,
    LARGEST_AREA_CM2,
    LARGEST_MM,
    LARGEST_PIT_MM2,
    LARGEST_PIT_UM,
    MOST_CYCLES,
    MOST_PITS,
    Weighing,
)
from rustboard.store import values
from rustboard.store.table import Row, Table, key_of, names, real

_STATES: Final = ("current", "superseded", "withdrawn")
_HASH: Final = re.compile("[0-9a-f]{64}")
_DAY_HOURS: Final = 24.0
_MOST_LEFT_OUT: Final = 100_000_000
_MOST_COUNTED_PITS: Final = 10_000_000


def _file_to_row(each: WeatherFile) -> Row:
    return (
        each.name,
        each.sha256,
        each.logger,
        each.clock,
        json.dumps(list(each.quantities)),
        each.count,
        each.first.isoformat(),
        each.last.isoformat(),
        each.left_out,
        json.dumps(list(each.told), ensure_ascii=False),
        each.added,
        each.content,
    )


def _file_from_row(row: Row) -> WeatherFile:
    key, name, sha256, logger, clock, quantities, count, first, last, left_out, told, added, content = row
    return WeatherFile(
        name=values.line(name),
        sha256=_hash(sha256),
        logger=values.line(logger),
        clock=values.line(clock),
        quantities=_quantities(quantities),
        count=values.whole(count, 1, MOST_READINGS),
        first=values.moment(first),
        last=values.moment(last),
        left_out=values.whole(left_out, 0, _MOST_LEFT_OUT),
        told=values.lines(told, MOST_TOLD),
        added=values.line(added),
        content=_hash(content),
        key=values.key(key),
    )


def _hash(value: object) -> str:
    found = values.text(value)
    if not _HASH.fullmatch(found):
        raise ValueError("a hash is damaged")
    return found


def _quantities(value: object) -> tuple[Quantity, ...]:
    return tuple(values.one_of(each, QUANTITIES) for each in values.items(value, len(QUANTITIES)))


def _day_note_to_row(each: DayNote) -> Row:
    return (
        each.day.isoformat(),
        json.dumps(list(each.conditions)),
        real(each.rain_mm),
        real(each.highest_c),
        real(each.lowest_c),
        real(each.wet_hours),
        each.note,
    )


def _day_note_from_row(row: Row) -> DayNote:
    key, day, conditions, rain, highest, lowest, wet, note = row
    return DayNote(
        _day(day),
        tuple(values.one_of(each, CONDITIONS) for each in values.items(conditions, len(CONDITIONS))),
        _within_or_none(rain, 0, LARGEST_RAIN_MM),
        _within_or_none(highest, COLDEST_C, HOTTEST_C),
        _within_or_none(lowest, COLDEST_C, HOTTEST_C),
        _within_or_none(wet, 0, _DAY_HOURS),
        values.note(note),
        values.key(key),
    )


def _day(value: object) -> date:
    day = date.fromisoformat(values.text(value))
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ValueError("a year is out of range")
    return day


def _within_or_none(value: object, low: float, high: float) -> float | None:
    return None if value is None else values.within(value, low, high)


def _site_to_row(site: Site) -> Row:
    return (
        site.zone,
        site.dew_point_set,
        float(site.dew_day_hours),
        float(site.wet_day_hours),
        int(site.leave_out_stuck),
        real(site.sulphur_dioxide),
        real(site.chloride),
    )


def _site_from_row(row: Row) -> Site:
    key, zone, coefficients, dew, wet, stuck, sulphur, chloride = row
    return Site(
        values.line(zone),
        values.one_of(coefficients, DEW_POINT_SETS),
        values.within(dew, 0, _DAY_HOURS),
        values.within(wet, 0, _DAY_HOURS),
        values.flag(stuck),
        _within_or_none(sulphur, 0, LARGEST_DEPOSITION),
        _within_or_none(chloride, 0, LARGEST_DEPOSITION),
        values.whole(key, 1, 1),
    )


def _numbers(listed: tuple[float, ...]) -> str:
    return json.dumps([float(each) for each in listed])


def _weighing_to_row(each: Weighing) -> Row:
    return (
        each.coupon,
        values.moment_text(each.exposed_from),
        each.exposed_to.isoformat(),
        float(each.before_g),
        _numbers(each.after_g),
        real(each.blank_before_g),
        _numbers(each.blank_after_g),
        real(each.thickness_mm),
        real(each.area_cm2),
        float(each.masked_cm2),
        float(each.density_g_cm3),
        int(each.bare),
        each.pits,
        real(each.pits_on_cm2),
        _numbers(each.pit_openings_mm2),
        _numbers(each.pit_depths_um),
        each.note,
        each.recorded,
        each.state,
        each.replaces,
    )


def _weighing_from_row(row: Row) -> Weighing:
    (
        key,
        coupon,
        begun,
        ended,
        before,
        after,
        blank,
        blank_after,
        thick,
        area,
        masked,
        density,
        bare,
        pits,
        on,
        *rest,
    ) = row
    openings, depths, note, recorded, state, replaces = rest
    return Weighing(
        values.key(key),
        values.key(coupon),
        values.moment_or_none(begun),
        values.moment(ended),
        values.within(before, 0, HEAVIEST_G),
        _listed(after, MOST_CYCLES, HEAVIEST_G),
        _within_or_none(blank, 0, HEAVIEST_G),
        _listed(blank_after, MOST_CYCLES, HEAVIEST_G),
        _within_or_none(thick, 0, LARGEST_MM),
        _within_or_none(area, 0, LARGEST_AREA_CM2),
        values.within(masked, 0, LARGEST_AREA_CM2),
        values.within(density, *DENSITIES_G_CM3),
        values.flag(bare),
        None if pits is None else values.whole(pits, 0, _MOST_COUNTED_PITS),
        _within_or_none(on, 0, LARGEST_AREA_CM2),
        _listed(openings, MOST_PITS, LARGEST_PIT_MM2),
        _listed(depths, MOST_PITS, LARGEST_PIT_UM),
        values.note(note),
        values.line(recorded),
        values.one_of(state, _STATES),
        values.key_or_none(replaces),
    )


def _listed(value: object, most: int, largest: float) -> tuple[float, ...]:
    return tuple(values.within(each, 0, largest) for each in values.items(value, most))


WEATHER_FILES: Final[Table[WeatherFile]] = Table(
    "weather_file",
    names("name sha256 logger clock quantities count first last left_out told added content"),
    _file_to_row,
    _file_from_row,
    key_of,
)
DAY_NOTES: Final[Table[DayNote]] = Table(
    "day_note",
    names("day conditions rain_mm highest_c lowest_c wet_hours note"),
    _day_note_to_row,
    _day_note_from_row,
    key_of,
)
SITES: Final[Table[Site]] = Table(
    "site",
    names("zone dew_point_set dew_day_hours wet_day_hours leave_out_stuck sulphur_dioxide chloride"),
    _site_to_row,
    _site_from_row,
    key_of,
)
WEIGHINGS: Final[Table[Weighing]] = Table(
    "weighing",
    names(
        "coupon exposed_from exposed_to before_g after_g blank_before_g blank_after_g thickness_mm area_cm2"
        " masked_cm2 density_g_cm3 bare pits pits_on_cm2 pit_openings_mm2 pit_depths_um note recorded state replaces"
    ),
    _weighing_to_row,
    _weighing_from_row,
    key_of,
)

WEATHER_TABLES: Final[tuple[Table[Any], ...]] = (WEATHER_FILES, DAY_NOTES, SITES, WEIGHINGS)
