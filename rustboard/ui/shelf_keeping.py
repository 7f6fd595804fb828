"""What the user changes about boards without opening them: tags, the archive, names and places."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.shelf import ShelfEntry
from rustboard.support.paths import login_name
from rustboard.support.settings import Settings, save_settings
from rustboard.support.text import printable
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do


class ShelfKeeping(BusyCommands):
    """Changes of boards from the shelf; each opens the board for a moment, beside the window.

    Signals:
        changed(object): a board is otherwise now; its folder (`Path`).
    """

    changed = Signal(object)

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without work."""
        super().__init__(window, asker, do, bridge)
        self._settings = settings

    def tag(self, entry: ShelfEntry, known: Sequence[str]) -> None:
        """Ask for a board's tags; those in ``known`` are offered."""
        from rustboard.session.shelf_keeping import tag_board
        from rustboard.ui.shelf.tags_dialog import TagsDialog

        dialog = TagsDialog(entry.name, entry.facts.tags, known, self._window)
        if not self._asker.dialog(dialog) or dialog.tags() == list(entry.facts.tags):
            return
        tags = dialog.tags()
        words = ", ".join(tags)
        said = self.tr("“{0}” is tagged: {1}") if tags else self.tr("“{0}” has no tags any more.")
        self._change(partial(tag_board, who=self._who()), entry, tags, said=said.format(entry.name, words))

    @Slot(object)
    def put_away(self, entry: ShelfEntry) -> None:
        """Put a board into the archive, or bring it back from there."""
        from rustboard.session.shelf_keeping import put_away

        archived = not entry.facts.archived
        said = (
            self.tr("“{0}” is in the archive now; “Archive too” among the filters shows it.")
            if archived
            else self.tr("“{0}” is back from the archive.")
        )
        self._change(partial(put_away, who=self._who()), entry, archived, said=said.format(entry.name))

    @Slot(object)
    def rename(self, entry: ShelfEntry) -> None:
        """Ask for other names of a board and its folder."""
        from rustboard.session.shelf_keeping import rename_board
        from rustboard.ui.shelf.rename_dialog import RenameDialog

        dialog = RenameDialog(entry.name, entry.folder.name, self._window)
        if not self._asker.dialog(dialog):
            return
        name, called = dialog.names()
        name, called = (new if new != old else "" for new, old in ((name, entry.name), (called, entry.folder.name)))
        if name or called:
            self._relocate(partial(rename_board, who=self._who()), entry, name, called)

    @Slot(object)
    def move(self, entry: ShelfEntry) -> None:
        """Ask for another place for a board's folder."""
        from rustboard.session.shelf_keeping import move_board

        title = self.tr("Move “{0}” into which folder?").format(printable(entry.name)[:80])
        into = self._asker.folder(title, entry.folder.parent)
        if into is not None:
            self.working.emit(self.tr("Moving…"))
            self._relocate(move_board, entry, into)

    def _change(self, work: Callable[..., object], entry: ShelfEntry, *arguments: object, said: str) -> None:
        self._start(work, entry, arguments, partial(self._changed, entry.folder, said))

    def _relocate(self, work: Callable[..., object], entry: ShelfEntry, *arguments: object) -> None:
        self._start(work, entry, arguments, partial(self._moved, entry))

    def _start(
        self, work: Callable[..., object], entry: ShelfEntry, arguments: tuple[object, ...], done: Callable[..., None]
    ) -> None:
        self.job = self._bridge.start(
            ("shelf keeping", entry.folder),
            work,
            entry.folder,
            *arguments,
            done=done,
            failed=self._refuse,
            told=self._tell_copied,
            owner=self,
        )

    def _tell_copied(self, number: int, total: int) -> None:
        self.working.emit(self.tr("Moving: {0} of {1} files").format(number, total))

    def _changed(self, folder: Path, said: str, _: object) -> None:
        self.told.emit(printable(said))
        self.changed.emit(folder)

    def _moved(self, entry: ShelfEntry, folder: Path) -> None:
        self._settings.follow_move(entry.folder, folder)
        if folder.parent != self._settings.boards_path() and str(folder) not in self._settings.recent:
            self._settings.remember(folder)  # or the shelf would lose sight of it
        self.attempt(partial(save_settings, self._settings))
        if folder == entry.folder:
            self.told.emit(self.tr("The board has its new name."))
        else:
            self.told.emit(self.tr("The board is now in {0}").format(printable(str(folder))))
        self.changed.emit(folder)

    def _who(self) -> str:
        return self._settings.grader or login_name()
