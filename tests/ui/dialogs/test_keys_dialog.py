"""The list of keys: whole lines, however narrow it is, and the photo screen's keys among them."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog
from pytestqt.qtbot import QtBot
from window_driving import Person

from rustboard.ui.dialogs.keys import KeysDialog

LONG = "While grading: note; reference on this coupon; compare large"


def test_a_long_line_is_wrapped_and_not_cut(qtbot: QtBot) -> None:
    dialog = KeysDialog([(LONG, "N, C, L"), ("Undo", "Ctrl+Z")])
    qtbot.addWidget(dialog)
    dialog.resize(dialog.minimumSizeHint())
    dialog.show()
    table = dialog.table
    room, flags = table.visualItemRect(table.item(0, 0)).adjusted(4, 0, -4, 0), Qt.TextFlag.TextWordWrap
    needed = table.fontMetrics().boundingRect(room, flags, LONG)
    assert needed.height() > table.fontMetrics().height(), "it does not fit one line"
    assert table.rowHeight(0) >= needed.height()
    assert table.rowHeight(1) < table.rowHeight(0)


def test_f1_lists_the_keys_of_the_photos(person: Person) -> None:
    seen: list[str] = []

    def read(dialog: QDialog) -> None:
        assert isinstance(dialog, KeysDialog)
        seen.extend(dialog.table.item(row, 0).text() for row in range(dialog.table.rowCount()))

    person.answers.dialogs = [read]
    person.do("help.keys")
    assert sum(each.startswith("Photos: ") for each in seen) == 7
