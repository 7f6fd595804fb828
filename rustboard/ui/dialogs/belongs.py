"""To which inspection a photo belongs."""

from __future__ import annotations

from typing import Literal

from PySide6.QtWidgets import QListWidget, QListWidgetItem, QWidget

from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.support.text import printable
from rustboard.ui.forms.form import FormDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import date_time, day_text

Chosen = int | Literal["own"] | None
_LINES = 9


class BelongsDialog(FormDialog):
    """Lists the inspections, one of its own, and none; the one it belongs to is chosen."""

    def __init__(self, record: BoardRecord, photo: Photo, parent: QWidget | None = None) -> None:
        """Show the inspections of a board, newest first."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("To which inspection the photo belongs"))
        taken = self.tr("no time") if photo.taken is None else date_time(photo.taken)
        self.add_text(words_label(self.tr("{0}, taken {1}").format(printable(photo.name), taken)))
        self.inspections = QListWidget()
        self._values: list[Chosen] = []
        for each in reversed(record.inspections_in_order()):
            graded = sum(each.key in gradings for gradings in record.current.values())
            words = self.tr("{0}, {1}, grades: {2}").format(
                day_text(record.day_of(each.at)), date_time(each.at), graded
            )
            self._add(words, each.key)
        if photo.taken is not None:
            self._add(self.tr("an inspection of its own"), "own")
        self._add(self.tr("no inspection"), None)
        self.inspections.setCurrentRow(self._values.index(photo.inspection))
        self.inspections.setMinimumHeight(self.fontMetrics().lineSpacing() * _LINES)
        self.add_row(self.tr("&Inspection"), self.inspections)
        hint = self.tr("The grades of an inspection are given by what its photos show.")
        self.add_text(words_label(hint, muted=True))
        self.inspections.setFocus()

    def _add(self, words: str, value: Chosen) -> None:
        self.inspections.addItem(QListWidgetItem(words))
        self._values.append(value)

    def chosen(self) -> Chosen:
        """Return the key of the inspection, ``own`` for one of its own, or None for none."""
        return self._values[max(0, self.inspections.currentRow())]

    def read(self) -> None:
        """Nothing chosen here can be wrong."""
