"""The table of exposures: its rows, its words, what it follows, and where it leads."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import closing
from datetime import datetime, timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from weathered_boards import put_readings, steady_table
from window_driving import START, Person, filling, made_board, settle

from rustboard.board.model import Inspection
from rustboard.board.record import site_of
from rustboard.operations.inspections import add_inspection
from rustboard.session.session import Session
from rustboard.ui.theme import DARK, SUNLIGHT
from rustboard.ui.weather.exposure_table import DAYS, KNOWN, UNTIL
from rustboard.ui.weather.screen import WeatherScreen

Looking = Callable[..., Person]


def screen_of(person: Person) -> WeatherScreen:
    screen = person.window.weather.screen.screen
    assert screen is not None
    return screen


def column(screen: WeatherScreen, at: int) -> list[str]:
    model = screen.exposure.table.exposure_model
    return [model.text(row, at) for row in range(model.rowCount())]


# ---- exposure


def test_each_inspection_after_the_start_is_a_row_and_the_time_since_the_last_one_too(looking: Looking) -> None:
    screen = screen_of(looking())
    rows = screen.exposure.table.exposure_model.rows
    assert [each.inspection for each in rows] == [2, 3, 4, None]
    assert column(screen, DAYS) == ["7", "7", "7", "2"]
    assert column(screen, KNOWN)[0] == "100 %"


def test_the_row_of_the_inspection_in_view_is_chosen_at_first(looking: Looking) -> None:
    person = looking()
    assert screen_of(person).exposure.chosen_inspection() == 4
    person.do("weather.show")
    person.page.look_at(3)
    person.do("weather.show")
    settle()
    assert screen_of(person).exposure.chosen_inspection() == 3


def test_the_chosen_row_is_told_in_sentences_with_its_gaps_and_cautions(looking: Looking) -> None:
    screen = screen_of(looking())
    screen.exposure.table.selectRow(1)
    said = screen.exposure.details.text()
    assert "by loggers" in said
    assert "by hand" in said
    assert "Not known" in said
    assert "Beware" in said
    # 14 h noted, and 8 h assumed for the day with dew.
    assert "By hand 22 h" in said


def test_the_switch_shows_the_sums_since_the_start_and_keeps_the_row(looking: Looking) -> None:
    person = looking()
    screen = screen_of(person)
    screen.exposure.table.selectRow(0)
    person.click(screen.exposure.since_start)
    assert column(screen, DAYS) == ["7", "14", "21", "23"]
    assert screen.exposure.chosen_inspection() == 2
    assert "Since the start of exposure." in screen.exposure.details.text()
    person.click(screen.exposure.by_inspection)
    assert column(screen, DAYS) == ["7", "7", "7", "2"]


def test_enter_goes_to_the_inspection_of_the_row(looking: Looking) -> None:
    person = looking()
    screen_of(person).exposure.table.selectRow(1)
    person.key(Qt.Key.Key_Return)
    assert person.page.isVisible()
    assert person.session.selection.inspection == 3


def test_a_double_click_goes_there_too_but_not_from_the_time_without_an_inspection(looking: Looking) -> None:
    person = looking()
    table = screen_of(person).exposure.table
    for row, leaves in ((3, False), (0, True)):
        at = table.visualRect(table.model().index(row, UNTIL)).center()
        QTest.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
        QTest.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=at)
        settle()
        assert person.page.isVisible() == leaves
    assert person.session.selection.inspection == 2


def test_estimates_stand_in_a_group_of_their_own_and_every_title_has_its_unit(looking: Looking) -> None:
    table = screen_of(looking()).exposure.table
    groups = {each.title: each for each in table.horizontalHeader().groups}  # type: ignore[attr-defined]
    estimated = groups["Estimated"]
    model = table.exposure_model
    titles = [
        model.headerData(at, Qt.Orientation.Horizontal).strip() for at in range(estimated.first, estimated.last + 1)
    ]
    assert titles == ["dew, h", "leaf, h"]
    spoken = model.headerData(estimated.first, Qt.Orientation.Horizontal, Qt.ItemDataRole.AccessibleTextRole)
    assert "Estimated" in spoken


def test_the_bar_of_coverage_tells_loggers_from_hand_in_words_and_in_paint(looking: Looking) -> None:
    screen = screen_of(looking())
    found = screen.exposure.table.exposure_model.coverage(1)
    assert found is not None
    assert found.by_logger == pytest.approx(2 / 7, abs=0.01)
    assert found.by_hand == pytest.approx(2 / 7, abs=0.01)
    for scheme in (DARK, SUNLIGHT):
        screen.set_scheme(scheme)
        assert not screen.grab().isNull()


def test_two_inspections_on_one_day_are_told_with_their_hours(looking: Looking) -> None:
    person = looking()
    screen = screen_of(person)
    assert ":" not in "".join(column(screen, UNTIL))
    person.session.do(add_inspection, Inspection(START + timedelta(days=7, hours=5)))
    settle()
    assert all(":" in each for each in column(screen, UNTIL))
    assert len(set(column(screen, UNTIL))) == 5


# ---- what changes while it is in view


def test_what_is_added_or_undone_is_followed(looking: Looking) -> None:
    person = looking()
    screen = screen_of(person)
    put_readings(person.session, steady_table(START + timedelta(days=9), 3), "c.csv")
    settle()
    assert screen.files.table.rowCount() == 3
    before = column(screen, KNOWN)
    person.do("edit.undo")
    assert screen.files.table.rowCount() == 2
    assert column(screen, KNOWN) != before


def test_an_inspection_that_goes_takes_its_row_with_it(looking: Looking) -> None:
    person = looking()
    person.do("weather.show")
    person.page.look_at(4)
    person.do("inspection.remove")
    person.do("weather.show")
    settle()
    assert [each.inspection for each in screen_of(person).exposure.table.exposure_model.rows] == [2, 3, None]


def test_esc_and_the_button_lead_back(looking: Looking) -> None:
    person = looking()
    person.key(Qt.Key.Key_Escape)
    assert person.page.isVisible()
    person.do("weather.show")
    person.press("Bac&k to the board")
    assert person.page.isVisible()


# ---- files


def test_delete_takes_the_chosen_file_off(looking: Looking) -> None:
    person = looking()
    screen = screen_of(person)
    screen.tabs.setCurrentIndex(1)
    screen.files.table.selectRow(0)
    screen.files.table.setFocus()
    person.key(Qt.Key.Key_Delete)
    assert [each.name for each in person.session.record.weather_files.values()] == ["b.csv"]


# ---- inspections


def test_weather_without_any_inspection_says_what_is_missing(sitting_at, tmp_path) -> None:
    folder = made_board(tmp_path / "Bare", inspections=0)
    with closing(Session(folder)) as session:
        put_readings(session, steady_table(START, 3))
    person = sitting_at(folder)
    person.do("weather.show")
    settle(8)
    assert person.reads("There is no inspection after the start of exposure yet")
    assert [each.inspection for each in screen_of(person).exposure.table.exposure_model.rows] == [None]


def test_inspections_before_the_start_are_said_to_be_left_out(looking: Looking) -> None:
    person = looking()
    person.session.do(add_inspection, Inspection(datetime(2026, 2, 1, 9)))
    settle()
    assert person.reads("Inspections before the stated start of exposure are left out: 1.")


# ---- site and clock


def test_the_site_is_kept_and_the_decimal_comma_understood(looking: Looking) -> None:
    person = looking()
    person.answers.dialogs = [filling(zone="Europe/Berlin", deposition="12,5")]
    person.press("&Site and clock")
    site = site_of(person.session.record)
    assert site.zone == "Europe/Berlin"
    assert site.sulphur_dioxide == 12.5
    assert site.chloride is None
