"""What a picture of findings is: values that paint themselves and can be told in words."""

from __future__ import annotations

from abc import ABC, abstractmethod
from dataclasses import dataclass
from typing import NamedTuple

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter

from rustboard.ui.charts.look import Look


class Spot(NamedTuple):
    """A place in a painted picture that has something to say.

    Attributes:
        place: its middle. reach: how near the pointer must be, px. words: what is said.
    """

    place: QPointF
    reach: float
    words: str


@dataclass(frozen=True)
class Chart(ABC):
    """One picture.

    Attributes:
        title: what it shows. how: how its figures were got.
    """

    title: str
    how: str

    @abstractmethod
    def wanted_height(self, width: float, look: Look) -> float:
        """Return the height in which it looks best at this width, px."""

    @abstractmethod
    def paint(self, painter: QPainter, rect: QRectF, look: Look) -> list[Spot]:
        """Paint it into a rectangle and return what can be pointed at."""

    @abstractmethod
    def lines(self) -> list[str]:
        """Return its words, line by line: every figure that it shows."""

    def text(self) -> str:
        """Return its words with the title, for copying and for screen readers."""
        return "\n".join([self.title, *self.lines()])
