"""A percent chosen by eye: slider, field, keys, its live picture, and the grade that follows."""

from __future__ import annotations

import numpy as np
import pytest
from later import Later
from PySide6.QtCore import QPoint, QPointF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QImage, QPointingDevice, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from window_driving import settle

from rustboard.scales.percent_scale import percent_at, place_of
from rustboard.session.jobs import InlineExecutor
from rustboard.session.pictures import GuideRequest
from rustboard.ui.bridge import JobBridge
from rustboard.ui.percent.pair import shrunk
from rustboard.ui.percent.picker import PercentPicker
from rustboard.ui.percent.slider import PLACES
from rustboard.ui.theme import LIGHT, MM_PER_INCH

KEY = Qt.Key
PLATE = ((0.0, 0.0), (60.0, 0.0), (60.0, 120.0), (0.0, 120.0))
OTHER_PLATE = ((0.0, 0.0), (120.0, 0.0), (120.0, 60.0), (0.0, 60.0))


def asked(pattern: str = "S", outline=PLATE) -> GuideRequest:
    return GuideRequest(pattern, "middle", 0, None, outline, 0.0)


@pytest.fixture(scope="session")
def touch_screen(qapp) -> QPointingDevice:
    return QTest.createTouchDevice(QPointingDevice.DeviceType.TouchScreen)


def shown(qtbot, executor) -> PercentPicker:
    bridge = JobBridge(None, executor)
    picker = PercentPicker(bridge, LIGHT)
    bridge.setParent(picker)
    qtbot.addWidget(picker)
    picker.resize(1000, 400)
    picker.show()
    picker.given_percents = []
    picker.given.connect(picker.given_percents.append)
    return picker


@pytest.fixture
def picker(qapp, qtbot) -> PercentPicker:
    found = shown(qtbot, InlineExecutor())
    found.ask_for(asked())
    settle()
    return found


def press(picker: PercentPicker, *keys) -> None:
    for key in keys:
        QTest.keyClick(picker, key)
    settle()


def button(picker: PercentPicker, name: str) -> QPushButton:
    return next(each for each in picker.findChildren(QPushButton) if each.accessibleName().startswith(name))


def rusted_share(picker: PercentPicker) -> float:
    """Return the share of the picture that is redder than steel."""
    image = picker.pair.image().convertToFormat(QImage.Format.Format_RGBA8888)
    rows = np.frombuffer(image.constBits(), np.uint8).reshape(image.height(), image.bytesPerLine())
    pixels = rows[:, : image.width() * 4].reshape(image.height(), image.width(), 4).astype(int)
    there = pixels[..., 3] > 0
    return float(((pixels[..., 0] - pixels[..., 2]) > 20)[there].mean())


# ---- what is chosen


def test_it_begins_at_nothing_which_is_grade_10(picker):
    assert (picker.percent(), picker.grade(), picker.field.text()) == (0.0, 10, "0")


def test_small_steps_and_steps_by_a_grade_by_keys(picker):
    picker.show_percent(1.0)
    press(picker, KEY.Key_Up)
    assert picker.percent() == 1.2
    press(picker, KEY.Key_Down, KEY.Key_Down)
    assert picker.percent() == 0.8
    press(picker, KEY.Key_PageUp)
    assert (picker.grade(), picker.percent()) == (5, 1.7)
    press(picker, KEY.Key_PageDown, KEY.Key_PageDown)
    assert (picker.grade(), picker.percent()) == (7, 0.17)
    press(picker, KEY.Key_End)
    assert (picker.grade(), picker.percent()) == (0, 100.0)
    press(picker, KEY.Key_Home)
    assert (picker.grade(), picker.percent()) == (10, 0.0)


def test_enter_gives_what_is_shown_and_a_key_held_down_gives_once(picker):
    press(picker, KEY.Key_PageUp, KEY.Key_Return)
    assert picker.given_percents == [0.017]
    QTest.simulateEvent(picker, True, KEY.Key_Return, Qt.KeyboardModifier.NoModifier, "", True)
    assert picker.given_percents == [0.017]


@pytest.mark.parametrize(("typed", "percent", "grade"), [
    ("2.5", 2.5, 5), ("0,3", 0.3, 7), ("0.0123", 0.0123, 9), ("33", 33.0, 2), ("0", 0.0, 10), ("7 %", 7.0, 4),
])  # fmt: skip
def test_a_percent_is_typed_with_point_or_comma_and_given_by_enter(picker, typed, percent, grade):
    for letter in typed:
        QTest.keyClicks(QApplication.focusWidget() or picker, letter)
        settle()
    assert (picker.percent(), picker.grade()) == (percent, grade), "followed while typing"
    QTest.keyClick(picker.field, KEY.Key_Return)
    assert picker.given_percents == [percent]


