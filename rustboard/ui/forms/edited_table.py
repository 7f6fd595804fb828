"""A table whose lines are added, edited and removed, by buttons and by keys."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QEvent, QModelIndex, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.table import TableDialog

_ACTION: Final = QDialogButtonBox.ButtonRole.ActionRole


class EditedTableDialog(TableDialog):
    """It changes nothing itself: whoever shows it does, and has it show the lines again.

    Signals:
        add_asked(): a new line.
        edit_asked(int): edit the line with this key.
        remove_asked(int): remove the line with this key.

    Attributes:
        problem: the sentence for what was refused. keys: of the lines, from above.
    """

    add_asked = Signal()
    edit_asked = Signal(int)
    remove_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None, *, editable: bool = True) -> None:
        """Build an empty table; without ``editable`` it is only looked at."""
        super().__init__(parent)
        self.editable = editable
        self.keys: list[int] = []
        self.problem = ProblemLine()
        self.column.insertWidget(1, self.problem)
        self._add = self.buttons.addButton(self.tr("&Add…"), _ACTION)
        self._edit = self.buttons.addButton(self.tr("&Edit…"), _ACTION)
        self._remove = self.buttons.addButton(self.tr("&Remove"), _ACTION)
        for each in (self._add, self._edit, self._remove):
            each.setAutoDefault(False)
            each.setVisible(editable)
        self._wire_editing()

    def _wire_editing(self) -> None:
        self._add.clicked.connect(self._ask_add)
        self._edit.clicked.connect(self._ask_edit)
        self._remove.clicked.connect(self._ask_remove)
        self.table.doubleClicked.connect(self._ask_edit_of)
        self.table.itemSelectionChanged.connect(self._follow_choice)
        self.table.installEventFilter(self)

    def show_lines(self, keys: Sequence[int], rows: Sequence[Sequence[str]]) -> None:
        """Show other lines, each with its key; the same one stays chosen, or a new one is."""
        chosen, known = self.chosen(), set(self.keys)
        self.keys = list(keys)
        self.show_rows(rows)
        wanted = max((key for key in keys if known and key not in known), default=chosen)
        if self.keys:
            self.table.selectRow(self.keys.index(wanted) if wanted in self.keys else 0)
        self.problem.say("")
        self._follow_choice()

    def chosen(self) -> int | None:
        """Return the key of the chosen line, or None."""
        rows = self.table.selectionModel().selectedRows()
        return self.keys[rows[0].row()] if rows and rows[0].row() < len(self.keys) else None

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Give the table its keys: Enter edits, Delete removes, Insert adds."""
        if watched is self.table and event.type() == QEvent.Type.KeyPress and isinstance(event, QKeyEvent):
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._ask_edit()
            elif event.key() == Qt.Key.Key_Delete:
                self._ask_remove()
            elif event.key() == Qt.Key.Key_Insert:
                self._ask_add()
            else:
                return super().eventFilter(watched, event)
            return True
        return super().eventFilter(watched, event)

    @Slot()
    def _follow_choice(self) -> None:
        there = self.chosen() is not None
        self._edit.setEnabled(there)
        self._remove.setEnabled(there)

    @Slot()
    def _ask_add(self) -> None:
        self.problem.say("")
        if self.editable:
            self.add_asked.emit()

    @Slot()
    def _ask_edit(self) -> None:
        key = self.chosen()
        self.problem.say("")
        if key is not None and self.editable:
            self.edit_asked.emit(key)

    @Slot(QModelIndex)
    def _ask_edit_of(self, index: QModelIndex) -> None:
        if index.isValid():
            self._ask_edit()

    @Slot()
    def _ask_remove(self) -> None:
        key = self.chosen()
        self.problem.say("")
        if key is not None and self.editable and self.may_remove(key):
            self.remove_asked.emit(key)

    def may_remove(self, key: int) -> bool:
        """Return whether a line can be removed; say why where it cannot."""
        return True
