"""The lines over the findings: how the board is looked at, how far the work is, and the way back."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.question import FAILING_GRADES, MEASURES
from rustboard.board.record import BoardRecord
from rustboard.session.findings import View, clocks_for, compared_for, view_of
from rustboard.ui.clock_words import clock_names
from rustboard.ui.findings.words import compared_name, measure_name
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import px_of_mm

_TOUCH_MM = 8.0
_WIDE_IN_LETTERS = 135
_SHORT = 15


class FindingsHead(QWidget):
    """Says how the board is looked at, and changes it.

    Signals:
        chosen(): the user looks at it otherwise. left(): back to the board. stop_asked(): stop working it out.
        again_asked(): work the rest out after all.

    Attributes:
        measure, compared, clock, failing: the choices. state: what is being done.
    """

    chosen = Signal()
    left = Signal()
    stop_asked = Signal()
    again_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without choices."""
        super().__init__(parent)
        self._view: View | None = None
        self._choices, self._apply_here = QWidget(), True
        self.measure, self.compared, self.clock, self.failing = (QComboBox() for _ in range(4))
        self.state = QLabel()
        self.state.setProperty("muted", True)
        self.state.setTextFormat(Qt.TextFormat.PlainText)
        self.state.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.bar.setMaximumWidth(140)
        self.stop = QPushButton(self.tr("St&op"))
        self.again = QPushButton(self.tr("Work &out the rest"))
        self.own = QPushButton(self.tr("As the &question asks"))
        self.differs = words_label(muted=True, narrow=True)
        self._back = QPushButton(self.tr("Bac&k to the board"))
        self._lay_out()
        self._wire()
        self.show_working(None)

    def _lay_out(self) -> None:
        title = QLabel(self.tr("Findings"))
        title.setProperty("heading", True)
        first = QHBoxLayout()
        first.setContentsMargins(4, 0, 0, 0)
        first.setSpacing(6)
        first.addWidget(title)
        first.addWidget(self.state, 1)
        for widget in (self.bar, self.stop, self.again, self._back):
            first.addWidget(widget)
        flow = FlowLayout(self._choices, spacing=6)
        names = (
            (self.tr("&Judged by"), self.measure),
            (self.tr("Co&mpared"), self.compared),
            (self.tr("&Clock"), self.clock),
            (self.tr("Failin&g grade"), self.failing),
        )
        for name, box in names:
            flow.addWidget(self._pair(name, box))
        flow.addWidget(self.own)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addLayout(first)
        column.addWidget(self._choices)
        column.addWidget(self.differs)

    def _pair(self, name: str, box: QComboBox) -> QWidget:
        pair = QWidget()
        row = QHBoxLayout(pair)
        row.setContentsMargins(0, 0, 4, 0)
        row.setSpacing(4)
        label = QLabel(name)
        label.setBuddy(box)
        box.setAccessibleName(name.replace("&", ""))
        box.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        row.addWidget(label)
        row.addWidget(box)
        return pair

    def _wire(self) -> None:
        for box in (self.measure, self.compared, self.clock, self.failing):
            box.activated.connect(self._choose)
        self.own.clicked.connect(self._take_own)
        self._back.clicked.connect(self.left)
        self.stop.clicked.connect(self.stop_asked)
        self.again.clicked.connect(self.again_asked)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Cut long choices short where the window is small, so that the choices take fewer lines."""
        super().resizeEvent(event)
        small = event.size().width() < self.fontMetrics().averageCharWidth() * _WIDE_IN_LETTERS
        policies = QComboBox.SizeAdjustPolicy
        policy = policies.AdjustToMinimumContentsLengthWithIcon if small else policies.AdjustToContents
        for box in (self.measure, self.compared, self.clock, self.failing):
            box.setSizeAdjustPolicy(
                policy.AdjustToMinimumContentsLengthWithIcon if small else policy.AdjustToContents
            )
            box.setMinimumContentsLength(min(len(box.currentText()), _SHORT) if small else 0)

    # ---- choices

    def show_choices(self, record: BoardRecord) -> View:
        """Offer what the board can be looked at by, and return how it is: as before, where that can still be."""
        own = view_of(record)
        view = self._view or own
        clocks, compared = clocks_for(record), compared_for(record) or [own.compared]
        if view.clock not in clocks:
            view = replace(view, clock="days")
        if view.compared not in compared:
            view = replace(view, compared=compared[0])
        self._fill(self.measure, [(measure_name(each), each) for each in MEASURES], view.measure)
        self._fill(self.compared, [(compared_name(each), each) for each in compared], view.compared)
        self._fill(self.clock, [(clock_names(each)[0], each) for each in clocks], view.clock)
        self._fill(self.failing, [(str(each), each) for each in FAILING_GRADES], view.failing_grade)
        self._view = None if view == own else view
        asks_otherwise = record.question is not None and view != own
        self.own.setVisible(view != own)
        self.differs.setText(self._otherwise() if asks_otherwise else "")
        self.differs.setVisible(asks_otherwise and self._apply_here)
        return view

    def _otherwise(self) -> str:
        return self.tr(
            "You look at this board otherwise than the question written for it. Choosing the view that suits best "
            "after seeing the grades makes chance look like proof."
        )

    def apply_here(self, there: bool) -> None:
        """Show the choices, or hide them beside a page that has choices of its own."""
        self._apply_here = there
        self._choices.setVisible(there)
        self.differs.setVisible(there and bool(self.differs.text()))

    def _fill(self, box: QComboBox, choices: list[tuple[str, object]], chosen: object) -> None:
        if [(box.itemText(at), box.itemData(at)) for at in range(box.count())] != choices:
            box.clear()
            for text, value in choices:
                box.addItem(text, value)
        box.setCurrentIndex([value for _, value in choices].index(chosen))

    @Slot(int)
    def _choose(self, _: int) -> None:
        self._view = View(
            self.failing.currentData(),
            self.measure.currentData(),
            self.clock.currentData(),
            self.compared.currentData(),
        )
        self.chosen.emit()

    @Slot()
    def _take_own(self) -> None:
        self._view = None
        self.chosen.emit()

    # ---- work

    def show_working(self, share: tuple[int, int] | None, words: str = "") -> None:
        """Show how far the work is; None = it is not going on."""
        self.state.setText(words)
        for widget in (self.bar, self.stop):
            widget.setVisible(share is not None)
        if share is not None:
            done, total = share
            self.bar.setRange(0, max(total, 1) if total else 0)
            self.bar.setValue(done)

    def offer_again(self, wanted: bool) -> None:
        """Offer to work the rest out, where it was stopped."""
        self.again.setVisible(wanted)
