"""What several boards are asked: what is compared, by which measure, on which clock."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QCheckBox, QComboBox, QHBoxLayout, QLabel, QSpinBox, QWidget

from rustboard.board.exposure_clock import CLOCK_KINDS
from rustboard.board.question import DEFAULT_FAILING_GRADE, FAILING_GRADES, MEASURES, Question
from rustboard.findings.boards.matching import Matching
from rustboard.session.other_boards import PoolRequest, ReadBoards
from rustboard.ui.clock_words import clock_names
from rustboard.ui.flow_layout import FlowLayout
from rustboard.ui.matched import several_words as words
from rustboard.ui.matched.several_words import say
from rustboard.ui.wording import tool_tip


class AskedLine(QWidget):
    """The choices of the question.

    Signals:
        changed(): the user chose otherwise.

    Attributes:
        compared, measure, clock, failing, shared: the choices.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Begin with the usual question."""
        super().__init__(parent)
        self.compared, self.measure, self.clock = QComboBox(), QComboBox(), QComboBox()
        self._compared = tuple(words.COMPARED)
        self.compared.addItems([say(words.COMPARED[each]) for each in self._compared])
        self.measure.addItems([say(words.MEASURES[each]) for each in MEASURES])
        self.clock.addItems([clock_names(each)[0] for each in CLOCK_KINDS])
        self.failing = QSpinBox()
        self.failing.setRange(FAILING_GRADES[0], FAILING_GRADES[-1])
        self.failing.setValue(DEFAULT_FAILING_GRADE)
        self.shared = QCheckBox(self.tr("Onl&y as far as all were watched"))
        self.shared.setChecked(True)
        self.shared.setToolTip(
            tool_tip(
                self.tr(
                    "Later inspections of the boards that were watched longer are left out of last and mean grades, "
                    "so that all boards have had the same exposure on the clock."
                )
            )
        )
        self._lay_out()
        self._wire()
        self._offer()

    def _lay_out(self) -> None:
        flow = FlowLayout(self)
        flow.setContentsMargins(0, 0, 0, 0)
        for text, field in (
            (self.tr("Compare"), self.compared),
            (self.tr("by"), self.measure),
            (self.tr("on the clock"), self.clock),
            (self.tr("failed at"), self.failing),
        ):
            label = QLabel(text)
            label.setBuddy(field)
            field.setAccessibleName(text)
            together = QWidget()
            row = QHBoxLayout(together)
            row.setContentsMargins(0, 0, 8, 0)
            row.addWidget(label)
            row.addWidget(field)
            flow.addWidget(together)
        flow.addWidget(self.shared)

    def _wire(self) -> None:
        for box in (self.compared, self.measure, self.clock):
            box.activated.connect(self._choose)
        self.failing.valueChanged.connect(self._choose)
        self.shared.toggled.connect(self._toggle)

    def take_question(self, question: Question) -> None:
        """Begin with the question of a board."""
        wanted = question.compared if question.compared in self._compared else "pairs"
        self.compared.setCurrentIndex(self._compared.index(wanted))
        self.measure.setCurrentIndex(MEASURES.index(question.measure))
        self.failing.setValue(question.failing_grade)
        self._offer()

    def request(self, boards: ReadBoards, matching: Matching) -> PoolRequest:
        """Return what is asked of boards."""
        return PoolRequest(
            boards,
            matching,
            self._compared[max(self.compared.currentIndex(), 0)],
            MEASURES[max(self.measure.currentIndex(), 0)],
            self.failing.value(),
            CLOCK_KINDS[max(self.clock.currentIndex(), 0)],
            self.shared.isChecked(),
        )

    def _offer(self) -> None:
        self.shared.setEnabled(MEASURES[max(self.measure.currentIndex(), 0)] != "days to failing grade")

    @Slot(int)
    def _choose(self, at: int) -> None:
        self._offer()
        self.changed.emit()

    @Slot(bool)
    def _toggle(self, on: bool) -> None:
        self.changed.emit()
