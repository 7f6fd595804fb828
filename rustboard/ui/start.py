"""Starting the window: the application object, the windows, and how long they live."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

from PySide6.QtCore import QObject, QSize, Signal, Slot
from PySide6.QtGui import QFont, QGuiApplication, QIcon, QPixmap
from PySide6.QtWidgets import QApplication, QWidget

from rustboard.session.jobs import Progress
from rustboard.session.pack_names import is_pack
from rustboard.support.problems import InputError
from rustboard.support.resources import resource_bytes
from rustboard.support.settings import Settings, load_settings, save_settings
from rustboard.ui.main_window import MainWindow
from rustboard.ui.theme import apply_scheme, scheme_named

MakeDemo = Callable[[Path, Callable[[str, int, int], None]], list[Path]]
_COMFORTABLE = QSize(1360, 820)
_LARGEST_SHARE = 0.96
_SMALL_SCREEN_PX = 720  # 1366 px at 200 %: the eleven keys need nearly all of it


class Program(QObject):
    """Every window of the program, and the settings they share.

    Signals:
        fault(str): a fault of ours was met, on any thread; the sentence goes to the windows.
    """

    fault = Signal(str)

    def __init__(self, settings: Settings, make_demo: MakeDemo | None = None) -> None:
        """Start without windows."""
        super().__init__()
        self.settings = settings
        self.windows: list[MainWindow] = []
        self._make_demo = make_demo
        self._wire()

    def _wire(self) -> None:
        self.fault.connect(self._show_fault)
        QGuiApplication.styleHints().colorSchemeChanged.connect(self._follow_desktop)

    def open(self, board: Path | None, *, new_window: bool, source: QWidget | None = None) -> None:
        """Open a board, or the shelf, in ``source`` or in another window."""
        window = source if isinstance(source, MainWindow) and not new_window else self.new_window()
        if board is not None and is_pack(board):
            if window.session() is None:
                window.show_shelf()
            window.boards.packing.receive(board)
            window.raise_()
            return
        opened = board is not None and window.show_board(board)
        if board is None or not (opened or window.session() is not None):
            window.show_shelf()
        window.raise_()

    def new_window(self) -> MainWindow:
        """Show another window, empty until something is opened in it."""
        window = MainWindow(self)
        self.windows.append(window)
        self._wire_window(window)
        window.resize(fitting_size(window))
        if window.screen().availableSize().width() < _SMALL_SCREEN_PX:
            window.showMaximized()
        else:
            window.show()
        return window

    def _wire_window(self, window: MainWindow) -> None:
        window.closed.connect(self._forget)

    @Slot(object)
    def _forget(self, window: MainWindow) -> None:
        self.windows.remove(window)
        window.deleteLater()

    def remember(self, board: Path) -> None:
        """Put a board at the head of the recent ones, on the disk too.

        Raises:
            InputError: the disk refused.
        """
        self.settings.remember(board)
        save_settings(self.settings)

    @Slot()
    def _follow_desktop(self) -> None:
        if self.settings.scheme == "system":
            self._dress()

    def set_scheme(self, name: str) -> None:
        """Dress every window in a scheme, and remember it."""
        self.settings.scheme = name
        self._dress()
        for window in self.windows[:1]:
            window.files.attempt(self._save)

    def _dress(self) -> None:
        scheme = scheme_named(self.settings.scheme)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            apply_scheme(app, scheme)
        for window in self.windows:
            window.set_scheme(scheme)

    def look_at_shelves_again(self) -> None:
        """Have every window that shows all boards read anew what they are."""
        for window in self.windows:
            window.shelf.reload()
            window.boards.look_again()

    def _save(self) -> None:
        save_settings(self.settings)

    def make_demo(self, window: QWidget) -> None:
        """Write the demo boards into the boards folder and open the first in this window."""
        if not isinstance(window, MainWindow):
            return
        if self._make_demo is None:
            window.message.show_error(self.tr("The demo is not part of this installation."))
            return
        window.files.working.emit(self.tr("Painting the demo boards; this takes some seconds…"))
        arrival = _DemoArrival(window)
        window.files.job = window.bridge.start(
            "demo",
            _demo_job,
            self._make_demo,
            self.settings.boards_path(),
            done=arrival.come,
            failed=arrival.fail,
            told=arrival.tell,
        )

    @Slot(str)
    def _show_fault(self, sentence: str) -> None:
        for window in self.windows:
            window.message.show_error(sentence)


class _DemoArrival:
    """What happens when the demo boards are there."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window

    def come(self, boards: list[Path]) -> None:
        if self._window.session() is None:
            self._window.show_board(boards[0])
        else:  # another board was opened meanwhile; nobody is torn away from grading
            self._window.message.show_note(self._window.tr("The demo boards are ready, among all boards."))

    def fail(self, error: InputError) -> None:
        self._window.message.show_error(str(error))

    def tell(self, done: int, total: int) -> None:
        self._window.statusBar().showMessage(f"{done} / {total}", 2_000)


def _demo_job(make_demo: MakeDemo, folder: Path, progress: Progress) -> list[Path]:
    return make_demo(folder, _Steps(progress))


class _Steps:
    """Passes the demo's steps on to a job's progress."""

    def __init__(self, progress: Progress) -> None:
        self._progress = progress

    def __call__(self, what: str, done: int, total: int) -> None:
        self._progress.step(done, total)


def fitting_size(window: MainWindow) -> QSize:
    """Return a comfortable size that fits the screen."""
    room = window.screen().availableSize() * _LARGEST_SHARE
    return _COMFORTABLE.boundedTo(room)


def make_application(settings: Settings) -> QApplication:
    """Return the application object, dressed."""
    existing = QApplication.instance()
    app = existing if isinstance(existing, QApplication) else QApplication(sys.argv[:1])
    app.setApplicationName("rustboard")
    app.setApplicationDisplayName("")
    icon = QPixmap()
    if icon.loadFromData(resource_bytes("icon.svg")):
        app.setWindowIcon(QIcon(icon))
    if app.font().pointSizeF() < 9:
        app.setFont(QFont(app.font().family(), 9))
    apply_scheme(app, scheme_named(settings.scheme))
    return app


_RUNNING: list[Program] = []


def show_fault(sentence: str) -> None:
    """Show the sentence about a fault of ours in every window; may be called from any thread."""
    for program in _RUNNING:
        program.fault.emit(sentence)
    if not _RUNNING:
        sys.stderr.write(f"{sentence}\n")


def open_window(board: Path | None, *, demo: bool = False, make_demo: Any = None) -> int:
    """Open the main window on a board, or on the shelf; run until the last window is closed.

    Args:
        board: folder or board file, or None for the shelf.
        demo: whether this is the demo board; says so in the window.
        make_demo: writes the demo boards into a folder, for the shelf's button.

    Returns:
        The program's exit code.
    """
    settings = load_settings()
    app = make_application(settings)
    program = Program(settings, make_demo)
    _RUNNING.append(program)
    try:
        program.open(board, new_window=True)
        if demo and program.windows:
            program.windows[0].message.show_note(
                program.tr("This is the demo board: tap a tile to grade it. Nothing here is a real measurement.")
            )
        return app.exec()
    finally:
        _RUNNING.remove(program)
