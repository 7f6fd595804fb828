"""How often two graders gave which grades, as a small table of counts: the nearer the diagonal, the better."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.board.grade import GRADES
from rustboard.ui.agreement.agreement_words import say, short_name
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

_MOST_SAID = 30
_SIDES = len(GRADES) + 1
_NEAR_STRENGTH = 0.28


class GradeGrid(QWidget):
    """Counts by grade and grade: a row for each grade of the one, a column for each of the other."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self._names = ("", "")
        self._counts: Counter[tuple[int, int]] = Counter()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a comfortable size."""
        return QSize(400, 400)

    def minimumSizeHint(self) -> QSize:
        """Return the least size in which the digits can be read."""
        side = round(QFontMetricsF(self.font()).height() * 0.9 * (_SIDES + 1))
        return QSize(side, side)

    def show_grades(self, a: str, b: str, pairs: Iterable[tuple[int, int]]) -> None:
        """Show the grades that two graders gave the same coupons."""
        self._names, self._counts = (short_name(a), short_name(b)), Counter(pairs)
        said = [
            say("{0} {1}, {2} {3}: {4}").format(self._names[0], one, self._names[1], other, count)
            for (one, other), count in self._counts.most_common(_MOST_SAID)
        ]
        self.setAccessibleName(say("Counts of the grades of {0} and {1}").format(*self._names))
        self.setAccessibleDescription("; ".join(said))
        same = sum(count for (one, other), count in self._counts.items() if one == other)
        self.setToolTip(
            tool_tip(
                say(
                    "A row for each grade of {0}, a column for each of {1}; in the cells, how many coupons. On the "
                    "diagonal they gave the same grade ({2} of {3}), beside it one apart."
                ).format(*self._names, same, self._counts.total())
            )
        )
        self.update()

    def count(self, one: int, other: int) -> int:
        """Return how many coupons got these two grades."""
        return self._counts[one, other]

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint names, grades and counts."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        line = QFontMetricsF(self.font()).height() * 1.2
        room = QRectF(self.rect()).adjusted(line + 2, line + 2, -2, -2)
        side = min(room.width(), room.height()) / _SIDES
        painter.setPen(QColor(self._scheme.text))
        whole = side * _SIDES
        across = QRectF(room.left(), room.top() - line - 2, whole, line)
        self._paint_name(painter, across, self._names[1])
        painter.save()
        painter.translate(room.left() - line - 2, room.top() + whole)
        painter.rotate(-90)
        self._paint_name(painter, QRectF(0, 0, whole, line), self._names[0])
        painter.restore()
        for place, grade in enumerate(GRADES, start=1):
            for at in ((place, 0), (0, place)):
                self._paint_text(painter, _cell(room, side, *at), str(grade), muted=True)
        for one in GRADES:
            for other in GRADES:
                self._paint_cell(painter, _cell(room, side, other + 1, one + 1), one, other)
        painter.end()

    def _paint_name(self, painter: QPainter, area: QRectF, name: str) -> None:
        metrics = QFontMetricsF(self.font())
        painter.setFont(self.font())
        shown = metrics.elidedText(name, Qt.TextElideMode.ElideRight, area.width())
        painter.drawText(area, Qt.AlignmentFlag.AlignCenter, shown)

    def _paint_cell(self, painter: QPainter, cell: QRectF, one: int, other: int) -> None:
        scheme, count, apart = self._scheme, self._counts[one, other], abs(one - other)
        ground = QColor(scheme.base if apart > 1 else scheme.tile)
        ink = QColor(scheme.text)
        if count and not apart:
            ground, ink = QColor(scheme.accent), QColor(scheme.on_accent)
        elif count and apart == 1:
            ground = _mixed(QColor(scheme.tile), QColor(scheme.accent), _NEAR_STRENGTH)
        strong = count > 0 and apart > 1
        painter.setPen(QPen(QColor(scheme.text if strong else scheme.line), 2.0 if strong else 1.0))
        painter.setBrush(ground)
        painter.drawRect(cell.adjusted(1, 1, -1, -1))
        if count:
            painter.setPen(ink)
            self._paint_text(painter, cell, str(count), ink=ink)

    def _paint_text(
        self, painter: QPainter, cell: QRectF, text: str, *, muted: bool = False, ink: QColor | None = None
    ) -> None:
        font = QFont(self.font())
        font.setBold(not muted)
        wide = QFontMetricsF(font).horizontalAdvance(text)
        if wide > cell.width() - 4:  # three digits in a narrow cell
            font.setPointSizeF(font.pointSizeF() * max(cell.width() - 4, 1) / wide)
        painter.setFont(font)
        painter.setPen(ink if ink is not None else QColor(self._scheme.muted))
        painter.drawText(cell, Qt.AlignmentFlag.AlignCenter, text)


def _cell(room: QRectF, side: float, column: int, row: int) -> QRectF:
    return QRectF(room.left() + column * side, room.top() + row * side, side, side)


def _mixed(one: QColor, other: QColor, share: float) -> QColor:
    def between(a: float, b: float) -> float:
        return a * (1 - share) + b * share

    return QColor.fromRgbF(
        between(one.redF(), other.redF()),
        between(one.greenF(), other.greenF()),
        between(one.blueF(), other.blueF()),
    )
