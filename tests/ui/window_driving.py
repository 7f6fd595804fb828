"""A person before the real window: taps, touches, drags, keys, and answers to its questions."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor
from contextlib import closing, contextmanager
from datetime import datetime, timedelta
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, QRect, QSize, Qt
from PySide6.QtGui import QContextMenuEvent, QMouseEvent, QPointingDevice
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QLabel, QLineEdit, QMenu, QPushButton, QWidget

from rustboard.board.model import Axis, Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import Position, parse_position
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.treatments import add_treatment
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.check import check_board
from rustboard.store.tables import BoardRow
from rustboard.support.settings import Settings
from rustboard.ui.board.tile_view import TileView
from rustboard.ui.board_page import BoardPage
from rustboard.ui.grading.panel import GradingPanel
from rustboard.ui.grid.geometry import Place
from rustboard.ui.main_window import MainWindow
from rustboard.ui.start import Program

START = datetime(2026, 3, 2, 9)
WAIT_SECONDS = 15.0
SIZE = QSize(1366, 768)

Answer = Callable[[QDialog], object]


# ---- boards


def made_board(folder: Path, *, coupons: int = 4, inspections: int = 1, rows: int = 2, columns: int = 3) -> Path:
    """Make a board with coupons C01... in reading order and inspections a week apart; return its folder."""
    create_board(folder, BoardRow(Board(folder.name, rows=rows, columns=columns, started=START)))
    with closing(Session(folder, clock=lambda: START)) as session:
        if coupons:
            session.do(add_treatment, Treatment("T1", "beeswax blend"))
        for number in range(coupons):
            session.do(add_coupon, Coupon(f"C{number + 1:02}", Position(*divmod(number, columns)), treatment=1))
        for number in range(inspections):
            session.do(add_inspection, Inspection(START + timedelta(days=7 * number), "Ann"))
    return folder


def graded(folder: Path, inspection: int, grades: dict[str, int]) -> Path:
    """Grade coupons of a board at an inspection, past the window."""
    with closing(Session(folder)) as session:
        keys = {each.id: each.key for each in session.record.coupons.values()}
        for coupon, grade in grades.items():
            session.do(grade_coupon, GivenGrade(keys[coupon], inspection, grade, grader="Ann"))
    return folder


@contextmanager
def reopened(folder: Path) -> Iterator[Session]:
    """Open a board again, after whoever had it open has let go of it."""
    with closing(Session(folder)) as session:
        assert session.read_only_reason == ""
        yield session


def grades_on_disk(folder: Path, inspection: int = 1) -> dict[str, str]:
    """Return what the board folder says, read anew: grade and letter by coupon at an inspection."""
    with closing(Session(folder, read_only=True)) as session:
        record = session.record
        found = {each.id: record.grading(each.key, inspection) for each in record.coupons.values()}
    return {name: f"{each.grade}{each.distribution}" for name, each in found.items() if each is not None}


def gradings_on_disk(folder: Path, coupon: int, inspection: int = 1) -> list[Grading]:
    """Return every grading of a coupon at an inspection, those that no longer count too, oldest first."""
    with closing(Session(folder, read_only=True)) as session:
        return session.gradings(coupon, inspection)


def places_on_disk(folder: Path) -> dict[str, str]:
    """Return where each coupon hangs; an empty text is off the board."""
    with closing(Session(folder, read_only=True)) as session:
        return {c.id: c.position.label if c.position else "" for c in session.record.coupons.values()}


def assert_sound(folder: Path) -> None:
    """The board folder is in order."""
    assert check_board(folder).problems == []


# ---- answers


class Answers:
    """Answers the window's questions as a person would: in the real dialogs, or with the file that is next.

    Attributes:
        files: answers to questions for files; None thinks better of it.
        dialogs: what to do in each dialog that comes; without one the dialog is cancelled.
        asked: kinds of the dialogs that came, and titles of the questions for files.
    """

    def __init__(self) -> None:
        self.files: list[Path | None] = []
        self.dialogs: list[Answer] = []
        self.asked: list[str] = []

    def save_file(self, title: str, start: Path, kinds: str) -> Path | None:
        self.asked.append(title)
        return self.files.pop(0)

    open_file = save_file

    def folder(self, title: str, start: Path) -> Path | None:
        self.asked.append(title)
        return self.files.pop(0)

    def open_files(self, title: str, start: Path, kinds: str) -> list[Path]:
        self.asked.append(title)
        files, self.files = [each for each in self.files if each is not None], []
        return files

    def dialog(self, dialog: QDialog) -> bool:
        """Show the dialog, let the next answer fill it in, press its OK; return whether it was accepted."""
        self.asked.append(type(dialog).__name__)
        dialog.show()
        try:
            if not self.dialogs:
                dialog.reject()
                return False
            answer = self.dialogs.pop(0)
            if answer(dialog) is not False and dialog.isVisible():
                dialog.accept()
            assert not dialog.isVisible(), f"{type(dialog).__name__} was not content: {_complaint(dialog)}"
            return dialog.result() == QDialog.DialogCode.Accepted
        finally:
            dialog.close()


def _complaint(dialog: QDialog) -> str:
    problem = getattr(dialog, "problem", None)
    return problem.text() if problem is not None else ""


def accept(dialog: QDialog) -> None:
    """Answer: as it is."""


def cancel(dialog: QDialog) -> bool:
    """Answer: never mind."""
    dialog.reject()
    return False


def filling(**fields: str) -> Answer:
    """Answer: write these texts into the dialog's fields, by their labels' first word in lower case."""

    def fill(dialog: QDialog) -> None:
        for name, text in fields.items():
            field = field_named(dialog, name)
            field.setFocus()
            field.selectAll()
            QTest.keyClick(field, Qt.Key.Key_Delete)
            QTest.keyClicks(field, text)

    return fill


def field_named(dialog: QDialog, name: str) -> QLineEdit:
    """Return the one-line field whose label begins with a word."""
    for label in dialog.findChildren(QLabel):
        field = label.buddy()
        if field is not None and label.text().replace("&", "").lower().startswith(name):
            line = field.lineEdit() if isinstance(field, QComboBox) else field
            assert isinstance(line, QLineEdit), f"{name} is a {type(field).__name__}"
            return line
    raise AssertionError(f"no field {name}")


# ---- windows


class Desk(Program):
    """Every window of the program; each answers from ``answers`` and runs its jobs at once."""

    def __init__(self, settings: Settings, executor: Callable[[], Executor | None] = InlineExecutor) -> None:
        super().__init__(settings)
        self.answers = Answers()
        self._executor = executor

    def new_window(self) -> MainWindow:
        window = MainWindow(self, asker=self.answers, executor=self._executor())  # type: ignore[arg-type]
        self.windows.append(window)
        self._wire_window(window)
        window.resize(SIZE)
        window.show()
        return window

    def sit_down(self, board: Path | None = None) -> Person:
        """Open a window, on a board when one is given."""
        self.open(board, new_window=True)
        return Person(self, self.windows[-1])

    def close_all(self) -> None:
        for window in list(self.windows):
            window.close()


def wait_until(true: Callable[[], object], what: str = "") -> None:
    """Let the window work until something is so."""
    give_up = time.monotonic() + WAIT_SECONDS
    while not true():
        assert time.monotonic() < give_up, f"waited in vain {what}"
        QApplication.processEvents()
        time.sleep(0.001)


def settle(turns: int = 4) -> None:
    """Let the window do what waits."""
    for _ in range(turns):
        QApplication.processEvents()


class Person:
    """Sits before one window.

    Attributes:
        desk, window: where. answers: to what the window asks.
    """

    def __init__(self, desk: Desk, window: MainWindow) -> None:
        self.desk, self.window, self.answers = desk, window, desk.answers
        if window.page is not None:
            wait_until(lambda: self.page.timeline is not None, "for the timeline, which follows the first paint")
        settle()
        window.activateWindow()
        assert QTest.qWaitForWindowActive(window)

    @property
    def page(self) -> BoardPage:
        page = self.window.page
        assert page is not None, "no board is open"
        return page

    @property
    def panel(self) -> GradingPanel:
        panel = self.page.panel
        assert panel is not None, "grading was never open"
        return panel

    @property
    def session(self) -> Session:
        return self.page.session

    # ---- what the person sees

    def tile(self, label: str) -> TileView:
        """Return what the tile at a position shows."""
        return self.page.tiles.canvas.content.tiles[Place(parse_position(label))]

    def digit(self, label: str) -> str:
        """Return the grade on a tile, or an empty text."""
        grading = self.tile(label).grading
        return "" if grading is None else f"{grading.grade}{grading.distribution}"

    def grading(self) -> str:
        """Return the id of the coupon being graded, or an empty text."""
        key = self.page.grading_coupon()
        return "" if key is None else self.session.record.coupons[key].id

    def message(self) -> str:
        """Return what the message bar says."""
        return self.window.message.text()

    def reads(self, text: str) -> bool:
        """Return whether a text stands on the window just now."""
        return any(text in each.text() for each in self.window.findChildren(QLabel) if each.isVisible())

    def enabled(self) -> set[str]:
        """Return the ids of the actions that can be done."""
        return {name for name, action in self.window.actions_by_id.by_id.items() if action.isEnabled()}

    def checked(self, action: str) -> bool:
        """Return whether a switch in a menu is on."""
        return self.window.actions_by_id.by_id[action].isChecked()

    # ---- what the person does

    def do(self, action: str) -> None:
        """Choose an action in a menu."""
        wanted = self.window.actions_by_id.by_id[action]
        assert wanted.isEnabled(), f"{action} is grey"
        wanted.trigger()
        settle()

    def tap(self, label: str, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Click a position of the board."""
        canvas = self.page.tiles.canvas
        QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, modifier, self._centre(label))
        settle()

    def tap_grade(self, grade: int) -> None:
        """Click one of the eleven keys."""
        self.click(self.panel.guide.keys[grade])

    def click(self, widget: QWidget) -> None:
        """Click the middle of a widget."""
        QTest.mouseClick(widget, Qt.MouseButton.LeftButton)
        settle()

    def press(self, text: str) -> None:
        """Click the button in the window that begins with a text."""
        buttons = self.window.findChildren(QPushButton)
        found = [each for each in buttons if each.text().startswith(text) and each.isVisible()]
        assert len(found) == 1, f"{len(found)} buttons {text}"
        self.click(found[0])

    def key(self, *keys: Qt.Key | str, modifier: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
        """Press keys where the keyboard is."""
        for each in keys:
            widget = self.window.focusWidget()
            assert widget is not None, "nothing has the keyboard"
            QTest.keyClick(widget, each, modifier)
            settle()

    def touch(self, widget: QWidget, at: QPoint, device: QPointingDevice) -> None:
        """Touch a widget with one finger and lift it."""
        QTest.touchEvent(widget, device).press(1, at, widget)
        QTest.touchEvent(widget, device).release(1, at, widget)
        settle()

    def touch_tile(self, label: str, device: QPointingDevice) -> None:
        self.touch(self.page.tiles.canvas, self._centre(label), device)

    def touch_widget(self, widget: QWidget, device: QPointingDevice) -> None:
        self.touch(widget, widget.rect().center(), device)

    def drag(self, what: str, to: str | QPoint, *, drop: bool = True) -> None:
        """Drag a tile to a position, or to a point of the canvas; without ``drop`` the button stays down."""
        canvas = self.page.tiles.canvas
        start, end = QPointF(self._centre(what)), QPointF(self._centre(to) if isinstance(to, str) else to)
        send_mouse(canvas, QEvent.Type.MouseButtonPress, start)
        for part in (0.1, 0.4, 0.7, 1.0):
            send_mouse(canvas, QEvent.Type.MouseMove, start + (end - start) * part)
        if drop:
            self.drop(to)

    def drop(self, to: str | QPoint) -> None:
        """Let go of what is dragged."""
        point = self._centre(to) if isinstance(to, str) else to
        send_mouse(self.page.tiles.canvas, QEvent.Type.MouseButtonRelease, QPointF(point))
        settle()

    def open_menu(self, label: str) -> QMenu:
        """Open the menu of a tile with the right button, and return it."""
        return self.menu_at(self._centre(label))

    def open_header(self, axis: Axis, number: int) -> QMenu:
        """Click the header of a row or column and return its menu."""
        canvas = self.page.tiles.canvas
        at = canvas.grid.header_rect(axis, number).center().toPoint()
        QTest.mouseClick(canvas, Qt.MouseButton.LeftButton, pos=at)
        return self._open_popup()

    def menu_at(self, point: QPoint) -> QMenu:
        """Open the menu of a point of the board with the right button, and return it."""
        canvas = self.page.tiles.canvas
        reason = QContextMenuEvent.Reason.Mouse
        QApplication.sendEvent(canvas, QContextMenuEvent(reason, point, canvas.mapToGlobal(point)))
        return self._open_popup()

    def _open_popup(self) -> QMenu:
        settle()
        menu = QApplication.activePopupWidget()
        assert isinstance(menu, QMenu), "no menu came"
        return menu

    def choose(self, menu: QMenu, text: str) -> None:
        """Click the entry of an open menu that begins with a text."""
        entry = next(each for each in menu.actions() if each.text().replace("&", "").startswith(text))
        QTest.mouseClick(menu, Qt.MouseButton.LeftButton, pos=menu.actionGeometry(entry).center())
        settle()

    def look_at(self, number: int) -> None:
        """Choose an inspection in the line above the board, 0 the earliest."""
        box = self.page.tiles.bar.findChild(QComboBox)
        assert box is not None
        box.setFocus()
        box.showPopup()
        settle()
        view = box.view()
        QTest.mouseClick(
            view.viewport(), Qt.MouseButton.LeftButton, pos=view.visualRect(box.model().index(number, 0)).center()
        )
        wait_until(lambda: QApplication.activePopupWidget() is None)
        settle()

    def resize(self, size: QSize) -> None:
        """Pull the window's corner; in between, the window puts away what has no room any more."""
        for _ in range(2):
            self.window.resize(size)
            settle()

    def stand_up(self) -> None:
        """Close the window."""
        self.window.close()
        settle()

    def _centre(self, label: str) -> QPoint:
        return self.rect(label).center()

    def rect(self, label: str) -> QRect:
        """Return where a position, or the coupon off the board with this id, is on the canvas."""
        canvas = self.page.tiles.canvas
        content = canvas.content
        place = next((at for at, tile in content.tiles.items() if tile.id == label and at.tray >= 0), None)
        return canvas.grid.rect(place or Place(parse_position(label))).toRect()


def send_mouse(widget: QWidget, kind: QEvent.Type, at: QPointF) -> None:
    """Send one event of the left button as the desktop does."""
    move, up = kind == QEvent.Type.MouseMove, kind == QEvent.Type.MouseButtonRelease
    button = Qt.MouseButton.NoButton if move else Qt.MouseButton.LeftButton
    held = Qt.MouseButton.NoButton if up else Qt.MouseButton.LeftButton
    event = QMouseEvent(kind, at, widget.mapToGlobal(at), button, held, Qt.KeyboardModifier.NoModifier)
    QApplication.sendEvent(widget, event)
    settle(1)
