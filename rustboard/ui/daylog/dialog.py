"""The day log as a list, to add, edit and remove entries."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import QEvent, QModelIndex, QObject, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialogButtonBox, QWidget

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.ui.daylog.wording import kind_meaning, kind_name, starts_anew
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.table import TableDialog
from rustboard.ui.wording import coupon_title, date_time

_ACTION: Final = QDialogButtonBox.ButtonRole.ActionRole


class DayLogDialog(TableDialog):
    """The list of disturbances. It changes nothing itself: whoever shows it does, and calls `refresh`.

    Signals:
        add_asked(): a new entry.
        edit_asked(int): edit the entry with this key.
        remove_asked(int): remove the entry with this key.

    Attributes:
        problem: the sentence for what was refused.
    """

    add_asked = Signal()
    edit_asked = Signal(int)
    remove_asked = Signal(int)

    def __init__(self, record: BoardRecord, parent: QWidget | None = None, *, read_only: bool = False) -> None:
        """Show a board's day log."""
        super().__init__(parent)
        headers = [self.tr("When"), self.tr("About"), self.tr("What happened"), self.tr("Note")]
        self.describe(self.tr("Day log"), headers, wide=3)
        self.problem = ProblemLine()
        self._words = words_label(muted=True, narrow=True)
        self.column.insertWidget(1, self._words)
        self.column.insertWidget(2, self.problem)
        self._add = self.buttons.addButton(self.tr("&Add…"), _ACTION)
        self._edit = self.buttons.addButton(self.tr("&Edit…"), _ACTION)
        self._remove = self.buttons.addButton(self.tr("&Remove"), _ACTION)
        self._read_only = read_only
        for each in (self._add, self._edit, self._remove):
            each.setAutoDefault(False)
            each.setVisible(not read_only)
        self._entries: list[Disturbance] = []
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
        """Show the log as it is now, newest first; the same entry stays chosen, or a new one is."""
        chosen = self.chosen()
        known = {each.key for each in self._entries}
        self._entries = sorted(record.disturbances.values(), key=lambda each: (each.at, each.key), reverse=True)
        self.show_rows([self._row(record, each) for each in self._entries])
        keys = [each.key for each in self._entries]
        new = [key for key in keys if key not in known] if known or chosen is None else []
        wanted = max(new, default=chosen) if known else chosen
        if keys:
            self.table.selectRow(keys.index(wanted) if wanted in keys else 0)
        self.problem.say("")
        self._follow_choice()

    def _row(self, record: BoardRecord, entry: Disturbance) -> tuple[str, str, str, str]:
        coupon = record.coupons.get(entry.coupon or 0)
        about = self.tr("the whole board") if coupon is None else coupon_title(record, coupon)
        return date_time(entry.at), about, kind_name(entry.kind), entry.note

    def chosen(self) -> int | None:
        """Return the key of the chosen entry, or None."""
        rows = self.table.selectionModel().selectedRows()
        return self._entries[rows[0].row()].key if rows and rows[0].row() < len(self._entries) else None

    def complain(self, sentence: str) -> None:
        """Show what was refused."""
        self.problem.say(sentence)

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
        key = self.chosen()
        entry = next((each for each in self._entries if each.key == key), None)
        self._edit.setEnabled(entry is not None)
        self._remove.setEnabled(entry is not None)
        if entry is not None:
            self._words.setText(kind_meaning(entry.kind))
        elif self._read_only:
            self._words.setText(self.tr("Nothing was noted."))
        else:
            self._words.setText(
                self.tr(
                    "Note here what happened between the inspections: debris cleared off, a coupon touched, cleaned "
                    "or replaced. After cleaning or replacing, measuring starts anew for that coupon."
                )
            )
        self._words.setProperty("muted", entry is None or not starts_anew(entry.kind))

    @Slot()
    def _ask_add(self) -> None:
        self.problem.say("")
        if not self._read_only:
            self.add_asked.emit()

    @Slot()
    def _ask_edit(self) -> None:
        key = self.chosen()
        self.problem.say("")
        if key is not None and not self._read_only:
            self.edit_asked.emit(key)

    @Slot(QModelIndex)
    def _ask_edit_of(self, index: QModelIndex) -> None:
        if index.isValid():
            self._ask_edit()

    @Slot()
    def _ask_remove(self) -> None:
        key = self.chosen()
        self.problem.say("")
        if key is not None and not self._read_only:
            self.remove_asked.emit(key)
