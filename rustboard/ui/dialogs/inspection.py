"""One inspection: when, by whom, in what light, wet or dry."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

from PySide6.QtWidgets import QCheckBox, QWidget

from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord
from rustboard.operations.inspections import checked_inspection
from rustboard.support.text import many_lines
from rustboard.ui.forms.dates import DateTimeField
from rustboard.ui.forms.form import FormDialog, blamed_on, choice_field, known_field, note_field, text_of


class InspectionDialog(FormDialog):
    """Asks for a new inspection, or edits one."""

    def __init__(
        self,
        record: BoardRecord,
        inspection: Inspection | None,
        grader: str,
        now: datetime,
        parent: QWidget | None = None,
    ) -> None:
        """Show an inspection, or a new one by ``grader`` at ``now``."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Inspection") if inspection is not None else self.tr("New inspection"))
        self._record = record
        self._before = inspection or Inspection(_free_minute(record, now), grader=grader)
        self._value = self._before
        self._build()
        self._at.setFocus()

    def inspection(self) -> Inspection:
        """Return the inspection."""
        return self._value

    def blind(self) -> bool:
        """Return whether a new inspection is to be graded blind."""
        return self._before.key == 0 and self._blind.isChecked()

    def _build(self) -> None:
        before, known = self._before, list(self._record.inspections.values())
        self._at = DateTimeField(before.at)
        self.add_row(self.tr("&Date and time"), self._at)
        self._grader = known_field(before.grader, (each.grader for each in known))
        self.add_row(self.tr("&Graded by"), self._grader)
        self._surface = choice_field()
        for text, value in ((self.tr("not noted"), ""), (self.tr("dry"), "dry"), (self.tr("wet"), "wet")):
            self._surface.addItem(text, value)
        if self._surface.findData(before.surface) < 0:
            self._surface.addItem(before.surface, before.surface)
        self._surface.setCurrentIndex(self._surface.findData(before.surface))
        self.add_row(self.tr("&Surface"), self._surface)
        lights = [self.tr("overcast"), self.tr("sun"), self.tr("shade"), self.tr("lamp")]
        self._light = known_field(before.light, [*lights, *(each.light for each in known)])
        self.add_row(self.tr("&Light"), self._light)
        self._note = note_field(before.note)
        self.add_row(self.tr("&Note"), self._note)
        self._blind = QCheckBox(self.tr("Grade &blind: treatments, ids and other grades hidden"))
        if self._before.key == 0:
            self.add_text(self._blind)

    def read(self) -> None:
        """Read the fields into the inspection."""
        typed = replace(
            self._before,
            at=self._at.when(),
            grader=text_of(self._grader),
            light=text_of(self._light),
            surface=str(self._surface.currentData()),
            note=many_lines(self._note.toPlainText()),
        )
        with blamed_on(self._at):
            self._value = checked_inspection(typed, self._record.inspections.values())


def _free_minute(record: BoardRecord, now: datetime) -> datetime:
    """Return the minute of ``now``, or the next one in which there is no inspection yet."""
    taken = {each.at for each in record.inspections.values()}
    at = now.replace(second=0, microsecond=0)
    while at in taken:
        at += timedelta(minutes=1)
    return at
