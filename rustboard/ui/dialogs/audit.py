"""Who did what, and when: nothing in it is ever changed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from PySide6.QtWidgets import QWidget

from rustboard.ui.forms.table import TableDialog
from rustboard.ui.wording import date_time


class AuditDialog(TableDialog):
    """The record of changes, newest first."""

    def __init__(self, lines: Sequence[tuple[str, str, str]], parent: QWidget | None = None) -> None:
        """Show lines of time (ISO), who, what."""
        super().__init__(parent)
        self.describe(self.tr("Record of changes"), [self.tr("Time"), self.tr("Who"), self.tr("What")], wide=2)
        self.show_rows([(_shown(at), who, what) for at, who, what in lines])
        if lines:
            self.table.selectRow(0)


def _shown(at: str) -> str:
    try:
        return date_time(datetime.fromisoformat(at))
    except ValueError:
        return at
