"""The third step: onto which board the grades go, and what becomes of grades that differ."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import (
    QCheckBox,
    QFormLayout,
    QListWidget,
    QRadioButton,
    QSpinBox,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from rustboard.board.grade import written
from rustboard.board.position import MOST_COLUMNS
from rustboard.support.text import one_line, printable
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.dates import DateTimeField
from rustboard.ui.forms.form import line_field, text_of
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.importing.words import count, plain_lines
from rustboard.ui.wording import date_time

if TYPE_CHECKING:
    from rustboard.board.old_grades.past_board import BoardChoice
    from rustboard.operations.past_boards import OldGradesMatched

_LISTED: Final = 500


class BoardPage(QWidget):
    """A new board, or the one that is open.

    Signals:
        changed(): something else was chosen.
    """

    changed = Signal()

    def __init__(self, open_board: str = "", names: Sequence[str] = (), parent: QWidget | None = None) -> None:
        """Build the page.

        Args:
            open_board: name of the board that is open and may be changed; empty = none.
            names: coupons' ids of the open board, by which to tell it in the list of differing grades.
            parent: as Qt has it.
        """
        super().__init__(parent)
        self._may_open = bool(open_board)
        self.new = QRadioButton(self.tr("A &new board"))
        self.into = QRadioButton(self.tr("The &open board: {0}").format(printable(one_line(open_board, 60))))
        self.name, self.customer, self.site = line_field(), line_field(), line_field()
        self.has_started = QCheckBox(self.tr("E&xposure began"))
        self.started = DateTimeField(datetime(2026, 1, 1))
        self.as_told = QRadioButton(self.tr("&as the table says; without a position, off the board"))
        self.by_rows = QRadioButton(self.tr("in the table's order, so &many in a row:"))
        self.per_row = QSpinBox()
        self.keep = QRadioButton(self.tr("&Keep what the board has"))
        self.take = QRadioButton(self.tr("&Take those of the table; the others stay in the record of changes"))
        self.differing = QListWidget()
        self.fits = words_label(narrow=True)
        self._stack = QStackedWidget()
        self._build()
        self._wire()

    def _build(self) -> None:
        self.new.setChecked(True)
        self.into.setVisible(self._may_open)
        self.new.setVisible(self._may_open)
        self.per_row.setRange(1, MOST_COLUMNS)
        self.per_row.setAccessibleName(self.tr("Coupons in a row"))
        self.keep.setChecked(True)
        self.differing.setAccessibleName(self.tr("Grades that differ"))
        self.differing.setWordWrap(True)
        self.differing.setAlternatingRowColors(True)
        self.fits.setProperty("heading", True)
        self._stack.addWidget(self._new_part())
        self._stack.addWidget(self._into_part())
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(flowing(self.new, self.into, spacing=16))
        column.addWidget(self._stack, 1)

    def _new_part(self) -> QWidget:
        part = QWidget()
        form: QFormLayout = panel_form()
        add_labelled(form, self.tr("Name of the &board"), self.name)
        add_labelled(form, self.tr("&Customer"), self.customer)
        add_labelled(form, self.tr("&Site"), self.site)
        form.addRow(flowing(self.has_started, self.started, spacing=8))
        places = QWidget()
        inside = QVBoxLayout(places)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.as_told)
        inside.addWidget(flowing(self.by_rows, self.per_row, spacing=8))
        form.addRow(self.tr("Positions"), places)
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 8, 0, 0)
        column.addLayout(form)
        column.addStretch(1)
        return part

    def _into_part(self) -> QWidget:
        part = QWidget()
        choice = QWidget()
        inside = QVBoxLayout(choice)
        inside.setContentsMargins(0, 0, 0, 0)
        inside.addWidget(self.keep)
        inside.addWidget(self.take)
        column = QVBoxLayout(part)
        column.setContentsMargins(0, 8, 0, 0)
        column.addWidget(self.fits)
        column.addWidget(choice)
        column.addWidget(self.differing, 1)
        self._choice = choice
        return part

    def _wire(self) -> None:
        for each in (self.new, self.as_told, self.keep):
            each.toggled.connect(self._follow)
        self.has_started.toggled.connect(self._follow)
        self.name.textChanged.connect(self.changed)
        self.per_row.valueChanged.connect(self.changed)

    def show_choice(self, choice: BoardChoice, *, has_places: bool) -> None:
        """Show what is said of the board when nobody says otherwise."""
        self.name.setText(one_line(choice.name))
        self.name.setCursorPosition(0)
        self.has_started.setChecked(choice.started is not None)
        if choice.started is not None:
            self.started.set_when(choice.started)
        self.as_told.setEnabled(has_places)
        self.by_rows.setChecked(choice.per_row > 0)
        self.as_told.setChecked(choice.per_row == 0)
        self.per_row.setValue(choice.per_row or 7)
        self._follow()

    def show_fit(self, matched: OldGradesMatched | None, names: dict[int, str]) -> None:
        """Show how the grades fit the open board; ``names`` are its coupons' ids by key."""
        self.differing.clear()
        if matched is None:
            return
        lines = [
            self.tr("{0}, {1}: the board has {2}, the table {3}.").format(
                names.get(each.coupon, ""),
                date_time(each.at),
                "–" if each.before is None else written(each.before.grade, each.before.distribution),
                written(each.grade.grade, each.grade.distribution),
            )
            for each in matched.differing[:_LISTED]
        ]
        self.differing.addItems(plain_lines(lines))
        for problem in matched.problems[:_LISTED]:
            self.differing.addItem("✕ " + plain_lines([problem.sentence()])[0])
        self._choice.setVisible(bool(matched.differing))
        self.differing.setVisible(bool(matched.differing or matched.problems))
        text = self.tr("New grades: {0}, the same already: {1}, differing: {2}, fitting no coupon or inspection: {3}")
        numbers = (len(matched.fresh), matched.there, len(matched.differing), len(matched.problems))
        self.fits.setText(text.format(*map(count, numbers)))

    def choice(self) -> BoardChoice:
        """Return what was said of the new board."""
        from rustboard.board.old_grades.past_board import BoardChoice

        return BoardChoice(
            text_of(self.name),
            text_of(self.customer),
            text_of(self.site),
            self.started.when() if self.has_started.isChecked() else None,
            self.per_row.value() if self.by_rows.isChecked() else 0,
        )

    @property
    def goes_into_open(self) -> bool:
        """Whether the grades go onto the open board."""
        return self._may_open and self.into.isChecked()

    @Slot()
    def _follow(self) -> None:
        self._stack.setCurrentIndex(1 if self.goes_into_open else 0)
        self.started.setEnabled(self.has_started.isChecked())
        self.per_row.setEnabled(self.by_rows.isChecked())
        self.changed.emit()
