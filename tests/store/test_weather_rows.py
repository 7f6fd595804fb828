"""Weather and weighings on the disk: read as they were put, undone, kept apart from steps, refused when altered."""

from __future__ import annotations

import hashlib
import json
from datetime import date, datetime

import numpy as np
import pytest
from store_boards import NOW, damaged, do, graded_board, opened, plant, raw, refusal_of_reading

from rustboard.board.weather import MOST_TOLD, DayNote, Site, WeatherFile
from rustboard.board.weighing import MOST_CYCLES, Weighing
from rustboard.operations.weather import (
    GivenReadings,
    add_weather_file,
    describe_site,
    note_day,
    remove_weather_file,
)
from rustboard.operations.weighing import GivenWeighing, note_weighing
from rustboard.session.jobs import Progress
from rustboard.session.looking import look_at_weather
from rustboard.session.weather import work_out_track
from rustboard.store.check import check_board
from rustboard.store.weather_content import PART_BYTES
from rustboard.support.problems import InputError
from rustboard.weather.packing import pack, unpack
from rustboard.weather.readings import ReadingTable

TAKEN_DOWN = datetime(2027, 3, 2, 9)
NOWHERE = "Some rows point at coupons or inspections that are not there; restore a copy from the backups folder."
UNREADABLE = (
    "The readings of a logger's file are damaged; take that file out and add it again, or restore a copy from the "
    "backups folder."
)


def readings(count=200, seed=1):
    dice = np.random.default_rng(seed)
    values = {"temperature": dice.normal(10, 8, count).round(2), "humidity": dice.uniform(30, 100, count).round(1)}
    return ReadingTable(np.arange(count, dtype=np.int64) * 600 + 1_772_000_000, values)


def given(packed, name="wall.csv", count=200):
    return GivenReadings(
        name, hashlib.sha256(name.encode()).hexdigest(), "wall", "UTC+01:00", ("temperature", "humidity"), count,
        datetime(2026, 2, 25, 6), datetime(2026, 2, 26, 15), packed, 1, ("row 7: no time.",),
    )  # fmt: skip


@pytest.fixture
def folder(tmp_path):
    """A graded board with a row in every table of format 5."""
    folder = graded_board(tmp_path / "b")
    with opened(folder) as store:
        do(store, add_weather_file, given(pack(readings())))
        do(store, note_day, DayNote(date(2026, 3, 2), ("dew", "rain"), 4.2, 11.0, 3.5, 9.0, "from the west"))
        do(store, describe_site, Site("Europe/Berlin", "Tetens", 7, 11, True, 10.0, 60.0))
        do(store, note_weighing, GivenWeighing(1, TAKEN_DOWN, 120.5, (119.2, 119.0), blank_before_g=110.0,
            blank_after_g=(109.99,), thickness_mm=2.0, bare=True, pits=3, pit_depths_um=(80.0, 40.0)))  # fmt: skip
    return folder


def test_the_rows_are_read_as_they_were_put(folder):
    with opened(folder) as store:
        record = store.read()
        content = store.weather_content(record.weather_files[1].content)
    assert record.weather_files == {1: WeatherFile(
        "wall.csv", hashlib.sha256(b"wall.csv").hexdigest(), "wall", "UTC+01:00", ("temperature", "humidity"), 200,
        datetime(2026, 2, 25, 6), datetime(2026, 2, 26, 15), 1, ("row 7: no time.",), NOW.isoformat(),
        hashlib.sha256(content).hexdigest(), 1,
    )}  # fmt: skip
    assert record.day_notes == {
        1: DayNote(date(2026, 3, 2), ("dew", "rain"), 4.2, 11.0, 3.5, 9.0, "from the west", 1)
    }
    assert record.sites == {1: Site("Europe/Berlin", "Tetens", 7.0, 11.0, True, 10.0, 60.0)}
    assert record.weighings == {1: Weighing(
        1, 1, None, TAKEN_DOWN, 120.5, (119.2, 119.0), 110.0, (109.99,), 2.0, None, 0.0, 7.86, True, 3, None, (),
        (80.0, 40.0), "", NOW.isoformat(),
    )}  # fmt: skip
    assert check_board(folder).problems == []
    kept, put = unpack(content), readings()
    assert np.array_equal(kept.seconds, put.seconds)
    assert {each: kept.values[each].tolist() for each in kept.values} == {
        each: put.values[each].tolist() for each in put.values
    }


