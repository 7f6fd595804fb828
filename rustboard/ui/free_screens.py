"""What command objects have in common that bring a screen into view which needs no board open in the window."""

from __future__ import annotations

from typing import Generic, TypeVar

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme

S = TypeVar("S", bound=OwnScreen)


class FreeScreenCommands(BusyCommands, Generic[S]):
    """Brings a screen in and out of view; back leads to where the user came from.

    Signals:
        changed(): the screen came into view or left it.

    Attributes:
        screen: once it was wanted, until it is left.
    """

    changed = Signal()

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        stack: QStackedWidget,
    ) -> None:
        """Start without a screen."""
        super().__init__(window, asker, do, bridge)
        self._settings, self._scheme, self._stack = settings, scheme, stack
        self._from: QWidget | None = None
        self.screen: S | None = None

    def _build(self) -> S:
        """Return the screen, wired."""
        raise NotImplementedError

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; what is shown goes with the one before."""
        self.forget()
        super().attach(page)

    def forget(self) -> None:
        """Let the screen go, and what it shows."""
        screen, self.screen = self.screen, None
        self._from = None
        if screen is not None:
            screen.close_feed()
            self._stack.removeWidget(screen)
            screen.setParent(None)
            screen.deleteLater()

    def look_again(self) -> None:
        """Read the boards in view anew: one of them may not be told of any more."""

    def is_shown(self) -> bool:
        """Return whether the screen is in view."""
        return self.screen is not None and self._stack.currentWidget() is self.screen

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        if self.screen is not None:
            self.screen.set_scheme(scheme)

    def bring(self) -> S:
        """Bring the screen into view."""
        if self.page is not None:
            self.page.close_grading()
        if self.screen is None:
            self.screen = self._build()
            self._stack.addWidget(self.screen)
        if not self.is_shown():
            self._from = self._stack.currentWidget()
        self._stack.setCurrentWidget(self.screen)
        self.screen.setFocus()
        self.changed.emit()
        return self.screen

    @Slot()
    def leave(self) -> None:
        """Go back to where the user came from."""
        if self.is_shown() and self._from is not None and self._stack.indexOf(self._from) >= 0:
            self._stack.setCurrentWidget(self._from)
            self._from.setFocus()
            self.forget()
            self.changed.emit()
