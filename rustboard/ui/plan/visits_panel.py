"""Visits: on which days the board is looked at, from when, at what hour, with or without a reminder."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time
from typing import Final

from PySide6.QtCore import Qt, QTime, Signal, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QPushButton,
    QSpinBox,
    QTimeEdit,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.inspection_calendar import NextLook, next_look, planned_looks, read_days, suggested_days
from rustboard.board.inspection_days import LONGEST_DAYS, InspectionDays
from rustboard.operations.boards import edit_board
from rustboard.operations.calendars import set_calendar
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError
from rustboard.ui.doing import Do
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.dates import DateTimeField
from rustboard.ui.forms.form import ProblemLine, WheelGuard, line_field
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.look_words import look_due, looks_missed
from rustboard.ui.plan.looks_list import LooksList

_USUAL_DURATION_DAYS: Final = 64
_LONGEST_TYPED: Final = 4_000


class VisitsPanel(QWidget):
    """The calendar of inspections.

    Signals:
        ics_asked(): the calendar file is wanted.
    """

    ics_asked = Signal()

    def __init__(
        self,
        session: Session,
        do: Do,
        parent: QWidget | None = None,
        *,
        clock: Clock = wall_clock,
    ) -> None:
        """Show a session's calendar; ``clock`` says what is due."""
        super().__init__(parent)
        self._session, self._do, self._clock = session, do, clock
        self._filling = False
        self._wheel = WheelGuard(self)
        self._begins = QCheckBox(self.tr("the date is k&nown"))
        self._begins_at = DateTimeField(clock())
        self._duration = QSpinBox()
        self._suggest = QPushButton(self.tr("&Suggest days"))
        self._days = line_field("", hint=self.tr("such as 0, 1, 2, 4, 8"), limit=_LONGEST_TYPED)
        self._problem = ProblemLine()
        self._looks = LooksList()
        self._hour = QTimeEdit()
        self._remind = QCheckBox(self.tr("&Remind me"))
        self._next = words_label()
        self._ics = QPushButton(self.tr("Save for my &calendar (.ics)…"))
        self._build()
        self._wire()
        self.refresh()

    def _build(self) -> None:
        self._begins_at.setAccessibleName(self.tr("When the exposure begins"))
        self._begins_at.setKeyboardTracking(False)
        self._hour.setKeyboardTracking(False)
        self._duration.setRange(1, LONGEST_DAYS)
        self._duration.setSuffix(self.tr(" days"))
        self._duration.setKeyboardTracking(False)
        # As high as the button beside it; left to itself the field cuts the foot of a letter such as y.
        self._duration.setMinimumHeight(self._suggest.sizeHint().height())
        self._duration.setAccessibleName(self.tr("Days it is to hang"))
        form = panel_form()
        begins = flowing(self._begins, self._begins_at, spacing=6)
        duration = flowing(self._duration, self._suggest, spacing=6)
        add_labelled(form, self.tr("E&xposure begins"), begins, self._begins)
        add_labelled(form, self.tr("It is to han&g for"), duration, self._duration)
        form.addRow(
            words_label(
                self.tr(
                    "Suggested are day 0 with its photo, then days about twice as far apart each time, at most a "
                    "quarter of a year: that catches first rust at little cost. This is the program's own advice."
                ),
                muted=True,
            )
        )
        add_labelled(form, self.tr("&Days"), self._days)
        add_labelled(form, self.tr("H&our"), self._hour)
        column = QVBoxLayout(self)
        column.addLayout(form)
        column.addWidget(self._problem)
        column.addWidget(self._looks)
        column.addWidget(self._next)
        column.addWidget(self._remind)
        due = self.tr("The board's card among all boards says what is due; the calendar file rings an hour before.")
        column.addWidget(words_label(due, muted=True))
        column.addWidget(self._ics, 0, Qt.AlignmentFlag.AlignLeft)
        column.addStretch(1)
        for each in (self._begins_at, self._duration, self._hour):
            self._wheel.watch(each)

    def _wire(self) -> None:
        self._begins.clicked.connect(self._set_start)
        self._begins_at.dateTimeChanged.connect(self._set_start)
        self._suggest.clicked.connect(self._suggest_days)
        self._days.editingFinished.connect(self._set_typed)
        self._looks.add_asked.connect(self._add_day)
        self._looks.remove_asked.connect(self._remove_day)
        self._hour.timeChanged.connect(self._set_hour)
        self._remind.clicked.connect(self._set_remind)
        self._ics.clicked.connect(self.ics_asked)

    # ---- what it shows

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        if changes.touches("board", "calendar", "inspection"):
            self.refresh()

    def refresh(self) -> None:
        """Show everything as it is now."""
        record, calendar = self._session.record, self._session.record.calendar
        self._filling = True
        self._begins.setChecked(record.board.started is not None)
        if record.board.started is not None and self._begins_at.when() != record.board.started:
            self._begins_at.set_when(record.board.started)
        self._show_days(calendar)
        self._hour.setTime(QTime(calendar.hour.hour, calendar.hour.minute))
        self._remind.setChecked(calendar.remind)
        self._filling = False
        self._problem.say("")
        self._show_looks()
        self._enable()

    def _show_days(self, calendar: InspectionDays) -> None:
        self._days.setText(", ".join(map(str, calendar.days)))
        self._days.setCursorPosition(0)
        if calendar.days and calendar.days[-1] > 0:
            self._duration.setValue(calendar.days[-1])
        elif not self._duration.hasFocus() and self._duration.value() == 1:
            self._duration.setValue(_USUAL_DURATION_DAYS)

    def _show_looks(self) -> None:
        record, now = self._session.record, self._clock()
        inspections = record.inspections_in_order()
        last = inspections[-1].at if inspections else None
        coming = next_look(record.calendar, record.day_zero(), last, now)
        looks = planned_looks(record.calendar, record.day_zero(), (each.at for each in inspections))
        self._looks.show_looks(looks, coming, now, writable=not self._session.read_only_reason)
        self._next.setText(self._next_words(coming))

    def _next_words(self, coming: NextLook | None) -> str:
        record = self._session.record
        if not record.calendar.days:
            return self.tr("No inspections are planned yet.")
        if record.day_zero() is None:
            return self.tr("Without the date on which the exposure begins there are days, but no dates.")
        if coming is None:
            return self.tr("No look is left: the last planned one is done.")
        parts = [look_due(coming), looks_missed(coming)]
        if record.board.started is None:
            parts.append(self.tr("Days count from the first inspection"))
        return " ".join(self.tr("{0}.").format(each) for each in parts if each)

    def _enable(self) -> None:
        writable = not self._session.read_only_reason
        for each in (self._begins, self._duration, self._suggest, self._days, self._hour, self._remind):
            each.setEnabled(writable)
        self._begins_at.setEnabled(writable and self._begins.isChecked())
        self._ics.setEnabled(bool(self._session.record.calendar.days))

    # ---- what the user changes

    def _change(self, calendar: InspectionDays) -> None:
        if calendar != self._session.record.calendar and self._do(set_calendar, calendar, origin=self) is None:
            self.refresh()

    @Slot()
    def _set_start(self) -> None:
        if self._filling:
            return
        started: datetime | None = self._begins_at.when() if self._begins.isChecked() else None
        board = self._session.record.board
        if started != board.started and self._do(edit_board, replace(board, started=started), origin=self) is None:
            self.refresh()

    @Slot()
    def _suggest_days(self) -> None:
        self._change(replace(self._session.record.calendar, days=suggested_days(self._duration.value())))

    @Slot()
    def _set_typed(self) -> None:
        if self._filling or not self._days.isEnabled():
            return
        try:
            days = read_days(self._days.text())
        except InputError as error:
            self._problem.say(error.problem.what)
            return
        self._problem.say("")
        self._change(replace(self._session.record.calendar, days=days))

    @Slot(int)
    def _add_day(self, day: int) -> None:
        calendar = self._session.record.calendar
        self._change(replace(calendar, days=tuple(sorted({*calendar.days, day}))))

    @Slot(int)
    def _remove_day(self, day: int) -> None:
        calendar = self._session.record.calendar
        self._change(replace(calendar, days=tuple(each for each in calendar.days if each != day)))

    @Slot()
    def _set_hour(self) -> None:
        if not self._filling:
            shown = self._hour.time()
            self._change(replace(self._session.record.calendar, hour=time(shown.hour(), shown.minute())))

    @Slot()
    def _set_remind(self) -> None:
        self._change(replace(self._session.record.calendar, remind=self._remind.isChecked()))
