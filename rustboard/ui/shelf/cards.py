"""The cards as a list that keyboard, mouse, touch and screen readers can use."""

from __future__ import annotations

import html
from collections import OrderedDict
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QObject,
    QPersistentModelIndex,
    QPoint,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import QFont, QImage, QInputDevice, QMouseEvent, QPainter, QPalette
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QFrame,
    QListView,
    QScroller,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QWidget,
)

from rustboard.session.shelf import ShelfEntry
from rustboard.ui.shelf import card_text
from rustboard.ui.shelf.card_painter import CardState, card_size, paint_card
from rustboard.ui.theme import Scheme

Index = QModelIndex | QPersistentModelIndex

MOST_PICTURES: Final = 60
"""Pictures kept in memory: more than any window shows at once."""


class ShelfModel(QAbstractListModel):
    """The boards, and the pictures of those that were looked at."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Start with no boards."""
        super().__init__(parent)
        self._entries: list[ShelfEntry] = []
        self._pictures: OrderedDict[object, QImage] = OrderedDict()

    def set_entries(self, entries: Sequence[ShelfEntry]) -> None:
        """Show other boards."""
        self.beginResetModel()
        self._entries = list(entries)
        self.endResetModel()

    def entry(self, index: Index) -> ShelfEntry | None:
        """Return the board at an index, or None."""
        return self._entries[index.row()] if index.isValid() and index.row() < len(self._entries) else None

    def index_of(self, folder: Path | None) -> QModelIndex:
        """Return where a board is, or an index that is not valid."""
        for row, each in enumerate(self._entries):
            if each.folder == folder:
                return self.index(row)
        return QModelIndex()

    def picture(self, entry: ShelfEntry) -> QImage | None:
        """Return a board's picture (a null image where it has none), or None when it was not brought yet."""
        key = _shown_by(entry)
        if key in self._pictures:
            self._pictures.move_to_end(key)
        return self._pictures.get(key)

    def set_picture(self, entry: ShelfEntry, picture: QImage) -> None:
        """Keep a board's picture and show it."""
        self._pictures[_shown_by(entry)] = picture
        while len(self._pictures) > MOST_PICTURES:
            self._pictures.popitem(last=False)
        index = self.index_of(entry.folder)
        if index.isValid():
            self.dataChanged.emit(index, index, [Qt.ItemDataRole.DecorationRole])

    def rowCount(self, parent: Index | None = None) -> int:
        """Return how many boards there are."""
        return 0 if parent is not None and parent.isValid() else len(self._entries)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        """Return the name, the words for screen readers, or the hint."""
        entry = self.entry(index)
        if entry is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return card_text.title(entry)
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return card_text.describe(entry)
        if role == Qt.ItemDataRole.ToolTipRole:
            # A name from a stranger is no place for markup; as a paragraph, long ones are wrapped.
            return "<p>" + html.escape(card_text.hint(entry)[:1_500]).replace("\n", "<br>") + "</p>"
        return None


def _shown_by(entry: ShelfEntry) -> object:
    return (entry.folder, entry.photo, entry.width_mm, entry.height_mm)


class CardDelegate(QStyledItemDelegate):
    """Paints the cards."""

    def __init__(self, model: ShelfModel, scheme: Scheme, parent: QObject | None = None) -> None:
        """Paint boards of a model in the colours of a scheme."""
        super().__init__(parent)
        self._model = model
        self.scheme = scheme

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        """Return the size of every card."""
        return card_size(_font_of(option))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        """Paint one card."""
        entry = self._model.entry(index)
        if entry is None:
            return
        flags: QStyle.StateFlag = option.state
        state = CardState(
            chosen=bool(flags & QStyle.StateFlag.State_Selected),
            hovered=bool(flags & QStyle.StateFlag.State_MouseOver),
            focused=bool(flags & QStyle.StateFlag.State_HasFocus),
        )
        area = QRectF(option.rect)
        paint_card(painter, area, entry, self._model.picture(entry), state, self.scheme, _font_of(option))


def _font_of(option: QStyleOptionViewItem) -> QFont:
    return QFont(option.font)


class CardView(QListView):
    """The cards side by side, as many as there is room for.

    Signals:
        opened(QModelIndex): a finger tapped a card. (Enter and double click give ``activated``.)
    """

    opened = Signal(QModelIndex)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Set the view up for cards."""
        super().__init__(parent)
        self.setViewMode(QListView.ViewMode.IconMode)
        self.setMovement(QListView.Movement.Static)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setUniformItemSizes(True)
        self.setSpacing(6)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setSelectionRectVisible(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.viewport().setBackgroundRole(QPalette.ColorRole.Window)
        self.setMouseTracking(True)
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.setTabKeyNavigation(False)
        self.verticalScrollBar().setSingleStep(30)
        self._finger: QPoint | None = None
        QScroller.grabGesture(self.viewport(), QScroller.ScrollerGestureType.TouchGesture)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Leave a finger to the scroller until it is lifted."""
        if _by_finger(event):
            self._finger = event.position().toPoint()
            event.accept()
        else:
            super().mousePressEvent(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Forget a finger that wanders: it scrolls, it does not tap."""
        if not _by_finger(event):
            super().mouseMoveEvent(event)
        elif self._finger is not None:
            way = (event.position().toPoint() - self._finger).manhattanLength()
            if way > QApplication.startDragDistance():
                self._finger = None

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Open what a finger tapped."""
        if not _by_finger(event):
            super().mouseReleaseEvent(event)
            return
        place, self._finger = self._finger, None
        index = self.indexAt(place) if place is not None else QModelIndex()
        if index.isValid():
            self.setCurrentIndex(index)
            self.opened.emit(index)


def _by_finger(event: QMouseEvent) -> bool:
    return event.pointingDevice().type() == QInputDevice.DeviceType.TouchScreen
