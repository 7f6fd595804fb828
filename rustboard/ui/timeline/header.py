"""The line above the plot: what is shown, as coupons or as treatments, and how many days of it."""

from __future__ import annotations

from itertools import pairwise
from typing import Final

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QButtonGroup,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QSizePolicy,
    QToolButton,
    QWidget,
)

from rustboard.ui.timeline.content import Mode

SIGN_PX: Final = 38


class ElidedLabel(QLabel):
    """One line of plain text that gives way in its middle when the room is short."""

    def __init__(self) -> None:
        """Build it empty."""
        super().__init__()
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)

    def minimumSizeHint(self) -> QSize:
        """Ask for no width; Qt calls this."""
        return QSize(0, super().minimumSizeHint().height())

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw what fits; Qt calls this."""
        painter = QPainter(self)
        shown = self.fontMetrics().elidedText(self.text(), Qt.TextElideMode.ElideMiddle, self.width())
        painter.drawText(self.rect(), int(Qt.AlignmentFlag.AlignVCenter), shown)
        painter.end()


class TimelineHeader(QWidget):
    """Title and buttons.

    Signals:
        mode_chosen(str): ``coupons`` or ``treatments``.
        zoom_asked(int): 1 to see fewer days, -1 to see more.
        whole_asked(): show all days.
    """

    mode_chosen = Signal(str)
    zoom_asked = Signal(int)
    whole_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line with coupons chosen."""
        super().__init__(parent)
        self._title = ElidedLabel()
        self._title.setProperty("heading", True)
        self._coupons = _button(self.tr("Coupons"), self.tr("Show the chosen coupons, each with its own line"))
        self._treatments = _button(
            self.tr("Treatments"), self.tr("Show treatments, each with the median of its coupons")
        )
        self._more = _button("+", self.tr("Show fewer days, larger"))
        self._less = _button("−", self.tr("Show more days"))
        self._whole = _button(self.tr("All"), self.tr("Show all days"))
        for each in (self._more, self._less):
            each.setFixedWidth(SIGN_PX)
        self._modes = QButtonGroup(self)
        for each in (self._coupons, self._treatments):
            each.setCheckable(True)
            self._modes.addButton(each)
        self._coupons.setChecked(True)
        self._arrange()
        self._wire()

    def _arrange(self) -> None:
        modes, days = QHBoxLayout(), QHBoxLayout()
        for each in (self._coupons, self._treatments):
            modes.addWidget(each)
        for each in (self._less, self._more, self._whole):
            days.addWidget(each)
        modes.addStretch(1)
        for row in (modes, days):
            row.setSpacing(4)
        grid = QGridLayout(self)
        grid.setContentsMargins(8, 6, 6, 4)
        grid.setSpacing(4)
        grid.addWidget(self._title, 0, 0)
        grid.addLayout(days, 0, 1)
        grid.addLayout(modes, 1, 0, 1, 2)
        grid.setColumnStretch(0, 1)
        order = (self._coupons, self._treatments, self._less, self._more, self._whole)
        for before, after in pairwise(order):
            QWidget.setTabOrder(before, after)

    def _wire(self) -> None:
        self._modes.buttonClicked.connect(self._choose)
        self._more.clicked.connect(self._see_fewer)
        self._less.clicked.connect(self._see_more)
        self._whole.clicked.connect(self.whole_asked)

    def show_title(self, title: str) -> None:
        """Show what is drawn."""
        self._title.setText(title)
        self._title.setToolTip(title.replace("&", "&amp;").replace("<", "&lt;"))

    def title(self) -> str:
        """Return what is drawn."""
        return self._title.text()

    def mode(self) -> Mode:
        """Return what was chosen."""
        return "coupons" if self._coupons.isChecked() else "treatments"

    def show_zoom(self, *, whole: bool, drawable: bool) -> None:
        """Offer only what can be done."""
        self._whole.setEnabled(drawable and not whole)
        self._less.setEnabled(drawable and not whole)
        self._more.setEnabled(drawable)

    @Slot(QAbstractButton)
    def _choose(self, button: QAbstractButton) -> None:
        self.mode_chosen.emit(self.mode())

    @Slot()
    def _see_fewer(self) -> None:
        self.zoom_asked.emit(1)

    @Slot()
    def _see_more(self) -> None:
        self.zoom_asked.emit(-1)


def _button(text: str, says: str) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setToolTip(says)
    button.setAccessibleName(says)
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
