"""What comes out: the table of the order and its sentences."""

from __future__ import annotations

from comparing import Comparer, choices_on_disk
from PySide6.QtCore import QRectF, QSize, Qt
from window_driving import graded

from rustboard.ui.side_by_side.delegates import Groups
from rustboard.ui.side_by_side.order_table import ALIKE, COUPON, GRADE, LOOK, PICTURE, STRENGTH


def column(comparer: Comparer, number: int) -> list[str]:
    model = comparer.screen.result.table.order_model
    return [model.text(row, number) for row in range(model.rowCount())]


def compared(sitting_at, quay, grades: dict[str, int] | None = None) -> Comparer:
    comparer = Comparer(sitting_at(graded(quay, 2, grades or {})))
    comparer.begin()
    comparer.finish()
    return comparer


def test_the_last_choice_brings_the_order_from_best_to_rustiest(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    assert column(comparer, COUPON) == ["C01", "C02", "C03", "C04"]
    assert all("between" in each and "choices" in each for each in column(comparer, STRENGTH))
    assert "The order of 4 coupons rests on" in comparer.screen.result.said()
    assert comparer.person.reads("Order side by side")


def test_the_order_agrees_with_grades_of_the_same_order(sitting_at, quay):
    comparer = compared(sitting_at, quay, {"C01": 9, "C02": 7, "C03": 5, "C04": 2})
    assert column(comparer, GRADE) == ["9", "7", "5", "2"]
    assert comparer.screen.result.said().startswith("The order by eye and the grades agree closely.")
    assert comparer.screen.result.table.isColumnHidden(LOOK)


def test_a_coupon_whose_grade_disagrees_is_to_be_looked_at_again(sitting_at, quay):
    comparer = compared(sitting_at, quay, {"C01": 2, "C02": 9, "C03": 8, "C04": 1})
    assert column(comparer, LOOK)[0] == "chosen as less rusted than its grade says, by 2 places"
    table = comparer.screen.result.table
    assert table.order_model.index(0, LOOK).data() == "2 places less rusted"
    assert not table.isColumnHidden(LOOK)


def test_pictures_stand_beside_the_coupons(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    model = comparer.screen.result.table.order_model
    for row in range(4):
        pixmap = model.index(row, PICTURE).data(Qt.ItemDataRole.DecorationRole)
        middle = pixmap.toImage().pixelColor(pixmap.width() // 2, pixmap.height() // 2)
        assert round(middle.green() / 50) == row + 1  # the coupons' colours


def test_those_not_told_apart_are_named(comparer):
    comparer.begin()
    while comparer.is_comparing():
        comparer.key(Qt.Key.Key_Space)
    assert column(comparer, ALIKE)[0].startswith("not told apart from C")
    assert "No two coupons can be told apart" in comparer.screen.result.said()


def test_going_on_asks_more_than_is_enough(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    done = len(choices_on_disk(quay))
    comparer.person.press("Go on comparing")
    assert comparer.is_comparing()
    comparer.key(Qt.Key.Key_Left)
    assert len(choices_on_disk(quay)) == done + 1
    comparer.key(Qt.Key.Key_Escape)
    comparer.person.press("See the order")
    assert f"rests on {done + 1} choices" in comparer.screen.result.said()


def test_undo_of_a_choice_is_followed_by_the_order(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    done = len(choices_on_disk(quay))
    comparer.person.do("edit.undo")
    assert f"rests on {done - 1} choices" in comparer.screen.result.said()


def test_esc_goes_back_to_the_board(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    comparer.key(Qt.Key.Key_Escape)
    assert comparer.person.page.isVisible()


def test_the_order_fits_a_small_window_and_every_scheme(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    for scheme in ("dark", "sunlight", "light"):
        comparer.person.do(f"view.{scheme}")
        assert not comparer.screen.grab().isNull()
    comparer.person.resize(QSize(800, 600))
    assert comparer.screen.result._split.orientation() == Qt.Orientation.Vertical
    assert comparer.screen.result.table.isVisible()


def test_the_better_coupon_is_painted_farther_to_the_right(sitting_at, quay):
    comparer = compared(sitting_at, quay)
    delegate = comparer.screen.result.table._strengths
    cell = QRectF(0, 0, 300, 40)
    places = [delegate.place(each.value, cell) for each in delegate.strengths]
    assert places == sorted(places, reverse=True)
    assert all(0 <= delegate.place(end, cell) <= 300 for each in delegate.strengths for end in (each.low, each.high))


def test_brackets_of_groups_that_meet_stand_beside_each_other():
    groups = Groups(((1, 2, 3), (2, 3, 4), (4, 5)), (1, 2, 3, 4, 5))
    assert groups.spans == [(0, 2, 0), (1, 3, 1), (3, 4, 0)]
    assert groups.lanes == 2
    assert Groups().lanes == 0
