"""With which other boards is the open one compared? The board it follows is offered first."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from PySide6.QtCore import QSize, Qt, Slot
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QAbstractItemView, QDialogButtonBox, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from rustboard.board.shelving import Forerunner
from rustboard.session.comparing import MOST_COMPARED, offered
from rustboard.session.shelf import ShelfEntry
from rustboard.support.text import printable
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.labels import words_label
from rustboard.ui.wording import date_only, tool_tip

_FOLDER: Final = Qt.ItemDataRole.UserRole


class ChoosingDialog(FittingDialog):
    """A check box for each board that can be compared.

    Attributes:
        list: the boards. buttons: compare, or not.
    """

    def __init__(
        self,
        entries: Sequence[ShelfEntry],
        this: Path,
        forerunner: Forerunner | None,
        parent: QWidget | None = None,
    ) -> None:
        """Offer all boards but the open one."""
        super().__init__(parent)
        self.setWindowTitle(self.tr("Compare with other boards"))
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Other boards"))
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setText(self.tr("&Compare"))
        for each in self.buttons.buttons():
            each.setIcon(QIcon())
        for entry, followed in offered(entries, this, forerunner):
            self._put(entry, followed=followed)
        text = self.tr("Check the boards to compare this one with, at most {0}.").format(MOST_COMPARED - 1)
        nothing = self.tr("There is no other board that was inspected. Boards being graded blind are not offered.")
        column = QVBoxLayout(self)
        column.addWidget(words_label(text if self.list.count() else nothing))
        column.addWidget(self.list, 1)
        column.addWidget(self.buttons)
        self._wire()
        self._follow()

    def _wire(self) -> None:
        self.list.itemChanged.connect(self._follow)
        self.buttons.accepted.connect(self.accept)
        self.buttons.rejected.connect(self.reject)

    def _put(self, entry: ShelfEntry, *, followed: bool) -> None:
        parts = [entry.name, entry.site, "" if entry.started is None else date_only(entry.started)]
        text = " · ".join(each for each in parts if each)
        if followed:
            text = self.tr("{0} (this board follows it)").format(text)
        item = QListWidgetItem(printable(text))
        item.setData(_FOLDER, str(entry.folder))
        item.setToolTip(tool_tip(str(entry.folder)))
        item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable)
        item.setCheckState(Qt.CheckState.Checked if followed else Qt.CheckState.Unchecked)
        self.list.addItem(item)

    def folders(self) -> tuple[Path, ...]:
        """Return the boards that are checked."""
        items = (self.list.item(at) for at in range(self.list.count()))
        return tuple(Path(each.data(_FOLDER)) for each in items if each.checkState() == Qt.CheckState.Checked)

    @Slot()
    def _follow(self) -> None:
        count = len(self.folders())
        self.buttons.button(QDialogButtonBox.StandardButton.Ok).setEnabled(1 <= count < MOST_COMPARED)

    def sizeHint(self) -> QSize:
        """Return a size that shows some boards."""
        letter = self.fontMetrics()
        return QSize(letter.averageCharWidth() * 62, letter.height() * 22).boundedTo(self._room())
