"""The list of a recipe's steps: chosen, dragged, moved and removed by mouse and keyboard."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QDropEvent, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem, QWidget

from rustboard.board.recipe import RecipeStep
from rustboard.ui.recipe_wording import step_lines

_LEAST_LINES = 5
_MOST_LINES = 14


class StepList(QListWidget):
    """Shows steps; it changes nothing itself.

    Signals:
        chosen(int): the user went to a step, counted from 0.
        moved(int, int): a step was dragged from one place to another, both counted from 0.
        add_asked(): Insert was pressed.
        remove_asked(): Delete was pressed.
        up_asked(), down_asked(): Alt with an arrow was pressed.
    """

    chosen = Signal(int)
    moved = Signal(int, int)
    add_asked = Signal()
    remove_asked = Signal()
    up_asked = Signal()
    down_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Build an empty list."""
        super().__init__(parent)
        self.setAccessibleName(self.tr("Steps in order"))
        self.setAlternatingRowColors(True)
        self.setWordWrap(True)
        self.setSpacing(1)
        self.setTextElideMode(Qt.TextElideMode.ElideRight)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
        self.setDefaultDropAction(Qt.DropAction.MoveAction)
        self.setDragDropOverwriteMode(False)
        self._filling = False
        self._wire()

    def _wire(self) -> None:
        self.currentRowChanged.connect(self._tell_chosen)

    def show_steps(self, steps: Sequence[RecipeStep], current: int) -> None:
        """Show steps and choose one; nobody is told."""
        self._filling = True
        self.clear()
        for number, step in enumerate(steps, start=1):
            self.addItem(QListWidgetItem(step_lines(number, step)))
        self.setCurrentRow(current)
        self._filling = False
        self.updateGeometry()

    def show_step(self, row: int, step: RecipeStep) -> None:
        """Show one step anew."""
        item = self.item(row)
        if item is not None:
            item.setText(step_lines(row + 1, step))

    def dropEvent(self, event: QDropEvent) -> None:
        """Tell where a step was dropped; whoever holds the steps moves it."""
        start, height = self.currentRow(), event.position().y()
        middles = [self.visualItemRect(self.item(row)).center().y() for row in range(self.count())]
        above = sum(1 for row, middle in enumerate(middles) if middle < height and row != start)
        # Ignored, so that the list does not take the line out of its old place by itself.
        event.setDropAction(Qt.DropAction.IgnoreAction)
        event.accept()
        if 0 <= start != above:
            self.moved.emit(start, above)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Give the list its keys."""
        alt = bool(event.modifiers() & Qt.KeyboardModifier.AltModifier)
        if event.key() == Qt.Key.Key_Insert:
            self.add_asked.emit()
        elif event.key() == Qt.Key.Key_Delete:
            self.remove_asked.emit()
        elif alt and event.key() == Qt.Key.Key_Up:
            self.up_asked.emit()
        elif alt and event.key() == Qt.Key.Key_Down:
            self.down_asked.emit()
        else:
            super().keyPressEvent(event)

    def sizeHint(self) -> QSize:
        """Return room for the steps, for a few at least."""
        return QSize(super().sizeHint().width(), self._lines(min(max(2 * self.count(), _LEAST_LINES), _MOST_LINES)))

    def minimumSizeHint(self) -> QSize:
        """Return room for less."""
        return QSize(super().minimumSizeHint().width(), self._lines(_LEAST_LINES))

    @Slot(int)
    def _tell_chosen(self, row: int) -> None:
        if not self._filling and row >= 0:
            self.chosen.emit(row)

    def _lines(self, count: int) -> int:
        return round(self.fontMetrics().lineSpacing() * 1.35 * count) + 2 * self.frameWidth()
