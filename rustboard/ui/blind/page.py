"""A board of which an inspection is being graded blind: overview and rounds, and nothing else of the board."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QStackedWidget, QWidget

from rustboard.board.blind import BlindInspection
from rustboard.session.blind_rounds import pictures_of
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.blind.overview import Overview
from rustboard.ui.blind.round_page import RoundPage
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.nameless_images import nameless_images
from rustboard.ui.theme import Scheme


class BlindPage(QStackedWidget):
    """Takes the place of the whole board while one of its inspections is hidden.

    Signals:
        revealed(): nothing is hidden any more; the board can be shown.
        state_changed(): what can be done may have changed.
        failed(str): a sentence to stay until read.
        left(): the grader has gone; what the window told him is to go too.

    Attributes:
        session: of the board. overview, round: the two pages.
    """

    revealed = Signal()
    state_changed = Signal()
    failed = Signal(str)
    left = Signal()

    def __init__(
        self,
        session: Session,
        blind: BlindInspection,
        bridge: JobBridge,
        do: Do,
        scheme: Scheme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        """Start at the overview, also where a round was interrupted: who comes may be somebody else."""
        super().__init__(parent)
        self.session, self._blind, self._bridge = session, blind, bridge
        self.overview = Overview(session, blind, settings.grader)
        self.round = RoundPage(session, blind, bridge, do, scheme, settings)
        self._cut = False
        self.addWidget(self.overview)
        self.addWidget(self.round)
        self._wire()

    def _wire(self) -> None:
        self.round.left.connect(self.show_overview)
        self.round.finished.connect(self.show_overview)
        self.round.stepped.connect(self.state_changed)
        self.round.refused.connect(self.failed)
        self.session.feed.subscribe(self._apply)

    def _apply(self, changes: ChangeSet) -> None:
        if self.session.record.hidden_inspection is None:
            self.revealed.emit()
            return
        if changes.touches("blind_round", "blind_inspection", "blind_grade") and self.is_overview():
            self.overview.show_again()
        self.state_changed.emit()

    def is_overview(self) -> bool:
        """Return whether the overview is in view."""
        return self.currentWidget() is self.overview

    @Slot()
    def show_overview(self) -> None:
        """Bring the overview into view; what a grader saw goes from the screen."""
        self.round.body.options.finish_note()
        self.overview.show_again()
        self.setCurrentWidget(self.overview)
        self.overview.take_keyboard()
        self.left.emit()
        self.state_changed.emit()

    @Slot(int)
    def show_round(self, key: int) -> None:
        """Go on with a round."""
        self._want_pictures()
        self.setCurrentWidget(self.round)
        self.round.show_round(key)
        self.state_changed.emit()

    def _want_pictures(self) -> None:
        """Cut all coupons at once, so that every picture is there before it is asked for."""
        if self._cut or self._blind.basis == "bench":
            return
        request = pictures_of(self.session, self._blind)
        if request is None:
            self._fail(InputError("The photo to grade from is not in the board's folder; put it back there."))
            return
        self._cut = True
        self._bridge.start("blind round", nameless_images, request, done=self._come, failed=self._fail, owner=self)

    def _come(self, images: dict[int, QImage]) -> None:
        self.round.show_pictures(images)

    def _fail(self, error: InputError) -> None:
        self._cut = False
        self.failed.emit(str(error))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.round.set_scheme(scheme)
