"""The verdict: sentences first, then the picture of the ranking, then what to know before trusting them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QGuiApplication, QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLabel, QPushButton, QScrollArea, QVBoxLayout, QWidget

from rustboard.ui.charts.view import ChartView
from rustboard.ui.findings.pictures_of import ranking
from rustboard.ui.findings.sayings import Saying, weighed
from rustboard.ui.findings.words import sentence_text
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from collections.abc import Iterable

    from rustboard.findings.conclude.findings import Findings

_LARGER: Final = 1.18
_BESIDE: Final = 125
"""Letters of width from which on the picture stands beside the words."""


class VerdictPage(QScrollArea):
    """What the board shows, in words.

    Signals:
        copied(str): something was copied, to be told. save_asked(object): a `ChartView` is to be saved.
        show_asked(object): coupons, a set of keys, are to be shown on the board.

    Attributes:
        ranking: the picture beside the words.
    """

    copied = Signal(str)
    save_asked = Signal(object)
    show_asked = Signal(object)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("The verdict"))
        self._lines: list[str] = []
        self._sayings: list[Saying] = []
        self._verdict, self._cautions = QVBoxLayout(), QVBoxLayout()
        self._beside = QBoxLayout(QBoxLayout.Direction.TopToBottom)
        self._trust = words_label(self.tr("Before you trust this"), narrow=True)
        self._trust.setProperty("heading", True)
        self.ranking = ChartView(scheme)
        self.copy = QPushButton(self.tr("Cop&y the verdict as text"))
        self._lay_out()
        self._wire()
        for each in (self._trust, self.copy, self.ranking):  # nothing is there yet to be trusted or copied
            each.hide()

    def _lay_out(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 8, 12, 10)
        column.setSpacing(6)
        self._verdict.setSpacing(7)
        self._cautions.setSpacing(4)
        buttons = QHBoxLayout()
        buttons.addWidget(self.copy)
        buttons.addStretch(1)
        words = QVBoxLayout()
        words.setSpacing(6)
        words.addLayout(self._verdict)
        words.addLayout(buttons)
        words.addStretch(1)
        self._beside.setSpacing(14)
        self._beside.addLayout(words, 1)
        self._beside.addWidget(self.ranking, 1)
        column.addLayout(self._beside)
        column.addWidget(self._trust)
        column.addLayout(self._cautions)
        column.addStretch(1)
        self.setWidget(inside)

    def _wire(self) -> None:
        self.copy.clicked.connect(self.copy_text)
        self.ranking.copied.connect(self.copied)
        self.ranking.save_asked.connect(self._save_ranking)

    def show_findings(self, findings: Findings) -> None:
        """Show the verdict of a board."""
        verdict = [sentence_text(each) for each in findings.verdict]
        self._fill(self._verdict, verdict)
        self.copy.show()
        self._show_cautions(findings)
        cautions = [each.words.text() for each in self._sayings]
        self._trust.setVisible(bool(cautions))
        self.ranking.show_chart(ranking(findings))
        self.ranking.setVisible(self.ranking.chart() is not None)
        self._lines = [
            findings.subject.record.board.name,
            *verdict,
            *([self._trust.text()] if cautions else []),
            *(f"- {each}" for each in cautions),
        ]

    def _show_cautions(self, findings: Findings) -> None:
        for each in self._sayings:
            self._cautions.removeWidget(each)
            each.setParent(None)
            each.deleteLater()
        self._sayings = [Saying(each.sentence, each.weight, None, each.coupons) for each in weighed(findings)]
        for each in self._sayings:
            self._wire_saying(each)
            self._cautions.addWidget(each)

    def _wire_saying(self, saying: Saying) -> None:
        saying.coupons_asked.connect(self.show_asked)

    def sayings(self) -> list[Saying]:
        """Return the cautions, the weightiest first."""
        return list(self._sayings)

    def _fill(self, layout: QVBoxLayout, texts: Iterable[str]) -> None:
        there = list(texts)
        while layout.count() > len(there):
            item = layout.takeAt(layout.count() - 1)
            widget = None if item is None else item.widget()
            if widget is not None:
                widget.setParent(None)
                widget.deleteLater()
        while layout.count() < len(there):
            label = words_label(narrow=True)
            label.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
            font = label.font()
            font.setPointSizeF(font.pointSizeF() * _LARGER)
            label.setFont(font)
            layout.addWidget(label)
        for place, text in enumerate(there):
            item = layout.itemAt(place)
            widget = None if item is None else item.widget()
            if isinstance(widget, QLabel):
                widget.setText(text)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the picture beside the words where there is room for both."""
        super().resizeEvent(event)
        wide = self.viewport().width() > self.fontMetrics().averageCharWidth() * _BESIDE
        self._beside.setDirection(QBoxLayout.Direction.LeftToRight if wide else QBoxLayout.Direction.TopToBottom)

    def text(self) -> str:
        """Return all that is said."""
        return "\n".join(self._lines)

    @Slot()
    def copy_text(self) -> None:
        """Put the verdict and its cautions on the clipboard."""
        QGuiApplication.clipboard().setText(self.text())
        self.copied.emit(self.tr("The verdict is on the clipboard, with what to know before trusting it."))

    @Slot()
    def _save_ranking(self) -> None:
        self.save_asked.emit(self.ranking)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.ranking.set_scheme(scheme)