def test_readings_taken_back_by_undo_come_again_by_redo(folder):
    with opened(folder) as store:
        content = store.read().weather_files[1].content
        for _ in range(4):
            store.step("undo", now=NOW, who="")
        assert store.read().weather_files == {}
        store.step("redo", now=NOW, who="")
        assert store.read().weather_files[1].content == content
        assert len(unpack(store.weather_content(content))) == 200


def test_readings_survive_the_file_taken_off_and_the_board_opened_again(folder):
    with opened(folder) as store:
        do(store, remove_weather_file, 1)
        assert store.read().weather_files == {}
    with opened(folder) as store:
        store.step("undo", now=NOW, who="")
        assert len(unpack(store.weather_content(store.read().weather_files[1].content))) == 200


def test_readings_that_no_step_brings_back_are_dropped_when_the_board_is_opened(folder):
    with opened(folder) as store:
        do(store, remove_weather_file, 1)
    plant(folder, "DELETE FROM journal_row", "DELETE FROM journal")
    with opened(folder):
        pass
    with raw(folder) as connection:
        assert connection.execute("SELECT count(*) FROM weather_content").fetchone() == (0,)


def test_a_step_holds_no_readings(folder):
    with raw(folder) as connection:
        (longest,) = connection.execute("SELECT max(length(after)) FROM journal_row").fetchone()
    assert longest < 2_000


def test_a_million_readings_are_kept_in_parts_that_no_limit_cuts(folder):
    packed = pack(readings(1_000_000, seed=2))
    with opened(folder) as store:
        do(store, add_weather_file, given(packed, "ten years.csv", 1_000_000))
        assert store.weather_content(store.read().weather_files[2].content) == packed
    with raw(folder) as connection:
        assert connection.execute("SELECT max(length(bytes)) FROM weather_content").fetchone() == (PART_BYTES,)


def test_the_weather_can_be_looked_at_while_a_window_has_the_board_open(folder):
    with opened(folder):
        record, request = look_at_weather(folder)
    (file,) = request.files
    assert (file.name, file.logger, file.clock) == ("wall.csv", "wall", "UTC+01:00")
    assert len(unpack(file.packed)) == 200
    assert request.day_notes == tuple(record.day_notes.values())
    assert request.site.zone == "Europe/Berlin"


@pytest.mark.parametrize("change", [
    "DELETE FROM weather_content",
    "UPDATE weather_content SET part = 7",
    "UPDATE weather_content SET bytes = zeroblob(9)",
    "UPDATE weather_content SET bytes = substr(bytes, 2)",
    "INSERT INTO weather_content SELECT sha256, part + 1, bytes FROM weather_content",
])  # fmt: skip
def test_readings_altered_or_gone_are_told_and_the_board_opens_all_the_same(folder, change):
    plant(folder, change)
    with opened(folder) as store:
        content = store.read().weather_files[1].content
        if "part = 7" in change:  # in whatever place, the bytes are the ones
            assert len(unpack(store.weather_content(content))) == 200
            return
        with pytest.raises(InputError) as caught:
            store.weather_content(content)
    assert caught.value.problem.what == UNREADABLE
    assert check_board(folder).problems == [f"wall.csv: {UNREADABLE}"]


@pytest.mark.parametrize("taken_out", [False, True])
def test_damaged_readings_are_mended_by_adding_the_file_again(folder, taken_out):
    packed = pack(readings())
    plant(folder, "UPDATE weather_content SET bytes = x'00'")
    with opened(folder) as store:
        if taken_out:
            do(store, remove_weather_file, 1)
        do(store, add_weather_file, given(packed))
        (file,) = store.read().weather_files.values()
        assert store.weather_content(file.content) == packed
    assert check_board(folder).problems == []


