"""A picture of findings in the window: pointed at, walked through by keys, explained, copied and saved."""

from __future__ import annotations

from math import hypot
from typing import Final

from PySide6.QtCore import QBuffer, QByteArray, QEvent, QIODevice, QMimeData, QPointF, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import (
    QColor,
    QFocusEvent,
    QGuiApplication,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QToolTip, QVBoxLayout, QWidget

from rustboard.support.text import printable
from rustboard.ui.charts.chart import Chart, Spot
from rustboard.ui.charts.look import Look
from rustboard.ui.forms.labels import words_label
from rustboard.ui.spoken import say as say_aloud
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

_COPIED_WIDTH: Final = 1_000.0
_SHARPNESS: Final = 2.0
_MARGIN: Final = 8.0


class ChartCanvas(QWidget):
    """The picture itself.

    Attributes:
        chart: what it shows, or None. spots: what can be pointed at, as it was last painted.
    """

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a picture."""
        super().__init__(parent)
        self._scheme = scheme
        self.chart: Chart | None = None
        self.spots: list[Spot] = []
        self._chosen: int | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        policy = QSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def look(self) -> Look:
        """Return what it is painted with."""
        return Look(self._scheme, self.font())

    def show_chart(self, chart: Chart | None) -> None:
        """Show another picture."""
        self.chart, self.spots, self._chosen = chart, [], None
        self.setAccessibleName("" if chart is None else printable(chart.title))
        self.setAccessibleDescription("" if chart is None else printable(chart.text()))
        self.updateGeometry()
        self.update()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.updateGeometry()
        self.update()

    def hasHeightForWidth(self) -> bool:
        """Return that the height depends on the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height in which the picture looks best at a width."""
        if self.chart is None:
            return 0
        return round(self.chart.wanted_height(max(width - 2 * _MARGIN, 50), self.look()) + 2 * _MARGIN)

    def sizeHint(self) -> QSize:
        """Return a width that every picture can be read at."""
        width = round(self.look().line_height * 26)
        return QSize(width, self.heightForWidth(width))

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        width = round(self.look().line_height * 16)
        return QSize(width, self.heightForWidth(width))

    def changeEvent(self, event: QEvent) -> None:
        """Take the height that goes with the font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the picture, and a frame around what the keys have reached."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), QColor(self._scheme.base))
        if self.chart is not None:
            self.spots = self.chart.paint(painter, self._inside(), self.look())
        if self._chosen is not None and self._chosen < len(self.spots) and self.hasFocus():
            spot = self.spots[self._chosen]
            painter.setPen(self.look().pen(self._scheme.accent, 2.0))
            painter.drawEllipse(spot.place, spot.reach + 2, spot.reach + 2)
        elif self.hasFocus():
            painter.setPen(self.look().pen(self._scheme.accent, 1.5))
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))
        painter.end()

    def _inside(self) -> QRectF:
        return QRectF(self.rect()).adjusted(_MARGIN, _MARGIN, -_MARGIN, -_MARGIN)

    def spot_at(self, place: QPointF) -> Spot | None:
        """Return what lies at a place: the nearest that is within reach."""
        near = [(hypot(each.place.x() - place.x(), each.place.y() - place.y()), each) for each in self.spots]
        within = [(distance, each) for distance, each in near if distance <= each.reach]
        return min(within, key=lambda each: each[0])[1] if within else None

    def event(self, event: QEvent) -> bool:
        """Say what the pointer is on."""
        if event.type() == QEvent.Type.ToolTip and isinstance(event, QHelpEvent):
            spot = self.spot_at(QPointF(event.pos()))
            if spot is None:
                QToolTip.hideText()
            else:
                QToolTip.showText(event.globalPos(), tool_tip(spot.words), self)
            return True
        return super().event(event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk through what can be pointed at."""
        step = {Qt.Key.Key_Right: 1, Qt.Key.Key_Down: 1, Qt.Key.Key_Left: -1, Qt.Key.Key_Up: -1}.get(
            Qt.Key(event.key())
        )
        if step is None or not self.spots:
            super().keyPressEvent(event)
            return
        self._chosen = 0 if self._chosen is None else (self._chosen + step) % len(self.spots)
        spot = self.spots[self._chosen]
        QToolTip.showText(self.mapToGlobal(spot.place.toPoint()), tool_tip(spot.words), self)
        say_aloud(self, spot.words)
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Forget what the keys have reached."""
        super().focusOutEvent(event)
        self._chosen = None
        self.update()


class ChartView(QWidget):
    """A picture with its title and what can be done with it.

    Signals:
        copied(str): what was copied, to be told. save_asked(): the picture is to be saved as a file.

    Attributes:
        canvas: the picture. how: how its figures were got, once asked for.
    """

    copied = Signal(str)
    save_asked = Signal()

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a picture."""
        super().__init__(parent)
        self._scheme = scheme
        self.title = words_label(narrow=True)
        self.title.setProperty("heading", True)
        self.canvas = ChartCanvas(scheme)
        self.empty = words_label(muted=True, narrow=True)
        self.how = words_label(muted=True, narrow=True)
        for label in (self.title, self.empty, self.how):
            label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
        self.how.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.how_button = QPushButton(self.tr("How was this got?"))
        self.how_button.setCheckable(True)
        self.picture_button = QPushButton(self.tr("Copy as picture"))
        self.text_button = QPushButton(self.tr("Copy as text"))
        self.save_button = QPushButton(self.tr("Save…"))
        self._lay_out()
        self._wire()
        self.show_chart(None, "")

    def _lay_out(self) -> None:
        buttons = QHBoxLayout()
        buttons.setContentsMargins(0, 0, 0, 0)
        buttons.setSpacing(4)
        for each in self._buttons():
            each.setFlat(True)
            each.setProperty("quiet", True)
            buttons.addWidget(each)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 4, 4, 8)
        column.setSpacing(2)
        for widget in (self.title, self.canvas, self.empty):
            column.addWidget(widget)
        column.addLayout(buttons)
        column.addWidget(self.how)
        column.addStretch(1)

    def _buttons(self) -> tuple[QPushButton, ...]:
        return (self.how_button, self.picture_button, self.text_button, self.save_button)

    def _wire(self) -> None:
        self.how_button.toggled.connect(self._show_how)
        self.picture_button.clicked.connect(self.copy_picture)
        self.text_button.clicked.connect(self.copy_text)
        self.save_button.clicked.connect(self.save_asked)

    def chart(self) -> Chart | None:
        """Return the picture shown, or None."""
        return self.canvas.chart

    def show_chart(self, chart: Chart | None, why_none: str = "") -> None:
        """Show a picture, or say why there is none."""
        self.canvas.show_chart(chart)
        self.canvas.setVisible(chart is not None)
        self.empty.setText(why_none)
        self.empty.setVisible(chart is None and bool(why_none))
        self.title.setText("" if chart is None else printable(chart.title))
        self.title.setVisible(chart is not None)
        self.how.setText("" if chart is None else printable(chart.how))
        for each in self._buttons():
            each.setVisible(chart is not None)
        if chart is not None:
            for each in self._buttons():
                each.setAccessibleName(f"{each.text()}: {printable(chart.title)}")
        self._show_how(self.how_button.isChecked())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.canvas.set_scheme(scheme)

    @Slot(bool)
    def _show_how(self, wanted: bool) -> None:
        self.how.setVisible(wanted and self.canvas.chart is not None)

    @Slot()
    def copy_picture(self) -> None:
        """Put the picture on the clipboard, sharp, with its words beside it."""
        chart = self.canvas.chart
        if chart is None:
            return
        content = QMimeData()
        content.setImageData(self.image())
        content.setData("image/svg+xml", self.svg())
        QGuiApplication.clipboard().setMimeData(content)
        self.copied.emit(self.tr("The picture “{0}” is on the clipboard.").format(chart.title))

    @Slot()
    def copy_text(self) -> None:
        """Put the words of the picture on the clipboard."""
        chart = self.canvas.chart
        if chart is None:
            return
        QGuiApplication.clipboard().setText(printable(chart.text(), lines=True))
        self.copied.emit(self.tr("The figures of “{0}” are on the clipboard.").format(chart.title))

    def image(self) -> QImage:
        """Return the picture with its title, in a size to paste."""
        size = self._whole_size()
        image = QImage((size * _SHARPNESS), QImage.Format.Format_ARGB32)
        image.setDevicePixelRatio(_SHARPNESS)
        image.fill(QColor(self._scheme.base))
        painter = QPainter(image)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        self._paint_whole(painter, size)
        painter.end()
        return image

    def png(self) -> bytes:
        """Return the picture as a PNG."""
        held = QByteArray()
        buffer = QBuffer(held)
        buffer.open(QIODevice.OpenModeFlag.WriteOnly)
        self.image().save(buffer, "PNG")  # type: ignore[call-overload]
        return bytes(held.data())

    def svg(self) -> bytes:
        """Return the picture as an SVG, which stays sharp at any size."""
        size, held = self._whole_size(), QByteArray()
        buffer = QBuffer(held)
        generator = QSvgGenerator()
        generator.setOutputDevice(buffer)
        generator.setSize(size)
        generator.setViewBox(QRectF(QPointF(), size.toSizeF()))
        chart = self.canvas.chart
        generator.setTitle("" if chart is None else printable(chart.title))
        generator.setDescription("" if chart is None else printable(chart.text(), lines=True))
        painter = QPainter(generator)
        painter.fillRect(QRectF(QPointF(), size.toSizeF()), QColor(self._scheme.base))
        self._paint_whole(painter, size)
        painter.end()
        return bytes(held.data())

    def _whole_size(self) -> QSize:
        look, chart = self.canvas.look(), self.canvas.chart
        height = 0.0 if chart is None else chart.wanted_height(_COPIED_WIDTH, look)
        return QSize(round(_COPIED_WIDTH + 4 * _MARGIN), round(height + 2 * look.line_height + 4 * _MARGIN))

    def _paint_whole(self, painter: QPainter, size: QSize) -> None:
        look, chart = self.canvas.look(), self.canvas.chart
        if chart is None:
            return
        inside = QRectF(QPointF(), size.toSizeF()).adjusted(2 * _MARGIN, 2 * _MARGIN, -2 * _MARGIN, -2 * _MARGIN)
        head = QRectF(inside.left(), inside.top(), inside.width(), look.line_height)
        look.write(painter, head, chart.title, bold=True)
        chart.paint(painter, inside.adjusted(0, 2 * look.line_height, 0, 0), look)
