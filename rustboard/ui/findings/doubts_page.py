"""What speaks against the findings, each with what it means; and whether it is time to stop."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QFrame, QPushButton, QScrollArea, QVBoxLayout, QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.ui.clock_words import axis_title
from rustboard.ui.findings.expected_of import expected_columns, expected_rows
from rustboard.ui.findings.figure_words import WEIGHTS, shown
from rustboard.ui.findings.figures_table import FiguresTable
from rustboard.ui.findings.sayings import Saying, heading, sentence_label
from rustboard.ui.findings.words import say, sentence_text
from rustboard.ui.theme import Scheme

_MOST_ROWS: Final = 8
"""So many comparisons are seen without scrolling within the page."""


class DoubtsPage(QScrollArea):
    """Doubts and outlook.

    Signals:
        show_asked(object): a frozenset of keys of coupons to show on the board.
        copied(str): what was copied, to be told.

    Attributes:
        expected: the table of what more exposure may settle.
    """

    show_asked = Signal(object)
    copied = Signal(str)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._sayings: list[Saying] = []
        self._lines: list[str] = []
        self._doubts, self._advice = QWidget(), QWidget()
        self._columns = tuple(QVBoxLayout(each) for each in (self._doubts, self._advice))
        for each in self._columns:
            each.setContentsMargins(0, 0, 0, 0)
        self.expected = FiguresTable()
        self.expected.describe(
            self.tr("What more exposure may settle"), self.tr("Choose a figure to read how it was got.")
        )
        self.copy_button = QPushButton(self.tr("Copy as text"))
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 8, 10, 8)
        column.addWidget(heading(self.tr("What speaks against it")))
        column.addWidget(self._doubts)
        column.addSpacing(8)
        column.addWidget(heading(self.tr("Is it time to stop?")))
        column.addWidget(self._advice)
        column.addWidget(self.copy_button, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.expected)
        column.addStretch(1)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Doubts and time to stop"))
        self.setWidget(inside)
        self._wire()

    def _wire(self) -> None:
        self.copy_button.clicked.connect(self.copy_text)
        self.expected.copied.connect(self.copied)

    def _wire_saying(self, saying: Saying) -> None:
        saying.coupons_asked.connect(self.show_asked)

    def show_findings(self, found: Findings) -> None:
        """Show the doubts of findings and what more exposure may settle."""
        self._sayings, self._lines = [], []
        doubts, advice = self._columns
        for each in self._columns:
            _empty(each)
        for doubt in found.doubts.doubts:
            saying = Saying(doubt.sentence, doubt.weight, doubt.why, doubt.coupons)
            self._wire_saying(saying)
            self._sayings.append(saying)
            doubts.addWidget(saying)
            self._lines.append(f"– {say(WEIGHTS[doubt.weight])}: {saying.words.text()} {saying.why.text()}".rstrip())
        if not found.doubts.doubts:
            self._say(doubts, self.tr("Nothing was found that speaks against the findings."))
        self._lines.append("")
        growth = found.growth
        if growth is None:
            text = (
                self.tr("Nothing can be said of how it may go on.")
                if found.complete
                else self.tr("This is still being worked out.")
            )
            self._say(advice, text)
        else:
            for sentence in growth.advice:
                self._say(advice, sentence_text(sentence))
            if growth.expected:
                axis = axis_title(found.subject.request.clock)
                self._say(advice, self.tr("After {0} more {1}:").format(shown(growth.more), axis))
        rows = expected_rows(found)
        self.expected.show_rows(expected_columns(found), rows)
        self.expected.show_without_scrolling(_MOST_ROWS)
        self.expected.setVisible(bool(rows))

    def sayings(self) -> list[Saying]:
        """Return the doubts, the weightiest first."""
        return list(self._sayings)

    def _say(self, column: QVBoxLayout, text: str) -> None:
        column.addWidget(sentence_label(text))
        self._lines.append(text)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours: those of the window are enough."""

    def text(self) -> str:
        """Return all that is said, line by line."""
        return "\n".join([*self._lines, self.expected.text() if self.expected.rows else ""]).rstrip()

    @Slot()
    def copy_text(self) -> None:
        """Put all that is said on the clipboard."""
        QGuiApplication.clipboard().setText(self.text())
        self.copied.emit(self.tr("Doubts and outlook are on the clipboard."))


def _empty(column: QVBoxLayout) -> None:
    while column.count():
        item = column.takeAt(0)
        widget = None if item is None else item.widget()
        if widget is not None:
            widget.hide()  # not taken from its parent: it would be a window of its own until it goes
            widget.deleteLater()
