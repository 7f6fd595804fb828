"""The line over the findings: how the board is looked at, how far the exact tests are, and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Generic, TypeVar

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QProgressBar, QPushButton, QVBoxLayout, QWidget

from rustboard.board.exposure_clock import ClockKind
from rustboard.board.question import FAILING_GRADES, MEASURES, Compared, Measure
from rustboard.session.findings import View
from rustboard.ui.findings.figures_table import labelled
from rustboard.ui.findings.findings_words import CLOCKS, COMPARED, say
from rustboard.ui.findings.findings_words import MEASURES as MEASURE_TEXTS
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import words_label

V = TypeVar("V")


class ChoiceBox(QComboBox, Generic[V]):
    """A choice among values that are written in words."""

    def __init__(self, name: str) -> None:
        """Start without choices; ``name`` is for the screen reader."""
        super().__init__()
        self._values: list[V] = []
        self.setAccessibleName(name)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)

    def offer(self, values: Sequence[V], texts: Sequence[str], chosen: V) -> None:
        """Offer values and choose one; one that is not among them is not chosen."""
        if list(values) != self._values:
            self._values = list(values)
            self.clear()
            self.addItems(list(texts))
        self.setCurrentIndex(self._values.index(chosen) if chosen in self._values else -1)

    def value(self) -> V | None:
        """Return what is chosen."""
        at = self.currentIndex()
        return self._values[at] if 0 <= at < len(self._values) else None


class FindingsHead(QWidget):
    """How the board is looked at.

    Signals:
        changed(): the user looks at it another way. as_written(): as the board's question has it again.
        stopped(), resumed(): the exact tests are to stop, or to go on. left(): back to the board.

    Attributes:
        failing, measure, clock, compared: the choices. state: how far the work is.
        otherwise: says that the board's question asks something else.
    """

    changed = Signal()
    as_written = Signal()
    stopped = Signal()
    resumed = Signal()
    left = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line."""
        super().__init__(parent)
        self._view: View | None = None
        title = QLabel(self.tr("Findings"))
        title.setProperty("heading", True)
        self.failing: ChoiceBox[int] = ChoiceBox(self.tr("Failing grade"))
        self.failing.setToolTip(self.tr("At this grade or below a coupon has failed"))
        self.measure: ChoiceBox[Measure] = ChoiceBox(self.tr("What coupons are judged by"))
        self.clock: ChoiceBox[ClockKind] = ChoiceBox(self.tr("What exposure is told by"))
        self.compared: ChoiceBox[Compared] = ChoiceBox(self.tr("What is compared with what"))
        self.state = QLabel()
        self.state.setProperty("muted", True)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setFixedWidth(self.fontMetrics().averageCharWidth() * 14)
        self.bar.setAccessibleName(self.tr("Exact tests"))
        self.stop, self.resume = QPushButton(self.tr("&Stop")), QPushButton(self.tr("Wo&rk out the exact tests"))
        self.back = QPushButton(self.tr("Bac&k to the board"))
        self.written = QPushButton(self.tr("As &written"))
        self.otherwise = words_label(muted=True, narrow=True)
        self._choices = flowing(
            labelled(self.tr("&Judged by"), self.measure),
            labelled(self.tr("Failing &grade"), self.failing),
            labelled(self.tr("&Clock"), self.clock),
            labelled(self.tr("C&ompared"), self.compared),
            spacing=6,
        )
        self._quiet = QWidget()
        row = QHBoxLayout(self._quiet)
        row.setContentsMargins(4, 0, 0, 0)
        row.addWidget(self.otherwise, 1)
        row.addWidget(self.written)
        work = QWidget()
        row = QHBoxLayout(work)
        row.setContentsMargins(0, 0, 0, 0)
        for each in (self.state, self.bar, self.stop, self.resume):
            row.addWidget(each)
        first = QHBoxLayout()
        first.setContentsMargins(4, 0, 0, 0)
        first.addWidget(title)
        first.addSpacing(8)
        first.addWidget(work)
        first.addStretch(1)
        first.addWidget(self.back)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addLayout(first)
        column.addWidget(self._choices)
        column.addWidget(self._quiet)
        self.show_idle("")
        self._wire()

    def _wire(self) -> None:
        for each in (self.failing, self.measure, self.clock, self.compared):
            each.activated.connect(self._choose)
        self.stop.clicked.connect(self.stopped)
        self.resume.clicked.connect(self.resumed)
        self.back.clicked.connect(self.left)
        self.written.clicked.connect(self.as_written)

    def show_view(
        self, view: View, clocks: Sequence[ClockKind], compared: Sequence[Compared], otherwise: str = ""
    ) -> None:
        """Show how the board is looked at, and what else there is to choose.

        Args:
            view: how it is looked at.
            clocks: it can be told by.
            compared: what gives at least one comparison.
            otherwise: where the board's question asks something else, what it asks.
        """
        self._view = view
        self.failing.offer(FAILING_GRADES, [str(each) for each in FAILING_GRADES], view.failing_grade)
        self.measure.offer(MEASURES, [say(MEASURE_TEXTS[each]) for each in MEASURES], view.measure)
        self.clock.offer(clocks, [say(CLOCKS[each]) for each in clocks], view.clock)
        there = compared if view.compared in compared else [*compared, view.compared]
        self.compared.offer(there, [say(COMPARED[each]) for each in there], view.compared)
        self.otherwise.setText(otherwise)
        self._quiet.setVisible(bool(otherwise) and not self._choices.isHidden())

    def show_choices(self, shown: bool) -> None:
        """Show the choices, or hide them on a page that they say nothing to."""
        self._choices.setVisible(shown)
        self._quiet.setVisible(shown and bool(self.otherwise.text()))

    def view(self) -> View | None:
        """Return how the board is looked at as chosen; None before anything was shown."""
        view = self._view
        if view is None:
            return None
        failing = self.failing.value()
        return replace(
            view,
            failing_grade=view.failing_grade if failing is None else failing,
            measure=self.measure.value() or view.measure,
            clock=self.clock.value() or view.clock,
            compared=self.compared.value() or view.compared,
        )

    # ---- the work

    def show_working(self, state: str, done: int = 0, total: int = 0) -> None:
        """Show that something is worked out and how far it is; a total of 0 is not known."""
        self.state.setText(state)
        self.bar.setRange(0, total)
        self.bar.setValue(done)
        self.bar.show()
        self.stop.show()
        self.resume.hide()

    def show_idle(self, state: str, *, resume: bool = False) -> None:
        """Show that nothing is worked out; with ``resume`` that the exact tests are still to be."""
        self.state.setText(state)
        self.bar.hide()
        self.stop.hide()
        self.resume.setVisible(resume)

    @Slot()
    def _choose(self) -> None:
        self.changed.emit()
