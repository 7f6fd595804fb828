"""The screen on which two coupons are compared at a time: before, meanwhile, and what comes out."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QStackedWidget, QVBoxLayout

from rustboard.session.changes import ChangeSet
from rustboard.session.nameless_pictures import nameless_pictures
from rustboard.session.session import Session
from rustboard.session.side_by_side import LEAST_COUPONS, Comparison, has_enough
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.nameless_images import nameless_images
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.side_by_side.compare_page import ComparePage
from rustboard.ui.side_by_side.result_page import ResultPage
from rustboard.ui.side_by_side.start_page import StartPage
from rustboard.ui.theme import Scheme

_SHOWN_BY = ("coupon", "photo", "excluded_area", "board")


class SideBySideScreen(OwnScreen):
    """Takes the place of the board's tiles for the inspection that was in view.

    Signals:
        left(): back to the board. failed(str): a sentence to stay until read.
        state_changed(): what can be done may have changed.
        begun(): from now on nothing may say which coupon is which.

    Attributes:
        start, compare, result: the three pages.
    """

    left = Signal()
    failed = Signal(str)
    state_changed = Signal()
    begun = Signal()

    def __init__(self, session: Session, bridge: JobBridge, do: Do, scheme: Scheme, settings: Settings) -> None:
        """Build the screen; nothing is shown before `show_inspection`."""
        super().__init__()
        self._session, self._bridge, self._settings = session, bridge, settings
        self._inspection = 0
        self._comparison: Comparison | None = None
        self._images: dict[int, QImage] | None = None
        self._cut = 0  # key of the photo whose coupons are cut, or are being cut
        self.start = StartPage(session)
        self.compare = ComparePage(session, bridge, do, scheme, settings)
        self.result = ResultPage(session, bridge, scheme)
        self._pages = QStackedWidget()
        for page in (self.start, self.compare, self.result):
            self._pages.addWidget(page)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._pages)
        self._wire()

    def _wire(self) -> None:
        self.start.begin_asked.connect(self._begin)
        self.start.order_asked.connect(self.show_result)
        self.start.left.connect(self.left)
        self.start.photos.currentIndexChanged.connect(self._want_pictures)
        self.compare.left.connect(self.show_start)
        self.compare.enough.connect(self.show_result)
        self.compare.stepped.connect(self.state_changed)
        self.result.go_on_asked.connect(self._go_on)
        self.result.left.connect(self.left)
        for page in (self.start, self.compare, self.result):
            page.failed.connect(self.failed)
        self._session.feed.subscribe(self.apply)
        self._session.selection.subscribe(self._selection_changed)

    def close_feed(self) -> None:
        """Listen to the session no longer; the screen is about to go."""
        self._session.feed.unsubscribe(self.apply)
        self._session.selection.unsubscribe(self._selection_changed)

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed."""
        inspection = self._session.record.inspections.get(self._inspection)
        if changes.touches(*_SHOWN_BY):
            self._cut, self._images = 0, None
        if not self.isVisible() or changes.origin is self.compare:
            return
        if inspection is None:
            self.left.emit()
        elif self.is_comparing() and self._images is None:
            self.show_start()  # which coupons can be compared may have changed
        elif self.is_comparing():
            self.compare.show_next()
        elif self._pages.currentWidget() is self.result:
            self.result.show_inspection(inspection)
            self._want_pictures()
        else:
            self.start.show_again()

    def _selection_changed(self) -> None:
        if self.isVisible() and self._session.selection.inspection != self._inspection:
            self.left.emit()  # an inspection was added or taken away: the board is wanted

    # ---- the pages

    def show_inspection(self, key: int) -> None:
        """Start with an inspection."""
        self._inspection = key
        inspection = self._session.record.inspections[key]
        grader = self._settings.grader or inspection.grader or self._session.who
        self.start.show_inspection(inspection, grader)
        self.show_start()

    def is_comparing(self) -> bool:
        """Return whether two coupons are in view, of which nothing may say which they are."""
        return self._pages.currentWidget() is self.compare

    def can_undo(self) -> bool:
        """Return whether undo would take back a choice of this sitting."""
        return self.compare.can_undo()

    def undo(self) -> None:
        """Take the last choice of this sitting back."""
        self.compare.take_back()

    @Slot()
    def show_start(self) -> None:
        """Bring the first page into view; the pictures are cut meanwhile."""
        self.start.show_again()
        self._pages.setCurrentWidget(self.start)
        self.start.take_keyboard()
        self._want_pictures()
        self.state_changed.emit()

    @Slot()
    def show_result(self) -> None:
        """Bring what comes out into view."""
        self._pages.setCurrentWidget(self.result)
        self.result.show_inspection(self._session.record.inspections[self._inspection])
        self.result.show_pictures(self._images or {})
        self._want_pictures()
        self.result.take_keyboard()
        self.state_changed.emit()

    @Slot(object)
    def _begin(self, comparison: Comparison) -> None:
        self._comparison = comparison
        self._pages.setCurrentWidget(self.compare)
        self.compare.begin(comparison, go_on=has_enough(self._session.record, comparison))
        self.begun.emit()
        self.state_changed.emit()
        self._want_pictures()
        if self._images is not None:
            self._show_pictures()

    @Slot()
    def _go_on(self) -> None:
        """Go on comparing: at once for whoever compared last and is still named on the first page, else ask who."""
        last = self._comparison
        if last is None or last.inspection != self._inspection or not self.start.names(last):
            self.show_start()
            return
        self._begin(last)

    # ---- pictures

    @Slot()
    def _want_pictures(self) -> None:
        """Cut all coupons at once, so that every picture is there before it is asked for."""
        photo = self.start.photo()
        if photo is None or photo.key == self._cut:
            return
        request = nameless_pictures(self._session, photo.key)
        if request is None:
            return
        self._cut, self._images = photo.key, None
        key = ("side by side", id(self))
        self._bridge.start(key, nameless_images, request, done=self._come, failed=self._refused, owner=self)

    def _come(self, images: dict[int, QImage]) -> None:
        self._images = images
        self._show_pictures()

    def _show_pictures(self) -> None:
        images = self._images or {}
        if not self.is_comparing():
            self.result.show_pictures(images)
        elif (
            self._comparison is not None and sum(each in images for each in self._comparison.coupons) < LEAST_COUPONS
        ):
            self._refused(InputError("Too few coupons could be cut from this photo to compare them."))
        else:
            self.compare.show_pictures(images)

    def _refused(self, error: InputError) -> None:
        self._cut, self._images = 0, None
        if self.is_comparing():
            self._pages.setCurrentWidget(self.start)  # not by `show_start`, which would try again at once
            self.start.take_keyboard()
            self.state_changed.emit()
        self.failed.emit(str(error))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.compare.set_scheme(scheme)
        self.result.set_scheme(scheme)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Leave by Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)
