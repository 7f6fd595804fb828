"""How corrosive the place is: estimated and weighed side by side, on one scale, and what that does to bare steel."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QEvent, Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QLabel, QScrollArea, QVBoxLayout, QWidget

from rustboard.board.record import BoardRecord, site_of
from rustboard.board.weather import LARGEST_DEPOSITION, Site
from rustboard.scales.climate import Climate
from rustboard.scales.corrosivity import wetness_class
from rustboard.scales.projection import CAUTION, STEEL_B1, STEEL_B2, steel_projection
from rustboard.scales.weighed import (
    FIRST_YEAR_DAYS,
    MeasuredCorrosivity,
    Weighed,
    measured_corrosivity,
    weighed_coupons,
)
from rustboard.support.problems import InputError
from rustboard.ui.forms.form import WrongFieldError
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import LIGHT, Scheme
from rustboard.ui.weighing.category_scale import CategoryScale, Mark
from rustboard.ui.weighing.estimate_card import EstimateCard
from rustboard.ui.weighing.plain_table import PlainTable
from rustboard.ui.weighing.words import DASH, range_text, significant, spread_text, told
from rustboard.ui.wording import number

_NARROW_IN_LETTERS = 100


class CorrosivityPage(QWidget):
    """Shows what is known of the place; it changes only the deposition, and asks for that to be kept.

    Attributes:
        estimate: fields and estimate. measured: what the bare coupons say. scale: both on the categories.
        projection: bare steel over the years.

    Signals:
        site_changed(object): the `Site` with another deposition, to be kept.
    """

    site_changed = Signal(object)

    def __init__(self, parent: QWidget | None = None, scheme: Scheme = LIGHT) -> None:
        """Start without a board."""
        super().__init__(parent)
        self._site = Site()
        self._refused = ""
        self._measured: MeasuredCorrosivity | None = None
        self.estimate = EstimateCard()
        self.measured, self._wetness = words_label(narrow=True), words_label(narrow=True)
        self.scale = CategoryScale(scheme)
        self.projection = PlainTable(self._headers(), 1, self.tr("Attack on bare steel over the years"), wide=None)
        self.projection.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._beside = QHBoxLayout()
        self._build()
        self._wire()
        self._show_both()

    def _headers(self) -> list[str]:
        return [
            self.tr("After"),
            self.tr("Estimated, B1"),
            self.tr("Estimated, B2"),
            self.tr("Weighed, B1"),
            self.tr("Weighed, B2"),
        ]

    def _build(self) -> None:
        inside = QWidget()
        column = QVBoxLayout(inside)
        column.setSpacing(8)
        self._beside.addWidget(self.estimate, 1)
        self._beside.addWidget(self._measured_card(), 1)
        column.addLayout(self._beside)
        column.addWidget(_heading(self.tr("First year of bare steel on the categories of ISO 9223, µm")))
        column.addWidget(self.scale)
        column.addWidget(_heading(self.tr("Bare steel over the years, µm (ISO 9224)")))
        column.addWidget(words_label(told(CAUTION), narrow=True))
        column.addWidget(self.projection)
        column.addWidget(
            words_label(
                self.tr(
                    "B1 {0} is the mean exponent, B2 {1} the one for when the most attack counts; both are from "
                    "memory. Up to 20 years the attack follows a power of time, beyond it a straight line."
                ).format(number(STEEL_B1, 3), number(STEEL_B2, 3)),
                muted=True,
                narrow=True,
            )
        )
        column.addStretch(1)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setFrameShape(QFrame.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(inside)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.addWidget(scroll)

    def _measured_card(self) -> QFrame:
        card = QFrame()
        card.setProperty("card", True)
        column = QVBoxLayout(card)
        column.addWidget(_heading(self.tr("Measured on weighed bare coupons")))
        column.addWidget(self.measured)
        column.addSpacing(8)
        column.addWidget(_heading(self.tr("Time of wetness")))
        column.addWidget(self._wetness)
        column.addStretch(1)
        return card

    def _wire(self) -> None:
        self.estimate.estimated.connect(self._show_both)
        self.estimate.deposition_changed.connect(self._tell_site)

    # ---- what it shows

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.scale.set_scheme(scheme)

    def set_read_only(self, reason: str) -> None:
        """Keep the deposition from being changed; an empty reason lets it again."""
        self._refused = reason
        self.estimate.set_read_only(refused=bool(reason))

    def show_record(self, record: BoardRecord, climate: Climate) -> None:
        """Show a board's place, its weather and its weighed bare coupons."""
        self._site = site_of(record)
        weighed = weighed_coupons(record)
        self._measured = measured_corrosivity(weighed)
        self.measured.setText(self._about_measured(weighed))
        self._wetness.setText(self._about_wetness(climate))
        self.estimate.show_site(self._site, climate)
        self._show_both()

    def _about_measured(self, weighed: list[Weighed]) -> str:
        found = self._measured
        if found is None:
            bare = sum(each.bare for each in weighed)
            words = self.tr(
                "None yet: {0} bare coupons were weighed, none of them after one year ({1} to {2} days). Hang three "
                "bare ones, weighed before, and weigh them after a year: that beats any estimate."
            )
            return words.format(bare, *(number(each, 0) for each in FIRST_YEAR_DAYS))
        lines = [
            self.tr("{0} by thickness: {1} µm in the first year, {2} coupons.").format(
                found.by_thickness.name, spread_text(found.um_y), found.um_y.n
            ),
            self.tr("{0} by mass: {1} g/m² in the first year.").format(found.by_mass.name, spread_text(found.g_m2_y)),
        ]
        if found.um_y.n > 1:
            lines.append(
                self.tr("Mean ± standard deviation; the coupons lie at {0} µm.").format(range_text(found.um_y))
            )
        return "\n".join(lines)

    def _about_wetness(self, climate: Climate) -> str:
        if climate.wet_hours_per_year is None:
            return self.tr("Not known: it takes temperature and humidity of the board's weather.")
        try:
            name = wetness_class(climate.wet_hours_per_year)
        except InputError as error:
            return str(error)
        words = self.tr(
            "{0}: {1} hours a year with humidity above 80 % and above 0 °C, from {2} days of weather. The rule "
            "misses dew on a cold night sky, salts that draw water, and thaw."
        )
        return words.format(name, number(climate.wet_hours_per_year, 0), number(climate.days_known, 0))

    @Slot()
    def _show_both(self) -> None:
        """Show estimate and measurement on the scale and over the years."""
        estimate, measured = self.estimate.found(), self._measured
        marks = []
        if estimate is not None:
            name = self.tr("estimated, extrapolated") if estimate.extrapolated else self.tr("estimated")
            marks.append(Mark(name, estimate.rate_um_y, estimate.low_um_y, estimate.high_um_y, True))
        if measured is not None:
            found = measured.um_y
            marks.append(Mark(self.tr("weighed"), found.mean, found.least, found.most, False))
        self.scale.show_marks(marks)
        by_estimate = () if estimate is None else steel_projection(estimate.rate_um_y)
        by_measure = () if measured is None else steel_projection(measured.um_y.mean)
        years = [each.years for each in by_estimate or by_measure or steel_projection(1.0)]
        self.projection.show_rows(
            [
                (
                    self.tr("{0} y").format(year),
                    *(_attack(by_estimate[place]) if by_estimate else (DASH, DASH)),
                    *(_attack(by_measure[place]) if by_measure else (DASH, DASH)),
                )
                for place, year in enumerate(years)
            ]
        )
        self._fit_table()

    def _fit_table(self) -> None:
        self.projection.setFixedHeight(self.projection.height_of_rows(self.projection.rowCount()))

    @Slot()
    def _tell_site(self) -> None:
        """Ask for another deposition to be kept."""
        if self._refused:
            return
        try:
            sulphur, chloride = self.estimate.deposition()
        except WrongFieldError:
            return  # the card says so
        if not all(each is None or 0 <= each <= LARGEST_DEPOSITION for each in (sulphur, chloride)):
            return
        changed = replace(self._site, sulphur_dioxide=sulphur, chloride=chloride)
        if changed != self._site:
            self._site = changed
            self.site_changed.emit(changed)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the columns under one another where there is no room for both."""
        super().resizeEvent(event)
        narrow = event.size().width() < self.fontMetrics().averageCharWidth() * _NARROW_IN_LETTERS
        way = QBoxLayout.Direction.TopToBottom if narrow else QBoxLayout.Direction.LeftToRight
        self._beside.setDirection(way)

    def changeEvent(self, event: QEvent) -> None:
        """Fit the table to another font."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "projection"):
            self._fit_table()


def _heading(text: str) -> QLabel:
    label = words_label(text, narrow=True)
    label.setProperty("heading", True)
    return label


def _attack(projected: tuple[int, float, float]) -> tuple[str, str]:
    return significant(projected[1], 3), significant(projected[2], 3)
