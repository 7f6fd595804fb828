"""The command objects about handing boards on and about past ones, put together for the window."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import SignalInstance
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.comparing_commands import ComparingCommands
from rustboard.ui.doing import Do
from rustboard.ui.file_commands import FileCommands
from rustboard.ui.importing_commands import ImportingCommands
from rustboard.ui.learnt_commands import LearntCommands
from rustboard.ui.next_board_commands import NextBoardCommands
from rustboard.ui.packing_commands import PackingCommands
from rustboard.ui.relink_commands import RelinkCommands
from rustboard.ui.report_commands import ReportCommands
from rustboard.ui.shelf_keeping import ShelfKeeping
from rustboard.ui.theme import Scheme


class BoardsDesk:
    """All that the window does with reports and past boards.

    Attributes:
        reports: the report in its forms. comparing: boards beside one another.
        learnt: what all boards say of one treatment. following: the next board with one thing changed.
        packing: a board as one file to send, and one that was received. importing: old grades and photos.
        files: whole boards. keeping: changes of boards that are not open. relinking: missing photos found again.
    """

    def __init__(
        self,
        window: QWidget,
        asker: Asker,
        do: Do,
        settings: Settings,
        bridge: JobBridge,
        scheme: Scheme,
        stack: QStackedWidget,
        files: FileCommands,
    ) -> None:
        """Start without a page."""
        self.reports = ReportCommands(window, asker, do, settings, bridge)
        self.files = files
        self.keeping = ShelfKeeping(window, asker, do, settings, bridge)
        self.relinking = RelinkCommands(window, asker, do, bridge)
        self.comparing = ComparingCommands(window, asker, do, settings, bridge, scheme, stack)
        self.learnt = LearntCommands(window, asker, do, settings, bridge, scheme, stack)
        self.following = NextBoardCommands(window, asker, do, settings, bridge)
        self.packing = PackingCommands(window, asker, do, settings, bridge)
        self.importing = ImportingCommands(window, asker, do, settings, bridge)
        self._wire()

    def _wire(self) -> None:
        self.importing.made.connect(self.files.open_board)
        self.packing.unpacked.connect(self.files.open_board)
        self.following.made.connect(self.files.open_board)

    def commands(self) -> tuple[BusyCommands, ...]:
        """Return all command objects."""
        beside = (self.following, self.packing, self.importing)
        return (self.reports, self.keeping, self.relinking, *self.screens(), *beside)

    def screens(self) -> tuple[ComparingCommands, LearntCommands]:
        """Return those that bring a screen of their own into view."""
        return (self.comparing, self.learnt)

    def forget(self) -> None:
        """Let go of what is shown of any board: one is opened of which nothing may be told."""
        for each in self.screens():
            each.forget()

    def look_again(self) -> None:
        """Read the boards in view anew: one of them may not be told of any more."""
        for each in self.screens():
            each.look_again()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for each in self.screens():
            each.set_scheme(scheme)

    def stop(self) -> None:
        """Stop what goes on beside the window."""
        for each in self.commands():
            each.stop_job()

    def workings(self) -> list[SignalInstance]:
        """Return the signals that tell what goes on beside the window."""
        return [each.working for each in self.commands()]

    def handlers(self) -> dict[str, Callable[[], object]]:
        """Return the handlers of the actions, by id."""
        return {
            "file.report": self.reports.report,
            "photos.find": self.relinking.find,
            "findings.compare": self.comparing.compare_this,
            "file.pack": self.packing.pack_this,
            "file.import": self.importing.import_grades,
            "file.unpack": self.packing.open_received,
            "findings.learnt": self.learnt.ask,
            "file.next": self.following.next_of_this,
        }
