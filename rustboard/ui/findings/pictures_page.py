"""All pictures of the findings in a scrolling flow, two beside each other where there is room."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QComboBox, QFrame, QGridLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.ui.charts.chart import Chart
from rustboard.ui.charts.view import ChartView
from rustboard.ui.findings.figures_table import labelled
from rustboard.ui.findings.pictures_of import (
    forecast,
    frontier,
    interaction,
    ranked_dots,
    residual_map,
    survival_steps,
)
from rustboard.ui.theme import Scheme

_WIDE_IN_LETTERS: Final = 125
_PLACES: Final = ("ranking", "survival", "factors", "value", "residuals", "forecast")


class PicturesPage(QScrollArea):
    """The pictures.

    Signals:
        copied(str): what was copied, to be told. save_asked(object): a `ChartView` is to be saved as a file.

    Attributes:
        views: by what they show. price: whether value is by money or by time.
    """

    copied = Signal(str)
    save_asked = Signal(object)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without pictures."""
        super().__init__(parent)
        self._found: Findings | None = None
        self.views = {each: ChartView(scheme) for each in _PLACES}
        self.price = QComboBox()
        self.price.addItems([self.tr("cost"), self.tr("minutes of work")])
        self._price_row = labelled(self.tr("Against"), self.price)
        self._cards: dict[str, QFrame] = {}
        inside = QWidget()
        self._grid = QGridLayout(inside)
        self._grid.setContentsMargins(8, 8, 8, 8)
        self._grid.setSpacing(10)
        for name, view in self.views.items():
            self._cards[name] = self._card(name, view)
        self._columns = 0
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Pictures"))
        self.setWidget(inside)
        self._arrange(2)
        self._wire()

    def _card(self, name: str, view: ChartView) -> QFrame:
        card = QFrame()
        card.setProperty("card", True)
        card.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        column = QVBoxLayout(card)
        column.setContentsMargins(8, 6, 8, 4)
        column.addWidget(view)
        if name == "value":
            column.addWidget(self._price_row, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        return card

    def _wire(self) -> None:
        self.price.activated.connect(self._show_value)
        for each in self.views.values():
            each.copied.connect(self.copied)
            each.save_asked.connect(self._ask_save)

    def show_findings(self, found: Findings) -> None:
        """Show the pictures of findings; one that cannot be had says why."""
        self._found = found
        self._show("ranking", ranked_dots(found), self.tr("No coupon that counts was graded yet."))
        self._show("survival", survival_steps(found), self.tr("Nothing is known of the time to the failing grade."))
        factors = interaction(found)
        self._show("factors", factors, "")
        self._show_value()
        self._show("residuals", residual_map(found), self.tr("There is nothing left over to map yet."))
        waiting = self.tr("How it may go on comes with the exact tests.")
        self._show("forecast", forecast(found), self._why_no_forecast(found) if found.growth is not None else waiting)
        self._arrange(self._columns)

    def _why_no_forecast(self, found: Findings) -> str:
        return self.tr("There are too few inspections, or too little rust, to say how it may go on.")

    @Slot()
    def _show_value(self) -> None:
        if self._found is not None:
            chart = frontier(self._found, "money" if self.price.currentIndex() == 0 else "time")
            why = (
                self.tr("Write down what the treatments cost per m² (Board menu, Treatments) to see it here.")
                if self.price.currentIndex() == 0
                else self.tr("Write down the minutes that treatments take per m² to see it here.")
            )
            self._show("value", chart, why)

    def _show(self, name: str, chart: Chart | None, why_none: str) -> None:
        self.views[name].show_chart(chart, why_none)
        self._cards[name].setVisible(chart is not None or bool(why_none))

    @Slot()
    def _ask_save(self) -> None:
        self.save_asked.emit(self.sender())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for each in self.views.values():
            each.set_scheme(scheme)

    def _arrange(self, columns: int) -> None:
        """Lay the pictures that there are out in so many columns."""
        self._columns = columns
        shown = [each for each in self._cards.values() if not each.isHidden()]
        for each in self._cards.values():
            self._grid.removeWidget(each)
        for number, each in enumerate(shown):
            self._grid.addWidget(each, number // columns, number % columns)
        for column in range(2):
            self._grid.setColumnStretch(column, 1 if column < columns else 0)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take one column where two have no room."""
        super().resizeEvent(event)
        columns = 2 if event.size().width() >= self.fontMetrics().averageCharWidth() * _WIDE_IN_LETTERS else 1
        if columns != self._columns:
            self._arrange(columns)
