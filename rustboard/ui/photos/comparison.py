"""How two days are compared: one over the other in turn, with a divider between them, or side by side."""

from __future__ import annotations

from typing import Final, Literal

from PySide6.QtCore import QObject, QTimer, Signal, Slot

Way = Literal["one", "blink", "slide", "side"]
WAYS: Final[tuple[Way, ...]] = ("one", "blink", "slide", "side")

MOST_CHANGES: Final = 2.0
"""Changes a second at most. Published advice for people whom flashes harm allows three flashes a second (WCAG 2.2,
success criterion 2.3.1); a flash there is two changes, so this is a third of what is allowed."""

LEAST_CHANGES: Final = 0.25
_STEP = 0.04


class Comparison(QObject):
    """Which of two days is seen where.

    Signals:
        changed(): something else is to be seen.

    Attributes:
        way: how they are compared. divider: share of the width left of the divider.
    """

    changed = Signal()

    def __init__(self, parent: QObject | None = None) -> None:
        """Start with one day."""
        super().__init__(parent)
        self.way: Way = "one"
        self.divider = 0.5
        self._rate = 1.0
        self._turned = self._held = False
        self._timer = QTimer(self)
        self._wire()

    def _wire(self) -> None:
        self._timer.timeout.connect(self._turn)

    def choose(self, way: Way) -> None:
        """Compare in another way."""
        self.way = way
        self._turned = False
        if way == "blink":
            self._timer.start(self.interval_ms())
        else:
            self._timer.stop()
        self.changed.emit()

    def set_rate(self, changes: float) -> None:
        """Blink with so many changes a second, within what harms nobody."""
        self._rate = min(max(changes, LEAST_CHANGES), MOST_CHANGES)
        self._timer.setInterval(self.interval_ms())

    def interval_ms(self) -> int:
        """Return the milliseconds between two changes."""
        return round(1000 / self._rate)

    def hold(self, held: bool) -> None:
        """Show the other day for as long as a key or button is held down."""
        if held != self._held:
            self._held = held
            self.changed.emit()

    def shows_other(self) -> bool:
        """Return whether the other day is seen alone just now."""
        return self._turned != self._held if self.way == "blink" else self._held

    def move_divider(self, share: float) -> None:
        """Put the divider elsewhere."""
        self.divider = min(max(share, 0.0), 1.0)
        self.changed.emit()

    def step_divider(self, steps: int) -> None:
        """Move the divider by keys."""
        self.move_divider(self.divider + steps * _STEP)

    def is_running(self) -> bool:
        """Return whether it blinks just now."""
        return self._timer.isActive()

    def pause(self) -> None:
        """Stop blinking while nobody looks."""
        self._timer.stop()

    def go_on(self) -> None:
        """Blink again if that is the way."""
        if self.way == "blink":
            self._timer.start(self.interval_ms())

    @Slot()
    def _turn(self) -> None:
        self._turned = not self._turned
        self.changed.emit()
