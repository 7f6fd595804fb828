"""The board straightened, with every coupon's outline as it hung in the photo, and what was measured on it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPointF, QRectF, QSizeF, Qt, Signal, Slot
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFont,
    QFontMetricsF,
    QHelpEvent,
    QImage,
    QKeyEvent,
    QPainter,
    QPainterPath,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QToolTip, QWidget

from rustboard.board.measured import Present
from rustboard.board.model import Outline, Photo
from rustboard.board.record import BoardRecord
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.pictures import outline_on_board
from rustboard.ui.measured_words import (
    PRESENT_WORDS,
    measured_grade,
    percent_text,
    say,
    suggestion_text,
)
from rustboard.ui.photos.hung_outline import hung
from rustboard.ui.photos.photo_words import HIDDEN_WORDS, again_words
from rustboard.ui.photos.photo_words import say as say_of_photo
from rustboard.ui.photos.picture_view import PictureView, Side
from rustboard.ui.photos.views import BoardImage
from rustboard.ui.theme import Scheme, grade_colour, grade_ink
from rustboard.ui.wording import coupon_title, tool_tip

_WAYS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_LEAST_FONT = 0.62


@dataclass(frozen=True, slots=True)
class CouponMark:
    """One coupon on the board of one photo.

    Attributes:
        outline_mm: as it hung. grade: suggested, or None. digits: grade and letter. percent: in words.
        present: whether it was there. words: all of it in one sentence.
    """

    coupon: int
    outline_mm: Outline
    grade: int | None
    digits: str
    percent: str
    present: Present
    words: str


def marks_of(record: BoardRecord, photo: Photo, hidden: Collection[int] = ()) -> tuple[CouponMark, ...]:
    """Return the marks of the coupons that hang on the board, in reading order; of ``hidden`` ones no figures."""
    measured, again = record.measured.get(photo.key, {}), OutOfDate(record).in_photo(photo.key)
    marks = []
    for coupon in record.coupons_in_order():
        outline = outline_on_board(record, coupon)
        if coupon.position is None or len(outline) < 3:
            continue
        found = measured.get(coupon.key)
        title = coupon_title(record, coupon)
        if found is None:
            words = say("{0}, not measured in this photo").format(title)
            marks.append(CouponMark(coupon.key, outline, None, "", "", "there", words))
            continue
        if coupon.key in hidden:
            words = f"{title}. {say_of_photo(HIDDEN_WORDS)}"
            shape = hung(outline, found.motion)
            marks.append(CouponMark(coupon.key, shape, None, "", "", found.present, words))
            continue
        words = f"{title}, {suggestion_text(found)}"
        if coupon.key in again:
            words = f"{title}. {again_words(again[coupon.key])}"
            text = "" if found.percent is None else say_of_photo("again")
            marks.append(CouponMark(coupon.key, outline, None, "", text, found.present, words))
            continue
        if found.present in PRESENT_WORDS:
            words = f"{words}. {say(PRESENT_WORDS[found.present])}"
        grade = None if found.percent is None else grade_from_percent(found.percent)
        percent = "" if found.percent is None else say("{0} %").format(percent_text(found.percent))
        digits = "" if found.percent is None else measured_grade(found)
        marks.append(
            CouponMark(coupon.key, hung(outline, found.motion), grade, digits, percent, found.present, words)
        )
    return tuple(marks)


class BoardPicture(PictureView):
    """The board of one day, or of two; a tap chooses a coupon.

    Signals:
        coupon_chosen(int): a coupon, by key.
    """

    coupon_chosen = Signal(int)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start without a board."""
        super().__init__(scheme, parent)
        self.marks: tuple[CouponMark, ...] = ()
        self.other_marks: tuple[CouponMark, ...] = ()
        self.coupon: int | None = None
        self.tapped.connect(self._tap)

    # ---- what is shown

    def show_board(self, image: BoardImage | None, marks: tuple[CouponMark, ...], caption: str, missing: str) -> None:
        """Show a photo's board; ``missing`` says why there is no picture."""
        self.marks = marks
        self.show_sides(Side(_picture(image), caption, None, missing), self.other, self.viewport.size)

    def show_other(
        self, image: BoardImage | None, marks: tuple[CouponMark, ...], caption: str, missing: str, *, compares: bool
    ) -> None:
        """Show the board of the day to compare with, or none."""
        self.other_marks = marks
        other = Side(_picture(image), caption, None, missing) if compares else None
        self.show_sides(self.this, other, self.viewport.size)

    def set_board_size(self, width_mm: float, height_mm: float) -> None:
        """Take millimetres of the board for the picture's units."""
        self.viewport.show(QSizeF(width_mm or 1, height_mm or 1))

    def set_coupon(self, coupon: int | None) -> None:
        """Mark the coupon that is chosen."""
        self.coupon = coupon
        self._announce()
        self.update()

    def mark(self) -> CouponMark | None:
        """Return the mark of the chosen coupon, or None."""
        return next((each for each in self.marks if each.coupon == self.coupon), None)

    def _announce(self) -> None:
        mark = self.mark()
        self.setAccessibleName(mark.words if mark is not None else self.tr("The board, no coupon chosen"))
        if self.hasFocus():
            QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.NameChanged))

    # ---- painting

    def paint_over(self, painter: QPainter, pane: QRectF, side: Side) -> None:
        """Paint outlines and figures."""
        way = self.viewport.transform(pane)
        marks = self.other_marks if side is self.other else self.marks
        for mark in sorted(marks, key=lambda each: each.coupon == self.coupon):
            polygon = way.map(QPolygonF([QPointF(*each) for each in mark.outline_mm]))
            self._paint_outline(painter, polygon, mark)
            self._paint_figures(painter, polygon.boundingRect(), mark)

    def _paint_outline(self, painter: QPainter, polygon: QPolygonF, mark: CouponMark) -> None:
        chosen = mark.coupon == self.coupon
        path = QPainterPath()
        path.addPolygon(polygon)
        path.closeSubpath()
        painter.setBrush(Qt.BrushStyle.NoBrush)
        # Photographs are light and dark in every scheme: dark and white lines show on all of them.
        plain = (("#101820", 3.0), ("#ffffff", 1.2))
        large = 1.0 if min(polygon.boundingRect().width(), polygon.boundingRect().height()) > 40 else 0.6
        marked = (("#101820", 8 * large), ("#ffffff", 5.5 * large), (self._scheme.accent, 3 * large))
        for colour, width in marked if chosen else plain:
            pen = QPen(QColor(colour), width)
            if mark.present in ("missing", "other") and not chosen:
                pen.setStyle(Qt.PenStyle.DashLine)
            painter.setPen(pen)
            painter.drawPath(path)
        if mark.present == "missing":
            box = polygon.boundingRect()
            painter.setPen(QPen(QColor("#101820"), 4))
            painter.drawLine(box.topLeft(), box.bottomRight())
            painter.setPen(QPen(QColor("#ffffff"), 2))
            painter.drawLine(box.topLeft(), box.bottomRight())

    def _paint_figures(self, painter: QPainter, box: QRectF, mark: CouponMark) -> None:
        """Paint grade and percent at the lower end of a coupon, so that its steel is seen."""
        lines = self._lines(mark)
        bold, plain = QFont(self.font()), QFont(self.font())
        bold.setWeight(QFont.Weight.Bold)
        room = box.width() + 2
        if len(lines) > 1 and QFontMetricsF(plain).horizontalAdvance(lines[1]) * _LEAST_FONT + 6 > room:
            lines = lines[:1]  # the percentage comes with zooming in, and with the tool tip
        wide = max((QFontMetricsF(bold).horizontalAdvance(each) for each in lines), default=0.0) + 6
        if wide > room:
            share = max(_LEAST_FONT, room / wide)
            bold.setPointSizeF(bold.pointSizeF() * share)
            plain.setPointSizeF(plain.pointSizeF() * share)
        fonts = [bold, plain][: len(lines)]
        heights = [QFontMetricsF(each).height() for each in fonts]
        while lines and sum(heights) > box.height() * 0.6 and len(lines) > 1:
            lines, fonts, heights = lines[:1], fonts[:1], heights[:1]
        if not lines or box.height() < heights[0] * 0.8:
            return
        wide = max(QFontMetricsF(font).horizontalAdvance(text) for text, font in zip(lines, fonts, strict=True)) + 6
        chip = QRectF(0, 0, max(wide, 18), sum(heights) + 2)
        chip.moveCenter(box.center())
        chip.moveBottom(box.bottom() - 2)
        graded = mark.grade is not None and mark.present != "missing"
        ground = grade_colour(mark.grade or 0) if graded else QColor(self._scheme.base)
        painter.setPen(QPen(QColor("#101820"), 1))
        painter.setBrush(ground)
        painter.drawRoundedRect(chip, 3, 3)
        painter.setPen(grade_ink(mark.grade or 0) if graded else QColor(self._scheme.text))
        top = chip.top() + 1
        for text, font, height in zip(lines, fonts, heights, strict=True):
            painter.setFont(font)
            painter.drawText(QRectF(chip.left(), top, chip.width(), height), Qt.AlignmentFlag.AlignCenter, text)
            top += height
        painter.setFont(self.font())

    def _lines(self, mark: CouponMark) -> list[str]:
        if mark.present == "missing":
            return [self.tr("missing")]
        if mark.present == "other":
            return [self.tr("other"), mark.digits] if mark.digits else [self.tr("other")]
        digits = self.tr("{0} ?").format(mark.digits) if mark.present == "unsure" and mark.digits else mark.digits
        return [each for each in (digits, mark.percent) if each]

    # ---- keys and taps

    def coupon_at(self, point: QPointF) -> int | None:
        """Return the coupon whose outline holds a place of the board, or None."""
        for mark in self.marks:
            if QPolygonF([QPointF(*each) for each in mark.outline_mm]).containsPoint(point, Qt.FillRule.OddEvenFill):
                return mark.coupon
        return None

    @Slot(QPointF)
    def _tap(self, point: QPointF) -> None:
        coupon = self.coupon_at(point)
        if coupon is not None:
            self.coupon_chosen.emit(coupon)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Walk from coupon to coupon."""
        key = Qt.Key(event.key())
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and key in _WAYS:
            coupon = self._neighbour(*_WAYS[key])
            if coupon is not None:
                self.coupon_chosen.emit(coupon)
        else:
            super().keyPressEvent(event)

    def _neighbour(self, right: int, down: int) -> int | None:
        """Return the nearest coupon in a direction; the first one when none is chosen."""
        here = self.mark()
        if here is None:
            return self.marks[0].coupon if self.marks else None
        start = _middle(here.outline_mm)
        best: tuple[float, int] | None = None
        for each in self.marks:
            away = _middle(each.outline_mm) - start
            along, aside = away.x() * right + away.y() * down, abs(away.x() * down) + abs(away.y() * right)
            if each.coupon != self.coupon and along > aside * 0.5 and along > 0:
                found = (along + 2 * aside, each.coupon)
                best = found if best is None else min(best, found)
        return None if best is None else best[1]

    def event(self, event: QEvent) -> bool:
        """Say all of a coupon as a tool tip."""
        if isinstance(event, QHelpEvent) and event.type() == QEvent.Type.ToolTip:
            coupon = self.coupon_at(self.place_at(QPointF(event.pos())))
            words = next((each.words for each in self.marks if each.coupon == coupon), "")
            QToolTip.showText(event.globalPos(), tool_tip(words), self)
            return True
        return super().event(event)


def _middle(outline: Outline) -> QPointF:
    return QPolygonF([QPointF(*each) for each in outline]).boundingRect().center()


def _picture(image: BoardImage | None) -> QImage | None:
    return None if image is None else image.image
