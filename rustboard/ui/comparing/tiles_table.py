"""The table of treatments and boards: a cell has the coupons of one treatment on one board."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QColor, QPainter, QPen, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHeaderView,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QTableWidget,
    QTableWidgetItem,
    QWidget,
)

from rustboard.findings.boards.matching import Common
from rustboard.session.comparing import ClockedBoards
from rustboard.support.text import printable
from rustboard.ui.comparing.coupon_tiles import CellView, paint_cell, tile_size, wanted_height
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

Index = QModelIndex | QPersistentModelIndex

_NAME_LETTERS = 20
_LEAST_TILES = 2


class TilesDelegate(QStyledItemDelegate):
    """Paints the cells."""

    def __init__(self, scheme: Scheme, parent: QWidget) -> None:
        """Remember the colours."""
        super().__init__(parent)
        self.scheme = scheme

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint the coupons; names of treatments as any table has them."""
        view = index.data(Qt.ItemDataRole.UserRole)
        if not isinstance(view, CellView):
            super().paint(painter, option, index)
            return
        area = QRectF(option.rect)
        painter.save()
        painter.setClipRect(area)
        painter.fillRect(area, QColor(self.scheme.base))
        paint_cell(painter, area, view, self.scheme, option.font)
        if option.state & QStyle.StateFlag.State_Selected:
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(self.scheme.accent), 2))
            painter.drawRect(area.adjusted(1, 1, -1, -1))
        painter.restore()

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the room of a cell."""
        view = index.data(Qt.ItemDataRole.UserRole)
        if not isinstance(view, CellView):
            return super().sizeHint(option, index)
        wide, _ = tile_size(option.font)
        table = self.parent()
        width = table.columnWidth(index.column()) if isinstance(table, QTableWidget) else round(wide)
        return QSize(round(wide), wanted_height(len(view.cell.coupons), width, option.font))


class TilesTable(QTableWidget):
    """Treatments down, boards across.

    Signals:
        row_chosen(int): another row is the current one.
    """

    row_chosen = Signal(int)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(0, 0, parent)
        self._delegate = TilesDelegate(scheme, self)
        self.setItemDelegate(self._delegate)
        self.setAccessibleName(self.tr("Treatments of the boards side by side"))
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setWordWrap(True)
        self.verticalHeader().hide()
        self._wire()

    def _wire(self) -> None:
        self.currentCellChanged.connect(self._follow)

    def show_boards(self, clocked: ClockedBoards, rows: Sequence[Common]) -> None:
        """Show the boards and treatments; cells come with `show_cells`."""
        before = max(self.currentRow(), 0)
        self.setRowCount(len(rows))
        self.setColumnCount(len(clocked.boards) + 1)
        titles = [self.tr("Treatment"), *(printable(each.name) for each in clocked.boards)]
        self.setHorizontalHeaderLabels(titles)
        for column, title in enumerate(titles):
            item = self.horizontalHeaderItem(column)
            if item is not None:
                item.setToolTip(tool_tip(title))
        for at, row in enumerate(rows):
            name = QTableWidgetItem(printable(row.name))
            name.setToolTip(tool_tip(printable(row.name)))
            self.setItem(at, 0, name)
        self._size_columns()
        if rows:
            self.setCurrentCell(min(before, len(rows) - 1), 1)

    def show_cells(self, views: Sequence[Sequence[CellView]]) -> None:
        """Show what each cell has, row by row."""
        for at, row in enumerate(views):
            for column, view in enumerate(row, 1):
                item = self.item(at, column)
                if item is None:
                    item = QTableWidgetItem()
                    self.setItem(at, column, item)
                item.setData(Qt.ItemDataRole.UserRole, view)
                item.setData(Qt.ItemDataRole.AccessibleTextRole, view.words)
                item.setToolTip(tool_tip(view.words))
        self._size_rows()

    def words(self) -> list[str]:
        """Return every cell in sentences, row by row."""
        items = (self.item(row, column) for row in range(self.rowCount()) for column in range(1, self.columnCount()))
        return [str(each.data(Qt.ItemDataRole.AccessibleTextRole)) for each in items if each is not None]

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._delegate.scheme = scheme
        self.viewport().update()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the columns the room there is."""
        super().resizeEvent(event)
        self._size_columns()
        self._size_rows()

    def _size_columns(self) -> None:
        boards = self.columnCount() - 1
        if boards < 1:
            return
        header = self.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        header.setTextElideMode(Qt.TextElideMode.ElideRight)
        wide, _ = tile_size(self.font())
        names = min(self.fontMetrics().averageCharWidth() * _NAME_LETTERS, round(self.viewport().width() * 0.26))
        self.setColumnWidth(0, names)
        room = (self.viewport().width() - names) // boards
        for column in range(1, boards + 1):
            self.setColumnWidth(column, max(room, round(_LEAST_TILES * (wide + 8))))

    def _size_rows(self) -> None:
        self.resizeRowsToContents()

    @Slot(int, int, int, int)
    def _follow(self, row: int, column: int, row_before: int, column_before: int) -> None:
        if row != row_before and row >= 0:
            self.row_chosen.emit(row)
