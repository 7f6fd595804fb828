"""Old grades on their way onto a board, step by step; nothing is written before the end."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QIcon, QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QDialogButtonBox,
    QLabel,
    QProgressBar,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.support.problems import InputError
from rustboard.support.text import one_line
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.fitting_dialog import FittingDialog
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.importing.board_page import BoardPage
from rustboard.ui.importing.columns_page import ColumnsPage
from rustboard.ui.importing.end_page import EndPage
from rustboard.ui.importing.end_words import left_out, what_is_made
from rustboard.ui.importing.photos_page import PhotosPage
from rustboard.ui.importing.treatments_page import TreatmentsPage
from rustboard.ui.theme import Scheme

if TYPE_CHECKING:
    from rustboard.board.old_grades.layout import OldLayout
    from rustboard.board.old_grades.past_board import PastBoard
    from rustboard.board.record import BoardRecord
    from rustboard.operations.past_boards import MatchedOldGrade, OldGradesMatched
    from rustboard.session.old_grades import OldFile, OldTable

_PAUSE_MS: Final = 200
_WIDTH_IN_LETTERS: Final = 170
_HEIGHT_IN_LINES: Final = 40
_COLUMNS, _BOARD, _TREATMENTS, _PHOTOS, _END = range(5)


class ImportDialog(FittingDialog):
    """Shows one file through all steps. It reads and makes nothing itself: whoever shows it does.

    Signals:
        read_asked(): read the table by `wanted_sheet`, `wanted_delimiter` and `wanted_layout`.
        folder_asked(): choose a folder of photos. stop_asked(): stop what goes on beside the window.
        make_asked(): do what the last step says.

    Attributes:
        table: what is shown, or None before the first answer.
        wanted_sheet, wanted_delimiter: empty = as it seems. wanted_layout: None = as it seems.
    """

    read_asked = Signal()
    folder_asked = Signal()
    stop_asked = Signal()
    make_asked = Signal()

    def __init__(
        self, file: str, scheme: Scheme, record: BoardRecord | None = None, parent: QWidget | None = None
    ) -> None:
        """Wait for a file to be read.

        Args:
            file: its name.
            scheme: colours.
            record: the open board where it may be changed, or None.
            parent: as Qt has it.
        """
        super().__init__(parent)
        self.setModal(True)
        self.setWindowTitle(self.tr("Import old grades from {0}").format(one_line(file, 80)))
        self._record = record
        self.table: OldTable | None = None
        self.wanted_sheet = self.wanted_delimiter = ""
        self.wanted_layout: OldLayout | None = None
        self.matched: OldGradesMatched | None = None
        self._busy = self._stale = False
        self.columns, self.treatments = ColumnsPage(scheme), TreatmentsPage()
        self.board = BoardPage("" if record is None else record.board.name)
        self.photos, self.end = PhotosPage(scheme), EndPage()
        self.problem = ProblemLine()
        self.steps = QStackedWidget()
        self._where = QLabel()
        self._bar = QProgressBar()
        self._buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Cancel)
        self.back, self.next = QPushButton(self.tr("‹ &Back")), QPushButton(self.tr("&Next ›"))
        self._pause = QTimer(self)
        self._build()
        self._wire()
        self._follow()

    def _build(self) -> None:
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        for page in (self.columns, self.board, self.treatments, self.photos, self.end):
            self.steps.addWidget(page)
        self._where.setProperty("heading", True)
        self._bar.setAccessibleName(self.tr("Progress"))
        self._bar.hide()
        cancel = self._buttons.button(QDialogButtonBox.StandardButton.Cancel)
        for each in (self.back, self.next, cancel):
            each.setAutoDefault(False)
            each.setIcon(QIcon())
        self.next.setProperty("primary", True)
        column = QVBoxLayout(self)
        column.addWidget(self._where)
        column.addWidget(self.steps, 1)
        column.addWidget(self._bar)
        column.addWidget(self.problem)
        column.addWidget(flowing(QLabel(), self.back, self.next, self._buttons, spacing=8))

    def _wire(self) -> None:
        self.columns.layout_changed.connect(self._read_as)
        self.columns.sheet_chosen.connect(self._read_sheet)
        self.columns.delimiter_chosen.connect(self._read_delimited)
        self.board.changed.connect(self._follow)
        self.treatments.changed.connect(self._follow)
        self.photos.changed.connect(self._follow)
        self.photos.folder_asked.connect(self.folder_asked)
        self.photos.stop_asked.connect(self.stop_asked)
        self.back.clicked.connect(self.go_back)
        self.next.clicked.connect(self.go_on)
        self._pause.timeout.connect(self.read_asked)
        self._buttons.rejected.connect(self.reject)
        for keys, slot in ((Qt.Key.Key_Left, self.go_back), (Qt.Key.Key_Right, self.go_on)):
            QShortcut(QKeySequence(Qt.Modifier.ALT | keys), self).activated.connect(slot)

    # ---- what is shown

    def show_file(self, file: OldFile) -> None:
        """Show which sheets the file has."""
        self.wanted_sheet = file.likely
        self.columns.show_file(file)

    def show_table(self, table: OldTable) -> None:
        """Show what a table says."""
        self.say_busy("")
        if self._pause.isActive():
            return  # it was changed again meanwhile, and is about to be read anew
        first = self.table is None
        self.table, self._stale = table, False
        self.wanted_layout = table.reading.layout
        self.problem.say("")
        self.columns.show_table(table)
        self._fill_later_steps(table)
        if first:
            self.columns.preview.setFocus()
        self._follow()

    def _fill_later_steps(self, table: OldTable) -> None:
        from rustboard.board.old_grades.past_board import all_coupons, old_treatments, usual_choice
        from rustboard.operations.past_boards import match_old_grades

        reading = table.reading
        self.treatments.show_treatments(old_treatments(reading, table.ours), exact=reading.layout.ours)
        has_places = any(each.position is not None for each in all_coupons(reading, table.ours))
        self.board.show_choice(usual_choice(reading, table.ours), has_places=has_places or reading.layout.ours)
        if self._record is not None:
            self.matched = match_old_grades(self._record, reading)
            self.board.show_fit(self.matched, {each.key: each.id for each in self._record.coupons.values()})

    def say_busy(self, sentence: str, done: int = 0, total: int = 0) -> None:
        """Show what goes on beside the window, or that nothing does."""
        self._busy = bool(sentence)
        self._bar.setVisible(self._busy)
        self._bar.setRange(0, total)
        self._bar.setValue(done)
        self._bar.setFormat(sentence)
        self._follow()

    def complain(self, sentence: str) -> None:
        """Show what went wrong."""
        self.say_busy("")
        self.problem.say(sentence)

    # ---- what was chosen

    def past_board(self) -> PastBoard:
        """Return the new board as it was described.

        Raises:
            InputError: it cannot be made like this.
        """
        from rustboard.board.old_grades.past_board import past_board

        assert self.table is not None  # the last step is not reached before
        table = self.table
        return past_board(table.reading, table.ours, self.treatments.treatments(), self.board.choice())

    def grades_for_open(self) -> tuple[MatchedOldGrade, ...]:
        """Return the grades that go onto the open board."""
        if self.matched is None:
            return ()
        return (*self.matched.fresh, *(self.matched.differing if self.board.take.isChecked() else ()))

    def inspections(self) -> list[datetime]:
        """Return the times of the inspections that the board will have."""
        from rustboard.board.old_grades.reading import inspected

        if self.table is None:
            return []
        if not self.board.goes_into_open or self._record is None:
            return sorted({inspected(each) for each in self.table.reading.grades})
        return sorted(
            {each.at for each in self._record.inspections.values()} | {each.at for each in self.grades_for_open()}
        )

    # ---- gestures

    @Slot(object)
    def _read_as(self, layout: OldLayout) -> None:
        self.wanted_layout = layout
        self._read_soon()

    @Slot(str)
    def _read_sheet(self, sheet: str) -> None:
        self.wanted_sheet, self.wanted_layout = sheet, None
        self._read_soon()

    @Slot(str)
    def _read_delimited(self, delimiter: str) -> None:
        self.wanted_delimiter, self.wanted_layout = delimiter, None
        self._read_soon()

    def _read_soon(self) -> None:
        self._stale = True
        self._pause.start()
        self._follow()

    @Slot()
    def go_back(self) -> None:
        """Show the step before."""
        step = self.steps.currentIndex()
        if step > _COLUMNS and self.back.isEnabled():
            self._show_step(step - 2 if step == _PHOTOS and self.board.goes_into_open else step - 1)

    @Slot()
    def go_on(self) -> None:
        """Show the next step; from the last one, make what it says."""
        if not self.next.isEnabled():
            return
        step = self.steps.currentIndex()
        if step == _END:
            self.problem.say("")
            self.make_asked.emit()
            return
        try:
            if step >= _BOARD:
                self._check_board(step)
        except InputError as error:
            self.problem.say(str(error))
            return
        self._show_step(step + 2 if step == _BOARD and self.board.goes_into_open else step + 1)

    def _check_board(self, step: int) -> None:
        if not self.board.goes_into_open:
            if step == _BOARD and not self.board.choice().name:
                raise InputError(self.tr("The board needs a name."))
            self.past_board()

    def _show_step(self, step: int) -> None:
        self.problem.say("")
        if step == _PHOTOS:
            self.photos.show_inspections(self.inspections())
        if step == _END:
            self._show_end()
        self.steps.setCurrentIndex(step)
        first: tuple[QWidget, ...] = (
            self.columns.preview, self.board.new, self.treatments.table, self.photos.choose, self.next
        )  # fmt: skip
        self._follow()
        first[step].setFocus()

    def _show_end(self) -> None:
        assert self.table is not None  # the last step is not reached before
        photos = self.photos.photos()
        fresh = None if self.board.goes_into_open else self.past_board()
        sentences = what_is_made(self.table.reading, fresh, self.grades_for_open(), photos)
        lines, number = left_out(self.table.reading, self.matched if fresh is None else None)
        self.end.show_end(sentences, lines, number)

    # ---- state

    @Slot()
    def _follow(self) -> None:
        step = self.steps.currentIndex()
        names = (
            self.tr("What the columns hold"), self.tr("Which board"), self.tr("Treatments"),
            self.tr("Photos of these days"), self.tr("What will be made"),
        )  # fmt: skip
        skips = self.board.goes_into_open
        number = step - 1 if skips and step > _TREATMENTS else step
        self._where.setText(self.tr("{0} of {1} · {2}").format(number + 1, 4 if skips else 5, names[step]))
        self.back.setEnabled(step > _COLUMNS and not self._busy)
        self.next.setText(self._next_text(step))
        self.next.setEnabled(self._may_go_on(step))

    def _next_text(self, step: int) -> str:
        if step != _END:
            return self.tr("&Next ›")
        return self.tr("Add to the &board") if self.board.goes_into_open else self.tr("&Make the board")

    def _may_go_on(self, step: int) -> bool:
        if self._busy or self._stale or self.table is None:
            return False
        reading = self.table.reading
        if not (reading.is_settled and reading.coupons and reading.grades):
            return False
        nothing = self.board.goes_into_open and not self.grades_for_open() and not self.photos.has_photos()
        return not (step == _END and nothing)

    @Slot()
    def reject(self) -> None:
        """Stop what goes on, and close."""
        if self._busy:
            self.stop_asked.emit()
        super().reject()

    def sizeHint(self) -> QSize:
        """Return a size in which some rows are seen, or what the screen has room for."""
        letters = self.fontMetrics()
        wanted = QSize(letters.averageCharWidth() * _WIDTH_IN_LETTERS, letters.lineSpacing() * _HEIGHT_IN_LINES)
        return wanted.boundedTo(self._room())
