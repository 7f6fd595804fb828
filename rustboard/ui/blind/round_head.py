"""The line above a blind round: whose it is, how far it is, and the way on, back and out."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QSizePolicy, QVBoxLayout, QWidget

_BAR_PX = 8


class _Button(QPushButton):
    """A button beside which the arrows go from coupon to coupon, as they do everywhere else on the page."""

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave Left and Right to the page; a button would hand the keyboard to its neighbour."""
        if event.key() in (Qt.Key.Key_Left, Qt.Key.Key_Right):
            event.ignore()
        else:
            super().keyPressEvent(event)


class RoundHead(QWidget):
    """Title, state, progress and buttons of a blind round.

    Attributes:
        back, skip, leave, finish: the buttons; ``finish`` is there only when every coupon has a grade.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build the line."""
        super().__init__(parent)
        self._title, self._state = QLabel(), QLabel()
        self._title.setProperty("heading", True)
        self._state.setProperty("muted", True)
        for each in (self._title, self._state):
            each.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._bar = QProgressBar()
        self._bar.setTextVisible(False)
        self._bar.setFixedHeight(_BAR_PX)
        self._bar.setAccessibleName(self.tr("Graded so far"))
        self.back, self.skip = _Button(self.tr("Back")), _Button(self.tr("Skip"))
        self.leave, self.finish = _Button(self.tr("Interrupt")), _Button(self.tr("Finish my round"))
        self.finish.setProperty("primary", True)
        row = QHBoxLayout()
        row.addWidget(self._title, 1)
        row.addWidget(self._state)
        for button, tip in (
            (self.back, self.tr("The coupon before, in your order. Key: Left")),
            (self.skip, self.tr("The coupon after, in your order. Key: Right")),
            (self.leave, self.tr("Leave the round as it is; you can go on later. Key: Esc")),
            (self.finish, self.tr("Close the round; it cannot be opened again. Key: Ctrl+Enter")),
        ):
            button.setToolTip(tip)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self._bar)

    def show_progress(self, title: str, state: str, graded: int, count: int) -> None:
        """Show whose coupon of how many is in view, and how many have a grade."""
        self._title.setText(title)
        self._state.setText(state)
        self._bar.setRange(0, count)
        self._bar.setValue(graded)
        self.finish.setVisible(graded == count)

    def set_least_height(self, height: int) -> None:
        """Make the buttons at least so high."""
        for each in (self.back, self.skip, self.leave, self.finish):
            each.setMinimumHeight(height)
