"""The table of a plan file, with the cells that cannot be used marked by a sign, a colour and their sentences."""

from __future__ import annotations

from typing import Any, Final

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, QPointF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QPainter, QPixmap, QPolygonF

from rustboard.board.plan_preview import PlanPreview, PreviewCell
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import tool_tip

LEFT_OUT_SIGN: Final = "×"
MENDED_SIGN: Final = "!"
_SIGN_SIZE: Final = 16
_SHARPNESS: Final = 3.0
_NOWHERE: Final = QModelIndex()

Index = QModelIndex | QPersistentModelIndex


class PlanTableModel(QAbstractTableModel):
    """The cells of a preview; nothing is kept a cell, so thousands of rows cost no more than a few."""

    def __init__(self, preview: PlanPreview, scheme: Scheme) -> None:
        """Show a preview in the colours of a scheme."""
        super().__init__()
        self._preview = preview
        self._faults = preview.faults()
        self._whole_rows = {cell.row for cell in self._faults if cell.column is None}
        self._bad_rows = {cell.row for cell in self._faults}
        self._left_out = preview.rows_left_out
        self._ground, self._ink = QBrush(QColor(scheme.error)), QBrush(QColor(scheme.error_text))
        self._sign = warning_sign(scheme)

    def rowCount(self, parent: Index = _NOWHERE) -> int:
        """Return how many rows are shown."""
        return 0 if parent.isValid() else len(self._preview.rows)

    def columnCount(self, parent: Index = _NOWHERE) -> int:
        """Return how many columns are shown."""
        return 0 if parent.isValid() else len(self._preview.header)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return a cell's text, and its sign, colours and sentences where it cannot be used."""
        cell = PreviewCell(index.row(), index.column())
        text = self._preview.rows[cell.row][cell.column or 0]
        if role == Qt.ItemDataRole.DisplayRole:
            return text
        if not self.is_bad(cell):
            return None
        if role == Qt.ItemDataRole.BackgroundRole:
            return self._ground
        if role == Qt.ItemDataRole.ForegroundRole:
            return self._ink
        if role == Qt.ItemDataRole.DecorationRole:
            return self._sign if cell in self._faults or cell.column == 0 else None
        sentences = " ".join(self.sentences(cell))
        if role == Qt.ItemDataRole.ToolTipRole:
            return tool_tip(sentences)
        return f"{text}: {sentences}" if role == Qt.ItemDataRole.AccessibleTextRole else None

    def headerData(self, section: int, side: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the names of columns and rows as the file has them; a bad row's is bold, with a sign."""
        across = side == Qt.Orientation.Horizontal
        names = self._preview.header if across else self._preview.names
        bad = not across and section in self._bad_rows
        if role == Qt.ItemDataRole.DisplayRole:
            if not bad:
                return names[section]
            return f"{names[section]} {LEFT_OUT_SIGN if section in self._left_out else MENDED_SIGN}"
        if role == Qt.ItemDataRole.FontRole and bad:
            font = QFont()
            font.setBold(True)
            return font
        return None

    def is_bad(self, cell: PreviewCell) -> bool:
        """Return whether a cell, or the whole row it is in, cannot be used."""
        return cell.row in self._whole_rows or cell in self._faults

    def sentences(self, cell: PreviewCell) -> tuple[str, ...]:
        """Return what is wrong with a cell and with the row it is in."""
        return (*self._faults.get(cell, ()), *self._faults.get(PreviewCell(cell.row, None), ()))


def warning_sign(scheme: Scheme) -> QPixmap:
    """Return a triangle with an exclamation mark, drawn so that it is there whatever fonts are."""
    sign = QPixmap(round(_SIGN_SIZE * _SHARPNESS), round(_SIGN_SIZE * _SHARPNESS))
    sign.setDevicePixelRatio(_SHARPNESS)
    sign.fill(Qt.GlobalColor.transparent)
    painter = QPainter(sign)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(scheme.error))  # its own ground: on a chosen cell the sign would be hard to see
    painter.drawRoundedRect(0, 0, _SIGN_SIZE, _SIGN_SIZE, 3, 3)
    painter.setBrush(QColor(scheme.error_text))
    painter.drawPolygon(QPolygonF([QPointF(8, 1.5), QPointF(15, 14.5), QPointF(1, 14.5)]))
    painter.setBrush(QColor(scheme.error))
    painter.drawRect(7, 5, 2, 5)
    painter.drawRect(7, 11, 2, 2)
    painter.end()
    return sign
