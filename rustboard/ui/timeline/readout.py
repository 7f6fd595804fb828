"""The list under the plot: what each line is called and what it has at the inspection pointed at or in view."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from rustboard.ui import wording
from rustboard.ui.theme import Scheme
from rustboard.ui.timeline.line_styles import LineStyle, draw_symbol

COLUMN_PX: Final = 175
SWATCH_PX: Final = 30
EDGE_PX: Final = 8
MOST_ROWS: Final = 8


@dataclass(frozen=True, slots=True)
class ReadoutRow:
    """One line of the list.

    Attributes:
        value: as shown; a dash for nothing. spoken: as said to those who hear the screen.
        strong: whether its line is pointed at. hollow: whether its point is drawn so.
    """

    name: str
    value: str
    spoken: str
    style: LineStyle
    strong: bool = False
    hollow: bool = False


class Readout(QWidget):
    """Legend and readout in one, so that nothing covers the lines."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Build it empty."""
        super().__init__(parent)
        self._scheme = scheme
        self._heading = ""
        self._rows: tuple[ReadoutRow, ...] = ()
        self._most_height = 10_000
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def set_scheme(self, scheme: Scheme) -> None:
        """Take on a scheme."""
        self._scheme = scheme
        self.updateGeometry()
        self.update()

    def show_rows(self, heading: str, rows: Sequence[ReadoutRow]) -> None:
        """Show a heading (the inspection) and what each line has then."""
        grown = len(rows) != len(self._rows)
        self._heading, self._rows = heading, tuple(rows)
        self.setAccessibleName(self.text())
        if grown:
            self.updateGeometry()
        self.update()

    def explain(self, text: str) -> None:
        """Say how its values are to be read, to whoever points at it and to whoever hears the screen."""
        self.setToolTip(wording.tool_tip(text))
        self.setAccessibleDescription(text)

    def limit(self, height: int) -> None:
        """Take at most this height; what does not fit is counted."""
        if height != self._most_height:
            self._most_height = height
            self.updateGeometry()

    def text(self) -> str:
        """Return everything it says, also what there is no room for."""
        said = [self.tr("{0}: {1}").format(row.name, row.spoken) for row in self._rows]
        return "\n".join((self._heading, *said)) if self._rows else ""

    def sizeHint(self) -> QSize:
        """Return the height that its rows need; Qt calls this."""
        if not self._rows:
            return QSize(COLUMN_PX, 0)
        rows = min(self._rows_needed(), self._rows_that_fit())
        return QSize(COLUMN_PX, round((rows + 1) * self._line() + EDGE_PX))

    def minimumSizeHint(self) -> QSize:
        """Return the same as `sizeHint`; Qt calls this."""
        return self.sizeHint()

    def shown_rows(self) -> tuple[list[ReadoutRow], int]:
        """Return the rows there is room for and how many there is not; the one pointed at is always among them."""
        room = min(self._rows_needed(), self._rows_that_fit()) * self._columns()
        if len(self._rows) <= room:
            return list(self._rows), 0
        shown = list(self._rows[: room - 1])
        strong = next((row for row in self._rows if row.strong), None)
        if strong is not None and strong not in shown and shown:
            shown[-1] = strong
        return shown, len(self._rows) - len(shown)

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw it; Qt calls this."""
        if not self._rows:
            return
        painter = QPainter(self)
        painter.setFont(self._bold())
        painter.setPen(QColor(self._scheme.text))
        line = self._line()
        head = QRectF(EDGE_PX, EDGE_PX / 2, self.width() - 2 * EDGE_PX, line)
        heading = QFontMetricsF(self._bold()).elidedText(self._heading, Qt.TextElideMode.ElideRight, head.width())
        painter.drawText(head, Qt.AlignmentFlag.AlignVCenter, heading)
        shown, more = self.shown_rows()
        columns = self._columns()
        deep = -(-(len(shown) + bool(more)) // columns)
        width = (self.width() - 2 * EDGE_PX) / columns
        for number, row in enumerate(shown):
            self._draw_row(painter, self._cell(number, deep, width), row)
        if more:
            painter.setFont(self.font())
            painter.setPen(QColor(self._scheme.muted))
            place = self._cell(len(shown), deep, width).adjusted(SWATCH_PX + 6, 0, 0, 0)
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, self.tr("and {0} more").format(more))
        painter.end()

    def _cell(self, number: int, deep: int, width: float) -> QRectF:
        column, row = divmod(number, deep)
        line = self._line()
        return QRectF(EDGE_PX + column * width, EDGE_PX / 2 + (row + 1) * line, width - EDGE_PX, line)

    def _draw_row(self, painter: QPainter, cell: QRectF, row: ReadoutRow) -> None:
        middle = cell.center().y()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)
        painter.setPen(row.style.pen(self._scheme))
        painter.drawLine(QPointF(cell.left() + 2, middle), QPointF(cell.left() + SWATCH_PX - 2, middle))
        centre = QPointF(cell.left() + SWATCH_PX / 2, middle)
        draw_symbol(painter, centre, row.style, self._scheme, hollow=row.hollow)
        font = self._bold()
        painter.setFont(font)
        painter.setPen(QColor(self._scheme.text))
        taken = QFontMetricsF(font).horizontalAdvance(row.value)
        painter.drawText(cell, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, row.value)
        font = self._bold() if row.strong else self.font()
        painter.setFont(font)
        room = cell.adjusted(SWATCH_PX + 6, 0, -taken - 8, 0)
        name = QFontMetricsF(font).elidedText(row.name, Qt.TextElideMode.ElideMiddle, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, name)

    def _bold(self) -> QFont:
        font = QFont(self.font())
        # A scheme whose plain text is strong already has nothing stronger in most fonts.
        if font.weight() < QFont.Weight.DemiBold:
            font.setWeight(QFont.Weight.Bold)
        return font

    def _line(self) -> float:
        return QFontMetricsF(self.font()).height() + 3

    def _columns(self) -> int:
        """Return as few columns as show every row: names are easier to read in a broad one."""
        most = max(1, (self.width() - 2 * EDGE_PX) // COLUMN_PX)
        return min(most, -(-len(self._rows) // self._rows_that_fit()))

    def _rows_needed(self) -> int:
        return -(-len(self._rows) // self._columns())

    def _rows_that_fit(self) -> int:
        return max(1, min(MOST_ROWS, int((self._most_height - EDGE_PX) // self._line()) - 1))
