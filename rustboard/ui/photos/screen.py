"""The photo screen: the days below, the board and one coupon large in the middle, the figures beside them."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, Qt, Signal, Slot
from PySide6.QtGui import QHideEvent, QKeyEvent, QResizeEvent, QShowEvent
from PySide6.QtWidgets import QAbstractButton, QStackedWidget, QVBoxLayout, QWidget

from rustboard.board.measured import Stroke
from rustboard.operations.brushing import add_stroke, remove_strokes
from rustboard.session.changes import ChangeSet
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.own_screen import OwnScreen
from rustboard.ui.photos.day_choice import DayChoice
from rustboard.ui.photos.day_strip import DayStrip
from rustboard.ui.photos.empty_page import NoPhotosPage
from rustboard.ui.photos.head import PhotoHead
from rustboard.ui.photos.photo_words import Day, days_of
from rustboard.ui.photos.stage import PhotoStage
from rustboard.ui.photos.thumbnails import Thumbnails
from rustboard.ui.theme import Scheme

_NARROW = 900
_SHORT = 430
_ENTER = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
_TABLES = ("photo", "measurement", "stroke", "coupon", "board", "inspection", "grading", "excluded_area", "treatment",
           "disturbance")  # fmt: skip


class PhotoScreen(OwnScreen):
    """Photos of one board.

    Signals:
        left(): the user goes back to the board.
        add_asked(), measure_asked(), stop_asked(): the buttons.
        place_asked(int): the board is to be found in a photo.
        accept_asked(int, int), confident_asked(int): take over what a photo says of a coupon; of all confident ones.
        painted(int, int): a photo and a coupon whose mask the brush changed.

    Attributes:
        choice: the days. head, stage, strip: its parts. empty: shown without photos.
    """

    left = Signal()
    add_asked = Signal()
    measure_asked = Signal()
    stop_asked = Signal()
    place_asked = Signal(int)
    accept_asked = Signal(int, int)
    confident_asked = Signal(int)
    painted = Signal(int, int)

    def __init__(
        self,
        session: Session,
        bridge: JobBridge,
        do: Do,
        scheme: Scheme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        """Show a session's photos; ``settings`` say whether the person grades blind."""
        super().__init__(parent)
        self._session, self._do = session, do
        self.choice = DayChoice(session)
        self._thumbnails = Thumbnails(session, bridge, self)
        self.head = PhotoHead()
        self.stage = PhotoStage(session, bridge, scheme, settings)
        self.strip = DayStrip(self._thumbnails, scheme)
        self.empty = NoPhotosPage(writable=not session.read_only_reason)
        self._pages = QStackedWidget()
        self._days: list[Day] = []
        self._to_measure: frozenset[int] = frozenset()
        self._inspection: int | None = None  # that the board shows
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        photos = QWidget()
        column = QVBoxLayout(photos)
        column.setContentsMargins(4, 2, 4, 2)
        column.setSpacing(4)
        column.addWidget(self.head)
        column.addWidget(self.stage, 1)
        column.addWidget(self.strip)
        self._pages.addWidget(self.empty)
        self._pages.addWidget(photos)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(2, 0, 2, 2)
        whole.addWidget(self._pages)
        self.strip.set_compact(False)

    def _wire(self) -> None:
        self.head.left.connect(self.left)
        self.head.measure_asked.connect(self.measure_asked)
        self.head.stop_asked.connect(self.stop_asked)
        self.head.place_asked.connect(self.place_asked)
        self.empty.add_asked.connect(self.add_asked)
        self.strip.row.chosen.connect(self.choose_day)
        self.strip.row.other_chosen.connect(self.choose_other)
        self.stage.board.coupon_chosen.connect(self.choose_coupon)
        self.stage.coupon.stroke_drawn.connect(self._keep_stroke)
        self.stage.figures.accept_asked.connect(self.accept)
        self.stage.figures.confident_asked.connect(self._ask_confident)
        self.stage.figures.revealed.connect(self.show_day)
        self.stage.tools.compare_changed.connect(self._compare)
        self.stage.tools.comparing.partner_changed.connect(self._change_partner)
        self.stage.tools.painting.strokes_back_asked.connect(self._take_strokes_back)
        for button in self.findChildren(QAbstractButton):
            button.installEventFilter(self)
        self._session.feed.subscribe(self._apply)
        self._session.selection.subscribe(self._follow_selection)

    def close_feed(self) -> None:
        """Listen to the session no longer; the screen is about to go."""
        self._session.feed.unsubscribe(self._apply)
        self._session.selection.unsubscribe(self._follow_selection)

    # ---- what is shown

    def showEvent(self, event: QShowEvent) -> None:
        """Show what changed while the screen was away."""
        super().showEvent(event)
        if event.spontaneous():
            return  # a window that was minimised comes back as it was
        self.choice.follow_inspection()
        self.reload()
        self.stage.board.setFocus()

    def hideEvent(self, event: QHideEvent) -> None:
        """Commands are about the inspection in view again."""
        super().hideEvent(event)
        if not event.spontaneous():
            self._session.selection.photo = None

    def _apply(self, changes: ChangeSet) -> None:
        if changes.origin is self and changes.direction == "do":
            return  # a stroke of our own is shown already
        if changes.touches("photo", "board", "coupon", "excluded_area"):
            self._thumbnails.forget(changes.tables.get("photo", frozenset()))
            self.stage.views.placed_anew()
        elif changes.touches("measurement", "stroke"):
            self.stage.views.measured_anew()
        self.stage.forget_painted()
        if changes.touches(*_TABLES) and self.isVisible():
            self.reload()

    def reload(self) -> None:
        """Show everything as it is now."""
        self.choice.keep()
        record, selection = self._session.record, self._session.selection
        self._to_measure = frozenset(each.key for each in OutOfDate(record).to_measure())
        self._days = days_of(record, self._to_measure)
        self._pages.setCurrentIndex(1 if record.photos else 0)
        if selection.focus is None:
            first = next((each.key for each in record.coupons_in_order() if each.position is not None), None)
            if first is not None:
                selection.choose({first}, first)
        self.show_day()

    @Slot()
    def show_day(self) -> None:
        """Show the day in view."""
        photo = self.choice.photo()
        self._session.selection.photo = self.choice.this if self.isVisible() else None
        self._inspection = self._session.selection.inspection
        other = self.choice.other() if self.stage.tools.compare.isChecked() else None
        days = self._days
        row = self.strip.row
        row.picks_other = self.stage.tools.compare.isChecked() and self.choice.partner == "chosen"
        row.show_days(days, self.choice.this, None if other is None else other.key)
        day = next((each for each in days if photo is not None and each.photo == photo.key), None)
        missing = photo is not None and self._session.photo_file(photo.key) is None
        writable, elsewhere = not self._session.read_only_reason, self.choice.is_elsewhere()
        self.head.show_day(day, writable=writable, elsewhere=elsewhere, missing=missing)
        self.head.show_waiting(len(self._to_measure))
        self.stage.show_photo(photo, other, days)

    def _follow_selection(self) -> None:
        if not self.isVisible():
            return
        if self._session.selection.inspection != self._inspection:
            self.choice.follow_inspection()
            self.show_day()
        else:
            self.stage.show_coupon()

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.stage.set_scheme(scheme)
        self.strip.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a small window show one part at a time, and days without pictures."""
        super().resizeEvent(event)
        narrow = event.size().width() < _NARROW
        self.stage.share_room(narrow=narrow)
        self.head.set_narrow(narrow)
        self.strip.set_compact(event.size().height() < _SHORT)

    # ---- choosing

    @Slot(int)
    def choose_day(self, photo: int) -> None:
        """Bring a photo into view, and its inspection on the board."""
        self.choice.this = photo
        self.show_day()
        self.choice.lead_inspection()

    @Slot(int)
    def choose_other(self, photo: int) -> None:
        """Compare with a photo."""
        self.choice.choose_other(photo)
        self.stage.tools.comparing.show_partner("chosen")
        if self.stage.tools.compare.isEnabled():
            self.stage.tools.compare.setChecked(True)
        self.show_day()

    @Slot(int)
    def choose_coupon(self, coupon: int) -> None:
        """Choose a coupon, here and on the board."""
        self._session.selection.choose({coupon}, coupon)

    @Slot()
    def _compare(self) -> None:
        self.stage.compare()
        self.show_day()

    @Slot()
    def _change_partner(self) -> None:
        self.choice.partner = self.stage.tools.comparing.partner()
        self.show_day()

    # ---- changes

    @Slot(object)
    def _keep_stroke(self, stroke: Stroke) -> None:
        if self._do(add_stroke, stroke, origin=self) is None:
            self.stage.show_pictures()
            return
        self.stage.note_painted(stroke)
        self.painted.emit(stroke.photo, stroke.coupon)

    @Slot()
    def _take_strokes_back(self) -> None:
        photo, coupon = self.stage.subject()
        if self._do(remove_strokes, photo, coupon) is not None:
            self.painted.emit(photo, coupon)

    @Slot()
    def accept(self) -> None:
        """Take over what the photo in view says of the chosen coupon."""
        photo, coupon = self.stage.subject()
        found = self._session.record.measured.get(photo, {}).get(coupon)
        if found is None or found.percent is None or self._session.read_only_reason:
            return
        if not self.stage.is_hidden() and not OutOfDate(self._session.record).parts(found):
            self.accept_asked.emit(photo, coupon)

    @Slot()
    def _ask_confident(self) -> None:
        self.confident_asked.emit(self.stage.subject()[0])

    # ---- keys

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Let Enter press the button that has the keyboard: it must not take a grade over then."""
        is_press = event.type() == QEvent.Type.KeyPress and isinstance(watched, QAbstractButton)
        if is_press and isinstance(event, QKeyEvent) and event.key() in _ENTER:
            watched.click()  # type: ignore[attr-defined] # it is a button
            return True
        return super().eventFilter(watched, event)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Masks, comparing, brush, days, taking over, and the way back."""
        key, tools = Qt.Key(event.key()), self.stage.tools
        shift = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        switches = {
            Qt.Key.Key_M: tools.outlined if shift else tools.masks,
            Qt.Key.Key_C: tools.compare,
            Qt.Key.Key_P: tools.brush,
        }
        if event.isAutoRepeat() and key not in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            return
        if event.modifiers() & (Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.AltModifier):
            super().keyPressEvent(event)
        elif key in switches:
            switches[key].click()
        elif key == Qt.Key.Key_B:
            self.stage.hold(True)
        elif key == Qt.Key.Key_R and tools.brush.isChecked():
            tools.painting.turn()
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.strip.row.walk(1 if key == Qt.Key.Key_PageDown else -1, other=shift)
        elif key in _ENTER:
            self.accept()
        elif key == Qt.Key.Key_Escape:
            self._step_out()
        else:
            super().keyPressEvent(event)

    def _step_out(self) -> None:
        """Lay the brush aside, end comparing, or go back to the board: one at a time."""
        tools = self.stage.tools
        for each in (tools.brush, tools.compare):
            if each.isChecked():
                each.click()
                return
        self.left.emit()

    def keyReleaseEvent(self, event: QKeyEvent) -> None:
        """Let go of the other day."""
        if event.key() == Qt.Key.Key_B and not event.isAutoRepeat():
            self.stage.hold(False)
        super().keyReleaseEvent(event)
