"""The outline editor: by mouse, finger and keys; every gesture is one step to undo."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from photo_bench import Bench
from photographed_boards import outline, photographed
from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from window_driving import accept, send_mouse, settle

from rustboard.board.model import Outline
from rustboard.board.outline import bounds
from rustboard.operations.coupons import edit_coupon, take_off
from rustboard.session.jobs import Progress
from rustboard.session.outline_suggestions import suggest_outlines, suggestion_request
from rustboard.ui.outline_commands import OutlineCommands
from rustboard.ui.outlines.dialog import OutlinesDialog
from rustboard.ui.outlines.handles import knob_at
from rustboard.ui.outlines.parts import Part
from rustboard.ui.outlines.shapes import centre_of, disc, kind_of, size_of
from rustboard.ui.theme import LIGHT, SCHEMES, Scheme, apply_scheme

LARGE = QSize(1200, 700)
SMALLEST = QSize(683 - 16, 384 - 48)
"""What a dialog may take of 1366 x 768 pixels at twice the usual scale."""

FIRST, SECOND = Part("outline", 1), Part("outline", 2)


class Editing(Bench):
    """Somebody before the outline editor of a board."""

    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        super().__init__(folder, read_only=read_only)
        self.commands = OutlineCommands(self.widget, self.answers, self.do, self.bridge, LIGHT)  # type: ignore[arg-type]
        self.serve(self.commands)

    def __call__(self, work: Callable[[OutlinesDialog], object], size: QSize = LARGE) -> None:
        """Open the editor, do the work in it, and close it."""

        def answer(dialog: OutlinesDialog) -> bool:
            dialog.resize(size)
            dialog.view.setFocus()
            settle()
            dialog.choose(FIRST)
            work(dialog)
            dialog.reject()
            return False

        self.answers.dialogs = [answer]
        self.commands.edit_outlines()

    def shape(self, coupon: int = 1) -> Outline:
        return self.session.record.coupons[coupon].outline_mm


@pytest.fixture
def board(tmp_path: Path) -> Path:
    return photographed(tmp_path / "Yard", (200,))


@pytest.fixture
def sit(qapp: QApplication) -> Iterator[Callable[..., Editing]]:
    apply_scheme(qapp, LIGHT)
    open_ones: list[Editing] = []

    def down(folder: Path, *, read_only: bool = False) -> Editing:
        open_ones.append(Editing(folder, read_only=read_only))
        return open_ones[-1]

    yield down
    for each in open_ones:
        each.close()


@pytest.fixture
def edit(sit: Callable[..., Editing], board: Path) -> Editing:
    return sit(board)


@pytest.fixture
def bare(sit: Callable[..., Editing], tmp_path: Path) -> Editing:
    return sit(photographed(tmp_path / "Bare", (200,), outlines=False))


def drag(dialog: OutlinesDialog, start: QPointF, by: tuple[float, float]) -> None:
    """Drag from a point of the view by millimetres."""
    scale = dialog.view.px_per_unit()
    end = start + QPointF(by[0] * scale, by[1] * scale)
    send_mouse(dialog.view, QEvent.Type.MouseButtonPress, start)
    for share in (0.4, 1.0):
        send_mouse(dialog.view, QEvent.Type.MouseMove, start + (end - start) * share)
    send_mouse(dialog.view, QEvent.Type.MouseButtonRelease, end)


def at(dialog: OutlinesDialog, place: tuple[float, float]) -> QPointF:
    return dialog.view.to_widget(*place)


def test_a_corner_is_dragged_and_one_undo_takes_the_whole_gesture_back(edit: Editing) -> None:
    before = edit.shape()

    def work(dialog: OutlinesDialog) -> None:
        assert dialog.view.image().width() > 100, "the straightened board is there"
        drag(dialog, at(dialog, before[2]), (8, 4))
        assert edit.shape()[2] == pytest.approx((before[2][0] + 8, before[2][1] + 4), abs=0.3)
        assert edit.shape()[0] == pytest.approx(before[0], abs=0.01)
        QTest.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert edit.shape() == before

    edit(work)


def test_only_what_was_drawn_here_is_undone_here(edit: Editing) -> None:
    edit.do(take_off, 4)
    before = edit.shape()

    def work(dialog: OutlinesDialog) -> None:
        assert not dialog._undo.isEnabled()
        drag(dialog, at(dialog, centre_of(before)), (5, 5))
        assert dialog._undo.isEnabled()
        for _ in range(3):
            QTest.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert edit.shape() == before
        assert dialog._redo.isEnabled()
        QTest.keyClick(dialog, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
        assert edit.shape() != before

    edit(work)
    assert edit.session.record.coupons[4].position is None, "taken off before the editor was opened"


def test_a_tap_beside_a_handle_changes_nothing(edit: Editing) -> None:
    def work(dialog: OutlinesDialog) -> None:
        QTest.mouseClick(dialog.view, Qt.MouseButton.LeftButton, pos=at(dialog, edit.shape()[0]).toPoint())
        QTest.mouseClick(dialog.view, Qt.MouseButton.LeftButton, pos=at(dialog, centre_of(edit.shape())).toPoint())

    edit(work)
    assert not edit.session.can_go_back()


def test_the_whole_is_moved_turned_and_another_chosen_by_mouse(edit: Editing) -> None:
    before = edit.shape()

    def work(dialog: OutlinesDialog) -> None:
        drag(dialog, at(dialog, centre_of(before)), (-5, 3))
        assert edit.shape()[0] == pytest.approx((before[0][0] - 5, before[0][1] + 3), abs=0.3)
        knob = knob_at(dialog.view, dialog.view.outline())
        assert knob is not None
        drag(dialog, knob, (6, 0))
        assert kind_of(edit.shape()) == "rectangle"
        assert edit.shape()[0][1] != edit.shape()[1][1], "it is turned"
        QTest.mouseClick(dialog.view, Qt.MouseButton.LeftButton, pos=at(dialog, centre_of(edit.shape(2))).toPoint())
        assert dialog.view.chosen == SECOND

    edit(work)


def test_a_run_of_arrow_keys_is_one_step(edit: Editing) -> None:
    before = edit.shape()

    def work(dialog: OutlinesDialog) -> None:
        view = dialog.view
        for _ in range(3):
            QTest.keyClick(view, Qt.Key.Key_Right)
        QTest.keyClick(view, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
        view.finish()
        left, top = before[0]
        assert edit.shape()[0] == (left + 1.5, top + 5)
        QTest.keyClick(dialog, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert edit.shape() == before
        for expected in (0, 1, 2, 3):
            QTest.keyClick(view, Qt.Key.Key_Tab)
            assert view.point == expected
        QTest.keyClick(view, Qt.Key.Key_Left)
        assert f"point 4 of {len(before)}" in view.accessibleName()
        QTest.keyClick(view, Qt.Key.Key_Tab)
        assert not view.hasFocus(), "after the last point Tab leaves, and keeps what was nudged"
        assert edit.shape()[3][0] == before[3][0] - 0.5

    edit(work)


def test_points_come_and_go_by_keys_and_double_click(edit: Editing) -> None:
    def work(dialog: OutlinesDialog) -> None:
        view = dialog.view
        QTest.keyClick(view, Qt.Key.Key_Tab)
        QTest.keyClick(view, Qt.Key.Key_Insert)
        assert len(edit.shape()) == 5
        QTest.keyClick(view, Qt.Key.Key_Delete)
        assert len(edit.shape()) == 4
        (x, y), (to_x, _) = edit.shape()[0], edit.shape()[1]
        QTest.mouseDClick(view, Qt.MouseButton.LeftButton, pos=at(dialog, (x + (to_x - x) * 0.5, y)).toPoint())
        assert len(edit.shape()) == 5

    edit(work)


def test_typed_sizes_hold_the_top_left_corner(edit: Editing) -> None:
    left, top, _, _ = bounds(edit.shape())

    def work(dialog: OutlinesDialog) -> None:
        for field, text in ((dialog.side.sizes._width, "50"), (dialog.side.sizes._height, "70,5")):
            field.setFocus()
            field.selectAll()
            QTest.keyClicks(field, text)
            QTest.keyClick(field, Qt.Key.Key_Return)
        field = dialog.side.sizes._left
        field.setFocus()
        field.selectAll()
        QTest.keyClicks(field, "no number")
        QTest.keyClick(field, Qt.Key.Key_Return)
        assert dialog.problem.text()

    edit(work)
    assert bounds(edit.shape()) == pytest.approx((left, top, left + 50, top + 70.5))


def test_a_new_shape_is_drawn_by_each_tool(edit: Editing) -> None:
    def work(dialog: OutlinesDialog) -> None:
        dialog.side.tool_wanted.emit("rectangle")
        drag(dialog, at(dialog, (12, 8)), (30, 50))
        assert bounds(edit.shape()) == pytest.approx((12, 8, 42, 58), abs=0.5)
        dialog.side.tool_wanted.emit("disc")
        drag(dialog, at(dialog, (20, 40)), (40, 0))
        assert kind_of(edit.shape()) == "disc"
        assert size_of(edit.shape())[0] == pytest.approx(40, abs=0.6)
        dialog.side.tool_wanted.emit("polygon")
        for place in ((20, 20), (60, 20), (70, 60), (40, 80)):
            QTest.mouseClick(dialog.view, Qt.MouseButton.LeftButton, pos=at(dialog, place).toPoint())
        QTest.keyClick(dialog.view, Qt.Key.Key_Return)
        assert len(edit.shape()) == 4

    edit(work)


def test_a_shape_that_crosses_itself_or_leaves_the_board_is_refused_with_the_reason(edit: Editing) -> None:
    before = edit.shape()

    def work(dialog: OutlinesDialog) -> None:
        dialog.view.free = True
        drag(dialog, at(dialog, before[0]), (90, 20))
        assert "crosses" in dialog.problem.text() or "touches" in dialog.problem.text()
        assert dialog.view.outline() == before, "it is shown as it is kept"
        dialog.view.free = False
        drag(dialog, at(dialog, centre_of(before)), (-60, 0))
        assert "beyond the board" in dialog.problem.text()

    edit(work)
    assert edit.shape() == before


def test_a_hole_and_a_label_do_not_count_and_go_along(edit: Editing) -> None:
    middle = centre_of(edit.shape())
    left, top, _, _ = bounds(edit.shape())

    def work(dialog: OutlinesDialog) -> None:
        dialog.choose(Part("area", 1, -1))
        assert dialog.view.tool() == "disc"
        drag(dialog, at(dialog, (middle[0] - 5, middle[1])), (10, 0))
        assert dialog.view.chosen is not None
        assert dialog.view.chosen.kind == "area"
        dialog.choose(Part("area", 1, -2))
        drag(dialog, at(dialog, (left + 5, top + 4)), (20, 8))
        dialog.choose(FIRST)
        drag(dialog, at(dialog, (left + 40, top + 70)), (0, 5))

    edit(work)
    hole, label = sorted(edit.session.record.excluded_areas.values(), key=lambda each: each.key)
    assert (hole.kind, label.kind) == ("hole", "label")
    assert centre_of(hole.outline_mm) == pytest.approx((middle[0] - left, middle[1] - top), abs=0.5)
    assert bounds(label.outline_mm) == pytest.approx((5, 4, 25, 12), abs=0.6)


def test_an_area_is_taken_away_and_the_last_undo_brings_it_back(edit: Editing) -> None:
    def work(dialog: OutlinesDialog) -> None:
        dialog.area_wanted.emit(Part("area", 1), disc(centre_of(edit.shape()), 8), "hole")
        (key,) = edit.session.record.excluded_areas
        dialog.choose(Part("area", 1, key))
        dialog.side.remove_asked.emit()
        assert edit.session.record.excluded_areas == {}
        assert dialog.view.chosen == FIRST
        dialog._undo.click()
        assert len(edit.session.record.excluded_areas) == 1

    edit(work)


def test_a_card_is_drawn_once_and_its_kind_changed(edit: Editing) -> None:
    def work(dialog: OutlinesDialog) -> None:
        dialog.choose(Part("card"))
        dialog.side.tool_wanted.emit("rectangle")
        drag(dialog, at(dialog, (210, 150)), (40, 30))
        dialog.side._part.setCurrentIndex(1)
        dialog.side._part.activated.emit(1)

    edit(work)
    (card,) = edit.session.record.cards.values()
    assert card.kind == "white card"
    assert bounds(card.outline_mm) == pytest.approx((210, 150, 250, 180), abs=0.6)


def test_a_shape_is_given_to_others_at_their_places_in_one_step(edit: Editing) -> None:
    round_one = disc(centre_of(edit.shape()), 44)
    middles = {key: centre_of(edit.shape(key)) for key in (2, 3, 4)}

    def work(dialog: OutlinesDialog) -> None:
        dialog.outline_wanted.emit(1, round_one)
        dialog.area_wanted.emit(Part("area", 1), disc(centre_of(round_one), 6), "hole")
        edit.answers.dialogs = [lambda give: (give._all.click(), give._areas.setChecked(True))]
        dialog.give_asked.emit(1)

    edit(work)
    for key, middle in middles.items():
        assert kind_of(edit.shape(key)) == "disc"
        assert centre_of(edit.shape(key)) == pytest.approx(middle, abs=0.01)
    assert len(edit.session.record.excluded_areas) == 4
    edit.session.undo()
    assert kind_of(edit.shape(2)) == "rectangle"
    assert len(edit.session.record.excluded_areas) == 1


def test_a_coupon_without_outline_gets_the_shape_at_its_position(bare: Editing) -> None:
    edit = bare

    def work(dialog: OutlinesDialog) -> None:
        dialog.outline_wanted.emit(1, outline(0))
        edit.answers.dialogs = [accept]
        dialog.give_asked.emit(1)

    edit(work)
    for key in (2, 3, 4):
        assert edit.shape(key) == outline(key - 1), "a cell further"


def test_outlines_are_suggested_from_the_picture(bare: Editing) -> None:
    edit = bare
    edit(lambda dialog: dialog.side.suggest_asked.emit(True))
    for key in (1, 2, 3, 4):
        assert kind_of(edit.shape(key)) == "rectangle"
        left, top, right, bottom = bounds(outline(key - 1))
        painted = (left, top, right + 0.5, bottom + 0.5)  # with the last pixel, half a millimetre wide
        assert bounds(edit.shape(key)) == pytest.approx(painted, abs=1.0)


def test_a_coupon_off_the_board_is_told_as_not_found(edit: Editing) -> None:
    edit.do(take_off, 1)
    photo = next(iter(edit.session.record.photos.values()))
    request = suggestion_request(edit.session, photo, (1, 2))
    assert request is not None
    found = suggest_outlines(request, Progress())
    assert found.missing == (1,)
    assert set(found.outlines) == {2}


def test_a_board_for_reading_is_only_looked_at(sit: Callable[..., Editing], board: Path) -> None:
    edit = sit(board, read_only=True)
    before = edit.shape()

    def work(dialog: OutlinesDialog) -> None:
        drag(dialog, at(dialog, before[2]), (8, 4))
        QTest.keyClick(dialog.view, Qt.Key.Key_Right)
        dialog.view.finish()
        assert not dialog._undo.isVisible()
        assert not dialog.side._remove.isEnabled()

    edit(work)
    assert edit.shape() == before
    assert edit.failed == []


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_it_fits_a_low_screen_at_twice_the_usual_scale(edit: Editing, qapp: QApplication, scheme: Scheme) -> None:
    apply_scheme(qapp, scheme)

    def work(dialog: OutlinesDialog) -> None:
        assert dialog.size() == SMALLEST
        for each in (dialog.view, dialog._close, dialog._undo):
            assert dialog.rect().contains(each.mapTo(dialog, each.rect().bottomRight()))
        assert not dialog.grab().isNull()

    edit(work, SMALLEST)
    apply_scheme(qapp, LIGHT)


@pytest.mark.parametrize("name", ["x\x00\u202e" + "W" * 900, "=1+1", "<h1>&&&</h1>"])
def test_any_name_is_shown_and_kept_in_bounds(edit: Editing, name: str) -> None:
    edit.do(edit_coupon, replace(edit.session.record.coupons[1], id=name))

    def work(dialog: OutlinesDialog) -> None:
        assert dialog.width() == LARGE.width()
        assert dialog.view.width() > dialog.width() // 2
        assert "\x00" not in dialog.view.accessibleName()

    edit(work)
