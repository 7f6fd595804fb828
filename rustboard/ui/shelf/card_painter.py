"""One card: the board's picture or a drawing of it, its name and dates, and a strip of last grades."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPainterPath, QPen

from rustboard.board.grade import GRADES
from rustboard.session.shelf import ShelfEntry
from rustboard.support.text import printable
from rustboard.ui.shelf import card_text
from rustboard.ui.theme import Scheme, grade_colour, grade_ink

_SHOWN: Final = 200  # no card shows more letters; eliding a text of hundreds letter by letter is slow
_PAD: Final = 9.0
_LONGEST_MARK: Final = 110.0
_SHORTEST_MARK: Final = 30.0


@dataclass(frozen=True, slots=True)
class CardState:
    """How a card stands: chosen, under the pointer, with the keyboard on it."""

    chosen: bool = False
    hovered: bool = False
    focused: bool = False


def card_size(font: QFont) -> QSize:
    """Return the size of every card in this font."""
    line = QFontMetricsF(font).height()
    width = max(250.0, line * 15.5)
    return QSize(round(width), round(_PAD * 2 + width * 0.42 + 8 + line * 3.25 + 4 + line * 1.4))


def paint_card(
    painter: QPainter,
    area: QRectF,
    entry: ShelfEntry,
    picture: QImage | None,
    state: CardState,
    scheme: Scheme,
    font: QFont,
) -> None:
    """Paint one card into ``area``."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    _paint_ground(painter, area, state, scheme)
    inner = area.adjusted(_PAD, _PAD, -_PAD, -_PAD)
    line = QFontMetricsF(font).height()
    if entry.problem:
        _paint_problem(painter, inner, entry, scheme, font)
    else:
        top = QRectF(inner.left(), inner.top(), inner.width(), inner.height() - 8 - line * 3.25 - 4 - line * 1.4)
        text = QRectF(inner.left(), top.bottom() + 8, inner.width(), line * 3.25)
        if entry.next_look is not None:
            # Below the picture and not on it, so that it hides none of it; names stay in line with other cards'.
            band = QRectF(top.left(), top.bottom() - line * 1.35, top.width(), line * 1.35)
            top.setBottom(band.top() - 3)
            _paint_reminder(painter, band, entry, scheme, font)
        _paint_picture(painter, top, entry, picture, scheme, font)
        _paint_lines(painter, text, entry, scheme, font)
        strip = QRectF(inner.left(), inner.bottom() - line * 1.4, inner.width(), line * 1.4)
        _paint_strip(painter, strip, entry, scheme, font)
    painter.restore()


