"""The steps of a recipe and the fields of the one that is chosen."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from rustboard.board.recipe import MOST_STEPS, RecipeStep
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.form import WheelGuard, WrongFieldError
from rustboard.ui.recipes.body import TwoHalves
from rustboard.ui.recipes.step_draft import StepDraft
from rustboard.ui.recipes.step_fields import StepFields
from rustboard.ui.recipes.step_list import StepList


class StepsEditor(QWidget):
    """List and fields side by side, under one another where it is narrow.

    Signals:
        changed(): a step was changed, added, moved or removed, or another one was chosen.

    Attributes:
        under_list: where others put what belongs below the list.
        over_fields: for what must be seen while the fields are written.
    """

    changed = Signal()

    def __init__(
        self, known: Iterable[RecipeStep], wheel: WheelGuard, who: str = "", parent: QWidget | None = None
    ) -> None:
        """Build without steps.

        Args:
            known: steps written elsewhere, whose products and people are offered.
            wheel: keeps the wheel from changing fields.
            who: written beside new steps.
            parent: the dialog.
        """
        super().__init__(parent)
        self._who = who
        self._drafts: list[StepDraft] = []
        self._row = -1
        self._list = StepList()
        self._fields = StepFields(known, wheel)
        self._buttons = [
            QPushButton(text)
            for text in (
                self.tr("&Add step"),
                self.tr("&Duplicate"),
                self.tr("Rem&ove"),
                self.tr("&Up"),
                self.tr("Do&wn"),
            )
        ]
        self.under_list, self.over_fields = QVBoxLayout(), QVBoxLayout()
        self._build()
        self._wire()
        self._show(0)

    def _build(self) -> None:
        add, double, remove, up, down = self._buttons
        for button, keys in (
            (add, self.tr("Insert, in the list")),
            (double, ""),
            (remove, self.tr("Delete, in the list")),
            (up, self.tr("Alt and arrow up, in the list; or drag the step")),
            (down, self.tr("Alt and arrow down, in the list; or drag the step")),
        ):
            button.setAutoDefault(False)
            button.setToolTip(keys)
        left, right = QWidget(), QWidget()
        for half, parts in (
            (left, (self._list, flowing(*self._buttons), self.under_list)),
            (right, (self.over_fields, self._fields)),
        ):
            column = QVBoxLayout(half)
            column.setContentsMargins(0, 0, 0, 0)
            for each in parts:
                if isinstance(each, QWidget):
                    column.addWidget(each)
                else:
                    column.addLayout(each)
            column.addStretch(1)
        whole = QHBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(TwoHalves(left, right))

    def _wire(self) -> None:
        add, double, remove, up, down = self._buttons
        add.clicked.connect(self.add)
        double.clicked.connect(self.double)
        remove.clicked.connect(self.remove)
        up.clicked.connect(self.move_up)
        down.clicked.connect(self.move_down)
        self._list.chosen.connect(self._choose)
        self._list.moved.connect(self.move_step)
        self._list.add_asked.connect(self.add)
        self._list.remove_asked.connect(self.remove)
        self._list.up_asked.connect(self.move_up)
        self._list.down_asked.connect(self.move_down)
        self._fields.changed.connect(self._follow_fields)

    # ---- what it holds

    def show_steps(self, steps: Sequence[RecipeStep]) -> None:
        """Show other steps."""
        self._drafts = [StepDraft.of(each) for each in steps]
        self._show(0)

    def steps(self) -> tuple[RecipeStep, ...]:
        """Return the steps as far as they can be read now."""
        return tuple(each.step() for each in self._drafts)

    def current(self) -> int:
        """Return the place of the chosen step, counted from 0; -1 when there is none."""
        return self._row

    def read(self) -> tuple[RecipeStep, ...]:
        """Return the steps.

        Raises:
            WrongFieldError: a number of some step is wrong; that step is then shown.
        """
        before, read = self._row, []
        for row, draft in enumerate(self._drafts):
            # Not chosen: everything that follows the chosen step would be worked out anew for each of them.
            self._fields.show_draft(draft)
            try:
                read.append(self._fields.read())
            except WrongFieldError as error:
                self._choose(row)
                self._list.setCurrentRow(row)
                raise WrongFieldError(self.tr("Step {0}: {1}").format(row + 1, error.sentence), error.field) from None
        self._choose(before)
        return tuple(read)

    # ---- what the user does

    @Slot()
    def add(self) -> None:
        """Add a step behind the chosen one."""
        self._insert(StepDraft(who=self._who))
        self._fields.go_to_first()

    @Slot()
    def double(self) -> None:
        """Put a copy behind the chosen step."""
        if self._row >= 0:
            self._insert(self._drafts[self._row])

    def _insert(self, draft: StepDraft) -> None:
        if len(self._drafts) < MOST_STEPS:
            self._drafts.insert(self._row + 1, draft)
            self._show(self._row + 1)

    @Slot()
    def remove(self) -> None:
        """Remove the chosen step."""
        if self._row >= 0:
            del self._drafts[self._row]
            self._show(min(self._row, len(self._drafts) - 1))

    @Slot()
    def move_up(self) -> None:
        """Move the chosen step towards the beginning."""
        self.move_step(self._row, self._row - 1)

    @Slot()
    def move_down(self) -> None:
        """Move the chosen step towards the end."""
        self.move_step(self._row, self._row + 1)

    @Slot(int, int)
    def move_step(self, start: int, end: int) -> None:
        """Move a step to another place."""
        if 0 <= start < len(self._drafts) and 0 <= end < len(self._drafts):
            self._drafts.insert(end, self._drafts.pop(start))
            self._show(end)

    @Slot(int)
    def _choose(self, row: int) -> None:
        self._row = row
        if 0 <= row < len(self._drafts):
            self._fields.show_draft(self._drafts[row])
        self._enable()
        self.changed.emit()

    @Slot()
    def _follow_fields(self) -> None:
        if self._row >= 0:
            self._drafts[self._row] = self._fields.draft()
            self._list.show_step(self._row, self._drafts[self._row].step())
            self.changed.emit()

    def _show(self, row: int) -> None:
        row = min(row, len(self._drafts) - 1)
        self._list.show_steps(self.steps(), row)
        if row < 0:
            self._fields.show_draft(StepDraft())
        self._choose(row)

    def _enable(self) -> None:
        there, last = self._row >= 0, len(self._drafts) - 1
        room = last + 1 < MOST_STEPS
        _, double, remove, up, down = self._buttons
        self._buttons[0].setEnabled(room)
        double.setEnabled(there and room)
        remove.setEnabled(there)
        up.setEnabled(self._row > 0)
        down.setEnabled(there and self._row < last)
        self._fields.setEnabled(there)
