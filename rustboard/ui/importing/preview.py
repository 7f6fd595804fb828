"""The first rows of an old table: as they stand in it, and below that as they are understood."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt, Signal, Slot
from PySide6.QtGui import QBrush, QColor
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableView, QWidget

from rustboard.support.text import one_line
from rustboard.ui.importing.columns_header import ColumnsHeader
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

if TYPE_CHECKING:
    from rustboard.board.old_grades.reading import OldReading

MOST_COLUMNS_SHOWN: Final = 100
"""Of a table with more columns only these are shown; those further right are read all the same."""
_ROWS_SHOWN: Final = 60
_CELL_SHOWN: Final = 120
_NOWHERE: Final = QModelIndex()
_BAD_SIGN: Final = "✕"
_LEADS_TO: Final = "→"

Index = QModelIndex | QPersistentModelIndex


class PreviewModel(QAbstractTableModel):
    """The cells."""

    def __init__(self, scheme: Scheme) -> None:
        """Start without rows."""
        super().__init__()
        self._reading: OldReading | None = None
        self._rows: list[int] = []
        self._bad_ground, self._bad_ink = QBrush(QColor(scheme.error)), QBrush(QColor(scheme.error_text))
        self._faint = QBrush(QColor(scheme.muted))

    def show_reading(self, reading: OldReading) -> None:
        """Show the rows under the header, and above them the header where something is wrong with it."""
        self.beginResetModel()
        self._reading = reading
        head = reading.layout.header_row
        from_row = head if any(row == head for row, _ in reading.faults) else head + 1
        self._rows = [each for each in reading.grid.numbers if each >= from_row][:_ROWS_SHOWN]
        self._skipped = {each.row: each.what for each in reading.skipped}
        self.endResetModel()

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Return how many rows are shown."""
        return 0 if parent.isValid() else len(self._rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Return how many columns are shown."""
        if parent.isValid() or self._reading is None:
            return 0
        return min(MOST_COLUMNS_SHOWN, len(self._reading.layout.columns))

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell's two lines; a bad one has a sign and colours of its own."""
        reading = self._reading
        if reading is None:
            return None
        place = (self._rows[index.row()], index.column())
        fault = reading.faults.get(place, "")
        unused = reading.layout.columns[index.column()].meaning == "nothing" or place[0] in self._skipped
        if role == Qt.ItemDataRole.DisplayRole:
            return self._two_lines(place, fault)
        if role == Qt.ItemDataRole.BackgroundRole:
            return self._bad_ground if fault else None
        if role == Qt.ItemDataRole.ForegroundRole:
            return self._bad_ink if fault else self._faint if unused else None
        if role == Qt.ItemDataRole.ToolTipRole:
            return tool_tip(fault or self._skipped.get(place[0], "") or reading.grid.text(*place))
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{self._two_lines(place, fault)} {fault}".replace("\n", " ").strip()
        return None

    def _two_lines(self, place: tuple[int, int], fault: str) -> str:
        assert self._reading is not None  # asked before
        text = one_line(self._reading.grid.text(*place), _CELL_SHOWN)
        if fault:
            return f"{text}\n{_BAD_SIGN} " + self.tr("cannot be used")
        understood = self._reading.understood.get(place, "")
        return f"{text}\n{_LEADS_TO} {understood}" if understood else text

    def headerData(self, section: int, side: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the numbers of rows as the file has them."""
        if side == Qt.Orientation.Vertical and role == Qt.ItemDataRole.DisplayRole:
            return str(self._rows[section])
        return None


class Preview(QTableView):
    """The table with its header of lists.

    Signals:
        meaning_chosen(int, str): as `ColumnsHeader` has it.
    """

    meaning_chosen = Signal(int, str)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a table."""
        super().__init__(parent)
        self.rows = PreviewModel(scheme)
        self.header = ColumnsHeader(self)
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
        down = self.verticalHeader()
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(self.fontMetrics().lineSpacing() * 2 + 8)
        self._wire()

    def _wire(self) -> None:
        self.header.meaning_chosen.connect(self.meaning_chosen)
        self.header.column_entered.connect(self._bring_into_view)

    def show_reading(self, reading: OldReading) -> None:
        """Show the first rows of a table, and what its columns hold."""
        self.rows.show_reading(reading)
        columns = reading.layout.columns[:MOST_COLUMNS_SHOWN]
        head = reading.layout.header_row
        self.header.show_columns(columns, [reading.understood.get((head, n), "") for n in range(len(columns))])
        self.header.follow_in_tab_order(self)
        titles = tuple(each.title for each in columns)
        if titles != self._widths_of:  # what a person has pulled wider stays so while it is the same table
            self._widths_of = titles
            least = self.header.width_for_list()
            for place in range(len(columns)):
                self.setColumnWidth(place, max(least, min(self.sizeHintForColumn(place) + 12, least * 2)))

    @Slot(int)
    def _bring_into_view(self, column: int) -> None:
        index = self.rows.index(max(0, self.rowAt(0)), column)
        if index.isValid():
            self.scrollTo(index)
