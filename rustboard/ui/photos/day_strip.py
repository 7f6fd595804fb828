"""The strip of days: every photo of the board by time, small, with its day and how far measuring it has come."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRect, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QContextMenuEvent,
    QFocusEvent,
    QFontMetricsF,
    QHelpEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QToolTip, QWidget

from rustboard.ui.photos.day_painter import PAD, PICTURE, DayMarks, DayPainter, bold_of
from rustboard.ui.photos.photo_words import Day, say
from rustboard.ui.photos.thumbnails import Thumbnails
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

_WIDTH = 116
_COMPACT_WIDTH = 96
_MARGIN_ITEMS = 4  # made beyond what is seen, on either side


class DayRow(QWidget):
    """The days in a row.

    Signals:
        chosen(int), other_chosen(int): a photo, by key, is wanted as the day in view, or as the one to compare with.
        menu_asked(object): the menu of the day in view is wanted, at a place (QPoint) on the screen.
        walked(object): the rectangle (QRect) to keep in view. dragged(int): the row was pulled by so many px.
    """

    chosen = Signal(int)
    other_chosen = Signal(int)
    menu_asked = Signal(object)
    walked = Signal(object)
    dragged = Signal(int)

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
        self._pulled = False
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        thumbnails.arrived.connect(self._show_arrived)

    # ---- what is shown

    def show_days(self, days: list[Day], this: int | None, other: int | None) -> None:
        """Show these days, one of them in view and maybe another to compare it with."""
        self.this, self.other = this, other
        if days is not self.days:
            self.days = days
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
        self._fit()  # letters may have become larger
        self.update()

    def _line(self) -> float:
        return QFontMetricsF(self.font()).height()

    def item_width(self) -> int:
        """Return the width of one day: as much as the widest of its words need."""
        if self._wide == 0:
            plain, bold = QFontMetricsF(self.font()), QFontMetricsF(bold_of(self.font()))
            words = [bold.horizontalAdvance(each.day) + plain.horizontalAdvance(each.date) + 26 for each in self.days]
            words += [plain.horizontalAdvance(each.state_words()) + 34 for each in self.days]
            self._wide = round(max(_COMPACT_WIDTH if self._compact else _WIDTH, *words, 0))
        return self._wide

    def row_height(self) -> int:
        """Return the height of the row."""
        picture = 0 if self._compact else PICTURE + PAD
        return round(2 * PAD + picture + 2.2 * self._line() + 2)

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
        look = DayPainter(self._thumbnails, self._scheme, self.font(), compact=self._compact)
        width = self.item_width()
        first, last = event.rect().left() // width, event.rect().right() // width
        for at in range(max(0, first), min(len(self.days), last + 1)):
            day = self.days[at]
            marks = DayMarks(day.photo == self.this, day.photo == self.other, self.hasFocus())
            look.paint(painter, QRectF(self.rect_of(at)).adjusted(2, 1, -2, -1), day, marks)
        painter.end()

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
        """Remember where a tap or a pull began."""
        self._press, self._pulled = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Pull the row along, by mouse or finger."""
        if self._press is None:
            return
        # The row itself moves under the pointer, so that the place where it was taken stays under it.
        by = round(event.position().x() - self._press.x())
        if self._pulled or abs(by) > QApplication.startDragDistance():
            self._pulled = True
            self.dragged.emit(by)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Choose the day tapped."""
        press, self._press = self._press, None
        far = press is None or self._pulled
        day = None if far else self.day_at(event.position())
        if day is None:
            return
        other = self.picks_other or bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        (self.other_chosen if other else self.chosen).emit(day.photo)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        """Ask for the menu of the day tapped, or by the keyboard for that of the day in view."""
        self._press = None  # letting go of the button chooses nothing any more
        where = event.globalPos()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            at = self.place_of(self.this)
            where = where if at is None else self.mapToGlobal(self.rect_of(at).center())
        else:
            day = self.day_at(QPointF(event.pos()))
            if day is None:
                return
            self.chosen.emit(day.photo)
        self.menu_asked.emit(where)

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
        self.row.dragged.connect(self._pull)
        self.horizontalScrollBar().valueChanged.connect(self._look)

    def sizeHint(self) -> QSize:
        """Return the height of the row with its scroll bar."""
        return QSize(400, self.row.row_height() + self.horizontalScrollBar().sizeHint().height() + 2)

    def minimumSizeHint(self) -> QSize:
        """Return the least size."""
        return QSize(150, self.sizeHint().height())

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.row.set_scheme(scheme)
        self.setFixedHeight(self.sizeHint().height())

    def set_compact(self, compact: bool) -> None:
        """Take less height."""
        self.row.set_compact(compact)
        self.setFixedHeight(self.sizeHint().height())
        self._look()

    @Slot(object)
    def _bring_into_view(self, rect: QRect) -> None:
        self.ensureVisible(rect.center().x(), 0, rect.width(), 0)
        self._look()

    @Slot(int)
    def _pull(self, by: int) -> None:
        self.horizontalScrollBar().setValue(self.horizontalScrollBar().value() - by)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Turn the days by: there is nothing to scroll up and down."""
        turned = event.angleDelta().y() or event.angleDelta().x()
        self._pull(round(turned / 120 * self.row.item_width()))
        event.accept()

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
