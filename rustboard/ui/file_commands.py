"""What the user does with whole boards: open, make, copy, undo."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QCoreApplication, Signal, Slot
from PySide6.QtWidgets import QWidget

from rustboard.board.model import Plan
from rustboard.support.paths import login_name
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do
from rustboard.ui.theme import scheme_named
from rustboard.ui.wording import summary_text

_MOST_SHOWN = 6


def _row_of(problem: Problem) -> int:
    return problem.row or 0


class Opener(Protocol):
    """Whoever opens boards in windows."""

    def __call__(self, board: Path | None, *, new_window: bool) -> None:
        """Open a board, or the shelf."""


class FileCommands(BusyCommands):
    """Commands about whole boards. The readers and makers of boards are imported when they are first needed.

    Signals:
        made(): a new board was made by description alone and is open; it wants a plan.
    """

    made = Signal()

    def __init__(
        self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge, opener: Opener
    ) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, bridge)
        self._settings, self._open = settings, opener

    # ---- opening and making

    @Slot()
    def open_other(self) -> None:
        """Open a board from anywhere."""
        kinds = QCoreApplication.translate("files", "Boards (board.rustboard *.rustboard *.rustboard-pack)")
        path = self._asker.open_file(self.tr("Open a board"), self._settings.boards_path(), kinds)
        if path is not None:
            self._open(path, new_window=False)

    @Slot(object)
    def open_board(self, board: Path) -> None:
        """Open a board (its folder or file) in this window."""
        self._open(board, new_window=False)

    @Slot()
    def second_window(self) -> None:
        """Open another window on all boards."""
        self._open(None, new_window=True)

    @Slot()
    def new(self) -> None:
        """Describe a new board and open it."""
        from rustboard.ui.dialogs.board import BoardDialog

        dialog = BoardDialog(None, self._window, new=True)
        if self._asker.dialog(dialog) and self._make(Plan(dialog.board())):
            self.made.emit()

    @Slot()
    def from_plan(self) -> None:
        """Show what a plan file holds and lacks; make a board from it when the user agrees."""
        from rustboard.session.new_board import free_name, preview_plan
        from rustboard.ui.dialogs.plan_preview import PlanPreviewDialog

        kinds = QCoreApplication.translate("files", "Plans (*.json *.csv *.xlsx)")
        path = self._asker.open_file(self.tr("A plan for a new board"), self._settings.boards_path(), kinds)
        if path is None:
            return
        try:
            preview = preview_plan(path)
        except InputError as error:
            self._refuse(error)
            return
        board = preview.plan.board
        named = replace(preview.plan, board=replace(board, name=free_name(self._settings.boards_path(), board.name)))
        dialog = PlanPreviewDialog(replace(preview, plan=named), scheme_named(self._settings.scheme), self._window)
        if self._asker.dialog(dialog):
            self._make(dialog.plan())

    def _make(self, plan: Plan) -> bool:
        """Make a board in the boards folder and open it; return whether the disk let it."""
        from rustboard.session.new_board import create_from_plan, free_folder

        folder = free_folder(self._settings.boards_path(), plan.board.name)
        made = self.attempt(lambda: create_from_plan(folder, plan, who=self._settings.grader or login_name()))
        if made:
            self._open(folder, new_window=False)
        return made

    @Slot()
    def save_plan(self) -> None:
        """Write the plan of the board in the window as a file from which the same board can be made again."""
        from rustboard.session.plan_files import save_plan

        if self.page is None:
            return
        session = self.page.session
        start = session.folder.parent / f"{session.folder.name} plan.json"
        path = self._ask_save(self.tr("Save the plan"), start, self.tr("Plans (*.json)"), ".json")
        if path is not None and self.attempt(lambda: save_plan(session.record, path)):
            self.told.emit(self.tr("Saved the plan as {0}").format(str(path)))

    def make_like(self, source: Path) -> None:
        """Make a board like another."""
        from rustboard.session.new_board import free_folder, like

        name = self._ask_name(self.tr("New board like this one"), self.tr("{0} 2").format(source.name))
        if name:
            folder = free_folder(self._settings.boards_path(), name)
            if self.attempt(lambda: like(source, folder, name, who=self._settings.grader or login_name())):
                self._open(folder, new_window=False)

    @Slot()
    def like_this(self) -> None:
        """Make a board like the one in the window."""
        if self.page is not None:
            self.make_like(self.page.session.folder)

    def make_copy(self, source: Path, afterwards: Callable[[], None] | None = None) -> None:
        """Copy a board (its folder or file) into the boards folder, under a new name; then call ``afterwards``."""
        from rustboard.session.new_board import copy_board, free_folder

        called = source.parent.name if source.is_file() else source.name
        name = self._ask_name(self.tr("Save a copy"), self.tr("{0} copy").format(called))
        if not name:
            return
        folder = free_folder(self._settings.boards_path(), name)

        def done(copy: Path) -> None:
            self.told.emit(self.tr("Saved a copy as {0}").format(str(copy)))
            if afterwards is not None:
                afterwards()

        def told(number: int, total: int) -> None:
            self.working.emit(self.tr("Copying: {0} of {1}").format(number, total))

        copying = partial(copy_board, who=self._settings.grader or login_name())
        self.working.emit(self.tr("Copying…"))
        self.job = self._bridge.start(
            ("copy", folder), copying, source, folder, name, done=done, failed=self._refuse, told=told, owner=self
        )

    @Slot()
    def copy_this(self) -> None:
        """Copy the board in the window."""
        if self.page is not None:
            self.make_copy(self.page.session.file)

    def _ask_name(self, title: str, text: str) -> str:
        from rustboard.ui.dialogs.name import NameDialog

        dialog = NameDialog(title, self.tr("Name of the board"), text, self._window)
        return dialog.text() if self._asker.dialog(dialog) else ""

    # ---- grades, record

    @Slot()
    def grades_from_file(self) -> None:
        """Add grades typed elsewhere; rows that cannot be used are told and left out."""
        from rustboard.board.csv_table import MOST_BYTES
        from rustboard.board.grades_csv import read_grades_csv
        from rustboard.operations.typed_grades import add_typed_grades, match_typed_grades
        from rustboard.support.files import read_bounded

        kinds = QCoreApplication.translate("files", "Tables (*.csv *.txt *.tsv)")
        path = self._asker.open_file(self.tr("Grades typed elsewhere"), self._settings.boards_path(), kinds)
        if path is None or self.page is None:
            return
        try:
            typed, problems = read_grades_csv(read_bounded(path, MOST_BYTES), path.name)
        except InputError as error:
            self._refuse(error)
            return
        matched, unmatched = match_typed_grades(self.page.session.record, typed, path.name)
        if matched and self._do(add_typed_grades, matched) is None:
            return
        self._tell_problems([*problems, *unmatched])
        if not problems and not unmatched:
            self.told.emit(self.tr("Added {0} grades from {1}").format(len(matched), path.name))

    def _tell_problems(self, problems: list[Problem]) -> None:
        if not problems:
            return
        ordered = sorted(problems, key=_row_of)
        if len(ordered) > _MOST_SHOWN:
            from rustboard.ui.dialogs.left_out import LeftOutDialog

            self.failed.emit(
                self.tr("Some of the file was left out ({0} problems); the rest was taken over.").format(len(ordered))
            )
            self._asker.dialog(LeftOutDialog(ordered, self._window))
            return
        lines = [each.sentence() for each in ordered]
        self.failed.emit("\n".join([self.tr("The rest was taken over; these were left out:"), *lines]))

    @Slot()
    def audit(self) -> None:
        """Show the record of changes."""
        from rustboard.ui.dialogs.audit import AuditDialog

        if self.page is not None:
            patterns = {"undo": self.tr("Undone: {0}"), "redo": self.tr("Done again: {0}")}
            lines = [
                (at, who, patterns.get(operation, "{0}").format(summary_text(what)))
                for at, who, operation, what in self.page.session.audit()
            ]
            self._asker.dialog(AuditDialog(lines, self._window))

    # ---- undo

    @Slot()
    def undo(self) -> None:
        """Take the last step back."""
        self._step(self.tr("Undone: {0}"), undo=True)

    @Slot()
    def redo(self) -> None:
        """Do the last undone step again."""
        self._step(self.tr("Done again: {0}"), undo=False)

    def _step(self, pattern: str, *, undo: bool) -> None:
        if self.page is None:
            return
        session = self.page.session
        try:
            changes = session.undo() if undo else session.redo()
        except InputError as error:
            self._refuse(error)
            return
        if changes is None:
            return
        self.page.show_step(changes)
        self.told.emit(pattern.format(summary_text(changes.summary)))

    @Slot()
    def go_back(self) -> None:
        """Undo all that was done since the board was opened."""
        if self.page is not None:
            session = self.page.session
            if self.attempt(session.go_back_to_opening):
                self.told.emit(self.tr("Back to how the board was when you opened it. Redo brings it all back."))
