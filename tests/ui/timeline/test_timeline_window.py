"""The timeline as a part of a window: it opens no window of its own."""

from __future__ import annotations

from contextlib import closing

from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QWidget
from window_driving import made_board

from rustboard.session.session import Session
from rustboard.ui.theme import LIGHT
from rustboard.ui.timeline.panel import TimelinePanel


class _Windows(QObject):
    """Remembers every widget that was shown as a window."""

    def __init__(self) -> None:
        super().__init__()
        self.shown: list[str] = []

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() == QEvent.Type.Show and isinstance(watched, QWidget) and watched.isWindow():
            self.shown.append(type(watched).__name__)
        return False


def test_building_the_timeline_shows_no_window(qtbot, tmp_path) -> None:
    with closing(Session(made_board(tmp_path / "b", coupons=2))) as session:
        windows = _Windows()
        QApplication.instance().installEventFilter(windows)
        try:
            panel = TimelinePanel(session, LIGHT)
            qtbot.addWidget(panel)
        finally:
            QApplication.instance().removeEventFilter(windows)
        assert windows.shown == []
