"""Printing, where this installation can; without Qt's printing part the program still writes PDF files."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING

from PySide6.QtCore import QCoreApplication, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QWidget

from rustboard.report.paper.shapes import Page
from rustboard.support.problems import InputError
from rustboard.ui.ask import Asker
from rustboard.ui.paper.renderer import page_layout, print_pages

if TYPE_CHECKING:
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter


@contextmanager
def waiting() -> Iterator[None]:
    """Show the clock while many pages are drawn."""
    QGuiApplication.setOverrideCursor(Qt.CursorShape.WaitCursor)
    try:
        yield
    finally:
        QGuiApplication.restoreOverrideCursor()


def printing_part() -> tuple[type[QPrintDialog], type[QPrinter]]:
    """Return Qt's printing classes, which some installations leave out.

    Raises:
        ImportError: this installation has none.
    """
    from PySide6.QtPrintSupport import QPrintDialog, QPrinter

    return QPrintDialog, QPrinter


def ask_and_print(pages: Sequence[Page], title: str, asker: Asker, parent: QWidget) -> bool:
    """Ask which printer and which pages, and print; return False when the user thinks better of it.

    Raises:
        InputError: there is no way to print here, or the printer refused.
    """
    try:
        print_dialog, printer_kind = printing_part()
    except ImportError:
        say = QCoreApplication.translate
        raise InputError(
            say("paper", "This installation cannot print; save the pages as PDF and print that.")
        ) from None
    printer = printer_kind(printer_kind.PrinterMode.HighResolution)
    printer.setDocName(title)
    printer.setPageLayout(page_layout(pages[0]))
    dialog = print_dialog(printer, parent)
    _prepare(dialog, len(pages))
    if not asker.dialog(dialog):
        return False
    first, last = _range(printer)
    with waiting():
        taken = print_pages(pages, printer, first, last)
    if not taken:
        raise InputError(
            QCoreApplication.translate("paper", "The printer took nothing; check it, or save the pages as PDF.")
        )
    return True


def _prepare(dialog: QPrintDialog, total: int) -> None:
    dialog.setOption(type(dialog).PrintDialogOption.PrintPageRange, True)
    dialog.setMinMax(1, total)


def _range(printer: QPrinter) -> tuple[int, int]:
    """Return the first and last page that were asked for, or 0 and 0 for all."""
    if printer.printRange() != type(printer).PrintRange.PageRange:
        return 0, 0
    return printer.fromPage(), printer.toPage()
