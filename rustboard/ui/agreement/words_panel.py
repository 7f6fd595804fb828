"""What a study of grading says: sentences first, then its figures, then the grades of two graders crossed."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QColor, QFont
from PySide6.QtWidgets import (
    QAbstractItemView,
    QComboBox,
    QFrame,
    QHeaderView,
    QLabel,
    QScrollArea,
    QTableWidget,
    QTableWidgetItem,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.session.agreement import StudiedAgreement
from rustboard.ui.agreement.agreement_words import FigureRow, figure_rows, say, sections, short_name
from rustboard.ui.agreement.grade_grid import GradeGrid
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import Scheme, px_of_mm
from rustboard.ui.wording import tool_tip

_TOUCH_MM = 9.0


class SentencesPage(QScrollArea):
    """The sentences under their headings."""

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setAccessibleName(self.tr("How the graders agree, in words"))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def show_study(self, studied: StudiedAgreement) -> None:
        """Show the sentences of a study."""
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(8, 6, 10, 8)
        column.setSpacing(5)
        for number, (heading, sentences) in enumerate(sections(studied)):
            if number:
                column.addSpacing(8)
            title = words_label(heading, narrow=True)
            title.setProperty("heading", True)
            column.addWidget(title)
            for each in sentences:
                column.addWidget(words_label(each, narrow=True))
        column.addStretch(1)
        self.setWidget(inside)

    def text(self) -> str:
        """Return all that is read, line by line."""
        return "\n".join(each.text() for each in self.findChildren(QLabel))


class FiguresPage(QWidget):
    """The figures of every comparison, and below what the chosen one is."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self._rows: list[FigureRow] = []
        self.table = QTableWidget(0, 2)
        self.table.setAccessibleName(self.tr("Figures"))
        self.table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.table.setShowGrid(False)
        self.table.setWordWrap(True)
        self.table.setTabKeyNavigation(False)
        self.table.verticalHeader().hide()
        self.table.horizontalHeader().hide()
        self.explained = words_label(muted=True, narrow=True)
        self.explained.setAccessibleName(self.tr("What the chosen figure is"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 4)
        column.addWidget(self.table, 1)
        column.addWidget(self.explained)
        self._wire()

    def _wire(self) -> None:
        self.table.currentCellChanged.connect(self._explain)

    def show_study(self, studied: StudiedAgreement) -> None:
        """Show the figures of a study."""
        self._rows = list(figure_rows(studied))
        self.table.clearSpans()
        self.table.setRowCount(len(self._rows))
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        for at, row in enumerate(self._rows):
            for place, text in enumerate((row.name, row.value)):
                item = QTableWidgetItem(text)
                item.setToolTip(tool_tip(row.tip) if row.tip else tool_tip(row.name))
                if not row.value:
                    item.setFont(bold)
                    item.setBackground(QColor(self._scheme.tile))
                self.table.setItem(at, place, item)
            if not row.value:
                self.table.setSpan(at, 0, 1, 2)
        header = self.table.horizontalHeader()
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        header.setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        self.table.resizeRowsToContents()
        self._show_explained(self.table.currentRow())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        for at, row in enumerate(self._rows):
            item = self.table.item(at, 0)
            if not row.value and item is not None:
                item.setBackground(QColor(scheme.tile))

    @Slot(int, int, int, int)
    def _explain(self, row: int, column: int, row_before: int, column_before: int) -> None:
        self._show_explained(row)

    def _show_explained(self, row: int) -> None:
        there = 0 <= row < len(self._rows) and bool(self._rows[row].tip)
        if there:
            self.explained.setText(f"{self._rows[row].name}: {self._rows[row].tip}")
        elif self._rows:
            self.explained.setText(self.tr("Choose a figure to read what it is and where it comes from."))
        else:
            self.explained.setText(self.tr("There is nothing to reckon with."))


class CrossedPage(QWidget):
    """The grades of two graders crossed, with the choice of which two."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._studied: StudiedAgreement | None = None
        self._pairs: list[tuple[str, str]] = []
        self.box = QComboBox()
        self.box.setAccessibleName(self.tr("Whose grades are crossed"))
        self.box.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        self.grid = GradeGrid(scheme)
        self._nothing = words_label(self.tr("No two graders graded the same coupons."), muted=True, narrow=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 6, 4, 4)
        column.addWidget(self.box)
        column.addWidget(self._nothing)
        column.addWidget(self.grid, 1)
        self._wire()

    def _wire(self) -> None:
        self.box.currentIndexChanged.connect(self._choose)

    def show_study(self, studied: StudiedAgreement) -> None:
        """Show the graders of a study, two at a time."""
        at = max(self.box.currentIndex(), 0)
        before = self._pairs[at] if at < len(self._pairs) else None
        self._studied = studied
        self._pairs = list(studied.pairs)
        self.box.clear()
        self.box.addItems([say("{0} and {1}").format(short_name(a), short_name(b)) for a, b in self._pairs])
        if before in self._pairs:
            self.box.setCurrentIndex(self._pairs.index(before))
        for each in (self.box, self.grid):
            each.setVisible(bool(self._pairs))
        self._nothing.setVisible(not self._pairs)
        self._show_pair()

    @Slot(int)
    def _choose(self, at: int) -> None:
        self._show_pair()

    def _show_pair(self) -> None:
        at = self.box.currentIndex()
        if self._studied is not None and 0 <= at < len(self._pairs):
            pair = self._pairs[at]
            self.grid.show_grades(*pair, self._studied.pairs[pair])


class WordsPanel(QTabWidget):
    """Sentences, figures and grades crossed, one click apart."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.sentences, self.figures, self.crossed = SentencesPage(), FiguresPage(scheme), CrossedPage(scheme)
        self.addTab(self.sentences, self.tr("In &words"))
        self.addTab(self.figures, self.tr("Fi&gures"))
        self.addTab(self.crossed, self.tr("G&rade by grade"))
        self.setAccessibleName(self.tr("How the graders agree"))

    def show_study(self, studied: StudiedAgreement) -> None:
        """Show a study."""
        self.sentences.show_study(studied)
        self.figures.show_study(studied)
        self.crossed.show_study(studied)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.figures.set_scheme(scheme)
        self.crossed.grid.set_scheme(scheme)
