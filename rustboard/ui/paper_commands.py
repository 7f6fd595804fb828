"""What the user does with paper: preview, PDF, printer."""

from __future__ import annotations

import contextlib
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QWidget

from rustboard.support.files import write_whole
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.support.text import one_line
from rustboard.ui.ask import Asker
from rustboard.ui.doing import Do
from rustboard.ui.page_commands import PageCommands

if TYPE_CHECKING:
    from rustboard.ui.paper.dialog import PaperDialog


class PaperCommands(PageCommands):
    """Commands about maps, labels, markers and grading sheets of the page in the window."""

    def __init__(self, window: QWidget, asker: Asker, do: Do, settings: Settings) -> None:
        """Start without a page; ``settings`` remember the size of paper."""
        super().__init__(window, asker, do)
        self._settings = settings
        self._dialog: PaperDialog | None = None

    @Slot()
    def paper(self) -> None:
        """Show what can be printed of the board, as it will be on paper."""
        from rustboard.ui.paper.dialog import PaperDialog

        if self.page is None:
            return
        dialog = PaperDialog(self.page.session.record.snapshot(), self._window, paper=self._settings.paper)
        self._wire_dialog(dialog)
        self._dialog = dialog
        self._asker.dialog(dialog)
        self._dialog = None
        if dialog.paper_chosen:
            self._settings.paper = dialog.paper_chosen
            # Only a convenience for the next time: a disk that refuses is no reason to interrupt.
            with contextlib.suppress(InputError):
                save_settings(self._settings)

    def _wire_dialog(self, dialog: PaperDialog) -> None:
        dialog.save_asked.connect(self._save)
        dialog.print_asked.connect(self._print)

    @Slot()
    def _save(self) -> None:
        """Write the pages into a PDF file, whole or not at all."""
        dialog, page = self._dialog, self.page
        if dialog is None or page is None:
            return
        title = page.session.record.board.name
        start = page.session.folder / f"{page.session.folder.name}.pdf"
        path = self._ask_save(self.tr("Save as PDF"), start, self.tr("PDF files (*.pdf)"), ".pdf")
        if path is not None and self.attempt(lambda: self._write(path, dialog, title)):
            self._say(dialog, self.tr("Wrote {0}").format(one_line(str(path))))

    def _write(self, path: Path, dialog: PaperDialog, title: str) -> None:
        from rustboard.ui.paper.printing import waiting
        from rustboard.ui.paper.renderer import pdf_of

        with waiting():
            content = pdf_of(dialog.pages(), one_line(title))
        write_whole(path, content)

    @Slot()
    def _print(self) -> None:
        """Ask for a printer and print the pages."""
        from rustboard.ui.paper.printing import ask_and_print

        dialog, page = self._dialog, self.page
        if dialog is None or page is None:
            return
        title = one_line(page.session.record.board.name)
        self.attempt(lambda: self._printed(ask_and_print(dialog.pages(), title, self._asker, dialog)))

    def _printed(self, sent: bool) -> None:
        if sent and self._dialog is not None:
            self._say(
                self._dialog, self.tr("Sent to the printer. Measure the scale bar on the paper before you drill.")
            )

    def _refuse(self, error: InputError) -> None:
        """Show what was refused, in the dialog in which it happened as well."""
        if self._dialog is not None:
            self._dialog.complain(str(error))
        super()._refuse(error)

    def _say(self, dialog: PaperDialog, sentence: str) -> None:
        dialog.note(sentence)
        self.told.emit(sentence)
