"""Loggers' files: what each holds, what of it was left out, and in which order loggers count."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QPushButton,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.record import BoardRecord
from rustboard.board.weather import WeatherFile
from rustboard.session.exposure import Gap
from rustboard.support.text import printable
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label
from rustboard.ui.turned_split import turn_split
from rustboard.ui.weather.details import Details
from rustboard.ui.weather.file_words import file_row, file_sections, files_in_order
from rustboard.ui.wording import tool_tip

_NARROW = 900
_TABLE_SHARE = 0.7
_NUMBERS = (4, 5)


class FilesPage(QWidget):
    """The tab of loggers' files.

    Signals:
        add_asked(): a logger's file is to be added. remove_asked(int): take the file with this key off the board.

    Attributes:
        table, details: its parts. add, remove: its buttons.
    """

    add_asked = Signal()
    remove_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._files: list[WeatherFile] = []
        self._gaps: Sequence[Gap] | None = None
        self._writable = True
        self.add = QPushButton(self.tr("Add a lo&gger's file…"))
        self.remove = QPushButton(self.tr("Take &off the board"))
        self._words = words_label(
            self.tr(
                "All files of one logger make one series. Where several loggers read at the same time, the one that "
                "stands first here counts: the one that was added first. The next ones fill where it has nothing, "
                "and the days noted by hand fill what is left. To put another logger first, take the files of the "
                "one above it off and add them again."
            ),
            muted=True,
        )
        self._none = words_label(self.tr("No logger's file is on this board; what is known was noted by hand."))
        self.table = self._new_table()
        self.details = Details(self.tr("The chosen file in words"))
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.table)
        self._split.addWidget(self.details)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 6, 4, 4)
        column.addWidget(flowing(self.add, self.remove, spacing=6))
        column.addWidget(self._words)
        column.addWidget(self._none)
        column.addWidget(self._split, 1)
        column.addStretch(0)
        self._wire()

    def _new_table(self) -> QTableWidget:
        headers = (
            self.tr("Logger"), self.tr("File"), self.tr("From"), self.tr("To"), self.tr("Readings"),
            self.tr("Left out"), self.tr("Clock"), self.tr("What was read"),
        )  # fmt: skip
        table = QTableWidget(0, len(headers))
        table.setHorizontalHeaderLabels(list(headers))
        table.setAccessibleName(self.tr("Loggers' files"))
        table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        table.setAlternatingRowColors(True)
        table.setShowGrid(False)
        table.setWordWrap(False)
        table.setTabKeyNavigation(False)
        table.verticalHeader().hide()
        table.horizontalHeader().setHighlightSections(False)
        table.horizontalHeader().setStretchLastSection(True)
        table.horizontalHeader().setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        return table

    def _wire(self) -> None:
        self.add.clicked.connect(self._ask_add)
        self.remove.clicked.connect(self._ask_remove)
        self.table.itemSelectionChanged.connect(self._follow_choice)

    def show_files(self, record: BoardRecord, gaps: Sequence[Gap] | None, *, writable: bool) -> None:
        """Show the files of a board and the gaps in all that is known (None = not worked out yet).

        The same file stays chosen.
        """
        before = self.chosen()
        self._files = files_in_order(record)
        self._gaps, self._writable = gaps, writable
        self.table.setRowCount(len(self._files))
        for row, each in enumerate(self._files):
            for column, text in enumerate(file_row(each)):
                item = QTableWidgetItem(printable(text))
                item.setToolTip(tool_tip(text))
                if column in _NUMBERS:
                    item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
                self.table.setItem(row, column, item)
        self._fit()
        self._none.setVisible(not self._files)
        self._split.setVisible(bool(self._files))
        self._words.setVisible(bool(self._files))
        keys = [each.key for each in self._files]
        if keys:
            self.table.selectRow(keys.index(before.key) if before is not None and before.key in keys else 0)
        self._follow_choice()

    def chosen(self) -> WeatherFile | None:
        """Return the chosen file, or None."""
        rows = self.table.selectionModel().selectedRows()
        return self._files[rows[0].row()] if rows and rows[0].row() < len(self._files) else None

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the words below the table where there is no room beside it."""
        super().resizeEvent(event)
        turn_split(self._split, event, _NARROW, _TABLE_SHARE if event.size().width() >= _NARROW else 0.5)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Delete takes the chosen file off the board."""
        if event.key() == Qt.Key.Key_Delete and self.table.hasFocus():
            self._ask_remove()
        else:
            super().keyPressEvent(event)

    def _fit(self) -> None:
        self.table.resizeColumnsToContents()
        widest = self.fontMetrics().averageCharWidth() * 30
        for column in range(self.table.columnCount() - 1):
            self.table.setColumnWidth(column, min(widest, self.table.columnWidth(column) + 10))

    @Slot()
    def _follow_choice(self) -> None:
        file = self.chosen()
        self.add.setEnabled(self._writable)
        self.remove.setEnabled(self._writable and file is not None)
        self.details.show_sections([] if file is None else file_sections(file, self._gaps))

    @Slot()
    def _ask_add(self) -> None:
        self.add_asked.emit()

    @Slot()
    def _ask_remove(self) -> None:
        file = self.chosen()
        if file is not None and self._writable:
            self.remove_asked.emit(file.key)
