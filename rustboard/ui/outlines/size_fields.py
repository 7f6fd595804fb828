"""The place and size of a shape as numbers: shown while it is dragged, typed to be exact."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QGridLayout, QLabel, QLineEdit, QWidget

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.ui.forms.form import WrongFieldError
from rustboard.ui.forms.numbers import number_field, number_in, shown_number
from rustboard.ui.outlines.shapes import kind_of, moved, resized, size_of, turn_of, turned

_LETTERS = 7
_LEAST_MM = 0.5
_MOST_MM = 10_000.0
_DECIMALS = 2


class SizeFields(QWidget):
    """Left, top, width, height and turn of the chosen shape.

    Signals:
        typed(object): the outline with what was typed.
        refused(str): what was typed is no number that can be.
    """

    typed = Signal(object)
    refused = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start without a shape."""
        super().__init__(parent)
        self._outline: Outline = ()
        self._shown: dict[QLineEdit, float] = {}
        self._left, self._top = self._field(self.tr("Left edge in mm")), self._field(self.tr("Top edge in mm"))
        self._width, self._height = self._field(self.tr("Width in mm")), self._field(self.tr("Height in mm"))
        self._turn = self._field(self.tr("Turned clockwise, in degrees"))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(6)
        grid.setVerticalSpacing(4)
        rows = (
            (self.tr("Left"), self._left, self.tr("Top"), self._top),
            (self.tr("Width"), self._width, self.tr("Height"), self._height),
        )
        self._width_label, self._height_label = QLabel(), QLabel()
        for number, (one, field, other, second) in enumerate(rows):
            labels = (QLabel(one), QLabel(other)) if number == 0 else (self._width_label, self._height_label)
            for label, text, value in ((labels[0], one, field), (labels[1], other, second)):
                label.setText(text)
                label.setBuddy(value)
            grid.addWidget(labels[0], number, 0)
            grid.addWidget(field, number, 1)
            grid.addWidget(labels[1], number, 2)
            grid.addWidget(second, number, 3)
        self._turn_label = QLabel(self.tr("Turn °"))
        self._turn_label.setBuddy(self._turn)
        grid.addWidget(self._turn_label, 2, 0)
        grid.addWidget(self._turn, 2, 1)
        grid.addWidget(QLabel(self.tr("all in mm")), 2, 2, 1, 2)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(3, 1)
        self._wire()
        self.show_outline((), editable=False)

    def _field(self, name: str) -> QLineEdit:
        field = number_field(None, letters=_LETTERS)
        field.setAccessibleName(name)
        return field

    def _fields(self) -> tuple[QLineEdit, ...]:
        return self._left, self._top, self._width, self._height, self._turn

    def _wire(self) -> None:
        for each in self._fields():
            each.editingFinished.connect(self._read)

    def show_outline(self, outline: Outline, *, editable: bool) -> None:
        """Show another shape, or an empty one."""
        self._outline = outline
        kind = kind_of(outline) if outline else "polygon"
        self._width_label.setText(self.tr("Diameter") if kind == "disc" else self.tr("Width"))
        for each in (self._height, self._height_label):
            each.setVisible(kind != "disc")
        for each in (self._turn, self._turn_label):
            each.setVisible(kind == "rectangle")
        values = (0.0,) * 5
        if outline:
            left, top, _, _ = bounds(outline)
            values = (left, top, *size_of(outline), turn_of(outline))
        for field, value in zip(self._fields(), values, strict=True):
            self._shown[field] = round(value, _DECIMALS)
            field.setEnabled(bool(outline) and editable)
            field.setText(shown_number(round(value, _DECIMALS)) if outline else "")
            field.setCursorPosition(0)

    @Slot()
    def _read(self) -> None:
        if not self._outline:
            return
        values = []
        for field in self._fields():
            try:
                value = number_in(field)
            except WrongFieldError as error:
                self.refused.emit(error.sentence)
                return
            values.append(self._shown[field] if value is None else value)
        if values == [self._shown[field] for field in self._fields()]:
            return
        left, top, width, height, turn = values
        if not (_LEAST_MM <= width <= _MOST_MM and _LEAST_MM <= height <= _MOST_MM):
            self.refused.emit(
                self.tr("A shape is from half a millimetre to ten metres wide and high; check the size.")
            )
            return
        self.typed.emit(self._changed(left, top, width, height, turn))

    def _changed(self, left: float, top: float, width: float, height: float, turn: float) -> Outline:
        outline = self._outline
        if (width, height) != (self._shown[self._width], self._shown[self._height]):
            corner = bounds(outline)[:2]
            outline = resized(outline, width, height)
            # What is typed stays where its top left is: whoever measures a coupon measures from there.
            new = bounds(outline)[:2]
            outline = moved(outline, corner[0] - new[0], corner[1] - new[1])
        if turn != self._shown[self._turn] and kind_of(outline) == "rectangle":
            outline = turned(outline, turn - turn_of(outline))
        right = left - self._shown[self._left]
        down = top - self._shown[self._top]
        return moved(outline, right, down) if right or down else outline
