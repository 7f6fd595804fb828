"""Grading an inspection blind: hiding the board, the rounds, and showing it again."""

from __future__ import annotations

import secrets
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer, Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.board.blind import BlindInspection
from rustboard.board.cells import identity
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.text import one_line
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.blind.page import BlindPage


class BlindCommands(PageCommands):
    """Keeps the page that stands for a board while one of its inspections is hidden.

    Signals:
        reopen_asked(object, int): the board in this folder is to be opened anew, hidden or shown as its record says,
            with this inspection in view.
        mended(): what was refused before is done by now. shelf_asked(): back to all boards.
        changed(): what can be done may have changed.
        grader_left(): what the window told him, such as his last grade, is not for whoever comes next.

    Attributes:
        blind_page: in view while an inspection is hidden, else None.
    """

    reopen_asked = Signal(object, int)
    mended = Signal()
    shelf_asked = Signal()
    changed = Signal()
    grader_left = Signal()

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
        """Start with nothing hidden."""
        super().__init__(window, asker, do)
        self._settings, self._bridge, self._scheme, self._stack = settings, bridge, scheme, stack
        self.blind_page: BlindPage | None = None
        self._inspection = 0  # that was hidden last
        self._reopening = QTimer(self)
        self._reopening.setSingleShot(True)
        self._reopening.setInterval(0)
        self._reopening.timeout.connect(self._reopen)

    # ---- hiding

    @Slot()
    def start(self) -> None:
        """Ask how the inspection in view is to be graded blind, and hide the board."""
        from rustboard.operations.blind import start_blind
        from rustboard.ui.blind.start_dialog import StartBlindDialog

        if self.page is None:
            return
        record = self.page.session.record
        inspection = record.inspections.get(self.page.session.selection.inspection or 0)
        if inspection is None:
            return
        dialog = StartBlindDialog(record, inspection, self._window)
        if self._asker.dialog(dialog) and self._do(start_blind, dialog.choice()) is not None:
            self.follow()

    def follow(self) -> None:
        """Hide the board in the window if an inspection of it is hidden by now, such as by redo or elsewhere."""
        if self.page is not None and self.page.session.record.hidden_inspection is not None:
            # Not at once: this may be asked while others are still being told of the change.
            self._reopening.start()

    @Slot()
    def _reopen(self) -> None:
        session = self.page.session if self.page is not None else self.session()
        if session is not None:
            self.reopen_asked.emit(session.folder, self._inspection)

    # ---- while it is hidden

    def session(self) -> Session | None:
        """Return the session of the hidden board, or None."""
        return None if self.blind_page is None else self.blind_page.session

    def show_page(self, session: Session, blind: BlindInspection) -> None:
        """Bring the page of a hidden board into view; its session is closed by `leave`."""
        from rustboard.ui.blind.page import BlindPage

        page = BlindPage(session, blind, self._bridge, self._do, self._scheme, self._settings)
        self.blind_page, self._inspection = page, blind.inspection
        self._wire_blind(page)
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        page.show_overview()

    def _wire_blind(self, page: BlindPage) -> None:
        page.revealed.connect(self._reopening.start)
        page.state_changed.connect(self.changed)
        page.failed.connect(self.failed)
        page.left.connect(self.grader_left)
        page.overview.begin_asked.connect(self.begin)
        page.overview.go_on_asked.connect(self.go_on)
        page.overview.reveal_asked.connect(self.reveal)
        page.overview.shelf_asked.connect(self.shelf_asked)

    def leave(self) -> None:
        """Let the page of a hidden board go, and close its session; it stays hidden."""
        page = self.blind_page
        self._reopening.stop()
        if page is None:
            return
        page.round.body.options.finish_note()  # while its session is still the window's: a note just typed is kept
        self.blind_page = None
        self._stack.removeWidget(page)
        page.session.close()
        page.setParent(None)
        page.deleteLater()

    @Slot(str)
    def begin(self, grader: str) -> None:
        """Begin the round of a grader."""
        from rustboard.operations.blind import begin_round
        from rustboard.session.blind_rounds import coupons_to_grade, rounds_of

        page = self.blind_page
        blind = None if page is None else page.session.record.hidden_inspection
        if page is None or blind is None:
            return
        for each in rounds_of(page.session.record, blind):
            if each.finished is None and identity(each.grader) == identity(one_line(grader)):
                self.go_on(each.key)
                return
        coupons = coupons_to_grade(page.session.record, blind)
        changes = self._do(begin_round, blind.key, grader, secrets.randbits(32), coupons)
        if changes is not None:
            (key,) = changes.tables["blind_round"]
            self.go_on(key)
        else:
            page.overview.name.setFocus()  # what was refused is mended there

    @Slot(int)
    def go_on(self, key: int) -> None:
        """Go on with a round."""
        page = self.blind_page
        if page is None or key not in page.session.record.blind_rounds:
            return
        self.mended.emit()
        page.session.who = one_line(page.session.record.blind_rounds[key].grader)
        page.show_round(key)

    @Slot()
    def reveal(self) -> None:
        """Show everything again; the board gets its grades."""
        from rustboard.operations.blind import reveal

        page = self.blind_page
        blind = None if page is None else page.session.record.hidden_inspection
        if blind is not None:
            self._do(reveal, blind.key)

    def can_undo(self) -> bool:
        """Return whether undo would take back what the grader in front of the screen did."""
        page = self.blind_page
        return page is not None and not page.is_overview() and page.round.sitting.can_undo()

    def undo(self) -> None:
        """Take the last step of the grader in front of the screen back."""
        if self.blind_page is None or not self.can_undo():
            return
        try:
            self.blind_page.round.undo()
        except InputError as error:
            self._refuse(error)

    @Slot()
    def follow_settings(self) -> None:
        """Show the size of keys that the settings say."""
        if self.blind_page is not None:
            self.blind_page.round.follow_settings()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        if self.blind_page is not None:
            self.blind_page.set_scheme(scheme)
