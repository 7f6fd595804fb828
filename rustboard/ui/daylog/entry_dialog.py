"""One entry of the day log: what happened, to what, when."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QPushButton, QWidget

from rustboard.board.measured import DISTURBANCE_KINDS, Disturbance
from rustboard.board.record import BoardRecord
from rustboard.support.text import many_lines, one_line
from rustboard.ui.daylog.wording import kind_meaning, kind_name
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.dates import DateTimeField, date_time_in
from rustboard.ui.forms.form import FormDialog, choice_field, note_field
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import coupon_title

_LONGEST_SHOWN = 120


class EntryDialog(FormDialog):
    """Asks for a new entry, or edits one."""

    def __init__(
        self,
        record: BoardRecord,
        entry: Disturbance,
        now: datetime,
        inspection: datetime | None,
        parent: QWidget | None = None,
    ) -> None:
        """Show an entry (one without key is new).

        Args:
            record: the board.
            entry: what to show at first.
            now: for the button that puts the present time in.
            inspection: when the inspection in view was, for the button that puts its time in; or None.
            parent: the window it stands over.
        """
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Entry of the day log") if entry.key else self.tr("New entry of the day log"))
        self._before = self._value = entry
        self._now, self._inspection = now, inspection
        self._build(record)
        self._wire()
        self._explain()
        self._kind.setFocus()

    def entry(self) -> Disturbance:
        """Return the entry."""
        return self._value

    def _build(self, record: BoardRecord) -> None:
        self._about = choice_field()
        self._about.addItem(self.tr("the whole board"), 0)
        for each in record.coupons_in_order():
            self._about.addItem(one_line(coupon_title(record, each), _LONGEST_SHOWN), each.key)
        self._about.setCurrentIndex(max(0, self._about.findData(self._before.coupon or 0)))
        self.add_row(self.tr("&About"), self._about)
        self._kind = choice_field()
        for kind in DISTURBANCE_KINDS:
            self._kind.addItem(kind_name(kind), kind)
        self._kind.setCurrentIndex(max(0, self._kind.findData(self._before.kind)))
        self.add_row(self.tr("What &happened"), self._kind)
        self._meaning = words_label(muted=True, narrow=True)
        self._meaning.setMinimumHeight(self.fontMetrics().lineSpacing() * 2)
        self.add_text(self._meaning)
        self._at = DateTimeField(self._before.at)
        self.add_row(self.tr("&Date and time"), self._at)
        self._put_now = QPushButton(self.tr("N&ow"))
        self._put_inspection = QPushButton(self.tr("At the &inspection in view"))
        self._put_inspection.setEnabled(self._inspection is not None)
        for button in (self._put_now, self._put_inspection):
            button.setAutoDefault(False)
        self.add_text(flowing(self._put_now, self._put_inspection))
        self._note = note_field(self._before.note)
        self.add_row(self.tr("&Note"), self._note)

    def _wire(self) -> None:
        self._kind.currentIndexChanged.connect(self._explain)
        self._put_now.clicked.connect(self._take_now)
        self._put_inspection.clicked.connect(self._take_inspection)

    @Slot()
    def _explain(self) -> None:
        self._meaning.setText(kind_meaning(str(self._kind.currentData())))

    @Slot()
    def _take_now(self) -> None:
        self._at.set_when(self._now)

    @Slot()
    def _take_inspection(self) -> None:
        if self._inspection is not None:
            self._at.set_when(self._inspection)

    def read(self) -> None:
        """Read the fields into the entry."""
        at = date_time_in(self._at, self.tr("The year is between 1900 and 2200; check the date."))
        chosen = str(self._kind.currentData())
        self._value = replace(
            self._before,
            at=at,
            kind=next(each for each in DISTURBANCE_KINDS if each == chosen),
            coupon=int(self._about.currentData()) or None,
            note=many_lines(self._note.toPlainText()),
        )
