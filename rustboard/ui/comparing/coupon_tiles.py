"""Painting a cell: the coupons of one treatment on one board as small tiles in rows, and a note under them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter, QPen

from rustboard.board.model import Outline
from rustboard.session.comparing import CellThen, CouponThen
from rustboard.support.text import printable
from rustboard.ui.comparing.comparing_words import DASH
from rustboard.ui.outline import outline_path
from rustboard.ui.small_history import paint_steps
from rustboard.ui.theme import Scheme, grade_colour, grade_ink

_GAP = 6.0
_ROUND = 5.0
MOST_TILES = 24
"""More coupons of one treatment on one board are told by number."""


@dataclass(frozen=True)
class CellView:
    """What a cell shows.

    Attributes:
        cell: the coupons. note: what stands under them. words: the whole of it in sentences.
        outlines: by key of coupon. pictures: the same, where they were cut. furthest: right end of the histories.
    """

    cell: CellThen
    note: str
    words: str
    outlines: Mapping[int, Outline] = field(default_factory=dict)
    pictures: Mapping[int, QImage] = field(default_factory=dict)
    furthest: float = 1.0


def tile_size(font: QFont) -> tuple[float, float]:
    """Return width and height of a tile in px."""
    line = QFontMetricsF(font).height()
    return line * 3.9, line * 5.2


def wanted_height(count: int, width: float, font: QFont) -> int:
    """Return the height of a cell with so many coupons in a column of this width."""
    wide, high = tile_size(font)
    line = QFontMetricsF(font).height()
    shown = min(count, MOST_TILES)
    lines = -(-shown // _in_a_line(width, wide)) if shown else 0
    return round(lines * (high + _GAP) + line + _GAP + 4)


def _in_a_line(width: float, wide: float) -> int:
    return max(1, int((width - _GAP) // (wide + _GAP)))


def tile_rects(area: QRectF, count: int, font: QFont) -> list[QRectF]:
    """Return where the tiles of a cell go."""
    wide, high = tile_size(font)
    line = _in_a_line(area.width(), wide)
    left, top = area.left() + _GAP, area.top() + _GAP
    return [
        QRectF(left + (at % line) * (wide + _GAP), top + (at // line) * (high + _GAP), wide, high)
        for at in range(min(count, MOST_TILES))
    ]


def paint_cell(painter: QPainter, area: QRectF, view: CellView, scheme: Scheme, font: QFont) -> None:
    """Paint the coupons of a cell and its note."""
    painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
    coupons = view.cell.coupons
    for tile, coupon in zip(tile_rects(area, len(coupons), font), coupons, strict=False):
        _paint_tile(painter, tile, coupon, view, scheme, font)
    metrics = QFontMetricsF(font)
    bottom = QRectF(
        area.left() + _GAP, area.bottom() - metrics.height() - 3, area.width() - 2 * _GAP, metrics.height()
    )
    painter.setFont(font)
    painter.setPen(QColor(scheme.muted))
    note = metrics.elidedText(view.note, Qt.TextElideMode.ElideRight, bottom.width())
    painter.drawText(bottom, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, note)


def _paint_tile(
    painter: QPainter, tile: QRectF, coupon: CouponThen, view: CellView, scheme: Scheme, font: QFont
) -> None:
    line = QFontMetricsF(font).height()
    painter.setPen(QPen(QColor(scheme.line), scheme.line_width))
    painter.setBrush(QColor(scheme.tile))
    painter.drawRoundedRect(tile.adjusted(0.5, 0.5, -0.5, -0.5), _ROUND, _ROUND)
    inner = tile.adjusted(4, 4, -4, -4)
    chip = QRectF(inner.right() - line * 1.35, inner.top(), line * 1.35, line * 1.35)
    text = QRectF(inner.left(), inner.bottom() - line, inner.width(), line)
    history = QRectF(inner.left(), text.top() - line * 0.95, inner.width(), line * 0.9)
    picture = QRectF(inner.left(), inner.top(), chip.left() - inner.left() - 2, history.top() - inner.top() - 3)
    _paint_coupon(painter, picture, coupon, view, scheme)
    _paint_history(painter, history, coupon, view.furthest, scheme)
    _paint_chip(painter, chip, coupon.grade, scheme, font)
    painter.setFont(font)
    painter.setPen(QColor(scheme.text))
    name = QFontMetricsF(font).elidedText(printable(coupon.id), Qt.TextElideMode.ElideRight, text.width())
    painter.drawText(text, Qt.AlignmentFlag.AlignCenter, name)


def _paint_coupon(painter: QPainter, area: QRectF, coupon: CouponThen, view: CellView, scheme: Scheme) -> None:
    picture = view.pictures.get(coupon.key)
    if picture is not None and coupon.grade is not None:
        size = picture.size().toSizeF().scaled(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        target = QRectF(QPointF(), size)
        target.moveCenter(area.center())
        painter.drawImage(target, picture)
        return
    painter.setPen(QPen(QColor(scheme.muted), scheme.line_width, _line(coupon)))
    painter.setBrush(QColor("#a8aeb4") if coupon.grade is not None else Qt.BrushStyle.NoBrush)
    painter.drawPath(outline_path(view.outlines.get(coupon.key, ()), area))


def _line(coupon: CouponThen) -> Qt.PenStyle:
    return Qt.PenStyle.SolidLine if coupon.grade is not None else Qt.PenStyle.DashLine


def _paint_chip(painter: QPainter, chip: QRectF, grade: int | None, scheme: Scheme, font: QFont) -> None:
    bold = QFont(font)
    bold.setWeight(QFont.Weight.Bold)
    painter.setFont(bold)
    if grade is None:
        painter.setPen(QPen(QColor(scheme.muted), scheme.line_width, Qt.PenStyle.DashLine))
        painter.setBrush(Qt.BrushStyle.NoBrush)
    else:
        painter.setPen(QPen(QColor(scheme.line), scheme.line_width))
        painter.setBrush(grade_colour(grade))
    painter.drawRoundedRect(chip, 3, 3)
    painter.setPen(QColor(scheme.muted) if grade is None else grade_ink(grade))
    painter.drawText(chip, Qt.AlignmentFlag.AlignCenter, DASH if grade is None else str(grade))


def _paint_history(painter: QPainter, area: QRectF, coupon: CouponThen, furthest: float, scheme: Scheme) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(scheme.base))
    painter.drawRoundedRect(area, 2, 2)
    inner = area.adjusted(3, 2, -3, -2)
    span = max(furthest, 1e-9)
    paint_steps(painter, inner, coupon.history, first=0.0, span=span, scheme=scheme, line=1.3, dot=2.0)
