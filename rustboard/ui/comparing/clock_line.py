"""Which clock, and the place on it: a slider, and steps from look to look."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLabel, QPushButton, QSlider, QVBoxLayout, QWidget

from rustboard.board.exposure_clock import CLOCK_KINDS, ClockKind
from rustboard.session.comparing import ClockedBoards
from rustboard.ui.clock_words import clock_explained, clock_names
from rustboard.ui.comparing.comparing_words import at_text, shared_text
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import tool_tip

_MOST_STEPS: Final = 1_000
_TINY: Final = 1e-6
_FINEST: Final[dict[ClockKind, float]] = {"days": 1.0, "wet hours": 1.0, "rain": 1.0, "controls": 0.1}


class ClockLine(QWidget):
    """The choice of the clock and of the place.

    Signals:
        clock_chosen(): another clock is wanted.
        moved(): another place is wanted.

    Attributes:
        clock: the choice. slider: the place. earlier, later, shared: to the look before, to the next, and as far as
            all boards were watched.
    """

    clock_chosen = Signal()
    moved = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without boards."""
        super().__init__(parent)
        self._clocked: ClockedBoards | None = None
        self._step = 1.0
        self._exact: float | None = None
        self.clock = QComboBox()
        self.clock.addItems([clock_names(each)[0] for each in CLOCK_KINDS])
        self.clock.setAccessibleName(self.tr("Clock"))
        label = QLabel(self.tr("Cloc&k"))
        label.setBuddy(self.clock)
        self.slider = QSlider(Qt.Orientation.Horizontal)
        self.slider.setAccessibleName(self.tr("Place on the clock"))
        self.slider.setMinimumWidth(120)
        self.earlier = QPushButton(self.tr("&Earlier look"))
        self.later = QPushButton(self.tr("&Later look"))
        self.shared = QPushButton(self.tr("As far as &all"))
        self.shared.setToolTip(tool_tip(self.tr("The furthest place that all boards with this clock reached")))
        self._place = QLabel()
        self._place.setProperty("heading", True)
        self._words = words_label(muted=True, narrow=True)
        row = QHBoxLayout()
        row.addWidget(label)
        row.addWidget(self.clock)
        row.addSpacing(8)
        row.addWidget(self.slider, 1)
        for button in (self.earlier, self.later, self.shared):
            row.addWidget(button)
        below = QHBoxLayout()
        below.addWidget(self._place)
        below.addWidget(self._words, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addLayout(row)
        column.addLayout(below)
        self._wire()

    def _wire(self) -> None:
        self.clock.activated.connect(self._choose)
        self.slider.valueChanged.connect(self._move)
        self.earlier.clicked.connect(self._go_earlier)
        self.later.clicked.connect(self._go_later)
        self.shared.clicked.connect(self._go_shared)

    def kind(self) -> ClockKind:
        """Return the clock that is chosen."""
        return CLOCK_KINDS[max(self.clock.currentIndex(), 0)]

    def place(self) -> float:
        """Return the place that is chosen; where boards were looked at within the slider's step, the last look."""
        if self._clocked is None:
            return 0.0
        if self._exact is not None:
            return self._exact
        end = self.slider.value() * self._step
        within = [each for each in self._clocked.stops() if _steps(each, self._step) == self.slider.value()]
        return within[-1] if within else end

    def slack(self) -> float:
        """Return how little beyond its last look a board still counts as watched: a step of the slider."""
        return self._step

    def text(self) -> str:
        """Return what is said of the place."""
        return f"{self._place.text()} {self._words.text()}"

    def show_clocked(self, clocked: ClockedBoards) -> None:
        """Show boards on a clock, as far as all of them were watched."""
        self._clocked = clocked
        self.clock.setToolTip(tool_tip(clock_explained(clocked.kind)))
        self._step = max(_FINEST[clocked.kind], clocked.furthest / _MOST_STEPS)
        self.slider.setRange(0, max(1, _steps(clocked.furthest, self._step)))
        self.slider.setPageStep(max(1, self.slider.maximum() // 10))
        self.slider.setEnabled(clocked.furthest > 0)
        self._to(clocked.shared or clocked.furthest)

    def _to(self, place: float) -> None:
        self._exact = place
        before, after = self.slider.value(), _steps(place, self._step)
        self.slider.setValue(after)
        if before == after:
            self._tell()
            self.moved.emit()

    def _tell(self) -> None:
        if self._clocked is None:
            return
        place, stops = self.place(), self._clocked.stops()
        self._place.setText(self.tr("As of {0}:").format(at_text(self._clocked.kind, place)))
        self._words.setText(shared_text(self._clocked, place, self._step))
        self.earlier.setEnabled(bool(stops) and stops[0] < place)
        self.later.setEnabled(bool(stops) and stops[-1] > place)
        self.shared.setEnabled(self._clocked.shared > 0)

    @Slot(int)
    def _choose(self, at: int) -> None:
        self.clock_chosen.emit()

    @Slot(int)
    def _move(self, value: int) -> None:
        if self._exact is not None and _steps(self._exact, self._step) != value:
            self._exact = None
        self._tell()
        self.moved.emit()

    @Slot()
    def _go_earlier(self) -> None:
        if self._clocked is not None:
            stops = self._clocked.stops()
            at = bisect_left(stops, self.place() - _TINY)
            if at > 0:
                self._to(stops[at - 1])

    @Slot()
    def _go_later(self) -> None:
        if self._clocked is not None:
            stops = self._clocked.stops()
            at = bisect_right(stops, self.place() + _TINY)
            if at < len(stops):
                self._to(stops[at])

    @Slot()
    def _go_shared(self) -> None:
        if self._clocked is not None:
            self._to(self._clocked.shared)


def _steps(place: float, step: float) -> int:
    """Return the first step of the slider at which a place is reached."""
    return int(-(-(place - 1e-9) // step))
