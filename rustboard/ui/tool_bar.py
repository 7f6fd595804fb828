"""The few actions that are always at hand."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QToolBar

_GROUPS = (
    ("file.shelf",),
    ("edit.undo", "edit.redo"),
    ("board.plan", "photos.show"),
    ("round.next", "view.table", "view.timeline"),
    ("findings.show", "weather.show"),  # late, because at 200 % the last ones have no room
    ("file.report",),
)


def tool_bar(actions: Mapping[str, QAction]) -> QToolBar:
    """Return the tool bar of a window with these actions."""
    bar = QToolBar(QCoreApplication.translate("tool bar", "Tools"))
    bar.setMovable(False)
    bar.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)
    for number, group in enumerate(_GROUPS):
        if number:
            bar.addSeparator()
        for name in group:
            bar.addAction(actions[name])
    actions["photos.show"].setIconText(QCoreApplication.translate("tool bar", "Photos"))  # room is dear at 200 %
    actions["weather.show"].setIconText(QCoreApplication.translate("tool bar", "Weather"))
    return bar
