"""All pictures of the findings, in one or two columns."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QRadioButton, QScrollArea, QVBoxLayout, QWidget

from rustboard.ui.charts.view import ChartView
from rustboard.ui.findings.pictures_of import forecast, frontier, interaction, ranking, residual_map, survival
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings

_TWO_COLUMNS: Final = 60
"""Letters of width from which on two pictures stand side by side."""


class PicturesPage(QScrollArea):
    """Ranking, survival, finish and protectant, cost, what is left beside treatment, forecast.

    Signals:
        copied(str): something was copied, to be told. save_asked(object): a `ChartView` is to be saved.

    Attributes:
        views: the pictures by name.
    """

    copied = Signal(str)
    save_asked = Signal(object)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Pictures of the findings"))
        self._findings: Findings | None = None
        names = ("ranking", "survival", "interaction", "value", "residuals", "forecast")
        self.views = {name: ChartView(scheme) for name in names}
        self.money, self.time = QRadioButton(self.tr("by money")), QRadioButton(self.tr("by work"))
        self.money.setChecked(True)
        self._value = QWidget()
        self._inside = QWidget()
        self._grid = QGridLayout(self._inside)
        self._grid.setContentsMargins(4, 4, 4, 4)
        self._columns = 0
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self._value)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        choices = QHBoxLayout()
        choices.setContentsMargins(6, 4, 0, 0)
        choices.addWidget(self.money)
        choices.addWidget(self.time)
        choices.addStretch(1)
        column.addWidget(self.views["value"])
        column.addLayout(choices)
        column.addStretch(1)
        self.setWidget(self._inside)

    def _wire(self) -> None:
        self.money.toggled.connect(self._show_value)
        for view in self.views.values():
            view.copied.connect(self.copied)
            view.save_asked.connect(self._save)

    def _boxes(self) -> list[QWidget]:
        """Return what is shown, in order."""
        boxes: list[QWidget] = []
        for name, view in self.views.items():
            if view.chart() is not None or name == "forecast":
                boxes.append(self._value if name == "value" else view)
        return boxes

    def show_findings(self, findings: Findings) -> None:
        """Show the pictures of a board."""
        self._findings = findings
        views = self.views
        views["ranking"].show_chart(ranking(findings))
        views["survival"].show_chart(survival(findings))
        views["interaction"].show_chart(interaction(findings))
        views["residuals"].show_chart(residual_map(findings))
        waiting = self.tr("The forecast is still being worked out.")
        none = self.tr("Nothing can be forecast from these grades.")
        views["forecast"].show_chart(forecast(findings), none if findings.complete else waiting)
        both = [frontier(findings, by_time=by_time) is not None for by_time in (False, True)]
        if both == [False, True]:
            self.time.setChecked(True)
        for button in (self.money, self.time):
            button.setVisible(all(both))
        self._show_value(True)
        self._columns = 0
        self._arrange()

    @Slot(bool)
    def _show_value(self, _: bool) -> None:
        if self._findings is not None:
            self.views["value"].show_chart(frontier(self._findings, by_time=self.time.isChecked()))

    @Slot()
    def _save(self) -> None:
        self.save_asked.emit(self.sender())

    def _arrange(self) -> None:
        wide = self.viewport().width() > self.fontMetrics().averageCharWidth() * 2 * _TWO_COLUMNS
        columns = 2 if wide else 1
        if columns == self._columns:
            return
        self._columns = columns
        while self._grid.count():
            item = self._grid.takeAt(0)
            widget = None if item is None else item.widget()
            if widget is not None:
                widget.hide()
        for number, box in enumerate(self._boxes()):
            self._grid.addWidget(box, number // columns, number % columns)
            box.show()
        for column in range(2):
            self._grid.setColumnStretch(column, int(column < columns))
        self._grid.setRowStretch(len(self._boxes()), 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Take one column where there is no room for two."""
        super().resizeEvent(event)
        self._arrange()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for view in self.views.values():
            view.set_scheme(scheme)
