"""What a person does with old grades, told for `test_every_action`."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from window_driving import Person, reopened, wait_until

from rustboard.report.tidy import tidy_grades
from rustboard.ui.importing.dialog import ImportDialog


def through_all_steps(dialog: ImportDialog) -> None:
    """Press Next on every step, and make the board from the last."""
    for step in range(5):
        wait_until(dialog.next.isEnabled, "for the step to be ready")
        assert dialog.steps.currentIndex() == step
        dialog.next.click()
    wait_until(lambda: bool(dialog.result()), "for the board to be made")


def import_old_grades(person: Person, yard: Path) -> None:
    file = yard.parent / "old.csv"
    file.write_text("Coupon;Coating;02.03.2019;16.03.2019\nP1;wax;10;9\nP2;none;8;2-G\n", encoding="utf-8")
    person.answers.files, person.answers.dialogs = [file], [through_all_steps]
    person.do("file.import")
    person.stand_up()
    with reopened(person.desk.settings.boards_path() / "old") as session:
        assert [each.id for each in session.record.coupons.values()] == ["P1", "P2"]
        assert [each.grade for each in tidy_grades(session.record)] == [10, 8, 9, 2]


STORIES: dict[str, Callable[[Person, Path], None]] = {"file.import": import_old_grades}
