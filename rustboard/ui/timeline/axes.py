"""The two axes: days of exposure below, grades beside with 10 at the top."""

from __future__ import annotations

from math import ceil

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPen

from rustboard.board.grade import GRADES
from rustboard.ui import wording
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.plot_parts import Axis

TITLE_NEEDS_PX = 190
"""Height of the grade axis below which its title would not fit."""


class GradeAxis(Axis):
    """Whole grades; every second or fifth one where the room is short."""

    def __init__(self) -> None:
        """Build the axis."""
        super().__init__("left", maxTickLength=4)
        self.enableAutoSIPrefix(False)
        self.setLabel(QCoreApplication.translate("timeline", "rust grade (10 = no rust)"))
        self._font = QFont()
        self._steps = 0
        self._titled = False

    def dress(self, scheme: Scheme, font: QFont) -> None:
        """Take on the inks of a scheme."""
        _dress(self, scheme, font)
        self._font = font
        self._steps = 0
        self.fit(self.size().height())

    def fit(self, height: float) -> None:
        """Number as many grades as fit one above another."""
        needed = QFontMetricsF(self._font).height() * 0.95
        steps = next((each for each in (1, 2, 5) if each * height / 11 >= needed), 10)
        if steps != self._steps:
            self._steps = steps
            self.setTicks([[(grade, str(grade)) for grade in GRADES if grade % steps == 0]])
        titled = height >= TITLE_NEEDS_PX
        if titled != self._titled:
            self._titled = titled
            self.showLabel(titled)


class DayAxis(Axis):
    """Days in the user's own way of writing numbers."""

    def __init__(self) -> None:
        """Build the axis."""
        super().__init__("bottom", maxTickLength=4)
        # Days stay days: the library would write a short exposure in thousandths and a long one in thousands.
        self.enableAutoSIPrefix(False)
        self.setLabel(QCoreApplication.translate("timeline", "days of exposure"))
        self.showLabel(True)
        self._decimals = 0

    def dress(self, scheme: Scheme, font: QFont) -> None:
        """Take on the inks of a scheme."""
        _dress(self, scheme, font)
        height = QFontMetricsF(font).height()
        self.setHeight(ceil(2 * height + 10))

    def count(self, title: str, decimals: int) -> None:
        """Number something else than days: with this title, and with so many decimals at most."""
        self._decimals = decimals
        self.setLabel(title)
        self.picture = None  # the library's own: numbers are made anew
        self.update()

    def tickSpacing(self, low: float, high: float, size: float) -> list[tuple[float, float]]:
        """Return whole days between the ticks, broadest first; the plotting library calls this."""
        least = 10.0**-self._decimals
        return [each for each in super().tickSpacing(low, high, size) if each[0] >= least * (1 - 1e-9)] or [
            (least, 0.0)
        ]

    def tickStrings(self, values: list[float], scale: float, spacing: float) -> list[str]:
        """Return the numbers beside the ticks; the plotting library calls this."""
        return [wording.number(value * scale, self._decimals) for value in values]


def _dress(axis: Axis, scheme: Scheme, font: QFont) -> None:
    ink = QColor(scheme.muted)
    axis.setPen(QPen(ink, scheme.line_width))
    axis.setTextPen(QPen(QColor(scheme.text)))
    axis.setTickFont(font)
    size = font.pointSizeF()
    axis.setLabel(_title_of(axis), **{"color": scheme.text, "font-size": f"{size:.1f}pt"})


def _title_of(axis: Axis) -> str:
    return str(getattr(axis, "labelText", ""))
