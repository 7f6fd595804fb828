"""The table of exposures: one row for each inspection, figures in groups with units, estimates apart."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any, Final

from PySide6.QtCore import (
    QAbstractTableModel,
    QModelIndex,
    QPersistentModelIndex,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget

from rustboard.session.exposure import InspectionExposure
from rustboard.ui.theme import Scheme, px_of_mm
from rustboard.ui.weather.coverage_bar import Coverage, CoverageDelegate, WholeRowDelegate
from rustboard.ui.weather.exposure_columns import ESTIMATED, FIGURES
from rustboard.ui.weather.exposure_words import percent, say
from rustboard.ui.weather.grouped_header import ColumnGroup, GroupedHeader
from rustboard.ui.wording import date_only, date_time, number, tool_tip

if TYPE_CHECKING:
    from rustboard.weather.exposure import Exposure

_Index = QModelIndex | QPersistentModelIndex
_NONE: Final = "–"
_LEAST_MM: Final = 8.0
_ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


FROM, UNTIL, DAYS, KNOWN = range(4)
_FIRST: Final = KNOWN + 1


class ExposureModel(QAbstractTableModel):
    """The rows as a table.

    Attributes:
        rows: what is shown. from_start: whether the sums since the start are shown.
    """

    def __init__(self, parent: QWidget) -> None:
        """Start empty."""
        super().__init__(parent)
        self.rows: Sequence[InspectionExposure] = ()
        self.from_start = False
        self._say_time = False

    def show_rows(self, rows: Sequence[InspectionExposure], *, from_start: bool) -> None:
        """Show other rows, or the same in the other way."""
        self.beginResetModel()
        self.rows, self.from_start = rows, from_start
        days = [each.interval.end.date() for each in rows]
        self._say_time = len(set(days)) < len(days)
        self.endResetModel()

    def exposure(self, row: int) -> Exposure:
        """Return what a row shows."""
        return self.rows[row].exposure(from_start=self.from_start)

    def coverage(self, row: int) -> Coverage | None:
        """Return what the bar of a row shows."""
        if row >= len(self.rows):
            return None
        each = self.exposure(row)
        return Coverage(each.coverage_by_logger, each.coverage_by_hand, percent(each.coverage))

    def rowCount(self, parent: _Index | None = None) -> int:
        """Return how many rows there are."""
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def columnCount(self, parent: _Index | None = None) -> int:
        """Return how many columns there are."""
        return 0 if parent is not None and parent.isValid() else _FIRST + len(FIGURES)

    def headerData(self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the title of a column, its first line left to its group; in full as a tool tip and when spoken."""
        if orientation != Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return self._title(section)
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            text = self._meaning(section)
            return tool_tip(text) if role == Qt.ItemDataRole.ToolTipRole else text
        return None

    def _title(self, section: int) -> str:
        if section >= _FIRST:
            return "\n" + say(FIGURES[section - _FIRST].title)
        return "\n" + (self.tr("from"), self.tr("until"), self.tr("days"), self.tr("■ logger ▨ hand"))[section]

    def _meaning(self, section: int) -> str:
        if section >= _FIRST:
            return say(FIGURES[section - _FIRST].meaning)
        return (
            self.tr("When this time began"),
            self.tr("The inspection at which it ended, or the last reading"),
            self.tr("Days between them"),
            self.tr("Share of the time in which it is known whether the coupons were wet; striped: by hand"),
        )[section]

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return what a cell shows."""
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row, column = index.row(), index.column()
        if role == Qt.ItemDataRole.DisplayRole:
            return "" if column == KNOWN else self.text(row, column)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return self.text(row, column)
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return Qt.AlignmentFlag.AlignVCenter | (
                Qt.AlignmentFlag.AlignLeft if column <= UNTIL else Qt.AlignmentFlag.AlignRight
            )
        if role == Qt.ItemDataRole.ToolTipRole and column <= UNTIL:
            each = self.exposure(row)
            if column == UNTIL and self.rows[row].inspection is None:
                return tool_tip(self.tr("{0}, the last moment known; no inspection yet").format(date_time(each.end)))
            return tool_tip(date_time(each.start if column == FROM else each.end))
        if role == Qt.ItemDataRole.FontRole and self.rows[row].inspection is None:
            font = QFont()
            font.setItalic(True)
            return font
        return None

    def text(self, row: int, column: int) -> str:
        """Return what a cell says in words."""
        each = self.exposure(row)
        if column >= _FIRST:
            figure = FIGURES[column - _FIRST]
            value = figure.value(each)
            if isinstance(value, str):
                return value
            return _NONE if value is None else number(value, figure.decimals)
        if column == FROM:
            return self._when(each.start)
        if column == UNTIL:
            return self._when(each.end)
        return number(each.days) if column == DAYS else percent(each.coverage)

    def _when(self, when: datetime) -> str:
        return date_time(when) if self._say_time else date_only(when)


class ExposureTable(QTableView):
    """The table.

    Signals:
        row_chosen(): another row is chosen. inspection_asked(int): go to the inspection with this key.
    """

    row_chosen = Signal()
    inspection_asked = Signal(int)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.exposure_model = ExposureModel(self)
        self._header = GroupedHeader(scheme, self)
        self._bars = CoverageDelegate(scheme, self.exposure_model.coverage, self)
        self.setHorizontalHeader(self._header)
        self.setModel(self.exposure_model)
        self.setItemDelegate(WholeRowDelegate(self))
        self.setItemDelegateForColumn(KNOWN, self._bars)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setTabKeyNavigation(False)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setAccessibleName(self.tr("Weather from inspection to inspection"))
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(max(px_of_mm(self, _LEAST_MM), self.fontMetrics().height() + 10))
        self._wire()

    def _wire(self) -> None:
        self.selectionModel().currentRowChanged.connect(self._follow_choice)
        self.doubleClicked.connect(self._go)

    def show_rows(self, rows: Sequence[InspectionExposure], *, from_start: bool, inspection: int | None) -> None:
        """Show rows; the one of an inspection is chosen, or else the last one."""
        self.exposure_model.show_rows(rows, from_start=from_start)
        self._hide_unknown(rows)
        self._fit()
        keys = [each.inspection for each in rows]
        if rows:
            inspections = [at for at, key in enumerate(keys) if key is not None]
            last = inspections[-1] if inspections else len(rows) - 1
            self.selectRow(keys.index(inspection) if inspection in keys and inspection is not None else last)
        self.row_chosen.emit()

    def chosen(self) -> int | None:
        """Return the number of the chosen row, or None."""
        row = self.currentIndex().row()
        return row if 0 <= row < len(self.exposure_model.rows) else None

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._header.scheme = self._bars.scheme = scheme
        self._header.viewport().update()
        self.viewport().update()

    def _hide_unknown(self, rows: Sequence[InspectionExposure]) -> None:
        """Hide estimates where none can be had: leaves need a logger for wind."""
        shown = [each.exposure(from_start=self.exposure_model.from_start) for each in rows]
        for at, figure in enumerate(FIGURES, start=_FIRST):
            hidden = figure.group == ESTIMATED and all(figure.value(each) is None for each in shown)
            self.setColumnHidden(at, hidden)

    def _fit(self) -> None:
        self.resizeColumnsToContents()
        letters = self.fontMetrics().averageCharWidth()
        for at in range(self.exposure_model.columnCount()):
            width = max(self.columnWidth(at), self._header.least_width(at))
            self.setColumnWidth(at, max(width, 18 * letters) if at == KNOWN else width)
        self._header.set_groups(self._groups())
        for group in self._header.groups:
            columns = [at for at in range(group.first, group.last + 1) if not self.isColumnHidden(at)]
            missing = self._header.title_width(group) - sum(self.columnWidth(at) for at in columns)
            if columns and missing > 0:
                self.setColumnWidth(columns[-1], self.columnWidth(columns[-1]) + missing)

    def _groups(self) -> list[ColumnGroup]:
        groups = [ColumnGroup(self.tr("Time"), FROM, DAYS), ColumnGroup(self.tr("Wetness known"), KNOWN, KNOWN)]
        for name in dict.fromkeys(each.group for each in FIGURES):
            columns = [at for at, each in enumerate(FIGURES, start=_FIRST) if each.group == name]
            groups.append(ColumnGroup(say(name), columns[0], columns[-1]))
        return groups

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter goes to the inspection of the row."""
        if event.key() in _ENTER:
            self._go()
        else:
            super().keyPressEvent(event)

    @Slot()
    def _follow_choice(self) -> None:
        self.row_chosen.emit()

    @Slot()
    def _go(self) -> None:
        row = self.chosen()
        key = None if row is None else self.exposure_model.rows[row].inspection
        if key is not None:
            self.inspection_asked.emit(key)
