"""What a grader looks at in a blind round: the coupon or its place, and the keys or the slider of percents."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtGui import QImage, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from rustboard.board.blind import BlindGrade, Turn
from rustboard.board.model import Outline
from rustboard.board.position import Position
from rustboard.session.pictures import GuideRequest
from rustboard.ui.blind.coupon_view import CouponView
from rustboard.ui.bridge import JobBridge
from rustboard.ui.guide.options import GradingOptions
from rustboard.ui.guide.strip import GuideStrip
from rustboard.ui.percent.picker import PercentPicker
from rustboard.ui.theme import Scheme

_PLATE: Outline = ((0.0, 0.0), (60.0, 0.0), (60.0, 120.0), (0.0, 120.0))  # stands for every coupon at the bench

_NARROW = 860


class RoundBody(QWidget):
    """Shows one coupon and the two ways to grade it.

    Signals:
        given(int): a grade's key was pressed. percent_given(float): a percent was given.
        refused(str): what was typed cannot be; one sentence. left(): the keyboard should go back to the page.

    Attributes:
        view, guide, picker, options: coupon, eleven keys, slider, and the line of choices under them.
    """

    given = Signal(int)
    percent_given = Signal(float)
    refused = Signal(str)
    left = Signal()

    def __init__(
        self, rows: int, columns: int, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None
    ) -> None:
        """Build it without a coupon, for a board of this many rows and columns."""
        super().__init__(parent)
        self.view = CouponView(rows, columns, scheme)
        self.guide = GuideStrip(bridge, scheme)
        self.guide.set_two_rows()
        self.picker = PercentPicker(bridge, scheme)
        self.options = GradingOptions()
        self.options.leave_out_own()
        self._outline = _PLATE
        right = QVBoxLayout()
        right.addWidget(self.guide, 1)
        right.addWidget(self.picker, 1)
        right.addWidget(self.options)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        row.addWidget(self.view, 3)
        row.addLayout(right, 5)
        self._wire()
        self.show_way(by_percent=False, large=False)

    def _wire(self) -> None:
        self.guide.given.connect(self.given)
        self.picker.given.connect(self.percent_given)
        self.picker.refused.connect(self.refused)
        self.picker.left.connect(self.left)

    def show_way(self, *, by_percent: bool, large: bool) -> None:
        """Grade by the slider or by the keys, large or as usual."""
        self.options.show_by_percent(by_percent)
        self.guide.setVisible(not by_percent)
        self.picker.setVisible(by_percent)
        self.guide.set_large(large)
        self.picker.set_large(large)
        self._share_room()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Leave the room to the slider where the window is narrow; it shows the coupon itself then."""
        super().resizeEvent(event)
        if (self.width() < _NARROW) != (event.oldSize().width() < _NARROW):
            self._share_room()

    def _share_room(self) -> None:
        narrow = self.width() < _NARROW and self.is_by_percent()
        self.view.setVisible(not narrow)
        self.picker.show_own(self.view.shown_picture() if narrow else None, self.tr("coupon") if narrow else "")

    def is_by_percent(self) -> bool:
        """Return whether the slider is shown."""
        return self.picker.isVisibleTo(self)

    def show_picture(self, image: QImage | None, turn: Turn, outline: Outline, words: str) -> None:
        """Show a coupon's picture; ``words`` say no more than that it is one."""
        self._outline = outline if len(outline) >= 3 else _PLATE
        self.view.show_picture(image, turn, words)
        self._share_room()

    def show_place(self, position: Position | None, words: str) -> None:
        """Show where the coupon hangs."""
        self._outline = _PLATE
        self.view.show_place(position, words)
        self._share_room()

    def show_given(self, given: BlindGrade | None) -> None:
        """Show the grade of the showing in view; the slider begins at nothing where there is none."""
        self.guide.mark_given(given.grade if given is not None else None)
        if given is None:
            self.picker.show_percent(0.0)
        elif given.percent is not None:
            self.picker.show_percent(given.percent)
        else:
            self.picker.show_grade(given.grade)

    def show_guide(self) -> None:
        """Ask for the reference pictures that the choices want, on plain steel."""
        pattern, at = self.options.pattern(), self.options.place()
        if self.is_by_percent():
            self.picker.ask_for(GuideRequest(pattern, at, 0, None, self._outline))
        else:
            self.guide.ask_for(GuideRequest(pattern, at, self.guide.picture_height()))

    def allow_giving(self, allowed: bool) -> None:
        """Let grades be given, or not."""
        for key in self.guide.keys.values():
            key.setEnabled(allowed)
        self.picker.allow_giving(allowed)
        self.options.setEnabled(allowed)

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        for each in (self.view, self.guide, self.picker):
            each.set_scheme(scheme)
