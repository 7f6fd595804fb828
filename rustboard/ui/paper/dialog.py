"""What to print of a board, with the pages as they will be."""

from __future__ import annotations

from collections import Counter

from PySide6.QtCore import QLocale, QSize, Qt, Signal, Slot
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QFrame,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.record import BoardRecord
from rustboard.report.paper.choice import PaperChoice
from rustboard.report.paper.document import compose
from rustboard.report.paper.paper_sizes import usual_paper
from rustboard.report.paper.shapes import Page
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine, WrongFieldError
from rustboard.ui.paper.options import PaperOptions
from rustboard.ui.paper.preview import PagePreview
from rustboard.ui.wording import date_only

_WIDTH_IN_LETTERS = 160
_OPTIONS_IN_LETTERS = 38
_HEIGHT_IN_LINES = 44


class PaperDialog(FittingDialog):
    """Choices on the left, pages on the right.

    Signals:
        save_asked(): the pages in view are to be written into a PDF file.
        print_asked(): they are to be printed.

    Attributes:
        problem: the sentence for what must be mended.
        options, preview: its two halves.
        paper_chosen: the size of paper the user chose here; empty when it was left as it was.
    """

    save_asked = Signal()
    print_asked = Signal()

    def __init__(
        self,
        record: BoardRecord,
        parent: QWidget | None = None,
        *,
        paper: str = "",
        clock: Clock = wall_clock,
    ) -> None:
        """Show what can be printed of a board; ``paper`` is the size of paper, else the usual one of the country."""
        super().__init__(parent)
        self.setWindowTitle(self.tr("Print: {0}").format(one_line(record.board.name, 100)))
        self.setModal(True)
        self._record = record
        self._made_on = date_only(clock())
        self._pages: tuple[Page, ...] = ()
        self._choice: PaperChoice | None = None  # that of the pages in view
        self._paper_before = paper or paper_of_locale()
        self.paper_chosen = ""
        self.options = PaperOptions(record, self._paper_before)
        self.preview = PagePreview()
        self.problem = ProblemLine()
        self._note = QLabel()
        self._save = QPushButton(self.tr("&Save as PDF…"))
        self._print = QPushButton(self.tr("P&rint…"))
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        self._build()
        self._wire()
        self.recompose()

    def pages(self) -> tuple[Page, ...]:
        """Return the pages in view."""
        return self._pages

    def note(self, sentence: str) -> None:
        """Show that something went well."""
        self.problem.say("")
        self._note.setText(sentence)

    def complain(self, sentence: str) -> None:
        """Show what must be mended."""
        self._note.clear()
        self.problem.say(sentence)

    def _build(self) -> None:
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(self.options)
        bar = scroll.verticalScrollBar().sizeHint().width()
        letters = self.fontMetrics().averageCharWidth() * _OPTIONS_IN_LETTERS
        scroll.setMinimumWidth(letters // 2)  # on a small screen the options are scrolled both ways
        scroll.setMaximumWidth(max(self.options.minimumSizeHint().width(), letters) + bar)
        self._save.setProperty("primary", True)
        close = self._buttons.button(QDialogButtonBox.StandardButton.Close)
        close.setIcon(QIcon())
        for each in (self._save, self._print, close):
            each.setAutoDefault(False)  # Enter in a field takes the number over, and nothing else
        self._buttons.addButton(self._save, QDialogButtonBox.ButtonRole.ActionRole)
        self._buttons.addButton(self._print, QDialogButtonBox.ButtonRole.ActionRole)
        self._note.setTextFormat(Qt.TextFormat.PlainText)
        self._note.setWordWrap(True)
        self._note.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        halves = QHBoxLayout()
        halves.addWidget(scroll)
        halves.addWidget(self.preview, 1)
        foot = QHBoxLayout()
        foot.addWidget(self._note, 1)
        foot.addWidget(self._buttons)
        column = QVBoxLayout(self)
        column.addLayout(halves, 1)
        column.addWidget(self.problem)
        column.addLayout(foot)

    def _wire(self) -> None:
        self.options.changed.connect(self.recompose)
        self._save.clicked.connect(self.save_asked)
        self._print.clicked.connect(self.print_asked)
        self._buttons.rejected.connect(self.reject)

    @Slot()
    def recompose(self) -> None:
        """Make the pages anew if another choice was made; while something must be mended there are none."""
        self._note.clear()
        before, self._choice, complaint = self._choice, None, ""
        try:
            choice = self.options.choice(self._made_on)
            if choice != before:
                self._pages = compose(self._record, choice)
            self._choice = choice
            self.paper_chosen = choice.paper.name if choice.paper.name != self._paper_before else ""
        except WrongFieldError as error:
            self._pages, complaint = (), error.sentence
        except InputError as error:
            self._pages, complaint = (), error.problem.what
        self.problem.say(complaint)
        if self._choice is None or self._choice != before:
            self.preview.show_pages(self._pages)
        self.options.say_count(Counter(each.title for each in self._pages))
        for each in (self._save, self._print):
            each.setEnabled(bool(self._pages))

    def sizeHint(self) -> QSize:
        """Return a size in which a page can be read, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())


def paper_of_locale() -> str:
    """Return the name of the paper that is usual where the user is."""
    locale = QLocale()
    if locale.measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem:
        return "Letter"
    return usual_paper(QLocale.territoryToCode(locale.territory()))
