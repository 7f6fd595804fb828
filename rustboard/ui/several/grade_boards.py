"""Two boards side by side as small grids of last grades, those of a chosen treatment standing out."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QHelpEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget

from rustboard.board.model import Coupon
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.support.text import printable
from rustboard.ui.matched.several_words import DASH, say
from rustboard.ui.theme import Scheme, grade_colour, grade_ink
from rustboard.ui.wording import tool_tip

_GAP_PX = 4.0
_LARGEST_PX = 84.0
_LEAST_NAMED_PX = 44.0
_FADED = 0.3


@dataclass(frozen=True, slots=True)
class GradedBoard:
    """A board as the grid shows it.

    Attributes:
        name: of the board. record: it. names: common names by id of treatment, and of the controls.
        chosen: keys of the coupons that stand out; empty = all.
    """

    name: str
    record: BoardRecord
    names: dict[str, str]
    chosen: Collection[int] = ()

    def title(self, coupon: Coupon) -> str:
        """Return what a coupon got, by its common name."""
        if coupon.role == "control":
            return self.names.get("control", say("control"))
        treatment = self.record.treatment_of(coupon)
        return "" if treatment is None else self.names.get(treatment.id, treatment.title)


class GradeBoard(QWidget):
    """The grid of one board."""

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._scheme = scheme
        self.shown: GradedBoard | None = None
        self.setMinimumSize(160, 120)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)

    def sizeHint(self) -> QSize:
        """Return a size that shows the digits well."""
        return QSize(380, 280)

    def show_board(self, board: GradedBoard | None) -> None:
        """Show a board."""
        self.shown = board
        if board is None:
            self.setAccessibleName("")
            self.setAccessibleDescription("")
        else:
            self.setAccessibleName(self.tr("Last grades of {0}").format(printable(board.name)))
            self.setAccessibleDescription(" ".join(self._told(each) for each in self._coupons()))
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def _coupons(self) -> list[Coupon]:
        if self.shown is None:
            return []
        return [each for each in self.shown.record.coupons_in_order() if each.position is not None]

    def _told(self, coupon: Coupon) -> str:
        grade, where = self._grade(coupon), coupon.position
        text = say("{0}, {1}, {2}: grade {3}.") if grade is not None else say("{0}, {1}, {2}: not graded.")
        title = "" if self.shown is None else self.shown.title(coupon)
        return text.format("" if where is None else where.label, printable(coupon.id), printable(title), grade)

    def _grade(self, coupon: Coupon) -> int | None:
        latest = None if self.shown is None else self.shown.record.latest(coupon.key)
        return None if latest is None else latest.grade

    def _cell(self, position: Position) -> QRectF:
        board = self.shown.record.board if self.shown is not None else None
        rows, columns = (1, 1) if board is None else (board.rows, board.columns)
        top = QFontMetricsF(self.font()).height() + 10
        wide, high = (self.width() - 8.0) / columns, (self.height() - top - 4.0) / rows
        side_x, side_y = min(wide, _LARGEST_PX * 1.5), min(high, _LARGEST_PX)
        left = 4 + (self.width() - 8.0 - side_x * columns) / 2
        return QRectF(left + position.column * side_x, top + position.row * side_y, side_x, side_y).adjusted(
            _GAP_PX / 2, _GAP_PX / 2, -_GAP_PX / 2, -_GAP_PX / 2
        )

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the name and the coupons."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.base))
        if self.shown is not None:
            bold = QFont(self.font())
            bold.setWeight(QFont.Weight.DemiBold)
            painter.setFont(bold)
            painter.setPen(QColor(self._scheme.text))
            metrics = QFontMetricsF(bold)
            name = metrics.elidedText(printable(self.shown.name), Qt.TextElideMode.ElideRight, self.width() - 12.0)
            painter.drawText(QPointF(6, metrics.ascent() + 4), name)
            for each in self._coupons():
                self._paint_coupon(painter, each)
        painter.end()

    def _paint_coupon(self, painter: QPainter, coupon: Coupon) -> None:
        if coupon.position is None or self.shown is None:
            return
        area, grade = self._cell(coupon.position), self._grade(coupon)
        out = not self.shown.chosen or coupon.key in self.shown.chosen
        if grade is None:
            painter.setPen(QPen(QColor(self._scheme.muted), 1, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            ink = QColor(self._scheme.text)
        else:
            painter.setPen(QPen(QColor(self._scheme.line), self._scheme.line_width))
            ground = grade_colour(grade)
            ground.setAlphaF(1.0 if out else _FADED)
            painter.setBrush(ground)
            ink = grade_ink(grade) if out else QColor(self._scheme.text)
        painter.drawRoundedRect(area, 3, 3)
        if out and self.shown.chosen:
            painter.setPen(QPen(QColor(self._scheme.accent), 3))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRoundedRect(area, 3, 3)
        self._paint_texts(painter, area, coupon, DASH if grade is None else str(grade), ink)

    def _paint_texts(self, painter: QPainter, area: QRectF, coupon: Coupon, digit: str, ink: QColor) -> None:
        named = area.height() >= _LEAST_NAMED_PX and self.shown is not None
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold)
        font.setPixelSize(max(8, round(min(area.height() * (0.42 if named else 0.6), area.width() * 0.6))))
        painter.setFont(font)
        painter.setPen(ink)
        upper = area.adjusted(0, 0, 0, -area.height() * 0.36) if named else area
        painter.drawText(upper, Qt.AlignmentFlag.AlignCenter, digit)
        if named and self.shown is not None:
            small = QFont(self.font())
            small.setPointSizeF(max(self.font().pointSizeF() * 0.85, 6.0))
            painter.setFont(small)
            title = QFontMetricsF(small).elidedText(
                printable(self.shown.title(coupon)), Qt.TextElideMode.ElideRight, area.width() - 6
            )
            painter.drawText(area.adjusted(3, area.height() * 0.58, -3, -2), Qt.AlignmentFlag.AlignCenter, title)

    def event(self, event: QEvent) -> bool:
        """Say what a coupon is when the mouse rests on it."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            at = QPointF(event.pos())
            for each in self._coupons():
                if each.position is not None and self._cell(each.position).contains(at):
                    QToolTip.showText(event.globalPos(), tool_tip(self._told(each)), self)
                    return True
            QToolTip.hideText()
            return True
        return super().event(event)
