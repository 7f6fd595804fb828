"""What a grader sees of one coupon: its picture, turned, or the place where it hangs; never what it is."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QStackedWidget, QWidget

from rustboard.board.blind import Turn
from rustboard.board.position import Position
from rustboard.ui.nameless_images import turned
from rustboard.ui.theme import Scheme
from rustboard.ui.zooming.view import ZoomView


class PlaceMap(QWidget):
    """The board's grid with one position marked, and its label in large letters."""

    def __init__(self, rows: int, columns: int, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show an empty grid."""
        super().__init__(parent)
        self._rows, self._columns, self._scheme = rows, columns, scheme
        self._position: Position | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(160, 120)

    def show_position(self, position: Position | None) -> None:
        """Mark a position."""
        self._position = position
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the label above the grid."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.tile))
        area = QRectF(self.rect()).adjusted(12, 12, -12, -12)
        label = QRectF(area.left(), area.top(), area.width(), area.height() * 0.36)
        if self._position is not None:
            font = QFont(self.font())
            font.setBold(True)
            font.setPixelSize(max(18, int(min(label.height() * 0.8, label.width() * 0.3))))
            painter.setFont(font)
            painter.setPen(QColor(self._scheme.text))
            painter.drawText(label, Qt.AlignmentFlag.AlignCenter, self._position.label)
            # A position such as C2 is easily taken for a coupon that is called C02.
            painter.setFont(self.font())
            row, column = self._position.label.rstrip("0123456789"), self._position.column + 1
            text = self.tr("position: row {0}, column {1}").format(row, column)
            under = QRectF(label.left(), label.bottom(), label.width(), QFontMetricsF(self.font()).height() + 4)
            painter.drawText(under, Qt.AlignmentFlag.AlignCenter, text)
        self._paint_grid(painter, area.adjusted(0, label.height() + 32, 0, 0))
        painter.end()

    def _paint_grid(self, painter: QPainter, area: QRectF) -> None:
        side = min(area.width() / self._columns, area.height() / self._rows * 0.75)
        width, height = side, side / 0.75
        left = area.center().x() - width * self._columns / 2
        top = area.center().y() - height * self._rows / 2
        for row in range(self._rows):
            for column in range(self._columns):
                cell = QRectF(left + column * width, top + row * height, width, height)
                here = self._position == Position(row, column)
                rim = max(1.0, width * 0.08)
                painter.setPen(QPen(QColor(self._scheme.text if here else self._scheme.line), 3.0 if here else 1.0))
                painter.setBrush(QColor(self._scheme.accent if here else self._scheme.base))
                painter.drawRoundedRect(cell.adjusted(rim, rim, -rim, -rim), 3, 3)


class CouponView(QStackedWidget):
    """Picture or place of the coupon being graded. Its accessible name says no more than what is seen."""

    def __init__(self, rows: int, columns: int, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Show nothing yet."""
        super().__init__(parent)
        self.picture = ZoomView(scheme)
        # The keyboard stays with the grades; wheel, two fingers and dragging look nearer.
        self.picture.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.place = PlaceMap(rows, columns, scheme)
        self.addWidget(self.picture)
        self.addWidget(self.place)

    def show_picture(self, image: QImage | None, turn: Turn, words: str) -> None:
        """Show a coupon's picture turned, or an empty ground while there is none."""
        self.setCurrentWidget(self.picture)
        shown = QImage() if image is None else turned(image, turn)
        self.picture.show_image(shown, QSizeF(shown.size()) if image is not None else QSizeF(100, 100))
        self.picture.fit()
        self._name(words)

    def shown_picture(self) -> QImage | None:
        """Return the picture as it is shown, or None at the bench and while there is none."""
        here = self.currentWidget() is self.picture and self.picture.has_image()
        return self.picture.image() if here else None

    def show_place(self, position: Position | None, words: str) -> None:
        """Show where the coupon hangs."""
        self.setCurrentWidget(self.place)
        self.place.show_position(position)
        self._name(words)

    def _name(self, words: str) -> None:
        for each in (self, self.picture, self.place):
            each.setAccessibleName(words)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.picture.scheme = scheme
        self.picture.fit()
        self.place.set_scheme(scheme)
