"""What the user does to hand a board on: the report in its forms."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, QUrl, Signal, Slot
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QWidget

from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.writing_out import free_name_beside
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.busy_commands import BusyCommands
from rustboard.ui.doing import Do

if TYPE_CHECKING:
    from rustboard.report.choice import Shop
    from rustboard.session.report_choices import ReportChoices
    from rustboard.session.report_forms_wanted import FormTarget
    from rustboard.session.report_targets import TargetHeldError
    from rustboard.session.reporting import ReportRequest
    from rustboard.ui.reporting.dialog import ReportAsked, ReportDialog
    from rustboard.ui.reporting.shop_dialog import ShopDialog

_MOST_NAMED = 3


class ReportCommands(BusyCommands):
    """Commands that write the report of the board in the window.

    Signals:
        written(str): what was written, which `open_written` and `show_folder` then show.
    """

    written = Signal(str)

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings, bridge: JobBridge) -> None:
        """Start without a page."""
        super().__init__(window, asker, do, bridge)
        self._settings = settings
        self._dialog: ReportDialog | None = None
        self._shop_dialog: ShopDialog | None = None
        self._files: list[Path] = []
        self._told_step = ""

    @Slot()
    def report(self) -> None:
        """Ask what the report is to be, then write it beside the window."""
        from rustboard.session.report_choices import ReportChoices

        if self.page is None:
            return
        if self.job is not None and self._bridge.is_waited_for(self.job):
            said = self.tr("A report is being written already; wait until it is done, or stop it first.")
            self.working.emit(said)  # and not told, so that the button that stops it stays
            return
        choices = ReportChoices()
        try:
            dialog = self._made_dialog(choices)
        except InputError as error:
            self._refuse(error)
            return
        if choices.problem:
            dialog.complain(choices.problem)
        self._dialog = dialog
        accepted = self._asker.dialog(dialog)
        self._dialog = None
        asked = dialog.asked()
        dialog.deleteLater()  # it names the board, which may be hidden from now on
        if accepted:
            self._take(asked, choices)

    def _made_dialog(self, choices: ReportChoices) -> ReportDialog:
        from rustboard.session.report_parts import parts_missing
        from rustboard.ui.reporting.dialog import ReportDialog, ReportedBoard
        from rustboard.ui.reporting.usual import clocks_missing, usual_here

        assert self.page is not None
        session = self.page.session
        record = session.record
        remembered = choices.remembered(record.board.customer)
        if not remembered.any:
            remembered = replace(remembered, choice=usual_here(remembered.choice, self._settings.paper))
        board = ReportedBoard(
            record.board.name, record.board.customer, session.folder, parts_missing(record), clocks_missing(record)
        )
        dialog = ReportDialog(board, remembered, wall_clock().date(), self._window)
        self._wire_dialog(dialog)
        return dialog

    def _wire_dialog(self, dialog: ReportDialog) -> None:
        dialog.place_asked.connect(self._choose_place)
        dialog.shop_asked.connect(self._ask_shop)

    @Slot()
    def _choose_place(self) -> None:
        dialog = self._dialog
        if dialog is None:
            return
        start = dialog.place().with_name(f"{dialog.place().name}.xlsx")
        path = self._ask_save(self.tr("Where the report goes"), start, self.tr("Reports (*.xlsx)"), ".xlsx")
        if path is not None:
            dialog.show_place(path.with_name(path.name[: -len(".xlsx")]))

    def _take(self, asked: ReportAsked, choices: ReportChoices) -> None:
        """Remember what was chosen, and begin."""
        from rustboard.session.report_requests import report_request

        if self.page is None:
            return
        session = self.page.session
        try:
            choices.remember(session.record.board.customer, asked.remembered, asked.forms)
        except InputError as error:  # no reason not to write the report
            self.failed.emit(str(error))
        try:
            shop = choices.shop()
            if choices.problem:
                self.failed.emit(choices.problem)
            request = report_request(session, asked.choice, shop, self._settings.grader, wall_clock())
        except InputError as error:
            self._refuse(error)
            return
        self._begin(request, asked.targets, frozenset())

    # ---- writing

    def _begin(self, request: ReportRequest, targets: tuple[FormTarget, ...], replaceable: frozenset[Path]) -> None:
        from rustboard.session.report_forms import step_names, write_forms

        names = step_names(targets)
        self._told_step = ""
        self._tell_progress(names, 0, 1)
        self.job = self._bridge.start(
            "report",
            partial(write_forms, request, targets, replaceable),
            done=self._report_done,
            failed=partial(self._not_written, request, targets, replaceable),
            told=partial(self._tell_progress, names),
            owner=self,
        )

    def _tell_progress(self, names: Sequence[str], done: int, total: int) -> None:
        from rustboard.session.report_forms import STEP_PARTS
        from rustboard.ui.reporting.words import STEP_NAMES, say

        if self.job is not None and self.job.cancelled:
            return
        at = min(done // STEP_PARTS, len(names) - 1)
        what = say(STEP_NAMES[names[at]])
        said = self.tr("Report: {0} (step {1} of {2})…").format(what, at + 1, len(names))
        if said != self._told_step:
            self._told_step = said
            self.working.emit(said)

    def _report_done(self, files: list[Path]) -> None:
        self._files = files
        names = ", ".join(each.name for each in files[:_MOST_NAMED])
        if len(files) > _MOST_NAMED:
            names = self.tr("{0} and {1} more").format(names, len(files) - _MOST_NAMED)
        said = self.tr("Wrote {0} in {1}").format(names, str(files[0].parent))
        self.told.emit(said)  # in the status line, while an error waits to be read
        self.written.emit(said)

    def _not_written(
        self,
        request: ReportRequest,
        targets: tuple[FormTarget, ...],
        replaceable: frozenset[Path],
        error: InputError,
    ) -> None:
        from rustboard.session.report_targets import TargetHeldError

        self.told.emit(self.tr("The report was not written; the files are as they were."))
        if not isinstance(error, TargetHeldError):
            self._refuse(error)
            return
        try:
            self._offer_other_name(request, targets, replaceable, error)
        except InputError as other:
            self._refuse(other)

    def _offer_other_name(
        self,
        request: ReportRequest,
        targets: tuple[FormTarget, ...],
        replaceable: frozenset[Path],
        error: TargetHeldError,
    ) -> None:
        from rustboard.ui.reporting.held_dialog import HeldDialog

        held = error.held
        free = free_name_beside(held.path)
        dialog = HeldDialog(held, free, self._window)
        if not self._asker.dialog(dialog):
            self._refuse(error)
        elif dialog.replace:
            self._begin(request, targets, replaceable | {held.path})
        else:
            others = tuple(replace(each, path=free) if each.path == held.path else each for each in targets)
            self._begin(request, others, replaceable)

    @Slot()
    def open_written(self) -> None:
        """Open the first file of the report in the program that the desktop has for it."""
        if self._files:
            self._show(self._files[0])

    @Slot()
    def show_folder(self) -> None:
        """Show the folder that the report is in."""
        if self._files:
            self._show(self._files[0].parent)

    def _show(self, path: Path) -> None:
        if not QDesktopServices.openUrl(QUrl.fromLocalFile(str(path))):
            self.failed.emit(self.tr("This computer has no program that opens {0}").format(str(path)))

    # ---- the shop

    @Slot()
    def _ask_shop(self) -> None:
        from rustboard.report.choice import Shop
        from rustboard.session.report_choices import ReportChoices
        from rustboard.ui.reporting.shop_dialog import ShopDialog

        if self._dialog is None:
            return
        choices = ReportChoices()
        shop: Shop = Shop()
        try:
            shop = choices.shop()
        except InputError as error:
            self._dialog.complain(str(error))
            return
        dialog = ShopDialog(shop, self._dialog)
        if choices.problem:
            dialog.complain(choices.problem)
        self._wire_shop(dialog)
        self._shop_dialog = dialog
        accepted = self._asker.dialog(dialog)
        self._shop_dialog = None
        if accepted:
            try:
                choices.keep_shop(dialog.shop())
            except InputError as error:
                self._dialog.complain(str(error))

    def _wire_shop(self, dialog: ShopDialog) -> None:
        dialog.picture_asked.connect(self._choose_logo)

    @Slot()
    def _choose_logo(self) -> None:
        from rustboard.session.shop_logo import logo_from

        dialog = self._shop_dialog
        if dialog is None:
            return
        kinds = QCoreApplication.translate("files", "Pictures (*.png *.jpg *.jpeg)")
        path = self._asker.open_file(self.tr("Your shop's logo"), Path.home(), kinds)
        if path is not None:
            self._bridge.start(
                ("logo", id(self)), logo_from, path,
                done=dialog.show_logo, failed=self._no_logo, owner=dialog,
            )  # fmt: skip

    def _no_logo(self, error: InputError) -> None:
        if self._shop_dialog is not None:
            self._shop_dialog.complain(str(error))
