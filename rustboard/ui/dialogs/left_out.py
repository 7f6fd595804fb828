"""What of a file was left out, and why: every row of it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget

from rustboard.support.problems import Problem
from rustboard.ui.forms.table import TableDialog


class LeftOutDialog(TableDialog):
    """The problems of one file by row."""

    def __init__(self, problems: Sequence[Problem], parent: QWidget | None = None) -> None:
        """Show the problems."""
        super().__init__(parent)
        self.describe(self.tr("Left out"), [self.tr("Row"), self.tr("Column"), self.tr("What is wrong")], wide=2)
        self.table.setWordWrap(True)
        self.show_rows([("" if each.row is None else str(each.row), each.column, each.what) for each in problems])
        self.table.setTextElideMode(Qt.TextElideMode.ElideNone)

    def showEvent(self, event: QShowEvent) -> None:
        """Make every row as high as its sentence needs, once the width is known."""
        super().showEvent(event)
        self.resize(max(self.width(), 760), self.height())
        self.table.resizeRowsToContents()
