"""The second step: what the treatments of an old table are called, and which coupons are controls."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QVBoxLayout, QWidget

from rustboard.board.cells import identity
from rustboard.support.text import one_line
from rustboard.ui.forms.labels import words_label
from rustboard.ui.importing.words import count

if TYPE_CHECKING:
    from rustboard.board.old_grades.past_board import OldTreatment

_TEXT, _COUPONS, _NAME, _FAMILY, _CONTROL = range(5)
_NAME_IN_LETTERS: Final = 30


class TreatmentsPage(QWidget):
    """A row for every way a treatment is written.

    Signals:
        changed(): a name, a family or a control was changed.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without treatments."""
        super().__init__(parent)
        self._treatments: tuple[OldTreatment, ...] = ()
        self._exact = False
        self.table = QTableWidget(0, 5)
        self.told = words_label(narrow=True)
        self._words = words_label(narrow=True)
        self._build()
        self._wire()

    def _build(self) -> None:
        self.table.setHorizontalHeaderLabels(
            [
                self.tr("In the table"),
                self.tr("Coupons"),
                self.tr("Name of the treatment"),
                self.tr("Family"),
                self.tr("Untreated: control"),
            ]
        )
        self.table.setAccessibleName(self.tr("Treatments"))
        self.table.verticalHeader().hide()
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.setEditTriggers(
            QAbstractItemView.EditTrigger.DoubleClicked
            | QAbstractItemView.EditTrigger.AnyKeyPressed
            | QAbstractItemView.EditTrigger.EditKeyPressed
            | QAbstractItemView.EditTrigger.SelectedClicked
        )
        header = self.table.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(_NAME, QHeaderView.ResizeMode.Stretch)
        self.told.setProperty("heading", True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._words)
        column.addWidget(self.table, 1)
        column.addWidget(self.told)

    def _wire(self) -> None:
        self.table.itemChanged.connect(self._take)

    def show_treatments(self, treatments: Sequence[OldTreatment], *, exact: bool) -> None:
        """Show other treatments.

        Args:
            treatments: once for each way in which they are written.
            exact: whether the table is the program's own, in which each is another treatment.
        """
        self._treatments, self._exact = tuple(treatments), exact
        self._words.setText(
            self.tr("This is Rustboard's own table; its treatments are taken over as they are.")
            if exact
            else self.tr("Give two of them the same name, and they become one treatment.")
        )
        letters = self.fontMetrics().averageCharWidth()
        with QSignalBlocker(self.table):
            self.table.setRowCount(len(self._treatments))
            for row, each in enumerate(self._treatments):
                self._put(row, _TEXT, each.text)
                self._put(row, _COUPONS, count(each.coupons))
                self._put(row, _NAME, each.name, editable=True)
                self._put(row, _FAMILY, each.family, editable=True)
                self._put(row, _CONTROL, "", editable=False)
                sign = self.table.item(row, _CONTROL)
                if sign is not None:
                    sign.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
                    sign.setFlags(sign.flags() | Qt.ItemFlag.ItemIsUserCheckable)
                    sign.setCheckState(Qt.CheckState.Checked if each.control else Qt.CheckState.Unchecked)
        self.table.setColumnHidden(_CONTROL, exact)
        self.table.resizeColumnsToContents()
        self.table.horizontalHeader().setSectionResizeMode(_NAME, QHeaderView.ResizeMode.Stretch)
        self.table.setColumnWidth(_TEXT, min(max(self.table.columnWidth(_TEXT), letters * 14), letters * 40))
        self.table.setColumnWidth(_FAMILY, max(self.table.columnWidth(_FAMILY), letters * 16))
        if self._treatments:
            self.table.setCurrentCell(0, _NAME)
        self._follow()

    def _put(self, row: int, column: int, text: str, *, editable: bool = False) -> None:
        item = QTableWidgetItem(one_line(text))
        if not editable:
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
        if column == _COUPONS:
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.table.setItem(row, column, item)

    def treatments(self) -> tuple[OldTreatment, ...]:
        """Return the treatments as they are called now."""
        return tuple(
            replace(
                each,
                name=self._text(row, _NAME) or each.text,
                family=self._text(row, _FAMILY),
                control=self._is_control(row),
            )
            for row, each in enumerate(self._treatments)
        )

    def _text(self, row: int, column: int) -> str:
        item = self.table.item(row, column)
        return "" if item is None else one_line(item.text())

    def _is_control(self, row: int) -> bool:
        item = self.table.item(row, _CONTROL)
        return item is not None and item.checkState() == Qt.CheckState.Checked

    @Slot()
    def _take(self) -> None:
        self._follow()
        self.changed.emit()

    def _follow(self) -> None:
        if not self._treatments:
            self.told.setText(self.tr("No column names treatments; the coupons are taken over without one."))
            return
        names = {each.text if self._exact else identity(each.name) for each in self.treatments()}
        text = self.tr("{0} ways of writing make {1} treatments.")
        self.told.setText(text.format(count(len(self._treatments)), count(len(names))))
