"""What a person does in the window to read what the board says."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt
from window_driving import Person, settle


def show_findings(person: Person, yard: Path) -> None:
    person.do("findings.show")
    screen = person.window.findings.screen
    assert screen is not None
    assert screen.isVisible()
    assert person.checked("findings.show")
    person.press("Grade the coupons")
    assert person.page.isVisible()
    person.tap_grade(7)
    person.do("findings.show")
    settle(8)
    assert "Judged by the last grade" in screen.verdict.text()
    person.key(Qt.Key.Key_Escape)
    assert person.page.isVisible()
    assert not person.checked("findings.show")


STORIES: dict[str, Callable[[Person, Path], None]] = {"findings.show": show_findings}
