"""The header of the preview: for each column its title, what it holds, and in which unit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QObject, QRect, QSignalBlocker, QSize, Qt, Signal, Slot
from PySide6.QtGui import QPainter
from PySide6.QtWidgets import QComboBox, QHeaderView, QWidget

from rustboard.ui.loggers.logger_words import ROLES, say, unit_text

if TYPE_CHECKING:
    from rustboard.weather.logger_file.options import Column

_GAP: Final = 3


class ColumnHeader(QHeaderView):
    """Two lists stand under each title, and stay in view while the rows scroll.

    Signals:
        column_changed(int, str, str): the place of a column, what it holds now, and its unit.
        column_entered(int): the keyboard came to the lists of a column.
    """

    column_changed = Signal(int, str, str)
    column_entered = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty header."""
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._roles: list[QComboBox] = []
        self._units: list[QComboBox] = []
        self._titles: list[str] = []
        self.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        self.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop)
        self._wire()

    def _wire(self) -> None:
        self.sectionResized.connect(self._place)
        self.geometriesChanged.connect(self._place)

    def show_columns(self, columns: Sequence[Column], units_of: dict[str, tuple[str, ...]]) -> None:
        """Show the titles, what each column holds, and its unit.

        Args:
            columns: from the left.
            units_of: of each quantity, the units it may have.
        """
        while len(self._roles) < len(columns):
            self._wire_lists(self._list(), self._list())
        self._titles = [each.title for each in columns]
        for index, (role, unit) in enumerate(zip(self._roles, self._units, strict=True)):
            there = index < len(columns)
            role.setVisible(there)
            unit.setVisible(there and bool(columns[index].unit))
            if there:
                self._fill(index, columns[index], units_of.get(columns[index].role, ()))
        self._place()
        self.viewport().update()

    def follow_in_tab_order(self, before: QWidget) -> None:
        """Let the Tab key go from a widget through the lists, column by column."""
        for pair in zip(self._roles, self._units, strict=True):
            for each in pair:
                QWidget.setTabOrder(before, each)
                before = each

    def _fill(self, index: int, column: Column, units: Sequence[str]) -> None:
        role, unit = self._roles[index], self._units[index]
        title = column.title or self.tr("column {0}").format(index + 1)
        role.setAccessibleName(self.tr("{0} holds").format(title))
        unit.setAccessibleName(self.tr("{0} is in").format(title))
        with QSignalBlocker(role):
            role.setCurrentIndex(role.findData(column.role))
        with QSignalBlocker(unit):
            unit.clear()
            for each in units:
                unit.addItem(unit_text(each), each)
            unit.setCurrentIndex(unit.findData(column.unit))

    def _list(self) -> QComboBox:
        field = QComboBox(self.viewport())
        field.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        field.setMinimumContentsLength(6)
        field.view().setMinimumWidth(self.fontMetrics().averageCharWidth() * 30)
        field.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        return field

    def _wire_lists(self, role: QComboBox, unit: QComboBox) -> None:
        for each, text in ROLES.items():
            role.addItem(say(text), each)
        unit.view().setMinimumWidth(0)
        role.currentIndexChanged.connect(self._change)
        unit.currentIndexChanged.connect(self._change)
        for field in (role, unit):
            field.installEventFilter(self)
        self._roles.append(role)
        self._units.append(unit)

    @Slot()
    def _change(self) -> None:
        changed = self.sender()
        for index, (role, unit) in enumerate(zip(self._roles, self._units, strict=True)):
            if changed in (role, unit):
                self.column_changed.emit(index, role.currentData(), unit.currentData() or "")

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Tell of the column that the keyboard comes to; the wheel scrolls the rows and changes no list."""
        if event.type() == QEvent.Type.FocusIn:
            for index, pair in enumerate(zip(self._roles, self._units, strict=True)):
                if watched in pair:
                    self.column_entered.emit(index)
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
            self._roles[index].setGeometry(QRect(left, top, width, height))
            self._units[index].setGeometry(QRect(left, top + height + _GAP, width, height))

    def _title_height(self) -> int:
        return self.fontMetrics().height() + 2 * _GAP

    def _list_height(self) -> int:
        return self._roles[0].sizeHint().height() if self._roles else self.fontMetrics().height() + 8

    def sizeHint(self) -> QSize:
        """Return the height of a title and two lists."""
        height = self._title_height() + 2 * (self._list_height() + _GAP) + 1
        return QSize(super().sizeHint().width(), height)

    def width_for_list(self) -> int:
        """Return the width of a column in which its list is read."""
        longest = max(self.fontMetrics().horizontalAdvance(say(each)) for each in ROLES.values())
        return min(longest + 40, self.fontMetrics().averageCharWidth() * 28)

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
