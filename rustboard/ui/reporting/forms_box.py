"""The forms a report is written in, to be ticked, with the kinds of files there are of each."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QComboBox, QGroupBox, QHBoxLayout, QVBoxLayout, QWidget

from rustboard.session.report_forms_wanted import ENDINGS, FORM_KINDS, FormKind, FormWanted
from rustboard.ui.forms.form import WheelGuard
from rustboard.ui.reporting.words import FORM_NAMES, say


class FormsBox(QGroupBox):
    """A tick for each form.

    Signals:
        changed(): another choice was made.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Show all forms, none ticked."""
        super().__init__(parent)
        self.setTitle(self.tr("Write"))
        self._ticks: dict[FormKind, QCheckBox] = {}
        self._kinds: dict[FormKind, QComboBox] = {}
        self._wheel = WheelGuard(self)
        self._build()
        self._wire()

    def chosen(self) -> tuple[FormWanted, ...]:
        """Return the forms ticked."""
        return tuple(FormWanted(kind, self._ending(kind)) for kind, tick in self._ticks.items() if tick.isChecked())

    def choose(self, forms: Sequence[FormWanted]) -> None:
        """Tick these forms and no others."""
        endings = dict(forms)
        for kind, tick in self._ticks.items():
            tick.setChecked(kind in endings)
            field = self._kinds.get(kind)
            if field is not None and kind in endings:
                field.setCurrentIndex(max(0, field.findData(endings[kind])))
        self._follow()

    def tick_of(self, kind: FormKind) -> QCheckBox:
        """Return the box of a form."""
        return self._ticks[kind]

    def kind_field(self, kind: FormKind) -> QComboBox:
        """Return where the kind of file is chosen for a form of which there are several."""
        return self._kinds[kind]

    def _ending(self, kind: FormKind) -> str:
        field = self._kinds.get(kind)
        return ENDINGS[kind][0] if field is None else str(field.currentData())

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setSpacing(3)
        for kind in FORM_KINDS:
            tick = self._ticks[kind] = QCheckBox(say(FORM_NAMES[kind]))
            row = QHBoxLayout()
            row.addWidget(tick, 1)
            if len(ENDINGS[kind]) > 1:
                field = self._kinds[kind] = QComboBox()
                for ending in ENDINGS[kind]:
                    field.addItem(ending[1:].upper(), ending)
                name = self.tr("Kind of file: {0}").format(say(FORM_NAMES[kind]).replace("&", ""))
                field.setAccessibleName(name)
                self._wheel.watch(field)
                row.addWidget(field, 0, Qt.AlignmentFlag.AlignRight)
            column.addLayout(row)
        self._follow()

    def _wire(self) -> None:
        for tick in self._ticks.values():
            tick.toggled.connect(self._follow)
        for field in self._kinds.values():
            field.currentIndexChanged.connect(self._follow)

    @Slot()
    def _follow(self) -> None:
        for kind, field in self._kinds.items():
            field.setEnabled(self._ticks[kind].isChecked())
        self.changed.emit()
