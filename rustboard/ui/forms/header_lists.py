"""A table's header with lists to choose from under each title; they stay in view while the rows scroll."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QEvent, QObject, QRect, QSize, Qt, Signal, Slot
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QComboBox, QHeaderView, QWidget

_GAP: Final = 3
_LIST_IN_LETTERS: Final = 30


class HeaderLists(QHeaderView):
    """A header whose columns have one list or more each.

    Signals:
        column_entered(int): the keyboard came to the lists of a column.

    Attributes:
        lists: of each column that was ever shown, those under one another.
    """

    column_entered = Signal(int)

    def __init__(self, lists_a_column: int, parent: QWidget | None = None) -> None:
        """Build an empty header."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self.lists: list[tuple[QComboBox, ...]] = []
        self._each = lists_a_column
        self._titles: list[str] = []
        self.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self._wire()

    def _wire(self) -> None:
        self.sectionResized.connect(self._place)
        self.geometriesChanged.connect(self._place)

    def show_titles(self, titles: Sequence[str]) -> None:
        """Show a title over each column, and as many lists as there are titles."""
        while len(self.lists) < len(titles):
            fields = tuple(self._list() for _ in range(self._each))
            self.lists.append(fields)
            self._wire_lists(*fields)
        self._titles = list(titles)

    def show_lists(self) -> None:
        """Put the lists in their places once they hold what they should."""
        self._place()
        self.viewport().update()

    def _wire_lists(self, *fields: QComboBox) -> None:
        """Fill and connect the lists of one more column."""
        raise NotImplementedError

    def follow_in_tab_order(self, before: QWidget) -> None:
        """Let the Tab key go from a widget through the lists, column by column."""
        for fields in self.lists:
            for each in fields:
                QWidget.setTabOrder(before, each)
                before = each

    def _list(self) -> QComboBox:
        field = QComboBox(self.viewport())
        field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        field.setMinimumContentsLength(6)
        field.view().setMinimumWidth(self.fontMetrics().averageCharWidth() * _LIST_IN_LETTERS)
        field.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        field.installEventFilter(self)
        return field

    def column_of(self, field: QObject | None) -> int:
        """Return the column of a list, or -1."""
        return next((column for column, fields in enumerate(self.lists) if field in fields), -1)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell of the column that the keyboard comes to; the wheel scrolls the rows and changes no list."""
        if event.type() == QEvent.Type.FocusIn and self.column_of(watched) >= 0:
            self.column_entered.emit(self.column_of(watched))
        if event.type() == QEvent.Type.Wheel:
            event.ignore()
            return True
        return super().eventFilter(watched, event)

    # ---- places

    def setOffset(self, offset: int) -> None:
        """Scroll sideways, the lists too."""
        super().setOffset(offset)
        self._place()

    @Slot()
    def _place(self) -> None:
        top = self._title_height()
        height = self._list_height()
        for index in range(min(len(self._titles), self.count())):
            left, width = self.sectionViewportPosition(index) + 2, self.sectionSize(index) - 5
            for number, each in enumerate(self.lists[index]):
                each.setGeometry(QRect(left, top + number * (height + _GAP), width, height))

    def _title_height(self) -> int:
        return self.fontMetrics().height() + 2 * _GAP

    def _list_height(self) -> int:
        return self.lists[0][0].sizeHint().height() if self.lists else self.fontMetrics().height() + 8

    def sizeHint(self) -> QSize:
        """Return the height of a title and its lists."""
        height = self._title_height() + self._each * (self._list_height() + _GAP) + 1
        return QSize(super().sizeHint().width(), height)

    def paintSection(self, painter: QPainter, rect: QRect, index: int) -> None:
        """Paint the title above the lists."""
        painter.save()
        painter.fillRect(rect, self.palette().window())
        painter.setPen(self.palette().mid().color())
        painter.drawLine(rect.topRight(), rect.bottomRight())
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        title = self._titles[index] if index < len(self._titles) else ""
        faint = not title
        font = painter.font()
        font.setBold(not faint)
        painter.setFont(font)
        painter.setPen(self.palette().placeholderText().color() if faint else self.palette().windowText().color())
        room = rect.adjusted(5, _GAP, -5, 0)
        shown = title or self.tr("column {0}").format(index + 1)
        text = painter.fontMetrics().elidedText(shown, Qt.TextElideMode.ElideMiddle, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, text)
        painter.restore()
