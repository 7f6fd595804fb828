"""One coupon: what is written on it, what it got, how large it is."""

from __future__ import annotations

from dataclasses import replace
from typing import Final, cast

from PySide6.QtCore import Slot
from PySide6.QtWidgets import QDialog, QHBoxLayout, QLabel, QWidget

from rustboard.board.cells import identity
from rustboard.board.model import ROLES, Coupon, Outline, Role, Treatment
from rustboard.board.next_id import next_id
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.operations.coupons import checked_coupon, checked_outline, refuse_more_coupons
from rustboard.support.text import many_lines, printable
from rustboard.ui.dialogs.coupon_shape import is_rectangle, rectangle, size_mm, usual_size_mm
from rustboard.ui.dialogs.treatment import TreatmentDialog
from rustboard.ui.forms.form import (
    FormDialog,
    WrongFieldError,
    blamed_on,
    choice_field,
    known_field,
    line_field,
    note_field,
    text_of,
)
from rustboard.ui.forms.numbers import number_field, number_in

_SHORT: Final = 80
_NEW: Final = "new treatment"
_MADE: Final = "made here"


class CouponDialog(FormDialog):
    """Asks for a new coupon, or edits one.

    A treatment made on the way is handed back by `new_treatment`; it is not on the board yet, so `coupon` then names
    none.
    """

    def __init__(
        self, record: BoardRecord, coupon: Coupon | None, position: Position | None, parent: QWidget | None = None
    ) -> None:
        """Show a coupon, or an empty one for a position (None = off the board)."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Coupon") if coupon is not None else self.tr("New coupon"))
        self._record = record
        self._before = coupon or Coupon(
            next_id([each.id for each in record.coupons.values()], "C01"), position, substrate=_substrate(record)
        )
        self._is_new = coupon is None
        self._value = self._before
        self._made: Treatment | None = None
        self._making: TreatmentDialog | None = None
        self._last_choice = 0
        self._build()
        self._wire()
        self._show_size_fields()
        self._id.setFocus()
        self._id.selectAll()

    def coupon(self) -> Coupon:
        """Return the coupon; with a treatment that was made here, its own is still to be filled in."""
        return self._value

    def new_treatment(self) -> Treatment | None:
        """Return the treatment that was made here for this coupon, or None."""
        return self._made if self._treatment.currentData() == _MADE else None

    def _build(self) -> None:
        before = self._before
        place = before.position.label if before.position is not None else self.tr("off the board")
        self.add_text(QLabel(self.tr("Position: {0}").format(place)))
        self._id = line_field(before.id)
        self.add_row(self.tr("&Id written on it"), self._id)
        self._treatment = choice_field()
        self._fill_treatments()
        self.add_row(self.tr("&Treatment"), self._treatment)
        self._role = choice_field()
        for role, text in zip(ROLES, (self.tr("test piece"), self.tr("control, left without")), strict=True):
            self._role.addItem(text, role)
        self._role.setCurrentIndex(ROLES.index(before.role) if before.role in ROLES else 0)
        self.add_row(self.tr("&Role"), self._role)
        self._substrate = known_field(before.substrate, (each.substrate for each in self._record.coupons.values()))
        self.add_row(self.tr("&Substrate"), self._substrate)
        self._build_shape()
        self._note = note_field(before.note)
        self.add_row(self.tr("&Note"), self._note)

    def _build_shape(self) -> None:
        outline = self._before.outline_mm
        self._shape = choice_field()
        self._shape.addItem(self.tr("not given"), "none")
        self._shape.addItem(self.tr("rectangle"), "rectangle")
        size = size_mm(outline) if outline else usual_size_mm(self._record.coupons.values())
        if outline and not is_rectangle(outline):
            self._shape.addItem(self.tr("as it is, {0} corners").format(len(outline)), "kept")
        self._shape.setCurrentIndex(self._first_shape(size))
        self.add_row(self.tr("S&hape"), self._shape)
        width, height = size or (None, None)
        self._width = number_field(_short(width), hint=self.tr("width"))
        self._height = number_field(_short(height), hint=self.tr("height"))
        self._width.setAccessibleName(self.tr("Width in mm"))
        self._height.setAccessibleName(self.tr("Height in mm"))
        self._size = QWidget()
        row = QHBoxLayout(self._size)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self._width, 1)
        row.addWidget(QLabel("×"))
        row.addWidget(self._height, 1)
        row.addWidget(QLabel(self.tr("mm")))
        self.add_row(self.tr("Si&ze, width × height"), self._size, self._width)

    def _first_shape(self, size: tuple[float, float] | None) -> int:
        outline = self._before.outline_mm
        if outline:
            return self._shape.count() - 1
        return 1 if self._is_new and size is not None else 0

    def _wire(self) -> None:
        self._treatment.activated.connect(self._treatment_chosen)
        self._shape.currentIndexChanged.connect(self._show_size_fields)

    # ---- treatment

    def _fill_treatments(self) -> None:
        self._treatment.clear()
        self._treatment.addItem(self.tr("none"), None)
        for key, each in self._record.treatments.items():
            self._treatment.addItem(_named(each), key)
        if self._made is not None:
            self._treatment.addItem(self.tr("{0} (new)").format(_named(self._made)), _MADE)
        self._treatment.addItem(self.tr("New treatment…"), _NEW)
        found = self._treatment.findData(self._before.treatment) if self._before.treatment is not None else 0
        self._last_choice = self._treatment.findData(_MADE) if self._made is not None else max(0, found)
        self._treatment.setCurrentIndex(self._last_choice)

    @Slot(int)
    def _treatment_chosen(self, index: int) -> None:
        if self._treatment.itemData(index) != _NEW:
            self._last_choice = index
            return
        self._treatment.setCurrentIndex(self._last_choice)
        self._making = TreatmentDialog(self._record, None, self)
        self._wire_making(self._making)
        self._making.open()

    def _wire_making(self, dialog: TreatmentDialog) -> None:
        dialog.finished.connect(self._treatment_made)

    @Slot(int)
    def _treatment_made(self, result: int) -> None:
        making, self._making = self._making, None
        if making is not None and result == QDialog.DialogCode.Accepted:
            self._made = making.treatment()
            self._fill_treatments()
        if making is not None:
            making.deleteLater()
        self._treatment.setFocus()

    # ---- shape

    @Slot()
    def _show_size_fields(self) -> None:
        self._size.setEnabled(self._shape.currentData() == "rectangle")

    def _outline(self) -> Outline:
        before = self._before.outline_mm
        kind = self._shape.currentData()
        if kind != "rectangle":
            return before if kind == "kept" else ()
        width, height = self._length(self._width), self._length(self._height)
        if before and is_rectangle(before) and (width, height) == tuple(map(_short, size_mm(before))):
            return before
        outline = rectangle(self._record.board, self._before.position, width, height, before)
        with blamed_on(self._width):
            return checked_outline(outline, self._record.board)

    def _length(self, field: QWidget) -> float:
        value = number_in(self._width if field is self._width else self._height)
        if value is None or not 0 < value <= 100_000:
            raise WrongFieldError(self.tr("Give width and height in mm, each above 0 and at most 100,000."), field)
        return value

    def read(self) -> None:
        """Read the fields into the coupon."""
        ids = {identity(each.id): key for key, each in self._record.coupons.items()}
        if self._is_new:
            refuse_more_coupons(len(ids))
        chosen = self._treatment.currentData()
        typed = replace(
            self._before,
            id=text_of(self._id),
            treatment=chosen if isinstance(chosen, int) else None,
            role=cast("Role", self._role.currentData()),
            substrate=text_of(self._substrate),
            note=many_lines(self._note.toPlainText()),
        )
        with blamed_on(self._id):
            checked = checked_coupon(typed, ids)
        self._value = replace(checked, outline_mm=self._outline())


def _named(treatment: Treatment) -> str:
    text = treatment.id if not treatment.name else f"{treatment.id} · {treatment.name}"
    shown = printable(text)
    return shown if len(shown) <= _SHORT else f"{shown[:_SHORT]}…"


def _short(value: float | None) -> float | None:
    """Return a length without the last digits of a difference of two numbers."""
    return None if value is None else round(value, 6)


def _substrate(record: BoardRecord) -> str:
    """Return the substrate that all coupons share, or an empty text."""
    found = {each.substrate for each in record.coupons.values()}
    return found.pop() if len(found) == 1 else ""
