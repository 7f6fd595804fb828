"""How a logger's file is written, as fields that can be changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from PySide6.QtCore import QSignalBlocker, QSize, Qt, Signal, Slot
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QComboBox, QFrame, QPushButton, QScrollArea, QSpinBox, QWidget

from rustboard.ui.forms.form import WheelGuard, choice_field, known_field, text_of
from rustboard.ui.forms.labels import add_labelled, panel_form, words_label
from rustboard.ui.loggers.clock_field import ClockField, system_zone
from rustboard.ui.loggers.logger_words import DATE_ORDERS, DECIMAL_MARKS, DELIMITERS, say

MOST_LINES_BEFORE: Final = 1_000
_WIDTH_IN_LETTERS: Final = 34


class OptionFields(QScrollArea):
    """The fields, one under another; they scroll where there is no room.

    Signals:
        laid_otherwise(): the mark between cells or the lines before the data were changed: the columns are others.
        changed(): anything else was changed.
        profile_chosen(str): the name of a kept profile, or empty for the guess.
        keep_asked(): what the fields and columns say is to be kept as a profile.
    """

    laid_otherwise = Signal()
    changed = Signal()
    profile_chosen = Signal(str)
    keep_asked = Signal()

    def __init__(self, loggers: Sequence[str], profiles: Sequence[str], parent: QWidget | None = None) -> None:
        """Build the fields.

        Args:
            loggers: names of loggers on the board, to choose from.
            profiles: names of kept profiles.
            parent: as Qt has it.
        """
        super().__init__(parent)
        self.profile = choice_field()
        self.keep = QPushButton(self.tr("&Keep as profile…"))
        self.keep.setAutoDefault(False)
        self.logger = known_field("", loggers)
        self.clock = ClockField()
        self.zone = ClockField(zones_only=True)
        self.zone.set_clock(system_zone())
        self.delimiter, self.decimal = _choice(DELIMITERS), _choice(DECIMAL_MARKS)
        self.dates = _choice(DATE_ORDERS)
        self.lines = QSpinBox()
        self.lines.setRange(0, MOST_LINES_BEFORE)
        self._wheel = WheelGuard(self)
        self._why_zone = words_label(
            self.tr(
                "The board does not say yet which zone its own clock shows. This computer's is suggested; check it, "
                "it is kept with the board."
            ),
            muted=True,
        )
        self._inside = QWidget()
        self._build()
        self.show_profiles(profiles, "")
        self._wire()

    def _build(self) -> None:
        form = panel_form()
        self._inside.setLayout(form)
        add_labelled(form, self.tr("&Profile"), self.profile)
        form.addRow("", self.keep)
        add_labelled(form, self.tr("Lo&gger"), self.logger)
        add_labelled(form, self.tr("Times are &told by"), self.clock)
        self._zone_label = add_labelled(form, self.tr("The boa&rd's clock"), self.zone)
        form.addRow(self._why_zone)
        add_labelled(form, self.tr("&Between cells"), self.delimiter)
        add_labelled(form, self.tr("&Decimal mark"), self.decimal)
        add_labelled(form, self.tr("&Order of dates"), self.dates)
        add_labelled(form, self.tr("&Lines before the data"), self.lines)
        for each in (self.profile, self.logger, self.clock, self.zone, self.delimiter, self.decimal, self.dates):
            self._wheel.watch(each)
        self._wheel.watch(self.lines)
        self.want_zone(False)
        self.setWidget(self._inside)
        self.setWidgetResizable(True)
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setBackgroundRole(QPalette.ColorRole.Window)
        self._inside.setAutoFillBackground(False)

    def _wire(self) -> None:
        self.profile.currentIndexChanged.connect(self._choose_profile)
        self.keep.clicked.connect(self.keep_asked)
        self.delimiter.currentIndexChanged.connect(self.laid_otherwise)
        self.lines.valueChanged.connect(self.laid_otherwise)
        for each in (self.decimal, self.dates):
            each.currentIndexChanged.connect(self.changed)
        for typed in (self.logger, self.clock, self.zone):
            typed.editTextChanged.connect(self.changed)

    @Slot(int)
    def _choose_profile(self, index: int) -> None:
        self.profile_chosen.emit(self.profile.itemData(index) or "")

    # ---- what is shown

    def show_profiles(self, names: Sequence[str], chosen: str) -> None:
        """Show the kept profiles, and which one the fields are from; empty for the guess."""
        with QSignalBlocker(self.profile):
            self.profile.clear()
            self.profile.addItem(self.tr("none: as it is guessed"), "")
            for each in names:
                self.profile.addItem(each, each)
            self.profile.setCurrentIndex(max(0, self.profile.findData(chosen)))

    def show_profile(self, chosen: str) -> None:
        """Show which profile the fields are from; empty for the guess."""
        with QSignalBlocker(self.profile):
            self.profile.setCurrentIndex(max(0, self.profile.findData(chosen)))

    def show_layout(self, delimiter: str, decimal: str, dates: str, lines: int) -> None:
        """Show how the file is written."""
        for field, value in ((self.delimiter, delimiter), (self.decimal, decimal), (self.dates, dates)):
            with QSignalBlocker(field):
                field.setCurrentIndex(field.findData(value))
        with QSignalBlocker(self.lines):
            self.lines.setValue(lines)

    def show_source(self, logger: str, clock: str) -> None:
        """Show which logger wrote the file, and by which clock."""
        with QSignalBlocker(self.logger):
            self.logger.setEditText(logger)
        with QSignalBlocker(self.clock):
            self.clock.set_clock(clock)

    def want_zone(self, wanted: bool) -> None:
        """Ask for the zone of the board's clock, or no more."""
        for each in (self.zone, self._zone_label, self._why_zone):
            each.setVisible(wanted)

    def logger_name(self) -> str:
        """Return what is written for the logger."""
        return text_of(self.logger)

    def sizeHint(self) -> QSize:
        """Return a width in which the longest field is read."""
        return QSize(self.fontMetrics().averageCharWidth() * _WIDTH_IN_LETTERS, self._inside.sizeHint().height())

    def minimumSizeHint(self) -> QSize:
        """Return a size in which two fields are still seen."""
        width = self._inside.minimumSizeHint().width() + self.verticalScrollBar().sizeHint().width()
        return QSize(width, self.fontMetrics().height() * 5)


def _choice(words: Mapping[str, object]) -> QComboBox:
    field = choice_field()
    for value, text in words.items():
        field.addItem(say(text), value)
    return field
