"""What is offered before anything was chosen, by the user's country; and the clocks a board cannot be told by."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale

from rustboard.board.exposure_clock import CLOCK_KINDS, ClockKind
from rustboard.board.record import BoardRecord
from rustboard.report.choice import ReportChoice, writing_named
from rustboard.session.findings import clocks_for
from rustboard.ui.clock_words import WhyNot

if TYPE_CHECKING:
    from rustboard.report.page_setup import Paper


def usual_here(choice: ReportChoice, workshop_paper: str) -> ReportChoice:
    """Return a choice with paper and writing as this user's country has them; dates stay in the order of ISO."""
    locale = QLocale()
    american = locale.measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
    letter = workshop_paper == "Letter" or (not workshop_paper and american)
    paper: Paper = "Letter" if letter else "A4"
    writing = writing_named("iso comma" if locale.decimalPoint() == "," else "iso")
    return replace(choice, paper=paper, writing=writing)


def clocks_missing(record: BoardRecord) -> dict[ClockKind, WhyNot]:
    """Return the clocks that a board cannot be told by, each with the reason."""
    there = clocks_for(record)
    return {kind: "no controls" if kind == "controls" else "no weather" for kind in CLOCK_KINDS if kind not in there}
