"""A read-only table whose numbers stand to the right."""

from __future__ import annotations

import html
from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QTableWidget, QTableWidgetItem, QWidget

from rustboard.support.text import printable

_LONGEST = 200
_ROOM_PX = 8


class PlainTable(QTableWidget):
    """Rows of texts; the first ``texts`` columns are words, the others numbers."""

    def __init__(
        self, headers: Sequence[str], texts: int, name: str, parent: QWidget | None = None, *, wide: int | None = 0
    ) -> None:
        """Build an empty table.

        Args:
            headers: of the columns.
            texts: how many columns are words.
            name: what a screen reader calls it.
            parent: where it stands.
            wide: the column that takes the room that is left; None = all alike.
        """
        super().__init__(0, len(headers), parent)
        self._texts, self._wide = texts, wide
        self.setAccessibleName(name)
        self.setHorizontalHeaderLabels(list(headers))
        for column in range(len(headers)):
            item = self.horizontalHeaderItem(column)
            if item is not None:
                item.setTextAlignment(self._alignment(column))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)

    def _alignment(self, column: int) -> Qt.AlignmentFlag:
        side = Qt.AlignmentFlag.AlignLeft if column < self._texts else Qt.AlignmentFlag.AlignRight
        return side | Qt.AlignmentFlag.AlignVCenter

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show other rows, each a text a column."""
        self.setRowCount(len(rows))
        for number, row in enumerate(rows):
            for column, text in enumerate(row):
                item = QTableWidgetItem(printable(text)[:_LONGEST])
                item.setTextAlignment(self._alignment(column))
                item.setToolTip(f"<p>{html.escape(item.text())}</p>")
                self.setItem(number, column, item)
        self._fit_columns()

    def _fit_columns(self) -> None:
        self.resizeColumnsToContents()
        header = self.horizontalHeader()
        for column in range(self.columnCount()):
            header.resizeSection(column, header.sectionSize(column) + _ROOM_PX)
        spare = self.viewport().width() - header.length()
        if spare > 0 and self._wide is not None:
            header.resizeSection(self._wide, header.sectionSize(self._wide) + spare)
        elif spare > 0:
            for column in range(self.columnCount()):
                header.resizeSection(column, header.sectionSize(column) + spare // self.columnCount())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Let the wide column take what is left."""
        super().resizeEvent(event)
        self._fit_columns()

    def height_of_rows(self, most: int) -> int:
        """Return the height of the header and of its rows, of ``most`` at most."""
        rows = sum(self.rowHeight(row) for row in range(min(most, self.rowCount())))
        may_scroll = self.horizontalScrollBarPolicy() != Qt.ScrollBarPolicy.ScrollBarAlwaysOff
        bar = self.horizontalScrollBar().sizeHint().height() if may_scroll else 0
        return self.horizontalHeader().sizeHint().height() + rows + 2 * self.frameWidth() + bar

    def sizeHint(self) -> QSize:
        """Return a size for some rows."""
        return QSize(self.fontMetrics().averageCharWidth() * 60, self.height_of_rows(8))
