"""The weather under the histories and the clocks of the axis, in a window, driven by mouse and keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest
from conftest import DAYS, START
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolButton
from pytestqt.qtbot import QtBot

from rustboard.board.measured import Disturbance
from rustboard.board.weather import DayNote
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.disturbances import note_disturbance
from rustboard.operations.weather import GivenReadings, add_weather_file, note_day, remove_weather_file
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.support.settings import Settings, load_settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.theme import LIGHT, SCHEMES, apply_scheme
from rustboard.ui.timeline.axes import DayAxis
from rustboard.ui.timeline.panel import TimelinePanel
from rustboard.ui.weather_source import WeatherSource
from rustboard.weather.packing import pack
from rustboard.weather.readings import ReadingTable

LEFT = Qt.MouseButton.LeftButton
WET = (7.5, 10.5)
"""Days in which it rained half a mm an hour; all others were dry."""

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support propagateSizeHints")

Opened = Callable[..., TimelinePanel]


def add_weather(session: Session, *, until: float = 29.0) -> None:
    """Hourly readings from the start of exposure on."""
    hours = np.arange(int(until * 24))
    first = (START - datetime(1970, 1, 1)).total_seconds()
    wet = (hours / 24 >= WET[0]) & (hours / 24 < WET[1])
    table = ReadingTable(
        (first + 3_600 * hours).astype(np.int64),
        {
            "temperature": 8.0 + 6.0 * np.sin(hours / 24 * 2 * np.pi),
            "humidity": np.where(wet, 95.0, 50.0),
            "rain": np.where(wet, 0.5, 0.0),
        },
    )
    quantities = ("temperature", "humidity", "rain")
    session.do(
        add_weather_file,
        GivenReadings("porch.csv", "a" * 64, "porch", "", quantities, len(hours), START, START, pack(table)),
    )


@pytest.fixture
def opened(qtbot: QtBot, qapp: QApplication) -> Iterator[Opened]:
    """Opens the timeline of a board as the page does, the weather at hand."""
    panels: list[tuple[TimelinePanel, JobBridge]] = []

    def open_panel(session: Session, settings: Settings | None = None) -> TimelinePanel:
        bridge = JobBridge(qapp, InlineExecutor())
        source = WeatherSource(session, bridge, bridge)
        panel = TimelinePanel(session, LIGHT, source, settings)
        session.feed.subscribe(source.apply)
        session.feed.subscribe(panel.apply)
        session.selection.subscribe(panel.selection_changed)
        qtbot.addWidget(panel)
        panel.resize(460, 640)
        panel.show()
        qtbot.waitExposed(panel)
        for _ in range(5):
            QApplication.processEvents()
        panels.append((panel, bridge))
        return panel

    yield open_panel
    for panel, bridge in panels:
        panel.close()
        bridge.close()
        bridge.deleteLater()  # with its weather, which would stay as long as the program
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


@pytest.fixture
def panel(opened: Opened, graded_board: Session) -> TimelinePanel:
    """Weather, C01 a control, three disturbances."""
    add_weather(graded_board)
    graded_board.do(edit_coupon, replace(graded_board.record.coupons[1], role="control"))
    graded_board.do(note_disturbance, Disturbance(START + timedelta(days=8), "debris cleared", 3, "leaves"))
    graded_board.do(note_disturbance, Disturbance(START + timedelta(days=20), "board moved"))
    return opened(graded_board)


def axis_button(panel: TimelinePanel, name: str) -> QToolButton:
    buttons = panel.weather.choice.findChildren(QToolButton)
    return next(each for each in buttons if each.accessibleName() == f"Axis: {name}")


def weather_button(panel: TimelinePanel) -> QToolButton:
    return next(each for each in panel.findChildren(QToolButton) if each.accessibleName() == "Weather")


def choose(panel: TimelinePanel, name: str) -> None:
    QTest.mouseClick(axis_button(panel, name), LEFT)
    QApplication.processEvents()


def title(panel: TimelinePanel) -> str:
    axis = next(each for each in panel.plot().items() if isinstance(each, DayAxis))
    return str(axis.labelText)


def point(panel: TimelinePanel, place: float) -> QPoint:
    """Move the pointer over the lane at a place of the axis."""
    at = panel.plot().place_in_lane(place).toPoint()
    QTest.mouseMove(panel.plot().viewport(), at + QPoint(1, 0))
    QTest.mouseMove(panel.plot().viewport(), at)
    return at


# ---- the lane


def test_a_board_without_weather_has_no_lane_and_no_button_for_it(opened: Opened, graded_board: Session) -> None:
    panel = opened(graded_board)
    assert not panel.weather.shows_lane()
    assert not weather_button(panel).isVisible()
    assert not panel.weather.line.isVisible()
    assert panel.plot().lane_area().height() == 0


def test_the_lane_comes_with_the_first_disturbance_and_goes_with_it(opened: Opened, graded_board: Session) -> None:
    panel = opened(graded_board)
    graded_board.do(note_disturbance, Disturbance(START + timedelta(days=8), "touched", 3))
    assert panel.weather.shows_lane()
    assert panel.plot().lane_area().height() > 10
    graded_board.undo()
    assert not panel.weather.shows_lane()


def test_the_histories_come_first_and_the_weather_when_it_has_been_worked_out(
    qtbot: QtBot, qapp: QApplication, graded_board: Session
) -> None:
    add_weather(graded_board)
    bridge = JobBridge(qapp, InlineExecutor())
    source = WeatherSource(graded_board, bridge, bridge)
    panel = TimelinePanel(graded_board, LIGHT, source)
    qtbot.addWidget(panel)
    assert source.track() is None
    panel.resize(460, 640)
    seen = []
    source.arrived.connect(lambda: seen.append(panel.plot().place_of(1, 5).x() > 0))
    panel.show()
    qtbot.waitUntil(lambda: panel.weather.shows_lane())
    assert seen == [True]
    panel.close()
    bridge.close()


def test_weather_that_is_added_or_taken_away_is_shown_at_once(opened: Opened, graded_board: Session) -> None:
    panel = opened(graded_board)
    add_weather(graded_board)
    for _ in range(5):
        QApplication.processEvents()
    assert panel.weather.shows_lane()
    graded_board.do(remove_weather_file, 1)
    for _ in range(5):
        QApplication.processEvents()
    assert not panel.weather.shows_lane()


def test_the_lane_lies_exactly_under_the_lines(panel: TimelinePanel) -> None:
    plot = panel.plot()
    for _ in range(2):
        for number, day in enumerate(DAYS):
            assert plot.place_in_lane(day).x() == pytest.approx(plot.place_of(number, 5).x(), abs=0.01)
        assert plot.lane_area().top() >= plot.place_of(1, 0).y()
        plot.zoom(2)


@pytest.mark.parametrize("height", [640, 560, 500, 440])
def test_the_lane_follows_when_the_axis_beside_the_lines_grows_narrow(panel: TimelinePanel, height: int) -> None:
    """In a low window the title of the grades is left out, and the lines begin further to the left."""
    panel.resize(430, height)
    weather_button(panel).click()
    weather_button(panel).click()
    for _ in range(3):
        QApplication.processEvents()
    plot = panel.plot()
    drawing = plot.lane().painter_for()
    if drawing is None:
        assert not plot.lane_area().height()  # too low for both
        return
    box = plot.lane_area()
    offset = plot.lane().geometry().left()
    low, high = plot.days_in_view().low, plot.days_in_view().high
    left, right = (drawing.x(np.array([low, high])) + offset).tolist()
    assert (left, right) == pytest.approx((box.left(), box.right()), abs=0.5)


def test_the_lane_pans_with_the_lines(panel: TimelinePanel) -> None:
    plot = panel.plot()
    plot.zoom(4)
    start = plot.place_in_lane(14)
    view = plot.viewport()
    QTest.mousePress(view, LEFT, pos=start.toPoint())
    for px in (10, 25):
        QTest.mouseMove(view, start.toPoint() + QPoint(px, 0))
    QTest.mouseRelease(view, LEFT, pos=start.toPoint() + QPoint(25, 0))
    assert plot.place_in_lane(14).x() == pytest.approx(start.x() + 25, abs=1)


def test_the_button_hides_the_lane_and_that_is_remembered(
    opened: Opened, graded_board: Session, own_home: object
) -> None:
    add_weather(graded_board)
    settings = Settings()
    panel = opened(graded_board, settings)
    high = panel.plot().place_of(1, 0).y()
    QTest.mouseClick(weather_button(panel), LEFT)
    QApplication.processEvents()
    assert not panel.weather.shows_lane()
    assert panel.plot().place_of(1, 0).y() > high, "the lines get the room"
    assert not load_settings().weather_lane
    again = opened(graded_board, load_settings())
    assert not again.weather.shows_lane()
    QTest.mouseClick(weather_button(again), LEFT)
    assert again.weather.shows_lane()
    assert load_settings().weather_lane


def test_pointing_at_the_lane_tells_the_weather_and_what_was_noted(panel: TimelinePanel) -> None:
    point(panel, 8.4)
    said = panel.weather.said()
    assert said.startswith("day 8 to 9: 12 mm, wet 24 h, 2 to 14 °C")
    assert "C03: debris cleared off (leaves)" in said
    point(panel, 15.4)
    assert panel.weather.said().startswith("day 15 to 16: 0 mm, wet 0 h")


def test_without_the_pointer_the_time_before_the_inspection_in_view_is_told(
    panel: TimelinePanel, graded_board: Session
) -> None:
    graded_board.selection.look_at(3)
    assert panel.weather.said().startswith("Before this inspection, day 7 to 14: 36 mm, wet 72 h")


def test_what_nothing_is_known_of_is_called_so(opened: Opened, graded_board: Session) -> None:
    add_weather(graded_board, until=14.1)
    panel = opened(graded_board)
    point(panel, 20.5)
    assert panel.weather.said() == "day 20 to 21: rain not known, wetness not known"


def test_a_day_by_hand_is_said_to_be_by_hand(opened: Opened, graded_board: Session) -> None:
    add_weather(graded_board, until=14.1)
    day = (START + timedelta(days=20)).date()
    graded_board.do(note_day, DayNote(day, ("rain",), 6.5, 9.0, 2.0, 10.0))
    panel = opened(graded_board)
    point(panel, 20.2)
    assert "noted by hand" in panel.weather.said()


@pytest.mark.parametrize(("day", "inspection"), [(3.0, 2), (9.0, 3), (20.0, 4)])
def test_one_click_on_a_stretch_asks_what_happened_in_it(
    panel: TimelinePanel, qtbot: QtBot, day: float, inspection: int
) -> None:
    at = point(panel, day)
    with (
        qtbot.assertNotEmitted(panel.inspection_chosen),
        qtbot.waitSignal(panel.weather.between_asked) as asked,
    ):
        QTest.mouseClick(panel.plot().viewport(), LEFT, pos=at)
    assert asked.args == [inspection]


def test_after_the_last_inspection_there_is_nothing_to_ask(panel: TimelinePanel, qtbot: QtBot) -> None:
    at = point(panel, 28.5)
    with qtbot.assertNotEmitted(panel.weather.between_asked):
        QTest.mouseClick(panel.plot().viewport(), LEFT, pos=at)


def test_the_button_asks_for_the_inspection_in_view(
    panel: TimelinePanel, graded_board: Session, qtbot: QtBot
) -> None:
    graded_board.selection.look_at(3)
    with qtbot.waitSignal(panel.weather.between_asked) as asked:
        QTest.mouseClick(panel.weather.line.ask, LEFT)
    assert asked.args == [3]


def test_marks_of_the_board_stand_out_always_and_a_coupons_when_it_is_chosen(
    panel: TimelinePanel, graded_board: Session
) -> None:
    def strong() -> list[bool]:
        content = panel.plot().lane().content()
        assert content is not None
        return [each.strong for each in content.marks]

    assert strong() == [False, True]
    graded_board.selection.choose({3})
    assert strong() == [True, True]
    graded_board.selection.choose({4})
    assert strong() == [False, True]


def test_marks_that_would_cover_each_other_are_one_with_their_number(
    panel: TimelinePanel, graded_board: Session
) -> None:
    for hours in range(5):
        graded_board.do(note_disturbance, Disturbance(START + timedelta(days=20, hours=hours), "touched", 4))
    drawing = panel.plot().lane().painter_for()
    assert drawing is not None
    assert [each.text for each in drawing.groups()] == ["D", "6"]
    point(panel, 20.0)
    assert "and 2 more" in panel.weather.said()


def test_the_weather_is_said_too(panel: TimelinePanel) -> None:
    said = panel.accessibleDescription()
    assert "day 0 to 28: 36 mm, wet 72 h, 2 to 14 °C" in said
    assert "whole board: board moved" in said


def test_the_time_before_the_first_inspection_is_in_view_with_the_weather(
    opened: Opened, graded_board: Session
) -> None:
    graded_board.do(edit_board, replace(graded_board.record.board, started=START - timedelta(days=20)))
    panel = opened(graded_board)
    assert panel.plot().days_in_view().low > 19
    add_weather(graded_board)
    for _ in range(5):
        QApplication.processEvents()
    assert panel.plot().days_in_view().low <= 0
    point(panel, 3.2)
    assert panel.weather.said() == "day 3 to 4: rain not known, wetness not known"


@pytest.mark.parametrize("name", list(SCHEMES))
@pytest.mark.parametrize("size", [(280, 420), (460, 640), (900, 1000)])
def test_the_lane_is_drawn_in_every_scheme_and_size(panel: TimelinePanel, name: str, size: tuple[int, int]) -> None:
    panel.set_scheme(SCHEMES[name])
    panel.resize(*size)
    QApplication.processEvents()
    image = panel.plot().viewport().grab().toImage()
    area = panel.plot().lane_area().toRect()
    inks = {
        image.pixelColor(x, y).name()
        for x in range(area.left(), area.right(), 2)
        for y in range(area.top(), area.bottom())
    }
    assert len(inks) > 4


def test_in_a_low_window_the_lines_keep_their_room_and_it_is_said_why(panel: TimelinePanel) -> None:
    panel.resize(386, 313)
    QApplication.processEvents()
    assert panel.plot().lane_area().height() == 0
    assert panel.weather.said().startswith("There is no room here for the weather")


# ---- the clocks


def test_the_axis_counts_wet_hours(panel: TimelinePanel) -> None:
    choose(panel, "Wet hours")
    plot = panel.plot()
    x = [plot.place_of(number, 5).x() for number in range(4)]
    assert x[0] == pytest.approx(x[1], abs=1), "it was dry until the second inspection"
    assert x[1] + 100 < x[2]
    assert x[2] == pytest.approx(x[3], abs=1)
    assert title(panel) == "wet hours"
    assert "hours in which the surface was wet" in panel.weather.words.text()
    assert panel.weather.words.isVisible()


def test_the_readout_says_where_an_inspection_lies_on_the_clock(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.choose({3})
    graded_board.selection.look_at(3)
    choose(panel, "Wet hours")
    assert "72 wet hours, day 14" in panel.readout_text()
    choose(panel, "Rain, mm")
    assert "36 mm of rain, day 14" in panel.readout_text()
    choose(panel, "Control clock")
    assert "controls down by 1, day 14" in panel.readout_text()
    choose(panel, "Days")
    assert panel.readout_text().splitlines()[0].endswith("day 14")
    assert not panel.weather.words.isVisible()


def test_the_title_says_how_much_is_known(opened: Opened, graded_board: Session) -> None:
    add_weather(graded_board, until=14.1)
    panel = opened(graded_board)
    choose(panel, "Wet hours")
    assert title(panel) == "wet hours (known 50 % of the time)"
    assert "not counted" in panel.weather.words.text()


def test_what_cannot_be_counted_cannot_be_chosen_and_says_why(opened: Opened, graded_board: Session) -> None:
    panel = opened(graded_board)
    for name in ("Wet hours", "Rain, mm"):
        assert not axis_button(panel, name).isEnabled()
        assert "No weather is known yet" in axis_button(panel, name).toolTip()
    assert "No control was graded yet" in axis_button(panel, "Control clock").toolTip()
    assert axis_button(panel, "Days").isEnabled()


def test_when_the_weather_goes_the_axis_counts_days_again(panel: TimelinePanel, graded_board: Session) -> None:
    choose(panel, "Rain, mm")
    graded_board.do(remove_weather_file, 1)
    for _ in range(5):
        QApplication.processEvents()
    assert title(panel) == "days of exposure"
    assert axis_button(panel, "Days").isChecked()


def test_where_the_clock_stood_still_the_height_says_which_inspection_is_meant(
    panel: TimelinePanel, graded_board: Session, qtbot: QtBot
) -> None:
    graded_board.selection.choose({3})
    choose(panel, "Wet hours")
    view = panel.plot().viewport()
    for number, grade in ((2, 6), (3, 3)):  # both at 72 wet hours
        with qtbot.waitSignal(panel.inspection_chosen) as asked:
            QTest.mouseClick(view, LEFT, pos=panel.plot().place_of(number, grade).toPoint())
        assert asked.args == [number + 1]


def test_arrow_keys_go_from_inspection_to_inspection_on_every_clock(
    panel: TimelinePanel, graded_board: Session, qtbot: QtBot
) -> None:
    choose(panel, "Wet hours")
    graded_board.selection.look_at(4)
    for expected in (3, 2, 1):
        with qtbot.waitSignal(panel.inspection_chosen) as asked:
            QTest.keyClick(panel.plot(), Qt.Key.Key_Left)
        assert asked.args == [expected]
        graded_board.selection.look_at(expected)


@pytest.mark.parametrize("name", ["Wet hours", "Rain, mm", "Control clock"])
def test_another_clock_shows_everything_and_zooms_like_days(panel: TimelinePanel, name: str) -> None:
    panel.plot().zoom(3)
    choose(panel, name)
    assert panel.plot().days_in_view().is_whole
    panel.plot().zoom(2)
    assert not panel.plot().days_in_view().is_whole
    panel.plot().show_all_days()
    assert panel.plot().days_in_view().is_whole


def test_the_clock_of_the_controls_is_numbered_in_parts_of_grades(panel: TimelinePanel) -> None:
    choose(panel, "Control clock")
    assert title(panel) == "grades lost by the controls"
    assert panel.plot().days_in_view().shortest < 1


def test_the_keyboard_reaches_every_clock(panel: TimelinePanel) -> None:
    axis_button(panel, "Days").setFocus()
    for name in ("Wet hours", "Rain, mm", "Control clock"):
        QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Right)
        assert axis_button(panel, name).isChecked()


def test_what_is_told_is_not_cut_off_when_the_colours_bring_a_larger_font(
    opened: Opened, graded_board: Session, qapp: QApplication
) -> None:
    apply_scheme(qapp, LIGHT)
    add_weather(graded_board)
    words = opened(graded_board).weather.line.words
    before = words.height()
    apply_scheme(qapp, SCHEMES["sunlight"])
    for _ in range(3):
        QApplication.processEvents()
    assert words.height() > before
    assert words.heightForWidth(words.width()) <= words.height()
    apply_scheme(qapp, LIGHT)
