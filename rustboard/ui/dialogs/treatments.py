"""The treatments of a board, to add, edit and remove."""

from __future__ import annotations

from collections import Counter
from typing import Final

from PySide6.QtCore import QEvent, QModelIndex, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from rustboard.board.record import BoardRecord
from rustboard.support.text import printable
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.table import TableDialog

_ACTION: Final = QDialogButtonBox.ButtonRole.ActionRole


class TreatmentsDialog(TableDialog):
    """The list of treatments. It changes nothing itself: whoever shows it does, and calls `refresh`.

    Signals:
        add_asked(): a new treatment.
        edit_asked(int): edit the treatment with this key.
        remove_asked(int): remove the treatment with this key.
    """

    add_asked = Signal()
    edit_asked = Signal(int)
    remove_asked = Signal(int)

    def __init__(self, record: BoardRecord, parent: QWidget | None = None) -> None:
        """Show a board's treatments."""
        super().__init__(parent)
        headers = [self.tr("Id"), self.tr("Name"), self.tr("Family"), self.tr("Coupons")]
        self.describe(self.tr("Treatments"), headers, wide=1)
        self.problem = ProblemLine()
        self.column.insertWidget(1, self.problem)
        self._add = self.buttons.addButton(self.tr("&Add…"), _ACTION)
        self._edit = self.buttons.addButton(self.tr("&Edit…"), _ACTION)
        self._remove = self.buttons.addButton(self.tr("&Remove"), _ACTION)
        for each in (self._add, self._edit, self._remove):
            each.setAutoDefault(False)
        self._keys: list[int] = []
        self._names: dict[int, str] = {}
        self._users: Counter[int | None] = Counter()
        self._wire()
        self.refresh(record)

    def _wire(self) -> None:
        self._add.clicked.connect(self._ask_add)
        self._edit.clicked.connect(self._ask_edit)
        self._remove.clicked.connect(self._ask_remove)
        self.table.doubleClicked.connect(self._ask_edit_of)
        self.table.itemSelectionChanged.connect(self._follow_choice)
        self.table.installEventFilter(self)

    def refresh(self, record: BoardRecord) -> None:
        """Show the treatments as they are now; the same one stays chosen."""
        chosen = self.chosen()
        known = set(self._keys)
        self._keys = list(record.treatments)
        self._names = {key: printable(each.title) for key, each in record.treatments.items()}
        self._users = Counter(each.treatment for each in record.coupons.values())
        self.show_rows(
            [(each.id, each.name, each.family, str(self._users[key])) for key, each in record.treatments.items()]
        )
        new = [key for key in self._keys if key not in known] if known else []
        wanted = new[-1] if new else chosen
        if self._keys:
            self.table.selectRow(self._keys.index(wanted) if wanted in self._keys else 0)
        self.problem.say("")
        self._follow_choice()

    def chosen(self) -> int | None:
        """Return the key of the chosen treatment, or None."""
        rows = self.table.selectionModel().selectedRows()
        return self._keys[rows[0].row()] if rows and rows[0].row() < len(self._keys) else None

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
        self.problem.say("")

    @Slot()
    def _ask_add(self) -> None:
        self.problem.say("")
        self.add_asked.emit()

    @Slot()
    def _ask_edit(self) -> None:
        key = self.chosen()
        self.problem.say("")
        if key is not None:
            self.edit_asked.emit(key)

    @Slot(QModelIndex)
    def _ask_edit_of(self, index: QModelIndex) -> None:
        if index.isValid():
            self._ask_edit()

    @Slot()
    def _ask_remove(self) -> None:
        key = self.chosen()
        if key is None:
            return
        if self._users[key]:
            name = self._names[key][:60]
            sentence = self.tr("{0} is on {1} coupons; give them another treatment first.")
            if self._users[key] == 1:
                sentence = self.tr("{0} is on a coupon; give it another treatment first.")
            self.problem.say(sentence.format(name, self._users[key]))
        else:
            self.problem.say("")
            self.remove_asked.emit(key)
