"""Weather on the board: files, days and the site, kept, put right, taken back, refused with a sentence."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from datetime import date, datetime

import numpy as np
import pytest

from rustboard.board.clock_names import is_zone
from rustboard.board.record import site_of
from rustboard.board.weather import MOST_TOLD, DayNote, Site, assumed_wet_hours
from rustboard.operations.weather import (
    GivenReadings,
    add_weather_file,
    describe_site,
    note_day,
    note_days,
    remove_day_note,
    remove_weather_file,
)
from rustboard.weather.packing import pack, unpack
from rustboard.weather.readings import ReadingTable

DAY = date(2026, 3, 2)


def logger_file(name="wall.csv", degrees=10.0):
    table = ReadingTable(np.arange(3, dtype=np.int64), {"temperature": np.full(3, degrees)})
    return GivenReadings(
        name, hashlib.sha256(name.encode()).hexdigest(), "wall", "", ("temperature",), 3, datetime(2026, 3, 2),
        datetime(2026, 3, 2, 0, 0, 2), pack(table),
    )  # fmt: skip


def degrees_of(session):
    (file,) = session.record.weather_files.values()
    return float(unpack(session.weather_content(file.content)).values["temperature"][0])


def test_a_loggers_file_is_kept_with_its_readings(session):
    changes = session.do(add_weather_file, logger_file())
    assert changes.summary.text() == "Weather file wall.csv: 3 readings"
    assert degrees_of(session) == 10.0


def test_the_same_file_twice_adds_nothing_under_whatever_name(session):
    session.do(add_weather_file, logger_file())
    renamed = replace(logger_file(), name="wall (copy).csv")
    assert session.do(add_weather_file, renamed).tables == {}
    assert [each.name for each in session.record.weather_files.values()] == ["wall.csv"]


def test_the_same_file_read_otherwise_takes_the_old_ones_place_and_undo_brings_it_back(session):
    session.do(add_weather_file, logger_file())
    session.do(add_weather_file, logger_file(degrees=50.0))
    assert degrees_of(session) == 50.0
    session.undo()
    assert degrees_of(session) == 10.0


def test_a_file_is_taken_off_and_comes_back_by_undo(session):
    session.do(add_weather_file, logger_file())
    session.do(remove_weather_file, 1)
    assert session.record.weather_files == {}
    session.undo()
    assert degrees_of(session) == 10.0


def test_of_many_bad_rows_the_first_are_kept_in_words(session):
    told = tuple(f"row {each}: no time." for each in range(MOST_TOLD + 50))
    session.do(add_weather_file, replace(logger_file(), left_out=len(told), told=told))
    (file,) = session.record.weather_files.values()
    assert (file.left_out, len(file.told)) == (MOST_TOLD + 50, MOST_TOLD)


def test_a_file_that_is_gone_cannot_be_taken_off(refused):
    assert refused(remove_weather_file, 7) == (
        "This weather file is no longer on the board; it may have been taken away by undo."
    )


def test_a_day_is_noted_put_right_and_taken_back(session):
    session.do(note_day, DayNote(DAY, ("dew",)))
    session.do(note_day, DayNote(DAY, ("rain", "dew"), 4.2))
    (note,) = session.record.day_notes.values()
    assert (note.conditions, note.rain_mm) == (("dew", "rain"), 4.2)
    session.do(remove_day_note, note.key)
    assert session.record.day_notes == {}
    session.undo()
    session.undo()
    assert [each.conditions for each in session.record.day_notes.values()] == [("dew",)]


def test_a_note_is_moved_to_another_day_but_not_onto_one_that_is_noted(session, refused):
    session.do(note_days, [DayNote(DAY, ("dew",)), DayNote(DAY.replace(day=3), ("dry",))])
    first = next(each for each in session.record.day_notes.values() if each.day == DAY)
    session.do(note_day, replace(first, day=DAY.replace(day=5)))
    assert sorted(each.day.day for each in session.record.day_notes.values()) == [3, 5]
    moved = next(each for each in session.record.day_notes.values() if each.day.day == 5)
    assert refused(note_day, replace(moved, day=DAY.replace(day=3))) == (
        "Another note is about 2026-03-03 already; edit that one."
    )


def test_several_days_are_one_step(session):
    changes = session.do(note_days, [DayNote(DAY.replace(day=day), ("dry",)) for day in (2, 3, 4)])
    assert changes.summary.text() == "Note the weather of 3 days"
    session.undo()
    assert session.record.day_notes == {}


@pytest.mark.parametrize(("note", "sentence"), [
    (DayNote(DAY), "Choose what the day was like, or give a number or a note."),
    (DayNote(DAY, ("dry", "dew")),
     "A day that was dry had no dew, rain, fog, frost or snow; choose one or the other."),
    (DayNote(DAY, ("dry",), 1.0), "A dry day has neither rain nor wet hours; take “dry” away, or the numbers."),
    (DayNote(DAY, ("hail",)), "The weather of a day is one or more of: dry, dew, rain, fog, frost, snow."),
    (DayNote(DAY, ("rain",), -1.0), "Rain is from 0 to 2000 mm."),
    (DayNote(DAY, ("rain",), float("nan")), "Rain is from 0 to 2000 mm."),
    (DayNote(DAY, (), None, 71.0), "The highest temperature is from -90 to 70 °C."),
    (DayNote(DAY, (), None, None, -91.0), "The lowest temperature is from -90 to 70 °C."),
    (DayNote(DAY, (), None, 1.0, 2.0), "The lowest temperature is above the highest; change them over."),
    (DayNote(DAY, ("dew",), None, None, None, 25.0), "The time wet is from 0 to 24 hours."),
    (DayNote(date(1066, 1, 1), ("dew",)), "The year of a day is between 1900 and 2200; check the date."),
])  # fmt: skip
def test_what_no_day_can_be_is_refused_with_a_sentence(refused, note, sentence):
    assert refused(note_day, note) == sentence


def test_nothing_noted_cannot_be_taken_back(refused):
    assert (
        refused(remove_day_note, 1) == "This day's weather is no longer noted; it may have been taken away by undo."
    )


def test_the_site_is_described_and_undone(session):
    assert site_of(session.record) == Site()
    session.do(describe_site, Site("Europe/Berlin", "Tetens", chloride=60.0))
    assert site_of(session.record) == Site("Europe/Berlin", "Tetens", chloride=60.0)
    session.undo()
    assert site_of(session.record) == Site()


@pytest.mark.parametrize(("site", "sentence"), [
    (Site("Nowhere/Land"), "No zone is called “Nowhere/Land”; choose one from the list, such as Europe/Berlin."),
    (Site("../../etc/passwd"),
     "No zone is called “../../etc/passwd”; choose one from the list, such as Europe/Berlin."),
    (Site(dew_point_set="mine"), "There is no such set of dew point coefficients; choose one from the list."),
    (Site(dew_day_hours=25), "The time wet on a day with dew is from 0 to 24 hours."),
    (Site(wet_day_hours=-1), "The time wet on a day with rain is from 0 to 24 hours."),
    (Site(chloride=-1.0), "The deposition of chloride is from 0 to 10000 mg/(m² d)."),
    (Site(sulphur_dioxide=float("inf")), "The deposition of sulphur dioxide is from 0 to 10000 mg/(m² d)."),
])  # fmt: skip
def test_a_site_that_cannot_be_is_refused_with_a_sentence(refused, site, sentence):
    assert refused(describe_site, site) == sentence


def test_names_of_zones_are_those_of_the_database():
    tried = ("Europe/Berlin", "UTC", "", "Europe", "/etc", "A" * 5_000, "x\x00y")
    assert [each for each in tried if is_zone(each)] == ["Europe/Berlin", "UTC"]


def test_a_day_counts_as_the_site_assumes():
    site = Site(dew_day_hours=7, wet_day_hours=11)
    assumed = [
        assumed_wet_hours(each, site) for each in (("dew",), ("dew", "fog"), ("snow",), ("frost",), ("dry",), ())
    ]
    assert assumed == [7, 11, 11, None, None, None]
