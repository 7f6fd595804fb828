"""The fields of one weighed coupon, filled from what was noted and read into what is to be noted."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLineEdit, QSizePolicy, QWidget

from rustboard.board.weighing import CARBON_STEEL_G_CM3, Weighing
from rustboard.operations.weighing import GivenWeighing
from rustboard.scales.mass_loss import DENSITIES
from rustboard.ui.forms.form import WrongFieldError, choice_field, note_field
from rustboard.ui.forms.numbers import number_field, number_in, shown_number, whole_in
from rustboard.ui.forms.typed_time import TypedTimeField
from rustboard.ui.weighing.number_lists import list_field, list_in, list_text
from rustboard.ui.weighing.words import say
from rustboard.ui.wording import tool_tip

_SHORT = 10


class WeighingForm(QObject):
    """Holds the fields; the dialog puts them under one another.

    Signals:
        edited(): something in them changed.
    """

    edited = Signal()

    def __init__(self, day_zero: datetime | None, now: datetime, parent: QObject) -> None:
        """Make empty fields; ``day_zero`` is when exposure began on the board, ``now`` when it usually ends."""
        super().__init__(parent)
        self._day_zero = day_zero
        began = day_zero or now
        self.from_board = QCheckBox(
            say("&Out since the board's start") if day_zero else say("&Out since the board's start (not known)")
        )
        self.from_board.setEnabled(day_zero is not None)
        self.exposed_from, self.exposed_to = TypedTimeField(began), TypedTimeField(now)
        self.before, self.blank_before = number_field(None), number_field(None)
        self.after = list_field(hint=list_text((12.3456, 12.3401)) + " …")
        self.blank_after = list_field(hint=list_text((11.2045, 11.204)) + " …")
        self.thickness = number_field(None)
        self.area = number_field(None, hint=say("from the outline"))
        self.masked = number_field(None, hint="0")
        self.metal = choice_field([say(each.metal) for each in DENSITIES] + [say("Other metal")])
        self.metal.setMinimumContentsLength(_SHORT)
        self.density = number_field(CARBON_STEEL_G_CM3, letters=_SHORT)
        self.bare = QCheckBox(say("Bare &metal, not treated"))
        self.bare.setToolTip(
            tool_tip(say("The loss of bare carbon steel after one year says how corrosive the place is."))
        )
        self.pits, self.pits_on = number_field(None, letters=_SHORT), number_field(None, letters=_SHORT)
        self.openings, self.depths = list_field(), list_field()
        self.note = note_field()
        self._wire()

    def _wire(self) -> None:
        for line in self._lines():
            line.textChanged.connect(self._tell)
        self.from_board.toggled.connect(self._follow_board)
        self.bare.toggled.connect(self._tell)
        self.metal.activated.connect(self._take_density)
        self.density.textEdited.connect(self._find_metal)

    def _lines(self) -> tuple[QLineEdit, ...]:
        return (
            self.exposed_from,
            self.exposed_to,
            self.before,
            self.after,
            self.blank_before,
            self.blank_after,
            self.thickness,
            self.area,
            self.masked,
            self.density,
            self.pits,
            self.pits_on,
            self.openings,
            self.depths,
        )

    def rows(self) -> Iterator[tuple[str, QWidget, QWidget]]:
        """Yield the label, the row and the field that the label's letter goes to, from top to bottom."""
        yield "", self.from_board, self.from_board
        yield say("Exposed &from"), self.exposed_from, self.exposed_from
        yield say("&Taken down"), self.exposed_to, self.exposed_to
        yield say("Mass &before, g"), self.before, self.before
        yield say("Masses &after each cleaning, g"), self.after, self.after
        yield say("Blan&k before cleaning, g"), self.blank_before, self.blank_before
        yield say("Blank after &each, g"), self.blank_after, self.blank_after
        yield say("Th&ickness, mm"), self.thickness, self.thickness
        yield say("A&rea by hand, cm²"), self.area, self.area
        yield say("Co&vered area, cm²"), self.masked, self.masked
        yield say("&Density, g/cm³"), _beside(self.metal, self.density), self.metal
        yield "", self.bare, self.bare
        yield say("&Pits counted, on cm²"), _beside(self.pits, self.pits_on), self.pits
        yield say("Their openin&gs, mm²"), self.openings, self.openings
        yield say("Their depth&s, µm"), self.depths, self.depths
        yield say("&Note"), self.note, self.note

    def name_fields(self) -> None:
        """Tell a screen reader what the fields are that share a label with another."""
        self.density.setAccessibleName(say("Density, g/cm³"))
        self.pits_on.setAccessibleName(say("Area on which pits were counted, cm²"))

    @Slot()
    def _tell(self) -> None:
        self.edited.emit()

    @Slot()
    def _follow_board(self) -> None:
        self.exposed_from.setEnabled(not self.from_board.isChecked())
        self.edited.emit()

    @Slot(int)
    def _take_density(self, place: int) -> None:
        if place < len(DENSITIES):
            self.density.setText(shown_number(DENSITIES[place].g_cm3))

    @Slot()
    def _find_metal(self) -> None:
        try:
            self._show_metal(number_in(self.density))
        except WrongFieldError:
            self._show_metal(None)

    def _show_metal(self, g_cm3: float | None) -> None:
        now = self.metal.currentIndex()
        if now < len(DENSITIES) and DENSITIES[now].g_cm3 == g_cm3:
            return  # two metals may have the same density
        found = (place for place, each in enumerate(DENSITIES) if each.g_cm3 == g_cm3)
        self.metal.setCurrentIndex(next(found, len(DENSITIES)))

    def clear(self) -> None:
        """Take away what was weighed; dates and metal stay, which many coupons share."""
        for field in self._lines()[2:]:
            if field not in (self.thickness, self.density):
                field.clear()
        self.note.clear()

    def show_weighing(self, noted: Weighing | None) -> None:
        """Fill the fields from what was noted of a coupon; None = nothing was, and what is typed stays."""
        if noted is None:
            self.from_board.setChecked(self._day_zero is not None)
            self._follow_board()
            return
        self.from_board.setChecked(noted.exposed_from is None and self._day_zero is not None)
        if noted.exposed_from is not None:
            self.exposed_from.set_when(noted.exposed_from)
        self.exposed_to.set_when(noted.exposed_to)
        for field, value in (
            (self.before, noted.before_g),
            (self.blank_before, noted.blank_before_g),
            (self.thickness, noted.thickness_mm),
            (self.area, noted.area_cm2),
            (self.masked, noted.masked_cm2 or None),
            (self.density, noted.density_g_cm3),
            (self.pits_on, noted.pits_on_cm2),
        ):
            field.setText(shown_number(value))
        self.pits.setText("" if noted.pits is None else str(noted.pits))
        for field, values in (
            (self.after, noted.after_g),
            (self.blank_after, noted.blank_after_g),
            (self.openings, noted.pit_openings_mm2),
            (self.depths, noted.pit_depths_um),
        ):
            field.setText(list_text(values))
            field.setCursorPosition(0)
        self._show_metal(noted.density_g_cm3)
        self.bare.setChecked(noted.bare)
        self.note.setPlainText(noted.note)
        self._follow_board()

    def given(self, coupon: int) -> GivenWeighing:
        """Return what the fields say of a coupon.

        Raises:
            WrongFieldError: something is missing or no number.
        """
        before = number_in(self.before)
        if before is None:
            raise WrongFieldError(say("Give the mass before exposure, in grams."), self.before)
        after = list_in(self.after)
        if not after:
            raise WrongFieldError(say("Give the mass after each cleaning, in grams."), self.after)
        if len(list_in(self.blank_after)) > len(after):
            what = say("The blank has more masses after cleaning than the coupon; give as many at most.")
            raise WrongFieldError(what, self.blank_after)
        density = number_in(self.density)
        if density is None:
            raise WrongFieldError(say("Give the density of the metal, or choose a metal."), self.density)
        return GivenWeighing(
            coupon=coupon,
            exposed_from=None if self.from_board.isChecked() else self.exposed_from.when(),
            exposed_to=self.exposed_to.when(),
            before_g=before,
            after_g=after,
            blank_before_g=number_in(self.blank_before),
            blank_after_g=list_in(self.blank_after),
            thickness_mm=number_in(self.thickness),
            area_cm2=number_in(self.area),
            masked_cm2=number_in(self.masked) or 0.0,
            density_g_cm3=density,
            bare=self.bare.isChecked(),
            pits=whole_in(self.pits),
            pits_on_cm2=number_in(self.pits_on),
            pit_openings_mm2=list_in(self.openings),
            pit_depths_um=list_in(self.depths),
            note=self.note.toPlainText(),
        )


def _beside(first: QWidget, second: QWidget) -> QWidget:
    holder = QWidget()
    holder.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
    line = QHBoxLayout(holder)
    line.setContentsMargins(0, 0, 0, 0)
    line.addWidget(first, 1)
    line.addWidget(second, 1)
    return holder
