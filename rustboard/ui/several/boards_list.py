"""The user's boards with a check box each, and a way to add one from anywhere."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rustboard.session.shelf import ShelfEntry
from rustboard.support.paths import same_folder
from rustboard.support.text import printable
from rustboard.ui.ask import Asker
from rustboard.ui.matched.several_words import say
from rustboard.ui.wording import date_only, tool_tip

_FOLDER = Qt.ItemDataRole.UserRole


class BoardsList(QWidget):
    """Says which boards are put together.

    Signals:
        changed(): the user checked or unchecked a board, or added one.

    Attributes:
        list: the boards. add: the button for one that is not among them.
    """

    changed = Signal()

    def __init__(self, ask: Asker, parent: QWidget | None = None) -> None:
        """Start without boards."""
        super().__init__(parent)
        self._ask = ask
        self._filling = False
        self._added: list[Path] = []
        heading = QLabel(self.tr("&1. Boards to put together"))
        heading.setProperty("heading", True)
        self.list = QListWidget()
        self.list.setAccessibleName(self.tr("Boards to put together"))
        self.list.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setTextElideMode(Qt.TextElideMode.ElideRight)
        heading.setBuddy(self.list)
        self.add = QPushButton(self.tr("&Add a board folder…"))
        row = QHBoxLayout()
        row.addWidget(heading, 1)
        row.addWidget(self.add)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(self.list, 1)
        self._wire()

    def _wire(self) -> None:
        self.list.itemChanged.connect(self._change)
        self.add.clicked.connect(self._add)

    def show_entries(self, entries: Sequence[ShelfEntry], open_board: Path | None) -> None:
        """Show the boards of the shelf; those checked stay checked, the open one is checked to begin with."""
        first = not self.list.count()
        checked = set(self.folders())
        self._filling = True
        self.list.clear()
        shown: list[Path] = []
        for each in sorted(entries, key=lambda each: open_board is None or not same_folder(each.folder, open_board)):
            if not each.problem and not any(same_folder(each.folder, folder) for folder in shown):
                own = first and open_board is not None and same_folder(each.folder, open_board)
                self._put(
                    each.folder, each.name, _detail(each), usable=_usable(each), on=own or each.folder in checked
                )
                shown.append(each.folder)
        for folder in (*self._added, *([open_board] if open_board is not None else [])):
            if not any(same_folder(folder, each) for each in shown):
                self._put(folder, folder.name, str(folder), usable=True, on=folder in checked or first)
                shown.append(folder)
        self._filling = False

    def _put(self, folder: Path, name: str, detail: str, *, usable: bool, on: bool) -> None:
        item = QListWidgetItem(printable(f"{name} · {detail}" if detail else name))
        item.setData(_FOLDER, str(folder))
        item.setToolTip(tool_tip(str(folder)))
        flags = Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable | Qt.ItemFlag.ItemIsUserCheckable
        item.setFlags(flags if usable else Qt.ItemFlag.NoItemFlags)
        item.setCheckState(Qt.CheckState.Checked if on and usable else Qt.CheckState.Unchecked)
        self.list.addItem(item)

    def folders(self) -> tuple[Path, ...]:
        """Return the folders of the boards that are checked, from the top."""
        items = (self.list.item(at) for at in range(self.list.count()))
        return tuple(Path(each.data(_FOLDER)) for each in items if each.checkState() == Qt.CheckState.Checked)

    def check(self, folder: Path, *, on: bool = True) -> None:
        """Check or uncheck a board that is in the list."""
        for at in range(self.list.count()):
            item = self.list.item(at)
            if same_folder(Path(item.data(_FOLDER)), folder):
                item.setCheckState(Qt.CheckState.Checked if on else Qt.CheckState.Unchecked)

    def add_folder(self, folder: Path) -> None:
        """Put a board into the list, checked."""
        known = [Path(self.list.item(at).data(_FOLDER)) for at in range(self.list.count())]
        if any(same_folder(folder, each) for each in known):
            self.check(folder)
            return
        self._added.append(folder)
        self._filling = True
        self._put(folder, folder.name, str(folder.parent), usable=True, on=True)
        self._filling = False
        self.changed.emit()

    @Slot()
    def _add(self) -> None:
        folder = self._ask.folder(self.tr("A board folder"), Path.home())
        if folder is not None:
            self.add_folder(folder)

    @Slot(QListWidgetItem)
    def _change(self, item: QListWidgetItem) -> None:
        if not self._filling:
            self.changed.emit()


def _usable(entry: ShelfEntry) -> bool:
    return bool(entry.inspections) and not entry.being_graded_blind


def _detail(entry: ShelfEntry) -> str:
    if entry.being_graded_blind:
        return say("being graded blind, reveal it first")
    if not entry.inspections:
        return say("not inspected yet")
    parts = [entry.site] if entry.site else []
    if entry.started is not None:
        parts.append(date_only(entry.started))
    return " · ".join(parts)
