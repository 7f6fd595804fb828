"""The plan in the real window: brought into view, dragged by mouse and keys, drawn by lot, taken back."""

from __future__ import annotations

from collections import Counter
from contextlib import closing
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QPushButton, QSpinBox
from window_driving import Person, assert_sound, made_board, places_on_disk, send_mouse, settle

from rustboard.board.model import Coupon, Treatment
from rustboard.board.position import Position, parse_position
from rustboard.operations.boards import add_line, edit_board
from rustboard.operations.coupons import add_coupon
from rustboard.operations.treatments import add_treatment
from rustboard.session.session import Session
from rustboard.ui.grid.geometry import Place
from rustboard.ui.plan.screen import PlanScreen

NOW = datetime(2026, 2, 1, 10)


@pytest.fixture
def slate(tmp_path: Path) -> Path:
    """A board before its exposure: 3 rows of 4, oil, wax and bare coupons, as nobody should hang them."""
    folder = made_board(tmp_path / "Slate", coupons=0, inspections=0, rows=3, columns=4)
    with closing(Session(folder, clock=lambda: NOW)) as session:
        session.do(edit_board, replace(session.record.board, started=None))
        for name in ("oil", "wax", "bare"):
            session.do(add_treatment, Treatment(name))
        for number in range(12):
            session.do(
                add_coupon,
                Coupon(
                    f"C{number + 1:02}",
                    Position(*divmod(number, 4)),
                    treatment=number % 3 + 1,
                    role="control" if number % 3 == 2 else "test",
                ),
            )
    return folder


@pytest.fixture
def planner(slate, sitting_at) -> Person:
    """Somebody before the plan of that board."""
    person = sitting_at(slate)
    person.do("board.plan")
    return person


def screen(person: Person) -> PlanScreen:
    shown = person.window.plan.screen
    assert shown is not None
    assert shown.isVisible()
    return shown


def step(person: Person, name: str):
    """Click a step and return its panel."""
    buttons = [each for each in screen(person).findChildren(QPushButton) if each.objectName() == name]
    person.click(buttons[0])
    return screen(person).panels.get(name)


def drag(person: Person, start: str, end: str) -> None:
    plan_map = screen(person).map
    middle = [QPointF(plan_map.grid.rect(Place(parse_position(each))).center()) for each in (start, end)]
    send_mouse(plan_map, QEvent.Type.MouseButtonPress, middle[0])
    for part in (0.2, 0.6, 1.0):
        send_mouse(plan_map, QEvent.Type.MouseMove, middle[0] + (middle[1] - middle[0]) * part)
    send_mouse(plan_map, QEvent.Type.MouseButtonRelease, middle[1])
    settle()


def spin(panel, label: str) -> QSpinBox:
    field = next(each.buddy() for each in panel.findChildren(type(panel._free_label)) if label in each.text())
    assert isinstance(field, QSpinBox)
    return field


def words(panel) -> str:
    return f"{panel._caution_words.text()}\n{panel._state.text()}"


def test_one_key_brings_the_plan_and_the_same_key_the_board(slate, sitting_at):
    person = sitting_at(slate)
    QTest.keyClick(person.window, Qt.Key.Key_F9)
    settle()
    assert screen(person).map.tiles[Place(Position(0, 0))].id == "C01"
    assert person.checked("board.plan")
    QTest.keyClick(person.window, Qt.Key.Key_F9)
    settle()
    assert person.page.isVisible()
    assert not person.checked("board.plan")


def test_while_planning_nothing_can_be_done_to_a_coupon_that_is_not_seen(planner):
    assert not {"coupon.grade", "coupon.take_off", "coupon.edit"} & planner.enabled()
    assert {"edit.undo", "board.plan", "inspection.add"} <= planner.enabled()


def test_a_drag_hangs_a_coupon_elsewhere_and_undo_brings_it_back(planner, slate):
    drag(planner, "A1", "C4")
    assert (places_on_disk(slate)["C01"], places_on_disk(slate)["C12"]) == ("C4", "A1")
    planner.do("edit.undo")
    assert places_on_disk(slate)["C01"] == "A1"
    assert screen(planner).map.tiles[Place(Position(0, 0))].id == "C01"
    planner.stand_up()
    assert_sound(slate)


def test_keys_do_what_the_mouse_does(planner, slate):
    screen(planner).map.setFocus()
    planner.key(Qt.Key.Key_Return, Qt.Key.Key_Down, Qt.Key.Key_Right, Qt.Key.Key_Return)
    assert places_on_disk(slate)["C01"] == "B2"
    planner.key(Qt.Key.Key_Return, Qt.Key.Key_Up, Qt.Key.Key_Escape)
    assert places_on_disk(slate)["C01"] == "B2"
    planner.key(Qt.Key.Key_Down, Qt.Key.Key_Delete)
    assert "C01" in places_on_disk(slate)


def test_the_line_above_the_map_reads_what_is_under_the_keyboard(planner):
    screen(planner).map.setFocus()
    planner.key(Qt.Key.Key_Right)
    assert planner.reads("A2: C02, wax")
    assert "drips on C06 below" in screen(planner).map.accessibleName()


def test_drips_on_another_treatment_are_said_and_marked_until_something_is_done(planner):
    panel = step(planner, "layout")
    assert "at 8 places" in words(panel)
    assert screen(planner).map.tiles[Place(Position(1, 0))].dripped_by == "C01"
    care = next(each for each in panel.findChildren(QComboBox) if each.findText("Drip edges under every row") >= 0)
    care.setCurrentIndex(care.findText("Drip edges under every row"))
    care.activated.emit(care.currentIndex())
    settle()
    assert "as long as a drip edge is fitted" in words(panel)
    assert screen(planner).map.tiles[Place(Position(1, 0))].dripped_by == ""


