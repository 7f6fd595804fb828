"""Percent by eye: a slider, a field and keys, the live picture of that percent, and the grade that follows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QFont, QImage, QKeyEvent, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QHBoxLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.scales.percent_scale import stepped, stepped_by_grade, written_middle
from rustboard.scales.rust_grade import check_percent, grade_from_percent
from rustboard.session.pictures import GuideRequest, growing_picture, picture_shape, same_guide
from rustboard.support.problems import InputError
from rustboard.ui.ahead import Ahead
from rustboard.ui.bridge import JobBridge
from rustboard.ui.flow_layout import flowing
from rustboard.ui.guide.strip import limits_text
from rustboard.ui.percent.field import PercentField, percent_text
from rustboard.ui.percent.pair import PicturePair
from rustboard.ui.percent.slider import PercentSlider
from rustboard.ui.single_presses import SinglePresses
from rustboard.ui.theme import Scheme, grade_colour, grade_ink, px_of_mm

if TYPE_CHECKING:
    from rustboard.scales.rust_paint import GrowingRust

_NARROW_MM = 200.0

_MOVES: Final[dict[Qt.Key, Callable[[float], float]]] = {
    Qt.Key.Key_Up: partial(stepped, by=1),
    Qt.Key.Key_Down: partial(stepped, by=-1),
    Qt.Key.Key_PageUp: partial(stepped_by_grade, by=1),
    Qt.Key.Key_PageDown: partial(stepped_by_grade, by=-1),
    Qt.Key.Key_Home: partial(min, 0.0),
    Qt.Key.Key_End: partial(max, 100.0),
}
"""Where each key leads from a percent: by small steps, by grades, to the ends."""


class PercentPicker(QWidget):
    """Lets somebody choose a percent rusted by looking at it. It knows neither board nor record.

    Signals:
        given(float): this percent is given, by the button or Enter.
        left(): the keyboard should go back to where it was before the field.
        refused(str): what was typed is no percent; one sentence.
    """

    given = Signal(float)
    left = Signal()
    refused = Signal(str)

    def __init__(
        self, bridge: JobBridge, scheme: Scheme, parent: QWidget | None = None, ahead: Ahead | None = None
    ) -> None:
        """Build it at nothing; ``ahead`` keeps its pictures together with others of the screen."""
        super().__init__(parent)
        self._ahead = ahead or Ahead(bridge, self)
        self._percent = 0.0
        self._narrow = False
        self._request: GuideRequest | None = None
        self.pair = PicturePair(scheme)
        self.slider = PercentSlider(scheme)
        self._badge = _GradeBadge()
        self.field = PercentField()
        self._less, self._more = QPushButton("−"), QPushButton("+")
        self._give = QPushButton()
        self._give.setProperty("primary", True)
        self._presses = SinglePresses(self)
        self._presses.watch(self._give)
        self._lay_out()
        self._wire()
        self.set_large(False)
        self._show()

    def _lay_out(self) -> None:
        for button, name, tip in (
            (self._less, self.tr("Less rust"), self.tr("A little less rust. Key: Down; a whole grade: Page Down")),
            (self._more, self.tr("More rust"), self.tr("A little more rust. Key: Up; a whole grade: Page Up")),
        ):
            button.setAccessibleName(name)
            button.setToolTip(tip)
            button.setAutoRepeat(True)
            font = QFont(button.font())
            font.setPointSizeF(font.pointSizeF() * 1.6)
            button.setFont(font)
        self._give.setToolTip(self.tr("Record this percent, and the grade that it is, and go on. Key: Enter"))
        for button in (self._less, self._more, self._give):
            button.setFocusPolicy(Qt.FocusPolicy.TabFocus)  # a click leaves the keyboard with the grades
        self._give.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        figures = flowing(
            _in_line(self._less, self.field, QLabel(self.tr("%")), self._more),
            _in_line(self._badge, self._give),
            spacing=8,
        )
        controls = QVBoxLayout()
        controls.addStretch(1)
        controls.addWidget(self.slider)
        controls.addWidget(figures)
        controls.addStretch(1)
        self._whole = QHBoxLayout(self)
        self._whole.setContentsMargins(0, 0, 0, 0)
        self._whole.setSpacing(12)
        self._whole.addWidget(self.pair, 2)
        self._whole.addLayout(controls, 3)

    def _wire(self) -> None:
        self.slider.valueChanged.connect(self._slid)
        self.slider.stepped.connect(self._step)
        self._less.clicked.connect(self.step_back)
        self._more.clicked.connect(self.step_on)
        self._give.clicked.connect(self.give)
        self.field.typed.connect(self._put)
        self.field.entered.connect(self._put)
        self.field.entered.connect(self.give)  # in this order: what was typed is shown, then given
        self.field.left.connect(self.left)
        self.field.refused.connect(self.refused)

    # ---- what is shown

    def percent(self) -> float:
        """Return the percent chosen."""
        return self._percent

    def grade(self) -> int:
        """Return the grade that the percent is."""
        return grade_from_percent(self._percent)

    def show_percent(self, percent: float) -> None:
        """Stand at a percent, such as that of a grade given before.

        Raises:
            InputError: no percent of a surface.
        """
        check_percent(percent)
        self._put(percent)

    def show_grade(self, grade: int) -> None:
        """Stand at the middle of a grade given without a percent."""
        self._put(written_middle(grade))

    def show_own(self, image: QImage | None, caption: str) -> None:
        """Show the coupon as it is; None while its picture is on the way, an empty caption when there is none."""
        self.pair.show_own(image, caption)

    def ask_for(self, request: GuideRequest) -> None:
        """Paint on this coupon from now on; what was painted on before goes at once."""
        if self._request is not None and same_guide(self._request) == same_guide(request):
            return
        self._request = request
        self.pair.set_shape(*picture_shape(request.outline))
        if not self._ahead.is_ready("percent", _same(request)):
            self.pair.show_growing(None, self.tr("being painted"))
        self._ahead.ask(
            "percent", _same(request), growing_picture, request, done=self._come, failed=self._fail, owner=self
        )

    def prepare(self, request: GuideRequest) -> None:
        """Make ready the coupon that will be asked for next."""
        self._ahead.prepare("percent", _same(request), growing_picture, request)

    def _come(self, growing: GrowingRust) -> None:
        self.pair.show_growing(growing, "")

    def _fail(self, error: InputError) -> None:
        self.pair.show_growing(None, str(error))

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.pair.set_scheme(scheme)
        self.slider.set_scheme(scheme)

    def set_large(self, large: bool) -> None:
        """Make everything to press large enough for gloves, or as otherwise."""
        self.slider.set_large(large)
        size = px_of_mm(self, 20.0 if large else 12.0)
        for button in (self._less, self._more):
            button.setMinimumSize(QSize(size, px_of_mm(self, 14.0 if large else 10.0)))
        for each in (self._give, self.field, self._badge):
            each.setMinimumHeight(px_of_mm(self, 14.0 if large else 10.0))

    def resizeEvent(self, event: QResizeEvent) -> None:
        """In a narrow window leave most of the room to what is pressed."""
        super().resizeEvent(event)
        narrow = self.width() < px_of_mm(self, _NARROW_MM)
        self._whole.setStretch(1, 4 if narrow else 3)
        self._badge.set_brief(narrow)
        # So wide that no percent moves it to another line.
        widest = "" if narrow else self.tr("Give {0} %").format("88.888")
        self._give.setMinimumWidth(self._give.fontMetrics().horizontalAdvance(widest) + px_of_mm(self, 10.0))
        if narrow != self._narrow:
            self._narrow = narrow
            self._show()

    def allow_giving(self, allowed: bool) -> None:
        """Let the percent be given, or only be looked at."""
        self._give.setEnabled(allowed)

    @Slot(float)
    def _put(self, percent: float) -> None:
        self._percent = percent
        self._show()

    def _show(self) -> None:
        shown, grade = percent_text(self._percent), self.grade()
        self.slider.show_percent(self._percent)
        said = self.tr("{0} %, grade {1}").format(shown, grade)
        self.slider.setAccessibleDescription(said)
        self._badge.show_grade(grade)
        self._give.setText(self.tr("Give") if self._narrow else self.tr("Give {0} %").format(shown))
        self._give.setAccessibleName(self.tr("Give {0}").format(said))
        self.pair.show_percent(self._percent, self.tr("{0} %").format(shown))
        self.field.show_percent(self._percent)

    # ---- what the user does

    @Slot()
    def give(self) -> None:
        """Give the percent that is shown."""
        if self._give.isEnabled():
            self.given.emit(self._percent)

    @Slot(int)
    def _slid(self, _place: int) -> None:
        self._put(self.slider.percent())

    @Slot(int)
    def _step(self, by: int) -> None:
        self._put(stepped(self._percent, by))

    @Slot()
    def step_on(self) -> None:
        """Go a small step on, to more rust."""
        self._step(1)

    @Slot()
    def step_back(self) -> None:
        """Go a small step back, to less rust."""
        self._step(-1)

    # ---- keys

    def press(self, event: QKeyEvent) -> bool:
        """Do what a key does here, wherever the keyboard is; return whether it is one of this picker's.

        Enter gives the percent that is shown; a digit, point or comma begins to type another.
        """
        plain = event.modifiers() in (Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.KeypadModifier)
        if event.key() in _MOVES:
            self._put(_MOVES[Qt.Key(event.key())](self._percent))
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if not event.isAutoRepeat():  # a key held down must not grade the coupons that follow
                self.give()
        elif plain and len(event.text()) == 1 and event.text() in "0123456789.,":
            if not event.isAutoRepeat():
                self.field.begin(event.text())
        else:
            return False
        return True

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Do what the keys do while the slider or a button has the keyboard."""
        if not self.press(event):
            super().keyPressEvent(event)


