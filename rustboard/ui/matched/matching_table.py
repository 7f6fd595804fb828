"""Which treatments of the boards are the same: a table to change by combo boxes, and the button that confirms it."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.comparisons import CONTROL, treatment_titles
from rustboard.findings.boards.matching import Matching
from rustboard.findings.boards.matching_changes import changed, judged, renamed
from rustboard.session.other_boards import ReadBoards
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.forms.labels import words_label
from rustboard.ui.matched.several_words import DASH, sentence_text, sure_text
from rustboard.ui.wording import tool_tip

_LEAST_COLUMN = 96


class CellChoice(QComboBox):
    """The treatment of one board in one row.

    Signals:
        taken(int, int, str): row, number of the board, id of the treatment or an empty text.
    """

    taken = Signal(int, int, str)

    def __init__(self, row: int, board: int, choices: list[tuple[str, str]], current: str) -> None:
        """Offer ``choices``: text and id."""
        super().__init__()
        self._row, self._board = row, board
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(6)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        for text, own in choices:
            self.addItem(text, own)
        self.setCurrentIndex(max(self.findData(current), 0))
        self.setToolTip(tool_tip(self.currentText()))
        self._wire()

    def _wire(self) -> None:
        self.activated.connect(self._take)

    @Slot(int)
    def _take(self, at: int) -> None:
        self.taken.emit(self._row, self._board, str(self.itemData(at)))


class MatchingTable(QWidget):
    """The matching of the boards that were read.

    Signals:
        changed(): the user changed it; what was confirmed no longer counts.
        confirmed(): the user says that it is right.
        refused(object): an `InputError` about what was typed.

    Attributes:
        table: a row for each treatment. confirm: the button.
    """

    changed = Signal()
    confirmed = Signal()
    refused = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without boards."""
        super().__init__(parent)
        self._boards: ReadBoards | None = None
        self._matching: Matching | None = None
        self._filling = False
        heading = QLabel(self.tr("&2. Treatments that are the same"))
        heading.setProperty("heading", True)
        self._hint = words_label(muted=True, narrow=True)
        self.table = QTableWidget(0, 0)
        self.table.setAccessibleName(self.tr("Treatments that are the same"))
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.verticalHeader().hide()
        self.table.setTabKeyNavigation(False)
        self.table.setWordWrap(False)
        heading.setBuddy(self.table)
        self.confirm = QPushButton(self.tr("&Confirm: these are the same"))
        row = QHBoxLayout()
        row.addWidget(self._hint, 1)
        row.addWidget(self.confirm)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(heading)
        column.addWidget(self.table, 1)
        column.addLayout(row)
        self._wire()
        self.clear()

    def _wire(self) -> None:
        self.table.itemChanged.connect(self._rename)
        self.confirm.clicked.connect(self._confirm)

    def clear(self) -> None:
        """Show that two boards are needed."""
        self._boards = self._matching = None
        self.table.setRowCount(0)
        self.table.setColumnCount(0)
        self._hint.setText(self.tr("Check at least two boards."))
        self.confirm.setEnabled(False)

    def matching(self) -> Matching | None:
        """Return the matching as it stands."""
        return self._matching

    def show_boards(self, boards: ReadBoards) -> None:
        """Show the matching of boards."""
        self._boards, self._matching = boards, boards.matching
        self._fill()
        self.tell(confirmed=boards.confirmed)

    def tell(self, *, confirmed: bool) -> None:
        """Say whether the matching is confirmed."""
        if confirmed:
            self._hint.setText(self.tr("Confirmed by you. A change here is to be confirmed again."))
        else:
            self._hint.setText(self.tr("Look it through: nothing is put together before you confirm it."))
        self.confirm.setEnabled(not confirmed and self._matching is not None)

    def _fill(self) -> None:
        boards, matching = self._boards, self._matching
        if boards is None or matching is None:
            return
        self._filling = True
        self.table.setRowCount(0)
        self.table.setColumnCount(len(matching.boards) + 2)
        titles = [self.tr("Name"), *map(printable, matching.boards), self.tr("How sure")]
        self.table.setHorizontalHeaderLabels(titles)
        self.table.setRowCount(len(matching.common))
        choices = [self._choices(board) for board in range(len(matching.boards))]
        for at, row in enumerate(matching.common):
            name = QTableWidgetItem(printable(row.name))
            if row.controls:
                name.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            name.setToolTip(tool_tip(self.tr("What the treatment is called over all boards; press F2 to change it.")))
            self.table.setItem(at, 0, name)
            for board, own in enumerate(row.treatments):
                if row.controls:
                    self._put_text(at, board + 1, self.tr("controls") if own else DASH, "")
                else:
                    self._wire_choice(at, board, choices[board], own)
            self._put_text(at, len(titles) - 1, sure_text(row), sentence_text(row.why))
        self._size_columns(len(titles))
        self._filling = False

    def _wire_choice(self, row: int, board: int, choices: list[tuple[str, str]], own: str) -> None:
        cell = CellChoice(row, board, choices, own)
        names = self._matching.boards if self._matching is not None else ()
        cell.setAccessibleName(self.tr("Row {0}, treatment on {1}").format(row + 1, printable(names[board])))
        cell.taken.connect(self._take)
        self.table.setCellWidget(row, board + 1, cell)

    def _put_text(self, row: int, column: int, text: str, tip: str) -> None:
        item = QTableWidgetItem(text)
        item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
        item.setToolTip(tool_tip(tip or text))
        self.table.setItem(row, column, item)

    def _choices(self, board: int) -> list[tuple[str, str]]:
        if self._boards is None or self._matching is None:
            return []
        record = self._boards.records[board]
        titles = treatment_titles(record)
        known = {each.treatments[board] for each in self._matching.common if not each.controls}
        rows = [
            (printable(titles[key]), each.id)
            for key, each in record.treatments.items()
            if each.id in known - {CONTROL}
        ]
        return [(DASH, ""), *rows]

    def _size_columns(self, count: int) -> None:
        header = self.table.horizontalHeader()
        header.setMinimumSectionSize(_LEAST_COLUMN)
        header.setTextElideMode(Qt.TextElideMode.ElideRight)
        for column in range(count):
            title = self.table.horizontalHeaderItem(column)
            if title is not None:
                title.setToolTip(tool_tip(title.text()))
        for column in range(count):
            last = column == count - 1
            mode = QHeaderView.ResizeMode.ResizeToContents if last else QHeaderView.ResizeMode.Stretch
            header.setSectionResizeMode(column, mode)
        self.table.resizeRowsToContents()

    @Slot(int, int, str)
    def _take(self, row: int, board: int, own: str) -> None:
        if self._boards is not None and self._matching is not None:
            after = judged(changed(self._matching, row, board, own), self._boards.records)
            self._changed_to(after, row, board + 1)

    @Slot(QTableWidgetItem)
    def _rename(self, item: QTableWidgetItem) -> None:
        if self._filling or self._matching is None or item.column() != 0:
            return
        before = self._matching
        try:
            after = renamed(before, item.row(), item.text())
        except InputError as error:
            self._filling = True
            item.setText(printable(before.common[item.row()].name))
            self._filling = False
            self.refused.emit(error)
            return
        if after != before:
            self._matching = after
            self.tell(confirmed=False)
            self.changed.emit()

    def _changed_to(self, matching: Matching, row: int, column: int) -> None:
        if matching == self._matching:
            return
        self._matching = matching
        self._fill()
        self.tell(confirmed=False)
        self.table.setCurrentCell(min(row, self.table.rowCount() - 1), column)
        cell = self.table.cellWidget(min(row, self.table.rowCount() - 1), column)
        if cell is not None:
            cell.setFocus()
        self.changed.emit()

    @Slot()
    def _confirm(self) -> None:
        self.confirmed.emit()