def test_lots_are_drawn_and_kept_beside_what_was_really_hung(planner, slate):
    panel = step(planner, "layout")
    planner.press("&Draw lots")
    record = planner.session.record
    assert record.layout.seed is not None
    assert {each.coupon: each.position for each in record.lots.values()} == {
        each.key: each.position for each in record.coupons.values()
    }
    rows = Counter((each.treatment, each.position.row) for each in record.coupons.values())
    assert set(rows.values()) == {1, 2}  # 4 coupons of each over 3 rows
    assert "Every coupon hangs where the lots put it." in words(panel)
    drag(planner, "A1", "B2")
    assert "Hung elsewhere than drawn" in words(panel)
    assert len([each for each in screen(planner).map.tiles.values() if each.drawn is not None]) == 2
    planner.do("edit.undo")
    planner.do("edit.undo")
    assert not planner.session.record.lots
    assert places_on_disk(slate)["C01"] == "A1"


def test_after_the_stated_start_no_lots_can_be_drawn_until_it_is_put_right(planner):
    panel = step(planner, "layout")
    assert panel._draw.isEnabled()
    planner.session.do(edit_board, replace(planner.session.record.board, started=NOW))
    settle()
    assert not panel._draw.isEnabled()
    assert "put the start right first" in words(panel)
    planner.do("edit.undo")
    assert panel._draw.isEnabled()


def test_rows_that_no_longer_share_the_treatments_are_told(planner):
    panel = step(planner, "layout")
    panel._seed.setText("5")
    planner.press("&Draw lots")
    assert "Every row has its even share of every treatment." in words(panel)
    wax = [each.position for each in planner.session.record.coupons.values() if each.treatment == 2]
    odd = [each.position for each in planner.session.record.coupons.values() if each.treatment == 1]
    row = next(at.row for at in wax if sum(each.row == at.row for each in wax) == 2)
    other = next(at for at in wax if at.row != row)
    drag(planner, other.label, next(at for at in odd if at.row == row).label)
    assert "The rows do not share the treatments evenly: row" in words(panel)
    assert panel._caution.isVisible()


def test_the_same_number_draws_the_same_lots(planner):
    panel = step(planner, "layout")
    drawn = []
    for _ in range(2):
        panel._seed.setText("4711")
        planner.press("&Draw lots")
        drawn.append({each.coupon: each.position for each in planner.session.record.lots.values()})
    assert drawn[0] == drawn[1]
    assert planner.session.record.layout.seed == 4711


def test_lots_for_another_grid_are_not_said_to_come_again(planner):
    panel = step(planner, "layout")
    planner.press("&Draw lots")
    assert "the same number on the same plan gives the same lots" in words(panel)
    planner.session.do(add_line, "row", 0)
    settle()
    assert "the same number on the same plan gives the same lots" not in words(panel)
    assert ", for other rows and columns than the board has now." in words(panel)


def test_a_number_that_is_none_is_refused_in_a_sentence(planner):
    panel = step(planner, "layout")
    panel._seed.setText("lucky")
    planner.press("&Draw lots")
    assert "lucky" in panel._problem.text()
    assert not planner.session.record.lots


def test_after_the_first_inspection_no_lots_can_be_drawn(person):
    person.do("board.plan")
    panel = step(person, "layout")
    assert not panel._draw.isEnabled()
    assert "too late" in words(panel)


def test_the_grid_grows_and_shrinks_from_the_panel_and_is_refused_when_drawn_coupons_would_fall_off(planner):
    panel = step(planner, "layout")
    planner.press("&Draw lots")
    spin(panel, "olumns").setValue(6)
    assert planner.session.record.board.columns == 6
    spin(panel, "olumns").setValue(2)
    assert planner.session.record.board.columns == 6
    assert spin(panel, "olumns").value() == 6
    assert planner.message()


def test_in_a_narrow_window_the_map_is_a_step_of_its_own(planner):
    planner.resize(QSize(700, 600))
    step(planner, "map")
    assert screen(planner).map.isVisible()
    step(planner, "layout")
    assert not screen(planner).map.isVisible()
    planner.resize(QSize(1200, 700))
    assert screen(planner).map.isVisible()
    assert screen(planner).panels["layout"].isVisible()


def test_a_board_open_for_reading_shows_its_plan_and_changes_nothing(planner, slate, desk):
    reader = desk.sit_down(slate)
    reader.do("board.plan")
    drag(reader, "A1", "C4")
    assert places_on_disk(slate)["C01"] == "A1"
    panel = step(reader, "layout")
    assert not panel._draw.isEnabled()


def test_every_step_opens_and_follows_undo(planner):
    for name in ("treatments", "question", "layout", "proof", "visits", "paper"):
        assert step(planner, name).isVisible()
    drag(planner, "A1", "A2")
    for name in ("treatments", "question", "layout", "proof", "visits", "paper"):
        assert step(planner, name).isVisible()
        planner.do("edit.undo" if name == "treatments" else "edit.redo" if name == "question" else "view.light")


def test_a_new_board_opens_on_its_plan(person):
    from window_driving import filling

    person.answers.dialogs = [filling(name="Gate")]
    person.do("file.new")
    assert person.session.record.board.name == "Gate"
    assert screen(person).step() == "treatments"
