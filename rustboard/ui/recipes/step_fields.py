"""The fields of one step of a recipe."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QComboBox, QFormLayout, QHBoxLayout, QLabel, QLineEdit, QSizePolicy, QWidget

from rustboard.board.recipe import PERS, STEP_KINDS, UNITS, RecipeStep
from rustboard.board.recipe_words import KIND_WORDS, UNIT_WORDS
from rustboard.operations.recipes import check_step_number
from rustboard.support.text import many_lines
from rustboard.ui.forms.form import WheelGuard, blamed_on, choice_field, known_field, note_field, text_of
from rustboard.ui.forms.numbers import number_field, number_in, shown_number
from rustboard.ui.recipe_wording import say
from rustboard.ui.recipes.step_draft import StepDraft

V = TypeVar("V")
_NUMBER_IN_LETTERS = 9


class StepFields(QWidget):
    """Shows a step and reads it back.

    Signals:
        changed(): something was typed or chosen.
    """

    changed = Signal()

    def __init__(self, known: Iterable[RecipeStep], wheel: WheelGuard, parent: QWidget | None = None) -> None:
        """Build the fields; ``known`` steps offer their products, batches and people."""
        super().__init__(parent)
        steps = list(known)
        self._known: Mapping[str, RecipeStep] = {each.product: each for each in steps if each.product}
        self._filling = False
        self._kind = _choice([say(KIND_WORDS[each]) for each in STEP_KINDS])
        self._product = known_field("", self._known)
        self._batch = known_field("", (each.batch for each in steps))
        self._quantity, self._unit, self._per = _short(), _units(), _choice([self.tr("a coupon"), self.tr("a m²")])
        self._price = number_field(None, hint=self.tr("in your own currency"))
        self._content, self._content_unit = _short(), _units()
        self._minutes = _short()
        self._waiting = _choice([self.tr("of work"), self.tr("of waiting")])
        self._temperature = number_field(None)
        self._who = known_field("", (each.who for each in steps))
        self._note = note_field()
        self._build(wheel)
        self._wire()

    def _build(self, wheel: WheelGuard) -> None:
        form = QFormLayout(self)
        form.setContentsMargins(0, 0, 0, 0)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.DontWrapRows)
        for label, fields in (
            (self.tr("W&hat"), [self._kind]),
            (self.tr("&Product"), [self._product]),
            (self.tr("&Batch"), [self._batch]),
            (self.tr("&Quantity"), [self._quantity, self._unit, self._per]),
            (self.tr("&Full container"), [self._content, self._content_unit]),
            (self.tr("Its p&rice"), [self._price]),
            (self.tr("&Minutes"), [self._minutes, self._waiting]),
            (self.tr("T&emperature"), [self._temperature, QLabel(self.tr("°C"))]),
            (self.tr("B&y whom"), [self._who]),
            (self.tr("&Note"), [self._note]),
        ):
            _add_row(form, label, fields)
        for field, name in (
            (self._unit, self.tr("Unit of the quantity")),
            (self._per, self.tr("What the quantity is for")),
            (self._content_unit, self.tr("Unit of what a full container holds")),
            (self._waiting, self.tr("Work or waiting")),
        ):
            field.setAccessibleName(name)
        self._product.setToolTip(self.tr("Product, blasting medium, abrasive…"))
        self._minutes.setToolTip(self.tr("Work is counted for one coupon; waiting for all of them together"))
        self._content.setToolTip(self.tr("What a full can, bottle or sack holds"))
        for each in self.findChildren(QComboBox):
            wheel.watch(each)

    def _wire(self) -> None:
        for each in (self._kind, self._unit, self._per, self._content_unit, self._waiting):
            each.currentIndexChanged.connect(self._tell)
        for each in (self._product, self._batch, self._who):
            each.editTextChanged.connect(self._tell)
        for line in (self._quantity, self._price, self._content, self._minutes, self._temperature):
            line.textChanged.connect(self._tell)
        self._note.textChanged.connect(self._tell)
        self._product.activated.connect(self._fill_in_price)

    def show_draft(self, draft: StepDraft) -> None:
        """Show another step; `changed` is not told."""
        self._filling = True
        self._kind.setCurrentIndex(STEP_KINDS.index(draft.kind))
        for field, text in ((self._product, draft.product), (self._batch, draft.batch), (self._who, draft.who)):
            field.setCurrentIndex(-1)
            field.setEditText(text)
            line = field.lineEdit()
            if line is not None:
                line.setCursorPosition(0)
        for line, text in zip(self._numbers(), _numbers_of(draft), strict=True):
            line.setText(text)
        self._unit.setCurrentIndex(UNITS.index(draft.unit))
        self._content_unit.setCurrentIndex(UNITS.index(draft.content_unit))
        self._per.setCurrentIndex(PERS.index(draft.per))
        self._waiting.setCurrentIndex(0 if draft.hands_on else 1)
        self._note.setPlainText(draft.note)
        self._filling = False

    def draft(self) -> StepDraft:
        """Return what is in the fields."""
        quantity, price, content, minutes, temperature = (each.text() for each in self._numbers())
        return StepDraft(
            kind=_chosen(self._kind, STEP_KINDS),
            product=text_of(self._product),
            batch=text_of(self._batch),
            quantity=quantity,
            unit=_chosen(self._unit, UNITS),
            per=_chosen(self._per, PERS),
            price=price,
            content=content,
            content_unit=_chosen(self._content_unit, UNITS),
            minutes=minutes,
            hands_on=self._waiting.currentIndex() == 0,
            temperature=temperature,
            who=text_of(self._who),
            note=many_lines(self._note.toPlainText()),
        )

    def read(self) -> RecipeStep:
        """Return the step in the fields.

        Raises:
            WrongFieldError: a number in it is none, or cannot be.
        """
        names = ("quantity", "container_price", "container_quantity", "minutes", "temperature_c")
        numbers: dict[str, Any] = {}
        for name, field in zip(names, self._numbers(), strict=True):
            numbers[name] = number_in(field)
            with blamed_on(field):
                check_step_number(name, numbers[name])
        return replace(self.draft().step(), **numbers)

    def go_to_first(self) -> None:
        """Give the keyboard to the first field."""
        self._kind.setFocus()

    def _numbers(self) -> tuple[QLineEdit, ...]:
        return self._quantity, self._price, self._content, self._minutes, self._temperature

    @Slot()
    def _tell(self) -> None:
        if not self._filling:
            self.changed.emit()

    @Slot()
    def _fill_in_price(self) -> None:
        """A product chosen from the list brings its price along, where none is written yet."""
        known = self._known.get(text_of(self._product))
        if known is None or self._price.text() or self._content.text():
            return
        self._price.setText(shown_number(known.container_price))
        self._content.setText(shown_number(known.container_quantity))
        self._content_unit.setCurrentIndex(UNITS.index(known.container_unit))


def _numbers_of(draft: StepDraft) -> tuple[str, ...]:
    return draft.quantity, draft.price, draft.content, draft.minutes, draft.temperature


def _chosen(field: QComboBox, values: Sequence[V]) -> V:
    return values[max(0, field.currentIndex())]


def _choice(texts: Sequence[str]) -> QComboBox:
    field = choice_field(texts)
    field.setMinimumContentsLength(6)
    return field


def _units() -> QComboBox:
    return _choice([say(UNIT_WORDS[each]) for each in UNITS])


def _short() -> QLineEdit:
    return number_field(None, letters=_NUMBER_IN_LETTERS)


def _add_row(form: QFormLayout, text: str, fields: Sequence[QWidget]) -> None:
    label = QLabel(text)
    label.setBuddy(fields[0])
    label.setMinimumWidth(label.sizeHint().width() + 4)  # underlined, some letters take more room than it asks for
    if len(fields) == 1:
        form.addRow(label, fields[0])
        return
    line = QHBoxLayout()
    line.setContentsMargins(0, 0, 0, 0)
    for each in fields:
        if isinstance(each, QLabel):
            line.addWidget(each)
            continue
        each.setSizePolicy(QSizePolicy.Policy.Expanding, each.sizePolicy().verticalPolicy())
        line.addWidget(each, 1)
    form.addRow(label, line)
