"""A letter pressed with Alt does one thing: it opens a menu, or goes to one control of the screen in view."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from photographed_boards import photographed
from PySide6.QtWidgets import QAbstractButton, QLabel, QTabBar, QWidget
from window_driving import graded, settle

from rustboard.operations.blind import BlindChoice, start_blind


def letters_in(window: QWidget) -> list[str]:
    """Return every letter that is given out in a window as it is, in lower case."""
    texts = [each.text() for each in window.menuBar().actions()]
    for kind in (QAbstractButton, QLabel):
        texts += [
            each.text()
            for each in window.findChildren(kind)
            if each.isVisible() and (kind is QAbstractButton or each.buddy() is not None)
        ]
    for bar in window.findChildren(QTabBar):
        texts += [bar.tabText(number) for number in range(bar.count()) if bar.isVisible()]
    return [letter.lower() for text in texts for letter in re.findall(r"&([^&\s])", text)]


@pytest.mark.parametrize("width", [1366, 800])
@pytest.mark.parametrize(
    "screen",
    [
        "",
        "board.plan",
        "photos.show",
        "inspection.side_by_side",
        "inspection.agreement",
        "weather.show",
        "findings.show",
        "blind",
    ],
)
def test_every_letter_is_given_once_on_every_screen(tmp_path, sitting_at, screen, width):
    person = sitting_at(photographed(tmp_path / "Quay"))
    person.window.resize(width, 740)
    if screen == "blind":
        person.window.do(start_blind, BlindChoice(1, "bench"))
        settle()
        assert person.window.blind.blind_page is not None
    elif screen:
        person.do(screen)
    letters = letters_in(person.window)
    assert {"f", "e", "b", "p", "v", "h"} <= set(letters)
    assert [letter for letter, count in Counter(letters).items() if count > 1] == []


@pytest.mark.parametrize("page", range(7))
def test_every_letter_is_given_once_on_every_page_of_the_findings(tmp_path, sitting_at, page):
    person = sitting_at(graded(photographed(tmp_path / "Quay"), 1, {"C01": 9, "C02": 5}))
    person.do("findings.show")
    settle(8)
    tabs = person.window.findings.screen.tabs
    tabs.setCurrentIndex(page)
    settle()
    assert [letter for letter, count in Counter(letters_in(person.window)).items() if count > 1] == []
