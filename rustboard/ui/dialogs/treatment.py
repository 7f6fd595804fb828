"""One treatment: the whole recipe, its cost, and the care that its words call for."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QComboBox, QFrame, QLabel, QLineEdit, QSizePolicy, QVBoxLayout, QWidget

from rustboard.board.cells import identity
from rustboard.board.model import Treatment
from rustboard.board.next_id import next_id
from rustboard.board.record import BoardRecord
from rustboard.operations.treatments import check_treatment_number, checked_treatment, refuse_more_treatments
from rustboard.scales.cautions import NOT_COMPLETE, safety_lines
from rustboard.support.text import many_lines
from rustboard.ui.forms.form import FormDialog, blamed_on, known_field, line_field, note_field, text_of
from rustboard.ui.forms.numbers import number_field, number_in, whole_in

N = TypeVar("N", int | None, float | None)


class TreatmentDialog(FormDialog):
    """Asks for a new treatment, or edits one."""

    def __init__(self, record: BoardRecord, treatment: Treatment | None, parent: QWidget | None = None) -> None:
        """Show a treatment, or an empty one with the next free id."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Treatment") if treatment is not None else self.tr("New treatment"))
        self._record = record
        self._before = treatment or Treatment(next_id([each.id for each in record.treatments.values()], "T1"))
        self._value = self._before
        self._build()
        self._wire()
        self._show_care()
        (self._name if treatment is None else self._id).setFocus()

    def treatment(self) -> Treatment:
        """Return the treatment."""
        return self._value

    def care(self) -> str:
        """Return the reminders shown, or an empty text."""
        return "" if self._care.isHidden() else self._care_text.text()

    def _build(self) -> None:
        before, known = self._before, list(self._record.treatments.values())
        self._id = line_field(before.id)
        self.add_row(self.tr("&Id"), self._id)
        self._name = line_field(before.name, hint=self.tr("such as: hot beeswax blend"))
        self.add_row(self.tr("&Name"), self._name)
        families = [self.tr("wax"), self.tr("oil"), self.tr("film"), self.tr("paint")]
        self._family = known_field(before.family, [*families, *(each.family for each in known)])
        self.add_row(self.tr("&Family"), self._family)
        self._preparation = known_field(before.preparation, (each.preparation for each in known))
        self.add_row(self.tr("&Preparation"), self._preparation)
        self._finish = known_field(before.finish, (each.finish for each in known))
        self._finish.setToolTip(self.tr("Conversion coating, etch, paint…"))
        self.add_row(self.tr("Fini&sh"), self._finish)
        self._protectant = known_field(before.protectant, (each.protectant for each in known))
        self._protectant.setToolTip(self.tr("Wax, oil…"))
        self.add_row(self.tr("P&rotectant"), self._protectant)
        self._coats = line_field("" if before.coats is None else str(before.coats), limit=12)
        self.add_row(self.tr("Coa&ts"), self._coats)
        self._batch = line_field(before.batch)
        self.add_row(self.tr("&Batch"), self._batch)
        self._cost = number_field(before.cost_per_m2, hint=self.tr("in your own currency"))
        self.add_row(self.tr("Cost for a s&quare metre"), self._cost)
        self._minutes = number_field(before.minutes_per_m2)
        self.add_row(self.tr("&Minutes for a square metre"), self._minutes)
        self._note = note_field(before.note)
        self.add_row(self.tr("N&ote"), self._note)
        self._build_care()

    def _build_care(self) -> None:
        self._care = QFrame()
        self._care.setProperty("message", "note")
        heading = QLabel(self.tr("Take care"))
        heading.setProperty("heading", True)
        self._care_text = QLabel()
        self._care_text.setWordWrap(True)
        self._care_text.setTextFormat(Qt.TextFormat.PlainText)
        # As high as its lines at the width there is, and no higher.
        self._care_text.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        column = QVBoxLayout(self._care)
        column.setContentsMargins(8, 6, 8, 6)
        column.addWidget(heading)
        column.addWidget(self._care_text)
        # The holder takes what room is left, so that the frame stays as high as its lines.
        holder = QWidget()
        above = QVBoxLayout(holder)
        above.setContentsMargins(0, 0, 0, 0)
        above.addWidget(self._care)
        above.addStretch(1)
        self.add_text(holder)

    def _wire(self) -> None:
        for field in self._words():
            if isinstance(field, QComboBox):
                field.editTextChanged.connect(self._show_care)
            else:
                field.textChanged.connect(self._show_care)
        self._note.textChanged.connect(self._show_care)

    def _words(self) -> tuple[QLineEdit | QComboBox, ...]:
        return self._name, self._family, self._preparation, self._finish, self._protectant

    @Slot()
    def _show_care(self) -> None:
        recipes = {self._before.key: self._record.recipe_of(self._before.key)}
        lines = [line for line, _ in safety_lines([self._worded()], recipes)]
        self._care_text.setText("\n".join([*(f"• {each}" for each in lines), NOT_COMPLETE]))
        self._care.setVisible(bool(lines))
        self._grow()

    def _fields_height(self, width: int) -> int:
        """Let the reminders be as high as their lines."""
        if not self._form.hasHeightForWidth():
            return super()._fields_height(width)
        return self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width())

    def _worded(self) -> Treatment:
        name, family, preparation, finish, protectant = map(text_of, self._words())
        return replace(
            self._before,
            name=name,
            family=family,
            preparation=preparation,
            finish=finish,
            protectant=protectant,
            note=many_lines(self._note.toPlainText()),
        )

    def read(self) -> None:
        """Read the fields into the treatment."""
        ids = {identity(each.id): key for key, each in self._record.treatments.items()}
        if not self._before.key:
            refuse_more_treatments(len(ids))
        named = replace(self._worded(), id=text_of(self._id), batch=text_of(self._batch))
        with blamed_on(self._id):
            checked = checked_treatment(replace(named, coats=None, cost_per_m2=None, minutes_per_m2=None), ids)
        self._value = replace(
            checked,
            coats=self._allowed("coats", whole_in(self._coats), self._coats),
            cost_per_m2=self._allowed("cost_per_m2", number_in(self._cost), self._cost),
            minutes_per_m2=self._allowed("minutes_per_m2", number_in(self._minutes), self._minutes),
        )

    def _allowed(self, name: str, value: N, field: QLineEdit) -> N:
        with blamed_on(field):
            check_treatment_number(name, value)
        return value
