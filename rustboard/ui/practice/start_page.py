"""Before an exercise: who grades, what will happen, and how it went before."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QLabel,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from rustboard.scales.practice import PARTS, TOTAL
from rustboard.session.practice import Past, Practice
from rustboard.ui.forms.form import known_field, text_of
from rustboard.ui.forms.labels import words_label
from rustboard.ui.practice.enter_key import focused_button, is_enter
from rustboard.ui.practice.history_chart import HistoryChart
from rustboard.ui.practice.words import of_all, plain, signed
from rustboard.ui.theme import Scheme, px_of_mm
from rustboard.ui.wording import date_only

_TOUCH_MM = 9.0
_LEFT_IN_LETTERS = 52
_COLUMN_IN_LETTERS = 16
_LONGEST_NAME = 200
_SHOWN_NAME = 60


class StartPage(QWidget):
    """Offers to start, or to go on.

    Signals:
        start_asked(str): a new exercise for a grader. go_on_asked(str): the one not finished.
        close_asked(): enough. told(str): what of the history cannot be read, or an empty text.

    Attributes:
        who: the field of the name. start, go_on: the buttons.
    """

    start_asked = Signal(str)
    go_on_asked = Signal(str)
    close_asked = Signal()
    told = Signal(str)

    def __init__(self, practice: Practice, grader: str, scheme: Scheme) -> None:
        """Offer earlier graders; ``grader`` stands in the field at first."""
        super().__init__()
        self._practice = practice
        graders = practice.graders()
        self.who = known_field(grader or next(iter(graders), ""), graders)
        line = self.who.lineEdit()
        if line is not None:
            line.setMaxLength(_LONGEST_NAME)
        self._label = QLabel(self.tr("&Who grades"))
        self._label.setBuddy(self.who)
        self.start, self.go_on = QPushButton(), QPushButton()
        self._close = QPushButton(self.tr("&Close"))
        self._table, self._chart = QTableWidget(), HistoryChart(scheme)
        self._heading, self._legend = words_label(narrow=True), words_label(muted=True, narrow=True)
        self._build()
        self._wire()

    def _build(self) -> None:
        for each in (self.start, self.go_on, self._close):
            each.setAutoDefault(False)
            each.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        self.who.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        self._heading.setProperty("heading", True)
        self._build_table()
        left = QWidget()
        left.setMaximumWidth(self.fontMetrics().averageCharWidth() * _LEFT_IN_LETTERS)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, 8, 0)
        column.addWidget(self._label)
        column.addWidget(self.who)
        column.addSpacing(10)
        for sentence in self._sentences():
            column.addWidget(words_label(sentence))
        column.addSpacing(10)
        column.addWidget(self.go_on)
        column.addWidget(self.start)
        column.addStretch(1)
        column.addWidget(self._close, 0, Qt.AlignmentFlag.AlignLeft)
        right = QVBoxLayout()
        right.addWidget(self._heading)
        right.addWidget(self._table, 40)
        right.addWidget(self._legend)
        right.addWidget(self._chart, 80)
        right.addStretch(1)  # keeps the heading at the top while there is nothing under it
        halves = QHBoxLayout(self)
        halves.setContentsMargins(0, 0, 0, 0)
        halves.addWidget(left, 2)
        halves.addLayout(right, 3)

    def _build_table(self) -> None:
        headers = [
            self.tr("Day"),
            self.tr("Offset"),
            self.tr("Spread"),
            self.tr("Exactly right"),
            self.tr("At most 1 off"),
        ]
        self._table.setColumnCount(len(headers))
        self._table.setHorizontalHeaderLabels(headers)
        self._table.setAccessibleName(self.tr("Exercises done, newest first"))
        self._table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self._table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self._table.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self._table.setShowGrid(False)
        self._table.setAlternatingRowColors(True)
        self._table.setTabKeyNavigation(False)
        self._table.setWordWrap(False)
        self._table.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self._table.verticalHeader().hide()
        header = self._table.horizontalHeader()
        header.setHighlightSections(False)
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setMinimumSectionSize(self.fontMetrics().averageCharWidth() * _COLUMN_IN_LETTERS)
        header.setStretchLastSection(True)

    def _sentences(self) -> tuple[str, str, str]:
        counts = [count for _, count in PARTS]
        return (
            self.tr("You grade {0} drawn coupons, all different, in about ten minutes.").format(TOTAL),
            self.tr(
                "For the first {0} the truth is not told; for the next {1} you see it after each grade; for the last "
                "{2} it is not told again."
            ).format(*counts),
            self.tr(
                "The first and the last part are compared. Every grade is kept at once, so you can leave at any time."
            ),
        )

    def _wire(self) -> None:
        self.who.editTextChanged.connect(self._follow_name)
        self.start.clicked.connect(self._start)
        self.go_on.clicked.connect(self._go_on)
        self._close.clicked.connect(self.close_asked)

    def grader(self) -> str:
        """Return the name in the field, as one safe line."""
        return text_of(self.who)[:_LONGEST_NAME].rstrip()

    def refresh(self) -> None:
        """Show what the history says of the grader in the field."""
        grader = self.grader()
        graded = self._practice.unfinished(grader) if grader else None
        self.go_on.setVisible(graded is not None)
        self.go_on.setText(self.tr("&Go on with coupon {0} of {1}").format((graded or 0) + 1, TOTAL))
        self.start.setText(self.tr("&Start") if graded is None else self.tr("&Start a new one instead"))
        self.start.setEnabled(bool(grader))
        for button, first in ((self.go_on, True), (self.start, graded is None)):
            if button.property("primary") != first:
                button.setProperty("primary", first)
                button.style().unpolish(button)
                button.style().polish(button)
        self._show_past(grader, self._practice.history(grader) if grader else [])
        self.told.emit(self._practice.problem)

    def _show_past(self, grader: str, past: Sequence[Past]) -> None:
        for each in (self._table, self._legend, self._chart):
            each.setVisible(bool(past))
        if not grader:
            self._heading.setText(self.tr("Say who grades; the history is kept by name."))
        elif not past:
            self._heading.setText(self.tr("{0} has not finished an exercise yet.").format(_short(grader)))
        else:
            self._heading.setText(self.tr("Exercises of {0}, before → after").format(_short(grader)))
        self._legend.setText(
            self.tr(
                "Offset: given minus true grade on average; + is too good a grade. Spread: how far single grades "
                "scatter about it, as a standard deviation."
            )
        )
        self._table.setRowCount(len(past))
        for row, one in enumerate(reversed(past)):
            for place, text in enumerate(_row(one)):
                self._table.setItem(row, place, QTableWidgetItem(text))
        # No taller than its rows, so that the picture has what is left.
        rows = self._table.verticalHeader().length() + self._table.horizontalHeader().sizeHint().height() + 6
        self._table.setMaximumHeight(max(rows, self.fontMetrics().height() * 5))
        self._chart.show_past(past)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Let Enter press the button that has the keyboard, or from the name begin what is offered."""
        if not is_enter(event):
            super().keyPressEvent(event)
            return
        (focused_button(self) or self.offered()).click()

    def offered(self) -> QPushButton:
        """Return the button that most likely is wanted: go on where there is something to go on with."""
        return self.start if self.go_on.isHidden() else self.go_on

    @Slot()
    def _follow_name(self) -> None:
        self.refresh()

    @Slot()
    def _start(self) -> None:
        self.start_asked.emit(self.grader())

    @Slot()
    def _go_on(self) -> None:
        self.go_on_asked.emit(self.grader())


def _short(name: str) -> str:
    return name if len(name) <= _SHOWN_NAME else f"{name[:_SHOWN_NAME]}…"


def _row(past: Past) -> tuple[str, ...]:
    before, after = past.before, past.after
    return (
        date_only(past.when),
        f"{signed(before.offset)} → {signed(after.offset)}",
        f"{plain(before.spread)} → {plain(after.spread)}",
        f"{before.exact} → {of_all(after.exact, after)}",
        f"{before.within_one} → {of_all(after.within_one, after)}",
    )