@pytest.mark.parametrize("typed", ["", "abc", "101", "1,234.5", "-3", "1e400"])
def test_what_is_no_percent_is_refused_with_a_sentence_and_nothing_is_given(picker, typed):
    said, away = [], []
    picker.refused.connect(said.append)
    picker.left.connect(lambda: away.append(True))
    picker.show_percent(3.0)
    picker.field.setFocus()
    picker.field.selectAll()
    QTest.keyClick(picker.field, KEY.Key_Delete)
    QTest.keyClicks(picker.field, typed)
    QTest.keyClick(picker.field, KEY.Key_Return)
    assert len(said) == 1
    assert picker.given_percents == []
    assert away == [], "the keyboard stays where the mistake is"


def test_esc_takes_back_what_was_typed(picker):
    away = []
    picker.left.connect(lambda: away.append(True))
    picker.show_percent(3.0)
    picker.field.setFocus()
    picker.field.selectAll()
    QTest.keyClicks(picker.field, "42")
    assert picker.percent() == 42
    QTest.keyClick(picker.field, KEY.Key_Escape)
    assert (picker.percent(), picker.field.text(), away) == (3.0, "3", [True])


def test_what_was_half_typed_goes_when_the_keyboard_leaves_the_field(picker):
    picker.show_percent(3.0)
    picker.field.setFocus()
    picker.field.selectAll()
    QTest.keyClicks(picker.field, "abc")
    picker.slider.setFocus()
    assert picker.field.text() == "3"


def test_the_arrows_work_in_the_field_and_on_the_slider_too(picker):
    picker.show_percent(3.0)
    picker.field.setFocus()
    QTest.keyClick(picker.field, KEY.Key_Up)
    assert (picker.percent(), picker.field.text()) == (4.0, "4")
    picker.slider.setFocus()
    for key in (KEY.Key_Right, KEY.Key_Left, KEY.Key_Left, KEY.Key_Up):
        QTest.keyClick(picker.slider, key)
    assert picker.percent() == 4.0
    QTest.keyClick(picker.slider, KEY.Key_Return)
    assert picker.given_percents == [4.0]


def test_the_slider_follows_the_mouse_and_lands_on_two_digits(picker):
    slider = picker.slider
    left, right = slider._ends()
    at = QPoint(round(left + place_of(0.3) * (right - left)), 10)
    QTest.mousePress(slider, Qt.MouseButton.LeftButton, pos=at)
    assert picker.percent() == pytest.approx(0.3, rel=0.02)
    QTest.mouseMove(slider, QPoint(slider.width() + 50, 10))
    QTest.mouseRelease(slider, Qt.MouseButton.LeftButton, pos=QPoint(slider.width() + 50, 10))
    assert picker.percent() == 100
    QTest.mouseClick(slider, Qt.MouseButton.LeftButton, pos=QPoint(0, 10))
    assert picker.percent() == 0


def test_every_place_of_the_slider_shows_the_percent_it_stands_for(picker):
    for place in range(0, PLACES + 1, 97):
        picker.slider.setValue(place)
        assert picker.percent() == percent_at(place / PLACES)


def test_a_finger_moves_the_slider_and_presses_the_buttons(picker, touch_screen):
    picker.resize(760, 400)  # Qt drops touches beside the screen
    settle()
    touches = [(picker.slider, QPoint(0, 10)), (picker.slider, picker.slider.rect().center())]
    touches += [(each, each.rect().center()) for each in (button(picker, "More rust"), button(picker, "Give"))]
    found = []
    for there, at in touches:
        QTest.touchEvent(there, touch_screen).press(1, at, there)
        QTest.touchEvent(there, touch_screen).release(1, at, there)
        settle()
        found.append(picker.percent())
    assert found[0] == 0
    assert 0 < found[1] < found[2]
    assert picker.given_percents == [found[2]]


def test_the_wheel_goes_by_small_steps(picker):
    picker.show_percent(1.0)
    centre = QPointF(picker.slider.rect().center())
    for turn in (120, 120, -120):
        event = QWheelEvent(
            centre, picker.slider.mapToGlobal(centre), QPoint(), QPoint(0, turn), Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier, Qt.ScrollPhase.NoScrollPhase, False,
        )  # fmt: skip
        QApplication.sendEvent(picker.slider, event)
    assert picker.percent() == 1.2


def test_a_grade_given_before_begins_at_its_middle(picker):
    picker.show_grade(7)
    assert (picker.percent(), picker.grade()) == (0.17, 7)


def test_where_nothing_may_be_given_nothing_is(picker):
    picker.allow_giving(False)
    press(picker, KEY.Key_PageUp, KEY.Key_Return)
    QTest.mouseClick(button(picker, "Give"), Qt.MouseButton.LeftButton)
    assert picker.given_percents == []
    assert picker.percent() > 0, "one may look"


# ---- its picture


def test_the_picture_has_the_chosen_share_rusted(picker):
    # Every px of the screen is the mean of several; those on the rim of a spot are partly rust, hence the tolerance.
    for percent in (1.0, 10.0, 30.0, 60.0, 100.0):
        picker.show_percent(percent)
        assert rusted_share(picker) == pytest.approx(percent / 100, abs=0.05)
    picker.show_percent(0.0)
    assert rusted_share(picker) == 0


