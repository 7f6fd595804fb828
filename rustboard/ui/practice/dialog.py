"""Practice in grading: the first page, the exercise, and how it went."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, Slot
from PySide6.QtWidgets import QVBoxLayout, QWidget

from rustboard.session.practice import Practice, paint_practice_coupon
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge
from rustboard.ui.current_stack import CurrentStack
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.practice.end_page import EndPage
from rustboard.ui.practice.grading_page import GradingPage
from rustboard.ui.practice.start_page import StartPage
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.scales.practice_coupons import PaintedCoupon

_WIDTH_IN_LETTERS: Final = 190
_HEIGHT_IN_LINES: Final = 52


class PracticeDialog(FittingDialog):
    """Three pages: start, grading, end.

    Attributes:
        start, grading, end: the pages. problem: a sentence about the disk or the history.
    """

    def __init__(
        self, practice: Practice, bridge: JobBridge, scheme: Scheme, grader: str, parent: QWidget | None = None
    ) -> None:
        """Show the first page; ``grader`` is who most likely practises."""
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Practise grading"))
        self._practice, self._bridge = practice, bridge
        self._asked: set[int] = set()
        self._warned = False
        self.start = StartPage(practice, grader, scheme)
        self.grading, self.end = GradingPage(practice, scheme), EndPage(scheme)
        self.problem = ProblemLine()
        self._stack = CurrentStack()
        for each in (self.start, self.grading, self.end):
            self._stack.addWidget(each)
        column = QVBoxLayout(self)
        column.addWidget(self._stack, 1)
        column.addWidget(self.problem)
        self._wire()
        self._show_start()

    def _wire(self) -> None:
        self.start.start_asked.connect(self._begin)
        self.start.go_on_asked.connect(self._take_up)
        self.start.told.connect(self.problem.say)
        self.grading.next_wanted.connect(self._paint)
        self.grading.told.connect(self._tell_trouble)
        self.grading.finished.connect(self._finish)
        self.end.history_asked.connect(self._show_start)
        for asked in (self.start.close_asked, self.grading.leave_asked, self.end.close_asked):
            asked.connect(self.reject)

    def sizeHint(self) -> QSize:
        """Return a size in which a coupon is seen well, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())

    # ---- pages

    @Slot()
    def _show_start(self) -> None:
        self._stack.setCurrentWidget(self.start)
        self.start.refresh()
        offered = self.start.offered()
        (offered if offered.isEnabled() else self.start.who).setFocus()

    @Slot(str)
    def _begin(self, grader: str) -> None:
        try:
            self._practice.start(grader)
        except InputError as error:
            self.problem.say(str(error))
            return
        self._grade()

    @Slot(str)
    def _take_up(self, grader: str) -> None:
        try:
            self._practice.go_on(grader)
        except InputError as error:  # another window went on with it
            self._show_start()
            self.problem.say(str(error))
            return
        self._grade()

    def _grade(self) -> None:
        self._asked.clear()
        self._tell_trouble(self._practice.trouble)
        self._stack.setCurrentWidget(self.grading)
        self.grading.begin()

    @Slot()
    def _finish(self) -> None:
        past = self._practice.outcome()
        if past is None:
            self._show_start()
            return
        self._stack.setCurrentWidget(self.end)
        self.end.show_past(past, self._practice.history(self._practice.grader))

    # ---- pictures

    @Slot()
    def _paint(self) -> None:
        for each in self._practice.wanted():
            if each.number not in self._asked:
                self._asked.add(each.number)
                self._bridge.start(
                    ("practice", id(self), each.number), paint_practice_coupon, each,
                    done=self._come, failed=self._fail, owner=self,
                )  # fmt: skip

    def _come(self, painted: PaintedCoupon) -> None:
        self._practice.take(painted)
        self.grading.look()

    def _fail(self, error: InputError) -> None:
        self._asked.clear()  # asked for again with the next coupon, or when the exercise is taken up
        self.problem.say(str(error))

    # ---- the disk

    @Slot(str)
    def _tell_trouble(self, trouble: str) -> None:
        self._warned = False
        if not trouble:
            self.problem.say("")
            return
        waiting = self.tr("You can go on; grades not on the disk yet: {0}. They are tried again with the next.")
        self.problem.say(f"{trouble} {waiting.format(self._practice.unkept())}")

    @Slot()
    def reject(self) -> None:
        """Close; where grades are not on the disk, only when asked a second time."""
        self._practice.keep_again()
        unkept = self._practice.unkept()
        if unkept and not self._warned:
            self._warned = True
            lost = self.tr("Grades that would be lost: {0}. Close once more to leave without them.").format(unkept)
            self.problem.say(f"{self._practice.trouble} {lost}")
            return
        super().reject()
