"""What differs between the boards, as a small table: what differs is said in a word, not by colour alone."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from rustboard.session.board_differences import BoardDifference
from rustboard.support.text import printable
from rustboard.ui.comparing.comparing_words import alike_text, aspect_text, value_text
from rustboard.ui.wording import tool_tip


class DifferencesTable(QTableWidget):
    """A row for each thing, a column for each board; what differs comes first."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(0, 0, parent)
        self.setAccessibleName(self.tr("What differs between the boards"))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setShowGrid(False)
        self.setAlternatingRowColors(True)
        self.verticalHeader().hide()
        self.setMinimumHeight(self.fontMetrics().height() * 5)

    def show_differences(self, boards: Sequence[str], rows: Sequence[BoardDifference]) -> None:
        """Show what differs, and below what is alike."""
        ordered = sorted(rows, key=lambda each: each.alike != "differs")
        self.setRowCount(len(ordered))
        self.setColumnCount(len(boards) + 2)
        titles = ["", self.tr("The boards are"), *map(printable, boards)]
        self.setHorizontalHeaderLabels(titles)
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        for at, row in enumerate(ordered):
            texts = [aspect_text(row.aspect), alike_text(row.alike), *(value_text(row, each) for each in row.values)]
            for column, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setToolTip(tool_tip(text))
                if row.alike == "differs" and column < 2:
                    item.setFont(bold)
                self.setItem(at, column, item)
        header = self.horizontalHeader()
        header.setTextElideMode(Qt.TextElideMode.ElideRight)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.Stretch)
        for column in range(2):
            header.setSectionResizeMode(column, QHeaderView.ResizeMode.ResizeToContents)
        self.resizeRowsToContents()

    def lines(self) -> list[str]:
        """Return every row as a line, its cells separated by tabulators."""
        found = []
        for row in range(self.rowCount()):
            items = (self.item(row, column) for column in range(self.columnCount()))
            found.append("\t".join("" if each is None else each.text() for each in items))
        return found
