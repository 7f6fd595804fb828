"""Coupons left out of the findings in the window: asked why, seen at a glance, taken back, undone."""

from __future__ import annotations

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtWidgets import QApplication
from window_driving import accept, cancel, filling, graded, made_board

from rustboard.ui.board.table import ROLE
from rustboard.ui.board.tile_painter import paint_tile
from rustboard.ui.theme import LIGHT


def painted(view, width: int, height: int) -> QImage:
    image = QImage(width, height, QImage.Format.Format_RGB32)
    image.fill(0)
    painter = QPainter(image)
    paint_tile(painter, QRectF(image.rect()), view, None, LIGHT, QApplication.font())
    painter.end()
    return image


def left_out(person) -> dict[int, str]:
    return {each.coupon: each.reason for each in person.session.record.left_out.values()}


def test_without_a_reason_the_dialog_stays_and_says_why(person):
    said = []

    def empty(dialog):
        field = dialog.findChild(type(dialog._reason))
        field.setText("   ")
        dialog.accept()
        said.append(dialog.problem.text())
        dialog.reject()

    person.answers.dialogs = [empty, cancel]
    person.window.coupon_desk.leaving_out.leave_out(1)
    assert said == ["Write why it is left out; the report prints the reason."]
    assert left_out(person) == {}


def test_a_cancelled_dialog_leaves_the_coupon_in(person):
    person.answers.dialogs = [cancel]
    person.do("coupon.leave_out")
    assert left_out(person) == {}
    assert not person.session.can_go_back()


def test_the_reason_is_shown_again_to_be_changed(person):
    seen = []
    person.answers.dialogs = [filling(reason="fell off"), lambda dialog: seen.append(dialog.reason())]
    person.do("coupon.leave_out")
    person.do("coupon.leave_out")
    assert seen == ["fell off"]
    person.answers.dialogs = [filling(reason="scratched on day 3")]
    person.do("coupon.leave_out")
    assert left_out(person) == {1: "scratched on day 3"}
    person.do("edit.undo")
    assert left_out(person) == {1: "fell off"}
    person.do("edit.undo")
    assert left_out(person) == {}


def test_a_screen_asks_by_coupon_and_takes_back_by_coupon(person):
    commands = person.window.coupon_desk.leaving_out
    person.answers.dialogs = [filling(reason="hung upside down")]
    commands.leave_out(3)
    assert left_out(person) == {3: "hung upside down"}
    commands.take_back_in(2)  # counts already
    commands.take_back_in(99)
    assert (left_out(person), person.message()) == ({3: "hung upside down"}, person.message())
    commands.take_back_in(3)
    assert left_out(person) == {}
    commands.leave_out(99)
    assert person.answers.asked == ["LeavingOutDialog"], "nobody is asked about a coupon that is not there"


def test_on_a_board_for_reading_nobody_is_asked(person, yard, desk):
    reader = desk.sit_down(yard)
    assert reader.session.read_only_reason
    reader.window.coupon_desk.leaving_out.leave_out(1)
    assert reader.answers.asked == []


def test_the_tile_is_marked_and_its_tip_gives_the_reason(tmp_path, sitting_at):
    person = sitting_at(graded(made_board(tmp_path / "b"), 1, {"C01": 4}))
    counts = person.tile("A1")
    person.answers.dialogs = [filling(reason="fell off")]
    person.do("coupon.leave_out")
    for width, height in ((180, 190), (90, 100), (60, 150)):
        assert painted(person.tile("A1"), width, height) != painted(counts, width, height)
    canvas = person.page.tiles.canvas
    assert canvas.text_of(canvas.content.place_of(1)).endswith(", left out of the findings: fell off")
    person.do("coupon.take_back_in")
    assert person.tile("A1") == counts
    assert "left out" not in canvas.text_of(canvas.content.place_of(1))


def test_the_table_says_it_beside_the_role(person):
    person.do("view.table")
    person.answers.dialogs = [filling(reason="fell off")]
    person.do("coupon.leave_out")
    model = person.page.tiles._table.board_model
    assert [model.index(row, ROLE).data() for row in range(2)] == ["test, left out", "test"]
    tip = model.index(0, ROLE).data(Qt.ItemDataRole.ToolTipRole)
    assert "test, left out of the findings: fell off" in tip
    person.do("edit.undo")
    assert model.index(0, ROLE).data() == "test"


def test_taking_back_can_be_done_only_where_a_coupon_is_left_out(person):
    assert "coupon.take_back_in" not in person.enabled()
    person.answers.dialogs = [filling(reason="fell off")]
    person.do("coupon.leave_out")
    assert "coupon.take_back_in" in person.enabled()
    person.key(Qt.Key.Key_Right)
    assert "coupon.take_back_in" not in person.enabled()
    person.key(Qt.Key.Key_Left)
    assert "coupon.take_back_in" in person.enabled()


def test_the_coupons_own_menu_has_both(person):
    menu = person.open_menu("A1")
    names = {each.objectName(): each.isEnabled() for each in menu.actions() if each.objectName()}
    assert (names["coupon.leave_out"], names["coupon.take_back_in"]) == (True, False)
    menu.close()


def test_a_long_reason_is_kept_whole(person):
    person.answers.dialogs = [filling(reason="long " * 99 + "story")]
    person.do("coupon.leave_out")
    assert len(left_out(person)[1]) == 500


def test_ok_without_any_change_keeps_the_reason(person):
    person.answers.dialogs = [filling(reason="fell off"), accept]
    person.do("coupon.leave_out")
    person.do("coupon.leave_out")
    assert left_out(person) == {1: "fell off"}
    person.do("edit.undo")
    assert left_out(person) == {}, "saying the same again is no step of its own"
