"""The grid of a table of figures: its keys, and the order that a person sorts its rows into."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence
from PySide6.QtWidgets import QTableWidget, QWidget

Sortable = float | str | None
"""What a cell is sorted by: a number, a text, or None where it holds nothing."""

_ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_SORT_KEYS: Final = {Qt.Key.Key_Up: False, Qt.Key.Key_Down: True}


class FiguresGrid(QTableWidget):
    """A table that tells of its keys.

    Signals:
        copy_asked(): the rows are to be copied. opened(): the chosen row was double clicked, or Enter pressed on it.
        sort_asked(bool): the rows are to be sorted by the chosen column, downward if true.
    """

    copy_asked = Signal()
    opened = Signal()
    sort_asked = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(0, 0, parent)
        self._wire()

    def _wire(self) -> None:
        self.doubleClicked.connect(self.opened)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Copy, open the row, or sort with Alt and an arrow; else what any table does."""
        alt = event.modifiers() & ~Qt.KeyboardModifier.KeypadModifier == Qt.KeyboardModifier.AltModifier
        key = Qt.Key(event.key())
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_asked.emit()
        elif key in _ENTER:
            self.opened.emit()
        elif alt and key in _SORT_KEYS:
            self.sort_asked.emit(_SORT_KEYS[key])
        else:
            super().keyPressEvent(event)


def sorted_places(values: Sequence[Sortable], *, downward: bool) -> list[int]:
    """Return in which order rows stand; rows without a value stand last either way, equal ones stay as they were."""
    there = [at for at, each in enumerate(values) if each is not None]
    missing = [at for at, each in enumerate(values) if each is None]
    return [*sorted(there, key=lambda at: _sort_key(values[at]), reverse=downward), *missing]


def _sort_key(value: Sortable) -> tuple[tuple[int, float, str], ...]:
    """Return what sorts as people count: C2 before C10, numbers before texts."""
    if not isinstance(value, str):
        return ((0, float(value or 0.0), ""),)
    parts = re.findall(r"[0-9]{1,15}|[^0-9]+|[0-9]+", value.casefold())
    return tuple((0, float(each), "") if re.fullmatch("[0-9]{1,15}", each) else (1, 0.0, each) for each in parts)
