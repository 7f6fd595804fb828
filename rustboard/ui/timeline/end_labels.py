"""Names at the right ends of the lines, moved apart where lines end at one grade."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen
from PySide6.QtWidgets import QGraphicsWidget, QStyleOptionGraphicsItem, QWidget

from rustboard.ui.theme import Scheme

GAP_PX = 16.0
"""Room for the leader from a line's end to its name."""

LEAST_TEXT_PX = 34.0


@dataclass(frozen=True, slots=True)
class EndLabel:
    """A name at the end of a line.

    Attributes:
        y: where the line ends, in px from the top of the plot. colour: ink of its leader.
        strong: whether its line is pointed at.
    """

    text: str
    y: float
    colour: QColor
    strong: bool = False


def spread(wanted: Sequence[float], height: float, low: float, high: float) -> list[float]:
    """Return places at least ``height`` apart, between ``low`` and ``high``, near where they are wanted.

    The order is kept (equals in the order given). Places that would overlap are gathered and centred on where they
    are wanted together. There must be room: ``len(wanted) * height <= high - low``; else they are spaced evenly.
    """
    count = len(wanted)
    if count * height > high - low:
        step = (high - low) / max(1, count)
        ranks = sorted(range(count), key=wanted.__getitem__)
        places = {at: low + (rank + 0.5) * step for rank, at in enumerate(ranks)}
        return [places[at] for at in range(count)]
    order = sorted(range(count), key=wanted.__getitem__)
    blocks: list[list[float]] = []  # each: sum of (wanted - own offset within the block), how many
    for at in order:
        blocks.append([wanted[at], 1])
        while len(blocks) > 1 and _middle(blocks[-2], height, low, high) + height > _top(blocks, height, low, high):
            following = blocks.pop()
            before = blocks[-1]
            before[0] += following[0] - following[1] * before[1] * height
            before[1] += following[1]
    return _unfold(blocks, order, height, low, high)


def _first_place(block: Sequence[float], height: float, low: float, high: float) -> float:
    """Return the place of a block's first member: the mean of where its members want it, within the limits."""
    best = block[0] / block[1]
    return min(max(best, low + height / 2), high - height / 2 - (block[1] - 1) * height)


def _middle(block: Sequence[float], height: float, low: float, high: float) -> float:
    return _first_place(block, height, low, high) + (block[1] - 1) * height


def _top(blocks: Sequence[Sequence[float]], height: float, low: float, high: float) -> float:
    return _first_place(blocks[-1], height, low, high) + 1e-9


def _unfold(
    blocks: Sequence[Sequence[float]], order: Sequence[int], height: float, low: float, high: float
) -> list[float]:
    placed = [
        _first_place(block, height, low, high) + number * height
        for block in blocks
        for number in range(int(block[1]))
    ]
    result = [0.0] * len(order)
    for at, place in zip(order, placed, strict=True):
        result[at] = place
    return result


class EndLabels(QGraphicsWidget):
    """The strip of names right of the plot."""

    def __init__(self) -> None:
        """Build an empty strip."""
        super().__init__()
        self._labels: list[EndLabel] = []
        self._font = QFont()
        self._ink = QColor()
        self.room(0)

    def dress(self, scheme: Scheme, font: QFont) -> None:
        """Take on the inks of a scheme."""
        self._ink = QColor(scheme.text)
        self._font = font
        self.update()

    def room(self, width: float) -> None:
        """Fix the width of the strip."""
        self.setMinimumWidth(width)
        self.setMaximumWidth(width)

    def width_for(self, texts: Sequence[str], most: float) -> float:
        """Return the width that shows these names, at most ``most`` px."""
        metrics = QFontMetricsF(self._font)
        widest = max((metrics.horizontalAdvance(each) for each in texts), default=0.0)
        return min(most, max(LEAST_TEXT_PX, widest) + GAP_PX + 4) if texts else 0.0

    def line(self) -> float:
        """Return the height of a name, px."""
        return QFontMetricsF(self._font).height()

    def capacity(self) -> int:
        """Return how many names fit one above another."""
        return int(self.size().height() // self.line())

    def show_labels(self, labels: Sequence[EndLabel]) -> None:
        """Show these names."""
        self._labels = list(labels)
        self.update()

    def places(self) -> list[tuple[str, float]]:
        """Return every name with the middle of its place, px from the top of the plot."""
        height = QFontMetricsF(self._font).height()
        wanted = [each.y for each in self._labels]
        found = spread(wanted, height, 0.0, self.size().height())
        return [(label.text, place) for label, place in zip(self._labels, found, strict=True)]

    def paint(self, painter: QPainter, option: QStyleOptionGraphicsItem, widget: QWidget | None = None) -> None:
        """Draw leaders and names."""
        metrics = QFontMetricsF(self._font)
        width = self.size().width() - GAP_PX - 2
        for label, (text, place) in zip(self._labels, self.places(), strict=True):
            font = QFont(self._font)
            if label.strong:
                font.setBold(True)
            painter.setRenderHint(QPainter.RenderHint.Antialiasing, True)
            painter.setPen(QPen(label.colour, 2.0 if label.strong else 1.2))
            painter.drawPolyline([QPointF(2, label.y), QPointF(5, label.y), QPointF(GAP_PX - 4, place)])
            painter.setPen(self._ink)
            painter.setFont(font)
            shown = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideMiddle, width)
            box = QRectF(GAP_PX, place - metrics.height() / 2, width + 2, metrics.height())
            painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)


def gathered(labels: Sequence[EndLabel], pattern: str, ink: QColor, apart: float) -> list[EndLabel]:
    """Return one label for all lines that end within ``apart`` px; the line pointed at keeps its own name."""
    groups: list[list[EndLabel]] = []
    for each in sorted(labels, key=_height):
        if not groups or each.y - groups[-1][0].y >= apart:
            groups.append([])
        groups[-1].append(each)
    kept = []
    for members in groups:
        strong = next((each for each in members if each.strong), None)
        middle = (members[0].y + members[-1].y) / 2
        several = EndLabel(pattern.format(len(members)), middle, ink)
        kept.append(strong or (members[0] if len(members) == 1 else several))
    return kept


def _height(label: EndLabel) -> float:
    return label.y
