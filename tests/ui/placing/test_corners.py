"""Four taps on a photo: put, dragged, nudged by keys, and what follows from them drawn at once."""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest
from PySide6.QtCore import QEvent, QPoint, QSize, Qt
from PySide6.QtGui import QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot
from window_driving import send_mouse

from rustboard.board.measured import PhotoPlacing
from rustboard.board.model import Board, Coupon, Photo
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.session.board_views import WholeView
from rustboard.session.placing import place_by_taps
from rustboard.ui.placing.dialog import PlacingDialog
from rustboard.ui.theme import LIGHT, SCHEMES, apply_scheme

PLATE = ((20.0, 10.0), (80.0, 10.0), (80.0, 90.0), (20.0, 90.0))
UPRIGHT = ((60.0, 50.0), (660.0, 50.0), (660.0, 450.0), (60.0, 450.0))
SIZE_PX = (720, 500)
HOSTILE = "x\x00\u202e" + "W" * 500


def made(photo: Photo | None = None, *, name: str = "IMG_1.jpg", read_only: bool = False) -> PlacingDialog:
    record = BoardRecord(
        Board(name, 2, 3, width_mm=300, height_mm=200),
        coupons={1: Coupon(name, Position(0, 0), outline_mm=PLATE, key=1)},
    )
    photo = photo or Photo(name, "a.jpg", "0" * 64, *SIZE_PX, key=7)
    record.photos[7] = photo
    place = partial(place_by_taps, record, photo)
    dialog = PlacingDialog(record, photo, place, LIGHT, read_only=read_only)
    dialog.show_picture(WholeView(np.full((SIZE_PX[1], SIZE_PX[0], 3), 120, np.uint8), 1.0))
    return dialog


@pytest.fixture
def dialog(qtbot: QtBot) -> PlacingDialog:
    return shown(qtbot, made())


def shown(qtbot: QtBot, dialog: PlacingDialog) -> PlacingDialog:
    qtbot.addWidget(dialog)
    dialog.resize(900, 640)
    with qtbot.waitActive(dialog):
        dialog.show()
        dialog.activateWindow()
    dialog.view.setFocus()
    return dialog


def tap(dialog: PlacingDialog, x: float, y: float) -> None:
    at = dialog.view.to_widget(x, y).toPoint()
    QTest.mouseClick(dialog.view, Qt.MouseButton.LeftButton, pos=at)


def tap_all(dialog: PlacingDialog) -> None:
    for x, y in UPRIGHT:
        tap(dialog, x, y)


def test_four_taps_place_the_board_and_draw_everything_over_it(dialog: PlacingDialog) -> None:
    assert not dialog._keep.isEnabled()
    tap_all(dialog)
    assert dialog._keep.isEnabled()
    placing = dialog.placing()
    assert placing.placed_by == "corners"
    (coupon,) = dialog.view.overlay.coupons
    assert np.allclose(coupon, [(60 + 2 * x, 50 + 2 * y) for x, y in PLATE], atol=2.0), "2 px a mm, from (60, 50)"
    assert len(dialog.view.overlay.grid) == 3


def test_a_corner_that_is_dragged_takes_the_outlines_along(dialog: PlacingDialog) -> None:
    tap_all(dialog)
    view = dialog.view
    before = view.overlay.coupons[0][0]
    start = view.to_widget(*view.corners()[0])
    send_mouse(view, QEvent.Type.MouseButtonPress, start + QPoint(3, 2))
    send_mouse(view, QEvent.Type.MouseMove, start + QPoint(23, 2))
    assert view.overlay.coupons[0][0] != before, "while the button is down"
    send_mouse(view, QEvent.Type.MouseButtonRelease, start + QPoint(23, 2))
    moved = view.to_widget(*view.corners()[0]) - start
    assert (round(moved.x()), round(moved.y())) == (20, 0), "it did not hop under the pointer"


