"""The strip of days: every photo of the board by time, small, with its day and how far measuring it has come."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QFont,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QToolTip, QWidget

from rustboard.ui.photos.photo_words import STATE_WORDS, Day, PhotoState, say
from rustboard.ui.photos.thumbnails import Thumbnails
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

_WIDTH = 116
_COMPACT_WIDTH = 96
_PICTURE = 62
_PAD = 4.0
_MARGIN_ITEMS = 4  # made beyond what is seen, on either side


class DayRow(QWidget):
    """The days in a row.

    Signals:
        chosen(int), other_chosen(int): a photo, by key, is wanted as the day in view, or as the one to compare with.
        walked(object): the rectangle (QRect) to keep in view.
    """

    chosen = Signal(int)
    other_chosen = Signal(int)
    walked = Signal(object)

    def __init__(self, thumbnails: Thumbnails, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without days."""
        super().__init__(parent)
        self._thumbnails, self._scheme = thumbnails, scheme
        self.days: list[Day] = []
        self._places: dict[int, int] = {}
        self.this: int | None = None
        self.other: int | None = None
        self.picks_other = False
        self._compact = False
        self._wide = 0  # px of one day, reckoned when first asked for
        self._press: QPointF | None = None
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        thumbnails.arrived.connect(self._show_arrived)

    # ---- what is shown

    def show_days(self, days: list[Day], this: int | None, other: int | None) -> None:
        """Show these days, one of them in view and maybe another to compare it with."""
        self.days, self.this, self.other = days, this, other
        self._places = {each.photo: at for at, each in enumerate(days)}
        self._fit()
        self._announce()
        self.update()

    def set_compact(self, compact: bool) -> None:
        """Show pictures or, where room is dear, lines alone."""
        if compact != self._compact:
            self._compact = compact
            self._fit()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.update()

    def _line(self) -> float:
        return QFontMetricsF(self.font()).height()

    def item_width(self) -> int:
        """Return the width of one day: as much as the widest of its words need."""
        if self._wide == 0:
            plain, bold = QFontMetricsF(self.font()), QFontMetricsF(self._bold())
            words = [bold.horizontalAdvance(each.day) + plain.horizontalAdvance(each.date) + 26 for each in self.days]
            states = plain.horizontalAdvance(say(STATE_WORDS["unplaced"])) + 34
            self._wide = round(max(_COMPACT_WIDTH if self._compact else _WIDTH, states, *words, 0))
        return self._wide

    def _bold(self) -> QFont:
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.Bold)
        return bold

    def row_height(self) -> int:
        """Return the height of the row."""
        picture = 0 if self._compact else _PICTURE + _PAD
        return round(2 * _PAD + picture + 2.2 * self._line() + 2)

    def _fit(self) -> None:
        self._wide = 0
        self.setFixedSize(max(1, len(self.days) * self.item_width()), self.row_height())

    def rect_of(self, at: int) -> QRect:
        """Return where a day is."""
        width = self.item_width()
        return QRect(at * width, 0, width, self.height())

    def place_of(self, photo: int | None) -> int | None:
        """Return the place of a photo among the days, or None."""
        return self._places.get(photo or 0)

    def day_at(self, point: QPointF) -> Day | None:
        """Return the day under a point, or None."""
        at = int(point.x() // self.item_width())
        return self.days[at] if 0 <= at < len(self.days) and point.x() >= 0 else None

    def want_pictures(self, seen: QRect) -> None:
        """Have the pictures made of what is seen, and of a few beyond on either side."""
        if self._compact:
            return
        width = self.item_width()
        first, last = seen.left() // width, seen.right() // width
        inside = range(max(0, first), min(len(self.days), last + 1))
        around = [*range(last + 1, last + 1 + _MARGIN_ITEMS), *range(first - 1, first - 1 - _MARGIN_ITEMS, -1)]
        places = [*inside, *(each for each in around if 0 <= each < len(self.days))]
        self._thumbnails.want(self.days[at].photo for at in places)

    @Slot(int)
    def _show_arrived(self, photo: int) -> None:
        at = self.place_of(photo)
        if at is not None:
            self.update(self.rect_of(at))

    # ---- painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint the days that are to be seen."""
        painter = QPainter(self)
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        width = self.item_width()
        first, last = event.rect().left() // width, event.rect().right() // width
        for at in range(max(0, first), min(len(self.days), last + 1)):
            self._paint_day(painter, QRectF(self.rect_of(at)).adjusted(2, 1, -2, -1), self.days[at])
        painter.end()

    def _paint_day(self, painter: QPainter, area: QRectF, day: Day) -> None:
        scheme, line = self._scheme, self._line()
        here, compared = day.photo == self.this, day.photo == self.other
        colour = scheme.accent if here or compared else scheme.line
        pen = QPen(QColor(colour), 2.5 if here else 2 if compared else scheme.line_width)
        if compared and not here:
            pen.setStyle(Qt.PenStyle.DashLine)
        painter.setPen(pen)
        painter.setBrush(QColor(scheme.base))
        painter.drawRoundedRect(area.adjusted(1.5, 1.5, -1.5, -1.5), 6, 6)
        inner = area.adjusted(_PAD + 1, _PAD, -_PAD - 1, -_PAD)
        top = inner.top()
        if not self._compact:
            self._paint_picture(painter, QRectF(inner.left(), top, inner.width(), _PICTURE), day)
            top += _PICTURE + 1
        self._paint_words(painter, QRectF(inner.left(), top, inner.width(), line), day)
        self._paint_state(painter, QRectF(inner.left(), top + line, inner.width(), line * 1.1), day)
        if here and self.hasFocus():
            painter.setPen(QPen(QColor(scheme.text), 1, Qt.PenStyle.DotLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(area.adjusted(4, 4, -4, -4))

    def _paint_picture(self, painter: QPainter, area: QRectF, day: Day) -> None:
        image = self._thumbnails.image(day.photo)
        if image is None:
            painter.setPen(QColor(self._scheme.muted))
            words = say("no picture") if self._thumbnails.is_broken(day.photo) else "…"
            painter.drawText(area, Qt.AlignmentFlag.AlignCenter, words)
            return
        size = image.size().toSizeF().scaled(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        target = QRectF(QPointF(), size)
        target.moveCenter(area.center())
        painter.drawImage(target, image)

    def _paint_words(self, painter: QPainter, area: QRectF, day: Day) -> None:
        bold = self._bold()
        painter.setFont(bold)
        painter.setPen(QColor(self._scheme.text))
        painter.drawText(area, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, day.day)
        used = QFontMetricsF(bold).horizontalAdvance(day.day) + 5
        painter.setFont(self.font())
        painter.setPen(QColor(self._scheme.muted))
        flags = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(area.adjusted(used, 0, 0, 0), flags, day.date)

    def _paint_state(self, painter: QPainter, area: QRectF, day: Day) -> None:
        state = day.state
        ink = self._scheme.error_text if state in ("unplaced", "missing") else self._scheme.text
        sign = QRectF(area.left(), area.center().y() - 5, 10, 10)
        paint_sign(painter, sign, state, QColor(ink))
        painter.setPen(QColor(ink if state != "measured" else self._scheme.muted))
        words = area.adjusted(15, 0, 0, 0)
        text = QFontMetricsF(self.font()).elidedText(
            say("{0}, newest").format(say(STATE_WORDS[state])) if day.newest else say(STATE_WORDS[state]),
            Qt.TextElideMode.ElideRight,
            words.width(),
        )
        painter.drawText(words, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)

    # ---- keys and taps

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk through the days; with Shift through those to compare with."""
        steps = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1, Qt.Key.Key_Home: -len(self.days)}
        steps[Qt.Key.Key_End] = len(self.days)
        key = Qt.Key(event.key())
        if key not in steps or not self.days:
            super().keyPressEvent(event)
            return
        other = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        self.walk(steps[key], other=other)

    def walk(self, steps: int, *, other: bool = False) -> None:
        """Go so many days on; at the ends stay."""
        if not self.days:
            return
        start = self.place_of(self.other if other and self.other is not None else self.this) or 0
        day = self.days[min(max(start + steps, 0), len(self.days) - 1)]
        (self.other_chosen if other else self.chosen).emit(day.photo)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Remember where a tap began."""
        self._press = event.position()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the day tapped."""
        press, self._press = self._press, None
        far = press is None or (event.position() - press).manhattanLength() > QApplication.startDragDistance()
        day = None if far else self.day_at(event.position())
        if day is None:
            return
        other = self.picks_other or bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        (self.other_chosen if other else self.chosen).emit(day.photo)

    def event(self, event: QEvent) -> bool:
        """Say all of a day as a tool tip."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            day = self.day_at(QPointF(event.pos()))
            QToolTip.showText(event.globalPos(), tool_tip(day.words()) if day is not None else "", self)
            return True
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show where the keyboard is."""
        super().focusInEvent(event)
        self._announce()
        self.update()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Show that it is gone."""
        super().focusOutEvent(event)
        self.update()

    def _announce(self) -> None:
        at = self.place_of(self.this)
        self.setAccessibleName(say("Days: {0}").format(self.days[at].words() if at is not None else ""))
        if at is not None:
            self.walked.emit(self.rect_of(at))
        if self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))


def paint_sign(painter: QPainter, area: QRectF, state: PhotoState, ink: QColor) -> None:
    """Paint the sign of a state: a tick, a ring, a cross, a dashed ring."""
    pen = QPen(ink, 1.8)
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    if state == "unsearched":
        pen.setStyle(Qt.PenStyle.DotLine)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if state == "measured":
        corner = QPointF(area.left() + area.width() * 0.38, area.bottom() - 1)
        painter.drawLine(QPointF(area.left(), area.center().y() + 1), corner)
        painter.drawLine(corner, QPointF(area.right(), area.top() + 1))
    elif state in ("unplaced", "missing"):
        painter.drawLine(area.topLeft() + QPointF(1, 1), area.bottomRight() - QPointF(1, 1))
        painter.drawLine(area.topRight() + QPointF(-1, 1), area.bottomLeft() + QPointF(1, -1))
    else:
        painter.drawEllipse(area.adjusted(1, 1, -1, -1))


class DayStrip(QScrollArea):
    """The row of days, as much of it as there is room for.

    Attributes:
        row: the days.
    """

    def __init__(self, thumbnails: Thumbnails, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without days."""
        super().__init__(parent)
        self.row = DayRow(thumbnails, scheme)
        self.setWidget(self.row)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._wire()

    def _wire(self) -> None:
        self.row.walked.connect(self._bring_into_view)
        self.horizontalScrollBar().valueChanged.connect(self._look)

    def sizeHint(self) -> QSize:
        """Return the height of the row with its scroll bar."""
        return QSize(400, self.row.row_height() + self.horizontalScrollBar().sizeHint().height() + 2)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(150, self.sizeHint().height())

    def set_compact(self, compact: bool) -> None:
        """Take less height."""
        self.row.set_compact(compact)
        self.setFixedHeight(self.sizeHint().height())
        self._look()

    @Slot(object)
    def _bring_into_view(self, rect: QRect) -> None:
        self.ensureVisible(rect.center().x(), 0, rect.width(), 0)
        self._look()

    @Slot()
    def _look(self) -> None:
        """Have the pictures made that are to be seen."""
        left = self.horizontalScrollBar().value()
        if self.isVisible():
            self.row.want_pictures(QRect(left, 0, self.viewport().width(), 1))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Have more pictures made where more is seen."""
        super().resizeEvent(event)
        self._look()
