"""The weather worked out once for all screens, anew where it changed, and never from what is gone."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor, Future
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QObject
from PySide6.QtWidgets import QApplication
from weathered_boards import put_day, put_readings, steady_table
from window_driving import START, made_board

from rustboard.operations.weather import remove_weather_file
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.ui.bridge import JobBridge
from rustboard.ui.weather_source import WeatherSource


class Later(Executor):
    """Keeps jobs until they are let go."""

    def __init__(self) -> None:
        self.waiting: list[tuple[Any, ...]] = []

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.waiting.append((fn, args, kwargs))
        return Future()

    def go(self) -> None:
        for fn, args, kwargs in self.waiting:
            fn(*args, **kwargs)
        self.waiting = []


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    session = Session(made_board(tmp_path / "Yard"))
    yield session
    session.close()


@pytest.fixture
def parent(qapp: QApplication) -> Iterator[QObject]:
    parent = QObject()
    yield parent
    parent.deleteLater()


def source_of(session: Session, parent: QObject, executor: Executor) -> WeatherSource:
    source = WeatherSource(session, JobBridge(parent, executor), parent)
    session.feed.subscribe(source.apply)
    return source


def test_nothing_is_worked_out_before_it_is_wanted(session, parent):
    put_readings(session, steady_table(START, 2))
    source = source_of(session, parent, InlineExecutor())
    assert source.track() is None
    source.want()
    assert source.track() is not None


def test_a_day_noted_by_hand_does_not_read_the_files_again(session, parent, monkeypatch):
    put_readings(session, steady_table(START, 2))
    read: list[str] = []
    content = session.weather_content
    monkeypatch.setattr(session, "weather_content", lambda sha256: (read.append(sha256), content(sha256))[1])
    source = source_of(session, parent, InlineExecutor())
    source.want()
    first = source.track()
    put_day(session, (START + timedelta(days=5)).date(), conditions=("rain",))
    assert source.track() is not first
    assert len(read) == 1


def test_a_track_of_files_that_are_gone_meanwhile_is_dropped(session, parent):
    put_readings(session, steady_table(START, 2))
    later = Later()
    source = source_of(session, parent, later)
    source.want()
    session.do(remove_weather_file, 1)
    later.go()
    QApplication.processEvents()
    assert source.track() is None
    assert not source.is_working()


def test_without_weather_there_is_no_track_and_nothing_is_under_way(session, parent):
    source = source_of(session, parent, InlineExecutor())
    source.want()
    assert (source.track(), source.is_working()) == (None, False)