def test_keys_alone_place_the_board(dialog: PlacingDialog) -> None:
    view = dialog.view
    QTest.keyClick(view, Qt.Key.Key_Return)
    assert len(view.corners()) == 4
    assert dialog._keep.isEnabled()
    x, y = view.corners()[0]
    QTest.keyClick(view, Qt.Key.Key_Left)
    QTest.keyClick(view, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    assert view.corners()[0] == (x - 1, y - 10)
    QTest.keyClick(view, Qt.Key.Key_Tab)
    assert view.chosen() == 1
    assert "Corner 2 of 4, top right" in view.accessibleName()
    for _ in range(3):
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
    assert not view.hasFocus(), "after the last corner Tab leaves"


def test_arrows_move_a_corner_as_seen_when_the_view_is_turned(dialog: PlacingDialog) -> None:
    tap_all(dialog)
    view = dialog.view
    QTest.keyClick(view, Qt.Key.Key_1)
    for turns, step in ((1, (0, -1)), (2, (-1, 0)), (3, (0, 1))):
        view.turn_right()
        assert view.turned() == turns
        (x, y), before = view.corners()[0], view.to_widget(*view.corners()[0])
        QTest.keyClick(view, Qt.Key.Key_Right)
        assert view.corners()[0] == (x + step[0], y + step[1])
        assert view.to_widget(*view.corners()[0]).x() > before.x()


def test_a_phone_held_upside_down_is_tapped_from_the_boards_own_top_left(dialog: PlacingDialog) -> None:
    for x, y in UPRIGHT[2:] + UPRIGHT[:2]:
        tap(dialog, x, y)
    (coupon,) = dialog.view.overlay.coupons
    assert np.allclose(coupon[0], (660 - 2 * 20, 450 - 2 * 10), atol=2.0)


def test_corners_in_the_wrong_order_are_refused_with_the_reason(dialog: PlacingDialog) -> None:
    for x, y in (UPRIGHT[0], UPRIGHT[3], UPRIGHT[2], UPRIGHT[1]):
        tap(dialog, x, y)
    assert "clockwise" in dialog.problem.text()
    assert not dialog._keep.isEnabled()
    dialog._again.click()
    assert dialog.view.corners() == ()
    assert dialog.problem.text() == ""


def test_what_was_found_without_taps_is_shown_or_its_reason_is(dialog: PlacingDialog) -> None:
    dialog.show_found(PhotoPlacing(7, None, because="Only one marker is seen."))
    assert dialog.problem.text() == "Only one marker is seen."
    dialog.show_found(PhotoPlacing(7, (2.0, 0, 60, 0, 2, 50, 0, 0, 1), 0.01, "markers", 0.31))
    assert "off by 0.31 pixels" in dialog._hint.text()
    assert dialog.placing().placed_by == "markers"
    assert dialog.placing().lens == 0.01
    assert len(dialog.view.corners()) == 4


def test_a_wrong_automatic_place_is_put_right_by_a_corner(qtbot: QtBot) -> None:
    photo = Photo("p", "a", "0" * 64, *SIZE_PX, mm_to_px=(2, 0, 90, 0, 2, 50, 0, 0, 1), placed_by="markers", key=7)
    dialog = shown(qtbot, made(photo))
    assert dialog.placing().placed_by == "markers"
    QTest.keyClick(dialog.view, Qt.Key.Key_Left)
    assert dialog.placing().placed_by == "corners"


def test_a_photo_for_reading_only_is_looked_at(qtbot: QtBot) -> None:
    photo = Photo("p", "a", "0" * 64, *SIZE_PX, mm_to_px=(2, 0, 60, 0, 2, 50, 0, 0, 1), placed_by="markers", key=7)
    dialog = shown(qtbot, made(photo, read_only=True))
    before = dialog.view.corners()
    QTest.keyClick(dialog.view, Qt.Key.Key_Left)
    tap(dialog, 300, 300)
    assert dialog.view.corners() == before
    assert not dialog._keep.isVisible()


def test_a_finger_places_a_corner(dialog: PlacingDialog) -> None:
    finger = QTest.createTouchDevice(QPointingDevice.DeviceType.TouchScreen)
    at = dialog.view.to_widget(*UPRIGHT[0]).toPoint()
    QTest.touchEvent(dialog.view, finger).press(1, at, dialog.view)
    QTest.touchEvent(dialog.view, finger).release(1, at, dialog.view)
    QApplication.processEvents()
    assert len(dialog.view.corners()) == 1


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_it_fits_a_low_screen_at_twice_the_usual_scale(qtbot: QtBot, qapp: QApplication, scheme: object) -> None:
    apply_scheme(qapp, scheme)
    dialog = made(name=HOSTILE)
    qtbot.addWidget(dialog)
    dialog.show()
    smallest = QSize(683 - 16, 384 - 48)
    dialog.resize(smallest)
    assert dialog.size() == smallest
    tap_all(dialog)
    assert dialog._keep.isEnabled()
    for each in (dialog._keep, dialog._cancel, dialog._again, dialog.view):
        assert dialog.rect().contains(each.mapTo(dialog, each.rect().bottomRight()))
    assert not dialog.grab().isNull()
    apply_scheme(qapp, LIGHT)
