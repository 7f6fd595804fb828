"""What is painted in the table of an order: strengths with intervals, and brackets around those not told apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPen
from PySide6.QtWidgets import QStyle, QStyledItemDelegate, QStyleOptionViewItem

from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.findings.side_by_side.strengths import Strength

Index = QModelIndex | QPersistentModelIndex
_RIM: Final = 10.0
_DOT: Final = 4.5
_LANE: Final = 11.0
_MOST_LANES: Final = 8


class _Painted(QStyledItemDelegate):
    """Paints the ground of a cell as the table does, then something over it."""

    def __init__(self, scheme: Scheme, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.scheme = scheme

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint a cell."""
        super().paint(painter, option, index)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self.paint_over(painter, QRectF(option.rect), index.row(), chosen=chosen)
        painter.restore()

    def paint_over(self, painter: QPainter, cell: QRectF, row: int, *, chosen: bool) -> None:
        """Paint what the cell shows; ``chosen``: on the ground of what is chosen."""


class StrengthDelegate(_Painted):
    """A dot for a strength, a line for its 95 % interval, on one scale for all rows; less rust is to the right.

    Attributes:
        strengths: of the rows.
    """

    strengths: Sequence[Strength] = ()

    def place(self, value: float, cell: QRectF) -> float:
        """Return where on the scale a strength is, in px from the left of the table."""
        low, high = min(each.low for each in self.strengths), max(each.high for each in self.strengths)
        share = (value - low) / (high - low) if high > low else 0.5
        return cell.left() + _RIM + share * max(1.0, cell.width() - 2 * _RIM)

    def paint_over(self, painter: QPainter, cell: QRectF, row: int, *, chosen: bool) -> None:
        """Paint a strength."""
        if row >= len(self.strengths):
            return
        strength, middle = self.strengths[row], cell.center().y()
        ink = QColor(self.scheme.on_accent if chosen else self.scheme.text)
        quiet = QColor(self.scheme.on_accent if chosen else self.scheme.line)
        painter.setPen(QPen(quiet, 1, Qt.PenStyle.DashLine))
        mean = self.place(0.0, cell)
        painter.drawLine(QPointF(mean, cell.top()), QPointF(mean, cell.bottom()))
        low, high = self.place(strength.low, cell), self.place(strength.high, cell)
        painter.setPen(QPen(ink, 1.5))
        painter.drawLine(QPointF(low, middle), QPointF(high, middle))
        for end in (low, high):
            painter.drawLine(QPointF(end, middle - 3), QPointF(end, middle + 3))
        painter.setBrush(QColor(self.scheme.on_accent if chosen else self.scheme.accent))
        painter.drawEllipse(QPointF(self.place(strength.value, cell), middle), _DOT, _DOT)


class Groups:
    """Which rows each group of coupons spans, and in which lane its bracket is drawn.

    Attributes:
        spans: first row, last row and lane of each group.
    """

    def __init__(self, groups: Sequence[Sequence[int]] = (), order: Sequence[int] = ()) -> None:
        """Give every group a lane in which it meets no other."""
        places = {item: place for place, item in enumerate(order)}
        ends: list[int] = []
        self.spans: list[tuple[int, int, int]] = []
        for group in groups:
            rows = sorted(places[item] for item in group if item in places)
            if not rows:
                continue
            lane = next((lane for lane, end in enumerate(ends) if end < rows[0]), len(ends))
            if lane == len(ends):
                ends.append(0)
            ends[lane] = rows[-1]
            self.spans.append((rows[0], rows[-1], lane))

    @property
    def lanes(self) -> int:
        """How many lanes it takes."""
        return 1 + max((lane for *_, lane in self.spans), default=-1)


class GroupDelegate(_Painted):
    """A bracket along the coupons of each group.

    Attributes:
        groups: of the table.
    """

    groups = Groups()

    def width(self) -> int:
        """Return how wide the column has to be."""
        return round(2 * _RIM + _LANE * min(self.groups.lanes, _MOST_LANES))

    def paint_over(self, painter: QPainter, cell: QRectF, row: int, *, chosen: bool) -> None:
        """Paint this row's part of the brackets."""
        ink = QColor(self.scheme.on_accent if chosen else self.scheme.text)
        # Flat ends, so that the parts of two rows do not overlap.
        painter.setPen(QPen(ink, 2, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
        for first, last, lane in self.groups.spans:
            if not first <= row <= last:
                continue
            x = cell.left() + _RIM + _LANE * (min(lane, _MOST_LANES - 1) + 0.5)
            top = cell.top() + 6 if row == first else cell.top()
            bottom = cell.bottom() - 6 if row == last else cell.bottom()
            painter.drawLine(QPointF(x, top), QPointF(x, bottom))
            for end, here in ((top, row == first), (bottom, row == last)):
                if here:
                    painter.drawLine(QPointF(x - 4, end), QPointF(x, end))
