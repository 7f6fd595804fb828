"""The row of choices while two days are compared."""

from __future__ import annotations

from typing import Final, Literal

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QComboBox, QLabel, QPushButton, QSizePolicy, QSlider, QVBoxLayout, QWidget

from rustboard.ui.flow_layout import flowing
from rustboard.ui.photos.comparison import LEAST_CHANGES, MOST_CHANGES, WAYS, Way
from rustboard.ui.wording import number

Partner = Literal["before", "first", "chosen"]
_PARTNERS: Final[tuple[Partner, ...]] = ("before", "first", "chosen")
_RATE_STEPS = 8


class CompareRow(QWidget):
    """How to compare, with which day, how fast.

    Signals:
        changed(): another way or another speed.
        partner_changed(): another day to compare with.
        held(bool): the button for the other day is held down, or let go.
    """

    changed = Signal()
    partner_changed = Signal()
    held = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the row."""
        super().__init__(parent)
        self._ways = QButtonGroup(self)
        texts = (self.tr("Hold"), self.tr("Blink"), self.tr("Slide"), self.tr("Side by side"))
        tips = (
            self.tr("The other day shows while its button, or the key B, is held down."),
            self.tr("One day and the other in turn, never more than two changes a second."),
            self.tr("A divider between the days; drag it, or move it by Shift with Left and Right."),
            self.tr("Both days beside each other."),
        )
        buttons = []
        for at, (text, tip) in enumerate(zip(texts, tips, strict=True)):
            button = switch(text, tip)
            self._ways.addButton(button, at)
            buttons.append(button)
        self._ways.button(2).setChecked(True)
        self._partner = QComboBox()
        self._partner.addItems(
            [self.tr("with the day before"), self.tr("with day zero"), self.tr("with a chosen day")]
        )
        self._partner.setAccessibleName(self.tr("Day to compare with"))
        self._partner.setToolTip(
            self.tr("The day to compare with. “With a chosen day”: the next tap in the strip of days chooses it.")
        )
        self._hold = QPushButton(self.tr("Other day while held"))
        self._hold.setToolTip(self.tr("Shows the other day as long as it is held down. Key: B"))
        self._rate_label = QLabel()
        self._rate = QSlider(Qt.Orientation.Horizontal)
        self._rate.setRange(1, _RATE_STEPS)
        self._rate.setValue(_RATE_STEPS // 2)
        self._rate.setFixedWidth(90)
        self._rate.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self._rate.setAccessibleName(self.tr("Changes a second"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(flowing(*buttons, self._partner, self._hold, self._rate, self._rate_label))
        self._show_labels()
        self._wire()

    def _wire(self) -> None:
        self._ways.idClicked.connect(self._tell)
        self._rate.valueChanged.connect(self._tell)
        self._partner.activated.connect(self._tell_partner)
        self._hold.pressed.connect(self._hold_down)
        self._hold.released.connect(self._let_go)

    def way(self) -> Way:
        """Return how two days are compared; ``one`` while the other is seen only when it is held."""
        return WAYS[self._ways.checkedId()]

    def rate(self) -> float:
        """Return the changes a second while blinking."""
        return LEAST_CHANGES + (self._rate.value() - 1) * (MOST_CHANGES - LEAST_CHANGES) / (_RATE_STEPS - 1)

    def partner(self) -> Partner:
        """Return with which day to compare."""
        return _PARTNERS[self._partner.currentIndex()]

    def show_partner(self, partner: Partner) -> None:
        """Show with which day is compared; nothing is told of it."""
        self._partner.setCurrentIndex(_PARTNERS.index(partner))

    def _show_labels(self) -> None:
        self._rate_label.setText(self.tr("{0} a second").format(number(self.rate(), 2)))
        blinks = self.way() == "blink"
        self._rate.setVisible(blinks)
        self._rate_label.setVisible(blinks)
        self._hold.setVisible(self.way() == "one")

    @Slot()
    def _tell(self) -> None:
        self._show_labels()
        self.changed.emit()

    @Slot()
    def _tell_partner(self) -> None:
        self.partner_changed.emit()

    @Slot()
    def _hold_down(self) -> None:
        self.held.emit(True)

    @Slot()
    def _let_go(self) -> None:
        self.held.emit(False)


def switch(text: str, tip: str) -> QPushButton:
    """Return a button that stays pressed."""
    button = QPushButton(text)
    button.setCheckable(True)
    button.setToolTip(tip)
    return button
