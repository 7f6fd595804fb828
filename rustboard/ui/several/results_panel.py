"""What several boards say: sentences, and a table of the effects board by board and pooled."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QColor, QFont
from PySide6.QtWidgets import (
    QAbstractItemView,
    QFrame,
    QHeaderView,
    QLabel,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.session.other_boards import PooledBoards
from rustboard.ui.forms.labels import words_label
from rustboard.ui.matched.several_words import (
    AXES,
    DIFFERENCE_TIP,
    DISAGREE_TIP,
    EXACT_TIP,
    INTERVAL_TIP,
    WEIGHT_TIP,
    TableRow,
    say,
    sentence_text,
    table_rows,
    unit_text,
)
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import number, tool_tip


class VerdictPanel(QScrollArea):
    """Verdict and cautions in sentences."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("What the boards say together"))

    def show_pooled(self, pooled: PooledBoards) -> None:
        """Show the sentences of a result."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 6, 10, 8)
        column.setSpacing(6)
        self._add(column, "", [sentence_text(each) for each in pooled.findings.verdict])
        cautions = [sentence_text(each) for each in pooled.findings.cautions]
        if pooled.shared is not None:
            text = self.tr(
                "Grades are compared over the first {0} {1}, as far as all boards were watched; what came later on "
                "some of them is left out."
            )
            cautions.insert(0, text.format(number(pooled.shared), say(AXES[pooled.request.clock])))
        self._add(column, self.tr("Before you trust this"), cautions)
        column.addStretch(1)
        self.setWidget(inside)

    def _add(self, column: QVBoxLayout, heading: str, sentences: Sequence[str]) -> None:
        if heading and sentences:
            column.addSpacing(6)
            title = words_label(heading, narrow=True)
            title.setProperty("heading", True)
            column.addWidget(title)
        for each in sentences:
            label = words_label(each, narrow=True)
            label.setTextInteractionFlags(
                Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
            )
            column.addWidget(label)

    def text(self) -> str:
        """Return all that is read, line by line."""
        return "\n".join(each.text() for each in self.findChildren(QLabel))


class EffectsTable(QWidget):
    """Differences board by board and pooled, and below what the chosen column is."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self.rows: list[TableRow] = []
        self.table = QTableWidget(0, 7)
        self.table.setAccessibleName(self.tr("Differences by board and pooled"))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setShowGrid(False)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self._explained = words_label(muted=True, narrow=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.table, 1)
        column.addWidget(self._explained)
        self._wire()

    def _wire(self) -> None:
        self.table.currentCellChanged.connect(self._explain)

    def _tips(self) -> tuple[str, ...]:
        return ("", "", *map(say, (DIFFERENCE_TIP, INTERVAL_TIP, WEIGHT_TIP, EXACT_TIP, DISAGREE_TIP)))

    def show_pooled(self, pooled: PooledBoards) -> None:
        """Show the figures of a result."""
        request = pooled.request
        self.rows = list(table_rows(pooled.findings))
        unit = unit_text(request.measure, request.clock)
        titles = [
            self.tr("Comparison"), self.tr("Coupons"), self.tr("Difference, {0}").format(unit),
            self.tr("95 % interval"), self.tr("Weight"), self.tr("Exact p"), self.tr("Disagree p"),
        ]  # fmt: skip
        self.table.setHorizontalHeaderLabels(titles)
        for column, tip in enumerate(self._tips()):
            title = self.table.horizontalHeaderItem(column)
            if title is not None:
                title.setToolTip(tool_tip(tip))
        self.table.setRowCount(len(self.rows))
        for at, row in enumerate(self.rows):
            for column, text in enumerate((row.name, *row.cells)):
                self.table.setItem(at, column, self._item(row, column, text))
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setMinimumSectionSize(48)
        self.table.resizeRowsToContents()
        self._explained.setText(self.tr("Choose a figure to read how it was got.") if self.rows else "")
        self.table.setVisible(bool(self.rows))

    def _item(self, row: TableRow, column: int, text: str) -> QTableWidgetItem:
        shown = text if row.pooled or column else f"    {text}"
        item = QTableWidgetItem(shown)
        item.setToolTip(tool_tip(self._tips()[column] or text))
        if column:
            item.setTextAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        if row.pooled:
            bold = QFont(self.font())
            bold.setWeight(QFont.Weight.DemiBold)
            item.setFont(bold)
            item.setBackground(QColor(self._scheme.tile))
        return item

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        for at, row in enumerate(self.rows):
            for column in range(self.table.columnCount()):
                item = self.table.item(at, column)
                if row.pooled and item is not None:
                    item.setBackground(QColor(scheme.tile))

    @Slot(int, int, int, int)
    def _explain(self, row: int, column: int, row_before: int, column_before: int) -> None:
        tips = self._tips()
        if 0 <= column < len(tips) and tips[column]:
            self._explained.setText(tips[column])
        else:
            self._explained.setText(self.tr("Choose a figure to read how it was got."))
