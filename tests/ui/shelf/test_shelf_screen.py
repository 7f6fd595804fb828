"""The shelf as the user handles it: keys, mouse, fingers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QRectF, Qt, QUrl
from PySide6.QtGui import (
    QAccessible,
    QAction,
    QContextMenuEvent,
    QDesktopServices,
    QImage,
    QInputDevice,
    QPainter,
    QPointingDevice,
)
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QListView, QMenu, QPushButton, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from rustboard.board.inspection_calendar import NextLook
from rustboard.session import shelf as shelf_module
from rustboard.session.shelf import ShelfEntry
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.shelf.card_painter import CardState, card_size, paint_card
from rustboard.ui.shelf.cards import CardView
from rustboard.ui.shelf.screen import ShelfScreen
from rustboard.ui.theme import DARK, SCHEMES, SUNLIGHT, Scheme, apply_scheme

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support propagateSizeHints")

MakeBoard = Callable[..., Path]


def cards(shelf: ShelfScreen) -> QListView:
    return shelf.findChild(CardView)


def names(shelf: ShelfScreen) -> list[str]:
    model = cards(shelf).model()
    return [model.index(row, 0).data() for row in range(model.rowCount())]


def middle_of(shelf: ShelfScreen, row: int) -> QPoint:
    return cards(shelf).visualRect(cards(shelf).model().index(row, 0)).center()


def button(parent: QWidget, text: str) -> QPushButton | QToolButton:
    found = [*parent.findChildren(QPushButton), *parent.findChildren(QToolButton)]
    return next(each for each in found if each.text() == text and each.isVisible())


def action_of(shelf: ShelfScreen, text: str) -> QAction:
    """An action in the menu behind the button “Folder”."""
    menu = button(shelf, "Folder").menu()
    return next(each for each in menu.actions() if each.text() == text)


def test_an_empty_shelf_says_what_to_do_and_carries_the_buttons(shelf: ShelfScreen, qtbot: QtBot) -> None:
    shelf.reload()
    with qtbot.waitSignal(shelf.demo_asked):
        qtbot.mouseClick(button(shelf, "Try the demo board"), Qt.MouseButton.LeftButton)
    with qtbot.waitSignal(shelf.new_asked):
        qtbot.mouseClick(button(shelf, "New board…"), Qt.MouseButton.LeftButton)
    assert not cards(shelf).isVisible()


def test_boards_are_shown_and_the_first_is_chosen(shelf: ShelfScreen, make_board: MakeBoard) -> None:
    make_board("older", [9], day=1)
    make_board("newer", [8], day=9)
    shelf.reload()
    assert names(shelf) == ["newer", "older"]
    chosen = shelf.chosen()
    assert chosen is not None
    assert chosen.name == "newer"


def test_enter_opens_the_board_the_arrows_chose(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    folder = make_board("older", [9], day=1)
    make_board("newer", [8], day=9)
    shelf.reload()
    qtbot.keyClick(cards(shelf), Qt.Key.Key_Right)
    with qtbot.waitSignal(shelf.open_asked) as asked:
        qtbot.keyClick(cards(shelf), Qt.Key.Key_Return)
    assert asked.args == [folder]


def test_a_double_click_opens(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    folder = make_board("a")
    shelf.reload()
    with qtbot.waitSignal(shelf.open_asked) as asked:
        place = middle_of(shelf, 0)
        qtbot.mouseClick(cards(shelf).viewport(), Qt.MouseButton.LeftButton, pos=place)
        qtbot.mouseDClick(cards(shelf).viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert asked.args == [folder]


def test_a_single_click_chooses_and_does_not_open(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    make_board("newer", [8], day=9)
    make_board("older", [9], day=1)
    shelf.reload()
    with qtbot.assertNotEmitted(shelf.open_asked):
        qtbot.mouseClick(cards(shelf).viewport(), Qt.MouseButton.LeftButton, pos=middle_of(shelf, 1))
    assert shelf.chosen() is not None
    assert shelf.chosen().name == "older"  # type: ignore[union-attr]


@pytest.fixture(scope="module")
def finger() -> QPointingDevice:
    return QTest.createTouchDevice(QInputDevice.DeviceType.TouchScreen)


def touch(widget: QWidget, finger: QPointingDevice, way: list[QPoint]) -> None:
    for number, place in enumerate(way):
        sequence = QTest.touchEvent(widget, finger, False)
        (sequence.press if number == 0 else sequence.move)(0, place, widget)
        sequence.commit()
        QApplication.processEvents()
    sequence = QTest.touchEvent(widget, finger, False)
    sequence.release(0, way[-1], widget)
    sequence.commit()
    QApplication.processEvents()


def test_a_tap_opens(shelf: ShelfScreen, make_board: MakeBoard, finger: QPointingDevice, qtbot: QtBot) -> None:
    make_board("newer", [8], day=9)
    folder = make_board("older", [9], day=1)
    shelf.reload()
    with qtbot.waitSignal(shelf.open_asked) as asked:
        touch(cards(shelf).viewport(), finger, [middle_of(shelf, 1)])
    assert asked.args == [folder]


def test_a_finger_that_scrolls_does_not_open(
    shelf: ShelfScreen, make_board: MakeBoard, finger: QPointingDevice, qtbot: QtBot
) -> None:
    make_board("a")
    shelf.reload()
    start = middle_of(shelf, 0)
    with qtbot.assertNotEmitted(shelf.open_asked):
        touch(cards(shelf).viewport(), finger, [start, start + QPoint(0, 40), start + QPoint(0, 80), start])


@pytest.mark.parametrize(
    ("text", "signal"),
    [
        ("Open", "open_asked"),
        ("Other window", "open_in_new_window_asked"),
        ("Copy…", "copy_asked"),
        ("New like this…", "like_asked"),
    ],
)
def test_the_buttons_below_serve_the_chosen_board(
    shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot, text: str, signal: str
) -> None:
    folder = make_board("a")
    shelf.reload()
    with qtbot.waitSignal(getattr(shelf, signal)) as asked:
        qtbot.mouseClick(button(shelf, text), Qt.MouseButton.LeftButton)
    assert asked.args == [folder]


@pytest.mark.parametrize(
    ("text", "signal"),
    [
        ("New board…", "new_asked"),
        ("From a plan file…", "plan_asked"),
        ("Old grades…", "grades_asked"),
        ("Open another…", "browse_asked"),
    ],
)
def test_the_buttons_above_need_no_board(
    shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot, text: str, signal: str
) -> None:
    make_board("a")
    shelf.reload()
    with qtbot.waitSignal(getattr(shelf, signal)):
        qtbot.keyClick(button(shelf, text), Qt.Key.Key_Space)


def test_every_button_is_reached_with_the_tab_key(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    make_board("a")
    shelf.reload()
    shelf.activateWindow()
    cards(shelf).setFocus()
    reached = set()
    for _ in range(24):
        focus = QApplication.focusWidget()
        assert focus is not None
        reached.add(focus.text() if isinstance(focus, QPushButton | QToolButton) else "cards")
        qtbot.keyClick(focus, Qt.Key.Key_Tab)
    assert reached >= {
        "cards",
        "New board…",
        "From a plan file…",
        "Old grades…",
        "Open another…",
        "Open",
        "Copy…",
        "Folder",
    }
    assert reached >= {"Tags…", "Archive", "Filters"}


@pytest.mark.qt_log_ignore("This plugin does not support")
def test_the_menu_of_a_card_serves_that_card(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    make_board("newer", [8], day=9)
    folder = make_board("older", [9], day=1)
    shelf.reload()
    place = middle_of(shelf, 1)
    where = cards(shelf).viewport().mapToGlobal(place)
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, place, where)
    QApplication.sendEvent(cards(shelf).viewport(), event)
    menu = next(each for each in shelf.findChildren(QMenu) if each.isVisible())
    action = next(each for each in menu.actions() if each.text() == "Make a copy…")
    with qtbot.waitSignal(shelf.copy_asked) as asked:
        qtbot.mouseClick(menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(action).center())
    assert asked.args == [folder]


def test_the_folder_is_shown_by_the_desktop(
    shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = make_board("a")
    opened: list[QUrl] = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url) or True)
    shelf.reload()
    action_of(shelf, "Show folder").trigger()
    assert [each.toLocalFile() for each in opened] == [str(folder)]


def test_without_a_file_manager_the_folder_is_told(
    shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = make_board("a")
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: False)
    shelf.reload()
    action_of(shelf, "Show folder").trigger()
    assert str(folder) in shelf._message.text()
    assert shelf._message.is_error()


def test_a_board_that_cannot_be_opened_may_be_tried_but_not_copied(
    shelf: ShelfScreen, settings: Settings, qtbot: QtBot
) -> None:
    broken = settings.boards_path() / "broken"
    broken.mkdir()
    (broken / "board.rustboard").write_bytes(b"x" * 600)
    shelf.reload()
    index = cards(shelf).model().index(0, 0)
    assert "cannot be opened: This is not a board file" in index.data(Qt.ItemDataRole.AccessibleTextRole)
    assert not button(shelf, "Copy…").isEnabled()
    assert not button(shelf, "New like this…").isEnabled()
    with qtbot.waitSignal(shelf.open_asked):
        qtbot.keyClick(cards(shelf), Qt.Key.Key_Return)


def test_the_same_board_stays_chosen_when_another_comes(
    shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot
) -> None:
    make_board("newer", [8], day=9)
    folder = make_board("older", [9], day=1)
    shelf.reload()
    shelf.choose(folder)
    make_board("newest", [7], day=20)
    shelf.reload()
    assert names(shelf) == ["newest", "newer", "older"]
    assert shelf.chosen().folder == folder  # type: ignore[union-attr]


def test_a_card_is_read_out_whole(shelf: ShelfScreen, make_board: MakeBoard) -> None:
    make_board("Harbour", [10, 10, 9, 3], day=7)
    shelf.reload()
    words = cards(shelf).model().index(0, 0).data(Qt.ItemDataRole.AccessibleTextRole)
    assert words.startswith("Harbour. ")
    assert "1 inspection, 4 coupons" in words
    assert "grade 10: 2, grade 9: 1, grade 3: 1" in words
    item = QAccessible.queryAccessibleInterface(cards(shelf)).child(0)
    assert item.text(QAccessible.Text.Name) == words


def test_markup_in_a_name_is_not_obeyed(shelf: ShelfScreen, make_board: MakeBoard) -> None:
    make_board("<h1>big</h1> & \u202etfel")
    shelf.reload()
    index = cards(shelf).model().index(0, 0)
    assert "&lt;h1&gt;big&lt;/h1&gt; &amp; \ufffdtfel" in index.data(Qt.ItemDataRole.ToolTipRole)
    assert index.data() == "<h1>big</h1> & \ufffdtfel"


def picture_on(shelf: ShelfScreen, row: int) -> QImage:
    card = cards(shelf).visualRect(cards(shelf).model().index(row, 0))
    return cards(shelf).viewport().grab(card).toImage()


def test_a_board_with_a_photo_shows_it(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    make_board("a", photo="#c01040")
    shelf.reload()
    qtbot.waitUntil(lambda: shelf._model.picture(shelf.chosen()) is not None)  # type: ignore[arg-type]
    picture = picture_on(shelf, 0)
    assert picture.pixelColor(picture.width() // 2, picture.height() // 4).name() == "#c01040"


def test_a_board_without_a_photo_is_drawn(shelf: ShelfScreen, make_board: MakeBoard, qtbot: QtBot) -> None:
    make_board("a", [10, 10, 10, 10])
    shelf.reload()
    picture = picture_on(shelf, 0)
    colours = {picture.pixelColor(x, picture.height() // 4).name() for x in range(picture.width())}
    assert "#1f5c94" in colours  # the colour of grade 10


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_a_look_that_is_due_has_the_accent_and_one_to_come_has_not(scheme: Scheme, qapp: QApplication) -> None:
    def painted(look: NextLook | None) -> Counter[str]:
        card = ShelfEntry(Path("a"), "a", next_look=look)
        image = QImage(card_size(qapp.font()), QImage.Format.Format_RGB32)
        image.fill(scheme.base)
        with QPainter(image) as painter:
            paint_card(painter, QRectF(image.rect()), card, None, CardState(), scheme, qapp.font())
        return Counter(image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height()))

    day = datetime(2026, 3, 18, 9)
    due, later, none = painted(NextLook(16, day, 0, 0)), painted(NextLook(16, day, -5, 0)), painted(None)
    assert due[scheme.accent] > 2_000
    assert later[scheme.accent] == none[scheme.accent] == 0
    assert later != none


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_hostile_names_are_painted_in_every_scheme(
    shelf: ShelfScreen, make_board: MakeBoard, qapp: QApplication, scheme: object
) -> None:
    make_board("W" * 400, [3, 2, 1, 0])
    make_board("🧲\u0000=1+1")
    apply_scheme(qapp, scheme)  # type: ignore[arg-type]
    shelf.set_scheme(scheme)  # type: ignore[arg-type]
    shelf.reload()
    assert len(names(shelf)) == 2
    assert not picture_on(shelf, 0).isNull()


def test_the_colours_follow_the_scheme(shelf: ShelfScreen, make_board: MakeBoard) -> None:
    make_board("a")
    shelf.reload()
    light = picture_on(shelf, 0)
    shelf.set_scheme(DARK)
    assert picture_on(shelf, 0) != light


def test_it_fits_a_low_screen_at_twice_the_usual_scale(
    shelf: ShelfScreen, make_board: MakeBoard, qapp: QApplication
) -> None:
    make_board("a")
    apply_scheme(qapp, SUNLIGHT)
    shelf.reload()
    shelf.resize(683, 330)  # 1366 x 768 at 200 %, less the frame and the tool bar
    assert (shelf.width(), shelf.height()) == (683, 330)


def test_a_full_shelf_says_that_there_may_be_more(
    shelf: ShelfScreen, make_board: MakeBoard, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(shelf_module, "MOST_BOARDS", 1)
    monkeypatch.setattr("rustboard.ui.shelf.screen.MOST_BOARDS", 1)
    make_board("a")
    make_board("b")
    shelf.reload()
    assert "1 boards at most" in shelf._message.text()


def test_boards_are_looked_for_beside_the_window(qtbot: QtBot, settings: Settings, make_board: MakeBoard) -> None:
    make_board("a", photo="#c01040")
    bridge = JobBridge()
    screen = ShelfScreen(settings, bridge, DARK)
    qtbot.addWidget(screen)
    screen.show()
    screen.reload()
    assert screen.chosen() is None
    qtbot.waitUntil(lambda: screen.chosen() is not None)
    qtbot.waitUntil(lambda: screen._model.picture(screen.chosen()) is not None)  # type: ignore[arg-type]
    bridge.close()
