"""Old grades are brought in from the shelf, where no board need be open."""

from __future__ import annotations

from pathlib import Path

import pytest
from importing_stories import through_all_steps
from PySide6.QtWidgets import QLabel, QPushButton
from window_driving import Desk, reopened, settle

from rustboard.report.tidy import tidy_grades
from rustboard.ui.start import make_application


@pytest.mark.parametrize("boards", [0, 1])
def test_the_shelf_makes_a_board_of_old_grades(desk: Desk, yard: Path, boards: int) -> None:
    if boards:
        desk.settings.boards_path().mkdir(parents=True)
        yard.rename(desk.settings.boards_path() / "Yard")
    file = yard.parent / "fence.csv"
    file.write_text("Coupon;Coating;02.03.2019;16.03.2019\nP1;wax;10;9\nP2;none;8;2-G\n", encoding="utf-8")
    person = desk.sit_down()
    person.answers.files, person.answers.dialogs = [file], [through_all_steps]
    found = person.window.shelf.screen().findChildren(QPushButton)
    person.click(next(each for each in found if each.text() == "Old grades…" and each.isVisible()))
    person.stand_up()
    with reopened(desk.settings.boards_path() / "fence") as session:
        assert [each.grade for each in tidy_grades(session.record)] == [10, 8, 9, 2]


@pytest.mark.parametrize(("width", "titled"), [(1366, True), (683, False)])
def test_the_shelf_fits_a_small_screen_in_the_widest_letters(
    desk: Desk, yard: Path, width: int, titled: bool
) -> None:
    desk.settings.boards_path().mkdir(parents=True)
    yard.rename(desk.settings.boards_path() / "Yard")
    desk.settings.scheme = "sunlight"
    make_application(desk.settings)
    window = desk.sit_down().window
    settle()
    window.resize(width, 384)
    settle()
    assert window.width() == width
    labels = window.shelf.screen().findChildren(QLabel)
    assert any(each.text() == "Your boards" and each.isVisible() for each in labels) == titled
