"""The first rows of a logger's file: as they stand in it, and below that as they are understood."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QBrush, QColor
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from rustboard.ui.loggers.column_header import ColumnHeader
from rustboard.ui.loggers.logger_words import value_text
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.weather_cells import SeenCell
    from rustboard.session.weather_intake import LoggerReading

MOST_COLUMNS_SHOWN: Final = 60
"""Of a file with more columns only these are shown; those further right are read all the same."""
_NOWHERE: Final = QModelIndex()
BAD_SIGN: Final = "✕"
_LEADS_TO: Final = "→"

Index = QModelIndex | QPersistentModelIndex


class PreviewModel(QAbstractTableModel):
    """The cells."""

    def __init__(self, scheme: Scheme) -> None:
        """Start without rows."""
        super().__init__()
        self._rows: list[tuple[int, tuple[SeenCell, ...]]] = []
        self._columns = 0
        self._bad_ground, self._bad_ink = QBrush(QColor(scheme.error)), QBrush(QColor(scheme.error_text))
        self._faint = QBrush(QColor(scheme.muted))

    def show_rows(self, rows: list[tuple[int, tuple[SeenCell, ...]]], columns: int) -> None:
        """Show other rows, each with its number in the file."""
        self.beginResetModel()
        self._rows, self._columns = rows, columns
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Return how many rows are shown."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Return how many columns are shown."""
        return 0 if parent.isValid() else self._columns

    def cell(self, row: int, column: int) -> SeenCell:
        """Return a cell."""
        return self._rows[row][1][column]

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell's two lines; a bad one has a sign and colours of its own."""
        cell = self.cell(index.row(), index.column())
        if role == Qt.ItemDataRole.DisplayRole:
            return self._two_lines(cell)
        if role == Qt.ItemDataRole.BackgroundRole:
            return self._bad_ground if cell.state == "bad" else None
        if role == Qt.ItemDataRole.ForegroundRole:
            if cell.state == "bad":
                return self._bad_ink
            return self._faint if cell.state in ("ignored", "no reading") else None
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return self._two_lines(cell).replace("\n", " ")
        return None

    def _two_lines(self, cell: SeenCell) -> str:
        if cell.state == "ignored":
            return cell.text
        if cell.state == "bad":
            return f"{cell.text}\n{BAD_SIGN} " + self.tr("cannot be used")
        if cell.state == "no reading":
            return f"{cell.text}\n{_LEADS_TO} " + self.tr("no reading")
        return f"{cell.text}\n{_LEADS_TO} {value_text(cell)}"

    def headerData(self, section: int, side: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the numbers of rows as the file has them."""
        if side == Qt.Orientation.Vertical and role == Qt.ItemDataRole.DisplayRole:
            return str(self._rows[section][0])
        return None


class PreviewTable(QTableView):
    """The table with its header of lists.

    Signals:
        column_changed(int, str, str): as `ColumnHeader` has it.
    """

    column_changed = Signal(int, str, str)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a file."""
        super().__init__(parent)
        self.rows = PreviewModel(scheme)
        self.header = ColumnHeader(self)
        self._widths_of: tuple[str, ...] | None = None
        self.setModel(self.rows)
        self.setHorizontalHeader(self.header)
        self.setAccessibleName(self.tr("The first rows, and how they are understood"))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setTabKeyNavigation(False)
        self.setWordWrap(False)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        down = self.verticalHeader()
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(self.fontMetrics().lineSpacing() * 2 + 8)
        self._wire()

    def _wire(self) -> None:
        self.header.column_changed.connect(self.column_changed)
        self.header.column_entered.connect(self._bring_into_view)

    def show_reading(self, reading: LoggerReading) -> None:
        """Show the first rows of a file, and what its columns hold."""
        from rustboard.session.weather_cells import seen_cells
        from rustboard.weather.logger_file.options import UNITS_OF

        columns = reading.options.columns[:MOST_COLUMNS_SHOWN]
        rows = [(each.row, seen_cells(each, reading.options)) for each in reading.rows]
        self.rows.show_rows(rows, len(columns))
        self.header.show_columns(columns, {name: tuple(units) for name, units in UNITS_OF.items()})
        self.header.follow_in_tab_order(self)
        titles = tuple(each.title for each in columns)
        if titles != self._widths_of:  # what a person has pulled wider stays so while it is the same file
            self._widths_of = titles
            least = self.header.width_for_list()
            widest = least * 2
            for place in range(len(columns)):
                self.setColumnWidth(place, max(least, min(self.sizeHintForColumn(place) + 12, widest)))

    @Slot(int)
    def _bring_into_view(self, column: int) -> None:
        top = self.rowAt(0)
        index = self.rows.index(max(0, top), column)
        if index.isValid():
            self.scrollTo(index)
