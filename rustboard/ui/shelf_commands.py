"""What the user does on the shelf."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.session.shelf import ShelfEntry
from rustboard.support.settings import Settings
from rustboard.ui.boards_desk import BoardsDesk
from rustboard.ui.bridge import JobBridge
from rustboard.ui.file_commands import Opener
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.shelf.screen import ShelfScreen


class ShelfCommands(QObject):
    """The shelf's screen and what its buttons do.

    Signals:
        demo_asked(): the demo boards are wanted.
        photos_dropped(object): photos (a list of `Path`) were dropped on the board that is now open.
    """

    demo_asked = Signal()
    photos_dropped = Signal(object)

    def __init__(
        self,
        window: QWidget,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        desk: BoardsDesk,
        opener: Opener,
    ) -> None:
        """Start without a screen."""
        super().__init__(window)
        self._settings, self._bridge, self._scheme = settings, bridge, scheme
        self._desk, self._files, self._keeping, self._open = desk, desk.files, desk.keeping, opener
        self._packing = desk.packing
        self._screen: ShelfScreen | None = None
        self._wire_keeping()

    def screen(self) -> ShelfScreen:
        """Return the screen; built when it is first wanted, which in a window on a board may be never."""
        if self._screen is None:
            from rustboard.ui.shelf.screen import ShelfScreen

            self._screen = ShelfScreen(self._settings, self._bridge, self._scheme)
            self._wire(self._screen)
        return self._screen

    def _wire(self, screen: ShelfScreen) -> None:
        screen.open_asked.connect(self._open_here)
        screen.open_in_new_window_asked.connect(self._open_beside)
        screen.new_asked.connect(self._files.new)
        screen.plan_asked.connect(self._files.from_plan)
        screen.grades_asked.connect(self._desk.importing.import_grades)
        screen.browse_asked.connect(self._files.open_other)
        screen.copy_asked.connect(self._copy)
        screen.like_asked.connect(self._like)
        screen.demo_asked.connect(self.demo_asked)
        screen.photos_dropped.connect(self._open_for_photos)
        screen.received_dropped.connect(self._open_here)
        screen.board.pack_asked.connect(self._packing.pack)
        screen.board.tags_asked.connect(self._tag)
        screen.board.archive_asked.connect(self._keeping.put_away)
        screen.board.rename_asked.connect(self._keeping.rename)
        screen.board.move_asked.connect(self._keeping.move)
        screen.past.compare_asked.connect(self._desk.comparing.compare)
        screen.past.next_asked.connect(self._desk.following.next_of)
        screen.past.learn_asked.connect(self._desk.learnt.ask)

    def _wire_keeping(self) -> None:
        self._desk.learnt.open_asked.connect(self._open_here)
        self._keeping.changed.connect(self._look_again)

    def reload(self) -> None:
        """Look for boards again."""
        if self._screen is not None:
            self._screen.reload()

    def forget(self) -> None:
        """Let the screen go; it is built anew when it is wanted, and shows then what may be shown."""
        screen, self._screen = self._screen, None
        if screen is not None:
            screen.setParent(None)
            screen.deleteLater()
        self._desk.forget()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        if self._screen is not None:
            self._screen.set_scheme(scheme)

    @Slot(object)
    def _look_again(self, folder: Path) -> None:
        """Look for boards again, and choose the one that was changed."""
        if self._screen is not None:
            self._screen.reload(folder)

    @Slot(object)
    def _tag(self, entry: ShelfEntry) -> None:
        self._keeping.tag(entry, self.screen().known_tags())

    @Slot(object)
    def _open_here(self, folder: Path) -> None:
        self._open(folder, new_window=False)

    @Slot(object, object)
    def _open_for_photos(self, folder: Path, paths: list[Path]) -> None:
        self._open(folder, new_window=False)
        self.photos_dropped.emit(paths)

    @Slot(object)
    def _open_beside(self, folder: Path) -> None:
        self._open(folder, new_window=True)

    @Slot(object)
    def _copy(self, folder: Path) -> None:
        self._files.make_copy(folder, self.reload)

    @Slot(object)
    def _like(self, folder: Path) -> None:
        self._files.make_like(folder)
