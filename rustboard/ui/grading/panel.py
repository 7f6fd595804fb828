"""Grading over the lower half of the window: the coupon, its past, the guide, eleven keys, on to the next."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QPushButton, QSizePolicy, QSplitter, QVBoxLayout, QWidget

from rustboard.board.damages_noted import damages_of
from rustboard.board.grade import carries_letter
from rustboard.board.model import Coupon, Grading, Inspection
from rustboard.board.record import BoardRecord
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.changes import ChangeSet
from rustboard.session.grading_round import neighbour, next_ungraded
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.coupon_pictures import CouponPictures
from rustboard.ui.damage_words import button_text, with_damage
from rustboard.ui.doing import Do
from rustboard.ui.grading.body import GradingBody
from rustboard.ui.grading.corrections import Corrections
from rustboard.ui.grading.photo_line import PhotoLine
from rustboard.ui.guide.options import GradingOptions
from rustboard.ui.spoken import graded_sentence, say
from rustboard.ui.theme import Scheme, least_button_height
from rustboard.ui.wording import coupon_title, day_text, grade_text, tool_tip

_TABLES = ("inspection", "treatment", "board", "coupon", "photo", "measurement", "excluded_area")
_SHARES = {(False, False): 0.53, (False, True): 0.6, (True, False): 0.68, (True, True): 0.7}
"""Of the page's height, by whether it is graded by percent and with large keys."""

_LEAST_PAGE = 400


