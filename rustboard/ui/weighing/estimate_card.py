"""How corrosive a place is by the dose-response function: four fields and what follows from them."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QFrame, QLineEdit, QVBoxLayout, QWidget

from rustboard.board.weather import Site
from rustboard.scales.climate import Climate
from rustboard.scales.corrosivity import (
    UNCERTAINTY,
    DoseResponse,
    chloride_class,
    steel_dose_response,
    sulphur_class,
)
from rustboard.support.problems import InputError
from rustboard.ui.forms.form import WrongFieldError
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.forms.numbers import number_field, number_in, shown_number
from rustboard.ui.weighing.words import significant, told
from rustboard.ui.wording import number

_LETTERS = 10


class EstimateCard(QFrame):
    """Temperature and humidity come from the weather of the board and may be changed to try; deposition is kept.

    Attributes:
        temperature, humidity, sulphur, chloride: the fields.

    Signals:
        estimated(): another estimate follows, or none. deposition_changed(): the site is to be kept.
    """

    estimated = Signal()
    deposition_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        """Start with empty fields."""
        super().__init__(parent)
        self.setProperty("card", True)
        self._site, self._climate = Site(), Climate()
        self._found: DoseResponse | None = None
        self.temperature, self.humidity = number_field(None, letters=_LETTERS), number_field(None, letters=_LETTERS)
        self.sulphur, self.chloride = number_field(None, letters=_LETTERS), number_field(None, letters=_LETTERS)
        title = words_label(self.tr("Estimated from weather and air"), narrow=True)
        title.setProperty("heading", True)
        self._source = words_label(muted=True, narrow=True)
        self._result = words_label(narrow=True)
        self._note = words_label(muted=True, narrow=True)
        form = panel_form()
        add_labelled(form, self.tr("&Mean temperature, °C"), self.temperature)
        add_labelled(form, self.tr("Mean relative humidit&y, %"), self.humidity)
        add_labelled(form, self.tr("S&ulphur dioxide, mg/(m² d)"), self.sulphur)
        add_labelled(form, self.tr("Chl&oride, mg/(m² d)"), self.chloride)
        column = QVBoxLayout(self)
        column.addWidget(title)
        column.addWidget(self._source)
        column.addLayout(form)
        column.addWidget(self._result)
        column.addWidget(self._note)
        column.addStretch(1)
        self._wire()
        self._work_out()

    def _wire(self) -> None:
        for field in (self.temperature, self.humidity, self.sulphur, self.chloride):
            field.textEdited.connect(self._work_out)
        for field in self._means():
            field.editingFinished.connect(self._show_climate)
        for field in (self.sulphur, self.chloride):
            field.editingFinished.connect(self._tell_deposition)

    # ---- what it shows

    def found(self) -> DoseResponse | None:
        """Return the estimate, or None while something is missing."""
        return self._found

    def set_read_only(self, *, refused: bool) -> None:
        """Keep the deposition from being changed, or let it be."""
        for field in (self.sulphur, self.chloride):
            field.setReadOnly(refused)

    def show_site(self, site: Site, climate: Climate) -> None:
        """Show the place and its weather; a field somebody is typing in, and a mean written here, is left alone."""
        self._site, self._climate = site, climate
        for field, value in ((self.sulphur, site.sulphur_dioxide), (self.chloride, site.chloride)):
            if not (field.hasFocus() and field.isModified()):
                _fill(field, value)
        self._show_climate()

    @Slot()
    def _show_climate(self) -> None:
        """Show the means of the board wherever none is written here; an emptied field has the board's again."""
        climate = self._climate
        for field, value in zip(self._means(), (climate.temperature_c, climate.rh_percent), strict=True):
            if not (_is_written(field) or (field.hasFocus() and field.isModified())):
                _fill(field, value)
        self._source.setText(self._about(climate))
        self._work_out()

    def _means(self) -> tuple[QLineEdit, QLineEdit]:
        return self.temperature, self.humidity

    def _about(self, climate: Climate) -> str:
        written = [_is_written(each) for each in self._means()]
        if not any(written):
            return self._about_board(climate)
        words = self.tr(
            "Means written here are not those of the board, and are not kept with it. Empty a field to have the "
            "board's again."
        )
        return words if all(written) else f"{words} {self._about_board(climate)}"

    def _about_board(self, climate: Climate) -> str:
        if climate.temperature_c is None or climate.rh_percent is None:
            return self.tr(
                "The weather of the board does not give both yearly means; write those of a station nearby."
            )
        known = self.tr("Means of {0} days of weather known at the board.").format(number(climate.days_known, 0))
        parts = [told(climate.source) or known]
        if climate.days_known < 330:
            parts.append(self.tr("The function takes the mean of whole years; write that of a station nearby."))
        return " ".join(each for each in parts if each)

    @Slot()
    def _work_out(self) -> None:
        """Show what follows from the fields as they are."""
        self._found = None
        try:
            values = self._values()
            if values is None:
                said = self.tr("Give all four to get an estimate. Deposition of the air near you may be published.")
            else:
                self._found = steel_dose_response(*values)
                said = "\n".join(self._sentences(self._found, values))
        except WrongFieldError as error:
            said = error.sentence
        except InputError as error:
            said = str(error)
        self._result.setText(said)
        self._note.setText("" if self._found is None else self._about_band())
        self.estimated.emit()

    def _values(self) -> tuple[float, float, float, float] | None:
        read = [number_in(each) for each in (self.temperature, self.humidity, self.sulphur, self.chloride)]
        given = [each for each in read if each is not None]
        return (given[0], given[1], given[2], given[3]) if len(given) == 4 else None

    def _sentences(self, found: DoseResponse, values: tuple[float, float, float, float]) -> list[str]:
        lines = [
            self.tr("{0}: {1} µm in the first year, estimated; likely {2} to {3}.").format(
                found.category.name, *(significant(each, 3) for each in (found.rate_um_y, *_band(found)))
            ),
            self.tr("Of it {0} µm by sulphur dioxide ({1}) and {2} µm by chloride ({3}).").format(
                significant(found.sulphur_term, 3),
                sulphur_class(values[2]),
                significant(found.chloride_term, 3),
                chloride_class(values[3]),
            ),
        ]
        return lines + [told(each) for each in found.outside]

    def _about_band(self) -> str:
        low, high = UNCERTAINTY
        return self.tr(
            "Dose-response function of ISO 9223 for carbon steel; band −{0} % to +{1} %, a figure from memory. P and "
            "S are the classes of the 1992 edition. A bare coupon weighed after one year is far better."
        ).format(number(-low * 100, 0), number(high * 100, 0))

    # ---- the site

    def deposition(self) -> tuple[float | None, float | None]:
        """Return deposition of sulphur dioxide and of chloride as they are written.

        Raises:
            WrongFieldError: one of them is no number.
        """
        return number_in(self.sulphur), number_in(self.chloride)

    @Slot()
    def _tell_deposition(self) -> None:
        self.deposition_changed.emit()

    def fields(self) -> tuple[QLineEdit, ...]:
        """Return the fields from top to bottom."""
        return (self.temperature, self.humidity, self.sulphur, self.chloride)


def _fill(field: QLineEdit, value: float | None) -> None:
    field.setText(shown_number(None if value is None else round(value, 2)))


def _is_written(field: QLineEdit) -> bool:
    """Return whether somebody wrote what stands in a field."""
    return field.isModified() and bool(field.text().strip())


def _band(found: DoseResponse) -> tuple[float, float]:
    return found.low_um_y, found.high_um_y
