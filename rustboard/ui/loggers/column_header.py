"""The header of the preview: for each column its title, what it holds, and in which unit."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, Signal, Slot
from PySide6.QtWidgets import QComboBox, QWidget

from rustboard.ui.forms.header_lists import HeaderLists
from rustboard.ui.loggers.logger_words import ROLES, say, unit_text

if TYPE_CHECKING:
    from rustboard.weather.logger_file.options import Column


class ColumnHeader(HeaderLists):
    """Two lists stand under each title: what the column holds, and its unit.

    Signals:
        column_changed(int, str, str): the place of a column, what it holds now, and its unit.
    """

    column_changed = Signal(int, str, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty header."""
        super().__init__(2, parent)

    def show_columns(self, columns: Sequence[Column], units_of: dict[str, tuple[str, ...]]) -> None:
        """Show the titles, what each column holds, and its unit.

        Args:
            columns: from the left.
            units_of: of each quantity, the units it may have.
        """
        self.show_titles([each.title for each in columns])
        for index, (role, unit) in enumerate(self.lists):
            there = index < len(columns)
            role.setVisible(there)
            unit.setVisible(there and bool(columns[index].unit))
            if there:
                self._fill(index, columns[index], units_of.get(columns[index].role, ()))
        self.show_lists()

    def _fill(self, index: int, column: Column, units: Sequence[str]) -> None:
        role, unit = self.lists[index]
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

    def _wire_lists(self, *fields: QComboBox) -> None:
        role, unit = fields
        for each, text in ROLES.items():
            role.addItem(say(text), each)
        unit.view().setMinimumWidth(0)
        role.currentIndexChanged.connect(self._change)
        unit.currentIndexChanged.connect(self._change)

    @Slot()
    def _change(self) -> None:
        column = self.column_of(self.sender())
        if column >= 0:
            role, unit = self.lists[column]
            self.column_changed.emit(column, role.currentData(), unit.currentData() or "")

    def width_for_list(self) -> int:
        """Return the width of a column in which its list is read."""
        longest = max(self.fontMetrics().horizontalAdvance(say(each)) for each in ROLES.values())
        return min(longest + 40, self.fontMetrics().averageCharWidth() * 28)
