"""The screen of boards beside one another, as a person reads and moves it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from boards_together import later, three_boards
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QTableWidget
from pytestqt.qtbot import QtBot
from window_driving import settle

from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.ui.bridge import JobBridge
from rustboard.ui.comparing.screen import ComparingScreen
from rustboard.ui.theme import LIGHT, SUNLIGHT


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, ...]:
    return three_boards(tmp_path / "boards")


@pytest.fixture
def shown(qtbot: QtBot, folders: tuple[Path, ...]) -> Iterator[Callable[..., ComparingScreen]]:
    bridge = JobBridge(executor=InlineExecutor())

    def show(*wanted: Path) -> ComparingScreen:
        screen = ComparingScreen(bridge, LIGHT)
        qtbot.addWidget(screen)
        screen.resize(1366, 700)
        with qtbot.waitExposed(screen):
            screen.show()
        screen.show_folders(wanted or folders)
        settle()
        return screen

    yield show
    bridge.close()
    bridge.deleteLater()
    settle()


def cell(screen: ComparingScreen, row: str, board: str) -> str:
    return next(each for each in screen.tiles.words() if each.startswith(f"{row} on {board}"))


def press(screen: ComparingScreen, button: str) -> None:
    wanted = getattr(screen.line, button)
    wanted.setFocus()
    QTest.keyClick(wanted, Qt.Key.Key_Space)
    settle()


def choose_clock(screen: ComparingScreen, at: int) -> None:
    screen.line.clock.setCurrentIndex(at)
    screen.line.clock.activated.emit(at)
    settle()


def test_boards_begin_as_far_as_all_were_watched(shown):
    screen = shown()
    assert screen.line.text() == "As of day 42: Every board with this clock was watched so far."
    assert "C01 at A1: grade 9, given at day 42." in cell(screen, "hot wax", "Harbour wall")
    assert cell(screen, "varnish", "Roof") == "varnish on Roof: not on this board."


def test_the_slider_goes_back_and_forth_by_keys(shown):
    screen = shown()
    press(screen, "earlier")
    assert screen.line.text().startswith("As of day 21")
    assert "grade 10, given at day 21." in cell(screen, "hot wax", "Harbour wall")
    QTest.keyClick(screen.line.slider, Qt.Key.Key_End)
    settle()
    assert screen.line.text() == "As of day 60: Not watched so far: Harbour wall, Roof. Of it nothing is shown here."
    assert "watched only to day 42" in cell(screen, "hot wax", "Roof")
    assert "C01 at A1: no grade." in cell(screen, "hot wax", "Roof")
    press(screen, "shared")
    assert screen.line.text().startswith("As of day 42")


def test_what_differs_stands_on_top_in_words(shown):
    screen = shown()
    lines = screen.differences.lines()
    assert lines[0] == "Site\tdifferent\tharbour\tyard\troof"
    assert "Inspections\talike\t3\t3\t3" in lines


def test_the_histories_follow_the_row_that_is_chosen(shown):
    screen = shown()
    assert screen.histories.chart().title == "hot wax, board by board"
    screen.tiles.setFocus()
    QTest.keyClick(screen.tiles, Qt.Key.Key_Down)
    settle()
    chart = screen.histories.chart()
    assert chart.title == "oil, board by board"
    assert [(each.label, each.ink, each.order) for each in chart.tracks] == [
        ("Harbour wall", 0, 0),
        ("Back yard", 1, 1),
    ]
    assert "Back yard: median 6 of 3 coupons (6 to 7) at 60 days of exposure" in chart.text()


def test_on_the_clock_of_the_controls(shown):
    screen = shown()
    choose_clock(screen, 3)
    assert "grades lost by the controls" in screen.line.text()
    assert screen.problem.text() == ""


def test_boards_without_weather_say_that_they_have_no_such_clock(shown):
    screen = shown()
    choose_clock(screen, 2)
    assert "Of the board “Harbour wall” no weather is known" in screen.problem.text()
    assert screen.line.text().endswith("None of the boards has this clock.")
    assert "has no such clock" in cell(screen, "hot wax", "Roof")
    choose_clock(screen, 0)
    assert screen.problem.text() == ""


def test_the_person_says_which_treatments_are_the_same(shown):
    screen = shown()
    table: QTableWidget = screen.matching.table
    choice = table.cellWidget(1, 2)  # oil on the yard
    choice.setCurrentIndex(choice.findText("varnish"))
    choice.activated.emit(choice.currentIndex())
    settle()
    assert "C04 at B1: grade 9, given at day 21" in cell(screen, "oil", "Back yard")
    assert "C07" not in cell(screen, "oil", "Back yard")
    QTest.mouseClick(screen.matching.confirm, Qt.MouseButton.LeftButton)
    settle()
    assert not screen.matching.confirm.isEnabled()
    screen.look_again()
    settle()
    assert "C07" not in cell(screen, "oil", "Back yard")


def test_nothing_of_a_board_stays_in_view_when_it_is_graded_blind(shown, folders):
    screen = shown()
    with closing(Session(folders[0], clock=later)) as session:
        session.do(start_blind, BlindChoice(max(session.record.inspections), "bench", None, 50.0))
    screen.look_again()
    settle()
    assert "is being graded blind" in screen.problem.text()
    assert screen.tiles.rowCount() == 0
    assert screen.differences.lines() == []
    assert screen.histories.chart() is None
    assert not any("hot wax" in each.text() for each in screen.findChildren(QLabel))


def test_a_board_that_is_gone_is_told(shown, folders, tmp_path):
    screen = shown(folders[0], tmp_path / "nowhere")
    assert screen.problem.text()
    assert screen.work.text() == ""


def test_other_colours(shown):
    screen = shown()
    screen.set_scheme(SUNLIGHT)
    assert not screen.grab().isNull()
