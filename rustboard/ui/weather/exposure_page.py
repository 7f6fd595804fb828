"""Exposure: the table from inspection to inspection or since the start, and the chosen row in sentences beside it."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QPushButton, QSplitter, QVBoxLayout, QWidget

from rustboard.session.exposure import InspectionExposure
from rustboard.ui.forms.labels import words_label
from rustboard.ui.theme import Scheme
from rustboard.ui.turned_split import turn_split
from rustboard.ui.weather.details import Details
from rustboard.ui.weather.exposure_table import ExposureTable
from rustboard.ui.weather.exposure_words import exposure_sections

_NARROW = 900
_TABLE_SHARE = 0.8


class ExposurePage(QWidget):
    """The tab of exposure.

    Signals:
        inspection_asked(int): go to the inspection with this key.

    Attributes:
        table, details: its parts. by_inspection, since_start: the switch.
    """

    inspection_asked = Signal(int)

    def __init__(self, scheme: Scheme, parent: QWidget | None = None) -> None:
        """Start empty."""
        super().__init__(parent)
        self._rows: Sequence[InspectionExposure] = ()
        self.by_inspection = QPushButton(self.tr("From inspection to &inspection"))
        self.since_start = QPushButton(self.tr("Since the sta&rt"))
        self._switch = QButtonGroup(self)
        for each in (self.by_inspection, self.since_start):
            each.setCheckable(True)
            self._switch.addButton(each)
        self.by_inspection.setChecked(True)
        self._hint = words_label(self.tr("Enter or a double click goes to the inspection of a row."), muted=True)
        self._none = words_label(muted=True)
        self._none.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._none.hide()
        self.table = ExposureTable(scheme)
        self.details = Details(self.tr("The chosen row in words"))
        self._split = QSplitter(Qt.Orientation.Horizontal)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.table)
        self._split.addWidget(self.details)
        row = QHBoxLayout()
        row.addWidget(self.by_inspection)
        row.addWidget(self.since_start)
        row.addWidget(self._hint, 1)
        row.addStretch(0)
        column = QVBoxLayout(self)
        column.setContentsMargins(4, 6, 4, 4)
        column.addLayout(row)
        column.addWidget(self._none)
        column.addWidget(self._split, 1)
        self._wire()

    def _wire(self) -> None:
        self._switch.buttonClicked.connect(self._turn)
        self.table.row_chosen.connect(self._follow_choice)
        self.table.inspection_asked.connect(self.inspection_asked)

    def show_rows(self, rows: Sequence[InspectionExposure], inspection: int | None, none: str) -> None:
        """Show rows, that of an inspection chosen; ``none`` says why there are none for inspections."""
        self._rows = rows
        self._none.setText(none)
        self._none.setVisible(bool(none))
        self._split.setVisible(bool(rows))
        self._show(inspection)

    def chosen_inspection(self) -> int | None:
        """Return the inspection of the chosen row, or None."""
        row = self.table.chosen()
        return None if row is None else self._rows[row].inspection

    def set_scheme(self, scheme: Scheme) -> None:
        """Change colours."""
        self.table.set_scheme(scheme)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Put the words below the table where there is no room beside it."""
        super().resizeEvent(event)
        self._hint.setVisible(event.size().width() >= _NARROW)
        turn_split(self._split, event, _NARROW, _TABLE_SHARE if event.size().width() >= _NARROW else 0.55)

    def _show(self, inspection: int | None) -> None:
        self.table.show_rows(self._rows, from_start=self.since_start.isChecked(), inspection=inspection)

    @Slot()
    def _turn(self) -> None:
        self._show(self.chosen_inspection())
        self.table.setFocus()

    @Slot()
    def _follow_choice(self) -> None:
        row = self.table.chosen()
        if row is None:
            self.details.show_sections([])
            return
        each, from_start = self._rows[row], self.since_start.isChecked()
        self.details.show_sections(
            exposure_sections(
                each.exposure(from_start=from_start),
                each.gaps_of(from_start=from_start),
                is_open=each.inspection is None,
                from_start=from_start,
            )
        )
