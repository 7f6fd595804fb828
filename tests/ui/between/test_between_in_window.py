"""From the timeline in the window to what happened between two inspections, in one click."""

from __future__ import annotations

from datetime import timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog
from window_driving import START, Person, settle, wait_until

from rustboard.board.measured import Disturbance
from rustboard.board.model import Inspection
from rustboard.board.weather import DayNote
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection, remove_inspection
from rustboard.operations.weather import note_day

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def graded(person: Person) -> Person:
    """Three inspections, one coupon that falls, one rainy day noted by hand, a disturbance."""
    for at in (7, 14):
        person.window.do(add_inspection, Inspection(START + timedelta(days=at), "Ann"))
    for inspection, grade in ((1, 10), (2, 9), (3, 6)):
        person.window.do(grade_coupon, GivenGrade(1, inspection, grade))
    person.window.do(note_disturbance, Disturbance(START + timedelta(days=9), "touched", 2))
    person.window.do(note_day, DayNote((START + timedelta(days=10)).date(), ("rain",), 6.5))
    timeline = person.page.timeline
    assert timeline is not None
    wait_until(timeline.weather.shows_lane, "for the lane")
    settle()
    return person


def read(texts: list[str]):
    return lambda dialog: texts.append(dialog.text())


def test_one_click_between_two_inspections_tells_what_happened_there(graded: Person) -> None:
    texts: list[str] = []
    graded.answers.dialogs = [read(texts)]
    plot = graded.page.timeline.plot()
    QTest.mouseClick(plot.viewport(), LEFT, pos=plot.place_in_lane(10.5).toPoint())
    assert graded.answers.asked == ["BetweenDialog"]
    assert "One of 1 coupons fell: C01, by 3 grades." in texts[0]
    assert "C02, touched" in texts[0]
    assert "rain, 6.5 mm" in texts[0]
    assert graded.session.selection.inspection == 1, "looking back changes nothing of what is in view"


def test_the_button_under_the_plot_tells_of_the_inspection_in_view(graded: Person) -> None:
    graded.session.selection.look_at(2)
    texts: list[str] = []
    graded.answers.dialogs = [read(texts)]
    QTest.mouseClick(graded.page.timeline.weather.line.ask, LEFT)
    assert "C01, by 1 grade." in texts[0]


def test_the_keyboard_goes_from_pair_to_pair(graded: Person) -> None:
    graded.session.selection.look_at(3)
    texts: list[str] = []

    def walk(dialog: QDialog) -> None:
        texts.append(dialog.text())
        for _ in range(2):
            QTest.keyClick(dialog._earlier, Qt.Key.Key_Space)
            texts.append(dialog.text())
        QTest.keyClick(dialog._later, Qt.Key.Key_Space)
        texts.append(dialog.text())

    graded.answers.dialogs = [walk]
    graded.do("weather.between")
    assert ["by 3 grades" in texts[0], "by 1 grade." in texts[1], "Exposure begins" in texts[2]] == [True] * 3
    assert texts[3] == texts[1]


def test_the_weather_that_arrives_while_it_is_read_is_told(graded: Person) -> None:
    graded.session.selection.look_at(3)
    texts: list[str] = []

    def wait(dialog: QDialog) -> None:
        graded.window.do(note_day, DayNote((START + timedelta(days=11)).date(), ("rain",), 3.5))
        settle()
        texts.append(dialog.text())

    graded.answers.dialogs = [wait]
    graded.do("weather.between")
    assert "10 mm of rain fell." in texts[0]


def test_without_an_inspection_it_is_said_what_to_do(person: Person) -> None:
    person.window.do(remove_inspection, 1)
    told: list[str] = []
    person.window.weather.between.told.connect(told.append)
    person.do("weather.between")
    assert person.answers.asked == []
    assert "There is no inspection yet" in told[0]
