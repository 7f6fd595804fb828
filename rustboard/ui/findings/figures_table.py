"""A table of figures: a click on one tells below how it was got, and all of it can be copied."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.support.text import printable, spreadsheet_safe
from rustboard.ui.findings.words import say
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import tool_tip

_WIDEST_IN_LETTERS: Final = 46
_WORDS_LINES: Final = 9
_RIGHT: Final = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT: Final = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


class Column(NamedTuple):
    """One column.

    Attributes:
        title: over it. how: how its figures were got. is_figure: whether it holds figures, set to the right.
    """

    title: str
    how: str = ""
    is_figure: bool = True


@dataclass(frozen=True, slots=True)
class Row:
    """One row.

    Attributes:
        key: tells it from the others. cells: its texts. told: what there is to say of it, line by line.
        coupons: keys of the coupons it is about.
    """

    key: object
    cells: tuple[str, ...]
    told: tuple[str, ...] = ()
    coupons: frozenset[int] = frozenset()


class FiguresTable(QWidget):
    """The table, and below what the chosen figure is.

    Signals:
        chosen(): another row was chosen. copied(str): what was copied, to be told.

    Attributes:
        table: the table. told: the words below. buttons: the row in which a page puts its own.
    """

    chosen = Signal()
    copied = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._hint = ""
        self._columns: Sequence[Column] = ()
        self.rows: list[Row] = []
        self.table = QTableWidget(0, 0)
        self.told = words_label(narrow=True)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.told.setMargin(6)
        self.told.setAccessibleName(self.tr("How the chosen figure was got"))
        self.none = words_label(muted=True, narrow=True)
        self.none.hide()
        self.copy_button = QPushButton(self.tr("Copy as text"))
        self.buttons = FlowLayout(spacing=6)
        self._split = QSplitter(Qt.Orientation.Vertical)
        self._shared = False
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.table.setAlternatingRowColors(True)
        self.table.setShowGrid(False)
        self.table.setWordWrap(False)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.setStyleSheet("QTableView::item { padding: 0px 4px; }")
        self.table.horizontalHeader().setHighlightSections(False)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(self.told)
        split = self._split
        split.setChildrenCollapsible(False)
        split.addWidget(self.table)
        split.addWidget(scroll)
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 0)
        for each, least in ((self.table, 3), (scroll, 1.5)):
            each.setMinimumHeight(round(self.fontMetrics().lineSpacing() * least * 1.4))
        self.buttons.addWidget(self.copy_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 6, 4, 4)
        column.addWidget(self.none)
        column.addWidget(split, 1)
        column.addLayout(self.buttons)

    def _wire(self) -> None:
        self.table.currentCellChanged.connect(self._choose)
        self.copy_button.clicked.connect(self.copy_text)

    def describe(self, name: str, hint: str) -> None:
        """Name the table for the screen reader, and say what is shown below while nothing is chosen."""
        self.table.setAccessibleName(name)
        self._hint = hint

    def show_rows(self, columns: Sequence[Column], rows: Sequence[Row], why_none: str = "") -> None:
        """Show rows; the one chosen before stays so where it is still there."""
        before, at = self.row(), max(self.table.currentColumn(), 0)
        self._columns, self.rows = columns, list(rows)
        self.table.setColumnCount(len(columns))
        self.table.setRowCount(len(rows))
        for place, each in enumerate(columns):
            head = QTableWidgetItem(each.title)
            head.setTextAlignment(_RIGHT if each.is_figure else _LEFT)
            head.setToolTip(tool_tip(each.how))
            self.table.setHorizontalHeaderItem(place, head)
        for number, row in enumerate(rows):
            for place, (column, text) in enumerate(zip(columns, row.cells, strict=True)):
                item = QTableWidgetItem(printable(text))
                item.setTextAlignment(_RIGHT if column.is_figure else _LEFT)
                item.setToolTip(tool_tip(text))
                self.table.setItem(number, place, item)
        self._fit()
        self.none.setText(why_none)
        self.none.setVisible(not rows and bool(why_none))
        self.copy_button.setEnabled(bool(rows))
        numbers = {each.key: number for number, each in enumerate(self.rows)}
        if before is not None and before.key in numbers:
            self.table.setCurrentCell(numbers[before.key], at)
        else:
            self.table.setCurrentCell(-1, -1)
        self._tell()

    def _fit(self) -> None:
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.table.resizeColumnsToContents()
        widths = [header.sectionSize(each) for each in range(len(self._columns))]
        header.setSectionResizeMode(QHeaderView.ResizeMode.Interactive)
        widest = self.fontMetrics().averageCharWidth() * _WIDEST_IN_LETTERS
        for place, width in enumerate(widths):
            header.resizeSection(place, min(width + 8, widest))
        header.setStretchLastSection(bool(self._columns) and not self._columns[-1].is_figure)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Give the words below a fair share at first; afterwards the two keep what a person gave them."""
        super().resizeEvent(event)
        if not self._shared and event.size().height() > 0:
            self._shared = True
            words = min(self.fontMetrics().lineSpacing() * _WORDS_LINES, event.size().height() // 3)
            self._split.setSizes([event.size().height() - words, words])

    def row(self) -> Row | None:
        """Return the chosen row, or None."""
        at = self.table.currentRow()
        return self.rows[at] if 0 <= at < len(self.rows) else None

    @Slot(int, int, int, int)
    def _choose(self, row: int, column: int, row_before: int, column_before: int) -> None:
        self._tell()
        self.chosen.emit()

    def _tell(self) -> None:
        row, at = self.row(), self.table.currentColumn()
        if row is None:
            self.told.setText(self._hint if self.rows else "")
            return
        lines = list(row.told)
        if 0 <= at < len(self._columns) and self._columns[at].how:
            lines.insert(0, say("{0}: {1}").format(self._columns[at].title, self._columns[at].how))
        self.told.setText("\n".join(map(printable, lines)))

    def text(self) -> str:
        """Return the table as text, a tab between cells, as spreadsheets take it."""
        lines = ["\t".join(each.title for each in self._columns)]
        lines += ["\t".join(map(self._copied, self._columns, row.cells)) for row in self.rows]
        return "\n".join(lines)

    @staticmethod
    def _copied(column: Column, cell: str) -> str:
        """Return a cell as it is copied: a name that starts like a formula must not run as one; a figure may."""
        return printable(cell) if column.is_figure else spreadsheet_safe(printable(cell))

    @Slot()
    def copy_text(self) -> None:
        """Put the table on the clipboard."""
        QGuiApplication.clipboard().setText(self.text())
        self.copied.emit(self.tr("{0} rows are on the clipboard.").format(len(self.rows)))
