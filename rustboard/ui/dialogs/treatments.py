"""The treatments of a board, to add, edit and remove."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.record import BoardRecord
from rustboard.support.text import printable
from rustboard.ui.forms.edited_table import EditedTableDialog


class TreatmentsDialog(EditedTableDialog):
    """The list of treatments; whoever shows it changes them, and calls `refresh`."""

    def __init__(self, record: BoardRecord, parent: QWidget | None = None) -> None:
        """Show a board's treatments."""
        super().__init__(parent)
        headers = [self.tr("Id"), self.tr("Name"), self.tr("Family"), self.tr("Coupons")]
        self.describe(self.tr("Treatments"), headers, wide=1)
        self._names: dict[int, str] = {}
        self._users: Counter[int | None] = Counter()
        self.refresh(record)

    def refresh(self, record: BoardRecord) -> None:
        """Show the treatments as they are now; the same one stays chosen."""
        self._names = {key: printable(each.title) for key, each in record.treatments.items()}
        self._users = Counter(each.treatment for each in record.coupons.values())
        self.show_lines(
            list(record.treatments),
            [(each.id, each.name, each.family, str(self._users[key])) for key, each in record.treatments.items()],
        )

    @Slot()
    def _follow_choice(self) -> None:
        super()._follow_choice()
        self.problem.say("")

    def may_remove(self, key: int) -> bool:
        """Return whether no coupon has a treatment; say how many have it otherwise."""
        if not self._users[key]:
            return True
        name = self._names[key][:60]
        sentence = self.tr("{0} is on {1} coupons; give them another treatment first.")
        if self._users[key] == 1:
            sentence = self.tr("{0} is on a coupon; give it another treatment first.")
        self.problem.say(sentence.format(name, self._users[key]))
        return False
