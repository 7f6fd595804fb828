"""What the action about the time between two inspections does, told for `test_every_action`."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from PySide6.QtWidgets import QDialog
from window_driving import START, Person

from rustboard.board.model import Inspection
from rustboard.board.weather import DayNote
from rustboard.operations.grading import GivenGrade
from rustboard.operations.grading import grade_coupon as grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.weather import note_day


def between(person: Person, yard: Path) -> None:
    """Two inspections, one fall, one rainy day: all of it is told, and the way to the pair before."""
    person.window.do(grade, GivenGrade(1, 1, 10))
    person.window.do(add_inspection, Inspection(START + timedelta(days=7), "Ann"))
    person.window.do(grade, GivenGrade(1, 2, 7, "S"))
    person.window.do(note_day, DayNote((START + timedelta(days=2)).date(), ("rain",), 6.5))
    person.session.selection.look_at(2)
    texts = []

    def read(dialog: QDialog) -> None:
        texts.append(dialog.text())
        dialog._earlier.click()
        texts.append(dialog.text())

    person.answers.dialogs = [read]
    person.do("weather.between")
    assert person.answers.asked == ["BetweenDialog"]
    assert "One of 1 coupons fell: C01, by 3 grades." in texts[0]
    assert "6.5 mm" in texts[0]
    assert "Exposure begins with this inspection" in texts[1]


STORIES = {"weather.between": between}
