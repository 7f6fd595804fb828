"""The main window: layout, menus, messages. What the actions do is in the command objects."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor
from functools import partial
from pathlib import Path
from typing import Any

from PySide6.QtCore import QTimer, Signal, Slot
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QLabel, QMainWindow, QVBoxLayout, QWidget

from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.paths import login_name
from rustboard.support.problems import InputError
from rustboard.support.text import printable
from rustboard.ui.actions import ActionSet
from rustboard.ui.agreement_commands import AgreementCommands
from rustboard.ui.ask import Asker
from rustboard.ui.blind_commands import BlindCommands
from rustboard.ui.board_commands import BoardCommands
from rustboard.ui.board_page import BoardPage
from rustboard.ui.boards_desk import BoardsDesk
from rustboard.ui.bridge import JobBridge
from rustboard.ui.conditions import conditions_of
from rustboard.ui.coupon_commands import CouponCommands
from rustboard.ui.coupon_desk import CouponDesk
from rustboard.ui.current_stack import CurrentStack
from rustboard.ui.file_commands import FileCommands
from rustboard.ui.film_commands import FilmCommands
from rustboard.ui.findings_commands import FindingsCommands
from rustboard.ui.handlers import handlers_of
from rustboard.ui.help_commands import HelpCommands
from rustboard.ui.intake_commands import IntakeCommands
from rustboard.ui.message_bar import MessageBar
from rustboard.ui.next_photo_commands import NextPhotoCommands
from rustboard.ui.outline_commands import OutlineCommands
from rustboard.ui.page_commands import PageCommands
from rustboard.ui.photo_commands import PhotoCommands
from rustboard.ui.photo_keeping_commands import PhotoKeepingCommands
from rustboard.ui.placing_commands import PlacingCommands
from rustboard.ui.plan_commands import PlanCommands
from rustboard.ui.practice_commands import PracticeCommands
from rustboard.ui.screen_commands import InView
from rustboard.ui.shelf_commands import ShelfCommands
from rustboard.ui.side_by_side_commands import SideBySideCommands
from rustboard.ui.taking_away import TAKING_AWAY
from rustboard.ui.theme import Scheme, scheme_named
from rustboard.ui.tool_bar import tool_bar
from rustboard.ui.treatment_commands import TreatmentCommands
from rustboard.ui.view_commands import ViewCommands
from rustboard.ui.weather_desk import WeatherDesk
from rustboard.ui.windows import Windows, is_written_by
from rustboard.ui.wording import summary_text

_KEEP_ALIVE_MS = 60_000
_LOOK_AGAIN_MS = 3_000


class MainWindow(QMainWindow):
    """One window on one board, or on all of them.

    Signals:
        closed(object): the window has closed.

    Attributes:
        actions: every action by its id. page: the board shown, or None while all boards are.
        message: the bar for errors and notes. bridge: its jobs.
    """

    closed = Signal(object)

    def __init__(self, windows: Windows, asker: Asker | None = None, executor: Executor | None = None) -> None:
        """Build the window, empty until something is shown; ``asker`` and ``executor`` are handed in by tests."""
        super().__init__()
        self._windows = windows
        self.scheme = scheme_named(windows.settings.scheme)
        self.asker = asker or Asker(self)
        self.bridge = JobBridge(self, executor)
        self.message = MessageBar()
        self.page: BoardPage | None = None
        self._stack = CurrentStack()
        centre = QWidget()
        column = QVBoxLayout(centre)
        column.setContentsMargins(4, 2, 4, 2)
        column.setSpacing(3)
        column.addWidget(self._stack, 1)
        self.message.live_in(column, self)
        self.setCentralWidget(centre)
        self._saved = QLabel()
        self._saved.setProperty("muted", True)
        self.statusBar().addPermanentWidget(self._saved)
        self.statusBar().setSizeGripEnabled(False)
        self.treatments = TreatmentCommands(self, self.asker, self.do)
        self.coupons = CouponCommands(self, self.asker, self.do)
        self.coupon_desk = CouponDesk(self, self.asker, self.do)
        self.board = BoardCommands(self, self.asker, self.do, windows.settings)
        self.files = FileCommands(self, self.asker, self.do, windows.settings, self.bridge, self._open)
        self.view = ViewCommands(self, self.asker, self.do, windows)
        self.plan = PlanCommands(
            self, self.asker, self.do, windows.settings, self.bridge, self.scheme, self._stack, self.treatments
        )
        self.intake = IntakeCommands(self, self.asker, self.do, windows.settings, self.bridge)
        self.placing = PlacingCommands(self, self.asker, self.do, self.bridge, self.scheme)
        self.outlines = OutlineCommands(self, self.asker, self.do, self.bridge, self.scheme)
        self.next_photo = NextPhotoCommands(self, self.asker, self.do, self.bridge, self.scheme)
        self.weather = WeatherDesk(self, self.asker, self.do, windows.settings, self.bridge, self.scheme, self._stack)
        self.films = FilmCommands(self, self.asker, self.do, self.bridge, self.scheme)
        self.keeping = PhotoKeepingCommands(self, self.asker, self.do)
        self.blind = BlindCommands(self, self.asker, self.do, windows.settings, self.bridge, self.scheme, self._stack)
        self.agreement = AgreementCommands(self, self.asker, self.do, self.bridge, self.scheme, self._stack)
        beside = (self.intake, self.placing, self.keeping)
        desk = (self, self.asker, self.do, windows.settings, self.bridge, self.scheme, self._stack)
        self.findings = FindingsCommands(*desk)
        self.pairs = SideBySideCommands(*desk)
        self.boards = BoardsDesk(*desk, self.files)
        self.photos = PhotoCommands(
            self, self.asker, self.do, self.scheme, self._stack, self.bridge, windows.settings, beside
        )
        screens = (self.plan, self.photos, self.pairs, self.agreement, self.weather.screen, self.findings)
        self._screens: tuple[InView, ...] = (*screens, *self.boards.screens())
        self.help = HelpCommands(self, self.asker)
        self.practice = PracticeCommands(self, self.asker, self.bridge, windows.settings, self.scheme)
        self.shelf = ShelfCommands(self, windows.settings, self.bridge, self.scheme, self.boards, self._open)
        self.actions_by_id = ActionSet(self, handlers_of(self), first=self.plan.finish_typing)
        self.coupons.actions = self.help.actions = self.actions_by_id
        self.actions_by_id.fill(self.menuBar())
        self.addToolBar(tool_bar(self.actions_by_id.by_id))
        self._alive, self._again = QTimer(self), QTimer(self)
        self._wire()

    def _wire(self) -> None:
        for each in self._page_commands():
            each.told.connect(self._tell)
            each.failed.connect(self.message.show_error)
        for screen in self._screens:
            screen.changed.connect(self._update_state)
        self.pairs.begun.connect(self.message.forget)
        self.pairs.begun.connect(self.statusBar().clearMessage)
        self.files.made.connect(self.plan.show_screen)
        self.view.changed.connect(self._update_state)
        self.view.keys_resized.connect(self.blind.follow_settings)
        self.view.keys_resized.connect(self.pairs.follow_settings)
        for working in (self.photos.working, self.films.working, self.files.working, *self.boards.workings()):
            working.connect(self.message.show_work)
        self.boards.reports.written.connect(self.message.show_written)
        self.message.open_asked.connect(self.boards.reports.open_written)
        self.message.folder_asked.connect(self.boards.reports.show_folder)
        for stop in (self.files.stop_job, self.photos.stop, self.films.stop, self.boards.stop):
            self.message.stop_asked.connect(stop)
        self.shelf.demo_asked.connect(self._make_demo)
        self.shelf.photos_dropped.connect(self.intake.add_paths)
        self.message.undo_asked.connect(self.undo)
        self.keeping.find_asked.connect(self.boards.relinking.find)
        self.board.blind_wanted.connect(self.blind.start)
        self.blind.reopen_asked.connect(self._reopen)
        self.agreement.blind_asked.connect(self.blind.start)
        self.findings.leave_out_asked.connect(self.coupon_desk.leaving_out.leave_out)
        self.findings.take_back_asked.connect(self.coupon_desk.leaving_out.take_back_in)
        self.blind.mended.connect(self.message.forget)
        self.blind.shelf_asked.connect(self.show_shelf)
        self.blind.changed.connect(self._update_state)
        self.blind.grader_left.connect(self.statusBar().clearMessage)
        self._alive.timeout.connect(self._keep_alive)
        self._again.timeout.connect(self._look_again)

    def _page_commands(self) -> tuple[PageCommands, ...]:
        about_board = (self.coupons, *self.coupon_desk.commands(), self.treatments, self.board, self.files, self.view)
        about_photos = (self.intake, self.placing, self.outlines, self.next_photo, self.photos, self.keeping)
        others = (self.plan, *self.weather.commands(), self.films, self.blind, self.pairs, self.agreement)
        return (*about_board, *about_photos, *others, self.findings, *self.boards.commands())

    # ---- one way for every change

    def do(
        self, operation: Callable[..., Any], *arguments: Any, origin: object = None, joins: int = 0
    ) -> ChangeSet | None:
        """Run an operation on the board; show what the rules or the disk refuse, and return None then.

        With ``joins``, the key of the newest step, it is undone together with that.
        """
        session = self.session()
        if session is None:
            return None
        try:
            changes = session.do(operation, *arguments, origin=origin, joins=joins)
        except InputError as error:
            self.message.show_error(str(error))
            return None
        if changes.tables:
            self.message.hide_note()  # what it told of is no longer the last thing done
            said = summary_text(changes.summary)
            self.statusBar().showMessage(said, 10_000)
            if operation in TAKING_AWAY:
                self.message.show_note(said, undo=True)
        return changes

    def session(self) -> Session | None:
        """Return the session of the board in this window, shown or hidden; None while all boards are."""
        return self.blind.session() if self.page is None else self.page.session

    @Slot()
    def undo(self) -> None:
        """Take the last step back; in a blind round and side by side only what its grader did."""
        if self.page is None:
            self.blind.undo()
        elif self.pairs.is_comparing():
            self.pairs.undo()
        else:
            self.files.undo()

    # ---- boards

    def _open(self, board: Path | None, *, new_window: bool) -> None:
        self._windows.open(board, new_window=new_window, source=self)

    def show_board(self, path: Path) -> bool:
        """Open a board in this window; return False, with the sentence shown, when it cannot be."""
        before = self.session()
        if before is not None and is_written_by(before, path):
            return True  # opened a second time it would find itself in its own way
        try:
            session = Session(path, who=self._windows.settings.grader or login_name())
        except InputError as error:
            self.message.show_error(str(error))
            return False
        self._show_session(session)
        return True

    def _show_session(self, session: Session) -> None:
        self._leave_board()
        self.files.attempt(partial(self._windows.remember, session.folder.resolve()))
        if session.read_only_reason:
            self.message.show_error(session.read_only_reason)
            self._again.start(_LOOK_AGAIN_MS)
        else:
            self._alive.start(_KEEP_ALIVE_MS)
        hidden = session.record.hidden_inspection
        if hidden is None:
            self._show_page(session)
        else:
            self.shelf.forget()
            self.message.forget()
            self.blind.show_page(session, hidden)
        self._update_state()

    def _show_page(self, session: Session) -> None:
        page = BoardPage(session, self.bridge, self.do, self.scheme, self._windows.settings)
        self.page = page
        self._wire_page(page)
        for each in self._page_commands():
            each.attach(page)
        self._stack.addWidget(page)
        self._stack.setCurrentWidget(page)
        page.tiles.canvas.setFocus()

    @Slot(object, int)
    def _reopen(self, folder: Path, inspection: int) -> None:
        """Open a board anew, because an inspection of it was hidden or revealed."""
        hiding = self.page is not None
        self._leave_board()
        if not self.show_board(folder):
            self.show_shelf()
        if hiding:  # what is written beside the window would name, when it is done, what is hidden now
            self.files.stop_job()
            self.boards.stop()
            self.films.stop()
            self._windows.look_at_shelves_again()
        elif self.page is not None and inspection in self.page.session.record.inspections:
            self.page.look_at(inspection)
            self.agreement.show_if_worth(inspection)

    def _wire_page(self, page: BoardPage) -> None:
        page.state_changed.connect(self._update_state)
        page.round_finished.connect(self._round_finished)
        page.told.connect(self._tell)

    def _leave_board(self) -> None:
        self._alive.stop()
        self._again.stop()
        self.message.hide_note()
        self.blind.leave()
        if self.page is None:
            return
        self.message.hide()
        self.statusBar().clearMessage()
        self.page.close_grading()  # a note just typed is still told of
        self.plan.finish_typing()
        page, self.page = self.page, None
        for each in self._page_commands():
            each.attach(None)
        self._stack.removeWidget(page)
        page.session.close()
        page.setParent(None)
        page.deleteLater()

    @Slot()
    def show_shelf(self) -> None:
        """Show all boards; the board in the window is closed, and everything in it is on the disk."""
        self._leave_board()
        screen = self.shelf.screen()
        if self._stack.indexOf(screen) < 0:
            self._stack.addWidget(screen)
        self._stack.setCurrentWidget(screen)
        self.shelf.reload()
        self._update_state()

    # ---- state

    @Slot()
    def _update_state(self) -> None:
        if self.page is not None and self.page.grading_coupon() is not None:
            for screen in self._screens:
                screen.leave()  # a visit was added, or undo went back to a grade: the board is wanted
        true = conditions_of(self.page, away=any(each.is_shown() for each in self._screens))
        if self.pairs.is_comparing():
            true -= {"undo", "redo", "changed"}  # they would take back, and tell of, what is not seen
        if self.blind.can_undo() or self.pairs.can_undo():
            true.add("undo")
        self.actions_by_id.enable(true)
        if self.blind.session() is not None:  # the screen of all boards names each board that it does without
            self.actions_by_id.by_id["findings.learnt"].setEnabled(False)
        self.blind.follow()
        by_id = self.actions_by_id.by_id
        page = self.page
        by_id["board.plan"].setChecked(self.plan.is_shown())
        by_id["photos.show"].setChecked(self.photos.is_shown())
        by_id["weather.show"].setChecked(self.weather.screen.is_shown())
        by_id["inspection.agreement"].setChecked(self.agreement.is_shown())
        by_id["findings.show"].setChecked(self.findings.is_shown())
        by_id["view.table"].setChecked(page is not None and page.tiles.is_table())
        by_id["view.timeline"].setChecked(page is not None and page.has_timeline())
        for name in ("system", "light", "dark", "sunlight"):
            by_id[f"view.{name}"].setChecked(self._windows.settings.scheme == name)
        by_id["view.large_keys"].setChecked(self._windows.settings.large_keys)
        by_id["view.say_grades"].setChecked(self._windows.settings.say_grades)
        session = self.session()
        saved = self.tr("Every change is saved at once") if session is not None else ""
        self._saved.setText(self.tr("Reading only") if session is not None and session.read_only_reason else saved)
        self._show_title()

    def _show_title(self) -> None:
        name = self.tr("All boards") if self.page is None else printable(self.page.session.record.board.name)[:120]
        if self.blind.session() is not None:
            name = self.tr("Blind grading")  # a board may be called by what is hidden
        title = self.tr("{0} – Rustboard").format(name).replace("[*]", "[*][*]")  # Qt's own mark for unsaved work
        if title != self.windowTitle():
            self.setWindowTitle(title)

    @Slot(str)
    def _tell(self, sentence: str) -> None:
        """Show a note; while an error waits to be read, in the status line."""
        self.statusBar().clearMessage()
        if self.message.is_error():
            self.statusBar().showMessage(sentence, 10_000)
        else:
            self.message.show_note(sentence)

    @Slot()
    def _round_finished(self) -> None:
        self._tell(self.tr("Every coupon on the board is graded at this inspection."))

    @Slot()
    def _keep_alive(self) -> None:
        session = self.session()
        if session is not None:
            session.keep_alive()

    @Slot()
    def _look_again(self) -> None:
        session = self.session()
        if session is not None and not self.files.attempt(session.look_for_outside_changes):
            self._again.stop()  # told once; asking again every few seconds would only repeat it

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.scheme = scheme
        self.shelf.set_scheme(scheme)
        about_photos = (self.photos, self.placing, self.outlines, self.next_photo, self.films)
        others = (self.plan, self.pairs, self.blind, self.practice, self.agreement, self.weather, self.findings)
        for each in (*about_photos, *others, self.boards):
            each.set_scheme(scheme)
        if self.page is not None:
            self.page.set_scheme(scheme)
        self._update_state()

    @Slot()
    def _make_demo(self) -> None:
        self._windows.make_demo(self)

    def closeEvent(self, event: QCloseEvent) -> None:
        """Stop the jobs, then close the board; there is nothing to save."""
        self.bridge.close()
        self._leave_board()
        self.closed.emit(self)
        super().closeEvent(event)
