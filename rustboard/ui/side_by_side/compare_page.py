"""Two coupons next to each other, three answers, the next two. Nothing here says which coupons they are."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QImage, QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QProgressBar, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.board.pair_choice import Rustier
from rustboard.operations.side_by_side import GivenChoice, choose
from rustboard.session.own_steps import OwnSteps
from rustboard.session.session import Session
from rustboard.session.side_by_side import Comparison, PairRequest, pair_request, pair_turns, standing
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.text import printable
from rustboard.ui.bridge import JobBridge
from rustboard.ui.doing import Do
from rustboard.ui.side_by_side.next_pairs import NextPairs
from rustboard.ui.side_by_side.pair_picture import PairPicture
from rustboard.ui.spoken import say
from rustboard.ui.theme import Scheme, px_of_mm

if TYPE_CHECKING:
    from rustboard.findings.side_by_side.choices import Pair

_BUTTON_MM = 13.0
_LARGE_MM = 20.0  # for gloves, as the keys of the grades
_HEAD_MM = 9.0


class ComparePage(QWidget):
    """Every choice is on the disk before the next two come.

    Signals:
        left(): interrupted. enough(): there is nothing more to ask.
        stepped(): what can be undone has changed. failed(str): a sentence to stay until read.

    Attributes:
        pair: in view, or None while none is.
    """

    left = Signal()
    enough = Signal()
    stepped = Signal()
    failed = Signal(str)

    def __init__(
        self,
        session: Session,
        bridge: JobBridge,
        do: Do,
        scheme: Scheme,
        settings: Settings,
        parent: QWidget | None = None,
    ) -> None:
        """Build the page; nothing is shown before `begin`."""
        super().__init__(parent)
        self._session, self._do, self._settings = session, do, settings
        self._comparison: Comparison | None = None
        self._pictures: dict[int, QImage] | None = None
        self._request: PairRequest | None = None
        self._go_on = False
        self._steps = OwnSteps(session)
        self._pressed: QPushButton | None = None  # that had the keyboard when the last pair went
        self.pair: Pair | None = None
        self._next = NextPairs(bridge, self)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.pictures = (
            PairPicture(scheme, self.tr("Picture on the left")),
            PairPicture(scheme, self.tr("Picture on the right")),
        )
        self._title, self._state = QLabel(), QLabel()
        self._title.setProperty("heading", True)
        self._state.setProperty("muted", True)
        for each in (self._title, self._state):
            each.setTextFormat(Qt.TextFormat.PlainText)
        self._title.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self._bar = QProgressBar()
        self._bar.setTextVisible(False)
        self._bar.setFixedHeight(8)
        self._bar.setAccessibleName(self.tr("Choices made so far"))
        self.back, self.leave = QPushButton(self.tr("Take back")), QPushButton(self.tr("Interrupt"))
        self.left_button = QPushButton(self.tr("← Left is rustier"))
        self.neither_button = QPushButton(self.tr("↓ Cannot tell"))
        self.right_button = QPushButton(self.tr("Right is rustier →"))
        key = Qt.Key
        self._moves: dict[int, Callable[[], object]] = {
            key.Key_Left: self.choose_left,
            key.Key_Right: self.choose_right,
            key.Key_Down: self.choose_neither,
            key.Key_Space: self.choose_neither,
            key.Key_Backspace: self.take_back,
            key.Key_Escape: self.left.emit,
            key.Key_Plus: self.zoom_in,
            key.Key_Equal: self.zoom_in,
            key.Key_Minus: self.zoom_out,
            key.Key_0: self.fit,
        }
        self._lay_out()
        self._wire()

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self._title, 1)
        head.addWidget(self._state)
        for each, tip in (
            (self.back, self.tr("Take your last choice of this sitting back. Key: Backspace")),
            (self.leave, self.tr("Leave it as it is; you can go on later. Key: Esc")),
        ):
            each.setToolTip(tip)
            each.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            head.addWidget(each)
        body = QHBoxLayout()
        body.setSpacing(8)
        for picture in self.pictures:
            body.addWidget(picture, 1)
        foot = QHBoxLayout()
        foot.setSpacing(8)
        for button, name, tip in (
            (self.left_button, self.tr("Left is rustier"), self.tr("Key: Left. Or tap the picture")),
            (self.neither_button, self.tr("Cannot tell"), self.tr("Key: Down or Space")),
            (self.right_button, self.tr("Right is rustier"), self.tr("Key: Right. Or tap the picture")),
        ):
            button.setAccessibleName(name)
            button.setToolTip(tip)
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)
            foot.addWidget(button, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 6, 8, 8)
        column.addLayout(head)
        column.addWidget(self._bar)
        column.addLayout(body, 1)
        column.addLayout(foot)

    def _wire(self) -> None:
        left, right = self.pictures
        left.tapped.connect(self.choose_left)
        right.tapped.connect(self.choose_right)
        self.left_button.clicked.connect(self.choose_left)
        self.neither_button.clicked.connect(self.choose_neither)
        self.right_button.clicked.connect(self.choose_right)
        self.back.clicked.connect(self.take_back)
        self.leave.clicked.connect(self.left)
        self._next.found.connect(self._show_pair)
        self._next.failed.connect(self.failed)

    # ---- what is shown

    def begin(self, comparison: Comparison, *, go_on: bool) -> None:
        """Begin a sitting, or go on with the pair at which the last one stopped.

        ``go_on``: ask for more choices also when there are enough.
        """
        self._comparison, self._go_on = comparison, go_on
        self._steps.begin()
        self._pictures = None
        self.follow_settings()
        self._show_nothing()
        self.setFocus()

    @Slot()
    def follow_settings(self) -> None:
        """Make everything to press as large as the settings say."""
        large = self._settings.large_keys
        for button in (self.left_button, self.neither_button, self.right_button):
            button.setMinimumHeight(px_of_mm(self, _LARGE_MM if large else _BUTTON_MM))
        for button in (self.back, self.leave):
            button.setMinimumHeight(px_of_mm(self, _HEAD_MM))

    def show_pictures(self, pictures: dict[int, QImage]) -> None:
        """Show pictures of the coupons, by key; of those without one nothing is asked."""
        if self._comparison is not None:
            seen = tuple(each for each in self._comparison.coupons if each in pictures)
            self._comparison = replace(self._comparison, coupons=seen)
            self._pictures = pictures
            self.show_next()

    def _show_nothing(self) -> None:
        self.pair = self._request = None
        for picture in self.pictures:
            picture.show_picture(None, "")
        self._show_state()

    def show_next(self) -> None:
        """Show the pair that is to be compared now."""
        if self._comparison is None or self._pictures is None:
            return
        self.pair = None
        self._next.ask(pair_request(self._session.record, self._comparison, go_on=self._go_on))
        if self.pair is None:
            self._show_state()

    @Slot(object, object)
    def _show_pair(self, request: PairRequest, pair: Pair | None) -> None:
        if self._comparison is None or self._pictures is None:
            return
        self._request, self.pair = request, pair
        if pair is None:
            self._show_nothing()
            self.enough.emit()
            return
        for picture, key, turn in zip(self.pictures, pair, pair_turns(request, pair), strict=True):
            picture.show_picture(self._pictures.get(key), turn)
        self._show_state()
        self._next.look_ahead(request, pair)

    def _show_state(self) -> None:
        if self._comparison is None:
            return
        done, wanted = standing(self._session.record, self._comparison)
        grader = printable(self._comparison.grader)
        text = self.tr("{0}: {1} choices made; these make the order surer") if self._go_on else ""
        self._title.setText((text or self.tr("{0}: {1} of about {2}")).format(grader, done, wanted))
        self._bar.setRange(0, max(wanted, 1))
        self._bar.setValue(max(wanted, 1) if self._go_on else min(done, wanted))
        self._state.setText(self._words_of_state())
        self._allow_choosing(self.pair is not None)
        self.back.setEnabled(self.can_undo())

    def _allow_choosing(self, allowed: bool) -> None:
        """Let the three be pressed, or not; the one that had the keyboard has it again with the next pair."""
        answers = (self.left_button, self.neither_button, self.right_button)
        pressed = next((each for each in answers if each.hasFocus()), None)
        if pressed is not None and not allowed:
            self._pressed = pressed
            self.setFocus()  # a button that goes grey would hand the keyboard on, at last to the one that interrupts
        for each in answers:
            each.setEnabled(allowed)
        if allowed and self._pressed is not None:
            if self.hasFocus():
                self._pressed.setFocus()
            self._pressed = None

    def _words_of_state(self) -> str:
        if self._pictures is None:
            return self.tr("The photo is being cut…")
        if self.pair is None:
            return self.tr("Finding the next two…")
        return self.tr("Which one is more rusted?")

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for each in self.pictures:
            each.set_scheme(scheme)

    @Slot()
    def zoom_in(self) -> None:
        """Look at both more closely."""
        for each in self.pictures:
            each.zoom_in()

    @Slot()
    def zoom_out(self) -> None:
        """Look at both from farther."""
        for each in self.pictures:
            each.zoom_out()

    @Slot()
    def fit(self) -> None:
        """Show both whole."""
        for each in self.pictures:
            each.fit()

    # ---- what the grader does

    @Slot()
    def choose_left(self) -> None:
        """Say that the left one is more rusted."""
        self._choose("left")

    @Slot()
    def choose_right(self) -> None:
        """Say that the right one is more rusted."""
        self._choose("right")

    @Slot()
    def choose_neither(self) -> None:
        """Say that it cannot be told."""
        self._choose("neither")

    def _choose(self, rustier: Rustier) -> None:
        of, pair = self._comparison, self.pair
        if of is None or pair is None:
            return
        given = GivenChoice(of.inspection, of.grader, pair.left, pair.right, rustier)
        if self._do(choose, given, origin=self) is None:
            return
        self._steps.add_newest()
        if self._settings.say_grades:
            say(self, self._spoken(rustier))
        self.show_next()
        self.stepped.emit()

    def _spoken(self, rustier: Rustier) -> str:
        words = {"left": self.tr("left"), "right": self.tr("right"), "neither": self.tr("cannot tell")}
        done = 0 if self._request is None else len(self._request.choices)
        return self.tr("{0}: {1}").format(done + 1, words[rustier])

    def can_undo(self) -> bool:
        """Return whether the newest step is a choice of this sitting."""
        return self._steps.can_undo()

    @Slot()
    def take_back(self) -> None:
        """Take the last choice of this sitting back and show its two coupons again."""
        if not self.can_undo():
            return
        try:
            self._steps.undo(self)
        except InputError as error:
            self.failed.emit(str(error))
            return
        self.show_next()
        self.stepped.emit()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose by keys."""
        # A key held down must not choose of the pairs that follow.
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if plain and event.key() in self._moves:
            if not event.isAutoRepeat():
                self._moves[event.key()]()
        else:
            super().keyPressEvent(event)
