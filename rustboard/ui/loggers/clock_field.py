"""Choosing what a file's times are told by, and the zone of the board's own clock."""

from __future__ import annotations

from functools import lru_cache
from typing import Final
from zoneinfo import available_timezones

from PySide6.QtCore import QCoreApplication, Qt, QTimeZone
from PySide6.QtWidgets import QComboBox, QCompleter

from rustboard.board.clock_names import is_zone
from rustboard.ui.forms.form import choice_field, text_of

_FIRST_OFFSET_HOURS, _LAST_OFFSET_HOURS = -12, 14
_HALF_HOURS: Final = ("UTC-09:30", "UTC-03:30", "UTC+03:30", "UTC+04:30", "UTC+05:30", "UTC+05:45", "UTC+06:30",
                      "UTC+08:45", "UTC+09:30", "UTC+10:30", "UTC+12:45")  # fmt: skip
"""Differences that are no whole hours and are used somewhere (the time zone database)."""


def fixed_clocks() -> list[str]:
    """Return the differences from UTC to choose from, from the west to the east."""
    whole = [f"UTC{hours:+03d}:00" for hours in range(_FIRST_OFFSET_HOURS, _LAST_OFFSET_HOURS + 1) if hours]
    return sorted([*whole, *_HALF_HOURS], key=_minutes)


def _minutes(clock: str) -> int:
    minutes = int(clock[4:6]) * 60 + int(clock[7:9])
    return -minutes if clock[3] == "-" else minutes


@lru_cache(maxsize=1)
def zone_names() -> tuple[str, ...]:
    """Return the names of zones that are places, by name."""
    return tuple(sorted(each for each in available_timezones() if "/" in each and not each.startswith("Etc/")))


def system_zone() -> str:
    """Return the zone that this computer's clock shows, or an empty text where it does not say."""
    name = bytes(QTimeZone.systemTimeZoneId().data()).decode("ascii", errors="replace")
    name = "UTC" if name in ("Etc/UTC", "Etc/UCT", "Etc/Universal", "Etc/Zulu") else name
    return name if name and is_zone(name) else ""


class ClockField(QComboBox):
    """A list of clocks to choose from or to type into; what is typed is looked for anywhere in the names."""

    def __init__(self, *, zones_only: bool = False) -> None:
        """Build the list; with ``zones_only`` it holds zones, and without it all that a file's times are told by."""
        super().__init__()
        plain = choice_field()
        self.setSizeAdjustPolicy(plain.sizeAdjustPolicy())
        self.setMinimumContentsLength(plain.minimumContentsLength())
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setMaxVisibleItems(16)
        self._own = "" if zones_only else QCoreApplication.translate("loggers", "the board's own clock")
        names = list(zone_names()) if zones_only else [self._own, "UTC", *fixed_clocks(), *zone_names()]
        self.addItems(names)
        completer = QCompleter(names, self)
        completer.setFilterMode(Qt.MatchFlag.MatchContains)
        completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
        self.setCompleter(completer)
        line = self.lineEdit()
        if line is not None:
            line.setStyleSheet("QLineEdit { border: none; padding: 0px; background: transparent; }")
        self.set_clock("")

    def clock(self) -> str:
        """Return the clock as it is kept; empty = the board's own, or no zone."""
        typed = text_of(self)
        return "" if typed == self._own else typed

    def set_clock(self, clock: str) -> None:
        """Show a clock."""
        self.setEditText(clock or self._own)
        line = self.lineEdit()
        if line is not None:
            line.setCursorPosition(0)
