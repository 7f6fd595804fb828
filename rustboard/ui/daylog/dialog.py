"""The day log as a list, to add, edit and remove entries."""

from __future__ import annotations

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.measured import Disturbance
from rustboard.board.record import BoardRecord
from rustboard.ui.daylog.wording import kind_meaning, kind_name, starts_anew
from rustboard.ui.forms.edited_table import EditedTableDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import coupon_title, date_time


class DayLogDialog(EditedTableDialog):
    """The list of disturbances; whoever shows it changes them, and calls `refresh`."""

    def __init__(self, record: BoardRecord, parent: QWidget | None = None, *, read_only: bool = False) -> None:
        """Show a board's day log."""
        super().__init__(parent, editable=not read_only)
        headers = [self.tr("When"), self.tr("About"), self.tr("What happened"), self.tr("Note")]
        self.describe(self.tr("Day log"), headers, wide=3)
        self._words = words_label(muted=True, narrow=True)
        self.column.insertWidget(1, self._words)
        self._entries: dict[int, Disturbance] = {}
        self.refresh(record)

    def refresh(self, record: BoardRecord) -> None:
        """Show the log as it is now, newest first; the same entry stays chosen, or a new one is."""
        entries = sorted(record.disturbances.values(), key=lambda each: (each.at, each.key), reverse=True)
        self._entries = {each.key: each for each in entries}
        self.show_lines(list(self._entries), [self._row(record, each) for each in entries])

    def _row(self, record: BoardRecord, entry: Disturbance) -> tuple[str, str, str, str]:
        coupon = record.coupons.get(entry.coupon or 0)
        about = self.tr("the whole board") if coupon is None else coupon_title(record, coupon)
        return date_time(entry.at), about, kind_name(entry.kind), entry.note

    def complain(self, sentence: str) -> None:
        """Show what was refused."""
        self.problem.say(sentence)

    @Slot()
    def _follow_choice(self) -> None:
        super()._follow_choice()
        entry = self._entries.get(self.chosen() or 0)
        if entry is not None:
            self._words.setText(kind_meaning(entry.kind))
        elif not self.editable:
            self._words.setText(self.tr("Nothing was noted."))
        else:
            self._words.setText(
                self.tr(
                    "Note here what happened between the inspections: debris cleared off, a coupon touched, cleaned "
                    "or replaced. After cleaning or replacing, measuring starts anew for that coupon."
                )
            )
        self._words.setProperty("muted", entry is None or not starts_anew(entry.kind))