def test_moving_the_slider_repaints_at_once_without_another_job(qtbot, qapp):
    later = Later()
    picker = shown(qtbot, later)
    picker.ask_for(asked())
    later.run()
    shares = []
    for percent in (1.0, 20.0, 90.0):
        picker.slider.setValue(round(place_of(percent) * PLACES))
        shares.append(rusted_share(picker))
    assert shares == sorted(shares)
    assert shares[0] < shares[1] < shares[2]
    assert later.waiting == []


def test_nothing_moves_when_the_picture_comes_and_another_coupons_picture_is_not_left_standing(qtbot, qapp):
    later = Later()
    picker = shown(qtbot, later)
    picker.show_own(None, "now")
    picker.ask_for(asked())
    before = (picker.pair.places(), picker.pair.geometry(), picker.slider.geometry())
    assert picker.pair.image() is None
    later.run()
    picker.show_own(QImage(128, 248, QImage.Format.Format_RGB32), "now")
    settle()
    assert picker.pair.image() is not None
    assert (picker.pair.places(), picker.pair.geometry(), picker.slider.geometry()) == before
    picker.ask_for(asked(outline=OTHER_PLATE))
    assert picker.pair.image() is None
    later.run()
    assert picker.pair.image().width() > picker.pair.image().height()


def test_both_pictures_are_of_one_size_and_inside(picker):
    for outline in (PLATE, OTHER_PLATE):
        picker.ask_for(asked(outline=outline))
        picker.show_own(QImage(10, 10, QImage.Format.Format_RGB32), "now")
        for size in (QSize(1000, 400), QSize(500, 700), QSize(660, 140)):
            picker.resize(size)
            settle()
            own, painted = picker.pair.places()
            assert own.size() == painted.size()
            assert not own.intersects(painted)
            assert all(
                picker.pair.rect().contains(each.toAlignedRect().adjusted(1, 1, -1, -1)) for each in (own, painted)
            )


def test_a_picture_prepared_ahead_is_there_when_it_is_asked_for(qtbot, qapp):
    later = Later()
    picker = shown(qtbot, later)
    picker.ask_for(asked())
    picker.prepare(asked(outline=OTHER_PLATE))
    later.run()
    picker.ask_for(asked(outline=OTHER_PLATE))
    assert picker.pair.image() is not None
    assert later.waiting == []


def test_a_surface_of_which_nothing_counts_says_so_and_a_percent_can_be_given_all_the_same(qtbot, qapp):
    picker = shown(qtbot, InlineExecutor())
    picker.ask_for(GuideRequest("S", "middle", 0, None, PLATE, 500.0))
    assert picker.pair.image() is None
    assert "counts" in picker.pair._waiting
    assert not picker.grab().isNull()
    press(picker, KEY.Key_PageUp, KEY.Key_Return)
    assert picker.given_percents == [0.017]


def test_the_picture_on_the_screen_keeps_its_colours_when_its_memory_is_used_again(picker):
    growing = picker.pair._growing
    height, width = growing.ground.shape
    images = [shrunk(growing, percent, QSize(width, height)) for percent in (0.0, 100.0)]
    assert QColor(images[0].pixel(width // 2, height // 2)) != QColor(images[1].pixel(width // 2, height // 2))
    assert images[0] == shrunk(growing, 0.0, QSize(width, height))


# ---- reach


def test_what_is_pressed_is_large_enough_for_a_finger_and_with_gloves_larger(picker):
    for large, least_mm in ((False, 9.0), (True, 13.9)):  # about 9 mm for a finger: house rule, no outside source
        picker.set_large(large)
        settle()
        px = least_mm / MM_PER_INCH * picker.logicalDpiX()
        for each in (*picker.findChildren(QPushButton), picker.field):
            assert each.height() >= int(px), each
        assert all(button(picker, name).width() >= int(px) for name in ("Less rust", "More rust", "Give"))


def test_everything_has_a_name_for_those_who_do_not_see_it(picker):
    picker.show_percent(2.5)
    assert button(picker, "Give").accessibleName() == "Give 2.5 %, grade 5"
    assert button(picker, "Less rust")
    assert picker.field.accessibleName() == "Percent rusted"
    spoken = QAccessible.queryAccessibleInterface(picker.slider)
    assert spoken.text(QAccessible.Text.Name) == "Percent rusted"
    assert spoken.text(QAccessible.Text.Description) == "2.5 %, grade 5"
    assert spoken.role() == QAccessible.Role.Slider
    assert "2.5 %" in picker.pair.accessibleName()
    assert picker._badge.accessibleName() == "Grade 5: 1–3 % rusted"


def test_the_whole_can_be_reached_by_tab(picker):
    reached = set()
    picker.slider.setFocus()
    for _ in range(8):
        reached.add(QApplication.focusWidget())
        QTest.keyClick(QApplication.focusWidget(), KEY.Key_Tab)
    assert {picker.slider, picker.field, *picker.findChildren(QPushButton)} <= reached
