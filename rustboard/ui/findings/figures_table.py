"""A table of figures: a click on one tells below how it was got; it can be sorted, and all of it copied."""

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
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.support.text import printable, spreadsheet_safe
from rustboard.ui.findings.figures_grid import FiguresGrid, Sortable, sorted_places
from rustboard.ui.findings.words import say
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import px_of_mm
from rustboard.ui.wording import tool_tip

_WIDEST_IN_LETTERS: Final = 46
_WORDS_LINES: Final = 9
_LEAST_LINES: Final = 24
_TOUCH_MM: Final = 9.0
WAITING: Final = "…"
"""In a cell whose figure is still being worked out."""
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
        values: what each cell is sorted by; without them cells are sorted by their texts.
    """

    key: object
    cells: tuple[str, ...]
    told: tuple[str, ...] = ()
    coupons: frozenset[int] = frozenset()
    values: tuple[Sortable, ...] = ()

    def value(self, place: int) -> Sortable:
        """Return what a cell is sorted by."""
        return self.values[place] if self.values else self.cells[place]


class FiguresTable(QWidget):
    """The table, and below what the chosen figure is.

    Signals:
        chosen(): another row was chosen. opened(): it was double clicked, or Enter pressed on it.
        copied(str): what was copied, to be told.

    Attributes:
        table: the table. told: the words below. buttons: the row in which a page puts its own.
        rows: as they stand, sorted.
    """

    chosen = Signal()
    opened = Signal()
    copied = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._hint = ""
        self._columns: Sequence[Column] = ()
        self._given: Sequence[Row] = ()
        self._sorted: tuple[int, bool] | None = None
        self.rows: list[Row] = []
        self.table = FiguresGrid()
        self.told = words_label(narrow=True)
        self.told.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.told.setAlignment(Qt.AlignmentFlag.AlignTop)
        self.told.setMargin(6)
        self.told.setAccessibleName(self.tr("How the chosen figure was got"))
        self.none = words_label(self.tr("Nothing has been worked out yet."), muted=True, narrow=True)
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
        self.table.setAccessibleDescription(
            self.tr("Alt and an arrow up or down sorts by the column of the chosen figure; Ctrl+C copies the table.")
        )
        self.table.horizontalHeader().setHighlightSections(False)
        self.table.horizontalHeader().setSectionsClickable(True)
        self.copy_button.setEnabled(False)
        self.setFocusProxy(self.table)
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
        inside = QWidget()
        inside.setMinimumHeight(self.fontMetrics().lineSpacing() * _LEAST_LINES)
        column = QVBoxLayout(inside)
        column.setContentsMargins(4, 6, 4, 4)
        column.addWidget(self.none)
        column.addWidget(split, 1)
        column.addLayout(self.buttons)
        page = QScrollArea()  # in a small window the page scrolls, and the table keeps some rows
        page.setWidgetResizable(True)
        page.setFrameShape(QFrame.Shape.NoFrame)
        page.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        page.setWidget(inside)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(page)

    def _wire(self) -> None:
        self.table.currentCellChanged.connect(self._choose)
        self.table.copy_asked.connect(self.copy_text)
        self.table.opened.connect(self.opened)
        self.table.sort_asked.connect(self._sort_by_chosen)
        self.table.horizontalHeader().sectionClicked.connect(self._sort_by_head)
        self.copy_button.clicked.connect(self.copy_text)

    def describe(self, name: str, hint: str) -> None:
        """Name the table for the screen reader, and say what is shown below while nothing is chosen."""
        self.table.setAccessibleName(name)
        self._hint = hint

    def show_rows(self, columns: Sequence[Column], rows: Sequence[Row], why_none: str = "") -> None:
        """Show rows; the one chosen before stays so where it is still there, and so does the order."""
        if len(columns) != len(self._columns):
            self._sorted = None
        self._columns, self._given = columns, rows
        self.none.setText(why_none)
        self.none.setVisible(not rows and bool(why_none))
        self.copy_button.setEnabled(bool(rows))
        self._fill()
        self._fit()

    def _fill(self) -> None:
        before, at = self.row(), max(self.table.currentColumn(), 0)
        self.rows = self._in_order()
        self.table.setColumnCount(len(self._columns))
        self.table.setRowCount(len(self.rows))
        line = max(px_of_mm(self, _TOUCH_MM), self.fontMetrics().height() + 10)
        self.table.verticalHeader().setDefaultSectionSize(line)
        self._head()
        for number, row in enumerate(self.rows):
            for place, (column, text) in enumerate(zip(self._columns, row.cells, strict=True)):
                self.table.setItem(number, place, self._cell(column, text))
        numbers = {each.key: number for number, each in enumerate(self.rows)}
        if before is not None and before.key in numbers:
            self.table.setCurrentCell(numbers[before.key], at)
        else:
            self.table.setCurrentCell(-1, -1)
        self._tell()

    def _head(self) -> None:
        for place, each in enumerate(self._columns):
            item = QTableWidgetItem(each.title)
            item.setTextAlignment(_RIGHT if each.is_figure else _LEFT)
            item.setToolTip(tool_tip(self.tr("{0} A click sorts by it.").format(each.how).strip()))
            self.table.setHorizontalHeaderItem(place, item)
        header = self.table.horizontalHeader()
        header.setSortIndicatorShown(self._sorted is not None)
        if self._sorted is not None:
            place, downward = self._sorted
            order = Qt.SortOrder.DescendingOrder if downward else Qt.SortOrder.AscendingOrder
            header.setSortIndicator(place, order)

    def _cell(self, column: Column, text: str) -> QTableWidgetItem:
        item = QTableWidgetItem(printable(text))
        item.setTextAlignment(_RIGHT if column.is_figure else _LEFT)
        if text == WAITING:
            item.setToolTip(tool_tip(self.tr("Still being worked out")))
            item.setData(Qt.ItemDataRole.AccessibleTextRole, self.tr("still being worked out"))
        else:
            item.setToolTip(tool_tip(text))
        return item

    # ---- in which order

    def _in_order(self) -> list[Row]:
        if self._sorted is None:
            return list(self._given)
        place, downward = self._sorted
        places = sorted_places([each.value(place) for each in self._given], downward=downward)
        return [self._given[each] for each in places]

    def sort_by(self, place: int, *, downward: bool) -> None:
        """Sort the rows by a column."""
        if 0 <= place < len(self._columns):
            self._sorted = (place, downward)
            self._fill()

    @Slot(int)
    def _sort_by_head(self, place: int) -> None:
        """Sort upward, then downward, then as it was."""
        if self._sorted == (place, True):
            self._sorted = None
            self._fill()
        else:
            self.sort_by(place, downward=self._sorted == (place, False))

    @Slot(bool)
    def _sort_by_chosen(self, downward: bool) -> None:
        self.sort_by(self.table.currentColumn(), downward=downward)

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
        if not self._shared:
            self._shared = True
            line = self.fontMetrics().lineSpacing()
            height = max(event.size().height(), line * _LEAST_LINES)
            words = min(line * _WORDS_LINES, height // 3)
            self._split.setSizes([height - words, words])

    def show_without_scrolling(self, most_rows: int) -> None:
        """Ask for so much height that the rows are seen, at most so many, and a few lines of words below."""
        rows = max(1, min(len(self.rows), most_rows))
        line = self.table.verticalHeader().defaultSectionSize()
        self.table.setMinimumHeight(line * rows + self.table.horizontalHeader().sizeHint().height() + 6)
        words = self.fontMetrics().lineSpacing() * 3
        self.setMinimumHeight(self.table.minimumHeight() + words + self.copy_button.sizeHint().height() + 30)

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
        """Return the table as text, a tab between cells, as spreadsheets take it; a person's text is no formula."""
        lines = ["\t".join(each.title for each in self._columns)]
        lines += ["\t".join(map(_copied, self._columns, row.cells)) for row in self.rows]
        return "\n".join(lines)

    @Slot()
    def copy_text(self) -> None:
        """Put the table on the clipboard."""
        QGuiApplication.clipboard().setText(self.text())
        count = len(self.rows)
        one, several = self.tr("1 row is on the clipboard."), self.tr("{0} rows are on the clipboard.")
        self.copied.emit(one if count == 1 else several.format(count))


def _copied(column: Column, text: str) -> str:
    # Figures are the program's own, and one with its plus sign is no formula.
    return printable(text) if column.is_figure else spreadsheet_safe(printable(text))
