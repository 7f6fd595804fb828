"""Beside the coupon: what to do, and after an answer of the learning part the truth."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QColor, QFont, QPalette
from PySide6.QtWidgets import QFrame, QGridLayout, QLabel, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from rustboard.scales.practice import Part
from rustboard.session.practice import Truth
from rustboard.ui.forms.labels import words_label
from rustboard.ui.measured_words import percent_text
from rustboard.ui.practice.words import verdict_on
from rustboard.ui.theme import grade_colour, grade_ink, px_of_mm

_TOUCH_MM = 9.0


class GradeTile(QLabel):
    """A grade as a large digit on its colour."""

    def __init__(self) -> None:
        """Start empty."""
        super().__init__()
        font = QFont(self.font())
        font.setPointSizeF(font.pointSizeF() * 2.3)
        font.setWeight(QFont.Weight.Bold)
        self.setFont(font)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setAutoFillBackground(True)
        self.setMargin(4)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_grade(self, grade: int) -> None:
        """Show a grade."""
        palette = self.palette()
        palette.setColor(QPalette.ColorRole.Window, QColor(grade_colour(grade)))
        palette.setColor(QPalette.ColorRole.WindowText, QColor(grade_ink(grade)))
        self.setPalette(palette)
        self.setText(str(grade))


class SideCard(QFrame):
    """Asks for a grade, or tells the truth.

    Signals:
        go_on_asked(): the truth was seen. mark_asked(bool): mark the rust, or no longer.

    Attributes:
        go_on, mark: the buttons under the truth.
    """

    go_on_asked = Signal()
    mark_asked = Signal(bool)

    def __init__(self) -> None:
        """Start with nothing to say."""
        super().__init__()
        self.setProperty("card", True)
        self._heading, self._words, self._last = words_label(), words_label(muted=True), words_label(muted=True)
        self._heading.setProperty("heading", True)
        self._true, self._given = GradeTile(), GradeTile()
        self._true_word, self._given_word = QLabel(self.tr("Truth")), QLabel(self.tr("You gave"))
        self._percent, self._verdict = words_label(), words_label()
        large = QFont(self.font())
        large.setPointSizeF(large.pointSizeF() * 1.3)
        large.setWeight(QFont.Weight.DemiBold)
        self._percent.setFont(large)
        self.mark = QPushButton(self.tr("&Mark the rust"))
        self.mark.setCheckable(True)
        self.mark.setToolTip(self.tr("Mark what counts as rust. Key: M"))
        self.go_on = QPushButton(self.tr("&Go on"))
        self.go_on.setProperty("primary", True)
        self.go_on.setToolTip(self.tr("The next coupon. Keys: Enter, Space"))
        for each in (self.mark, self.go_on):
            each.setAutoDefault(False)
            each.setMinimumHeight(px_of_mm(self, _TOUCH_MM))
        self._build()
        self._wire()
        self.ask(None, None)

    def _build(self) -> None:
        self._truth = QWidget()
        grid = QGridLayout(self._truth)
        grid.setContentsMargins(0, 0, 0, 0)
        for column, (word, tile) in enumerate(((self._true_word, self._true), (self._given_word, self._given))):
            word.setAlignment(Qt.AlignmentFlag.AlignCenter)
            word.setProperty("muted", True)
            grid.addWidget(word, 0, column)
            grid.addWidget(tile, 1, column)
        grid.addWidget(self._percent, 2, 0, 1, 2)
        grid.addWidget(self._verdict, 3, 0, 1, 2)
        grid.addWidget(self.mark, 4, 0, 1, 2)
        grid.addWidget(self.go_on, 5, 0, 1, 2)
        column_ = QVBoxLayout(self)
        for each in (self._heading, self._words, self._truth):
            column_.addWidget(each)
        column_.addStretch(1)
        column_.addWidget(self._last)

    def _wire(self) -> None:
        self.go_on.clicked.connect(self._go_on)
        self.mark.toggled.connect(self._mark)

    def ask(self, part: Part | None, last: int | None) -> None:
        """Ask for the grade of a coupon of a part; ``last``: what was given for the one before."""
        self._truth.hide()
        self._clear_truth()
        for each in (self._heading, self._words):
            each.show()
        self._heading.setText(self.tr("Which grade is it?"))
        words = self.tr("Press 0 to 9, or T for ten. The wheel, + and − bring the coupon nearer.")
        if part == "learning":
            words = self.tr("{0} You then see the truth.").format(words)
        self._words.setText(words)
        self._last.setText("" if last is None else self.tr("Given for the coupon before: {0}").format(last))

    def wait(self) -> None:
        """Say that the coupon is being painted."""
        self.ask(None, None)
        self._heading.setText(self.tr("The coupon is being painted…"))
        self._words.hide()

    def tell(self, truth: Truth) -> None:
        """Tell the truth about the coupon just graded."""
        for each in (self._heading, self._words):
            each.hide()
        self._last.setText("")
        self._true.show_grade(truth.grade)
        self._true.setAccessibleName(self.tr("Truth: grade {0}").format(truth.grade))
        self._given.show_grade(truth.given)
        self._given.setAccessibleName(self.tr("You gave grade {0}").format(truth.given))
        self._percent.setText(self.tr("{0} % rusted").format(percent_text(truth.percent)))
        self._verdict.setText(verdict_on(truth))
        # Whoever hears the window instead of seeing it is told with the button that now has the keyboard.
        self.go_on.setAccessibleDescription(
            self.tr("Truth: grade {0}, {1} % rusted. You gave {2}. {3}").format(
                truth.grade, percent_text(truth.percent), truth.given, verdict_on(truth)
            )
        )
        self._truth.show()

    def tells(self) -> bool:
        """Return whether the truth is shown."""
        return not self._truth.isHidden()

    def _clear_truth(self) -> None:
        """Keep nothing of the last truth in a hidden field."""
        for each in (self._true, self._given, self._percent, self._verdict):
            each.setText("")
            each.setAccessibleName("")
        self.go_on.setAccessibleDescription("")

    @Slot()
    def _go_on(self) -> None:
        self.go_on_asked.emit()

    @Slot(bool)
    def _mark(self, on: bool) -> None:
        self.mark_asked.emit(on)
