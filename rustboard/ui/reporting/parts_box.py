"""The parts of a report, to be ticked, in the order in which they stand in it."""

from __future__ import annotations

from collections.abc import Collection, Mapping

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QCheckBox, QGroupBox, QPushButton, QVBoxLayout, QWidget

from rustboard.report.choice import PARTS, Part
from rustboard.session.report_parts import WhyNoPart
from rustboard.ui.flow_layout import flowing
from rustboard.ui.forms.labels import flowing_words
from rustboard.ui.reporting.words import PART_NAMES, WHY_NO_PART, say


class PartsBox(QGroupBox):
    """A tick for each part. What the board has nothing for is grey, says why, and keeps its tick for other boards.

    Signals:
        changed(): another choice was made.
    """

    changed = Signal()

    def __init__(self, missing: Mapping[Part, WhyNoPart], parent: QWidget | None = None) -> None:
        """Show all parts, all ticked."""
        super().__init__(parent)
        self.setTitle(self.tr("Parts"))
        self._missing = dict(missing)
        self._ticks: dict[Part, QCheckBox] = {}
        self._all, self._none = QPushButton(self.tr("&All parts")), QPushButton(self.tr("No&ne"))
        for button in (self._all, self._none):
            button.setAutoDefault(False)
        self._build()
        self._wire()

    def ticked(self) -> frozenset[Part]:
        """Return the parts ticked, those too that this board has nothing for."""
        return frozenset(part for part, tick in self._ticks.items() if tick.isChecked())

    def choose(self, parts: Collection[Part]) -> None:
        """Tick these parts and no others."""
        for part, tick in self._ticks.items():
            tick.setChecked(part in parts)

    def tick_of(self, part: Part) -> QCheckBox:
        """Return the box of a part."""
        return self._ticks[part]

    def _build(self) -> None:
        column = QVBoxLayout(self)
        column.setSpacing(3)
        lead = self.tr("Cover and contents are always there. The CSV files hold all data whatever is ticked.")
        column.addWidget(flowing_words(lead))
        for part in PARTS:
            name, why = say(PART_NAMES[part]), self._missing.get(part)
            text = name if why is None else self.tr("{0} – {1}").format(name, say(WHY_NO_PART[why]))
            tick = QCheckBox(text)
            tick.setChecked(True)
            tick.setEnabled(why is None)
            self._ticks[part] = tick
            column.addWidget(tick)
        column.addWidget(flowing(self._all, self._none, spacing=8))
        column.addStretch(1)

    def _wire(self) -> None:
        self._all.clicked.connect(self._tick_all)
        self._none.clicked.connect(self._tick_none)
        for tick in self._ticks.values():
            tick.toggled.connect(self.changed)

    @Slot()
    def _tick_all(self) -> None:
        self.choose(PARTS)

    @Slot()
    def _tick_none(self) -> None:
        self.choose(self._missing.keys() & self.ticked())
