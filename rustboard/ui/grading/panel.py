"""Grading over the lower half of the window: the coupon, its past, the guide, eleven keys, on to the next."""

from __future__ import annotations

from collections.abc import Callable
from typing import cast

from PySide6.QtCore import QCoreApplication, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.board.grade import Source, carries_letter
from rustboard.board.model import Coupon, Grading, Inspection, Photo
from rustboard.board.record import BoardRecord
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.session.changes import ChangeSet
from rustboard.session.grading_round import neighbour, next_ungraded
from rustboard.session.pictures import GuideRequest, outline_on_board
from rustboard.session.session import Session
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import CouponPictures
from rustboard.ui.doing import Do
from rustboard.ui.grading.compare import CompareDialog
from rustboard.ui.grading.coupon_views import CouponViews, Shot
from rustboard.ui.grading.options import GradingOptions
from rustboard.ui.grading.photo_line import PhotoLine
from rustboard.ui.guide.strip import GuideStrip
from rustboard.ui.theme import Scheme
from rustboard.ui.wording import coupon_title, day_text, grade_text, tool_tip

_WIDE = 900
_TABLES = ("inspection", "treatment", "board", "coupon", "photo", "measurement")
_GROUND_PX = 640  # longer side of the coupon that the guide is painted on
_PLATE = ((0.0, 0.0), (60.0, 0.0), (60.0, 120.0), (0.0, 120.0))  # stands for a coupon of unknown size


