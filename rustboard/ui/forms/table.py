"""Dialogs that show a table: one line a row, read only."""

from __future__ import annotations

import html
from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialogButtonBox,
    QHeaderView,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.support.text import printable
from rustboard.ui.forms.fitting_dialog import FittingDialog

_SHOWN: Final = 500
_WIDEST_COLUMN_IN_LETTERS: Final = 22


class TableDialog(FittingDialog):
    """A table with a Close button.

    Attributes:
        table: the table.
        buttons: the row of buttons at the foot.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty table; `describe` names it and its columns."""
        super().__init__(parent)
        self.setModal(True)
        self._wide = 0
        self.table = QTableWidget()
        self.table.setWordWrap(False)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        close = self.buttons.button(QDialogButtonBox.StandardButton.Close)
        close.setAutoDefault(False)
        close.setIcon(QIcon())
        self.column = QVBoxLayout(self)
        self.column.addWidget(self.table, 1)
        self.column.addWidget(self.buttons)
        self._wire_table()
        self.table.setFocus()

    def _wire_table(self) -> None:
        self.buttons.rejected.connect(self.reject)

    def describe(self, title: str, headers: Sequence[str], wide: int) -> None:
        """Name the dialog and its columns; the column number ``wide`` takes the room that is left."""
        self.setWindowTitle(title)
        self.table.setAccessibleName(title)
        self.table.setColumnCount(len(headers))
        self.table.setHorizontalHeaderLabels(list(headers))
        self._wide = wide

    def show_rows(self, rows: Sequence[Sequence[str]]) -> None:
        """Show other rows, each a text a column."""
        self.table.setRowCount(len(rows))
        for number, row in enumerate(rows):
            for place, text in enumerate(row):
                shown = printable(text)
                item = QTableWidgetItem(shown if len(shown) <= _SHOWN else f"{shown[:_SHOWN]}…")
                # As a paragraph, so that a long text is wrapped; what was typed is no markup.
                item.setToolTip(f"<p>{html.escape(item.text())}</p>")
                self.table.setItem(number, place, item)
        self._fit_columns()

    def _fit_columns(self) -> None:
        header = self.table.horizontalHeader()
        widest = self.fontMetrics().averageCharWidth() * _WIDEST_COLUMN_IN_LETTERS
        self.table.resizeColumnsToContents()
        for place in range(self.table.columnCount()):
            header.setSectionResizeMode(place, QHeaderView.ResizeMode.Interactive)
            header.resizeSection(place, min(widest, header.sectionSize(place) + 12))
        header.setSectionResizeMode(self._wide, QHeaderView.ResizeMode.Stretch)

    def sizeHint(self) -> QSize:
        """Return a size for reading, as far as the screen has room."""
        letters = self.fontMetrics().averageCharWidth()
        lines = min(18, max(6, self.table.rowCount())) + 5
        return QSize(letters * 92, round(self.fontMetrics().height() * 1.9 * lines)).boundedTo(self._room())

    def minimumSizeHint(self) -> QSize:
        """Return a size in which a few rows are still seen."""
        return QSize(self.fontMetrics().averageCharWidth() * 40, self.fontMetrics().height() * 10)