def _paint_ground(painter: QPainter, area: QRectF, state: CardState, scheme: Scheme) -> None:
    if state.chosen:
        painter.setPen(QPen(QColor(scheme.accent), 2.0 + 1.5 * scheme.line_width))
    else:
        painter.setPen(QPen(QColor(scheme.accent if state.hovered else scheme.line), max(1.0, scheme.line_width)))
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(area.adjusted(2, 2, -2, -2), 8, 8)
    if state.focused:
        painter.setPen(QPen(QColor(scheme.text), 1.2, Qt.PenStyle.DashLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(area.adjusted(5, 5, -5, -5), 6, 6)


def _paint_picture(
    painter: QPainter, area: QRectF, entry: ShelfEntry, picture: QImage | None, scheme: Scheme, font: QFont
) -> None:
    clip = QPainterPath()
    clip.addRoundedRect(area, 4, 4)
    painter.fillPath(clip, QColor(scheme.tile))
    if picture is None or picture.isNull() or entry.being_graded_blind:
        _paint_little_board(painter, area.adjusted(8, 8, -8, -8), entry, scheme, font)
        return
    scale = min(area.width() / picture.width(), area.height() / picture.height())
    shown = QRectF(0, 0, picture.width() * scale, picture.height() * scale)
    shown.moveCenter(area.center())
    painter.save()
    painter.setClipPath(clip)
    painter.drawImage(shown, picture)
    painter.restore()


def _paint_reminder(painter: QPainter, area: QRectF, entry: ShelfEntry, scheme: Scheme, font: QFont) -> None:
    due = card_text.is_due(entry)
    face = QFont(font)
    face.setWeight(QFont.Weight.Bold if due else font.weight())
    painter.setPen(QPen(QColor(scheme.accent if due else scheme.line), max(1.0, scheme.line_width)))
    painter.setBrush(QColor(scheme.accent if due else scheme.base))
    painter.drawRoundedRect(area, 4, 4)
    painter.setFont(face)
    painter.setPen(QColor(scheme.on_accent if due else scheme.text))
    inside = area.adjusted(6, 0, -6, 0)
    metrics = QFontMetricsF(face)
    text = card_text.reminder(entry)
    if metrics.horizontalAdvance(text) > inside.width():
        text = card_text.short_reminder(entry)
    shown = metrics.elidedText(text, Qt.TextElideMode.ElideRight, inside.width())
    painter.drawText(inside, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)


def _paint_little_board(painter: QPainter, area: QRectF, entry: ShelfEntry, scheme: Scheme, font: QFont) -> None:
    """Draw every position, with the colour and, where there is room, the digit of its last grade."""
    rows, columns = max(1, entry.rows), max(1, entry.columns)
    height = min(area.height() / rows, 44.0)
    width = min(area.width() / columns, height * 1.5)
    left = area.center().x() - width * columns / 2
    top = area.center().y() - height * rows / 2
    gap = 0.08 * min(width, height)
    grades = {(row, column): grade for row, column, grade in entry.places}
    small = QFont(font)
    small.setWeight(QFont.Weight.Bold)
    small.setPixelSize(max(1, round(min(height * 0.55, QFontMetricsF(font).height() * 0.85))))
    painter.setFont(small)
    for row in range(rows):
        for column in range(columns):
            cell = QRectF(left + column * width, top + row * height, width, height).adjusted(gap, gap, -gap, -gap)
            there = (row, column) in grades
            _paint_cell(painter, cell, there, grades.get((row, column)), scheme, digits=min(width, height) >= 14)


def _paint_cell(
    painter: QPainter, cell: QRectF, there: bool, grade: int | None, scheme: Scheme, *, digits: bool
) -> None:
    if grade is None:
        painter.setPen(QPen(QColor(scheme.muted), 1.0, Qt.PenStyle.SolidLine if there else Qt.PenStyle.DotLine))
        painter.setBrush(QColor(scheme.base) if there else Qt.BrushStyle.NoBrush)
        painter.drawRoundedRect(cell, 2, 2)
        return
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(grade_colour(grade))
    painter.drawRoundedRect(cell, 2, 2)
    if digits:
        painter.setPen(grade_ink(grade))
        painter.drawText(cell, Qt.AlignmentFlag.AlignCenter, str(grade))


def _paint_lines(painter: QPainter, area: QRectF, entry: ShelfEntry, scheme: Scheme, font: QFont) -> None:
    height = area.height() / 3
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    lines = (
        (bold, scheme.text, card_text.title(entry)),
        (font, scheme.muted, card_text.dates(entry)),
        (font, scheme.muted, card_text.counts(entry)),
    )
    second = QRectF(area.left(), area.top() + height, area.width(), height)
    room = second.width() - QFontMetricsF(font).horizontalAdvance(card_text.dates(entry)[:_SHOWN]) - 8
    _paint_marks(painter, second, room, card_text.marks(entry), scheme, font)
    for number, (face, ink, text) in enumerate(lines):
        place = QRectF(area.left(), area.top() + number * height, area.width(), height)
        painter.setFont(face)
        painter.setPen(QColor(ink))
        shown = QFontMetricsF(face).elidedText(text[:_SHOWN], Qt.TextElideMode.ElideRight, place.width())
        painter.drawText(place, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)


def marks_that_fit(widths: list[float], room: float, more: float) -> int:
    """Return how many labels of these widths stand in a line, with ``more`` kept free where not all do."""
    if sum(widths) <= room:
        return len(widths)
    fitting, used = 0, more
    for width in widths:
        used += width
        if used > room:
            break
        fitting += 1
    return fitting


def _paint_marks(painter: QPainter, line: QRectF, room: float, marks: list[str], scheme: Scheme, font: QFont) -> None:
    """Paint the small labels at the right end of a line: those that fit, and how many more there are."""
    small = QFont(font)
    small.setPixelSize(max(1, round(QFontMetricsF(font).height() * 0.66)))
    metrics = QFontMetricsF(small)
    more = metrics.horizontalAdvance("+99") + 14
    longest = min(_LONGEST_MARK, max(_SHORTEST_MARK, room - 14 - (more if len(marks) > 1 else 0)))
    shown = [metrics.elidedText(each[:_SHOWN], Qt.TextElideMode.ElideRight, longest) for each in marks]
    widths = [metrics.horizontalAdvance(each) + 14 for each in shown]
    fitting = marks_that_fit(widths, room, more)
    labels = shown[:fitting]
    if marks and not fitting and room >= _SHORTEST_MARK + 14:
        # A bare number of labels would tell nobody anything: the first is seen, shortened where it must be.
        labels = [metrics.elidedText(marks[0][:_SHOWN], Qt.TextElideMode.ElideRight, room - 14)]
    elif fitting < len(marks):
        labels.append(f"+{len(marks) - fitting}")
    painter.setFont(small)
    right = line.right()
    for each in reversed(labels):
        width = metrics.horizontalAdvance(each) + 10
        place = QRectF(right - width, line.top() + line.height() * 0.1, width, line.height() * 0.84)
        painter.setPen(QPen(QColor(scheme.line), max(1.0, scheme.line_width)))
        painter.setBrush(QColor(scheme.tile))
        painter.drawRoundedRect(place, place.height() / 2, place.height() / 2)
        painter.setPen(QColor(scheme.text))
        painter.drawText(place, Qt.AlignmentFlag.AlignCenter, each)
        right -= width + 4


def strip_widths(last_grades: tuple[int, ...], width: float, least: float) -> list[tuple[int, float]]:
    """Return (grade, width) of each part of the strip, best grade first.

    Each grade that some coupon has gets at least ``least``; what is left of ``width`` is shared by number of coupons.
    """
    present = [grade for grade in reversed(GRADES) if last_grades[grade]]
    if not present:
        return []
    least = min(least, width / len(present))
    total = sum(last_grades)
    spare = width - least * len(present)
    return [(grade, least + spare * last_grades[grade] / total) for grade in present]


def _paint_strip(painter: QPainter, area: QRectF, entry: ShelfEntry, scheme: Scheme, font: QFont) -> None:
    grades = (0,) * len(GRADES) if entry.being_graded_blind else entry.last_grades
    parts = strip_widths(grades, area.width(), QFontMetricsF(font).horizontalAdvance("10") + 6)
    if not parts:
        painter.setFont(font)
        painter.setPen(QColor(scheme.muted))
        align = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
        painter.drawText(area, align, card_text.grades_in_words(entry))
        return
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    painter.setFont(bold)
    painter.save()
    clip = QPainterPath()
    clip.addRoundedRect(area, 4, 4)
    painter.setClipPath(clip)
    left = area.left()
    for grade, width in parts:
        part = QRectF(left, area.top(), width, area.height())
        painter.fillRect(part.adjusted(0, 0, -1, 0), grade_colour(grade))
        painter.setPen(grade_ink(grade))
        painter.drawText(part, Qt.AlignmentFlag.AlignCenter, str(grade))
        left += width
    painter.restore()


def _paint_problem(painter: QPainter, area: QRectF, entry: ShelfEntry, scheme: Scheme, font: QFont) -> None:
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    metrics = QFontMetricsF(bold)
    name = QRectF(area.left(), area.top(), area.width(), metrics.height() * 1.2)
    painter.setFont(bold)
    painter.setPen(QColor(scheme.text))
    shown = metrics.elidedText(card_text.title(entry)[:_SHOWN], Qt.TextElideMode.ElideRight, name.width())
    painter.drawText(name, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)
    notice = QRectF(area.left(), name.bottom() + 6, area.width(), area.bottom() - name.bottom() - 6)
    painter.setPen(QPen(QColor(scheme.error_text), max(1.0, scheme.line_width)))
    painter.setBrush(QColor(scheme.error))
    painter.drawRoundedRect(notice, 4, 4)
    painter.setFont(font)
    painter.setPen(QColor(scheme.error_text))
    wrap = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop
    painter.drawText(notice.adjusted(8, 6, -8, -6), wrap, printable(entry.problem)[: _SHOWN * 2])
