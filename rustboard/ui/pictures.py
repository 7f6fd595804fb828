"""Pictures of the window for machines without a display: what a user would see, as PNG, and its paper as PDF."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import (
    QBuffer,
    QByteArray,
    QElapsedTimer,
    QEventLoop,
    QIODevice,
    QMessageLogContext,
    QSize,
    QtMsgType,
    qInstallMessageHandler,
)
from PySide6.QtWidgets import QApplication

from rustboard.board.record import BoardRecord
from rustboard.session.jobs import InlineExecutor
from rustboard.session.new_board import folder_name
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.main_window import MainWindow
from rustboard.ui.start import Program, make_application
from rustboard.ui.theme import apply_scheme, scheme_named

_SIZE = QSize(1366, 768)
_LONGEST_WAIT_MS = 8_000
_PLAN_WAIT_MS = 500


def write_pictures(boards: list[Path], folder: Path) -> list[Path]:
    """Draw the window on each board, and one of them being graded; return the files written.

    Nothing of the user's settings is read or changed.

    Raises:
        InputError: a board cannot be opened, or the disk refused.
    """
    before = qInstallMessageHandler(_pass_on)
    try:
        return _written(boards, folder)
    finally:
        qInstallMessageHandler(before)


def _pass_on(kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
    """Pass Qt's messages on, but for what the windowless platform says of every window."""
    if not message.startswith("This plugin does not support"):
        sys.stderr.write(f"{message}\n")


def _written(boards: list[Path], folder: Path) -> list[Path]:
    settings = Settings(scheme="light", boards_folder=str(folder))
    app = make_application(settings)
    program = _Quiet(settings)
    written: list[Path] = []
    for number, board in enumerate(boards):
        window = MainWindow(program, executor=InlineExecutor())
        try:
            window.resize(_SIZE)
            window.show()
            if not window.show_board(board):
                raise InputError(window.message.text() or "The board cannot be opened.", file=board.name)
            _settle(app, _Ready(window))
            name = folder_name(board.name)
            written.append(_save(window, folder / f"{name} - board.png"))
            if number == 0:
                written.extend(_more_pictures(app, window, folder, name))
        finally:
            window.close()
    return written


def _more_pictures(app: QApplication, window: MainWindow, folder: Path, name: str) -> list[Path]:
    page = window.page
    if page is None:
        return []
    written = []
    for scheme in ("dark", "sunlight"):
        apply_scheme(app, scheme_named(scheme))
        window.set_scheme(scheme_named(scheme))
        _settle(app, _Ready(window))
        written.append(_save(window, folder / f"{name} - {scheme}.png"))
    apply_scheme(app, scheme_named("light"))
    window.set_scheme(scheme_named("light"))
    page.grade_next()
    _settle(app, _Ready(window))
    written.append(_save(window, folder / f"{name} - grading.png"))
    page.close_grading()
    page.tiles.show_table(True)
    _settle(app, _Ready(window))
    written.append(_save(window, folder / f"{name} - table.png"))
    page.tiles.show_table(False)
    screens = (
        ("plan", window.plan),
        ("photos", window.photos),
        ("agreement", window.agreement),
        ("findings", window.findings),
        ("weather", window.weather.screen),
    )
    for title, commands in screens:
        commands.show_screen()
        if commands is window.plan and window.plan.screen is not None:
            window.plan.screen.choose("proof")
        _settle(app, _Planned(window))
        written.append(_save(window, folder / f"{name} - {title}.png"))
        commands.leave()
    written.append(_save_paper(page.session.record, folder / f"{name} - paper.pdf"))
    return written


def _save_paper(record: BoardRecord, path: Path) -> Path:
    from rustboard.report.paper.choice import PaperChoice
    from rustboard.report.paper.document import compose
    from rustboard.ui.paper.renderer import pdf_of

    write_whole(path, pdf_of(compose(record, PaperChoice()), record.board.name))
    return path


class _Quiet(Program):
    """Windows that leave the user's settings alone."""

    def remember(self, board: Path) -> None:
        """Change nothing."""

    def set_scheme(self, name: str) -> None:
        """Change nothing."""


class _Planned:
    """Whether the plan has nothing more to work out; its figures are asked for a moment after it is shown."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window
        self._since = QElapsedTimer()
        self._since.start()

    def __call__(self) -> bool:
        return self._since.hasExpired(_PLAN_WAIT_MS) and not self._window.bridge.busy()


class _Ready:
    """Whether a window has nothing more to fetch."""

    def __init__(self, window: MainWindow) -> None:
        self._window = window

    def __call__(self) -> bool:
        page = self._window.page
        return page is not None and page.timeline is not None and not self._window.bridge.busy()


def _settle(app: QApplication, ready: Callable[[], bool]) -> None:
    """Let the window finish: its jobs run inline, but layout and painting take turns of the event loop."""
    timer = QElapsedTimer()
    timer.start()
    turns = 0
    while turns < 6 and not timer.hasExpired(_LONGEST_WAIT_MS):
        app.processEvents(QEventLoop.ProcessEventsFlag.AllEvents, 50)
        turns = turns + 1 if ready() else 0


def _save(window: MainWindow, path: Path) -> Path:
    data = QByteArray()
    buffer = QBuffer(data)
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    window.grab().save(buffer, "PNG")
    write_whole(path, bytes(data.data()))
    return path
