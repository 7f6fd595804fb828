"""What reading the weather needs to know of the place, and the assumptions by which it is read."""

from __future__ import annotations

from dataclasses import replace
from typing import Final
from zoneinfo import available_timezones

from PySide6.QtCore import QT_TRANSLATE_NOOP, QCoreApplication, Qt, QTimeZone, Slot
from PySide6.QtWidgets import QCheckBox, QComboBox, QLabel, QLineEdit, QWidget

from rustboard.board.weather import DEW_POINT_SETS, DewPointSet, Site
from rustboard.operations.weather import checked_site
from rustboard.ui.forms.form import FormDialog, blamed_on, choice_field, known_field, text_of
from rustboard.ui.forms.labels import words_label
from rustboard.ui.forms.numbers import number_field, number_in
from rustboard.ui.wording import tool_tip

_SOURCES: Final[dict[DewPointSet, str]] = {
    "Alduchov and Eskridge 1996": str(
        QT_TRANSLATE_NOOP(
            "site",
            "O. A. Alduchov and R. E. Eskridge, Improved Magnus form approximation of saturation vapor pressure, "
            "Journal of Applied Meteorology 35 (1996).",
        )
    ),
    "WMO guide": str(
        QT_TRANSLATE_NOOP(
            "site",
            "World Meteorological Organization, Guide to Instruments and Methods of Observation (WMO-No. 8), annex "
            "on formulas for humidity.",
        )
    ),
    "Tetens": str(
        QT_TRANSLATE_NOOP(
            "site",
            "O. Tetens, Über einige meteorologische Begriffe, Zeitschrift für Geophysik 6 (1930); in the form of F. "
            "W. Murray (1967).",
        )
    ),
    "Bolton 1980": str(
        QT_TRANSLATE_NOOP(
            "site",
            "D. Bolton, The computation of equivalent potential temperature, Monthly Weather Review 108 (1980).",
        )
    ),
    "IFS over water": str(
        QT_TRANSLATE_NOOP(
            "site",
            "ECMWF, IFS Documentation, Part IV: Physical processes, saturation over water, after A. L. Buck (1981).",
        )
    ),
    "Hyland and Wexler 1983": str(
        QT_TRANSLATE_NOOP(
            "site",
            "R. W. Hyland and A. Wexler (1983), in the form of the ASHRAE Handbook of Fundamentals; the most exact "
            "of these, and the slowest to work out.",
        )
    ),
}


