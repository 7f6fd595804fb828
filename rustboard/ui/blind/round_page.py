"""One grader's blind round: a coupon, eleven keys or a slider, the next coupon."""

from __future__ import annotations

import contextlib
from collections.abc import Callable

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound
from rustboard.board.grade import carries_letter, written
from rustboard.operations.blind import GivenBlind, finish_round, give_blind, withdraw_blind
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.blind_rounds import next_showing, place_words
from rustboard.session.changes import ChangeSet
from rustboard.session.pictures import outline_on_board
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings, save_settings
from rustboard.support.text import printable
from rustboard.ui.blind.round_body import RoundBody
from rustboard.ui.blind.round_head import RoundHead
from rustboard.ui.blind.sitting import Sitting
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.spoken import say
from rustboard.ui.theme import Scheme, least_button_height


class RoundPage(QWidget):
    """Shows a round's coupons one after the other; every grade is on the disk before the next comes.

    Signals:
        left(): back to the overview, with the round as it is. finished(): the round is closed.
        stepped(): what can be undone has changed. refused(str): what was typed cannot be; one sentence.

    Attributes:
        number: the showing in view, from 0. head, body: what is on the page. sitting: of the grader who is there.
    """

    left = Signal()
    finished = Signal()
    stepped = Signal()
    refused = Signal(str)

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
        """Build the page; nothing is shown before `show_round`."""
        super().__init__(parent)
        self._session, self._do, self._settings = session, do, settings
        self.sitting = Sitting(session, blind, do)
        self._drafts: dict[tuple[int, int], str] = {}  # notes before their grades, by round and number
        self.number = 0
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        board = session.record.board
        self.head = RoundHead()
        self.body = RoundBody(board.rows, board.columns, bridge, scheme)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 8)
        column.addWidget(self.head)
        column.addWidget(self.body, 1)
        key = Qt.Key
        self._moves: dict[int, Callable[[], object]] = {
            key.Key_Left: self.go_back,
            key.Key_Right: self.go_on,
            key.Key_Escape: self.left.emit,
            key.Key_Delete: self.withdraw,
            key.Key_N: self.body.options.edit_note,
            key.Key_Percent: self.body.options.toggle_by_percent,
        }
        self._wire()

    def _wire(self) -> None:
        self.head.back.clicked.connect(self.go_back)
        self.head.skip.clicked.connect(self.go_on)
        self.head.leave.clicked.connect(self.left)
        self.head.finish.clicked.connect(self.finish_if_done)
        self.body.given.connect(self.give)
        self.body.percent_given.connect(self.give_percent)
        self.body.refused.connect(self.refused)
        self.body.left.connect(self.setFocus)
        options = self.body.options
        options.letter_changed.connect(self._change_letter)
        options.guide_changed.connect(self.body.show_guide)
        options.by_percent_changed.connect(self._change_way)
        options.note_entered.connect(self._change_note)
        options.withdraw_asked.connect(self.withdraw)
        options.left.connect(self.setFocus)

    # ---- what is shown

    def show_round(self, key: int) -> None:
        """Go on with a round at its first coupon without a grade."""
        self.sitting.sit_down(key)
        of_round = self.sitting.round()
        if of_round is not None:
            self.number = next_showing(self._session.record, of_round, -1) or 0
        self.follow_settings()
        self.setFocus()

    def show_pictures(self, pictures: dict[int, QImage]) -> None:
        """Show pictures of the coupons, by key."""
        self.sitting.pictures = pictures
        self._show()

    @Slot()
    def follow_settings(self) -> None:
        """Show the way of grading and the size of keys that the settings say."""
        large = self._settings.large_keys
        height = least_button_height(self, large=large)
        self.head.set_least_height(height)
        self.body.options.set_least_height(height)
        self.body.show_way(by_percent=self._settings.by_percent, large=large)
        self._show()

    def _show_number(self, number: int) -> None:
        self.number = number
        self._show()

    def _show(self) -> None:
        of_round = self.sitting.round()
        if of_round is None:
            return
        given, count = self.sitting.given(self.number), len(of_round.showings)
        place = self.tr("{0} of {1}").format(self.number + 1, count)
        title = self.tr("{0}: coupon {1}").format(printable(of_round.grader), place)
        if self.sitting.at_the_bench():
            title = self.tr("{0}, at position {1}").format(title, self._label(of_round))
        self.head.show_progress(title, self.sitting.state_text(self.number), self.sitting.graded(), count)
        self._show_coupon(of_round, place)
        note = given.note if given is not None else self._drafts.get((self.sitting.round_key, self.number), "")
        letter = given.distribution if given is not None else ""
        self.body.options.set_values(letter, note, graded=given is not None)
        self.body.show_given(given)
        self.body.show_guide()
        self.body.allow_giving(self.sitting.may_grade(self.number))

    def _show_coupon(self, of_round: BlindRound, place: str) -> None:
        showing = of_round.showings[self.number]
        coupon = self._session.record.coupons.get(showing.coupon)
        if self.sitting.at_the_bench():
            position = coupon.position if coupon is not None else None
            self.body.show_place(
                position, self.tr("Coupon {0}, at position {1}").format(place, self._label(of_round))
            )
            return
        image = (self.sitting.pictures or {}).get(showing.coupon)
        outline = outline_on_board(self._session.record, coupon) if coupon is not None else ()
        self.body.show_picture(image, showing.turn, outline, self.tr("Picture of coupon {0}").format(place))

    def _label(self, of_round: BlindRound) -> str:
        coupon = self._session.record.coupons.get(of_round.showings[self.number].coupon)
        return place_words(coupon) if coupon is not None else ""

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.body.set_scheme(scheme)

    # ---- what the grader does

    @Slot(int)
    def give(self, grade: int, percent: float | None = None) -> None:
        """Give the coupon in view a grade and go on to the next that has none."""
        of_round = self.sitting.round()
        if of_round is None or not self.sitting.may_grade(self.number):
            return
        options = self.body.options
        letter = options.letter() if carries_letter(grade) else ""
        given = GivenBlind(of_round.key, self.number, grade, letter, percent, options.note())
        if self._done(give_blind, given) is None:
            return
        self._drafts.pop((self.sitting.round_key, self.number), None)
        if self._settings.say_grades:
            say(self, self.tr("{0}: {1}").format(self.number + 1, written(grade, letter)))
        following = next_showing(self._session.record, of_round, self.number)
        self._show_number(self.number if following is None else following)
        if following is None:
            self.head.finish.setFocus()

    @Slot(float)
    def give_percent(self, percent: float) -> None:
        """Give the coupon in view a percent, and the grade that it is."""
        self.give(grade_from_percent(percent), percent)

    def _done(self, operation: Callable[..., object], *arguments: object) -> ChangeSet | None:
        changes = self.sitting.do(operation, *arguments, origin=self)
        self.stepped.emit()
        return changes

    @Slot(str)
    def _change_letter(self, letter: str) -> None:
        given = self.sitting.given(self.number)
        if given is not None and carries_letter(given.grade) and given.distribution != letter:
            self._correct(given._replace(distribution=letter))

    @Slot(str)
    def _change_note(self, note: str) -> None:
        given = self.sitting.given(self.number)
        if given is None:
            self._drafts[self.sitting.round_key, self.number] = note
        elif given.note != note.strip():
            self._correct(given._replace(note=note))

    def _correct(self, new: BlindGrade) -> None:
        if self.sitting.give_again(new, self) is not None:
            self.stepped.emit()
            self._show()

    @Slot(bool)
    def _change_way(self, by_percent: bool) -> None:
        self._settings.by_percent = by_percent
        # Only a convenience for the next time: a disk that refuses is no reason to interrupt.
        with contextlib.suppress(InputError):
            save_settings(self._settings)
        self.follow_settings()

    @Slot()
    def withdraw(self) -> None:
        """Take the grade of the showing in view back."""
        given = self.sitting.given(self.number)
        if given is not None and self._done(withdraw_blind, given.round, given.number) is not None:
            self._show()

    @Slot()
    def go_back(self) -> None:
        """Show the showing before."""
        self._step(-1)

    @Slot()
    def go_on(self) -> None:
        """Show the showing after."""
        self._step(1)

    def _step(self, by: int) -> None:
        self.body.options.finish_note()
        of_round = self.sitting.round()
        if of_round is not None:
            self._show_number((self.number + by) % len(of_round.showings))

    @Slot()
    def finish_if_done(self) -> None:
        """Close the round, when every showing has a grade."""
        of_round = self.sitting.round()
        if of_round is None or self.sitting.graded() < len(of_round.showings):
            return
        self.body.options.finish_note()
        if self._do(finish_round, of_round.key, origin=self) is not None:
            self.sitting.sit_down(of_round.key)
            self.finished.emit()

    def undo(self) -> None:
        """Take the last step of this sitting back and show what it was about.

        Raises:
            InputError: the disk refused.
        """
        number = self.sitting.undo(self)
        self.stepped.emit()
        if number is not None:
            self._show_number(number)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Grade by keys: digits, T for ten, letters, arrows; or by the slider's keys."""
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._finishes(event):
            self.finish_if_done()
            return
        # A key held down must not grade the coupons that follow.
        text = "" if event.isAutoRepeat() else event.text().upper()
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        by_keys = not self.body.is_by_percent()
        if not by_keys and self.body.picker.press(event):
            return
        if plain and by_keys and len(text) == 1 and text in "0123456789T":
            self.give(10 if text == "T" else int(text))
        elif plain and len(text) == 1 and text in "SGPH" and self.sitting.may_grade(self.number):
            self.body.options.press_letter(text)
        elif event.key() in self._moves and not event.isAutoRepeat():
            self._moves[event.key()]()
        else:
            super().keyPressEvent(event)

    def _finishes(self, event: QKeyEvent) -> bool:
        """Return whether Enter closes the round: on its button, or with Ctrl; else it may give a percent."""
        control = bool(event.modifiers() & Qt.KeyboardModifier.ControlModifier)
        return not event.isAutoRepeat() and (control or self.window().focusWidget() is self.head.finish)