def test_a_number_of_readings_that_the_file_does_not_hold_is_refused_before_they_are_unrolled(folder):
    plant(folder, "UPDATE weather_file SET count = 199")
    _, request = look_at_weather(folder)
    with pytest.raises(InputError, match=r"The readings of wall\.csv are damaged"):
        work_out_track(request, Progress())


def test_rows_that_name_one_content_again_and_again_are_refused_before_it_is_read(folder):
    columns = "name, logger, clock, quantities, count, first, last, left_out, told, added, content"
    copied = f"INSERT INTO weather_file (sha256, {columns}) SELECT printf('%064x', key), {columns} FROM weather_file"
    plant(folder, "UPDATE weather_file SET count = 5000000", copied, f"{copied} WHERE key = 2")
    with pytest.raises(InputError, match="hold more than 10,000,000 readings together"):
        look_at_weather(folder)


@pytest.mark.parametrize(("table", "change"), [
    ("weather_file", "sha256 = 'ABC'"),
    ("weather_file", "content = '../../etc/passwd'"),
    ("weather_file", "quantities = '[\"gold\"]'"),
    ("weather_file", "quantities = '7'"),
    ("weather_file", "count = 0"),
    ("weather_file", "count = 5000001"),
    ("weather_file", "first = 'spring'"),
    ("weather_file", "last = '9999-12-31T00:00:00'"),
    ("weather_file", "left_out = -1"),
    ("weather_file", "told = '" + json.dumps(["x"] * (MOST_TOLD + 1)) + "'"),
    ("weather_file", "told = '" + "[" * 100_000 + "'"),
    ("day_note", "day = 'today'"),
    ("day_note", "day = '0001-01-01'"),
    ("day_note", "conditions = '[\"hail\"]'"),
    ("day_note", "rain_mm = -1"),
    ("day_note", "rain_mm = 9e999"),
    ("day_note", "highest_c = 71"),
    ("day_note", "lowest_c = -91"),
    ("day_note", "wet_hours = 25"),
    ("site", "dew_point_set = 'mine'"),
    ("site", "dew_day_hours = 25"),
    ("site", "sulphur_dioxide = -1"),
    ("site", "chloride = 9e999"),
    ("weighing", "before_g = -1"),
    ("weighing", "exposed_to = ''"),
    ("weighing", "after_g = '[NaN]'"),
    ("weighing", "after_g = '" + json.dumps([1.0] * (MOST_CYCLES + 1)) + "'"),
    ("weighing", "density_g_cm3 = 0"),
    ("weighing", "pits = -1"),
    ("weighing", "pit_depths_um = '[\"deep\"]'"),
    ("weighing", "thickness_mm = 9e999"),
])  # fmt: skip
def test_a_value_that_no_version_writes_refuses_the_board(folder, table, change):
    plant(folder, f"UPDATE {table} SET {change} WHERE key = 1")
    assert refusal_of_reading(folder) == damaged(table)


def test_a_weighing_of_no_coupon_refuses_the_board(folder):
    plant(folder, "UPDATE weighing SET coupon = 99")
    assert refusal_of_reading(folder) == NOWHERE


def test_texts_are_made_safe_to_show(folder):
    plant(folder, "UPDATE weather_file SET name = 'a' || char(8238) || 'b', logger = char(7) || 'x'",
          "UPDATE day_note SET note = char(27) || '[31m'",
          "UPDATE site SET zone = 'a' || char(10) || 'b'")  # fmt: skip
    with opened(folder, read_only=True) as store:
        record = store.read()
    assert record.weather_files[1].name == "a\ufffdb"
    assert record.weather_files[1].logger == "\ufffdx"
    assert record.day_notes[1].note == "\ufffd[31m"
    assert record.sites[1].zone == "a b"
