"""The screen of weather and exposure in the window, by mouse and by keyboard."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QDialog, QLabel, QTabBar
from weathered_boards import daily_table, put_day, put_readings, steady_table
from window_driving import START, Person, accept, filling, made_board, settle

from rustboard.board.record import site_of
from rustboard.ui.weather.screen import WeatherScreen
from rustboard.ui.weather.site_dialog import SiteDialog

SittingAt = Callable[..., Person]


@pytest.fixture
def person(tmp_path: Path, sitting_at: SittingAt) -> Person:
    """Sits at a board with inspections on day 0, 7 and 14."""
    return sitting_at(made_board(tmp_path / "Yard", inspections=3))


def shown(person: Person) -> WeatherScreen:
    person.do("weather.show")
    screen = person.window.weather.screen.screen
    assert screen is not None
    settle()
    return screen


def cells(screen: WeatherScreen) -> list[list[str]]:
    model = screen.exposure.table.model()
    return [
        [str(model.index(row, column).data() or "") for column in range(model.columnCount())]
        for row in range(model.rowCount())
    ]


def test_without_weather_the_screen_says_what_to_do_and_carries_the_buttons(person: Person) -> None:
    screen = shown(person)
    assert screen.empty.isVisible()
    assert screen.empty.add.hasFocus()
    person.answers.files = []
    QTest.keyClick(screen.empty.add, Qt.Key.Key_Space)
    assert person.answers.asked != []
    person.answers.dialogs = [lambda dialog: dialog._ticks["dew"].click()]
    screen.empty.day.click()
    assert [each.conditions for each in person.session.record.day_notes.values()] == [("dew",)]
    assert screen.exposure.isVisible()


def test_each_interval_is_a_row_and_enter_goes_to_its_inspection(person: Person) -> None:
    put_readings(person.session, steady_table(START, 14))
    screen = shown(person)
    rows = cells(screen)
    assert len(rows) >= 2
    assert "168" in rows[0]
    assert screen.exposure.table.hasFocus()
    for _ in rows:
        QTest.keyClick(screen.exposure.table, Qt.Key.Key_Up)
    QTest.keyClick(screen.exposure.table, Qt.Key.Key_Return)
    assert person.page.isVisible()
    first_after_start = person.session.record.inspections_in_order()[1].key
    assert person.session.selection.inspection == first_after_start


def test_since_the_start_the_hours_are_sums(person: Person) -> None:
    put_readings(person.session, steady_table(START, 14))
    screen = shown(person)
    screen.exposure.since_start.click()
    assert "336" in cells(screen)[1]


def test_a_day_by_hand_stands_in_a_column_of_its_own(person: Person) -> None:
    put_readings(person.session, steady_table(START, 3, humidity=40.0))
    put_day(person.session, (START + timedelta(days=4)).date(), conditions=("rain",), wet_hours=5.0)
    screen = shown(person)
    model = screen.exposure.table.model()
    titles = [str(model.headerData(column, Qt.Orientation.Horizontal)) for column in range(model.columnCount())]
    assert cells(screen)[0][titles.index("\nby hand, h")] == "5"


def test_the_files_page_lists_the_rows_left_out_and_takes_a_file_off(person: Person) -> None:
    told = ("row 7, column Time: “noon” is no time.",)
    put_readings(person.session, steady_table(START, 14), left_out=1, told=told)
    screen = shown(person)
    screen.tabs.setCurrentWidget(screen.files)
    settle()
    assert any("“noon” is no time" in each.text() for each in screen.files.findChildren(QLabel))
    screen.files.remove.click()
    assert person.session.record.weather_files == {}
    person.do("edit.undo")
    assert len(person.session.record.weather_files) == 1


def test_a_board_for_reading_offers_no_change(desk, person: Person) -> None:
    put_readings(person.session, steady_table(START, 14))
    reader = desk.sit_down(person.session.folder)
    screen = shown(reader)
    screen.tabs.setCurrentWidget(screen.files)
    settle()
    assert not screen.files.add.isEnabled()
    assert not screen.files.remove.isEnabled()
    assert not screen._day.isEnabled()


def test_every_letter_of_every_page_is_given_once(person: Person) -> None:
    put_readings(person.session, daily_table(START, 14))
    screen = shown(person)
    for number in range(screen.tabs.count()):
        screen.tabs.setCurrentIndex(number)
        settle()
        texts = [each.text() for each in person.window.menuBar().actions()]
        texts += [each.text() for each in person.window.findChildren(QAbstractButton) if each.isVisible()]
        labels = [each for each in person.window.findChildren(QLabel) if each.isVisible() and each.buddy()]
        texts += [each.text() for each in labels]
        for bar in person.window.findChildren(QTabBar):
            texts += [bar.tabText(each) for each in range(bar.count()) if bar.isVisible()]
        letters = [letter.lower() for text in texts for letter in re.findall(r"&([^&\s])", text)]
        assert [letter for letter, count in Counter(letters).items() if count > 1] == [], number


def test_corrosivity_is_prefilled_from_the_boards_own_weather_and_keeps_the_deposition(person: Person) -> None:
    put_readings(person.session, steady_table(START, 14, temperature=10.0, humidity=75.0))
    screen = shown(person)
    screen.tabs.setCurrentIndex(2)
    settle()
    page = screen.tabs.currentWidget()
    assert (page.estimate.temperature.text(), page.estimate.humidity.text()) == ("10", "75")
    page.site_changed.emit(site_of(person.session.record).__class__(chloride=60.0))
    assert site_of(person.session.record).chloride == 60.0


def test_readings_that_are_damaged_are_told_on_the_screen(person: Person) -> None:
    put_readings(person.session, steady_table(START, 14))
    person.session._store._connection.execute("DELETE FROM weather_content")
    screen = shown(person)
    assert "are damaged" in screen.problem.text()


# ---- the site


def test_the_site_is_asked_for_and_kept(person: Person) -> None:
    person.answers.dialogs = [filling(zone="Europe/Berlin", hours="6")]
    person.do("weather.site")
    assert site_of(person.session.record).zone == "Europe/Berlin"
    assert site_of(person.session.record).dew_day_hours == 6.0


@pytest.mark.parametrize("wrong", [{"zone": "Nowhere/Land"}, {"hours": "25"}, {"deposition": "-1"}])
def test_what_no_site_can_be_is_said_in_the_dialog(person: Person, wrong: dict[str, str]) -> None:
    def fill(dialog: QDialog) -> bool:
        assert isinstance(dialog, SiteDialog)
        filling(**wrong)(dialog)
        dialog.accept()
        assert dialog.isVisible()
        assert dialog.problem.text().endswith(".")
        dialog.reject()
        return False

    person.answers.dialogs = [fill]
    person.do("weather.site")
    assert person.session.record.sites == {}


def test_a_site_that_was_said_comes_back_into_the_fields(person: Person) -> None:
    person.answers.dialogs = [filling(zone="Europe/Berlin")]
    person.do("weather.site")

    def look(dialog: QDialog) -> None:
        assert isinstance(dialog, SiteDialog)
        accept(dialog)

    before = site_of(person.session.record)
    person.answers.dialogs = [look]
    person.do("weather.site")
    assert site_of(person.session.record) == before
