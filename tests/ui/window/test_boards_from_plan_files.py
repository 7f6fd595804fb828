"""Boards from plan files, in the real window: looked over first, and none made of what cannot be used."""

from __future__ import annotations

from window_driving import accept, cancel


def test_a_plan_that_is_looked_over_and_cancelled_makes_no_board(person, yard):
    plan = yard.parent / "plan.csv"
    plan.write_text("coupon,position\nK1,A1\n", encoding="utf-8")
    person.answers.files, person.answers.dialogs = [plan], [cancel]
    person.do("file.from_plan")
    assert person.answers.asked[-1] == "PlanPreviewDialog"
    assert person.session.folder == yard
    assert not person.session.can_go_back()
    assert not person.desk.settings.boards_path().exists()


def test_a_plan_of_which_nothing_can_be_used_is_told_and_makes_no_board(person, yard):
    for name, content in (("plan.csv", b"coupon,position\nK1,?\n"), ("plan.xlsx", b"PK\x03\x04 no zip")):
        plan = yard.parent / name
        plan.write_bytes(content)
        person.answers.files, person.answers.dialogs = [plan], []
        person.do("file.from_plan")
        assert person.message().startswith(f"{name}: ")
    assert "PlanPreviewDialog" not in person.answers.asked
    assert not person.desk.settings.boards_path().exists()


def test_a_board_is_made_from_a_workbook(person, checkout):
    person.answers.files, person.answers.dialogs = [checkout / "resources" / "examples" / "plan.xlsx"], [accept]
    person.do("file.from_plan")
    assert person.tile("B3").id == "H6"
    assert person.session.record.board.name == "plan"


def test_a_name_that_a_board_has_already_gets_a_number(person, checkout):
    plan = checkout / "resources" / "examples" / "plan.xlsx"
    for name in ("plan", "plan 2"):
        person.answers.files, person.answers.dialogs = [plan], [accept]
        person.do("file.from_plan")
        assert person.session.record.board.name == name
        assert person.session.folder.name == name
