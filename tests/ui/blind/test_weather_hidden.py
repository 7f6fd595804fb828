"""Weather, day log and weighed coupons name coupons and treatments: hidden with them, in windows and commands."""

from __future__ import annotations

from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from blind_driving import HIDDEN, begin, everything_readable, hide, leaks, page_of, secret_board, settle_deleted
from later import Later
from weathered_boards import daily_table, put_day, put_readings
from window_driving import Person, settle

from rustboard.app.main import run
from rustboard.board.measured import Disturbance
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.weighing import GivenWeighing, note_weighing
from rustboard.session.session import Session

NAMED = "Lanolin rack.csv"
LOGGER = "Zinkweiss shed"


@pytest.fixture
def board(tmp_path: Path) -> Path:
    """A board on which everything about weather names what is hidden."""
    folder = secret_board(tmp_path / "Zinkweiss against Lanolin")
    with closing(Session(folder)) as session:
        start = session.record.day_zero()
        assert start is not None
        put_readings(session, daily_table(start - timedelta(days=1), 20), name=NAMED, logger=LOGGER)
        put_day(session, (start + timedelta(days=1)).date(), conditions=("rain",), note="T77 looks worse than T78")
        session.do(note_disturbance, Disturbance(start + timedelta(days=2), "touched", 1, "pitted at the hole"))
        session.do(note_weighing, GivenWeighing(2, start + timedelta(days=5), 120.0, (119.0, 118.8), bare=True))
    return folder


def look_at_all(person: Person) -> None:
    """Open the screen of the weather and each of its pages."""
    person.do("weather.show")
    settle()
    screen = person.window.weather.screen.screen
    assert screen is not None
    for number in range(screen.tabs.count()):
        screen.tabs.setCurrentIndex(number)
        settle()


def test_the_words_can_be_read_there_while_nothing_is_hidden(board: Path, sitting_at) -> None:
    person = sitting_at(board)
    look_at_all(person)
    everywhere = " ".join(text for where, text in everything_readable() if "TableWidget" in where or "Plain" in where)
    assert NAMED in everywhere
    assert LOGGER in everywhere
    assert "C02" in everywhere


def test_nothing_of_the_weather_screen_is_left_when_the_board_is_hidden(board: Path, sitting_at) -> None:
    person = sitting_at(board)
    look_at_all(person)
    person.window.weather.loggers.remove(1)
    assert NAMED in " ".join(text for _, text in everything_readable()), "a note names the file just before"
    person.do("edit.undo")
    person.do("weather.show")
    hide(person)
    assert leaks() == []
    assert not {each for each in person.enabled() if each.startswith("weather.")}
    begin(person, "Mara")
    assert leaks() == []


def test_weather_in_view_in_a_second_window_goes_too(board: Path, desk, sitting_at) -> None:
    person = sitting_at(board)
    other = desk.sit_down(board)
    look_at_all(other)
    hide(person)
    other.window._look_again()
    settle_deleted()
    assert other.window.blind.blind_page is not None
    assert leaks() == []


def test_weather_that_arrives_when_the_board_is_hidden_disturbs_nobody(board: Path, desk) -> None:
    late = Later()
    desk._executor = lambda: late
    person = desk.sit_down(board)
    person.do("weather.show")
    assert late.waiting
    person.do("weather.show")
    hide(person)
    late.run()
    settle_deleted()
    assert page_of(person).is_overview()
    assert leaks() == []
    assert person.message() == ""


@pytest.mark.parametrize("options", [(), ("--json",), ("--from-start",)])
def test_the_exposure_of_a_hidden_board_names_nothing(
    board: Path, sitting_at, capsys: pytest.CaptureFixture[str], options: tuple[str, ...]
) -> None:
    hide(sitting_at(board))
    capsys.readouterr()
    assert run(["exposure", str(board), *options]) == 0
    printed = " ".join(capsys.readouterr())
    assert "2026-03" in printed
    assert [each for each in HIDDEN if each in printed] == []
