"""The forest of one comparison: board by board and pooled, with the choice of which comparison."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QComboBox, QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from rustboard.findings.boards.results import PooledComparison
from rustboard.session.other_boards import PooledBoards
from rustboard.support.text import printable
from rustboard.ui.charts.forest import Forest, ForestRow
from rustboard.ui.charts.view import ChartView
from rustboard.ui.matched.several_words import DIFFERENCE_TIP, INTERVAL_TIP, say, unit_text
from rustboard.ui.theme import Scheme


def forest_of(pooled: PooledBoards, comparison: PooledComparison) -> Forest:
    """Return the picture of one comparison."""
    a, b = printable(comparison.name_a), printable(comparison.name_b)
    rows = [
        ForestRow(
            printable(each.board), each.difference, each.low, each.high, each.weight,
            count=say("{0} and {1} coupons").format(each.units_a, each.units_b),
        )
        for each in comparison.effects
    ]  # fmt: skip
    rows.append(
        ForestRow(say("All together"), comparison.difference, comparison.low, comparison.high, is_pooled=True)
    )
    unit = unit_text(pooled.request.measure, pooled.request.clock)
    return Forest(
        say("{0} against {1}, board by board").format(a, b),
        f"{say(DIFFERENCE_TIP)} {say(INTERVAL_TIP)}",
        tuple(rows),
        say("{0} less {1}, {2}").format(a, b, unit),
        say("{0} better").format(b),
        say("{0} better").format(a),
    )


def in_scroll(widget: QWidget) -> QScrollArea:
    """Return a frame in which a picture can be rolled up and down."""
    around = QScrollArea()
    around.setWidgetResizable(True)
    around.setFrameShape(QFrame.Shape.NoFrame)
    around.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    around.setWidget(widget)
    return around


class ForestPanel(QWidget):
    """The picture with its choice.

    Attributes:
        comparison: which one. view: the picture.
    """

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._pooled: PooledBoards | None = None
        self.comparison = QComboBox()
        self.comparison.setAccessibleName(self.tr("Comparison"))
        self.comparison.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.view = ChartView(scheme)
        label = QLabel(self.tr("Com&parison"))
        label.setBuddy(self.comparison)
        row = QHBoxLayout()
        row.addWidget(label)
        row.addWidget(self.comparison, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 4)
        column.addLayout(row)
        column.addWidget(in_scroll(self.view), 1)
        self._wire()

    def _wire(self) -> None:
        self.comparison.activated.connect(self._choose)

    def show_pooled(self, pooled: PooledBoards) -> None:
        """Show the comparisons of a result; the one that was chosen stays chosen."""
        self._pooled = pooled
        before = self.comparison.currentText()
        self.comparison.clear()
        self.comparison.addItems(
            [
                say("{0} against {1}").format(printable(each.name_a), printable(each.name_b))
                for each in pooled.findings.pooled
            ]
        )
        self.comparison.setCurrentIndex(max(self.comparison.findText(before), 0))
        self._show()

    def _show(self) -> None:
        at = self.comparison.currentIndex()
        if self._pooled is None or not 0 <= at < len(self._pooled.findings.pooled):
            self.view.show_chart(None, self.tr("There is no comparison that two of these boards can make."))
        else:
            self.view.show_chart(forest_of(self._pooled, self._pooled.findings.pooled[at]))

    @Slot(int)
    def _choose(self, at: int) -> None:
        self._show()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.view.set_scheme(scheme)
