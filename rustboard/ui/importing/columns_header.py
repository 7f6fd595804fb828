"""The header of the preview: under each title what the column holds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, Signal, Slot
from PySide6.QtWidgets import QComboBox, QWidget

from rustboard.support.text import one_line
from rustboard.ui.forms.header_lists import HeaderLists
from rustboard.ui.importing.words import MEANINGS, say

if TYPE_CHECKING:
    from rustboard.board.old_grades.layout import ColumnUse

_COLUMN_IN_LETTERS: Final = 24


class ColumnsHeader(HeaderLists):
    """One list stands under each title.

    Signals:
        meaning_chosen(int, str): the place of a column, and what it holds now.
    """

    meaning_chosen = Signal(int, str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty header."""
        super().__init__(1, parent)

    def show_columns(self, columns: Sequence[ColumnUse], days: Sequence[str]) -> None:
        """Show titles and what each column holds.

        Args:
            columns: from the left.
            days: of each column, the day that its title names, as it is understood; empty = none.
        """
        titles = [one_line(each.title, 80) for each in columns]
        shown = [
            f"{title} → {day}" if day and day != title else title for title, day in zip(titles, days, strict=True)
        ]
        self.show_titles(shown)
        for index, (field,) in enumerate(self.lists):
            there = index < len(columns)
            field.setVisible(there)
            if there:
                title = titles[index] or self.tr("column {0}").format(index + 1)
                field.setAccessibleName(self.tr("{0} holds").format(title))
                with QSignalBlocker(field):
                    field.setCurrentIndex(field.findData(columns[index].meaning))
        self.show_lists()

    def _wire_lists(self, *fields: QComboBox) -> None:
        for meaning, text in MEANINGS.items():
            fields[0].addItem(say(text), meaning)
        fields[0].setMaxVisibleItems(len(MEANINGS))
        fields[0].currentIndexChanged.connect(self._choose)

    @Slot()
    def _choose(self) -> None:
        column = self.column_of(self.sender())
        if column >= 0:
            self.meaning_chosen.emit(column, self.lists[column][0].currentData())

    def width_for_list(self) -> int:
        """Return the width of a column in which its list is read."""
        return self.fontMetrics().averageCharWidth() * _COLUMN_IN_LETTERS
