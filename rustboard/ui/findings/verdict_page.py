"""The verdict in sentences, what to know before trusting it, and the ranking beside."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QPushButton, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.findings.sentence import Sentence
from rustboard.ui.charts.view import ChartView
from rustboard.ui.findings.findings_words import sentence_text
from rustboard.ui.findings.pictures_of import ranked_dots
from rustboard.ui.findings.sayings import LARGE, Saying, heading, sentence_label, weighed_cautions
from rustboard.ui.theme import Scheme

_WIDE_IN_LETTERS: Final = 120


class VerdictPage(QScrollArea):
    """What a customer is told.

    Signals:
        coupons_asked(object): a frozenset of keys of coupons to show on the board.
        copied(str): what was copied, to be told.

    Attributes:
        ranking: the picture beside. copy_button: copies all that is said.
    """

    coupons_asked = Signal(object)
    copied = Signal(str)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._found: Findings | None = None
        self._lines: list[str] = []
        self._saying: list[Saying] = []
        self.ranking = ChartView(scheme)
        self.ranking.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.copy_button = QPushButton(self.tr("Copy as te&xt"))
        self._words = QWidget()
        self._column = QVBoxLayout(self._words)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        inside = QWidget()
        self._box = QBoxLayout(QBoxLayout.Direction.LeftToRight, inside)
        self._box.setContentsMargins(10, 8, 10, 8)
        self._box.setSpacing(16)
        card = QFrame()
        card.setProperty("card", True)
        around = QVBoxLayout(card)
        around.setContentsMargins(16, 12, 16, 12)
        around.addWidget(self._words)
        around.addSpacing(4)
        around.addWidget(self.copy_button, 0, Qt.AlignmentFlag.AlignLeft)
        around.addStretch(1)
        self._box.addWidget(card, 11)
        self._box.addWidget(self.ranking, 9)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Verdict"))
        self.setWidget(inside)
        self._wire()

    def _wire(self) -> None:
        self.copy_button.clicked.connect(self.copy_text)
        self.ranking.copied.connect(self.copied)

    def _wire_saying(self, saying: Saying) -> None:
        saying.coupons_asked.connect(self.coupons_asked)

    def show_findings(self, found: Findings, more: tuple[Sentence, ...] = ()) -> None:
        """Show the verdict of findings.

        Args:
            found: the findings.
            more: sentences about cost, time and factors, said after the verdict.
        """
        self._found = found
        self._empty()
        for number, each in enumerate(found.verdict):
            self._add(sentence_text(each), times=LARGE, bold=number == 0)
        if more:
            self._head(self.tr("What else it shows"))
            for each in more:
                self._add(sentence_text(each))
        cautions = weighed_cautions(found)
        if cautions:
            self._head(self.tr("Before you trust this"))
        for doubt in cautions:
            saying = Saying(doubt.sentence, doubt.weight, None, doubt.coupons)
            self._wire_saying(saying)
            self._saying.append(saying)
            self._column.addWidget(saying)
            self._lines.append(f"– {saying.words.text()}")
        self.ranking.show_chart(ranked_dots(found), self.tr("There is nothing to rank yet."))

    def sayings(self) -> list[Saying]:
        """Return the cautions, the weightiest first."""
        return list(self._saying)

    def _empty(self) -> None:
        self._lines, self._saying = [], []
        while self._column.count():
            item = self._column.takeAt(0)
            widget = None if item is None else item.widget()
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()

    def _add(self, text: str, *, times: float = 1.0, bold: bool = False) -> None:
        label = sentence_label(text, times=times)
        label.setProperty("heading", bold)
        self._column.addWidget(label)
        self._lines.append(text)

    def _head(self, text: str) -> None:
        self._column.addSpacing(6)
        self._column.addWidget(heading(text))
        self._lines += ["", text]

    def text(self) -> str:
        """Return all that is said, line by line, with the figures of the ranking."""
        chart = self.ranking.chart()
        return "\n".join([*self._lines, *(["", chart.text()] if chart is not None else [])])

    @Slot()
    def copy_text(self) -> None:
        """Put all that is said on the clipboard."""
        QGuiApplication.clipboard().setText(self.text())
        self.copied.emit(self.tr("The verdict is on the clipboard."))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.ranking.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the ranking below where there is no room beside."""
        super().resizeEvent(event)
        wide = event.size().width() >= self.fontMetrics().averageCharWidth() * _WIDE_IN_LETTERS
        self._box.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)
