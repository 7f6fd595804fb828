"""What can be done with the board that is chosen on the shelf: a line of buttons, and the same as a menu."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QObject, QPoint, Qt, QUrl, Signal, Slot
from PySide6.QtGui import QAction, QDesktopServices, QKeySequence
from PySide6.QtWidgets import QMenu, QToolButton, QWidget

from rustboard.session.shelf import ShelfEntry
from rustboard.ui.flow_layout import FlowLayout


class BoardActions(QObject):
    """The actions of one board; `follow` says which.

    Signals:
        open_asked(object), open_beside_asked(object): open the board in this folder, here or in another window.
        copy_asked(object), like_asked(object): make a copy of it, or a new board like it.
        pack_asked(object): pack the board in this folder into one file to send.
        tags_asked(object), archive_asked(object): change its tags (`ShelfEntry`); put it away or bring it back.
        rename_asked(object), move_asked(object): call the board (`ShelfEntry`) or its folder otherwise; move it.
        failed(str): no file manager answered.

    Attributes:
        bar: the buttons.
    """

    open_asked = Signal(object)
    open_beside_asked = Signal(object)
    copy_asked = Signal(object)
    like_asked = Signal(object)
    pack_asked = Signal(object)
    tags_asked = Signal(object)
    archive_asked = Signal(object)
    rename_asked = Signal(object)
    move_asked = Signal(object)
    failed = Signal(str)

    def __init__(self, parent: QWidget) -> None:
        """Make the actions, for no board yet."""
        super().__init__(parent)
        self._entry: ShelfEntry | None = None
        self._make_actions(parent)
        self._menu = QMenu(parent)
        self._menu.addActions([self._open, self._open_beside, self._copy, self._like, self._pack])
        self._menu.addSeparator()
        self._menu.addActions([self._tags, self._archive, self._rename, self._move, self._show_folder])
        self.bar = QWidget()
        self._line = FlowLayout(self.bar, spacing=3)
        for action in (self._open, self._open_beside, self._copy, self._like, self._pack, self._tags, self._archive):
            tool = QToolButton()
            tool.setDefaultAction(action)
            tool.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self._line.addWidget(tool)
        self._line.addWidget(self._folder_button(parent))
        self._wire()

    def add(self, actions: Sequence[QAction]) -> None:
        """Put further actions behind those of the board."""
        self._menu.addSeparator()
        self._menu.addActions(actions)
        for each in actions:
            tool = QToolButton()
            tool.setDefaultAction(each)
            tool.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
            self._line.addWidget(tool)

    def _folder_button(self, parent: QWidget) -> QToolButton:
        menu = QMenu(parent)
        menu.addActions([self._rename, self._move, self._show_folder])
        button = QToolButton()
        button.setText(self.tr("Folder"))
        button.setToolTip(self.tr("Rename or move the board's folder, or look into it"))
        button.setMenu(menu)
        button.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        return button

    def _make_actions(self, parent: QWidget) -> None:
        self._open = QAction(self.tr("Open"), parent)
        self._open_beside = QAction(self.tr("Open in another window"), parent)
        self._open_beside.setIconText(self.tr("Other window"))
        self._open_beside.setToolTip(self.tr("Open this board in a window of its own, beside this one"))
        self._copy = QAction(self.tr("Make a copy…"), parent)
        self._copy.setIconText(self.tr("Copy…"))
        self._copy.setToolTip(self.tr("Make a copy of this board, with its grades and photos"))
        self._like = QAction(self.tr("New board like this one…"), parent)
        self._like.setIconText(self.tr("New like this…"))
        self._like.setToolTip(
            self.tr("Start a new board with the same layout and treatments, without dates and grades")
        )
        self._pack = QAction(self.tr("Pack to send…"), parent)
        self._pack.setIconText(self.tr("Pack…"))
        self._pack.setToolTip(self.tr("Pack this board into one file that you can send"))
        self._tags = QAction(self.tr("Tags…"), parent)
        self._tags.setIconText(self.tr("Tags…"))
        self._tags.setToolTip(self.tr("Words of your own to find this board again"))
        self._archive = QAction(parent)
        self._rename = QAction(self.tr("Rename…"), parent)
        self._rename.setToolTip(self.tr("Call the board or its folder otherwise"))
        self._rename.setShortcut(QKeySequence("F2"))
        self._move = QAction(self.tr("Move to another folder…"), parent)
        self._move.setToolTip(self.tr("Move the board's folder to another place"))
        self._show_folder = QAction(self.tr("Show folder"), parent)
        self._show_folder.setToolTip(self.tr("Show the board's folder in the file manager"))
        self._show_archive(archived=False)
        parent.addAction(self._rename)

    def _wire(self) -> None:
        self._open.triggered.connect(self._ask_open)
        self._open_beside.triggered.connect(self._ask_open_beside)
        self._copy.triggered.connect(self._ask_copy)
        self._like.triggered.connect(self._ask_like)
        self._pack.triggered.connect(self._ask_pack)
        self._tags.triggered.connect(self._ask_tags)
        self._archive.triggered.connect(self._ask_archive)
        self._rename.triggered.connect(self._ask_rename)
        self._move.triggered.connect(self._ask_move)
        self._show_folder.triggered.connect(self._reveal)

    def _all(self) -> list[QAction]:
        changing = [self._pack, self._tags, self._archive, self._rename, self._move]
        return [self._open, self._open_beside, self._copy, self._like, *changing, self._show_folder]

    def follow(self, entry: ShelfEntry | None) -> None:
        """Act on this board from now on; None = on none."""
        self._entry = entry
        for each in self._all():
            each.setEnabled(entry is not None)
        if entry is not None and entry.problem:
            sound = [self._open_beside, self._copy, self._like, self._pack, self._tags, self._archive]
            sound += [self._rename, self._move]
            for each in sound:
                each.setEnabled(False)
        self._show_archive(archived=entry is not None and entry.facts.archived)

    def _show_archive(self, *, archived: bool) -> None:
        self._archive.setText(self.tr("Bring back") if archived else self.tr("Archive"))
        self._archive.setToolTip(
            self.tr("Show this board among the others again")
            if archived
            else self.tr("Put this board away: it is shown only when you ask for the archive, and nothing is lost")
        )

    def show_menu(self, place: QPoint) -> None:
        """Show the actions as a menu at a place of the screen."""
        self._menu.popup(place)

    @Slot()
    def _ask_open(self) -> None:
        if self._entry is not None:
            self.open_asked.emit(self._entry.folder)

    @Slot()
    def _ask_open_beside(self) -> None:
        if self._entry is not None:
            self.open_beside_asked.emit(self._entry.folder)

    @Slot()
    def _ask_copy(self) -> None:
        if self._entry is not None:
            self.copy_asked.emit(self._entry.folder)

    @Slot()
    def _ask_like(self) -> None:
        if self._entry is not None:
            self.like_asked.emit(self._entry.folder)

    @Slot()
    def _ask_pack(self) -> None:
        if self._entry is not None:
            self.pack_asked.emit(self._entry.folder)

    @Slot()
    def _ask_tags(self) -> None:
        if self._entry is not None:
            self.tags_asked.emit(self._entry)

    @Slot()
    def _ask_archive(self) -> None:
        if self._entry is not None:
            self.archive_asked.emit(self._entry)

    @Slot()
    def _ask_rename(self) -> None:
        if self._entry is not None:
            self.rename_asked.emit(self._entry)

    @Slot()
    def _ask_move(self) -> None:
        if self._entry is not None:
            self.move_asked.emit(self._entry)

    @Slot()
    def _reveal(self) -> None:
        if self._entry is not None and not QDesktopServices.openUrl(QUrl.fromLocalFile(str(self._entry.folder))):
            self.failed.emit(self.tr("No file manager answered; the folder is {0}").format(str(self._entry.folder)))
