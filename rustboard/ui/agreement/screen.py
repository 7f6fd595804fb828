"""The agreement screen: how graders agree in words and figures, and the coupons on which they differ."""

from __future__ import annotations

from typing import Final

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QSplitter, QStackedWidget, QVBoxLayout, QWidget

from rustboard.session.agreement import AgreementRequest, Scope, StudiedAgreement, revealed, study_grades
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.ui.agreement.coupons_pane import CouponsPane
from rustboard.ui.agreement.empty_page import NothingBlindPage
from rustboard.ui.agreement.head import AgreementHead
from rustboard.ui.agreement.words_panel import WordsPanel
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import date_only, date_time

_NARROW: Final = 980
_WORDS_SHARE: Final = 0.33
_STUDIED: Final = ("blind_inspection", "blind_round", "blind_grade", "inspection", "coupon", "treatment", "photo",
                   "measurement", "stroke", "excluded_area", "disturbance", "board")  # fmt: skip
"""Tables that a study is made from, or whose names it says."""
_PICTURED: Final = ("photo", "coupon", "board", "excluded_area")


class AgreementScreen(OwnScreen):
    """How the graders of one board agree.

    Signals:
        left(): back to the board. blind_asked(): the inspection in view is to be graded blind.

    Attributes:
        head, words, coupons: its parts. empty: shown while nothing was graded blind.
        studied: what is shown, or None.
    """

    left = Signal()
    blind_asked = Signal()

    def __init__(
        self, session: Session, bridge: JobBridge, do: Do, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Build the screen; nothing is studied before it is shown."""
        super().__init__(parent)
        self._session, self._bridge = session, bridge
        self._wanted: Scope | None = None
        self.studied: StudiedAgreement | None = None
        self.head = AgreementHead()
        self.words = WordsPanel(scheme)
        self.coupons = CouponsPane(session, bridge, do, scheme)
        self.empty = NothingBlindPage(session)
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.words)
        self._split.addWidget(self.coupons)
        self._narrow, self._shared = False, False
        self._pages = QStackedWidget()
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        study = QWidget()
        column = QVBoxLayout(study)
        column.setContentsMargins(4, 2, 4, 2)
        column.setSpacing(4)
        column.addWidget(self.head)
        column.addWidget(self._split, 1)
        self._pages.addWidget(self.empty)
        self._pages.addWidget(study)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(2, 0, 2, 2)
        whole.addWidget(self._pages)

    def _wire(self) -> None:
        self.head.left.connect(self.left)
        self.head.chosen.connect(self._choose)
        self.head.blind_asked.connect(self.blind_asked)
        self.empty.left.connect(self.left)
        self.empty.blind_asked.connect(self.blind_asked)
        self._session.feed.subscribe(self._apply)

    def close_feed(self) -> None:
        """Listen to the session no longer; the screen is about to go."""
        self._session.feed.unsubscribe(self._apply)

    # ---- what is shown

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the screen was away."""
        super().showEvent(event)
        if event.spontaneous():
            return  # a window that was minimised comes back as it was
        self.reload()
        if self._pages.currentIndex() == 1:
            (self.coupons.list if self.coupons.list.rows() else self.head.box).setFocus()

    def choose_inspection(self, inspection: int) -> None:
        """Bring the agreement at one blind inspection into view."""
        self._wanted = Scope("one", inspection)
        self.reload()

    def reload(self) -> None:
        """Study anew what is chosen, beside the window."""
        record = self._session.record
        scope = self.head.show_scopes(record, self._wanted)
        self._wanted = None
        inspection = None if self._session.read_only_reason else self._session.selection.inspection
        self.head.offer_blind(inspection is not None and not revealed(record))
        self._pages.setCurrentIndex(0 if scope is None else 1)
        if scope is None:
            self.studied = None
            self.empty.show_again()
            return
        inspections = record.inspections_in_order()
        days = {each.key: date_only(each.at) for each in inspections}
        if len(set(days.values())) < len(days):  # two on one day
            days = {each.key: date_time(each.at) for each in inspections}
        self.head.state.setText(self.tr("Comparing the grades…"))
        request = AgreementRequest(record.snapshot(), scope, days)
        self._bridge.start(
            ("agreement", id(self)), study_grades, request, done=self._show, failed=self._fail, owner=self
        )

    def _show(self, studied: StudiedAgreement) -> None:
        self.studied = studied
        self.head.state.setText("")
        self.words.show_study(studied)
        had_keyboard = self.head.box.hasFocus()
        self.coupons.show_differing(studied.differing, several=len(studied.inspections) > 1)
        if had_keyboard:
            self.head.box.setFocus()

    def _fail(self, error: InputError) -> None:
        self.head.state.setText(str(error))

    @Slot()
    def _choose(self) -> None:
        self.reload()

    def _apply(self, changes: ChangeSet) -> None:
        if changes.touches(*_PICTURED):
            self.coupons.forget_pictures()
        if not self.isVisible():
            return  # it is studied anew when it is shown next
        openly = self.studied is not None and self.studied.scope.kind == "open"
        if changes.touches(*_STUDIED) or (openly and changes.touches("grading")) or self.studied is None:
            self.reload()
        elif changes.touches("grading"):
            self.coupons.refresh()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.words.set_scheme(scheme)
        self.coupons.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a small window the coupons are one tab more."""
        super().resizeEvent(event)
        narrow = event.size().width() < _NARROW
        if narrow != self._narrow:
            self._narrow = narrow
            self._shared = False
            if narrow:
                self.words.insertTab(0, self.coupons, self.tr("&Coupons"))
            else:
                self.words.removeTab(self.words.indexOf(self.coupons))
                self._split.addWidget(self.coupons)
                self.coupons.show()
        if not narrow and not self._shared:  # afterwards the two keep the share that a person gave them
            self._shared = True
            width = event.size().width()
            self._split.setSizes([round(width * _WORDS_SHARE), round(width * (1 - _WORDS_SHARE))])

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Esc leads back to the board."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
