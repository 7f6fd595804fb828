"""Painting on a coupon's mask by mouse and keys, and comparing two days, in the window."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from measured_boards import fitting, measurement
from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt
from PySide6.QtGui import QPointingDevice
from PySide6.QtTest import QTest
from window_driving import Person, send_mouse, settle

from rustboard.operations.boards import edit_board
from rustboard.operations.brushing import add_stroke
from rustboard.session import measuring
from rustboard.session.jobs import Progress
from rustboard.session.measuring import MeasureRequest, MeasureResult
from rustboard.session.measuring_cache import MeasuringCache
from rustboard.support.paths import cache_folder
from rustboard.ui.photos.coupon_picture import CouponPicture
from rustboard.ui.photos.screen import PhotoScreen

MEASURES = "whose strokes are measured"


def screen_of(person: Person) -> PhotoScreen:
    screen = person.window.photos.screen
    assert screen is not None
    return screen


def coupon_of(person: Person) -> CouponPicture:
    return screen_of(person).stage.coupon


def rust_pixels(person: Person) -> int:
    view = coupon_of(person).view()
    assert view is not None
    assert view.rust is not None
    return int(np.count_nonzero(view.rust))


@pytest.fixture(autouse=True)
def asked(monkeypatch) -> list[MeasureRequest]:
    """What was asked to be measured anew after the brush; a job that measures 5 % stands in for measuring."""
    requests: list[MeasureRequest] = []

    def measure_anew(request: MeasureRequest, progress: Progress) -> MeasureResult:
        requests.append(request)
        percent = 5.0 if request.record.strokes and MEASURES in request.record.board.name else 0.12
        before, cache = request.record.measured[2][1].inputs, MeasuringCache(cache_folder())
        found = fitting(request.record, measurement(2, 1, percent, inputs=before))
        cache.keep_masks(found.inputs, cache.masks(before) or b"")
        return MeasureResult(measurements=(found,))

    monkeypatch.setattr(measuring, "measure", measure_anew)
    return requests


@pytest.fixture
def painting(looking) -> Person:
    person = looking()
    person.session.selection.choose({1}, 1)
    settle()
    QTest.keyClick(screen_of(person), Qt.Key.Key_P)
    settle()
    return person


def drag(person: Person, *, release: bool = True) -> None:
    picture = coupon_of(person)
    middle = QPointF(picture.rect().center())
    send_mouse(picture, QEvent.Type.MouseButtonPress, middle)
    for step in range(1, 5):
        send_mouse(picture, QEvent.Type.MouseMove, middle + QPointF(0, 12 * step))
    if release:
        send_mouse(picture, QEvent.Type.MouseButtonRelease, middle + QPointF(0, 48))
        settle()


# ---- brush


def test_a_stroke_shows_while_it_is_drawn_and_is_one_step_to_undo(painting):
    before = rust_pixels(painting)
    drag(painting, release=False)
    assert rust_pixels(painting) > before, "live"
    assert painting.session.record.strokes == {}, "not yet on the disk"
    send_mouse(coupon_of(painting), QEvent.Type.MouseButtonRelease, QPointF(coupon_of(painting).rect().center()))
    settle()
    (stroke,) = painting.session.record.strokes.values()
    assert (stroke.photo, stroke.coupon, stroke.adds) == (2, 1, True)
    assert len(stroke.points_mm) > 1
    painted = rust_pixels(painting)
    assert painted > before
    painting.do("edit.undo")
    settle()
    assert painting.session.record.strokes == {}
    assert rust_pixels(painting) == before
    painting.do("edit.redo")
    settle()
    assert rust_pixels(painting) == painted, "the same as it was previewed"


def test_a_stroke_lies_where_it_was_drawn(painting):
    drag(painting)
    (stroke,) = painting.session.record.strokes.values()
    x, y = stroke.points_mm[0]
    assert x == pytest.approx(30, abs=1), "the middle of a coupon of 60 x 80 mm"
    assert y == pytest.approx(40, abs=1)


def test_the_brush_takes_rust_away(painting):
    screen_of(painting).stage.tools.painting.step_size(9)
    QTest.keyClick(screen_of(painting), Qt.Key.Key_R)
    before = rust_pixels(painting)
    picture = coupon_of(painting)
    view = picture.view()
    assert view is not None
    down, across = np.argwhere(view.rust).mean(axis=0)
    at = picture.viewport.transform(picture.panes()[0][0]).map(QPointF(across, down)).toPoint()
    QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=at)
    settle()
    assert rust_pixels(painting) < before
    assert [each.adds for each in painting.session.record.strokes.values()] == [False]


def test_the_brush_works_by_keys_alone(painting):
    picture = coupon_of(painting)
    for key in (Qt.Key.Key_Space, Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Right):
        QTest.keyClick(picture, key)
    assert painting.session.record.strokes == {}
    QTest.keyClick(picture, Qt.Key.Key_Space)
    settle()
    (stroke,) = painting.session.record.strokes.values()
    assert len(stroke.points_mm) == 4
    assert stroke.points_mm[-1][0] > stroke.points_mm[0][0]
    assert stroke.points_mm[-1][1] > stroke.points_mm[0][1]


def test_escape_gives_a_stroke_up_and_then_lays_the_brush_aside(painting):
    picture, before = coupon_of(painting), rust_pixels(painting)
    QTest.keyClick(picture, Qt.Key.Key_Space)
    QTest.keyClick(picture, Qt.Key.Key_Down)
    QTest.keyClick(picture, Qt.Key.Key_Escape)
    settle()
    assert rust_pixels(painting) == before
    assert painting.session.record.strokes == {}
    assert picture.brush.on
    QTest.keyClick(picture, Qt.Key.Key_Escape)
    assert not picture.brush.on
    assert screen_of(painting).isVisible()


def test_all_strokes_are_taken_back_by_one_button(painting):
    before = rust_pixels(painting)
    drag(painting)
    drag(painting)
    assert len(painting.session.record.strokes) == 2
    painting.press("Take all strokes back")
    assert painting.session.record.strokes == {}
    assert rust_pixels(painting) == before


def test_a_stroke_that_the_disk_refuses_is_not_shown(painting, monkeypatch):
    before = rust_pixels(painting)
    refused = []
    monkeypatch.setattr(screen_of(painting), "_do", lambda *given, **more: refused.append(given[0]))
    drag(painting)
    assert refused == [add_stroke]
    assert rust_pixels(painting) == before


def test_the_figures_follow_the_brush(painting, asked):
    painting.window.do(edit_board, replace(painting.session.record.board, name=f"Fence {MEASURES}"))
    drag(painting)
    assert [(each.coupons, each.photos) for each in asked] == [(frozenset({1}), frozenset({1, 2}))]
    assert painting.session.record.measured[2][1].percent == 5.0
    assert painting.reads("5.0 %, grade 4-S")
    assert painting.reads("Before ("), "the value without the brush is kept"
    painting.do("edit.undo")
    assert painting.session.record.strokes == {}
    assert painting.session.record.measured[2][1].percent == 0.12, "stroke and figures are one step"
    painting.do("edit.redo")
    assert len(painting.session.record.strokes) == 1
    assert painting.session.record.measured[2][1].percent == 5.0


# ---- masks


def test_m_hides_the_masks_and_shift_m_leaves_their_edges(looking):
    person = looking()
    picture = coupon_of(person)
    picture.grab()
    assert picture.this.overlay is not None
    QTest.keyClick(screen_of(person), Qt.Key.Key_M, Qt.KeyboardModifier.ShiftModifier)
    assert picture.look == "outline"
    QTest.keyClick(screen_of(person), Qt.Key.Key_M)
    picture.grab()
    assert picture.this.overlay is None


# ---- comparing


def test_two_days_are_compared_with_linked_zoom(looking):
    person = looking(photos=3)
    screen, picture = screen_of(person), coupon_of(person)
    QTest.keyClick(screen, Qt.Key.Key_C)
    settle()
    picture.grab()
    assert picture.other is not None
    assert "day 7" in picture.other.caption, "the day before"
    assert "day 14" in picture.this.caption
    person.press("Side by side")
    picture.zoom_in()
    (left, before), (right, now) = picture.panes()
    assert (before.caption, now.caption) == (picture.other.caption, picture.this.caption)
    place = picture.viewport.transform(left).map(QPointF(100, 100)) - left.topLeft()
    assert place == picture.viewport.transform(right).map(QPointF(100, 100)) - right.topLeft()


def test_the_other_day_is_day_zero_or_one_chosen_in_the_strip(looking):
    person = looking(photos=4)
    screen = screen_of(person)
    QTest.keyClick(screen, Qt.Key.Key_C)
    assert screen.strip.row.other == 3
    screen.stage.tools.comparing.show_partner("first")
    screen.stage.tools.comparing.partner_changed.emit()
    assert screen.strip.row.other == 1
    row = screen.strip.row
    shift = Qt.KeyboardModifier.ShiftModifier
    QTest.mouseClick(row, Qt.MouseButton.LeftButton, shift, row.rect_of(1).center())
    settle()
    assert row.other == 2
    assert screen.choice.this == 4
    QTest.keyClick(row, Qt.Key.Key_Right, shift)
    assert row.other == 3


def test_b_shows_the_other_day_for_as_long_as_it_is_held(looking):
    person = looking()
    screen, picture = screen_of(person), coupon_of(person)
    QTest.keyClick(screen, Qt.Key.Key_C)
    person.press("Hold")
    QTest.keyPress(screen, Qt.Key.Key_B)
    assert picture.panes()[0][1] is picture.other
    QTest.keyRelease(screen, Qt.Key.Key_B)
    assert picture.panes()[0][1] is picture.this


def test_the_divider_is_dragged_and_moved_by_keys(looking):
    person = looking()
    screen, picture = screen_of(person), coupon_of(person)
    QTest.keyClick(screen, Qt.Key.Key_C)
    settle()
    picture.grab()
    middle = QPointF(picture.width() / 2, picture.height() / 2)
    send_mouse(picture, QEvent.Type.MouseButtonPress, middle)
    send_mouse(picture, QEvent.Type.MouseMove, QPointF(picture.width() * 0.25, middle.y()))
    send_mouse(picture, QEvent.Type.MouseButtonRelease, QPointF(picture.width() * 0.25, middle.y()))
    assert picture.comparison.divider == pytest.approx(0.25)
    QTest.keyClick(picture, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    assert picture.comparison.divider > 0.25


def test_the_whole_board_is_compared_when_it_is_seen_alone(looking):
    person = looking()
    screen = screen_of(person)
    QTest.keyClick(screen, Qt.Key.Key_C)
    settle()
    assert screen.stage.board.other is None, "beside the coupon it is small"
    person.press("Board")
    assert screen.stage.board.other is not None
    assert screen.stage.board.other.image is not None
    assert not coupon_of(person).isVisible()


def test_brush_and_comparing_put_each_other_aside(painting):
    tools = screen_of(painting).stage.tools
    QTest.keyClick(screen_of(painting), Qt.Key.Key_C)
    assert (tools.compare.isChecked(), tools.brush.isChecked()) == (True, False)
    QTest.keyClick(screen_of(painting), Qt.Key.Key_P)
    assert (tools.compare.isChecked(), tools.brush.isChecked()) == (False, True)


def test_wheel_and_drag_zoom_and_move_the_picture(looking):
    person = looking()
    picture = coupon_of(person)
    at = QPoint(picture.width() // 3, picture.height() // 3)
    held = picture.place_at(QPointF(at))
    QTest.wheelEvent(picture.window().windowHandle(), picture.mapTo(picture.window(), at), QPoint(0, 360))
    settle()
    assert picture.viewport.zoom > 1.5
    assert (picture.place_at(QPointF(at)) - held).manhattanLength() < 1
    before = picture.viewport.centre
    middle = QPointF(picture.rect().center())
    send_mouse(picture, QEvent.Type.MouseButtonPress, middle)
    send_mouse(picture, QEvent.Type.MouseMove, middle + QPointF(0, 40))
    send_mouse(picture, QEvent.Type.MouseButtonRelease, middle + QPointF(0, 40))
    assert picture.viewport.centre.y() < before.y()
    QTest.keyClick(picture, Qt.Key.Key_0)
    assert picture.viewport.zoom == 1


# ---- touch


@pytest.fixture(scope="module")
def finger(qapp) -> QPointingDevice:
    return QTest.createTouchDevice()


def fit_on_screen(person: Person) -> None:
    """Qt drops touches beside the screen."""
    room = person.window.screen().availableSize()
    person.resize(QSize(room.width() - 10, room.height() - 10))
    settle()


def test_a_finger_chooses_a_coupon_and_paints(looking, finger):
    person = looking()
    fit_on_screen(person)
    person.press("Board")
    screen = screen_of(person)
    board = screen.stage.board
    mark = next(each for each in board.marks if each.coupon == 2)
    at = board.viewport.transform(board.panes()[0][0]).map(QPointF(mark.outline_mm[0][0] + 30, 50)).toPoint()
    person.touch(board, at, finger)
    assert person.session.selection.focus == 2
    QTest.keyClick(screen, Qt.Key.Key_P)
    settle()
    picture = coupon_of(person)
    picture.grab()
    middle = picture.rect().center()
    QTest.touchEvent(picture, finger).press(1, middle, picture)
    QTest.touchEvent(picture, finger).move(1, middle + QPoint(0, 30), picture)
    QTest.touchEvent(picture, finger).release(1, middle + QPoint(0, 30), picture)
    settle()
    (stroke,) = person.session.record.strokes.values()
    assert stroke.coupon == 2
    assert len(stroke.points_mm) == 2


def test_two_fingers_zoom(looking, finger):
    person = looking()
    fit_on_screen(person)
    picture = coupon_of(person)
    middle = picture.rect().center()
    apart = QPoint(20, 0)
    QTest.touchEvent(picture, finger).press(1, middle - apart, picture).press(2, middle + apart, picture)
    for step in range(1, 6):
        wide = apart * (1 + step)
        QTest.touchEvent(picture, finger).move(1, middle - wide, picture).move(2, middle + wide, picture)
        settle(1)
    QTest.touchEvent(picture, finger).release(1, middle - wide, picture).release(2, middle + wide, picture)
    settle()
    assert picture.viewport.zoom > 1.5
    assert person.session.record.strokes == {}
