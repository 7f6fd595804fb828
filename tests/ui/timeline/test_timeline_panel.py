"""The timeline in a window, driven by mouse and keys."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import datetime

import pytest
from PySide6.QtCore import QEvent, QLocale, QPoint, QPointF, Qt
from PySide6.QtGui import QColor, QImage, QKeyEvent, QPointingDevice, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QToolButton
from pytestqt.qtbot import QtBot

from rustboard.board.model import Coupon, Inspection
from rustboard.operations.coupons import add_coupon, remove_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection, remove_inspection
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.summary import Summary
from rustboard.ui.theme import SCHEMES
from rustboard.ui.timeline.axes import DayAxis
from rustboard.ui.timeline.header import TimelineHeader
from rustboard.ui.timeline.panel import TimelinePanel
from rustboard.ui.timeline.readout import Readout

LIGHT = SCHEMES["light"]
LEFT = Qt.MouseButton.LeftButton

# What the platform without a screen says of every window that has a least size.
pytestmark = pytest.mark.qt_log_ignore("This plugin does not support propagateSizeHints")


@pytest.fixture
def opened(qtbot: QtBot) -> Iterator[Callable[[Session], TimelinePanel]]:
    """Opens the timeline of a board as the window does: it tells of changes and of the selection."""
    panels: list[TimelinePanel] = []

    def open_panel(session: Session) -> TimelinePanel:
        panel = TimelinePanel(session, LIGHT)
        session.feed.subscribe(panel.apply)
        session.selection.subscribe(panel.selection_changed)
        qtbot.addWidget(panel)
        panel.resize(420, 560)
        panel.show()
        qtbot.waitExposed(panel)
        panels.append(panel)
        return panel

    yield open_panel
    for panel in panels:
        panel.close()


@pytest.fixture
def panel(opened: Callable[[Session], TimelinePanel], graded_board: Session) -> TimelinePanel:
    return opened(graded_board)


@pytest.fixture(scope="module")
def touch_screen(qapp: QApplication) -> QPointingDevice:
    return QTest.createTouchDevice()


def at(panel: TimelinePanel, inspection: int, grade: float) -> QPoint:
    return panel.plot().place_of(inspection, grade).toPoint()


def move(panel: TimelinePanel, place: QPoint) -> None:
    # Twice: the first move of a pointer that is there already is not told by every platform.
    QTest.mouseMove(panel.plot().viewport(), place + QPoint(1, 0))
    QTest.mouseMove(panel.plot().viewport(), place)


def drag(panel: TimelinePanel, start: QPoint, px: int) -> None:
    view = panel.plot().viewport()
    QTest.mousePress(view, LEFT, pos=start)
    for part in (0.3, 0.6, 1.0):
        QTest.mouseMove(view, start + QPoint(round(px * part), 0))
    QTest.mouseRelease(view, LEFT, pos=start + QPoint(px, 0))


def turn_wheel(panel: TimelinePanel, place: QPoint, turned: QPoint) -> None:
    view = panel.plot().viewport()
    none = Qt.MouseButton.NoButton
    here = QPointF(place)
    event = QWheelEvent(
        here, view.mapToGlobal(here), QPoint(), turned, none, Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase, False,
    )  # fmt: skip
    QApplication.sendEvent(view, event)


def button(panel: TimelinePanel, text: str) -> QToolButton:
    return next(each for each in panel.findChildren(QToolButton) if each.text() == text)


def picture(panel: TimelinePanel) -> QImage:
    return panel.plot().viewport().grab().toImage()


def has_colour(image: QImage, x: int, y: int, colour: str, reach: int = 2) -> bool:
    """Whether a colour is found within ``reach`` px of a place."""
    near = range(-reach, reach + 1)
    return any(image.pixelColor(x + dx, y + dy) == QColor(colour) for dx in near for dy in near)


def test_clicking_near_an_inspection_asks_for_it(panel: TimelinePanel, qtbot: QtBot) -> None:
    with qtbot.waitSignal(panel.inspection_chosen) as asked:
        QTest.mouseClick(panel.plot().viewport(), LEFT, pos=at(panel, 2, 6) + QPoint(7, 0))
    assert asked.args == [3]


def test_a_tap_on_a_touch_screen_is_a_click(
    panel: TimelinePanel, touch_screen: QPointingDevice, qtbot: QtBot
) -> None:
    view, place = panel.plot().viewport(), at(panel, 1, 9)
    with qtbot.waitSignal(panel.inspection_chosen) as asked:
        touch = QTest.touchEvent(view, touch_screen)
        touch.press(0, place, view)
        touch.commit()
        qtbot.wait(20)  # the platform makes a mouse of the finger when its events come round
        touch = QTest.touchEvent(view, touch_screen)
        touch.release(0, place, view)
        touch.commit()
    assert asked.args == [2]


def test_dragging_pans_the_days_and_chooses_nothing(panel: TimelinePanel, qtbot: QtBot) -> None:
    panel.plot().zoom(3)
    before = panel.plot().days_in_view()
    with qtbot.assertNotEmitted(panel.inspection_chosen):
        drag(panel, at(panel, 2, 5), -60)
    after = panel.plot().days_in_view()
    assert after.low > before.low
    assert after.high - after.low == pytest.approx(before.high - before.low)


def test_the_day_under_the_pointer_follows_a_drag(panel: TimelinePanel) -> None:
    panel.plot().zoom(4)
    start = panel.plot().place_of(2, 5).x()
    drag(panel, at(panel, 2, 5), 25)
    assert panel.plot().place_of(2, 5).x() == pytest.approx(start + 25, abs=1.0)


def test_the_wheel_zooms_the_days_around_the_pointer_and_leaves_the_grades(panel: TimelinePanel) -> None:
    place = at(panel, 1, 5)
    before = panel.plot().place_of(1, 5)
    turn_wheel(panel, place, QPoint(0, 360))
    assert not panel.plot().days_in_view().is_whole
    after = panel.plot().place_of(1, 5)
    assert after.x() == pytest.approx(before.x(), abs=1.0)
    assert after.y() == before.y()


def test_a_tilted_wheel_moves_along_the_days(panel: TimelinePanel) -> None:
    panel.plot().zoom(4)
    before = panel.plot().days_in_view()
    turn_wheel(panel, at(panel, 1, 5), QPoint(-120, 0))
    assert panel.plot().days_in_view().low > before.low


def test_a_double_click_shows_all_days_again(panel: TimelinePanel) -> None:
    panel.plot().zoom(4)
    QTest.mouseDClick(panel.plot().viewport(), LEFT, pos=QPoint(200, 200))
    assert panel.plot().days_in_view().is_whole


def test_the_buttons_zoom_and_offer_only_what_can_be_done(panel: TimelinePanel) -> None:
    assert not button(panel, "All days").isEnabled()
    QTest.mouseClick(button(panel, "+"), LEFT)
    assert not panel.plot().days_in_view().is_whole
    assert button(panel, "−").isEnabled()
    QTest.mouseClick(button(panel, "All days"), LEFT)
    assert panel.plot().days_in_view().is_whole
    assert not button(panel, "−").isEnabled()


@pytest.mark.parametrize(
    ("in_view", "key", "asked"),
    [
        (2, Qt.Key.Key_Right, [3]),
        (2, Qt.Key.Key_Left, [1]),
        (1, Qt.Key.Key_Left, []),
        (4, Qt.Key.Key_Right, []),
        (None, Qt.Key.Key_Left, [4]),
    ],
)
def test_arrow_keys_go_from_inspection_to_inspection(
    panel: TimelinePanel, graded_board: Session, in_view: int | None, key: Qt.Key, asked: list[int]
) -> None:
    heard: list[int] = []
    panel.inspection_chosen.connect(heard.append)
    graded_board.selection.look_at(in_view)
    QTest.keyClick(panel.plot(), key)
    assert heard == asked


def test_plus_minus_and_home_change_the_days_in_view(panel: TimelinePanel) -> None:
    QTest.keyClick(panel.plot(), Qt.Key.Key_Plus)
    QTest.keyClick(panel.plot(), Qt.Key.Key_Plus)
    close = panel.plot().days_in_view()
    QTest.keyClick(panel.plot(), Qt.Key.Key_Minus)
    assert panel.plot().days_in_view().high > close.high
    QTest.keyClick(panel.plot(), Qt.Key.Key_Home)
    assert panel.plot().days_in_view().is_whole


def test_other_keys_are_left_to_the_window(panel: TimelinePanel) -> None:
    event = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_G, Qt.KeyboardModifier.NoModifier, "g")
    QApplication.sendEvent(panel.plot(), event)
    assert not event.isAccepted()


def test_the_keyboard_reaches_the_plot_and_is_seen_there(panel: TimelinePanel, qtbot: QtBot) -> None:
    panel.activateWindow()
    panel.plot().setFocus(Qt.FocusReason.TabFocusReason)
    qtbot.waitUntil(panel.plot().hasFocus)
    assert has_colour(picture(panel), 100, 1, LIGHT.accent, reach=1)
    panel.plot().clearFocus()
    assert not has_colour(picture(panel), 100, 1, LIGHT.accent, reach=1)


def test_pointing_at_an_inspection_reads_out_every_line_then(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.choose({1, 2})
    move(panel, at(panel, 2, 4))
    assert panel.readout_text().splitlines()[1:] == [
        "A1 · C01 · beeswax blend: 9-S",
        "A2 · C02 · beeswax blend: not graded",
    ]
    assert "day 14" in panel.readout_text()
    move(panel, at(panel, 3, 4))
    assert "A2 · C02 · beeswax blend: 7-S" in panel.readout_text()


def test_without_the_pointer_the_inspection_in_view_is_read_out(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.look_at(2)
    assert "day 7" in panel.readout_text()
    move(panel, at(panel, 0, 4))
    assert "day 0" in panel.readout_text()
    QApplication.sendEvent(panel.plot(), QEvent(QEvent.Type.Leave))
    assert "day 7" in panel.readout_text()


def test_ten_is_at_the_top_and_days_run_to_the_right(panel: TimelinePanel) -> None:
    assert panel.plot().place_of(0, 10).y() < panel.plot().place_of(0, 0).y()
    assert panel.plot().place_of(0, 10).x() < panel.plot().place_of(3, 10).x()


def test_a_line_is_drawn_between_graded_inspections_and_not_through_a_missed_one(
    panel: TimelinePanel, graded_board: Session
) -> None:
    graded_board.selection.choose({2})  # 10, 9, not graded, 7
    image = picture(panel)
    ink = LIGHT.series[0]
    first, second, third, fourth = (panel.plot().place_of(number, 9) for number in range(4))
    ten = panel.plot().place_of(0, 10).y()
    assert has_colour(image, round((first.x() + second.x()) / 2), round(ten), ink)
    middle = [(second.x() + third.x()) / 2, third.x(), (third.x() + fourth.x()) / 2]
    columns = [round(x) for x in middle]
    rows = range(round(ten), round(panel.plot().place_of(0, 0).y()))
    assert not [x for x in columns for y in rows if image.pixelColor(x, y) == QColor(ink)]
    assert has_colour(image, round(fourth.x()), round(panel.plot().place_of(3, 7).y()), ink)


def test_the_band_of_a_treatment_reaches_from_its_lowest_to_its_highest_coupon(
    panel: TimelinePanel, graded_board: Session
) -> None:
    graded_board.selection.choose({3})
    QTest.mouseClick(button(panel, "Treatments"), LEFT)
    image = picture(panel)
    x = round((panel.plot().place_of(2, 0).x() + panel.plot().place_of(3, 0).x()) / 2)
    ground = QColor(LIGHT.base)
    inside = round(panel.plot().place_of(2, 6.25).y())  # between the lowest and highest then, 6 and 7
    outside = round(panel.plot().place_of(2, 7.6).y())
    assert image.pixelColor(x, inside) != ground
    assert image.pixelColor(x, outside) == ground


def test_lines_carry_their_names_at_their_ends_without_overlap(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.choose({1, 2, 3, 4})
    labels = dict(panel.plot().labels())
    assert list(labels) == ["C01", "C02", "C03", "C04"]
    assert labels["C01"] < labels["C02"] < labels["C04"] < labels["C03"]


def test_a_new_grade_is_drawn_at_once(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.choose({3})
    graded_board.selection.look_at(4)
    assert ": 3-S" in panel.readout_text()
    graded_board.do(grade_coupon, GivenGrade(3, 4, 1, "G"))
    assert ": 1-G" in panel.readout_text()
    graded_board.undo()
    assert ": 3-S" in panel.readout_text()


def test_a_hidden_panel_catches_up_when_it_is_shown(panel: TimelinePanel, graded_board: Session) -> None:
    panel.hide()
    graded_board.selection.choose({3})
    graded_board.do(grade_coupon, GivenGrade(3, 4, 1, "G"))
    assert panel.title() == "All 2 treatments, medians"
    panel.show()
    assert panel.title() == "B1 · C03 · linseed oil"
    assert ": 1-G" in panel.readout_text()


def test_an_inspection_looked_at_while_the_panel_was_hidden_is_marked_when_it_is_shown(
    panel: TimelinePanel, graded_board: Session
) -> None:
    panel.hide()
    graded_board.selection.look_at(2)
    panel.show()
    assert "day 7" in panel.readout_text()


def test_a_new_inspection_is_in_view_and_the_zoom_of_the_user_stays(
    panel: TimelinePanel, graded_board: Session
) -> None:
    panel.plot().zoom(3)
    before = panel.plot().days_in_view()
    graded_board.do(add_inspection, Inspection(datetime(2026, 5, 11, 9)))
    after = panel.plot().days_in_view()
    assert (after.low, after.high) == pytest.approx((before.low, before.high))
    assert after.last > before.last


def test_an_inspection_out_of_view_is_brought_into_view(panel: TimelinePanel, graded_board: Session) -> None:
    for _ in range(4):
        QTest.keyClick(panel.plot(), Qt.Key.Key_Plus)
    assert panel.plot().days_in_view().high < 28
    graded_board.selection.look_at(4)
    assert panel.plot().days_in_view().low < 28 < panel.plot().days_in_view().high


def test_an_ungraded_board_says_so_instead_of_drawing(
    opened: Callable[[Session], TimelinePanel], empty_board: Session, add_coupons: Callable[[], None]
) -> None:
    panel = opened(empty_board)
    assert "no coupons" in panel.empty_text()
    add_coupons()
    assert "No inspections yet" in panel.empty_text()
    assert not panel.plot().isVisible()


def test_what_is_drawn_is_also_said(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.choose({4})
    assert "C04: 10 on day 0, 9 on day 7, 7 on day 14, 5 on day 28." in panel.plot().accessibleDescription()


@pytest.mark.parametrize("name", ["dark", "sunlight", "light"])
def test_the_lines_take_on_the_inks_of_the_scheme(panel: TimelinePanel, graded_board: Session, name: str) -> None:
    graded_board.selection.choose({1})
    panel.set_scheme(SCHEMES[name])
    image = picture(panel)
    place = panel.plot().place_of(3, 9).toPoint()
    assert has_colour(image, place.x(), place.y(), SCHEMES[name].series[0])
    assert image.pixelColor(image.width() - 2, image.height() - 2) == QColor(SCHEMES[name].base)


@pytest.mark.parametrize(("width", "height"), [(280, 300), (520, 700), (420, 200)])
def test_the_panel_can_be_small_or_large(panel: TimelinePanel, width: int, height: int) -> None:
    panel.resize(width, height)
    QApplication.processEvents()
    assert panel.plot().height() >= 100
    assert panel.minimumSizeHint().width() <= 280
    assert len(panel.readout_text().splitlines()) == 3


def test_a_change_that_touches_no_history_reads_nothing(panel: TimelinePanel, graded_board: Session) -> None:
    before = panel.plot().accessibleDescription()
    graded_board.record.current.clear()
    panel.apply(ChangeSet({"photo": frozenset({1})}, frozenset(), Summary("Add a photo")))
    assert panel.plot().accessibleDescription() == before


@pytest.fixture
def newest(graded_board: Session) -> int:
    """The key of one more inspection, on day 35 and without grades; nothing was done after it."""
    (key,) = graded_board.do(add_inspection, Inspection(datetime(2026, 4, 6, 9))).tables["inspection"]
    return key


def remove(session: Session, key: int) -> None:
    session.do(remove_inspection, key)


def undo(session: Session, key: int) -> None:
    session.undo()
    assert key not in session.record.inspections


@pytest.mark.parametrize("vanish", [remove, undo])
@pytest.mark.parametrize("told_first", ["change", "selection"])
def test_an_inspection_in_view_and_under_the_pointer_may_vanish(
    graded_board: Session, newest: int, qtbot: QtBot, vanish: Callable[[Session, int], None], told_first: str
) -> None:
    panel = TimelinePanel(graded_board, LIGHT)
    qtbot.addWidget(panel)
    panel.resize(420, 560)

    def tell(changes: ChangeSet) -> None:
        if told_first == "selection":
            panel.selection_changed()
            move(panel, at(panel, 4, 3))
        panel.apply(changes)

    panel.show()
    qtbot.waitExposed(panel)
    graded_board.selection.look_at(newest)
    panel.selection_changed()
    move(panel, at(panel, 4, 4))
    assert "day 35" in panel.readout_text()
    graded_board.feed.subscribe(tell)
    vanish(graded_board, newest)
    panel.selection_changed()
    assert "day 28" in panel.readout_text()
    assert panel.plot().days_in_view().last < 35


def test_an_inspection_that_is_gone_is_never_asked_for(
    panel: TimelinePanel, graded_board: Session, newest: int
) -> None:
    heard: list[int] = []
    panel.inspection_chosen.connect(heard.append)
    del graded_board.record.inspections[newest]  # as a listener finds it that is told before this panel
    QTest.mouseClick(panel.plot().viewport(), LEFT, pos=at(panel, 4, 5))
    graded_board.selection.look_at(4)
    QTest.keyClick(panel.plot(), Qt.Key.Key_Right)
    graded_board.selection.look_at(newest)
    assert heard == []
    assert "day 28" in panel.readout_text()


def test_every_inspection_may_be_undone_under_the_pointer_and_done_again(
    panel: TimelinePanel, graded_board: Session
) -> None:
    graded_board.selection.look_at(4)
    move(panel, at(panel, 3, 4))
    while graded_board.record.inspections:
        graded_board.undo()
    assert "No inspections yet" in panel.empty_text()
    graded_board.redo()
    graded_board.redo()
    assert "day 0" in panel.readout_text()


def test_after_a_change_the_readout_is_of_what_the_pointer_is_on_now(
    panel: TimelinePanel, graded_board: Session
) -> None:
    move(panel, at(panel, 1, 4))
    assert "day 7" in panel.readout_text()
    graded_board.do(grade_coupon, GivenGrade(3, 4, 1, "G"))
    assert "day 7" in panel.readout_text()


def test_a_board_read_again_because_of_another_window_is_drawn_anew(
    opened: Callable[[Session], TimelinePanel], graded_board: Session, newest: int
) -> None:
    looking_on = Session(graded_board.folder, read_only=True)
    try:
        panel = opened(looking_on)
        looking_on.selection.look_at(newest)
        move(panel, at(panel, 4, 4))
        graded_board.do(grade_coupon, GivenGrade(3, 4, 2, "G"))
        graded_board.do(remove_inspection, newest)
        assert looking_on.look_for_outside_changes()
        assert "day 28" in panel.readout_text()
        assert "linseed oil: median 3.5" in panel.readout_text()
    finally:
        looking_on.close()


def day_numbers(panel: TimelinePanel) -> list[str]:
    axis = next(each for each in panel.plot().items() if isinstance(each, DayAxis))
    days = panel.plot().days_in_view()
    ticks = axis.tickValues(days.low, days.high, axis.size().width())
    return [text for spacing, values in ticks for text in axis.tickStrings(list(values), 1.0, spacing)]


def test_a_single_inspection_is_drawn_over_whole_days(
    opened: Callable[[Session], TimelinePanel], empty_board: Session, add_coupons: Callable[[], None]
) -> None:
    add_coupons()
    empty_board.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))
    empty_board.do(grade_coupon, GivenGrade(1, 1, 10))
    panel = opened(empty_board)
    assert (panel.plot().days_in_view().low, panel.plot().days_in_view().high) == (-0.5, 1.5)
    assert day_numbers(panel) == ["0", "1"]


def test_days_are_counted_in_days_however_many_there_are(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.do(add_inspection, Inspection(datetime(2036, 3, 2, 9)))
    axis = next(each for each in panel.plot().items() if isinstance(each, DayAxis))
    assert axis.labelString().count("days of exposure") == 1
    assert "x" not in axis.labelString().split("days of exposure")[1].split("<")[0]
    assert max(QLocale().toDouble(each)[0] for each in day_numbers(panel)) > 1000


def lit(panel: TimelinePanel) -> list[str]:
    """What is drawn, by the buttons in the header; those of the axis are another choice."""
    header = panel.findChild(TimelineHeader)
    return [each.accessibleName() for each in header.findChildren(QToolButton) if each.isChecked()]


def test_the_lit_button_says_what_is_drawn(panel: TimelinePanel, graded_board: Session) -> None:
    assert lit(panel) == ["All treatments"]
    graded_board.selection.choose({3})
    assert lit(panel) == ["Coupons"]
    QTest.mouseClick(button(panel, "Treatments"), LEFT)
    assert lit(panel) == ["Treatments"]
    graded_board.selection.choose(())
    assert (lit(panel), panel.title()) == (["All treatments"], "All 2 treatments, medians")
    graded_board.selection.choose({1})
    assert (lit(panel), panel.title()) == (["Treatments"], "beeswax blend, median")


def test_all_treatments_stay_drawn_whatever_is_chosen_until_the_user_asks_for_the_chosen(
    panel: TimelinePanel, graded_board: Session
) -> None:
    graded_board.selection.choose({3})
    QTest.mouseClick(button(panel, "All treatments"), LEFT)
    assert panel.title() == "All 2 treatments, medians"
    graded_board.selection.choose({1, 2})
    assert (lit(panel), panel.title()) == (["All treatments"], "All 2 treatments, medians")
    QTest.mouseClick(button(panel, "Coupons"), LEFT)
    assert (lit(panel), panel.title()) == (["Coupons"], "2 coupons")


def test_the_chosen_cannot_be_asked_for_while_nothing_is_chosen_and_the_button_says_so(
    panel: TimelinePanel, graded_board: Session
) -> None:
    for text in ("Coupons", "Treatments"):
        assert not button(panel, text).isEnabled()
        assert "Choose coupons on the board" in button(panel, text).toolTip()
    graded_board.selection.choose({3})
    for text in ("Coupons", "Treatments"):
        assert button(panel, text).isEnabled()
        assert "Choose coupons on the board" not in button(panel, text).toolTip()
    graded_board.do(add_coupon, Coupon("C05"))
    graded_board.selection.choose({5})
    graded_board.do(remove_coupon, 5)
    assert not button(panel, "Coupons").isEnabled()


def test_the_keyboard_goes_from_choice_to_choice(panel: TimelinePanel, graded_board: Session) -> None:
    graded_board.selection.choose({3})
    button(panel, "Coupons").setFocus()
    QTest.keyClick(button(panel, "Coupons"), Qt.Key.Key_Right)
    assert lit(panel) == ["Treatments"]
    QTest.keyClick(button(panel, "Treatments"), Qt.Key.Key_Right)
    assert (lit(panel), panel.title()) == (["All treatments"], "All 2 treatments, medians")


@pytest.mark.parametrize("name", ["light", "dark", "sunlight"])
def test_the_lit_button_stands_out_in_every_scheme(panel: TimelinePanel, graded_board: Session, name: str) -> None:
    panel.set_scheme(SCHEMES[name])
    graded_board.selection.choose({3})
    lit_up, other = (button(panel, text).grab().toImage() for text in ("Coupons", "Treatments"))
    assert has_colour(lit_up, 4, lit_up.height() // 2, SCHEMES[name].accent)
    assert not has_colour(other, 4, other.height() // 2, SCHEMES[name].accent)


@pytest.mark.parametrize("name", ["light", "sunlight"])
def test_no_button_is_cut_off_in_the_narrowest_panel(panel: TimelinePanel, name: str) -> None:
    panel.setStyleSheet(f"QWidget {{ font-size: {13 * SCHEMES[name].font_scale}px }}")
    panel.resize(280, 560)
    QApplication.processEvents()
    shown = [each for each in panel.findChildren(QToolButton) if each.isVisible()]
    assert len(shown) >= 10
    for each in shown:
        assert each.fontMetrics().horizontalAdvance(each.text()) + 4 <= each.width(), each.text()
        assert each.geometry().right() < 280
    panel.resize(520, 560)
    QApplication.processEvents()
    assert button(panel, "All treatments").isVisible()


def test_medians_are_called_medians_where_they_are_read(panel: TimelinePanel, graded_board: Session) -> None:
    move(panel, at(panel, 1, 4))
    assert panel.readout_text().startswith("Medians on day 7 · ")
    assert "linseed oil: median 8.5, lowest 8, highest 9, coupons graded: 2" in panel.readout_text()
    readout = panel.findChild(Readout)
    assert readout is not None
    assert "median" in readout.toolTip()
    graded_board.selection.choose({3})
    assert "median" not in panel.readout_text()
    assert readout.toolTip() == ""


def test_a_median_of_fewer_coupons_than_the_treatment_has_is_drawn_hollow(
    panel: TimelinePanel, graded_board: Session
) -> None:
    image, ink = picture(panel), LIGHT.series[0]
    whole, partial = (panel.plot().place_of(number, grade).toPoint() for number, grade in ((1, 9.5), (2, 9)))
    assert has_colour(image, whole.x(), whole.y(), ink, reach=0)
    assert not has_colour(image, partial.x(), partial.y(), ink, reach=1)
    assert has_colour(image, partial.x(), partial.y(), ink, reach=5)
    move(panel, at(panel, 2, 4))
    assert "beeswax blend: median 9, coupons graded: 1 of 2" in panel.readout_text()