class SiteDialog(FormDialog):
    """Asks for the board's zone, the dew point's coefficients, what a day by hand stands for, and the deposition."""

    def __init__(self, site: Site, parent: QWidget | None = None, *, new: bool = False) -> None:
        """Show what is known; of a ``new`` site this computer's zone is suggested."""
        super().__init__("", parent)
        self.setWindowTitle(self.tr("Site and clock"))
        self._before = self._value = site
        self._suggested = own_zone() if new and not site.zone else ""
        self._build_clock()
        self._build_dew_point()
        self._build_assumptions()
        self._build_deposition()
        self._wire()
        self._explain()
        self._zone.setFocus()

    def site(self) -> Site:
        """Return what was said of the site."""
        return self._value

    def _build_clock(self) -> None:
        self._zone = known_field(self._before.zone or self._suggested, sorted(available_timezones()))
        self._zone.setMaxVisibleItems(16)
        line = self._zone.lineEdit()
        if line is not None:
            line.setPlaceholderText(self.tr("not known"))
        self.add_row(self.tr("&Zone of the board's clock"), self._zone)
        text = self.tr(
            "Inspections and photos are noted by the board's clock. With its zone, loggers that keep UTC or another "
            "zone fall on the right hours, in summer time too; without one every clock is taken as it is."
        )
        if self._suggested:
            text += " " + self.tr("Suggested is the zone of this computer.")
        self._say(text)

    def _build_dew_point(self) -> None:
        self._set = choice_field()
        for number, name in enumerate(DEW_POINT_SETS):
            self._set.addItem(name, name)
            self._set.setItemData(number, tool_tip(source_of(name)), Qt.ItemDataRole.ToolTipRole)
        self._set.setCurrentIndex(DEW_POINT_SETS.index(self._before.dew_point_set))
        self.add_row(self.tr("&Dew point by"), self._set)
        self._source = self._say("")

    def _build_assumptions(self) -> None:
        self._dew_hours = number_field(self._before.dew_day_hours, letters=8)
        self._wet_hours = number_field(self._before.wet_day_hours, letters=8)
        self.add_row(self.tr("Hours wet on a day with de&w alone"), self._dew_hours)
        self.add_row(self.tr("Hours wet on a day with &rain, fog or snow"), self._wet_hours)
        self._say(
            self.tr(
                "They count on days noted by hand for which nobody noted how long the coupons were wet. They are "
                "assumptions without a source; every figure that leans on them says so."
            )
        )
        self._stuck = QCheckBox(self.tr("&Leave out humidity that stood still"))
        self._stuck.setChecked(self._before.leave_out_stuck)
        self.add_text(self._stuck)
        self._say(
            self.tr(
                "Where it stood still at its highest value for a day and longer: a wet or old sensor stays at 100 % "
                "when the air has long dried, and too many hours count as wet. "
                "Left out, these hours are a gap. In fog for days the reading may be true."
            )
        )

    def _build_deposition(self) -> None:
        hint = self.tr("not known")
        self._sulphur = number_field(self._before.sulphur_dioxide, hint=hint, letters=12)
        self._chloride = number_field(self._before.chloride, hint=hint, letters=12)
        self.add_row(self.tr("Deposition of &sulphur dioxide, mg/(m² d)"), self._sulphur)
        self.add_row(self.tr("Deposition of &chloride, mg/(m² d)"), self._chloride)
        self._say(
            self.tr(
                "Means over a year. They are used for how corrosive the place is, and change nothing about wetness; "
                "empty means not known, which is not the same as 0."
            )
        )

    def _say(self, text: str) -> QLabel:
        label = words_label(text, muted=True, narrow=True)
        self.add_text(label)
        return label

    def _wire(self) -> None:
        self._set.currentIndexChanged.connect(self._explain)

    @Slot()
    def _explain(self) -> None:
        chosen = DEW_POINT_SETS[self._set.currentIndex()]
        self._set.setToolTip(tool_tip(source_of(chosen)))
        self._source.setText(
            self.tr(
                "{0} The sets differ by about 0.03 °C at 20 °C, and by 0.1 °C in hard frost; figures of one board "
                "keep to one set."
            ).format(source_of(chosen))
        )

    def read(self) -> None:
        """Read the fields into the site."""
        site = replace(
            self._before,
            dew_point_set=DEW_POINT_SETS[self._set.currentIndex()],
            leave_out_stuck=self._stuck.isChecked(),
        )
        site = _checked(replace(site, zone=text_of(self._zone)), self._zone)
        site = _checked(replace(site, dew_day_hours=self._hours(self._dew_hours)), self._dew_hours)
        site = _checked(replace(site, wet_day_hours=self._hours(self._wet_hours)), self._wet_hours)
        site = _checked(replace(site, sulphur_dioxide=number_in(self._sulphur)), self._sulphur)
        self._value = _checked(replace(site, chloride=number_in(self._chloride)), self._chloride)

    def _hours(self, field: QLineEdit) -> float:
        usual = Site()
        found = number_in(field)
        if found is not None:
            return found
        return usual.dew_day_hours if field is self._dew_hours else usual.wet_day_hours


def own_zone() -> str:
    """Return the name of the zone this computer keeps, or an empty text where it has none of that kind."""
    name = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", "ignore")
    return name if name in available_timezones() else ""


def source_of(name: DewPointSet) -> str:
    """Return where a set of coefficients comes from, in the user's language."""
    return QCoreApplication.translate("site", _SOURCES[name])


def _checked(site: Site, field: QLineEdit | QComboBox) -> Site:
    with blamed_on(field):
        return checked_site(site)
