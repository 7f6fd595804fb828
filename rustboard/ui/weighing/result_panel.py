"""What a weighed coupon says: the losses drawn, then loss, area, rate, category, pits and doubts in words."""

from __future__ import annotations

from collections.abc import Iterable

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QLabel, QScrollArea, QVBoxLayout, QWidget

from rustboard.scales.mass_loss import CorrosionRate
from rustboard.scales.weighed import Weighed
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import Scheme
from rustboard.ui.weighing.loss_chart import LossChart
from rustboard.ui.weighing.words import (
    RATE_UNITS,
    area_sentences,
    category_sentences,
    loss_sentences,
    pit_sentences,
    say,
    significant,
    told,
)

_CELL_IN_LETTERS = 24
"""A rate with its unit, so that rates stand under one another."""


class ResultPanel(QScrollArea):
    """Shows one coupon worked out; what cannot be said yet is left out.

    Attributes:
        chart: the losses.
    """

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.chart = LossChart(scheme)
        self._hint = words_label(muted=True, narrow=True)
        self._loss, self._area = _Part(self.tr("Corrosion loss")), _Part(self.tr("Exposed area"))
        self._rate = RateTable()
        self._category, self._pits = _Part(self.tr("Category of ISO 9223")), _Part(self.tr("Pits"))
        self._doubts = _Part(self.tr("To look at"))
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setContentsMargins(10, 4, 10, 8)
        column.setSpacing(8)
        for each in (
            self._hint,
            self._loss,
            self.chart,
            self._area,
            self._rate,
            self._category,
            self._pits,
            self._doubts,
        ):
            column.addWidget(each)
        column.addStretch(1)
        self.setWidget(inside)
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 34)

    def sizeHint(self) -> QSize:
        """Return a width for reading."""
        return QSize(self.fontMetrics().averageCharWidth() * 58, self.fontMetrics().height() * 50)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.chart.set_scheme(scheme)

    def show_nothing(self, hint: str) -> None:
        """Say why nothing follows yet."""
        self._show_hint(hint)
        self.chart.show_cleaning(None)
        for part in (self._loss, self._area, self._category, self._pits, self._doubts):
            part.show_sentences(())
        self._rate.show_rate(None, None)

    def show_weighed(self, weighed: Weighed) -> None:
        """Show a coupon worked out."""
        self._show_hint("")
        self.chart.show_cleaning(weighed.cleaning)
        self._loss.show_sentences(() if weighed.cleaning is None else loss_sentences(weighed.cleaning))
        self._area.show_sentences(area_sentences(weighed))
        self._rate.show_rate(weighed.rate, weighed.days)
        self._category.show_sentences(category_sentences(weighed))
        self._pits.show_sentences(pit_sentences(weighed.pits))
        self._doubts.show_sentences(told(each) for each in weighed.problems)

    def _show_hint(self, hint: str) -> None:
        self._hint.setText(hint)
        self._hint.setVisible(bool(hint))

    def text(self) -> str:
        """Return all that is read, line by line."""
        shown = [each for each in self.findChildren(QLabel) if each.isVisibleTo(self)]
        return "\n".join(each.text() for each in shown)


class _Part(QWidget):
    """A heading and its sentences; hidden without any."""

    def __init__(self, heading: str) -> None:
        super().__init__()
        title = words_label(heading, narrow=True)
        title.setProperty("heading", True)
        self._words = words_label(narrow=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(title)
        column.addWidget(self._words)
        self.hide()

    def show_sentences(self, sentences: Iterable[str]) -> None:
        text = "\n".join(sentences)
        self._words.setText(text)
        self.setVisible(bool(text))


class RateTable(QWidget):
    """The mean rate in all usual units; hidden without one."""

    def __init__(self) -> None:
        """Build the table, hidden."""
        super().__init__()
        self._title = words_label(narrow=True)
        self._title.setProperty("heading", True)
        self._values = [QLabel() for _ in RATE_UNITS]
        for each in self._values:
            each.setFixedWidth(each.fontMetrics().averageCharWidth() * _CELL_IN_LETTERS)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._title)
        column.addWidget(flowing(*self._values))
        self.hide()

    def show_rate(self, rate: CorrosionRate | None, days: float | None) -> None:
        """Show another rate, or none."""
        self.setVisible(rate is not None)
        if rate is None or days is None:
            return
        self._title.setText(say("Mean rate over {0} days").format(significant(days)))
        for label, (unit, ask) in zip(self._values, RATE_UNITS, strict=True):
            label.setText(f"{significant(ask(rate))} {unit}")
