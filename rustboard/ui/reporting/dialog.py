"""What the report of a board is to be: forms, parts, looks, and where it goes. Enter writes it as last time."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QSize, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent, QStandardItemModel
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QDialogButtonBox,
    QFormLayout,
    QGroupBox,
    QHBoxLayout,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.exposure_clock import CLOCK_KINDS, ClockKind
from rustboard.report.choice import PARTS, WRITINGS, Part, ReportChoice, writing_named
from rustboard.session.report_choices import PAPER_NAMES, RememberedReport
from rustboard.session.report_forms_wanted import (
    FormTarget,
    FormWanted,
    check_report_folder,
    check_report_name,
    report_name,
    targets_of,
)
from rustboard.session.report_parts import WhyNoPart
from rustboard.support.files import shown_name
from rustboard.support.text import one_line, printable
from rustboard.ui.clock_words import WhyNot, clock_explained, clock_names, why_not_text
from rustboard.ui.forms.form import FormDialog, WrongFieldError, blamed_on, choice_field, line_field
from rustboard.ui.forms.labels import add_labelled, flowing_words, panel_form
from rustboard.ui.reporting.forms_box import FormsBox
from rustboard.ui.reporting.parts_box import PartsBox

if TYPE_CHECKING:
    from rustboard.report.page_setup import Paper

_MOST_OF_A_NAME: Final = 80
_NARROW_IN_LETTERS: Final = 96


@dataclass(frozen=True, slots=True)
class ReportedBoard:
    """What the dialog has to know of a board.

    Attributes:
        name, customer: of the board. folder: where it is kept.
        parts_missing: what it has nothing for. clocks_missing: those it cannot be told by.
    """

    name: str
    customer: str
    folder: Path
    parts_missing: Mapping[Part, WhyNoPart]
    clocks_missing: Mapping[ClockKind, WhyNot]


@dataclass(frozen=True, slots=True)
class ReportAsked:
    """What was asked for.

    Attributes:
        targets: the forms and where they go. choice: for this report.
        forms, remembered: what is kept for the customer's next one; the clock stays that of last time where this
            board cannot be told by it.
    """

    targets: tuple[FormTarget, ...]
    choice: ReportChoice
    forms: tuple[FormWanted, ...]
    remembered: ReportChoice


class ReportDialog(FormDialog):
    """All choices of one report.

    Signals:
        shop_asked(): show the shop. place_asked(): choose where the report goes.
    """

    width_in_letters = 118
    shop_asked = Signal()
    place_asked = Signal()

    def __init__(
        self, board: ReportedBoard, remembered: RememberedReport, day: date, parent: QWidget | None = None
    ) -> None:
        """Show what was chosen last."""
        super().__init__(parent=parent, title="")
        self.setWindowTitle(self.tr("Report of {0}").format(printable(board.name)[:_MOST_OF_A_NAME]))
        self._board, self._asked, self._wanted_clock = board, _nothing_asked(), remembered.choice.clock
        self.forms, self.parts = FormsBox(), PartsBox(board.parts_missing)
        self.writing, self.paper, self.clock = choice_field(), choice_field(), choice_field()
        self.folder_line, self.name_line = line_field(str(board.folder)), line_field(report_name(board.name, day))
        self._files, self._clock_words = flowing_words(), flowing_words()
        self._place, self._shop = QPushButton(self.tr("C&hoose…")), QPushButton(self.tr("Your &shop…"))
        self._reset = QPushButton(self.tr("&Reset to all"))
        self._halves = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._fill()
        self._build(remembered)
        self._wire()
        self.show_choice(remembered.choice, remembered.forms)
        self.ok_button().setFocus()

    def asked(self) -> ReportAsked:
        """Return what was asked for, once the dialog is accepted."""
        return self._asked

    def place(self) -> Path:
        """Return where the report goes, without an ending."""
        return Path(self.folder_line.text()) / self.name_line.text()

    def show_place(self, path: Path) -> None:
        """Write it elsewhere, under this name."""
        self.folder_line.setText(str(path.parent))
        self.name_line.setText(one_line(path.name))

    def complain(self, sentence: str) -> None:
        """Say what was refused."""
        self._complain(sentence)

    def show_choice(self, choice: ReportChoice, forms: Sequence[FormWanted]) -> None:
        """Show a choice."""
        self.forms.choose(forms)
        self.parts.choose(choice.parts)
        self._wanted_clock = choice.clock
        self.writing.setCurrentIndex(max(0, self.writing.findData(choice.writing.name)))
        self.paper.setCurrentIndex(max(0, self.paper.findData(choice.paper)))
        clock = "days" if choice.clock in self._board.clocks_missing else choice.clock
        self.clock.setCurrentIndex(self.clock.findData(clock))
        self._follow()

    def read(self) -> None:
        """Read all fields."""
        forms, parts = self.forms.chosen(), self.parts.ticked()
        if not forms:
            raise WrongFieldError(
                self.tr("Tick at least one form to write, such as the workbook."), self.forms.tick_of("workbook")
            )
        if not parts - self._board.parts_missing.keys() and any(each.kind in ("workbook", "pdf") for each in forms):
            raise WrongFieldError(self.tr("Tick at least one part."), self._first_part())
        folder, name = Path(self.folder_line.text()), one_line(self.name_line.text())
        with blamed_on(self.name_line):
            check_report_name(name)
        with blamed_on(self.folder_line):
            check_report_folder(folder, self._board.folder)
        choice = self._choice(parts)
        kept = choice if self.clock.property("touched") else replace(choice, clock=self._wanted_clock)
        self._asked = ReportAsked(targets_of(folder, name, forms), choice, forms, kept)

    def _choice(self, parts: frozenset[Part]) -> ReportChoice:
        paper: Paper = self.paper.currentData()
        return ReportChoice(parts, writing_named(self.writing.currentData()), paper, self.clock.currentData())

    def _first_part(self) -> QWidget:
        there = [each for each in PARTS if each not in self._board.parts_missing]
        return self.parts.tick_of(there[0])

    # ---- building

    def _fill(self) -> None:
        for writing in WRITINGS:
            self.writing.addItem(writing.shown, writing.name)
        for name in PAPER_NAMES:
            self.paper.addItem(name, name)
        model = self.clock.model()
        for number, kind in enumerate(CLOCK_KINDS):
            why = self._board.clocks_missing.get(kind)
            self.clock.addItem(clock_names(kind)[0], kind)
            self.clock.setItemData(number, why_not_text(why) if why else clock_explained(kind), _TOOL_TIP)
            if why and isinstance(model, QStandardItemModel):
                model.item(number).setEnabled(False)

    def _build(self, remembered: RememberedReport) -> None:
        self.add_text(_beside(flowing_words(self._remembered_line(remembered)), self._shop))
        left = QVBoxLayout()
        left.addWidget(self.forms)
        left.addWidget(self._looks())
        left.addStretch(1)
        self._halves.addLayout(left, 1)
        self._halves.addWidget(self.parts, 1)
        holder = QWidget()
        holder.setLayout(self._halves)
        self._halves.setContentsMargins(0, 0, 0, 0)
        self.add_text(holder)
        self.add_row(self.tr("&Folder"), _beside(self.folder_line, self._place), self.folder_line)
        self.add_row(self.tr("Na&me"), self.name_line)
        self.add_text(self._files)
        self.ok_button().setText(self.tr("Wr&ite"))
        for each in (self._place, self._shop, self._reset):
            each.setAutoDefault(False)
        self._buttons.addButton(self._reset, QDialogButtonBox.ButtonRole.ResetRole)
        names: tuple[tuple[QWidget, str], ...] = (
            (self.folder_line, self.tr("Folder of the report")),
            (self.name_line, self.tr("Name of the report's files")),
        )
        for field, text in names:
            field.setAccessibleName(text)

    def _looks(self) -> QGroupBox:
        box = QGroupBox(self.tr("Looks"))
        form = panel_form()
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapAllRows)
        rows: tuple[tuple[str, QComboBox], ...] = (
            (self.tr("N&umbers and dates"), self.writing),
            (self.tr("&Paper"), self.paper),
            (self.tr("&Clock of the histories"), self.clock),
        )
        for text, field in rows:
            add_labelled(form, text, field)
            field.setAccessibleName(text.replace("&", ""))
            self._wheel.watch(field)
        column = QVBoxLayout(box)
        column.addLayout(form)
        column.addWidget(self._clock_words)
        return box

    def _remembered_line(self, remembered: RememberedReport) -> str:
        customer = one_line(self._board.customer, _MOST_OF_A_NAME)
        if not customer:
            return self.tr("This board names no customer. What you choose is remembered for such boards.")
        if remembered.own:
            return self.tr("As remembered for {0}; what you choose now is remembered in its place.").format(customer)
        if remembered.any:
            return self.tr("As chosen for the last report; what you choose is remembered for {0}.").format(customer)
        return self.tr("What you choose is remembered for {0}.").format(customer)

    def _wire(self) -> None:
        self.forms.changed.connect(self._follow)
        for line in (self.folder_line, self.name_line):
            line.textChanged.connect(self._follow)
        self.parts.changed.connect(self._forget_problem)
        self.forms.changed.connect(self._forget_problem)
        self.clock.currentIndexChanged.connect(self._explain_clock)
        self.clock.activated.connect(self._touch_clock)
        self._place.clicked.connect(self.place_asked)
        self._shop.clicked.connect(self.shop_asked)
        self._reset.clicked.connect(self._reset_to_all)

    # ---- following

    @Slot()
    def _reset_to_all(self) -> None:
        self.show_choice(replace(ReportChoice(), paper=self.paper.currentData()), self.forms.chosen())
        self._touch_clock()

    @Slot()
    def _touch_clock(self) -> None:
        self.clock.setProperty("touched", True)

    @Slot()
    def _explain_clock(self) -> None:
        kind: ClockKind = self.clock.currentData()
        lines = [clock_explained(kind)]
        for each, why in self._board.clocks_missing.items():
            lines.append(self.tr("{0}: {1}").format(clock_names(each)[0], why_not_text(why)))
        self._clock_words.setText("\n".join(lines))

    @Slot()
    def _follow(self) -> None:
        self._explain_clock()
        folder, name = Path(self.folder_line.text()), one_line(self.name_line.text())
        targets = targets_of(folder, name, self.forms.chosen())
        said = self.tr("Nothing is ticked to be written.")
        if targets:
            said = self.tr("Files: {0}.").format(", ".join(shown_name(each.path) for each in targets))
        there = [shown_name(each.path) for each in targets if _is_there(each.path)]
        if there:
            said += "\n" + self.tr("Already there, and replaced: {0}.").format(", ".join(there))
        self._files.setText(said)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the halves one above the other where there is no room beside one another."""
        super().resizeEvent(event)
        self._turn(event.size().width())

    def _turn(self, width: int) -> None:
        narrow = width < self._letters(_NARROW_IN_LETTERS)
        self._halves.setDirection(QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight)

    def _fields_height(self, width: int) -> int:
        self._turn(width)
        return self._form.heightForWidth(width - self._scroll.verticalScrollBar().sizeHint().width())

    def minimumSizeHint(self) -> QSize:
        """Return a size in which one of the halves is still seen."""
        return QSize(self._letters(50), self.fontMetrics().height() * 12).boundedTo(self._room())


_TOOL_TIP: Final = Qt.ItemDataRole.ToolTipRole


def _beside(wide: QWidget, button: QPushButton) -> QWidget:
    """Return a line of something wide with a button at its end."""
    holder = QWidget()
    row = QHBoxLayout(holder)
    row.setContentsMargins(0, 0, 0, 0)
    row.addWidget(wide, 1)
    row.addWidget(button)
    return holder


def _nothing_asked() -> ReportAsked:
    return ReportAsked((), ReportChoice(), (), ReportChoice())


def _is_there(path: Path) -> bool:
    try:
        return path.exists()
    except (OSError, ValueError):
        return False
