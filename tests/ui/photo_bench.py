"""A board with the command objects about its photos, without the window around them: quicker than a whole window."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

from PySide6.QtCore import QCoreApplication, QEvent
from PySide6.QtWidgets import QWidget
from window_driving import Answers

from rustboard.session.changes import ChangeSet
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.page_commands import PageCommands


class Bench:
    """Stands in for the window: does operations, remembers what was told and refused.

    Attributes:
        session: of the board. answers: to questions. told, failed: sentences.
    """

    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        self.session = Session(folder, read_only=read_only)
        self.answers = Answers()
        self.widget = QWidget()
        self.bridge = JobBridge(self.widget, InlineExecutor())
        self.told: list[str] = []
        self.failed: list[str] = []
        self.looked_at: list[int] = []

    def serve(self, commands: PageCommands) -> None:
        """Let command objects serve this board."""
        commands.told.connect(self._tell)
        commands.failed.connect(self._fail)
        page = SimpleNamespace(
            session=self.session, current_coupon=lambda: None, look_at=self.looked_at.append, close=self.close
        )
        commands.page = page  # type: ignore[assignment]

    def _tell(self, sentence: str) -> None:
        self.told.append(sentence)

    def _fail(self, sentence: str) -> None:
        self.failed.append(sentence)

    def do(self, operation: Any, *arguments: Any, origin: object = None) -> ChangeSet | None:
        """Run an operation as the window does."""
        try:
            return self.session.do(operation, *arguments, origin=origin)
        except InputError as error:
            self.failed.append(str(error))
            return None

    def close(self) -> None:
        """Put everything away."""
        self.bridge.close()
        self.session.close()
        self.widget.deleteLater()  # with its dialogs, now and not whenever Python thinks of it
        QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
