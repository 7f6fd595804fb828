"""Which keys do what."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QHeaderView, QWidget

from rustboard.ui.forms.table import TableDialog


class KeysDialog(TableDialog):
    """The actions and their keys."""

    def __init__(self, rows: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        """Show rows of action and keys."""
        super().__init__(parent)
        self.describe(self.tr("Keys"), [self.tr("Action"), self.tr("Keys")], wide=0)
        self.table.setWordWrap(True)  # large letters leave no room for some of the lines
        self.table.verticalHeader().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        self.show_rows(rows)
        self.table.horizontalHeader().setSectionResizeMode(1, QHeaderView.ResizeMode.ResizeToContents)
        if rows:
            self.table.selectRow(0)
