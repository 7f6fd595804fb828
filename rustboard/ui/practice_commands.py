"""What the user does to practise grading; no board is needed."""

from __future__ import annotations

from PySide6.QtCore import QObject, Slot
from PySide6.QtWidgets import QWidget

from rustboard.support.paths import login_name
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.theme import Scheme


class PracticeCommands(QObject):
    """Opens the exercise."""

    def __init__(self, window: QWidget, asker: Asker, bridge: JobBridge, settings: Settings, scheme: Scheme) -> None:
        """Remember the window."""
        super().__init__(window)
        self._window, self._asker, self._bridge = window, asker, bridge
        self._settings, self._scheme = settings, scheme

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme

    @Slot()
    def practise(self) -> None:
        """Practise grading until the user has enough; what was graded is kept meanwhile."""
        from rustboard.session.practice import Practice
        from rustboard.ui.practice.dialog import PracticeDialog

        grader = self._settings.grader or login_name()
        self._asker.dialog(PracticeDialog(Practice(), self._bridge, self._scheme, grader, self._window))
