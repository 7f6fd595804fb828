"""To which coupons a shape is given."""

from __future__ import annotations

from collections.abc import Collection

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QCheckBox, QListWidget, QListWidgetItem, QPushButton, QWidget

from rustboard.board.model import Coupon
from rustboard.board.record import BoardRecord
from rustboard.support.problems import InputError
from rustboard.support.text import one_line, printable
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import FormDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import coupon_title

_LONGEST = 120
_KEY = Qt.ItemDataRole.UserRole


class GiveDialog(FormDialog):
    """Asks which coupons have the same shape."""

    def __init__(
        self, record: BoardRecord, source: Coupon, alike: Collection[int], parent: QWidget | None = None
    ) -> None:
        """List the other coupons, ``alike`` ticked."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Give the shape of {0} to…").format(printable(source.id)[:60]))
        self._alike, self._chosen = set(alike), list[int]()
        self._list = QListWidget()
        self._list.setAccessibleName(self.tr("Coupons that get this shape; space ticks one"))
        for each in record.coupons_in_order():
            if each.key == source.key:
                continue
            item = QListWidgetItem(one_line(coupon_title(record, each), _LONGEST))
            item.setData(_KEY, each.key)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            self._list.addItem(item)
        self._list.setMinimumHeight(self.fontMetrics().lineSpacing() * 9)
        self._list.setMinimumWidth(self.fontMetrics().averageCharWidth() * 34)
        self._all = QPushButton(self.tr("&All"))
        self._same = QPushButton(self.tr("&Same size or without outline"))
        self._none = QPushButton(self.tr("&None"))
        for button in (self._all, self._same, self._none):
            button.setAutoDefault(False)
        self._areas = QCheckBox(self.tr("with its &holes and other areas that do not count"))
        text = self.tr("Each coupon keeps its place: the shape goes where its outline is, or to its position.")
        self.add_text(words_label(text, narrow=True))
        self.add_text(self._list)
        self.add_text(flowing(self._all, self._same, self._none))
        self.add_text(self._areas)
        self._wire()
        self._tick_alike()
        self._list.setFocus()

    def _wire(self) -> None:
        self._all.clicked.connect(self._tick_all)
        self._same.clicked.connect(self._tick_alike)
        self._none.clicked.connect(self._tick_none)

    def coupons(self) -> list[int]:
        """Return the keys of the coupons ticked."""
        return self._chosen

    def with_areas(self) -> bool:
        """Return whether what does not count goes along."""
        return self._areas.isChecked()

    def _tick(self, keys: Collection[int] | None) -> None:
        for number in range(self._list.count()):
            item = self._list.item(number)
            ticked = keys is None or item.data(_KEY) in keys
            item.setCheckState(Qt.CheckState.Checked if ticked else Qt.CheckState.Unchecked)

    @Slot()
    def _tick_all(self) -> None:
        self._tick(None)

    @Slot()
    def _tick_alike(self) -> None:
        self._tick(self._alike)

    @Slot()
    def _tick_none(self) -> None:
        self._tick(())

    def read(self) -> None:
        """Read which are ticked."""
        items = [self._list.item(number) for number in range(self._list.count())]
        self._chosen = [int(each.data(_KEY)) for each in items if each.checkState() == Qt.CheckState.Checked]
        if not self._chosen:
            raise InputError(self.tr("Tick at least one coupon, or cancel."))
