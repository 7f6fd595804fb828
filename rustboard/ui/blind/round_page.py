"""One grader's blind round: a coupon, eleven keys, the next coupon."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound, Showing
from rustboard.board.grade import carries_letter, written
from rustboard.operations.blind import GivenBlind, finish_round, give_blind, withdraw_blind
from rustboard.session.blind_rounds import graded_in, next_showing
from rustboard.session.changes import ChangeSet
from rustboard.session.pictures import GuideRequest
from rustboard.session.session import Session
from rustboard.ui.blind.coupon_view import CouponView
from rustboard.ui.blind.round_foot import RoundFoot
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.guide.strip import GuideStrip
from rustboard.ui.theme import Scheme


class RoundPage(QWidget):
    """Shows a round's coupons one after the other; every grade is on the disk before the next comes.

    Signals:
        left(): back to the overview, with the round as it is. finished(): the round is closed.
        graded(str): what was recorded, in words that may be spoken. stepped(): what can be undone has changed.

    Attributes:
        number: the showing in view, from 0.
    """

    left = Signal()
    finished = Signal()
    graded = Signal(str)
    stepped = Signal()

    def __init__(
        self,
        session: Session,
        blind: BlindInspection,
        bridge: JobBridge,
        do: Do,
        scheme: Scheme,
        parent: QWidget | None = None,
    ) -> None:
        """Build the page; nothing is shown before `show_round`."""
        super().__init__(parent)
        self._session, self._blind, self._do = session, blind, do
        self._round_key = 0
        self._steps: list[int] = []  # of this sitting, so that undo never reaches another grader's
        self._pictures: dict[int, QImage] | None = None
        self._drafts: dict[int, str] = {}
        self.number = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        board = session.record.board
        self.view = CouponView(board.rows, board.columns, scheme)
        self.guide = GuideStrip(bridge, scheme)
        self.foot = RoundFoot()
        self._title, self._state = QLabel(), QLabel()
        self._title.setProperty("heading", True)
        self._state.setProperty("muted", True)
        for each in (self._title, self._state):
            each.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._bar = QProgressBar()
        self._bar.setTextVisible(False)
        self._bar.setFixedHeight(8)
        self._bar.setAccessibleName(self.tr("Graded so far"))
        self.back, self.skip = QPushButton(self.tr("Back")), QPushButton(self.tr("Skip"))
        self.leave, self.finish = QPushButton(self.tr("Interrupt")), QPushButton(self.tr("Finish my round"))
        self.finish.setProperty("primary", True)
        key = Qt.Key
        self._moves: dict[int, Callable[[], object]] = {
            key.Key_Left: self.go_back,
            key.Key_Right: self.go_on,
            key.Key_Escape: self.left.emit,
            key.Key_Delete: self.withdraw,
            key.Key_N: self.foot.edit_note,
            key.Key_Return: self.finish_if_done,
            key.Key_Enter: self.finish_if_done,
        }
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._title, 1)
        head.addWidget(self._state)
        for each, tip in (
            (self.back, self.tr("The coupon before, in your order. Key: Left")),
            (self.skip, self.tr("The coupon after, in your order. Key: Right")),
            (self.leave, self.tr("Leave the round as it is; you can go on later. Key: Esc")),
            (self.finish, self.tr("Close the round when every coupon has a grade. Key: Enter")),
        ):
            each.setToolTip(tip)
            each.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            head.addWidget(each)
        body = QHBoxLayout()
        body.setSpacing(8)
        body.addWidget(self.view, 3)
        right = QVBoxLayout()
        right.addWidget(self.guide, 1)
        right.addWidget(self.foot)
        body.addLayout(right, 5)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 8)
        column.addLayout(head)
        column.addWidget(self._bar)
        column.addLayout(body, 1)

    def _wire(self) -> None:
        self.back.clicked.connect(self.go_back)
        self.skip.clicked.connect(self.go_on)
        self.leave.clicked.connect(self.left)
        self.finish.clicked.connect(self.finish_if_done)
        self.guide.given.connect(self.give)
        self.foot.letter_changed.connect(self._change_letter)
        self.foot.note_entered.connect(self._change_note)
        self.foot.withdraw_asked.connect(self.withdraw)
        self.foot.left.connect(self.setFocus)

    # ---- what is shown

    def show_round(self, key: int) -> None:
        """Go on with a round at its first coupon without a grade."""
        self._round_key, self._steps, self._drafts = key, [], {}
        of_round = self._round()
        if of_round is not None:
            self._show_number(next_showing(self._session.record, of_round, -1) or 0)
        self.setFocus()

    def show_pictures(self, pictures: dict[int, QImage]) -> None:
        """Show pictures of the coupons, by key."""
        self._pictures = pictures
        self.show_again()

    def show_again(self) -> None:
        """Show the showing in view as it is now."""
        if self._round() is not None:
            self._show_number(self.number)

    def _round(self) -> BlindRound | None:
        return self._session.record.blind_rounds.get(self._round_key)

    def _showing(self) -> Showing | None:
        of_round = self._round()
        return None if of_round is None else of_round.showings[self.number]

    def given(self) -> BlindGrade | None:
        """Return the grade of the showing in view, or None."""
        return self._session.record.blind_grades.get(self._round_key, {}).get(self.number)

    def _show_number(self, number: int) -> None:
        of_round = self._round()
        if of_round is None:
            return
        self.number = number
        showing, given, count = of_round.showings[number], self.given(), len(of_round.showings)
        place = self.tr("{0} of {1}").format(number + 1, count)
        self._title.setText(self.tr("{0}: coupon {1}").format(of_round.grader, place))
        graded = graded_in(self._session.record, of_round)
        self._bar.setRange(0, count)
        self._bar.setValue(graded)
        self._show_coupon(showing, place)
        note = given.note if given is not None else self._drafts.get(number, "")
        self.foot.set_values(given.distribution if given is not None else "", note, graded=given is not None)
        self.guide.mark_given(given.grade if given is not None else None)
        self._ask_guide()
        done = graded == count
        self._state.setText(self._state_text(given, graded, count))
        self.finish.setVisible(done)
        self._enable()

    def _enable(self) -> None:
        """Let nobody grade what he does not see."""
        writable = not self._session.read_only_reason and self._can_be_seen()
        for key in self.guide.keys.values():
            key.setEnabled(writable)
        self.foot.setEnabled(writable)

    def _can_be_seen(self) -> bool:
        showing = self._showing()
        if showing is None or self._blind.basis == "bench":
            return showing is not None
        return self._pictures is not None and showing.coupon in self._pictures

    def _state_text(self, given: BlindGrade | None, graded: int, count: int) -> str:
        if not self._can_be_seen() and self._pictures is None:
            return self.tr("The photo is being cut…")
        if not self._can_be_seen():
            return self.tr("The photo does not show this coupon; skip it")
        if graded == count:
            return self.tr("All {0} graded: look over what you doubt, then finish").format(count)
        if given is not None:
            return self.tr("you gave {0}").format(written(given.grade, given.distribution))
        return self.tr("{0} graded").format(graded)

    def _show_coupon(self, showing: Showing, place: str) -> None:
        coupon = self._session.record.coupons.get(showing.coupon)
        if self._blind.basis == "bench":
            position = coupon.position if coupon is not None else None
            label = position.label if position is not None else ""
            self.view.show_place(position, self.tr("Coupon {0}, at position {1}").format(place, label))
            return
        image = (self._pictures or {}).get(showing.coupon)
        self.view.show_picture(image, showing.turn, self.tr("Picture of coupon {0}").format(place))

    def _ask_guide(self) -> None:
        self.guide.ask_for(GuideRequest(self.foot.pattern(), "middle", self.guide.picture_height()))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.view.set_scheme(scheme)
        self.guide.set_scheme(scheme)

    # ---- what the grader does

    @Slot(int)
    def give(self, grade: int, percent: float | None = None) -> None:
        """Give the coupon in view a grade and go on to the next that has none."""
        of_round = self._round()
        if of_round is None or self._session.read_only_reason or not self._can_be_seen():
            return
        letter = self.foot.letter() if carries_letter(grade) else ""
        given = GivenBlind(of_round.key, self.number, grade, letter, percent, self.foot.note())
        if self._done(give_blind, given) is None:
            return
        self._drafts.pop(self.number, None)
        self.graded.emit(self.tr("{0}: {1}").format(self.number + 1, written(grade, letter)))
        following = next_showing(self._session.record, of_round, self.number)
        self._show_number(self.number if following is None else following)
        if following is None:
            self.finish.setFocus()

    def _done(self, operation: Callable[..., object], *arguments: object) -> ChangeSet | None:
        changes = self._do(operation, *arguments, origin=self)
        if changes is not None and changes.tables:
            self._steps.append(self._session.newest_step())
            self.stepped.emit()
        return changes

    @Slot(str)
    def _change_letter(self, letter: str) -> None:
        given = self.given()
        if given is not None and carries_letter(given.grade) and given.distribution != letter:
            self._correct(given, letter, given.note)
        self._ask_guide()

    @Slot(str)
    def _change_note(self, note: str) -> None:
        given = self.given()
        if given is None:
            self._drafts[self.number] = note
        elif given.note != note.strip():
            self._correct(given, given.distribution, note)

    def _correct(self, given: BlindGrade, letter: str, note: str) -> None:
        corrected = GivenBlind(given.round, given.number, given.grade, letter, given.percent, note)
        if self._done(give_blind, corrected) is not None:
            self.show_again()

    @Slot()
    def withdraw(self) -> None:
        """Take the grade of the showing in view back."""
        if self.given() is not None and self._done(withdraw_blind, self._round_key, self.number) is not None:
            self.show_again()

    @Slot()
    def go_back(self) -> None:
        """Show the showing before."""
        self._step(-1)

    @Slot()
    def go_on(self) -> None:
        """Show the showing after."""
        self._step(1)

    def _step(self, by: int) -> None:
        self.foot.finish_note()
        of_round = self._round()
        if of_round is not None:
            self._show_number((self.number + by) % len(of_round.showings))

    @Slot()
    def finish_if_done(self) -> None:
        """Close the round, when every showing has a grade."""
        of_round = self._round()
        if of_round is None or graded_in(self._session.record, of_round) < len(of_round.showings):
            return
        self.foot.finish_note()
        if self._do(finish_round, of_round.key, origin=self) is not None:
            self._steps.clear()
            self.finished.emit()

    # ---- undo, of this sitting alone

    def can_undo(self) -> bool:
        """Return whether the newest step is one of this sitting."""
        return bool(self._steps) and self._session.newest_step() == self._steps[-1]

    def undo(self) -> None:
        """Take the last step of this sitting back and show what it was about.

        Raises:
            InputError: the disk refused.
        """
        if not self.can_undo():
            return
        changes = self._session.undo(origin=self)
        self._steps.pop()
        self.stepped.emit()
        if changes is not None and changes.summary.parts:
            self._show_number(int(changes.summary.parts[0]) - 1)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Grade by keys: digits, T for ten, letters, arrows."""
        # A key held down must not grade the coupons that follow.
        text = "" if event.isAutoRepeat() else event.text().upper()
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and len(text) == 1 and text in "0123456789T":
            self.give(10 if text == "T" else int(text))
        elif plain and len(text) == 1 and text in "SGPH" and self.foot.isEnabled():
            self.foot.press_letter(text)
        elif event.key() in self._moves and not event.isAutoRepeat():
            self._moves[event.key()]()
        else:
            super().keyPressEvent(event)
