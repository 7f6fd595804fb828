"""Painting one tile: picture or outline, grade, id, treatment, small history."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtCore import QCoreApplication, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QColor,
    QFont,
    QFontMetricsF,
    QImage,
    QLinearGradient,
    QPainter,
    QPen,
)

from rustboard.board.grade import written
from rustboard.ui.board.tile_view import TileView
from rustboard.ui.damage_words import noted_text
from rustboard.ui.grid.short_lines import short_line, short_lines
from rustboard.ui.measured_words import suggestion_text
from rustboard.ui.outline import outline_path
from rustboard.ui.small_history import paint_steps
from rustboard.ui.theme import Scheme, grade_colour, grade_ink
from rustboard.ui.wording import day_text

_ROUND = 7.0
_PAD = 6.0
_SIDE_BY_SIDE = 1.15
_UPRIGHT = 0.52


@dataclass(frozen=True, slots=True)
class TilePicture:
    """A coupon's picture on its tile.

    Attributes:
        age: of which day it is, when that is not the inspection in view; else empty.
    """

    image: QImage
    age: str = ""


@dataclass(frozen=True, slots=True)
class TileLayout:
    """Where the parts of a tile go.

    Attributes:
        chip: the grade. picture: the coupon. text: id and treatment. history: the small history, maybe empty.
    """

    chip: QRectF
    picture: QRectF
    text: QRectF
    history: QRectF


def lay_out(tile: QRectF, font: QFont) -> TileLayout:
    """Return where the parts go: beside each other in a wide tile, above each other in a tall one."""
    line = QFontMetricsF(font).height()
    inner = tile.adjusted(_PAD, _PAD, -_PAD, -_PAD)
    chip_width, chip_height = line * 2.5, line * 1.45
    chip = QRectF(inner.right() - chip_width, inner.top(), chip_width, chip_height)
    text_height = line * 2.15
    if tile.width() > tile.height() * _SIDE_BY_SIDE:
        picture = QRectF(inner.left(), inner.top(), inner.width() * 0.3, inner.height())
        left = picture.right() + _PAD
        text = QRectF(left, inner.bottom() - text_height, inner.right() - left, text_height)
        room = text.top() - chip.bottom() - 4
        history = QRectF(left, chip.bottom() + 3, inner.right() - left, room) if room > 14 else QRectF()
        return TileLayout(chip, picture, text, history)
    if inner.height() > line * 10:
        text_height = line * 3.15  # room for a second line of the treatment's name
    text = QRectF(inner.left(), inner.bottom() - text_height, inner.width(), text_height)
    history_height = min(30.0, inner.height() * 0.16)
    history = QRectF(inner.left(), text.top() - history_height - 2, inner.width(), history_height)
    if inner.height() < 110:
        history = QRectF()
    bottom = (history.top() if not history.isEmpty() else text.top()) - 4
    room = bottom - inner.top()
    beside = chip.left() - inner.left() - 2
    # An upright coupon stands left of its grade where there is room; the grade hides none of it.
    width = beside if beside >= room * _UPRIGHT else inner.width()
    return TileLayout(chip, QRectF(inner.left(), inner.top(), width, room), text, history)


def paint_tile(
    painter: QPainter, tile: QRectF, view: TileView, picture: TilePicture | None, scheme: Scheme, font: QFont
) -> None:
    """Paint a tile's content; marks of choice and focus are painted over it by the canvas."""
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
    painter.setFont(font)
    painter.setPen(QPen(QColor(scheme.line), scheme.line_width))
    painter.setBrush(QColor(scheme.tile))
    painter.drawRoundedRect(tile.adjusted(0.5, 0.5, -0.5, -0.5), _ROUND, _ROUND)
    parts = lay_out(tile, font)
    _paint_coupon(painter, parts.picture, view, picture.image if picture is not None else None, scheme)
    if picture is not None and picture.age:
        _paint_age(painter, parts.picture, picture.age, scheme, font)
    if not parts.history.isEmpty() and view.history:
        paint_history(painter, parts.history, view, scheme)
    if view.left_out:
        _paint_left_out(painter, parts.picture, scheme, font)
    _paint_text(painter, parts.text, view, scheme, font)
    _paint_chip(painter, parts.chip, view, scheme, font)


def _paint_coupon(painter: QPainter, area: QRectF, view: TileView, picture: QImage | None, scheme: Scheme) -> None:
    if area.width() < 8 or area.height() < 8:
        return
    if picture is not None:
        size = picture.size().toSizeF().scaled(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        target = QRectF(QPointF(), size)
        target.moveCenter(area.center())
        painter.drawImage(target, picture)
        return
    shape = outline_path(view.outline, area)
    steel = QLinearGradient(shape.boundingRect().topLeft(), shape.boundingRect().bottomRight())
    steel.setColorAt(0, QColor("#b9bec3"))
    steel.setColorAt(0.5, QColor("#9aa1a8"))
    steel.setColorAt(1, QColor("#aab0b6"))
    painter.setPen(QPen(QColor(scheme.muted), scheme.line_width))
    painter.setBrush(steel)
    painter.drawPath(shape)


def paint_history(painter: QPainter, area: QRectF, view: TileView, scheme: Scheme) -> None:
    """Paint the grades so far as a step line with 10 at the top; it breaks where the coupon was not graded."""
    ground = QRectF(area)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(ground, 3, 3)
    if not view.history:
        return
    inner = area.adjusted(4, 3, -4, -3)
    first_day = min(0.0, view.history[0][0])
    span = max(view.last_day - first_day, 1e-9)
    paint_steps(painter, QRectF(inner), view.history, first=first_day, span=span, scheme=scheme, line=1.4, dot=2.2)


def _paint_age(painter: QPainter, area: QRectF, age: str, scheme: Scheme, font: QFont) -> None:
    """Say of which day an older picture is, at its upper corner: it does not show the coupon now."""
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * 0.85)
    metrics = QFontMetricsF(small)
    size = metrics.size(0, age)
    tag = QRectF(area.left(), area.top(), size.width() + 6, size.height() + 1)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(tag, 3, 3)
    painter.setFont(small)
    painter.setPen(QColor(scheme.text))
    painter.drawText(tag, Qt.AlignmentFlag.AlignCenter, age)
    painter.setFont(font)


