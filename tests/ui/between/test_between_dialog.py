"""What happened between two inspections, read in the dialog."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from rustboard.board.measured import Disturbance
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.board.weather import DayNote
from rustboard.session.between import what_happened
from rustboard.ui.between.dialog import BetweenDialog
from rustboard.ui.between.words import percent
from rustboard.ui.theme import SCHEMES, apply_scheme
from rustboard.weather.exposure import Exposure

START = datetime(2026, 3, 2, 9)
HOSTILE = "<b>bold</b> & <img src='x'>"

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

Shown = Callable[..., BetweenDialog]


@pytest.fixture
def record() -> BoardRecord:
    """Three coupons, two inspections a week apart, exposure begun a day before the first."""
    found = BoardRecord(Board("Yard", started=START))
    found.treatments[1] = Treatment("T1", "beeswax blend", key=1)
    for key, at in ((1, 1), (2, 8)):
        found.inspections[key] = Inspection(START + timedelta(days=at), "Ann", key=key)
    for key, (before, now) in enumerate(((10, 9), (10, 6), (10, None)), start=1):
        found.coupons[key] = Coupon(f"C{key:02}", Position(0, key - 1), treatment=1, key=key)
        found.current[key] = {1: _grading(key, 1, before)} | ({} if now is None else {2: _grading(key, 2, now)})
    return found


def _grading(coupon: int, inspection: int, grade: int) -> Grading:
    return Grading(0, coupon, inspection, grade, "S" if grade < 10 else "", None, "Ann", "eye", "", "")


def weather(**known: float) -> Exposure:
    """A week of which the rest is not known."""
    nothing: dict[str, float | None] = dict.fromkeys(
        (
            "wet_hours", "wet_hours_by_logger", "wet_hours_by_hand", "wet_hours_90", "leaf_wet_hours", "dew_hours",
            "rain_mm", "rain_mm_by_logger", "rain_mm_by_hand", "wet_spells", "mean_temperature_c",
            "lowest_temperature_c", "highest_temperature_c", "mean_rh_percent", "mean_dew_point_c", "frost_hours",
        )
    )  # fmt: skip
    shares = dict.fromkeys(
        (
            "coverage", "coverage_by_logger", "coverage_by_hand", "rain_coverage", "temperature_coverage",
            "humidity_coverage", "stuck_hours",
        ),
        0.0,
    )  # fmt: skip
    return Exposure(START, START + timedelta(days=7), 7.0, **{**nothing, **shares, **known})  # type: ignore[arg-type]


@pytest.fixture
def shown(qtbot: QtBot) -> Shown:
    """Shows what happened before an inspection."""

    def show(record: BoardRecord, inspection: int = 2, exposure: Exposure | None = None, *, working: bool = False):
        stretch = what_happened(record, None, inspection)
        assert stretch is not None
        dialog = BetweenDialog()
        qtbot.addWidget(dialog)
        dialog.show_stretch(record, replace(stretch, exposure=exposure), working=working)
        dialog.show()
        return dialog

    return show


def button(dialog: BetweenDialog, text: str) -> QPushButton:
    return next(each for each in dialog.findChildren(QPushButton) if text in each.text().replace("&", ""))


def test_sentences_come_first(record: BoardRecord, shown: Shown) -> None:
    first, second = shown(record).text().splitlines()[:2]
    assert first.startswith("From the inspection of")
    assert "(day 1) to this one (day 8): 7 days. 2 of 2 coupons fell; furthest C02, by 4 grades." in first
    assert "Not graded at this inspection: C03." in first
    assert second.startswith("Nothing is known of the weather of this time")


def test_what_fell_is_listed_with_treatment_and_grades(record: BoardRecord, shown: Shown) -> None:
    said = shown(record).text().split("Which coupons fell")[1].split()
    assert said[:6] == ["Coupon", "Treatment", "Before", "Now", "Fell", "by"]
    assert said[6:12] == ["C02", "beeswax", "blend", "10", "6-S", "4"]


def test_the_first_stretch_begins_with_exposure(record: BoardRecord, shown: Shown) -> None:
    said = shown(record, 1).text()
    assert said.startswith("From the start of exposure on")
    assert "Graded for the first time: C01, C02, C03." in said
    assert "Which coupons fell" not in said


def test_a_better_grade_is_questioned(record: BoardRecord, shown: Shown) -> None:
    record.current[1] = {1: _grading(1, 1, 8), 2: _grading(1, 2, 9)}
    assert "Better than before: C01." in shown(record).text()


def test_what_is_known_of_the_weather_is_told_with_what_is_not(record: BoardRecord, shown: Shown) -> None:
    found = weather(
        wet_hours=50.0, wet_hours_by_logger=40.0, wet_hours_by_hand=10.0, coverage=0.8, coverage_by_logger=0.7,
        coverage_by_hand=0.1, rain_mm=12.5, rain_coverage=1.0, dew_hours=6.0, lowest_temperature_c=-1.0,
        mean_temperature_c=4.0, highest_temperature_c=9.5, wet_spells=3,
    )  # fmt: skip
    said = shown(record, exposure=found).text()
    assert "The coupons were wet for 50 hours: 40 by loggers, 10 by days noted by hand. 12.5 mm of rain fell." in said
    assert "For 20 % of the time nothing is known of wetness; those hours are not counted." in said
    figures = said.split("Exposure\n")[1]
    assert "lowest -1, mean 4, highest 9.5 °C" in figures
    assert "Dew at night (estimated, an upper figure)" in figures
    assert "80 % of the time: 70 % by loggers, 10 % by hand" in figures
    assert "humidity" not in figures, "of what is not known there is no figure"


def test_dry_is_told_as_far_as_is_known(record: BoardRecord, shown: Shown) -> None:
    said = shown(record, exposure=weather(wet_hours=0.0, rain_mm=0.0, coverage=1.0, rain_coverage=1.0)).text()
    assert "As far as is known, the coupons stayed dry. No rain fell." in said
    assert "nothing is known" not in said


def test_while_the_weather_is_worked_out_that_is_said(record: BoardRecord, shown: Shown) -> None:
    assert "The weather is being worked out." in shown(record, working=True).text()


def test_the_day_log_the_days_by_hand_and_the_notes_are_told(record: BoardRecord, shown: Shown) -> None:
    record.disturbances[1] = Disturbance(START + timedelta(days=3), "debris cleared", 2, "leaves", key=1)
    record.day_notes[1] = DayNote((START + timedelta(days=4)).date(), ("rain", "fog"), 6.5, wet_hours=10.0, key=1)
    record.inspections[2] = replace(record.inspections[2], note="windy")
    said = shown(record).text()
    assert "C02, debris cleared off (leaves)" in said
    assert "rain, fog, 6.5 mm, wet 10 h" in said
    assert "windy" in said
    assert "Nothing was noted in the day log" not in said


def test_an_empty_day_log_is_said_to_be_empty(record: BoardRecord, shown: Shown) -> None:
    assert "Nothing was noted in the day log." in shown(record).text()


def test_what_the_user_wrote_is_never_taken_for_markup(record: BoardRecord, shown: Shown) -> None:
    record.treatments[1] = Treatment("T1", HOSTILE, key=1)
    record.coupons[2] = replace(record.coupons[2], id=HOSTILE)
    record.inspections[2] = replace(record.inspections[2], note=HOSTILE)
    record.disturbances[1] = Disturbance(START + timedelta(days=3), "touched", 2, HOSTILE, key=1)
    dialog = shown(record)
    assert dialog.text().count(HOSTILE) >= 4


def test_the_arrows_ask_for_the_stretches_beside(record: BoardRecord, shown: Shown, qtbot: QtBot) -> None:
    dialog = shown(record)
    assert not button(dialog, "Later").isEnabled()
    with qtbot.waitSignal(dialog.stretch_asked) as asked:
        QTest.mouseClick(button(dialog, "Earlier"), Qt.MouseButton.LeftButton)
    assert asked.args == [1]
    first = shown(record, 1)
    assert not button(first, "Earlier").isEnabled()
    with qtbot.waitSignal(first.stretch_asked) as asked:
        QTest.keyClick(button(first, "Later"), Qt.Key.Key_Space)
    assert asked.args == [2]
    assert button(first, "Later").shortcut().toString() == "Alt+L"


def test_many_coupons_are_counted(record: BoardRecord, shown: Shown) -> None:
    for key in range(10, 60):
        record.coupons[key] = Coupon(f"X{key}", Position(1, key), key=key)
    assert "and 31 more" in shown(record).text()


@pytest.mark.parametrize("name", list(SCHEMES))
def test_it_fits_a_small_screen_in_every_scheme(
    qapp: QApplication, record: BoardRecord, shown: Shown, name: str
) -> None:
    apply_scheme(qapp, SCHEMES[name])
    dialog = shown(record)
    dialog.resize(420, 300)
    QApplication.processEvents()
    assert dialog.minimumSizeHint().width() <= 640
    for each in dialog.findChildren(QPushButton):
        assert each.fontMetrics().horizontalAdvance(each.text().replace("&", "")) < each.width()
        assert dialog.rect().contains(each.geometry())


@given(st.floats(0, 1))
def test_a_share_is_only_told_as_all_or_nothing_when_it_is(share: float) -> None:
    assert (percent(share) == "100 %") == (share == 1)
    assert (percent(share) == "0 %") == (share == 0)
