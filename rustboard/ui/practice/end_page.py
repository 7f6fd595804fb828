"""After an exercise: before and after in numbers and words, and what to watch for."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFont, QKeyEvent
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from rustboard.session.practice import Past
from rustboard.ui.forms.labels import words_label
from rustboard.ui.practice.enter_key import focused_button, is_enter
from rustboard.ui.practice.history_chart import HistoryChart
from rustboard.ui.practice.words import of_all, offset_sentences, plain, signed, watch_sentences
from rustboard.ui.theme import Scheme, px_of_mm

_TOUCH_MM = 9.0
_WIDTH_IN_LETTERS = 90


class EndPage(QWidget):
    """How the exercise went.

    Signals:
        history_asked(): back to the first page. close_asked(): enough.

    Attributes:
        history: the button back to the first page.
    """

    history_asked = Signal()
    close_asked = Signal()

    def __init__(self, scheme: Scheme) -> None:
        """Start without figures."""
        super().__init__()
        self._title = _large(self.tr("All coupons are graded."), 1.3)
        self._figures = QGridLayout()
        self._words, self._watch = QVBoxLayout(), QVBoxLayout()
        self._chart = HistoryChart(scheme)
        self._watch_title = _large(self.tr("What to watch for"), 1.1)
        self.history = QPushButton(self.tr("&History"))
        self.history.setProperty("primary", True)
        self._close = QPushButton(self.tr("&Close"))
        self._build()
        self._wire()

    def _build(self) -> None:
        inside = QWidget()
        inside.setMaximumWidth(self.fontMetrics().averageCharWidth() * _WIDTH_IN_LETTERS)
        column = QVBoxLayout(inside)
        column.addWidget(self._title)
        column.addSpacing(8)
        card = QFrame()
        card.setProperty("card", True)
        card.setLayout(self._figures)
        self._figures.setHorizontalSpacing(36)
        self._figures.setVerticalSpacing(8)
        self._figures.setContentsMargins(14, 12, 14, 12)
        column.addWidget(card, 0, Qt.AlignmentFlag.AlignLeft)
        column.addSpacing(8)
        column.addLayout(self._words)
        column.addSpacing(12)
        column.addWidget(self._watch_title)
        column.addLayout(self._watch)
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setWidget(inside)
        row = QHBoxLayout()
        for each in (self.history, self._close):
            each.setAutoDefault(False)
            each.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
            row.addWidget(each)
        row.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        halves = QHBoxLayout()
        halves.addWidget(scroll, 3)
        halves.addWidget(self._chart, 2)
        whole.addLayout(halves, 1)
        whole.addLayout(row)

    def _wire(self) -> None:
        self.history.clicked.connect(self.history_asked)
        self._close.clicked.connect(self.close_asked)

    def show_past(self, past: Past, history: Sequence[Past]) -> None:
        """Show how an exercise went, and how it stands among all of this grader."""
        self._chart.setVisible(len(history) > 1)
        self._chart.show_past(history)
        before, after = past.before, past.after
        rows = (
            ("", self.tr("Before"), self.tr("After")),
            (self.tr("Offset, + too good"), signed(before.offset), signed(after.offset)),
            (self.tr("Spread"), plain(before.spread), plain(after.spread)),
            (self.tr("Exactly right"), of_all(before.exact, before), of_all(after.exact, after)),
            (self.tr("At most one off"), of_all(before.within_one, before), of_all(after.within_one, after)),
        )
        _empty(self._figures)
        for number, row in enumerate(rows):
            for place, text in enumerate(row):
                label = QLabel(text)
                label.setProperty("heading", number == 0 or place > 0)
                side = Qt.AlignmentFlag.AlignLeft if place == 0 else Qt.AlignmentFlag.AlignRight
                self._figures.addWidget(label, number, place, side)
        _fill(self._words, offset_sentences(past))
        _fill(self._watch, watch_sentences(past))
        self.history.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the keyboard."""
        button = focused_button(self) if is_enter(event) else None
        if button is None:
            super().keyPressEvent(event)
        else:
            button.click()


def _large(text: str, times: float) -> QLabel:
    label = words_label(text)
    font = QFont(label.font())
    font.setPointSizeF(font.pointSizeF() * times)
    font.setWeight(QFont.Weight.DemiBold)
    label.setFont(font)
    return label


def _fill(column: QVBoxLayout, sentences: Sequence[str]) -> None:
    _empty(column)
    for each in sentences:
        column.addWidget(words_label(each))


def _empty(layout: QVBoxLayout | QGridLayout) -> None:
    while (item := layout.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.setParent(None)
            widget.deleteLater()