def _paint_left_out(painter: QPainter, area: QRectF, scheme: Scheme, font: QFont) -> None:
    """Say at the lower corner of the picture that the findings do without this coupon: a sign, and words if they fit.

    The reason is in the tool tip.
    """
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * 0.85)
    metrics = QFontMetricsF(small)
    words = QCoreApplication.translate("tile", "left out")
    side, wide = metrics.height(), metrics.horizontalAdvance(words)
    fits = side + wide + 10 <= area.width()
    tag = QRectF(0, 0, side + 4 + (wide + 6 if fits else 0), side + 4)
    tag.moveBottomLeft(area.bottomLeft())
    painter.setPen(QPen(QColor(scheme.text), scheme.line_width))
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(tag, 4, 4)
    sign = QRectF(tag.left() + 2, tag.top() + 2, side, side).adjusted(2, 2, -2, -2)
    painter.setPen(QPen(QColor(scheme.text), side * 0.1))  # as thick as letters are, whatever lines the scheme has
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawEllipse(sign)
    reach = sign.width() / 2 * 0.7071  # of a line at 45 degrees, from the middle to the circle
    middle = sign.center()
    painter.drawLine(middle + QPointF(-reach, reach), middle + QPointF(reach, -reach))
    if fits:
        painter.setFont(small)
        painter.setPen(QColor(scheme.text))
        painter.drawText(tag.adjusted(side + 4, 0, -4, 0), Qt.AlignmentFlag.AlignCenter, words)
        painter.setFont(font)


def _paint_text(painter: QPainter, area: QRectF, view: TileView, scheme: Scheme, font: QFont) -> None:
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    metrics = QFontMetricsF(bold)
    lines = max(2, round(area.height() / (metrics.height() * 1.05)))
    first = QRectF(area.left(), area.top(), area.width(), area.height() / lines)
    second = QRectF(area.left(), first.bottom(), area.width(), area.height() / lines)
    left = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
    painter.setPen(QColor(scheme.text))
    painter.setFont(bold)
    mark = QCoreApplication.translate("tile", "control") if view.is_control else ""
    mark_width = QFontMetricsF(font).horizontalAdvance(mark) + 8 if mark else 0.0
    room = area.width() - mark_width
    if room < area.width() * 0.45 and metrics.horizontalAdvance(view.id[:200]) > room:
        mark, room = "", area.width()
    painter.drawText(
        QRectF(first.left(), first.top(), room, first.height()), left, short_line(view.id, metrics, room)
    )
    painter.setFont(font)
    painter.setPen(QColor(scheme.muted))
    if mark:
        painter.drawText(first, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, mark)
    for text in short_lines(view.treatment, QFontMetricsF(font), area.width(), lines - 1):
        painter.drawText(second, left, text)
        second.translate(0, second.height())


def _paint_chip(painter: QPainter, chip: QRectF, view: TileView, scheme: Scheme, font: QFont) -> None:
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    if view.grading is not None:
        bold.setPointSizeF(font.pointSizeF() * 1.2)
        painter.setFont(bold)
        painter.setPen(QPen(QColor(scheme.base), 1.5))
        painter.setBrush(grade_colour(view.grading.grade))
        painter.drawRoundedRect(chip, 5, 5)
        painter.setPen(grade_ink(view.grading.grade))
        painter.drawText(chip, Qt.AlignmentFlag.AlignCenter, written(view.grading.grade, view.grading.distribution))
        return
    pen = QPen(QColor(scheme.muted), max(1.2, scheme.line_width), Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(chip, 5, 5)
    painter.setPen(QColor(scheme.muted))
    if view.earlier is None:
        painter.drawText(chip, Qt.AlignmentFlag.AlignCenter, "–")
        return
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * 0.85)
    was = QCoreApplication.translate("tile", "was {0}").format(view.earlier.grade)
    wide = QFontMetricsF(small).horizontalAdvance(was)
    if wide > chip.width() - 4:
        small.setPointSizeF(small.pointSizeF() * (chip.width() - 4) / wide)
    painter.setFont(small)
    painter.drawText(chip, Qt.AlignmentFlag.AlignCenter, was)


def describe(view: TileView, position: str) -> str:
    """Return what a tile shows in words, for screen readers."""
    parts = [position, view.id, view.treatment]
    if view.is_control:
        parts.append(QCoreApplication.translate("tile", "control"))
    if view.grading is not None:
        grade = written(view.grading.grade, view.grading.distribution)
        parts.append(QCoreApplication.translate("tile", "grade {0}").format(grade))
        if view.measured is not None:
            parts.append(suggestion_text(view.measured))
    else:
        parts.append(QCoreApplication.translate("tile", "not graded at this inspection"))
        if view.earlier is not None:
            was = QCoreApplication.translate("tile", "grade {0} on {1}")
            parts.append(was.format(view.earlier.grade, day_text(view.earlier_day)))
    if view.damages:
        parts.append(QCoreApplication.translate("tile", "damage: {0}").format(noted_text(view.damages)))
    if view.left_out:
        parts.append(QCoreApplication.translate("tile", "left out of the findings: {0}").format(view.left_out))
    return ", ".join(each for each in parts if each)
