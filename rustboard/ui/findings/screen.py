"""The findings screen: which treatment beat which, how sure that is, and what the board cannot say."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QShowEvent
from PySide6.QtWidgets import QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from rustboard.session.changes import ChangeSet
from rustboard.session.findings import View, asked, first_findings, whole_findings
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.findings.comparisons_page import ComparisonsPage
from rustboard.ui.findings.coupons_page import CouponsPage
from rustboard.ui.findings.doubts_page import DoubtsPage
from rustboard.ui.findings.empty_page import NothingGradedPage
from rustboard.ui.findings.head import FindingsHead
from rustboard.ui.findings.pictures_page import PicturesPage
from rustboard.ui.findings.treatments_page import TreatmentsPage
from rustboard.ui.findings.verdict_page import VerdictPage
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme
from rustboard.ui.weather_source import WeatherSource

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings

_MADE_FROM: Final = (
    "grading", "coupon", "treatment", "inspection", "board", "question", "layout", "lot", "calendar", "disturbance",
    "day_note", "weather_file", "left_out", "recipe", "blind_inspection",
)  # fmt: skip
"""Tables from which findings are made."""


class FindingsScreen(OwnScreen):
    """What one board shows.

    Signals:
        left(): back to the board. grade_asked(): to the board, to grade.
        show_asked(object): coupons, a set of keys, are to be shown on the board.
        leave_out_asked(int), take_back_asked(int): this coupon is to count no longer, or again.
        copied(str): something was copied, to be told. save_asked(object): a picture, a `ChartView`, is to be saved.

    Attributes:
        head: how the board is looked at. tabs: the pages. findings: what is shown, or None.
    """

    left = Signal()
    grade_asked = Signal()
    show_asked = Signal(object)
    leave_out_asked = Signal(int)
    take_back_asked = Signal(int)
    copied = Signal(str)
    save_asked = Signal(object)

    def __init__(
        self,
        session: Session,
        weather: WeatherSource,
        bridge: JobBridge,
        settings: Settings,
        scheme: Scheme,
        parent: QWidget | None = None,
    ) -> None:
        """Build the screen; nothing is worked out before it is shown."""
        super().__init__(parent)
        self._session, self._weather, self._bridge, self._settings = session, weather, bridge, settings
        self._job: Progress | None = None
        self._stale = True
        self._answered = False
        self.findings: Findings | None = None
        self.head = FindingsHead()
        self.problem = ProblemLine()
        self.verdict, self.pictures = VerdictPage(scheme), PicturesPage(scheme)
        self.comparisons, self.treatments = ComparisonsPage(scheme), TreatmentsPage(scheme)
        self.coupons, self.doubts = CouponsPage(scheme), DoubtsPage(scheme)
        self.empty = NothingGradedPage(session)
        self.tabs = QTabWidget()
        self._pages = QStackedWidget()
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        self.tabs.setDocumentMode(True)
        self.tabs.setUsesScrollButtons(True)
        for page, title in (
            (self.verdict, self.tr("Ver&dict")),
            (self.pictures, self.tr("P&ictures")),
            (self.comparisons, self.tr("Comparison&s")),
            (self.treatments, self.tr("T&reatments")),
            (self.coupons, self.tr("Co&upons")),
            (self.doubts, self.tr("Doubts, a&nd time to stop")),
        ):
            self.tabs.addTab(page, title)
        self._pages.addWidget(self.empty)
        self._pages.addWidget(self.tabs)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 2, 6, 2)
        column.setSpacing(4)
        column.addWidget(self.head)
        column.addWidget(self.problem)
        column.addWidget(self._pages, 1)

    def _wire(self) -> None:
        self.head.left.connect(self.left)
        self.head.chosen.connect(self.reload)
        self.head.stop_asked.connect(self.stop)
        self.head.again_asked.connect(self._work_out_the_rest)
        self.empty.left.connect(self.left)
        self.empty.grade_asked.connect(self.grade_asked)
        for page in (self.verdict, self.pictures):
            page.copied.connect(self.copied)
            page.save_asked.connect(self.save_asked)
        self.coupons.leave_out_asked.connect(self.leave_out_asked)
        self.coupons.take_back_asked.connect(self.take_back_asked)
        for asking in (self.verdict, self.coupons, self.doubts):
            asking.show_asked.connect(self.show_asked)
        for copying in (self.comparisons, self.treatments, self.coupons, self.doubts):
            copying.copied.connect(self.copied)
        self.tabs.currentChanged.connect(self._turn_to)
        self._weather.arrived.connect(self._follow_weather)
        self._session.feed.subscribe(self._apply)

    def close_feed(self) -> None:
        """Listen to the session no longer; the screen is about to go."""
        self._session.feed.unsubscribe(self._apply)
        if self._job is not None:
            self._job.cancel()

    def add_page(self, page: QWidget, title: str) -> None:
        """Add a tab."""
        self.tabs.addTab(page, title)

    @Slot(int)
    def _turn_to(self, page: int) -> None:
        self.head.apply_here(self.tabs.widget(page) in self._own_pages())

    def _own_pages(self) -> tuple[QWidget, ...]:
        return (self.verdict, self.pictures, self.comparisons, self.treatments, self.coupons, self.doubts)

    # ---- what is shown

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the screen was away."""
        super().showEvent(event)
        if event.spontaneous():
            return  # a window that was minimised comes back as it was
        if self._stale:
            self.reload()
        self.take_keyboard()

    def take_keyboard(self) -> None:
        """Put the keyboard where it is most likely wanted."""
        page = self._pages.currentWidget()
        (self.tabs.currentWidget() or self.tabs if page is self.tabs else self.empty.first()).setFocus()

    def view(self) -> View:
        """Return how the board is looked at."""
        return self.head.show_choices(self._session.record)

    @Slot()
    def reload(self) -> None:
        """Work the findings out anew, beside the window: a first answer, then all of it."""
        self._end_work()
        self._answered = False
        self.problem.say("")
        record = self._session.record
        view = self.view()
        self.coupons.set_writable(self._session.read_only_reason == "")
        if not any(record.current.values()):
            self._stale, self.findings = False, None
            self.empty.show_again()
            self._pages.setCurrentWidget(self.empty)
            self.head.show_working(None)
            return
        self._pages.setCurrentWidget(self.tabs)
        self._stale = False
        try:
            wanted = asked(self._session, view, self._settings, self._weather.track())
        except InputError as error:
            self._fail(error)
            return
        self.head.offer_again(False)
        self.head.show_working((0, 0), self.tr("Working out a first answer…"))
        job = self._bridge.start(
            ("findings", id(self)), first_findings, wanted, done=self._show_first, failed=self._fail, owner=self
        )
        self._remember(job)

    def _remember(self, job: Progress) -> None:
        """Keep a job to stop it; an inline pool of a test is done, and may have begun another, within the start."""
        if self._bridge.is_waited_for(job):
            self._job = job

    def _show_first(self, findings: Findings) -> None:
        self._job = None
        self._show(findings)
        self._work_out_the_rest()

    @Slot()
    def _work_out_the_rest(self) -> None:
        self.head.offer_again(False)
        try:
            wanted = asked(self._session, self.view(), self._settings, self._weather.track())
        except InputError as error:
            self._fail(error)
            return
        self._tell(0, 0)
        job = self._bridge.start(
            ("findings", id(self)),
            whole_findings,
            wanted,
            done=self._show_whole,
            failed=self._fail,
            told=self._tell,
            owner=self,
        )
        self._remember(job)

    def _show_whole(self, findings: Findings) -> None:
        self._job = None
        self.head.show_working(None)
        self._show(findings)

    def _show(self, findings: Findings) -> None:
        self.findings, self._answered = findings, True
        self._show_whether_answered()
        for page in (self.verdict, self.pictures, self.comparisons, self.treatments, self.coupons, self.doubts):
            page.show_findings(findings)

    def _tell(self, done: int, total: int) -> None:
        words = self.tr("The exact tests and the forecast are being worked out…")
        # Never full before the end: the last part would seem to hang.
        self.head.show_working((done, total + 1 if total else 0), words)

    def _fail(self, error: InputError) -> None:
        self._job = None
        self.head.show_working(None)
        self.problem.say(error.problem.what)
        self._show_whether_answered()

    def _show_whether_answered(self) -> None:
        """Show pages of an earlier view as such: grey, so that they are not taken for an answer to this one."""
        for page in self._own_pages():
            page.setEnabled(self._answered)

    @Slot()
    def stop(self) -> None:
        """Stop working out the rest; what is there stays."""
        self._end_work()
        if self._answered:
            words = self.tr("Stopped: the exact tests and the forecast are missing.")
        else:
            words = self.tr("Stopped before there was an answer.")
        self.head.show_working(None, words)
        self.head.offer_again(True)
        self._show_whether_answered()

    def _end_work(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job = None

    # ---- what changes

    def _apply(self, changes: ChangeSet) -> None:
        if not changes.touches(*_MADE_FROM):
            return
        self._stale = True
        if self.isVisible():
            self.reload()

    @Slot()
    def _follow_weather(self) -> None:
        if self.view().clock not in ("wet hours", "rain"):
            return
        self._stale = True
        if self.isVisible():
            self.reload()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for page in (self.verdict, self.pictures, self.comparisons, self.treatments, self.coupons, self.doubts):
            page.set_scheme(scheme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leads back to the board."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