class GradingPanel(QFrame):
    """Grades one coupon after the other at the inspection in view.

    Signals:
        coupon_changed(int): another coupon is being graded, by key.
        finished(): every coupon of the inspection is graded.
        close_asked(): the panel is to go.
        told(str): something to note.
        damage_asked(): what is wrong with the coupon beside its rust is to be noted.
    """

    coupon_changed = Signal(int)
    finished = Signal()
    close_asked = Signal()
    told = Signal(str)
    damage_asked = Signal()

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
        self._session, self._do, self._settings = session, do, settings
        self._followed = (False, False)
        self.coupon: int | None = None
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
        self._corrections = Corrections(session, do, self.options, self)
        self.photo_line = PhotoLine(session, do, settings)
        self._damage = QPushButton(self.tr("Damage…"))
        self._damage.setToolTip(self.tr("Edge rust, stain, blisters, peeling, creep: noted beside the grade. Key: D"))
        self._damage.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        for each in (self._damage, self.photo_line):
            self.options.add(each)
        self.body = GradingBody(session, pictures, bridge, self.options, scheme)
        self.views, self.guide, self.picker = self.body.views, self.body.guide, self.body.picker
        key = Qt.Key
        self._moves: dict[int, Callable[[], object]] = {
            key.Key_Left: self.go_back,
            key.Key_Right: self.go_on,
            key.Key_Escape: self.close_asked.emit,
            key.Key_Delete: self.withdraw,
            key.Key_L: self.body.open_large,
            key.Key_D: self.damage_asked.emit,
            key.Key_Return: self.photo_line.take_over,
            key.Key_Enter: self.photo_line.take_over,
            key.Key_N: self.options.edit_note,
            key.Key_C: self.options.toggle_on_coupon,
        }
        self._lay_out()
        self._wire(pictures)
        self.follow_settings()

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
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 4, 6, 6)
        column.setSpacing(5)
        column.addLayout(head)
        column.addWidget(self.options)
        column.addWidget(self.body, 1)

    def _wire(self, pictures: CouponPictures) -> None:
        self._back.clicked.connect(self.go_back)
        self._skip.clicked.connect(self.go_on)
        self._large.clicked.connect(self.body.open_large)
        self._damage.clicked.connect(self.damage_asked)
        self._close.clicked.connect(self.close_asked)
        self.body.given.connect(self.give)
        self.body.percent_given.connect(self.give_percent)
        self.body.left.connect(self.setFocus)
        self.body.refused.connect(self.told)
        self.options.guide_changed.connect(self._show_pictures)
        self.options.by_percent_changed.connect(self._change_way)
        self._corrections.told.connect(self.told)
        self.options.withdraw_asked.connect(self.withdraw)
        self.options.left.connect(self.setFocus)
        self.photo_line.go_to.connect(self._go_on_to)
        self.photo_line.finished.connect(self._finish)
        self.photo_line.told.connect(self.told)
        pictures.arrived.connect(self._show_pictures)

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
        if _way_in(self._settings) != self._followed:  # changed in another window
            self.follow_settings()
            return
        record, grading = self._session.record, self.grading()
        noted = damages_of(record, coupon.key, inspection.key)
        self._title.setText(with_damage(coupon_title(record, coupon), noted))
        self._damage.setText(button_text(noted))
        self._title.setToolTip(tool_tip(self._title.text()))
        self._state.setText(_state_text(record, inspection, grading))
        self._corrections.show_coupon(coupon.key, inspection.key)
        self.photo_line.show_coupon(coupon.key, inspection.key)
        writable = not self._session.read_only_reason
        self.options.setEnabled(writable)
        self.body.allow_giving(writable)
        self.body.show_coupon(coupon, inspection, grading)
        self._prepare_next()

    @Slot()
    def _show_pictures(self) -> None:
        self.body.show_pictures()
        self._prepare_next()

    def _prepare_next(self) -> None:
        """Have the pictures made of the coupon that comes next, or would if all were graded."""
        coupon, inspection, record = self._coupon(), self.inspection(), self._session.record
        if coupon is None or inspection is None or not self.isVisible():
            return
        following = next_ungraded(record, inspection.key, coupon.key)
        if following in (None, coupon.key):
            following = neighbour(record, coupon.key, 1)
        self.body.prepare(record.coupons.get(following or 0))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.body.set_scheme(scheme)

    def follow_settings(self) -> None:
        """Show the way of grading and the size of keys that the settings say."""
        large = self._settings.large_keys
        self._followed = _way_in(self._settings)
        self.options.show_by_percent(self._settings.by_percent)
        height = least_button_height(self, large=large)
        self.body.show_way(self._settings.by_percent, large, height)
        for each in (self._back, self._skip, self._large, self._close, self._damage):
            each.setMinimumHeight(height)
        self.options.set_least_height(height)
        self.photo_line.set_least_height(height)
        self._show()
        self.take_room()

    def take_room(self) -> None:
        """Take the share of the page's height that grading wants: pictures to compare want more than keys."""
        page = self.parentWidget()
        if isinstance(page, QSplitter):
            height = max(page.height(), _LEAST_PAGE)
            own = round(height * _SHARES[_way_in(self._settings)])
            page.setSizes([height - own, own])

    # ---- what the user does

    @Slot(int)
    def give(self, grade: int) -> None:
        """Give the coupon a grade and go on to the next that has none."""
        self._give(grade, None)

    @Slot(float)
    def give_percent(self, percent: float) -> None:
        """Give the coupon a percent, and the grade that it is, and go on to the next that has none."""
        self._give(grade_from_percent(percent), percent)

    def _give(self, grade: int, percent: float | None) -> None:
        coupon, inspection = self._coupon(), self.inspection()
        if coupon is None or inspection is None:
            return
        letter = self.options.letter() if carries_letter(grade) else ""
        grader = inspection.grader or self._session.who
        note = self.options.note()
        given = GivenGrade(coupon.key, inspection.key, grade, letter, percent, grader, note=note)
        first_time = self.grading() is None
        if self._do(grade_coupon, given, origin=self) is None:
            return
        self._corrections.forget_draft(coupon.key, inspection.key)
        following = next_ungraded(self._session.record, inspection.key, coupon.key)
        if following is not None:
            self._go_on_to(following)
        elif first_time:
            self._finish()

    @Slot(int)
    def _go_on_to(self, following: int) -> None:
        """Show the next coupon; what was recorded of this one is said first."""
        self._say_grade(following)
        self.show_coupon(following)

    @Slot()
    def _finish(self) -> None:
        self._say_grade(None)
        self.finished.emit()

    def _say_grade(self, following: int | None) -> None:
        coupon, grading, coupons = self._coupon(), self.grading(), self._session.record.coupons
        if self._settings.say_grades and coupon is not None and grading is not None:
            say(self, graded_sentence(coupon, grading, coupons.get(following or 0)))

    @Slot(bool)
    def _change_way(self, by_percent: bool) -> None:
        self._settings.by_percent = by_percent
        self.follow_settings()
        try:
            save_settings(self._settings)
        except InputError as error:
            self.told.emit(str(error))

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

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Grade by keys: digits, T for ten, letters, arrows; by percent, those of the slider come first."""
        # A key held down must not grade the coupons that follow.
        text = "" if event.isAutoRepeat() else event.text().upper()
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if text == "%":
            self.options.toggle_by_percent()
        elif self._settings.by_percent and self.picker.press(event):
            return
        elif plain and len(text) == 1 and text in "0123456789T" and not self._session.read_only_reason:
            self.give(10 if text == "T" else int(text))
        elif plain and len(text) == 1 and text in "SGPH" and not self._session.read_only_reason:
            self.options.press_letter(text)
        elif event.key() in self._moves:
            self._moves[event.key()]()
        else:
            super().keyPressEvent(event)


def _way_in(settings: Settings) -> tuple[bool, bool]:
    return (settings.by_percent, settings.large_keys)


def _say(text: str) -> str:
    return QCoreApplication.translate("grading", text)


def _state_text(record: BoardRecord, inspection: Inspection, grading: Grading | None) -> str:
    when = day_text(record.day_of(inspection.at))
    if record.inspections_in_order()[-1].key != inspection.key:
        when = _say("earlier inspection, {0}").format(when)
    if grading is None:
        return _say("{0} · not graded yet").format(when)
    text = _say("{0} · graded {1}").format(when, grade_text(grading))
    return text if grading.replaces is None else _say("{0} (corrected)").format(text)
