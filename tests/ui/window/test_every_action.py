"""Every action of the table does its work, is there when it can be done, and is grey when it cannot."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import between_stories
import boards_stories
import daylog_stories
import findings_stories
import importing_stories
import leaving_out_stories
import logger_stories
import photo_stories
import pytest
import weather_stories
import weighing_stories
from openpyxl import load_workbook
from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QApplication, QDialog
from window_driving import (
    START,
    Person,
    accept,
    cancel,
    filling,
    grades_on_disk,
    made_board,
    places_on_disk,
    reopened,
)

from rustboard.operations.plans import whole_plan_of
from rustboard.session.new_board import read_plan
from rustboard.session.packing import pack_board
from rustboard.support.settings import load_settings
from rustboard.ui.actions import ACTIONS, MENUS

Story = Callable[[Person, Path], None]


# ---- boards


def all_boards(person: Person, yard: Path) -> None:
    person.do("file.shelf")
    assert person.window.page is None
    assert person.window.windowTitle().startswith("All boards")
    with reopened(yard):
        pass


def new_board(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(name="Porch, east")]
    person.do("file.new")
    assert person.session.record.board.name == "Porch, east"
    assert person.session.folder == person.desk.settings.boards_path() / "Porch, east"
    assert person.window.plan.is_shown()
    person.do("board.plan")
    assert person.reads("This board is empty")


def paper(person: Person, yard: Path) -> None:
    person.do("file.paper")
    assert person.answers.asked == ["PaperDialog"]


def show_plan(person: Person, yard: Path) -> None:
    person.do("board.plan")
    assert person.window.plan.screen is not None
    assert person.window.plan.screen.isVisible()
    person.do("board.plan")
    assert person.page.isVisible()


def board_from_plan(person: Person, yard: Path) -> None:
    plan = yard.parent / "plan.csv"
    plan.write_text("coupon,position,treatment\nK1,A1,oil\nK2,Z9x,oil\n", encoding="utf-8")
    person.answers.files, person.answers.dialogs = [plan], [filling(name="Porch, west")]
    person.do("file.from_plan")
    assert person.answers.asked[-1] == "PlanPreviewDialog"
    assert person.tile("A1").id == "K1"
    assert person.session.record.board.name == "Porch, west"
    assert [each.id for each in person.session.record.coupons.values()] == ["K1"]
    assert person.message() == ""  # what was left out was seen before the board was made


def plan_saved(person: Person, yard: Path) -> None:
    target = yard.parent / "yard plan.json"
    person.answers.files = [target]
    person.do("file.save_plan")
    plan, problems = read_plan(target)
    assert problems == []
    assert plan == whole_plan_of(person.session.record)


def board_like_this(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(name="Yard, autumn")]
    person.do("file.like")
    assert person.session.record.board.name == "Yard, autumn"
    assert len(person.session.record.coupons) == 4
    assert person.session.record.inspections == {}


def open_board(person: Person, yard: Path) -> None:
    other = made_board(yard.parent / "Other")
    person.answers.files = [other / "board.rustboard"]
    person.do("file.open")
    assert person.session.folder == other


def another_window(person: Person, yard: Path) -> None:
    person.do("file.second_window")
    assert [window.page is None for window in person.desk.windows] == [False, True]


def save_copy(person: Person, yard: Path) -> None:
    person.tap("A1")
    person.tap_grade(7)
    person.answers.dialogs = [accept]
    person.do("file.copy")
    copy = person.desk.settings.boards_path() / "Yard copy"
    assert str(copy) in person.message()
    assert grades_on_disk(copy) == {"C01": "7"}
    assert person.session.folder == yard


def grades_from_file(person: Person, yard: Path) -> None:
    typed = yard.parent / "typed.csv"
    typed.write_text(f"date,coupon,grade\n{START:%Y-%m-%d},C01,9-S\n{START:%Y-%m-%d},C99,9\n", encoding="utf-8")
    person.answers.files = [typed]
    person.do("file.grades")
    assert "typed.csv, row 3" in person.message()
    person.stand_up()
    with reopened(yard) as session:
        assert [each.grade for *_, each in session.record.current_gradings()] == [9]


def workbook(person: Person, yard: Path) -> None:
    person.tap("A1")
    person.tap_grade(7)
    person.answers.dialogs = [filling(folder=str(yard.parent), name="for the customer")]
    person.do("file.report")
    assert person.answers.asked == ["ReportDialog"]
    assert person.message() == f"Wrote for the customer.xlsx in {yard.parent}"
    assert "Grades" in load_workbook(yard.parent / "for the customer.xlsx").sheetnames


def pack(person: Person, yard: Path) -> None:
    person.answers.dialogs, person.answers.files = [accept], [yard.parent / "to send"]
    person.do("file.pack")
    written = yard.parent / "to send.rustboard-pack"
    assert str(written) in person.message()
    assert written.is_file()


def open_received(person: Person, yard: Path) -> None:
    sent = yard.parent / "sent.rustboard-pack"
    pack_board(yard, sent)
    person.answers.files, person.answers.dialogs = [sent], [accept]
    person.do("file.unpack")
    assert person.answers.asked[-1] == "ReceivedDialog"
    assert person.session.folder == person.desk.settings.boards_path() / "Yard"


def go_back(person: Person, yard: Path) -> None:
    person.tap("A1")
    person.tap_grade(7)
    person.do("file.go_back")
    assert person.digit("A1") == ""
    person.stand_up()
    assert grades_on_disk(yard) == {}


def audit(person: Person, yard: Path) -> None:
    seen = []
    person.answers.dialogs = [lambda dialog: seen.append(dialog.table.item(0, 2).text())]
    person.drag("A1", "A2")
    person.do("file.audit")
    assert seen == ["Swap C01 and C02"]


def close_window(person: Person, yard: Path) -> None:
    person.do("file.close")
    assert person.desk.windows == []


# ---- steps


def undo(person: Person, yard: Path) -> None:
    person.drag("A1", "B3")
    person.do("edit.undo")
    person.stand_up()
    assert places_on_disk(yard)["C01"] == "A1"


def redo(person: Person, yard: Path) -> None:
    person.drag("A1", "B3")
    person.do("edit.undo")
    person.do("edit.redo")
    person.stand_up()
    assert places_on_disk(yard)["C01"] == "B3"


# ---- a coupon


def grade_this(person: Person, yard: Path) -> None:
    person.key(Qt.Key.Key_Right)
    person.do("coupon.grade")
    assert person.grading() == "C02"


def grade_next(person: Person, yard: Path) -> None:
    person.do("round.next")
    assert person.grading() == "C01"


def withdraw(person: Person, yard: Path) -> None:
    person.tap("A1")
    person.key("7", Qt.Key.Key_Left)
    person.do("coupon.withdraw")
    person.stand_up()
    assert grades_on_disk(yard) == {}


def damage(person: Person, yard: Path) -> None:
    def blistered(dialog: QDialog) -> None:
        dialog.rows[2].box.click()
        dialog.rows[2].percent.setText("15")

    person.answers.dialogs = [blistered]
    person.do("coupon.damage")
    person.stand_up()
    with reopened(yard) as session:
        assert [(each.kind, each.percent) for each in session.record.damages.values()] == [("blisters", 15.0)]
        assert session.record.current == {}


def edit_coupon(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(id="N7")]
    person.do("coupon.edit")
    assert person.tile("A1").id == "N7"
    person.stand_up()
    assert "N7" in places_on_disk(yard)


def edit_treatment(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(name="linseed oil")]
    person.do("coupon.treatment")
    assert {tile.treatment for tile in person.page.tiles.canvas.content.tiles.values()} == {"linseed oil"}


def carry(person: Person, yard: Path) -> None:
    person.do("coupon.carry")
    person.tap("B3")
    person.stand_up()
    assert places_on_disk(yard)["C01"] == "B3"


def take_off(person: Person, yard: Path) -> None:
    person.do("coupon.take_off")
    person.stand_up()
    assert places_on_disk(yard)["C01"] == ""


def remove_coupon(person: Person, yard: Path) -> None:
    person.do("coupon.remove")
    person.stand_up()
    assert set(places_on_disk(yard)) == {"C02", "C03", "C04"}


def add_coupon(person: Person, yard: Path) -> None:
    person.answers.dialogs = [accept]
    person.do("coupon.add")
    person.stand_up()
    assert places_on_disk(yard)["C05"] == "B2", "the first free position, as the keyboard is on a coupon"


# ---- inspections


def add_inspection(person: Person, yard: Path) -> None:
    person.answers.dialogs = [accept]
    person.do("inspection.add")
    assert len(person.session.record.inspections) == 2
    assert person.session.selection.inspection == 2


def edit_inspection(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(graded="Berta")]
    person.do("inspection.edit")
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.inspections[1].grader == "Berta"


def remove_inspection(person: Person, yard: Path) -> None:
    person.do("inspection.remove")
    assert person.session.record.inspections == {}
    assert person.reads("No inspection yet")


def blind(person: Person, yard: Path) -> None:
    person.answers.dialogs = [accept]
    person.do("inspection.blind")
    assert person.answers.asked == ["StartBlindDialog"]
    assert person.window.page is None
    assert person.window.blind.blind_page is not None
    person.press("Do not grade blind")
    assert person.page.isVisible()


def earlier(person: Person, yard: Path) -> None:
    person.answers.dialogs = [accept]
    person.do("inspection.add")
    person.do("inspection.earlier")
    assert person.session.selection.inspection == 1
    person.do("inspection.earlier")
    assert person.session.selection.inspection == 1, "there is none before the first"


def later(person: Person, yard: Path) -> None:
    person.answers.dialogs = [accept]
    person.do("inspection.add")
    person.do("inspection.earlier")
    person.do("inspection.later")
    assert person.session.selection.inspection == 2


def agreement(person: Person, yard: Path) -> None:
    person.do("inspection.agreement")
    assert person.window.agreement.is_shown()
    assert person.reads("No inspection was graded blind yet")
    person.do("inspection.agreement")
    assert person.page.isVisible()


# ---- the board


def treatments(person: Person, yard: Path) -> None:
    def add_another(dialog: QDialog) -> None:
        person.answers.dialogs = [filling(name="bare")]
        dialog.add_asked.emit()
        assert dialog.table.rowCount() == 2

    person.answers.dialogs = [add_another]
    person.do("board.treatments")
    assert [each.title for each in person.session.record.treatments.values()] == ["beeswax blend", "bare"]


def row_menu(person: Person, yard: Path) -> None:
    person.key(Qt.Key.Key_Down)
    person.do("board.row")
    menu = QApplication.activePopupWidget()
    person.choose(menu, "Remove this row")
    person.stand_up()
    assert places_on_disk(yard)["C04"] == ""


def column_menu(person: Person, yard: Path) -> None:
    person.do("board.column")
    person.choose(QApplication.activePopupWidget(), "Add a column to the left")
    person.stand_up()
    assert places_on_disk(yard) == {"C01": "A2", "C02": "A3", "C03": "A4", "C04": "B2"}


def add_row(person: Person, yard: Path) -> None:
    person.do("board.add_row")
    assert person.session.record.board.rows == 3


def add_column(person: Person, yard: Path) -> None:
    person.do("board.add_column")
    assert person.session.record.board.columns == 4


def describe_board(person: Person, yard: Path) -> None:
    person.answers.dialogs = [filling(name="Yard, north side")]
    person.do("board.edit")
    assert person.window.windowTitle().startswith("Yard, north side")
    person.stand_up()
    with reopened(yard) as session:
        assert session.record.board.name == "Yard, north side"


# ---- view and help


def table(person: Person, yard: Path) -> None:
    person.do("view.table")
    assert person.page.tiles.is_table()
    person.do("view.table")
    assert not person.page.tiles.is_table()


def timeline(person: Person, yard: Path) -> None:
    assert person.page.has_timeline()
    person.do("view.timeline")
    assert not person.page.has_timeline()
    person.do("view.timeline")
    assert person.page.has_timeline()


def dressed_in(scheme: str) -> Story:
    def dress(person: Person, yard: Path) -> None:
        before = "dark" if scheme == "light" else "light"
        person.do(f"view.{before}")
        person.do(f"view.{scheme}")
        assert person.desk.settings.scheme == scheme
        shown = "light" if scheme == "system" else scheme
        assert person.window.scheme.name == shown
        checked = [s for s in ("system", "light", "dark", "sunlight") if person.checked(f"view.{s}")]
        assert checked == [scheme]

    return dress


def large_keys(person: Person, yard: Path) -> None:
    person.tap("A1")
    before = person.panel.guide.minimumSizeHint().height()
    person.do("view.large_keys")
    assert person.checked("view.large_keys")
    assert person.panel.guide.minimumSizeHint().height() > before
    person.do("view.large_keys")
    assert not person.checked("view.large_keys")
    assert person.panel.guide.minimumSizeHint().height() == before


def say_grades(person: Person, yard: Path) -> None:
    person.do("view.say_grades")
    assert person.checked("view.say_grades")
    assert load_settings().say_grades
    person.tap("A1")
    person.key("7")  # nobody listens here, and nothing comes of it
    assert person.grading() == "C02"
    person.do("view.say_grades")
    assert not load_settings().say_grades


def keys(person: Person, yard: Path) -> None:
    said = []
    person.answers.dialogs = [lambda dialog: said.extend(_rows(dialog))]
    person.do("help.keys")
    shown = dict(said)
    assert shown["Undo"] == "Ctrl+Z"
    assert "T" in shown.values()


def _rows(dialog: QDialog) -> list[tuple[str, str]]:
    return [
        (dialog.table.item(row, 0).text(), dialog.table.item(row, 1).text()) for row in range(dialog.table.rowCount())
    ]


def practise(person: Person, yard: Path) -> None:
    seen = []
    person.answers.dialogs = [lambda dialog: seen.append((dialog.start.grader(), dialog.start.start.isEnabled()))]
    person.do("help.practice")
    assert person.answers.asked == ["PracticeDialog"]
    assert seen == [("Ann", True)]


def about(person: Person, yard: Path) -> None:
    texts = []
    person.answers.dialogs = [lambda box: texts.append(box.text())]
    person.do("help.about")
    assert "ASTM D610" in texts[0]


STORIES: dict[str, Story] = {
    "file.shelf": all_boards,
    "file.new": new_board,
    "file.from_plan": board_from_plan,
    "file.save_plan": plan_saved,
    "file.like": board_like_this,
    "file.open": open_board,
    "file.second_window": another_window,
    "file.copy": save_copy,
    "file.pack": pack,
    "file.unpack": open_received,
    "file.paper": paper,
    "board.plan": show_plan,
    "file.grades": grades_from_file,
    "file.report": workbook,
    "file.go_back": go_back,
    "file.audit": audit,
    "file.close": close_window,
    "edit.undo": undo,
    "edit.redo": redo,
    "coupon.grade": grade_this,
    "round.next": grade_next,
    "coupon.withdraw": withdraw,
    "coupon.damage": damage,
    "coupon.edit": edit_coupon,
    "coupon.treatment": edit_treatment,
    "coupon.carry": carry,
    "coupon.take_off": take_off,
    "coupon.remove": remove_coupon,
    "coupon.add": add_coupon,
    "inspection.add": add_inspection,
    "inspection.edit": edit_inspection,
    "inspection.remove": remove_inspection,
    "inspection.agreement": agreement,
    "inspection.blind": blind,
    "inspection.earlier": earlier,
    "inspection.later": later,
    "board.treatments": treatments,
    "board.row": row_menu,
    "board.column": column_menu,
    "board.add_row": add_row,
    "board.add_column": add_column,
    "board.edit": describe_board,
    **photo_stories.STORIES,
    **daylog_stories.STORIES,
    **weather_stories.STORIES,
    **weighing_stories.STORIES,
    **findings_stories.STORIES,
    **boards_stories.STORIES,
    **leaving_out_stories.STORIES,
    **importing_stories.STORIES,
    **logger_stories.STORIES,
    **between_stories.STORIES,
    "view.table": table,
    "view.timeline": timeline,
    "view.large_keys": large_keys,
    "view.say_grades": say_grades,
    "view.system": dressed_in("system"),
    "view.light": dressed_in("light"),
    "view.dark": dressed_in("dark"),
    "view.sunlight": dressed_in("sunlight"),
    "help.keys": keys,
    "help.practice": practise,
    "help.about": about,
}


@pytest.mark.parametrize("action", STORIES)
def test_the_action_does_its_work(person, yard, action):
    STORIES[action](person, yard)


def test_every_action_has_its_story_here():
    assert set(STORIES) == {each.id for each in ACTIONS}


# ---- the table itself


def test_no_two_actions_share_a_key():
    keys_of = [QKeySequence(key).toString() for each in ACTIONS for key in each.keys]
    assert len(keys_of) == len(set(keys_of))


def test_no_two_entries_of_a_menu_share_a_letter_and_each_has_one():
    for menu, _ in MENUS:
        letters = [re.findall(r"&(\w)", each.text) for each in ACTIONS if each.menu == menu]
        assert all(len(found) == 1 for found in letters), menu
        lower = [found[0].lower() for found in letters]
        assert len(lower) == len(set(lower)), (menu, sorted(lower))


def test_every_menu_entry_is_in_its_menu_once(person):
    menus = [action.menu() for action in person.window.menuBar().actions()]
    listed = [action.objectName() for menu in menus for action in menu.actions() if not action.isSeparator()]
    assert sorted(listed) == sorted(each.id for each in ACTIONS)


def test_a_dialog_that_is_cancelled_changes_nothing(person, yard):
    for action in (
        "file.new",
        "file.like",
        "file.copy",
        "coupon.damage",
        "coupon.edit",
        "coupon.treatment",
        "coupon.leave_out",
        "coupon.add",
        "file.report",
    ):
        person.answers.dialogs = [cancel]
        person.do(action)
    for action in ("inspection.add", "inspection.edit", "board.edit"):
        person.answers.dialogs = [cancel]
        person.do(action)
    for action in ("file.open", "file.unpack", "file.from_plan", "file.grades", "file.import"):
        person.answers.files = [None]
        person.do(action)
    assert person.session.folder == yard
    assert not person.session.can_go_back()
    assert person.message() == ""
    assert not person.desk.settings.boards_path().exists()
