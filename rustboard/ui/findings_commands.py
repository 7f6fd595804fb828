"""Showing what the board in the window says: its findings, as a screen of their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QScrollArea, QStackedWidget, QWidget

from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.board_page import BoardPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.chart_saving import save_chart
from rustboard.ui.doing import Do
from rustboard.ui.screen_commands import ScreenCommands
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.session.guest_board import GuestBoard
    from rustboard.ui.charts.view import ChartView
    from rustboard.ui.findings.screen import FindingsScreen
    from rustboard.ui.several.page import SeveralPage


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
        self._several: SeveralPage | None = None

    def _build(self, page: BoardPage) -> FindingsScreen:
        from rustboard.ui.findings.screen import FindingsScreen
        from rustboard.ui.several.page import SeveralPage

        screen = FindingsScreen(page.session, page.weather, self._bridge, self._settings, self._scheme)
        several = SeveralPage(self._settings, self._bridge, self._asker, self._scheme, page.session.folder)
        if page.session.record.question is not None:
            several.take_question(page.session.record.question)
        screen.add_page(_scrolling(several), self.tr("Severa&l boards"))
        self._several = several
        self._wire_screen(screen)
        self._wire_several(several)
        return screen

    def attach(self, page: BoardPage | None) -> None:
        """Serve another page; the screen of the one before goes."""
        self._several = None
        super().attach(page)

    def _wire_screen(self, screen: FindingsScreen) -> None:
        screen.left.connect(self.leave)
        screen.grade_asked.connect(self._grade)
        screen.show_asked.connect(self._show_on_board)
        screen.leave_out_asked.connect(self.leave_out_asked)
        screen.take_back_asked.connect(self.take_back_asked)
        screen.copied.connect(self.told)
        screen.save_asked.connect(self._save)

    def _wire_several(self, several: SeveralPage) -> None:
        several.laid_over.connect(self._lay_over)
        several.copied.connect(self.told)
        several.save_asked.connect(self._save)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        super().set_scheme(scheme)
        if self._several is not None:
            self._several.set_scheme(scheme)

    @Slot(object)
    def _lay_over(self, guest: GuestBoard) -> None:
        """Go to the board, with another one laid over its timeline."""
        page = self.page
        if page is None:
            return
        self.leave()
        page.show_timeline(True)
        if page.timeline is not None:
            page.timeline.guest.lay_over(guest)

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
        """Ask where a picture is to be kept, and write it."""
        if self.page is None:
            return
        session = self.page.session
        path = save_chart(view, self._asker, session.folder.parent, self._refuse, session.record.board.name)
        if path is not None:
            self.told.emit(self.tr("The picture was saved as {0}.").format(path.name))


def _scrolling(page: QWidget) -> QScrollArea:
    """Return a page that scrolls where the window has no room for it."""
    scroll = QScrollArea()
    scroll.setWidgetResizable(True)
    scroll.setFrameShape(QFrame.Shape.NoFrame)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    page.setMinimumWidth(1)  # in a narrow window it puts below what stands beside
    scroll.setWidget(page)
    return scroll
