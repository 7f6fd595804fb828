"""The choice of what the axis counts."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtCore import QEvent, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QAbstractButton, QButtonGroup, QHBoxLayout, QWidget

from rustboard.board.exposure_clock import CLOCK_KINDS, ClockKind
from rustboard.ui.clock_words import WhyNot, clock_explained, clock_names, why_not_text
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.header import explain, lit_sheet, tool_button

GAP_PX = 4


class AxisChoice(QWidget):
    """Four buttons, one of them lit.

    Signals:
        chosen(): the user chose another clock.
    """

    chosen = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build it with the days lit."""
        super().__init__(parent)
        self.setAccessibleName(self.tr("What the axis counts"))
        self._kind: ClockKind = "days"
        self._buttons = {kind: tool_button(clock_names(kind)[0]) for kind in CLOCK_KINDS}
        self._group = QButtonGroup(self)
        row = QHBoxLayout(self)
        row.setContentsMargins(8, 0, 6, 2)
        row.setSpacing(GAP_PX)
        for kind, each in self._buttons.items():
            each.setCheckable(True)
            each.setAccessibleName(self.tr("Axis: {0}").format(clock_names(kind)[0]))
            self._group.addButton(each)
            row.addWidget(each)
        row.addStretch(1)
        self._buttons["days"].setChecked(True)
        self._group.buttonClicked.connect(self._choose)

    def dress(self, scheme: Scheme) -> None:
        """Take on the inks of a scheme."""
        self.setStyleSheet(lit_sheet(scheme))

    def kind(self) -> ClockKind:
        """Return what the user wants the axis to count."""
        return self._kind

    def show_kind(self, kind: ClockKind) -> None:
        """Light a choice without telling."""
        self._kind = kind
        self._buttons[kind].setChecked(True)

    def show_reasons(self, reasons: Mapping[ClockKind, WhyNot]) -> None:
        """Offer what can be had; what cannot says why."""
        for kind, button in self._buttons.items():
            why = reasons.get(kind, "")
            button.setEnabled(not why)
            explain(button, why_not_text(why) or clock_explained(kind))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Shorten names where the room is short; Qt calls this."""
        super().resizeEvent(event)
        self._fit_words()

    def changeEvent(self, event: QEvent) -> None:
        """Fit the names again in another font; Qt calls this."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange) and hasattr(self, "_buttons"):
            self._fit_words()

    def _fit_words(self) -> None:
        some = self._buttons["days"]
        beside_words = some.sizeHint().width() - some.fontMetrics().horizontalAdvance(some.text())
        widths = [some.fontMetrics().horizontalAdvance(clock_names(kind)[0]) for kind in CLOCK_KINDS]
        room = self.contentsRect().width() - 14 - (len(widths) - 1) * GAP_PX - len(widths) * beside_words
        number = 0 if sum(widths) <= room else 1
        for kind, button in self._buttons.items():
            button.setText(clock_names(kind)[number])
            button.setMinimumWidth(1)

    @Slot(QAbstractButton)
    def _choose(self, button: QAbstractButton) -> None:
        self._kind = next(kind for kind, each in self._buttons.items() if each is button)
        self.chosen.emit()