def _in_line(*widgets: QWidget) -> QWidget:
    """Return widgets that stay in one line; the last may grow."""
    holder = QWidget()
    line = QHBoxLayout(holder)
    line.setContentsMargins(0, 0, 0, 0)
    for each in widgets:
        line.addWidget(each)
    growing = widgets[-1].sizePolicy().horizontalPolicy()
    holder.setSizePolicy(growing, QSizePolicy.Policy.Fixed)
    return holder


class _GradeBadge(QWidget):
    """The grade that follows: its digit on its colour, with its limits."""

    def __init__(self) -> None:
        super().__init__()
        self._grade = 10
        self._brief = False
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    def set_brief(self, brief: bool) -> None:
        """Show the digit alone, or its limits too."""
        if brief != self._brief:
            self._brief = brief
            self.updateGeometry()
            self.update()

    def show_grade(self, grade: int) -> None:
        """Show a grade."""
        self._grade = grade
        self.setAccessibleName(self.tr("Grade {0}: {1} rusted").format(grade, limits_text(grade)))
        self.update()

    def sizeHint(self) -> QSize:
        """Return room for the widest limits."""
        texts = ["10"] if self._brief else [limits_text(grade) for grade in range(11)]
        wide = max(self.fontMetrics().horizontalAdvance(each) for each in texts) * (1.6 if self._brief else 1)
        return QSize(round(wide) + 12, round(self.fontMetrics().height() * 2.6))

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint digit and limits."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.setBrush(grade_colour(self._grade))
        painter.drawRoundedRect(self.rect(), 4, 4)
        painter.setPen(grade_ink(self._grade))
        digit = QFont(self.font())
        digit.setPointSizeF(self.font().pointSizeF() * 1.6)
        digit.setWeight(QFont.Weight.Bold)
        painter.setFont(digit)
        upper = QRectF(0, 1, self.width(), self.height() * (1.0 if self._brief else 0.6))
        painter.drawText(upper, Qt.AlignmentFlag.AlignCenter, str(self._grade))
        if not self._brief:
            painter.setFont(self.font())
            lower = QRectF(0, upper.bottom(), self.width(), self.height() - upper.bottom() - 1)
            painter.drawText(lower, Qt.AlignmentFlag.AlignCenter, limits_text(self._grade))
        painter.end()


def _same(request: GuideRequest) -> tuple[object, ...]:
    return same_guide(replace(request, at="middle"))
