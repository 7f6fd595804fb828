"""The planned days one by one: their dates, what became of them, and adding and removing a day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QPushButton, QSpinBox, QVBoxLayout, QWidget

from rustboard.board.inspection_calendar import NextLook, PlannedLook
from rustboard.board.inspection_days import LONGEST_DAYS
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WheelGuard
from rustboard.ui.look_words import say
from rustboard.ui.wording import date_only

_LEAST_ROWS: Final = 3
_MOST_ROWS: Final = 9


def look_text(look: PlannedLook, coming: NextLook | None, now: datetime) -> str:
    """Return a planned look as a line: its day, its date where that is known, and what became of it."""
    parts = [say("Day {0}").format(look.day)]
    if look.due is not None:
        parts.append(date_only(look.due))
    if look.done is not None and look.due is not None:
        same = look.done.date() == look.due.date()
        parts.append(say("done") if same else say("done on {0}").format(date_only(look.done)))
    elif look.due is not None and coming is not None and look.day == coming.day:
        parts.append(say("due") if coming.overdue_days >= 0 else say("next"))
    elif look.due is not None and look.due < now:
        parts.append(say("missed"))
    return "  ·  ".join(parts)


class LooksList(QWidget):
    """The days under one another.

    Signals:
        add_asked(int): a day is to be added.
        remove_asked(int): a day is to be removed.
    """

    add_asked = Signal(int)
    remove_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty list."""
        super().__init__(parent)
        self._days: list[int] = []
        self._writable = False
        self._list = QListWidget()
        self._list.setAccessibleName(self.tr("Planned days"))
        self._list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self._list.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self._list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._list.setStyleSheet("QListWidget::item { padding: 2px 3px; }")  # room for fingers
        self._day = QSpinBox()
        self._day.setRange(0, LONGEST_DAYS)
        self._day.setAccessibleName(self.tr("Day to add"))
        self._add = QPushButton(self.tr("&Add this day"))
        self._remove = QPushButton(self.tr("Take the chosen day o&ut"))
        self._wheel = WheelGuard(self)
        self._wheel.watch(self._day)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._list)
        column.addWidget(flowing(self._day, self._add, self._remove))
        self._delete = QShortcut(QKeySequence(QKeySequence.StandardKey.Delete), self._list)
        self._delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        self._wire()
        self.show_looks([], None, datetime.min, writable=False)

    def _wire(self) -> None:
        self._add.clicked.connect(self._ask_add)
        self._remove.clicked.connect(self._ask_remove)
        self._delete.activated.connect(self._ask_remove)
        self._list.currentRowChanged.connect(self._follow_choice)

    def show_looks(
        self, looks: Sequence[PlannedLook], coming: NextLook | None, now: datetime, *, writable: bool
    ) -> None:
        """Show other days; the day that was chosen stays chosen while it is there."""
        chosen = self._chosen_day()
        texts = [look_text(each, coming, now) for each in looks]
        self._days = [each.day for each in looks]
        if texts != [self._list.item(row).text() for row in range(self._list.count())]:
            self._list.clear()
            self._list.addItems(texts)
            if chosen in self._days:
                self._list.setCurrentRow(self._days.index(chosen))
        if self._day.value() in self._days:
            self._day.setValue(min(self._days[-1] + 1, LONGEST_DAYS))
        self._list.setVisible(bool(looks))
        self._fit()
        self._writable = writable
        self._day.setEnabled(writable)
        self._add.setEnabled(writable)
        self._follow_choice()

    def _fit(self) -> None:
        rows = max(_LEAST_ROWS, min(_MOST_ROWS, len(self._days)))
        height = self._list.sizeHintForRow(0) if self._days else self.fontMetrics().height()
        self._list.setFixedHeight(rows * max(height, 1) + 2 * self._list.frameWidth() + 2)

    def _chosen_day(self) -> int | None:
        row = self._list.currentRow()
        return self._days[row] if 0 <= row < len(self._days) else None

    @Slot()
    def _follow_choice(self) -> None:
        self._remove.setEnabled(self._writable and self._chosen_day() is not None)

    @Slot()
    def _ask_add(self) -> None:
        self.add_asked.emit(self._day.value())

    @Slot()
    def _ask_remove(self) -> None:
        day = self._chosen_day()
        if day is not None and self._writable:
            self.remove_asked.emit(day)