class GradingPanel(QFrame):
    """Grades one coupon after the other at the inspection in view.

    Signals:
        coupon_changed(int): another coupon is being graded, by key.
        finished(): every coupon of the inspection is graded.
        close_asked(): the panel is to go.
        told(str): something to note.
    """

    coupon_changed = Signal(int)
    finished = Signal()
    close_asked = Signal()
    told = Signal(str)

    def __init__(
        self,
        session: Session,
        pictures: CouponPictures,
        bridge: JobBridge,
        do: Do,
        scheme: Scheme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        """Build the panel; ``do`` runs an operation and shows what the disk or the rules refuse."""
        super().__init__(parent)
        self._session, self._pictures, self._bridge, self._do = session, pictures, bridge, do
        self._scheme = scheme
        self.coupon: int | None = None
        self._drafts: dict[tuple[int, int], str] = {}
        self._noted = (0, 0)  # coupon and inspection that the note on the screen belongs to
        self.setProperty("card", True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._title = QLabel()
        self._title.setProperty("heading", True)
        self._title.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._state = QLabel()
        self._state.setProperty("muted", True)
        self._back = QPushButton(self.tr("Back"))
        self._skip = QPushButton(self.tr("Skip"))
        self._large = QPushButton(self.tr("Large…"))
        self._close = QPushButton(self.tr("Close"))
        self.options = GradingOptions(self)
        self.photo_line = PhotoLine(session, do, settings)
        self.options.add(self.photo_line)
        self.views = CouponViews(scheme)
        self.guide = GuideStrip(bridge, scheme)
        key = Qt.Key
        self._moves: dict[int, Callable[[], object]] = {
            key.Key_Left: self.go_back,
            key.Key_Right: self.go_on,
            key.Key_Escape: self.close_asked.emit,
            key.Key_Delete: self.withdraw,
            key.Key_L: self.open_large,
            key.Key_Return: self.photo_line.take_over,
            key.Key_Enter: self.photo_line.take_over,
            key.Key_N: self.options.edit_note,
            key.Key_C: self.options.toggle_on_coupon,
        }
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._title, 3)
        head.addWidget(self._state, 0)
        for each, tip in (
            (self._back, self.tr("The coupon before, in reading order. Key: Left")),
            (self._skip, self.tr("The coupon after, in reading order. Key: Right")),
            (self._large, self.tr("This coupon beside one reference picture, large. Key: L")),
            (self._close, self.tr("Back to the whole board. Key: Esc")),
        ):
            each.setToolTip(tip)
            each.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
            head.addWidget(each)
        body = QHBoxLayout()
        body.setSpacing(8)
        body.addWidget(self.views, 2)
        body.addWidget(self.guide, 5)
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 4, 6, 6)
        column.setSpacing(5)
        column.addLayout(head)
        column.addWidget(self.options)
        column.addLayout(body, 1)

    def _wire(self) -> None:
        self._back.clicked.connect(self.go_back)
        self._skip.clicked.connect(self.go_on)
        self._large.clicked.connect(self.open_large)
        self._close.clicked.connect(self.close_asked)
        self.guide.given.connect(self.give)
        self.options.letter_changed.connect(self._change_letter)
        self.options.guide_changed.connect(self._show_guide)
        self.options.note_entered.connect(self._change_note)
        self.options.withdraw_asked.connect(self.withdraw)
        self.options.left.connect(self.setFocus)
        self.photo_line.go_to.connect(self.show_coupon)
        self.photo_line.finished.connect(self.finished)
        self.photo_line.told.connect(self.told)
        self._pictures.arrived.connect(self._show_pictures)

    # ---- what is shown

    def inspection(self) -> Inspection | None:
        """Return the inspection in view, or None."""
        return self._session.record.inspections.get(self._session.selection.inspection or 0)

    @Slot(int)
    def show_coupon(self, key: int) -> None:
        """Grade this coupon now."""
        self.options.finish_note()
        changed = key != self.coupon
        self.coupon = key
        self._show()
        if changed:
            self.coupon_changed.emit(key)

    def apply(self, changes: ChangeSet) -> None:
        """Show what changed, when it is about this coupon or its inspection."""
        if self.coupon not in self._session.record.coupons or self.inspection() is None:
            self.close_asked.emit()
            return
        if self.coupon in changes.coupons or changes.touches(*_TABLES):
            self._show()

    def _coupon(self) -> Coupon | None:
        return self._session.record.coupons.get(self.coupon or 0)

    def grading(self) -> Grading | None:
        """Return the grade this coupon has at the inspection in view, or None."""
        return self._session.record.grading(self.coupon or 0, self._session.selection.inspection or 0)

    def _show(self) -> None:
        coupon, inspection = self._coupon(), self.inspection()
        if coupon is None or inspection is None:
            return
        record, grading = self._session.record, self.grading()
        self._title.setText(coupon_title(record, coupon))
        self._title.setToolTip(tool_tip(self._title.text()))
        self._state.setText(_state_text(record, inspection, grading))
        letter = grading.distribution if grading is not None else ""
        self._noted = (coupon.key, inspection.key)
        note = grading.note if grading is not None else self._drafts.get(self._noted, "")
        self.options.set_values(letter, note, graded=grading is not None)
        self.photo_line.show_coupon(coupon.key, inspection.key)
        self.guide.mark_given(grading.grade if grading is not None else None)
        writable = not self._session.read_only_reason
        self.options.setEnabled(writable)
        for key in self.guide.keys.values():
            key.setEnabled(writable)
        self._show_pictures()

    @Slot()
    def _show_pictures(self) -> None:
        coupon, inspection = self._coupon(), self.inspection()
        if coupon is None or inspection is None:
            return
        record = self._session.record
        now, before, first = record.newest_photo(inspection), record.photo_before(inspection), record.first_photo()
        for photo in (now, before, first):
            self._pictures.want(photo)
        shots = [Shot(None, _say("now"))] if now is None else []
        shots.extend(
            Shot(self._pictures.image(photo, coupon.key), _when(self._session, photo))
            for photo in dict.fromkeys((now, before, first))
            if photo is not None
        )
        self._share_room()
        self.views.show_shots(tuple(shots), coupon.outline_mm)
        self._show_guide()

    @Slot()
    def _show_guide(self) -> None:
        self.guide.ask_for(self.guide_request(self.guide.picture_height()))

    def guide_request(self, height_px: int) -> GuideRequest:
        """Return which reference pictures the options ask for."""
        coupon = self._coupon()
        if coupon is None or not self.options.on_coupon():
            return GuideRequest(self.options.pattern(), self.options.place(), height_px)
        cut = self._pictures.request_for(self._session.record.first_photo(), coupon.key, _GROUND_PX)
        outline = outline_on_board(self._session.record, coupon) or coupon.outline_mm or _PLATE
        margin = self._session.record.board.edge_margin_mm
        return GuideRequest(self.options.pattern(), self.options.place(), height_px, cut, outline, margin)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self._scheme = scheme
        self.views.set_scheme(scheme)
        self.guide.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the room to the keys where the window is narrow."""
        super().resizeEvent(event)
        self._share_room()

    def _share_room(self) -> None:
        photographed = self._session.record.first_photo() is not None
        self.views.setVisible(photographed and self.width() >= _WIDE)

    # ---- what the user does

    @Slot(int)
    def give(self, grade: int) -> None:
        """Give the coupon a grade and go on to the next that has none."""
        coupon, inspection = self._coupon(), self.inspection()
        if coupon is None or inspection is None:
            return
        letter = self.options.letter() if carries_letter(grade) else ""
        grader = inspection.grader or self._session.who
        given = GivenGrade(coupon.key, inspection.key, grade, letter, grader=grader, note=self.options.note())
        first_time = self.grading() is None
        if self._do(grade_coupon, given, origin=self) is None:
            return
        self._drafts.pop((coupon.key, inspection.key), None)
        following = next_ungraded(self._session.record, inspection.key, coupon.key)
        if following is not None:
            self.show_coupon(following)
        elif first_time:
            self.finished.emit()

    @Slot(str)
    def _change_letter(self, letter: str) -> None:
        grading = self.grading()
        if grading is None or not carries_letter(grading.grade) or grading.distribution == letter:
            return
        if self._correct(grading, letter, grading.note) is None:
            self.options.show_letter(grading.distribution)

    @Slot(str)
    def _change_note(self, note: str) -> None:
        grading = self._session.record.grading(*self._noted)
        if grading is None:
            self._drafts[self._noted] = note
            if note.strip():
                self.told.emit(self.tr("The note waits for this coupon's grade and is written with it."))
        elif grading.note != note.strip():
            self._correct(grading, grading.distribution, note)

    def _correct(self, grading: Grading, letter: str, note: str) -> ChangeSet | None:
        source = cast("Source", grading.source)
        given = GivenGrade(
            grading.coupon, grading.inspection, grading.grade, letter, grading.percent, grading.grader, source, note
        )
        return self._do(grade_coupon, given, origin=self)

    @Slot()
    def withdraw(self) -> None:
        """Take the coupon's grade at this inspection back."""
        inspection = self.inspection()
        if inspection is not None and self.coupon is not None and self.grading() is not None:
            self._do(withdraw_grade, self.coupon, inspection.key, origin=self)

    @Slot()
    def go_back(self) -> None:
        """Show the coupon before this one on the board."""
        self.show_coupon(neighbour(self._session.record, self.coupon or 0, -1) or self.coupon or 0)

    @Slot()
    def go_on(self) -> None:
        """Show the coupon after this one on the board."""
        self.show_coupon(neighbour(self._session.record, self.coupon or 0, 1) or self.coupon or 0)

    @Slot()
    def open_large(self) -> None:
        """Compare the coupon, large, with one reference picture after the other."""
        coupon = self._coupon()
        if coupon is None:
            return
        photo = self._session.record.newest_photo(self.inspection())
        dialog = CompareDialog(self._title.text(), self.guide_request(0), self._bridge, self._scheme, self)
        image, request = self._pictures.image(photo, coupon.key), self._pictures.request_for(photo, coupon.key)
        dialog.show_coupon(image, request, _when(self._session, photo))
        latest = self._session.record.latest(coupon.key, self.inspection())
        dialog.start_at(latest.grade if latest is not None else 10)
        self._wire_large(dialog)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.open()

    def _wire_large(self, dialog: CompareDialog) -> None:
        if self._session.read_only_reason:
            dialog.forbid_giving()
        dialog.given.connect(self.give)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Grade by keys: digits, T for ten, letters, arrows."""
        # A key held down must not grade the coupons that follow.
        text = "" if event.isAutoRepeat() else event.text().upper()
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and len(text) == 1 and text in "0123456789T" and not self._session.read_only_reason:
            self.give(10 if text == "T" else int(text))
        elif plain and len(text) == 1 and text in "SGPH" and not self._session.read_only_reason:
            self.options.press_letter(text)
        elif event.key() in self._moves:
            self._moves[event.key()]()
        else:
            super().keyPressEvent(event)


def _say(text: str) -> str:
    return QCoreApplication.translate("grading", text)


def _when(session: Session, photo: Photo | None) -> str:
    """Return of when a picture is: now, or the day of an older one."""
    if photo is None or photo.inspection == session.selection.inspection:
        return _say("now")
    return day_text(session.record.day_of_photo(photo))


def _state_text(record: BoardRecord, inspection: Inspection, grading: Grading | None) -> str:
    when = day_text(record.day_of(inspection.at))
    if record.inspections_in_order()[-1].key != inspection.key:
        when = _say("earlier inspection, {0}").format(when)
    if grading is None:
        return _say("{0} · not graded yet").format(when)
    text = _say("{0} · graded {1}").format(when, grade_text(grading))
    return text if grading.replaces is None else _say("{0} (corrected)").format(text)
