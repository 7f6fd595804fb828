"""What is offered before anything was chosen follows the user's country; dates stay in the order of ISO."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QLocale

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.report.choice import ReportChoice
from rustboard.ui.reporting.usual import clocks_missing, usual_here


@pytest.fixture
def living_in():
    """Sets the country for a test."""
    before = QLocale()
    yield lambda name: QLocale.setDefault(QLocale(name))
    QLocale.setDefault(before)


@pytest.mark.parametrize(
    ("country", "workshop", "paper", "writing"),
    [
        ("en_US", "", "Letter", "iso"),
        ("en_US", "A4", "A4", "iso"),
        ("de_DE", "", "A4", "iso comma"),
        ("en_GB", "Letter", "Letter", "iso"),
    ],
)
def test_paper_and_decimal_mark_are_those_of_the_country(living_in, country, workshop, paper, writing):
    living_in(country)
    found = usual_here(ReportChoice(), workshop)
    assert (found.paper, found.writing.name) == (paper, writing)


def test_an_empty_board_can_be_told_by_days_alone():
    assert clocks_missing(BoardRecord(Board("Quay"))) == {
        "wet hours": "no weather",
        "rain": "no weather",
        "controls": "no controls",
    }
