"""The coupons on which graders differ, widest first: picture, what it is, who gave what, and what counts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QPersistentModelIndex,
    QPointF,
    QRectF,
    QSize,
    Qt,
    Signal,
    Slot,
)
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QKeyEvent, QPainter, QPen
from PySide6.QtWidgets import QAbstractItemView, QListView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from rustboard.session.agreement import Differing, Given
from rustboard.ui.agreement.agreement_words import say, short_name
from rustboard.ui.agreement.coupon_thumbs import CouponThumbs
from rustboard.ui.agreement.grade_chip import chip_width, paint_chip
from rustboard.ui.theme import Scheme, px_of_mm
from rustboard.ui.wording import tool_tip

LETTERS = "SGPH"
DIGITS = "0123456789T"
_LEAST_MM = 13.0
_GAP, _AFTER_NAME = 9.0, 4.0
_THEN = " › "
_LEAST_LETTERS = 4
_DAY_ROLE = Qt.ItemDataRole.UserRole
_Index = QModelIndex | QPersistentModelIndex


class Row(NamedTuple):
    """One coupon of the list.

    Attributes:
        title: position, id, treatment. day: of the inspection where there are several, else empty.
        given: who gave what, in words. counts: which grade counts and by which rule.
    """

    differing: Differing
    title: str
    day: str
    given: str
    counts: str

    @property
    def subject(self) -> tuple[int, int]:
        """Keys of the coupon and the inspection."""
        return self.differing.coupon, self.differing.inspection

    def words(self) -> str:
        """Return all of it in words."""
        return ". ".join(each for each in (self.title, self.day, self.given, self.counts) if each)


class _Rows(QAbstractListModel):
    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.rows: list[Row] = []

    def show_rows(self, rows: Sequence[Row]) -> bool:
        """Show other rows; return False when they are the same coupons, which stay where they are in the view."""
        same = [each.subject for each in rows] == [each.subject for each in self.rows]
        if not same:
            self.beginResetModel()
        self.rows = list(rows)
        if not same:
            self.endResetModel()
        elif rows:
            self.dataChanged.emit(self.index(0), self.index(len(rows) - 1))
        return not same

    def rowCount(self, parent: _Index | None = None) -> int:
        return 0 if parent is not None and parent.isValid() else len(self.rows)

    def data(self, index: _Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid() or index.row() >= len(self.rows):
            return None
        row = self.rows[index.row()]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.AccessibleTextRole):
            return row.words()
        if role == _DAY_ROLE:
            return row.day
        return tool_tip(row.words()) if role == Qt.ItemDataRole.ToolTipRole else None


class _RowPainter(QStyledItemDelegate):
    def __init__(self, thumbs: CouponThumbs, scheme: Scheme, view: QListView) -> None:
        super().__init__(view)
        self._thumbs, self._view = thumbs, view
        self.scheme = scheme

    def sizeHint(self, option: QStyleOptionViewItem, index: _Index) -> QSize:
        line = QFontMetricsF(self._view.font()).height()
        height = max(px_of_mm(self._view, _LEAST_MM), round(line * 3.7) + 10)
        return QSize(160, height + round(line * 1.2) * bool(self._view.model().data(index, _DAY_ROLE)))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: _Index) -> None:
        row = self._view.model().rows[index.row()]  # type: ignore[attr-defined] # it is ours
        area = QRectF(option.rect)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        painter.setRenderHints(QPainter.RenderHint.Antialiasing | QPainter.RenderHint.SmoothPixmapTransform)
        if chosen:
            painter.fillRect(area, QColor(self.scheme.tile))
            painter.fillRect(QRectF(area.left(), area.top(), 4, area.height()), QColor(self.scheme.accent))
        painter.setPen(QPen(QColor(self.scheme.line), 1))
        painter.drawLine(area.bottomLeft(), area.bottomRight())
        inside = area.adjusted(9, 4, -6, -5)
        picture = QRectF(inside.left(), inside.top(), inside.height() * 0.8, inside.height())
        self._paint_picture(painter, picture, row.differing)
        self._paint_texts(painter, inside.adjusted(picture.width() + 8, 0, 0, 0), row)
        painter.restore()

    def _paint_picture(self, painter: QPainter, area: QRectF, differing: Differing) -> None:
        image = self._thumbs.image(differing.coupon, differing.inspection)
        if image is None:
            painter.setPen(QPen(QColor(self.scheme.line), 1, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(area.adjusted(6, 3, -6, -3))
            return
        size = image.size().toSizeF().scaled(area.size(), Qt.AspectRatioMode.KeepAspectRatio)
        target = QRectF(QPointF(), size)
        target.moveCenter(area.center())
        painter.drawImage(target, image)

    def _paint_texts(self, painter: QPainter, area: QRectF, row: Row) -> None:
        font = QFont(self._view.font())
        bold = QFont(font)
        bold.setWeight(QFont.Weight.DemiBold)
        count = 4 if row.day else 3
        line = area.height() / count
        lines = [QRectF(area.left(), area.top() + line * at, area.width(), line) for at in range(count)]
        self._paint_line(painter, lines[0], bold, self.scheme.text, row.title)
        self._paint_grades(painter, lines[1], font, row.differing)
        for at, text in enumerate((row.counts, row.day)[: count - 2], start=2):
            self._paint_line(painter, lines[at], font, self.scheme.muted, text)

    def _paint_line(self, painter: QPainter, area: QRectF, font: QFont, colour: str, text: str) -> None:
        painter.setFont(font)
        painter.setPen(QColor(colour))
        shown = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, area.width())
        painter.drawText(area, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)

    def _paint_grades(self, painter: QPainter, area: QRectF, font: QFont, differing: Differing) -> None:
        parts = [(short_name(each.grader), _shown_grades(each)) for each in differing.given]
        if differing.photo is not None:
            parts.append((say("photo"), (differing.photo,)))
        metrics, chip = QFontMetricsF(font), chip_width(font)
        arrow = metrics.horizontalAdvance(_THEN)
        chips = [len(grades) * chip + (len(grades) - 1) * arrow for _, grades in parts]
        names = [metrics.horizontalAdvance(name) for name, _ in parts]
        widest = _even_cut(names, area.width() - sum(chips) - len(parts) * (_GAP + _AFTER_NAME) + _GAP)
        left = area.left()
        for (name, grades), taken in zip(parts, chips, strict=True):
            if left + taken > area.right() + 1:
                break  # all of them stand in the tool tip and beside the list
            if widest > metrics.averageCharWidth() * _LEAST_LETTERS:
                shown = metrics.elidedText(name, Qt.TextElideMode.ElideRight, widest + 0.5)
                self._paint_line(painter, area.adjusted(left - area.left(), 0, 0, 0), font, self.scheme.text, shown)
                left += metrics.horizontalAdvance(shown) + _AFTER_NAME
            for number, grade in enumerate(grades):
                if number:
                    then = QRectF(left, area.top(), arrow + 1, area.height())
                    self._paint_line(painter, then, font, self.scheme.text, _THEN)
                    left += arrow
                left = paint_chip(painter, font, left, area.center().y(), grade)
            left += _GAP


def _shown_grades(given: Given) -> tuple[int, ...]:
    return (given.grade,) if given.again in (None, given.grade) else (given.grade, given.again or 0)


def _even_cut(widths: Sequence[float], room: float) -> float:
    """Return how wide a name may be so that all of them have room: the longest are cut first."""
    left = room
    for count, wide in zip(range(len(widths), 0, -1), sorted(widths), strict=True):
        if wide * count > left:
            return max(left / count, 0.0)
        left -= wide
    return max(widths, default=0.0)


class DifferingList(QListView):
    """The list; digits and letters typed in it are left to whoever agrees on grades.

    Signals:
        row_chosen(int): the number of a row.
    """

    row_chosen = Signal(int)

    def __init__(self, thumbs: CouponThumbs, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._rows = _Rows(self)
        self._painter = _RowPainter(thumbs, scheme, self)
        self.setModel(self._rows)
        self.setItemDelegate(self._painter)
        self.setUniformItemSizes(True)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(self.tr("Coupons they differ on, widest first"))

    @Slot()
    def paint_again(self) -> None:
        """Show small pictures that have come meanwhile."""
        self.viewport().update()

    def rows(self) -> list[Row]:
        """Return the rows shown."""
        return self._rows.rows

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show other rows; the coupon that was chosen stays so where it is still there."""
        before = self.row()
        if not self._rows.show_rows(rows):
            self.row_chosen.emit(self.currentIndex().row())
            return
        keys = [each.subject for each in rows]
        at = keys.index(before.subject) if before is not None and before.subject in keys else 0
        if rows:
            self.setCurrentIndex(self._rows.index(at))
        else:
            self.row_chosen.emit(-1)

    def row(self) -> Row | None:
        """Return the chosen row, or None."""
        at = self.currentIndex().row()
        return self._rows.rows[at] if 0 <= at < len(self._rows.rows) else None

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._painter.scheme = scheme
        self.viewport().update()

    def currentChanged(self, current: _Index, previous: _Index) -> None:
        """Tell of the row that the keyboard or a finger chose."""
        super().currentChanged(current, previous)
        if current.isValid():
            self.row_chosen.emit(current.row())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave digits and letters to the pane around the list, which would otherwise be searched for."""
        if len(event.text()) == 1 and event.text().upper() in DIGITS + LETTERS:
            event.ignore()
            return
        super().keyPressEvent(event)
