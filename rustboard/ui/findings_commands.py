"""Showing what the board in the window says: its findings, as a screen of their own."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.session.new_board import folder_name
from rustboard.support.files import write_whole
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.ui.charts.view import ChartView
    from rustboard.ui.findings.screen import FindingsScreen


class FindingsCommands(ScreenCommands["FindingsScreen"]):
    """Brings the findings in and out of view.

    Signals:
        leave_out_asked(int), take_back_asked(int): this coupon is to count no longer, or again.
    """

    leave_out_asked = Signal(int)
    take_back_asked = Signal(int)

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
        """Start without a page."""
        super().__init__(window, asker, do, scheme, stack)
        self._settings, self._bridge = settings, bridge

    def _build(self, page: BoardPage) -> FindingsScreen:
        from rustboard.ui.findings.screen import FindingsScreen

        screen = FindingsScreen(page.session, page.weather, self._bridge, self._settings, self._scheme)
        self._wire_screen(screen)
        return screen

    def _wire_screen(self, screen: FindingsScreen) -> None:
        screen.left.connect(self.leave)
        screen.grade_asked.connect(self._grade)
        screen.show_asked.connect(self._show_on_board)
        screen.leave_out_asked.connect(self.leave_out_asked)
        screen.take_back_asked.connect(self.take_back_asked)
        screen.copied.connect(self.told)
        screen.save_asked.connect(self._save)

    @Slot()
    def _grade(self) -> None:
        page = self.page
        if page is not None:
            self.leave()
            page.open_grading(page.current_coupon() or page.session.record.coupons_in_order()[0].key)

    @Slot(object)
    def _show_on_board(self, coupons: frozenset[int]) -> None:
        page = self.page
        if page is None:
            return
        there = set(coupons) & page.session.record.coupons.keys()
        if there:
            self.leave()
            first = next(each.key for each in page.session.record.coupons_in_order() if each.key in there)
            page.session.selection.choose(there, first)
            page.tiles.show_coupon(first)

    @Slot(object)
    def _save(self, view: ChartView) -> None:
        """Ask where a picture is to be kept, and write it: as SVG where its name ends so, else as PNG."""
        chart = view.chart()
        if chart is None or self.page is None:
            return
        name = f"{folder_name(self.page.session.record.board.name)} - {folder_name(chart.title)}.png"
        path = self._asker.save_file(
            self.tr("Save the picture"), self.page.session.folder.parent / name, self.tr("Pictures (*.png *.svg)")
        )
        if path is None:
            return
        try:
            _write(path, view)
        except InputError as error:
            self.failed.emit(str(error))
            return
        self.told.emit(self.tr("The picture was saved as {0}.").format(path.name))


def _write(path: Path, view: ChartView) -> None:
    write_whole(path, view.svg() if path.suffix.casefold() == ".svg" else view.png())
