"""A plan file as it was read, to be looked over before a board is made from it."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from PySide6.QtCore import QItemSelectionModel, QSize, Qt, Slot
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialogButtonBox,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QSplitter,
    QTableView,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.model import Plan
from rustboard.board.plan_preview import PlanPreview, PreviewCell
from rustboard.support.problems import Problem
from rustboard.support.text import counted, one_line
from rustboard.ui.dialogs.plan_sketch import PlanSketch
from rustboard.ui.dialogs.plan_table import LEFT_OUT_SIGN, MENDED_SIGN, PlanTableModel
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine, line_field, text_of
from rustboard.ui.theme import Scheme

_WIDEST_COLUMN_IN_LETTERS: Final = 24
_ROWS_MEASURED: Final = 60


class PlanPreviewDialog(FittingDialog):
    """What a plan file holds, what of it cannot be used, and the board that the rest makes; it asks for its name.

    Attributes:
        problem: the sentence for what must be mended here.
        table: the file's cells.
        sentences: what cannot be used; choosing one chooses its cell. Hidden when all can be.
    """

    def __init__(self, preview: PlanPreview, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show a preview in the colours of a scheme."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("A plan from {0}").format(one_line(preview.file, 80)))
        self._preview = preview
        self._name = line_field(preview.plan.board.name)
        self._model = PlanTableModel(preview, scheme)
        self.table = QTableView()
        self.sentences = QListWidget()
        self.problem = ProblemLine()
        self._buttons = QDialogButtonBox()
        self._build(PlanSketch(preview.plan, scheme))
        self._wire()
        self._name.setFocus()
        self._name.selectAll()

    def plan(self) -> Plan:
        """Return what can be used, under the name that was chosen."""
        return replace(self._preview.plan, board=replace(self._preview.plan.board, name=text_of(self._name)))

    def summary(self) -> str:
        """Return how much the plan holds, and how much of the file it lacks."""
        plan, preview = self._preview.plan, self._preview
        held = self.tr("{0} of {1} on {2} by {3}.").format(
            counted(len(plan.coupons), self.tr("coupon")),
            counted(len(plan.treatments), self.tr("treatment")),
            counted(plan.board.rows, self.tr("row")),
            counted(plan.board.columns, self.tr("column")),
        )
        parts = [held]
        if preview.left_out:
            lacking = self.tr("{0} of the {1} rows in the file are left out.")
            if preview.left_out == 1:
                lacking = self.tr("{0} of the {1} rows in the file is left out.")
            parts.append(lacking.format(preview.left_out, preview.row_count))
        if preview.row_count > len(preview.rows):
            parts.append(self.tr("The first {0} rows are shown.").format(len(preview.rows)))
        return " ".join([*parts, *self._legend()])

    def _legend(self) -> list[str]:
        """Return what the signs beside the rows mean, for those that are there."""
        bad = {cell.row for cell in self._preview.faults()}
        lost = bad & self._preview.rows_left_out
        words = [self.tr("{0} = left out.").format(LEFT_OUT_SIGN)] if lost else []
        return [*words, self.tr("{0} = kept, without what is marked.").format(MENDED_SIGN)] if bad - lost else words

    # ---- building

    def _build(self, sketch: PlanSketch) -> None:
        label = QLabel(self.tr("&Name of the board"))
        label.setBuddy(self._name)
        name_row = QHBoxLayout()
        name_row.addWidget(label)
        name_row.addWidget(self._name, 1)
        summary = QLabel(self.summary())
        summary.setWordWrap(True)
        summary.setProperty("heading", True)
        self._build_table()
        self._build_sentences()
        self._build_buttons()
        column = QVBoxLayout(self)
        column.addLayout(name_row)
        column.addWidget(summary)
        column.addWidget(self._middle(sketch), 1)
        column.addWidget(self.problem)
        column.addWidget(self._buttons)

    def _middle(self, sketch: PlanSketch) -> QSplitter:
        right = QSplitter(Qt.Orientation.Vertical)
        right.addWidget(sketch)
        right.addWidget(self.sentences)
        right.setStretchFactor(0, 3)
        right.setStretchFactor(1, 2)
        middle = QSplitter(Qt.Orientation.Horizontal)
        middle.addWidget(self.table)
        middle.addWidget(right)
        middle.setStretchFactor(0, 3)
        middle.setStretchFactor(1, 2)
        for each in (right, middle):
            each.setChildrenCollapsible(False)
        return middle

    def _build_table(self) -> None:
        self.table.setModel(self._model)
        self.table.setAccessibleName(self.tr("What the file holds"))
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.ContiguousSelection)
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.table.setTabKeyNavigation(False)
        self.table.setWordWrap(False)
        self.table.setMinimumSize(160, 60)
        across, down = self.table.horizontalHeader(), self.table.verticalHeader()
        across.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        across.setResizeContentsPrecision(_ROWS_MEASURED)
        down.setSectionResizeMode(QHeaderView.ResizeMode.Fixed)
        down.setDefaultSectionSize(round(self.fontMetrics().height() * 1.5))
        self.table.resizeColumnsToContents()
        widest = self.fontMetrics().averageCharWidth() * _WIDEST_COLUMN_IN_LETTERS
        for place in range(self._model.columnCount()):
            across.resizeSection(place, min(widest, across.sectionSize(place)))

    def _build_sentences(self) -> None:
        self.sentences.setAccessibleName(self.tr("What cannot be used"))
        self.sentences.setWordWrap(True)
        self.sentences.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.sentences.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.sentences.setAlternatingRowColors(True)
        self.sentences.setMinimumSize(120, 50)
        for each, place in zip(self._preview.problems, self._preview.places, strict=True):
            self.sentences.addItem(QListWidgetItem(self._words(each, place)))
        self.sentences.setHidden(not self._preview.problems)

    def _build_buttons(self) -> None:
        make = self._buttons.addButton(self.tr("&Make this board"), QDialogButtonBox.ButtonRole.AcceptRole)
        make.setProperty("primary", True)
        make.setDefault(True)
        cancel = self._buttons.addButton(QDialogButtonBox.StandardButton.Cancel)
        for each in (make, cancel):
            each.setIcon(QIcon())  # some desktops put a picture on them, and it does not follow the colours here

    def _words(self, problem: Problem, place: PreviewCell | None) -> str:
        if problem.row is None and place is not None:  # of JSON: named as in the table
            inside = problem.column.partition("].")[2]
            part = inside if place.column is None else self._preview.header[place.column]
            return f"{', '.join(filter(None, (self._preview.names[place.row], part)))}: {problem.what}"
        places = [] if problem.row is None else [self.tr("Row {0}").format(problem.row)]
        places += [problem.column] if problem.column else []
        return f"{', '.join(places)}: {problem.what}" if places else problem.what

    # ---- gestures

    def _wire(self) -> None:
        self._buttons.accepted.connect(self.accept)
        self._buttons.rejected.connect(self.reject)
        self.sentences.currentRowChanged.connect(self._show_cell_of)
        self.sentences.itemClicked.connect(self._show_cell_again)

    @Slot(int)
    def _show_cell_of(self, number: int) -> None:
        place = self._preview.places[number] if 0 <= number < len(self._preview.places) else None
        if place is None:
            self.table.clearSelection()
            return
        index = self._model.index(place.row, place.column or 0)
        if not index.isValid():
            return
        how = QItemSelectionModel.SelectionFlag.ClearAndSelect
        if place.column is None:
            how |= QItemSelectionModel.SelectionFlag.Rows
        self.table.selectionModel().setCurrentIndex(index, how)
        self.table.scrollTo(index, QAbstractItemView.ScrollHint.PositionAtCenter)

    @Slot(QListWidgetItem)
    def _show_cell_again(self, item: QListWidgetItem) -> None:
        """Show the cell of a sentence that was chosen already, after the table was scrolled elsewhere."""
        self._show_cell_of(self.sentences.row(item))

    @Slot()
    def accept(self) -> None:
        """Close when the board has a name; else say that it needs one."""
        if text_of(self._name):
            super().accept()
        else:
            self.problem.say(self.tr("Write a name; this field is empty."))
            self._name.setFocus(Qt.FocusReason.OtherFocusReason)

    # ---- size

    def sizeHint(self) -> QSize:
        """Return a size for reading, as far as the screen has room."""
        metrics = self.fontMetrics()
        return QSize(metrics.averageCharWidth() * 150, metrics.height() * 32).boundedTo(self._room())

    def minimumSizeHint(self) -> QSize:
        """Return a size in which a few rows are still seen."""
        metrics = self.fontMetrics()
        return QSize(metrics.averageCharWidth() * 50, metrics.height() * 14)
