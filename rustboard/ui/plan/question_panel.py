"""The question of the board, written down before it hangs."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.question import FAILING_GRADES, Question
from rustboard.board.question_time import written_after_start
from rustboard.findings.spread import usable_spread
from rustboard.operations.questions import set_question
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.ui.doing import Do
from rustboard.ui.forms.form import ProblemLine, WheelGuard, WrongFieldError, choice_field
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.forms.numbers import number_field, number_in, shown_number
from rustboard.ui.plan.earlier_boards import EarlierBoards
from rustboard.ui.plan.pairs_editor import PairsEditor
from rustboard.ui.plan.question_choices import COMPARED_CHOICES, MEASURE_CHOICES, say
from rustboard.ui.wording import date_time

_WORDS_IN_LINES: Final = 4.2


class OwnWords(QPlainTextEdit):
    """A text of a few lines.

    Signals:
        finished(): the keyboard has left it.
    """

    finished = Signal()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Tell that the text is finished."""
        super().focusOutEvent(event)
        self.finished.emit()


class QuestionPanel(QWidget):
    """What is compared with what, by what measure, and how large a difference matters."""

    def __init__(self, session: Session, do: Do, earlier: EarlierBoards, parent: QWidget | None = None) -> None:
        """Show a session's question, and what the user's earlier boards say of the spread."""
        super().__init__(parent)
        self._session, self._do, self._earlier = session, do, earlier
        self._wheel = WheelGuard(self)
        self._words = OwnWords()
        self._shown_words = ""
        self._compared = choice_field([say(each.text) for each in COMPARED_CHOICES])
        self._compared_words = words_label(muted=True)
        self._pairs = PairsEditor(self._wheel)
        self._failing = choice_field()
        self._measure = choice_field([say(each.text) for each in MEASURE_CHOICES])
        self._measure_words = words_label(muted=True)
        self._worthwhile = number_field(None)
        self._spread, self._spread_words = choice_field(), words_label(muted=True)
        self._assumed = number_field(None)
        self._problem = ProblemLine()
        self._written = words_label()
        self._form = panel_form()
        self._write = QPushButton(self.tr("&Write this question down"))
        self._build()
        self._wire()
        self.refresh()

    def _build(self) -> None:
        self._words.setTabChangesFocus(True)
        self._words.setPlaceholderText(self.tr("Which wax keeps the hinges bright through a winter on the wall?"))
        self._words.setFixedHeight(round(self._words.fontMetrics().lineSpacing() * _WORDS_IN_LINES) + 14)
        self._failing.addItems([self.tr("{0} or below").format(grade) for grade in FAILING_GRADES])
        self._spread.addItems([self.tr("As on my earlier boards"), self.tr("My own assumption")])
        self._assumed.setAccessibleName(self.tr("Assumed standard deviation in grades"))
        self._write.setProperty("primary", True)
        form = self._form
        label = QLabel(self.tr("The question in your &own words"))
        label.setBuddy(self._words)
        form.addRow(label)
        form.addRow(self._words)
        add_labelled(form, self.tr("&Compare"), self._compared)
        form.addRow(self._compared_words)
        form.addRow(self._pairs)
        add_labelled(form, self.tr("&Judge by"), self._measure)
        form.addRow(self._measure_words)
        add_labelled(form, self.tr("A coupon has fai&led at grade"), self._failing)
        add_labelled(form, self.tr("A difference that matters, in &grades"), self._worthwhile)
        add_labelled(form, self.tr("&Spread of coupons treated alike"), self._spread)
        add_labelled(form, self.tr("&Assumed, in grades"), self._assumed)
        form.addRow(self._spread_words)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self._problem)
        column.addWidget(self._written)
        column.addWidget(self._write, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        for each in (self._compared, self._failing, self._measure, self._spread):
            self._wheel.watch(each)

    def _wire(self) -> None:
        self._words.finished.connect(self._set_words)
        self._compared.activated.connect(self._set_compared)
        self._pairs.pairs_asked.connect(self._set_pairs)
        self._failing.activated.connect(self._set_failing)
        self._measure.activated.connect(self._set_measure)
        self._worthwhile.editingFinished.connect(self._set_worthwhile)
        self._spread.activated.connect(self._set_spread)
        self._assumed.editingFinished.connect(self._set_assumed)
        self._write.clicked.connect(self._write_down)
        self._earlier.changed.connect(self._show_spread)

    # ---- what it shows

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        if changes.touches("question", "treatment", "board", "inspection"):
            self.refresh()

    def refresh(self) -> None:
        """Show everything as it is now."""
        question, record = self._question(), self._session.record
        if question.words != self._shown_words:  # else what is being typed stays
            self._shown_words = question.words
            if self._words.toPlainText().strip() != question.words:
                self._words.setPlainText(question.words)
        self._compared.setCurrentIndex([each.value for each in COMPARED_CHOICES].index(question.compared))
        self._measure.setCurrentIndex([each.value for each in MEASURE_CHOICES].index(question.measure))
        self._compared_words.setText(say(COMPARED_CHOICES[self._compared.currentIndex()].words))
        self._measure_words.setText(say(MEASURE_CHOICES[self._measure.currentIndex()].words))
        self._failing.setCurrentIndex(question.failing_grade)
        self._worthwhile.setText(shown_number(question.worthwhile))
        treatments = sorted(record.treatments.values(), key=lambda each: each.key)
        self._pairs.show_pairs(question.pairs, treatments, writable=self._is_writable())
        self._form.setRowVisible(self._pairs, question.compared == "chosen")
        self._problem.say("")
        self._show_spread()
        self._show_written()
        self._enable()
        self._earlier.look()

    @Slot()
    def _show_spread(self) -> None:
        question = self._question()
        own = question.assumed_sd is not None
        self._spread.setCurrentIndex(int(own))
        self._form.setRowVisible(self._assumed, own)
        if own:
            self._assumed.setText(shown_number(question.assumed_sd))
        self._spread_words.setText(
            self.tr("The standard deviation of grades between coupons treated alike; two thirds lie within it.")
            if own
            else self._earlier.words()
        )

    def _show_written(self) -> None:
        kept = [self._session.record.questions[key] for key in sorted(self._session.record.questions)]
        self._write.setVisible(not kept)
        if not kept:
            self._written.setText(
                self.tr(
                    "Not written down yet: this is the usual question. Write it down before the board hangs, so that "
                    "nobody can say the question was chosen to fit the answer."
                )
            )
            return
        lines = [self._line_of(each) for each in (kept[0], *kept[-1:][: len(kept) - 1])]
        self._written.setText("\n".join(lines))

    def _line_of(self, question: Question) -> str:
        first = question.key == min(self._session.record.questions)
        when = self.tr("at an unknown time") if question.written is None else date_time(question.written)
        late = written_after_start(question, self._session.record)
        if not first and late:
            return self.tr("Changed {0}, after the exposure began. The report shows both.").format(when)
        if not first:
            return self.tr("Changed {0}. The report shows both.").format(when)
        if late:
            return self.tr("Written down {0}, after the exposure began.").format(when)
        return self.tr("Written down {0}, before the exposure.").format(when)

    def _enable(self) -> None:
        for each in (
            self._compared,
            self._failing,
            self._measure,
            self._worthwhile,
            self._spread,
            self._assumed,
            self._write,
        ):
            each.setEnabled(self._is_writable())
        self._words.setReadOnly(not self._is_writable())

    def _is_writable(self) -> bool:
        return not self._session.read_only_reason

    def _question(self) -> Question:
        return self._session.record.question or Question()

    # ---- what the user changes

    def _change(self, **changed: Any) -> None:
        """Keep the question with other values; what changes nothing is not kept."""
        question = self._question()
        if replace(question, **changed) != question and self._is_writable():
            self._keep(replace(question, **changed))

    def _keep(self, question: Question) -> None:
        if self._do(set_question, question, origin=self) is None:
            self.refresh()

    @Slot()
    def _write_down(self) -> None:
        self._keep(self._question())

    @Slot()
    def _set_words(self) -> None:
        self._change(words=self._words.toPlainText().strip())

    @Slot()
    def _set_compared(self) -> None:
        self._change(compared=COMPARED_CHOICES[self._compared.currentIndex()].value)

    @Slot(object)
    def _set_pairs(self, pairs: tuple[tuple[str, str], ...]) -> None:
        self._change(pairs=pairs)

    @Slot()
    def _set_failing(self) -> None:
        self._change(failing_grade=FAILING_GRADES[self._failing.currentIndex()])

    @Slot()
    def _set_measure(self) -> None:
        self._change(measure=MEASURE_CHOICES[self._measure.currentIndex()].value)

    @Slot()
    def _set_worthwhile(self) -> None:
        self._keep_number("worthwhile", self._worthwhile)

    @Slot()
    def _set_spread(self) -> None:
        if self._spread.currentIndex() == 0:
            self._change(assumed_sd=None)
        elif self._question().assumed_sd is None:
            self._change(assumed_sd=round(usable_spread(self._earlier.spread).sd, 1))

    @Slot()
    def _set_assumed(self) -> None:
        self._keep_number("assumed_sd", self._assumed)

    def _keep_number(self, name: str, field: QLineEdit) -> None:
        """Keep the number in a field under its name in the question; an empty field shows the kept one again."""
        try:
            value = number_in(field)
        except WrongFieldError as wrong:
            self._problem.say(wrong.sentence)
            return
        if value is None:
            self.refresh()
            return
        self._problem.say("")
        self._change(**{name: value})
