"""What command objects have in common that bring a screen of their own in place of the board."""

from __future__ import annotations

from typing import Generic, Protocol, TypeVar

from PySide6.QtCore import Signal, SignalInstance, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.doing import Do
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme

S = TypeVar("S", bound=OwnScreen)


class InView(Protocol):
    """Whoever brings a screen of his own in and out of view."""

    @property
    def changed(self) -> SignalInstance:
        """Emitted when the screen came into view or left it."""

    def is_shown(self) -> bool:
        """Return whether the screen is in view."""

    def leave(self) -> None:
        """Go back to where the user came from."""


class ScreenCommands(PageCommands, Generic[S]):
    """Brings a screen in and out of view; it is built when it is first wanted.

    Signals:
        changed(): the screen came into view or left it.

    Attributes:
        screen: of the board in the window, once it was wanted.
    """

    changed = Signal()

    def __init__(self, window: QWidget, asker: Asker, do: Do, scheme: Scheme, stack: QStackedWidget) -> None:
        """Start without a page."""
        super().__init__(window, asker, do)
        self._scheme, self._stack = scheme, stack
        self.screen: S | None = None

    def _build(self, page: BoardPage) -> S:
        """Return the screen of a page, wired."""
        raise NotImplementedError

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; the screen of the one before goes."""
        screen, self.screen = self.screen, None
        if screen is not None:
            screen.close_feed()
            self._stack.removeWidget(screen)
            screen.setParent(None)
            screen.deleteLater()
        super().attach(page)

    def is_shown(self) -> bool:
        """Return whether the screen is in view."""
        return self.screen is not None and self._stack.currentWidget() is self.screen

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        if self.screen is not None:
            self.screen.set_scheme(scheme)

    @Slot()
    def toggle(self) -> None:
        """Bring the screen into view, or go back to the board."""
        if self.is_shown():
            self.leave()
        else:
            self.show_screen()

    @Slot()
    def show_screen(self) -> None:
        """Bring the screen into view."""
        if self.page is None:
            return
        if self.screen is None:
            self.screen = self._build(self.page)
            self._stack.addWidget(self.screen)
        self.page.close_grading()
        self._stack.setCurrentWidget(self.screen)
        self.changed.emit()

    @Slot()
    def leave(self) -> None:
        """Go back to the board."""
        if self.page is not None and self.is_shown():
            self._stack.setCurrentWidget(self.page)
            self.page.tiles.canvas.setFocus()
            self.changed.emit()
