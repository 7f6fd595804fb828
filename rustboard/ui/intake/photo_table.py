"""A list of photos with thumbnails, times and what becomes of them."""

from __future__ import annotations

import html
from collections.abc import Iterable, Sequence
from typing import Final

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QIcon, QImage, QPixmap, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from rustboard.support.text import one_line

THUMBNAIL: Final = QSize(72, 54)
_LONGEST: Final = 300
_SHARES: Final = (0.36, 0.22, 0.17)


class PhotoTable(QTableWidget):
    """One row a photo, the first cell with a box to tick.

    Signals:
        ticked(): a photo was ticked, or no longer is.
    """

    ticked = Signal()

    def __init__(self, headers: Sequence[str], name: str, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(0, len(headers), parent)
        self._filling = False
        self.setHorizontalHeaderLabels(list(headers))
        self.setAccessibleName(name)
        self.setIconSize(THUMBNAIL)
        self.setWordWrap(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.verticalHeader().hide()
        self.horizontalHeader().setHighlightSections(False)
        self.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        self._wire()

    def _wire(self) -> None:
        self.itemChanged.connect(self._tell)

    @Slot()
    def _tell(self) -> None:
        if not self._filling:
            self.ticked.emit()

    def show_photos(
        self, pictures: Sequence[QImage], rows: Sequence[Sequence[str]], tickable: Sequence[bool]
    ) -> None:
        """Show other photos; those that can be ticked are."""
        self._filling = True
        self.setRowCount(len(rows))
        for number, row in enumerate(rows):
            for column, text in enumerate(row):
                self.setItem(number, column, QTableWidgetItem())
                self.set_text(number, column, text)
            first = self._first(number)
            self.set_picture(number, pictures[number])
            if tickable[number]:
                first.setFlags(first.flags() | Qt.ItemFlag.ItemIsUserCheckable)
                first.setCheckState(Qt.CheckState.Checked)
            else:
                first.setFlags(first.flags() & ~Qt.ItemFlag.ItemIsUserCheckable)
            self.setRowHeight(number, THUMBNAIL.height() + 8)
        self._fit()
        self._filling = False
        if rows:
            self.selectRow(0)

    def set_picture(self, row: int, picture: QImage) -> None:
        """Show a small picture in a row; a null one is none."""
        filling, self._filling = self._filling, True
        if not picture.isNull():
            self._first(row).setIcon(QIcon(QPixmap.fromImage(picture)))
        self._filling = filling

    def set_text(self, row: int, column: int, text: str) -> None:
        """Write into a cell, as one safe line, with all of it as a tool tip."""
        filling, self._filling = self._filling, True
        item = self.item(row, column)
        shown = one_line(text, _LONGEST)
        if item is not None and item.text() != shown:
            item.setText(shown)
            item.setToolTip(f"<p>{html.escape(shown)}</p>")
        self._filling = filling

    def ticked_rows(self) -> list[int]:
        """Return the numbers of the photos ticked."""
        return [row for row in range(self.rowCount()) if self._first(row).checkState() == Qt.CheckState.Checked]

    def tick(self, rows: Iterable[int]) -> None:
        """Tick these photos and no others."""
        wanted, self._filling = set(rows), True
        for row in range(self.rowCount()):
            item = self._first(row)
            if item.flags() & Qt.ItemFlag.ItemIsUserCheckable:
                item.setCheckState(Qt.CheckState.Checked if row in wanted else Qt.CheckState.Unchecked)
        self._filling = False
        self.ticked.emit()

    def chosen(self) -> int:
        """Return the number of the chosen row, or -1."""
        rows = self.selectionModel().selectedRows()
        return rows[0].row() if rows else -1

    def _first(self, row: int) -> QTableWidgetItem:
        return self.item(row, 0) or QTableWidgetItem()

    def _fit(self) -> None:
        letters, room = self.fontMetrics().averageCharWidth(), self.viewport().width()
        header = self.horizontalHeader()
        wanted = (THUMBNAIL.width() + letters * 30, letters * 20, letters * 18)
        for column, width in enumerate(wanted):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.Interactive)
            # In a narrow window every column keeps a share, so that what becomes of a photo is always seen.
            least = header.sectionSizeHint(column) if column else 0
            header.resizeSection(column, max(least, min(width, round(room * _SHARES[column]))))
        header.setSectionResizeMode(self.columnCount() - 1, QHeaderView.ResizeMode.Stretch)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Share the room anew."""
        super().resizeEvent(event)
        self._fit()

    def sizeHint(self) -> QSize:
        """Ask for little: the table takes what is left."""
        return QSize(300, 140)

    def minimumSizeHint(self) -> QSize:
        """Return a size in which a row is still seen."""
        return QSize(200, THUMBNAIL.height() + self.fontMetrics().height() * 2 + 20)
