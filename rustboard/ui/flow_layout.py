"""A layout that puts widgets in a line and goes on in the next line when there is no more room."""

from __future__ import annotations

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget


class FlowLayout(QLayout):
    """Lines of widgets, each as wide as it likes; one that expands takes what is left of its line."""

    def __init__(self, parent: QWidget | None = None, spacing: int = 4) -> None:
        """Start empty, without margins."""
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self.setContentsMargins(QMargins(0, 0, 0, 0))
        self.setSpacing(spacing)

    def addItem(self, item: QLayoutItem) -> None:
        """Take an item over."""
        self._items.append(item)

    def count(self) -> int:
        """Return the number of items."""
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        """Return an item, or None past the end."""
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        """Give an item away, or None past the end."""
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        """Return that the layout takes no more than it needs."""
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        """Return that the height depends on the width."""
        return True

    def heightForWidth(self, width: int) -> int:
        """Return the height of the lines at a width."""
        return self._arrange(QRect(0, 0, width, 0), move=False)

    def sizeHint(self) -> QSize:
        """Return the size of everything in one line."""
        hints = [each.sizeHint() for each in self._items]
        width = sum(each.width() for each in hints) + self.spacing() * max(0, len(hints) - 1)
        return QSize(width, max((each.height() for each in hints), default=0))

    def minimumSize(self) -> QSize:
        """Return the size of the largest widget."""
        sizes = [each.minimumSize() for each in self._items]
        return QSize(
            max((each.width() for each in sizes), default=0), max((each.height() for each in sizes), default=0)
        )

    def setGeometry(self, rect: QRect) -> None:
        """Put every widget in its place."""
        super().setGeometry(rect)
        self._arrange(rect, move=True)

    def _arrange(self, rect: QRect, *, move: bool) -> int:
        """Break the items into lines inside ``rect``; return the height they take."""
        top = rect.top()
        for line in self._lines(rect.width()):
            height = max(each.sizeHint().height() for each in line)
            if move:
                self._place(line, QRect(rect.left(), top, rect.width(), height))
            top += height + self.spacing()
        return max(0, top - self.spacing() - rect.top())

    def _lines(self, width: int) -> list[list[QLayoutItem]]:
        lines: list[list[QLayoutItem]] = []
        left = 0
        for item in self._items:
            if _is_put_away(item):
                continue
            wanted = item.sizeHint().width()
            if not lines or left + wanted > width:
                lines.append([])
                left = 0
            lines[-1].append(item)
            left += wanted + self.spacing()
        return lines

    def _place(self, line: list[QLayoutItem], area: QRect) -> None:
        used = sum(each.sizeHint().width() for each in line) + self.spacing() * (len(line) - 1)
        growing = [each for each in line if _grows(each)]
        extra = max(0, area.width() - used) // len(growing) if growing else 0
        left = area.left()
        for item in line:
            size = item.sizeHint()
            width = min(size.width() + (extra if item in growing else 0), area.width())
            item.setGeometry(
                QRect(QPoint(left, area.top() + (area.height() - size.height()) // 2), QSize(width, size.height()))
            )
            left += width + self.spacing()


def _is_put_away(item: QLayoutItem) -> bool:
    """Return whether a widget was hidden on purpose; one only not shown yet, or that keeps its room, takes it."""
    widget = item.widget()
    return (
        widget is not None
        and widget.isHidden()
        and not widget.sizePolicy().retainSizeWhenHidden()
        and widget.testAttribute(Qt.WidgetAttribute.WA_WState_ExplicitShowHide)
    )


def _grows(item: QLayoutItem) -> bool:
    widget = item.widget()
    return widget is not None and widget.sizePolicy().horizontalPolicy() == QSizePolicy.Policy.Expanding


def flowing(*widgets: QWidget, spacing: int = 4) -> QWidget:
    """Return a widget with these in a line, or in several where there is no room."""
    holder = QWidget()
    layout = FlowLayout(holder, spacing)
    for each in widgets:
        layout.addWidget(each)
    return holder
