"""The findings screen: which treatment beat which, how surely, and what the board cannot say."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from rustboard.findings.conclude.findings import Findings
from rustboard.session.changes import ChangeSet
from rustboard.session.findings import View, clocks_for, compared_for, view_of
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.findings.coupons_page import CouponsPage
from rustboard.ui.findings.doubts_page import DoubtsPage
from rustboard.ui.findings.empty_page import NothingGradedPage
from rustboard.ui.findings.figures_table import FiguresTable
from rustboard.ui.findings.findings_words import CLOCKS, COMPARED, MEASURES, say
from rustboard.ui.findings.head import FindingsHead
from rustboard.ui.findings.pictures_page import PicturesPage
from rustboard.ui.findings.tables_of import (
    comparison_columns,
    comparison_rows,
    treatment_columns,
    treatment_rows,
)
from rustboard.ui.findings.verdict_page import VerdictPage
from rustboard.ui.findings.workings import Workings
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme
from rustboard.ui.weather_source import WeatherSource

_UNTOUCHED: Final = frozenset({"recipe", "calendar"})
"""Tables that findings do not depend on."""


class FindingsScreen(OwnScreen):
    """The findings of one board.

    Signals:
        left(): back to the board. coupons_asked(object): these coupons (keys) are to be shown on the board.
        leave_out_asked(int), take_back_asked(int): this coupon is to be left out of the findings, or to count again.
        grade_asked(), inspection_asked(): the next ungraded is to be graded, an inspection to be added.
        told(str): something to note. save_asked(object): a `ChartView` is to be saved as a file.

    Attributes:
        head, tabs: its parts. verdict, pictures, comparisons, treatments, coupons, doubts: its pages.
        empty: in place of all of them while nothing was graded. workings: what is worked out.
    """

    left = Signal()
    coupons_asked = Signal(object)
    leave_out_asked = Signal(int)
    take_back_asked = Signal(int)
    grade_asked = Signal()
    inspection_asked = Signal()
    told = Signal(str)
    save_asked = Signal(object)

    def __init__(
        self,
        session: Session,
        bridge: JobBridge,
        weather: WeatherSource,
        settings: Settings,
        scheme: Scheme,
        parent: QWidget | None = None,
    ) -> None:
        """Build the screen; nothing is worked out before it is shown."""
        super().__init__(parent)
        self._session = session
        self._chosen: View | None = None
        self.head = FindingsHead()
        self.problem = ProblemLine()
        hint = self.tr("Choose a figure to read how it was got.")
        self.verdict, self.pictures = VerdictPage(scheme), PicturesPage(scheme)
        self.comparisons = FiguresTable(self.tr("Comparisons"), hint)
        self.treatments = FiguresTable(self.tr("Treatments"), hint)
        self.coupons, self.doubts = CouponsPage(), DoubtsPage()
        self.empty = NothingGradedPage(session)
        self.workings = Workings(session, bridge, weather, settings, self)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.setUsesScrollButtons(True)
        self._own: tuple[QWidget, ...] = (
            self.verdict, self.pictures, self.comparisons, self.treatments, self.coupons, self.doubts,
        )  # fmt: skip
        titles = (
            self.tr("Ver&dict"), self.tr("Pict&ures"), self.tr("Compar&isons"), self.tr("Treat&ments"),
            self.tr("Coupo&ns"), self.tr("Doubts &and time to stop"),
        )  # fmt: skip
        for page, title in zip(self._own, titles, strict=True):
            self.tabs.addTab(page, title)
        self._middle = QStackedWidget()
        self._middle.addWidget(self.empty)
        self._middle.addWidget(self.tabs)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 2, 6, 2)
        column.setSpacing(4)
        column.addWidget(self.head)
        column.addWidget(self.problem)
        column.addWidget(self._middle, 1)
        self._wire()

    def _wire(self) -> None:
        self.head.left.connect(self.left)
        self.head.changed.connect(self._choose)
        self.head.as_written.connect(self._follow_question)
        self.head.stopped.connect(self.workings.stop)
        self.head.resumed.connect(self.workings.resume)
        self.empty.grade_asked.connect(self.grade_asked)
        self.empty.inspection_asked.connect(self.inspection_asked)
        self.tabs.currentChanged.connect(self._turn_to)
        self.workings.arrived.connect(self._show_found)
        self.workings.moved.connect(self._show_progress)
        self.coupons.leave_out_asked.connect(self.leave_out_asked)
        self.coupons.take_back_asked.connect(self.take_back_asked)
        self.pictures.save_asked.connect(self.save_asked)
        self.verdict.ranking.save_asked.connect(self._ask_save_ranking)
        for asking in (self.verdict, self.coupons, self.doubts):
            asking.coupons_asked.connect(self.coupons_asked)
        for copying in (self.verdict, self.pictures, self.comparisons, self.treatments, self.doubts):
            copying.copied.connect(self.told)
        self.coupons.figures.copied.connect(self.told)
        self._session.feed.subscribe(self._apply)

    def close_feed(self) -> None:
        """Listen to the session no longer and stop what is worked out; the screen is about to go."""
        self._session.feed.unsubscribe(self._apply)
        self.workings.forget()

    def add_page(self, page: QWidget, title: str) -> None:
        """Add a tab that has choices of its own."""
        self.tabs.addTab(page, title)

    # ---- what is shown

    def view(self) -> View:
        """Return how the board is looked at: as the user chose here, else as its question has it."""
        return self._chosen or view_of(self._session.record)

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the screen was away."""
        super().showEvent(event)
        if event.spontaneous():
            return  # a window that was minimised comes back as it was
        self.reload()
        (self.tabs.tabBar() if self._is_graded() else self.empty.begin).setFocus()

    def reload(self) -> None:
        """Show how the board is looked at, and work out what is not there yet."""
        record, graded = self._session.record, self._is_graded()
        self._middle.setCurrentWidget(self.tabs if graded else self.empty)
        self.head.show_view(self.view(), clocks_for(record), compared_for(record), self._otherwise())
        self._turn_to(self.tabs.currentIndex())
        if graded:
            self.workings.want(self.view())
        else:
            self.workings.forget()
            self.empty.show_again()
        self._show_progress()

    def _is_graded(self) -> bool:
        return any(self._session.record.current.values())

    def _otherwise(self) -> str:
        """Return what the board's question asks where it is not what is looked at; else an empty text."""
        record, view = self._session.record, self.view()
        asked = view_of(record)
        if self._chosen is None or view == asked:
            return ""
        text = (
            self.tr("The board's question asks otherwise: {0}, failing grade {1}, by {2}, {3}.")
            if record.question is not None
            else self.tr("The board has no question written down; the usual one is: {0}, failing grade {1}, by {2}, {3}.")
        )
        return text.format(
            say(MEASURES[asked.measure]), asked.failing_grade, say(CLOCKS[asked.clock]), say(COMPARED[asked.compared])
        )

    @Slot()
    def _show_found(self) -> None:
        found = self.workings.found
        if found is None:
            return
        self.verdict.show_findings(found, self.workings.more)
        self.pictures.show_findings(found)
        self.comparisons.show_rows(comparison_columns(found), comparison_rows(found), self._why_no_comparison(found))
        self.treatments.show_rows(treatment_columns(found), treatment_rows(found))
        self.coupons.show_findings(found, writable=not self._session.read_only_reason)
        self.doubts.show_findings(found)

    def _why_no_comparison(self, found: Findings) -> str:
        if found.subject.question.compared == "control":
            return self.tr(
                "There is nothing to compare: a treatment and a control must both have a graded coupon that counts. "
                "Compare all with each other instead (above)."
            )
        return self.tr("There is nothing to compare: two groups must have a graded coupon that counts.")

    @Slot()
    def _show_progress(self) -> None:
        working = self.workings
        self.problem.say("" if working.error is None else str(working.error))
        if working.state == "first":
            self.head.show_working(self.tr("Working it out…"))
        elif working.state == "exact":
            done, total = working.progress
            share = round(100 * done / total) if total else 0
            self.head.show_working(self.tr("Exact tests {0} %…").format(share), done, total)
        elif working.state == "stopped":
            self.head.show_idle(self.tr("Without the exact tests"), resume=True)
        else:
            self.head.show_idle("")

    @Slot(int)
    def _turn_to(self, page: int) -> None:
        self.head.show_choices(self._is_graded() and self.tabs.widget(page) in self._own)

    @Slot()
    def _choose(self) -> None:
        chosen = self.head.view()
        self._chosen = None if chosen == view_of(self._session.record) else chosen
        self.reload()

    @Slot()
    def _follow_question(self) -> None:
        self._chosen = None
        self.reload()
        self.head.measure.setFocus()

    @Slot()
    def _ask_save_ranking(self) -> None:
        self.save_asked.emit(self.verdict.ranking)

    def _apply(self, changes: ChangeSet) -> None:
        if changes.tables.keys() <= _UNTOUCHED:
            return
        self.workings.forget()
        if self.isVisible():
            self.reload()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.verdict.set_scheme(scheme)
        self.pictures.set_scheme(scheme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leads back to the board."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
