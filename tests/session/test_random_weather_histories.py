"""Whatever is told of the weather and the balance, undone, refused, closed and opened: the record is what the disk
holds, and undo leads back to where it began."""

from __future__ import annotations

import hashlib
import shutil
import tempfile
from contextlib import closing
from datetime import date, timedelta
from pathlib import Path

import numpy as np
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule
from session_boards import NOW, opened, prepared

from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote, Site
from rustboard.operations.coupons import remove_coupon
from rustboard.operations.weather import (
    GivenReadings,
    add_weather_file,
    describe_site,
    note_day,
    note_days,
    remove_day_note,
    remove_weather_file,
)
from rustboard.operations.weighing import GivenWeighing, note_weighing, withdraw_weighing
from rustboard.session.session import Session
from rustboard.session.weather import weather_request
from rustboard.store.check import check_board
from rustboard.support.problems import InputError
from rustboard.weather.packing import pack, unpack
from rustboard.weather.readings import ReadingTable

keys = st.sampled_from([1, 1, 2, 2, 3, 4])
numbers = st.sampled_from([None, None, 0.0, 1.5, 24.0, -1.0, 90.0, float("nan"), float("inf")])
texts = st.sampled_from(["", "", "wind", "\ud800", "{0}", "x" * 400])
days = st.integers(0, 3).map(lambda number: date(2026, 3, 2) + timedelta(days=number)) | st.just(date(1066, 1, 1))
conditions = st.lists(st.sampled_from(["dry", "dew", "rain", "frost", "hail"]), max_size=3).map(tuple)
notes = st.builds(
    DayNote, days, conditions, numbers, numbers, numbers, numbers, texts, st.sampled_from([0, 0, 0, 1, 2, 7])
)
sites = st.builds(
    Site, st.sampled_from(["", "Europe/Berlin", "Nowhere/Land", "../etc"]),
    st.sampled_from(["WMO guide", "Tetens", "mine"]), st.sampled_from([8.0, 25.0]), st.just(12.0), st.booleans(),
    numbers, numbers,
)  # fmt: skip
masses = st.lists(st.sampled_from([118.0, 119.5, 0.0, float("nan")]), max_size=3).map(tuple)
weighings = st.builds(
    GivenWeighing, keys, st.sampled_from([NOW, NOW.replace(year=1066)]), st.sampled_from([120.0, -1.0]), masses,
    note=texts,
)  # fmt: skip

TAKING_BACK = st.sampled_from([remove_weather_file, remove_day_note, withdraw_weighing, remove_coupon])


def logger_file(name: str, seed: int) -> GivenReadings:
    """A file of a few readings; the same name is the same file, another seed reads it otherwise."""
    dice = np.random.default_rng(seed)
    table = ReadingTable(np.arange(5, dtype=np.int64) * 3600, {"temperature": dice.normal(10, 5, 5).round(1)})
    sha256 = hashlib.sha256(name.encode()).hexdigest()
    return GivenReadings(name, sha256, "wall", "UTC", ("temperature",), 5, NOW, NOW + timedelta(hours=4), pack(table))


class WeatherHistory(RuleBasedStateMachine):
    """One board, and what it held after each step."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp(prefix="rustboard-weather-"))
        self.session = prepared(self.folder / "b")
        self.done: list[BoardRecord] = [self.session.record.snapshot()]
        self.undone: list[BoardRecord] = []

    def teardown(self) -> None:
        while len(self.done) > 1:
            self.undo()
        self.session.close()
        assert check_board(self.folder / "b").problems == []
        shutil.rmtree(self.folder)

    def attempt(self, operation, *arguments) -> None:
        before = self.session.record.snapshot()
        told, changes = "", None
        try:
            changes = self.session.do(operation, *arguments)
        except InputError as error:
            told = error.problem.what
        if changes is not None and changes.tables:
            assert self.session.record != before
            self.done.append(self.session.record.snapshot())
            self.undone = []
        else:
            assert not told or told.endswith(".")
            assert self.session.record == before

    @rule(name=st.sampled_from(["a.csv", "b.csv"]), seed=st.integers(0, 2))
    def add_a_file(self, name, seed):
        self.attempt(add_weather_file, logger_file(name, seed))

    @rule(
        key=keys, operation=st.sampled_from([remove_weather_file, remove_day_note, withdraw_weighing, remove_coupon])
    )
    def take_something_back(self, key, operation):
        self.attempt(operation, key)

    @rule(note=notes)
    def note_a_day(self, note):
        self.attempt(note_day, note)

    @rule(several=st.lists(notes, max_size=3))
    def note_several_days(self, several):
        self.attempt(note_days, several)

    @rule(site=sites)
    def describe_the_site(self, site):
        self.attempt(describe_site, site)

    @rule(given=weighings)
    def weigh(self, given):
        self.attempt(note_weighing, given)

    @precondition(lambda self: len(self.done) > 1)
    @rule()
    def undo(self):
        assert self.session.undo() is not None
        self.undone.append(self.done.pop())
        assert self.session.record == self.done[-1]

    @precondition(lambda self: self.undone)
    @rule()
    def redo(self):
        assert self.session.redo() is not None
        self.done.append(self.undone.pop())
        assert self.session.record == self.done[-1]

    @rule()
    def close_and_open_again(self):
        self.session.close()
        self.session = opened(self.folder / "b")
        assert self.session.read_only_reason == ""
        assert self.session.record == self.done[-1]

    @invariant()
    def record_is_what_the_disk_holds(self):
        with closing(Session(self.folder / "b", read_only=True)) as other:
            assert other.record == self.session.record

    @invariant()
    def every_file_has_its_readings(self):
        for each in weather_request(self.session).files:
            assert len(unpack(each.packed)) == 5


WeatherHistory.TestCase.settings = settings(settings.get_profile("ci"), max_examples=15, stateful_step_count=25)
TestWeatherHistory = WeatherHistory.TestCase
