"""A plan looked over before a board is made: cells marked, sentences that lead to them, the name, the map."""

from __future__ import annotations

import json

import pytest
from dialog_showing import Show
from PySide6.QtCore import QEvent, QPoint, Qt
from PySide6.QtGui import QHelpEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog, QDialogButtonBox, QPushButton, QToolTip

from rustboard.board.csv_table import open_table
from rustboard.board.plan_csv import PLAN_LAYOUT
from rustboard.board.plan_preview import PlanPreview, preview_json, preview_table
from rustboard.board.position import Position
from rustboard.board.problem_list import ProblemList
from rustboard.ui.dialogs.plan_preview import PlanPreviewDialog
from rustboard.ui.dialogs.plan_sketch import PlanSketch
from rustboard.ui.theme import LIGHT, SCHEMES, Scheme, apply_scheme

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

TABLE = (
    "coupon,position,treatment,role,coats\n"
    "C1,A1,wax,test,2\n"
    "C2,17,wax,test,2\n"
    "C3,A3,wax,control,many\n"
    "C4,A4,wax,test,2,too,wide\n"
)
HOSTILE = ('=HYPERLINK("x")', "🧲" * 200, "W" * 400, "a\x00b\u202ec\x07", "<h1>x</h1> & ", "&&&")


def preview(text: str = TABLE) -> PlanPreview:
    problems = ProblemList("spring.csv")
    return preview_table(open_table(text.encode(), PLAN_LAYOUT, problems), problems)


@pytest.fixture
def dialog(show: Show) -> PlanPreviewDialog:
    return show(PlanPreviewDialog(preview(), LIGHT))


def sign_at(dialog: PlanPreviewDialog, row: int, column: int) -> bool:
    index = dialog.table.model().index(row, column)
    return index.data(Qt.ItemDataRole.DecorationRole) is not None


def test_it_says_how_much_the_plan_holds_and_lacks(dialog: PlanPreviewDialog) -> None:
    assert dialog.windowTitle() == "A plan from spring.csv"
    assert dialog.summary() == (
        "2 coupons of 1 treatment on 1 row by 3 columns. 2 of the 4 rows in the file are left out. "
        "× = left out. ! = kept, without what is marked."
    )
    one = preview("coupon,position\nC1,A1\nC2,x\n")
    assert PlanPreviewDialog(one, LIGHT).summary() == (
        "1 coupon of 0 treatments on 1 row by 1 column. 1 of the 2 rows in the file is left out. × = left out."
    )


def test_the_cells_of_the_file_are_shown_under_its_names(dialog: PlanPreviewDialog) -> None:
    model = dialog.table.model()
    header = [model.headerData(each, Qt.Orientation.Horizontal) for each in range(model.columnCount())]
    assert header == ["coupon", "position", "treatment", "role", "coats", "column 6", "column 7"]
    assert [model.headerData(each, Qt.Orientation.Vertical) for each in range(4)] == ["2", "3 ×", "4 !", "5 ×"]
    assert [model.index(0, each).data() for each in range(5)] == ["C1", "A1", "wax", "test", "2"]


def test_a_bad_cell_has_a_sign_a_colour_and_its_sentence(dialog: PlanPreviewDialog) -> None:
    assert sign_at(dialog, 1, 1)
    assert not sign_at(dialog, 1, 0)
    assert not sign_at(dialog, 0, 1)
    bad, good = dialog.table.model().index(1, 1), dialog.table.model().index(0, 1)
    assert bad.data(Qt.ItemDataRole.BackgroundRole).color().name() == LIGHT.error
    assert good.data(Qt.ItemDataRole.BackgroundRole) is None
    assert "“17” is not a position" in bad.data(Qt.ItemDataRole.ToolTipRole)
    assert bad.data(Qt.ItemDataRole.AccessibleTextRole).startswith("17: “17” is not a position")
    assert good.data(Qt.ItemDataRole.ToolTipRole) is None


def test_a_row_that_is_left_out_whole_is_marked_in_all_its_cells(dialog: PlanPreviewDialog) -> None:
    assert sign_at(dialog, 3, 0)
    for column in range(7):
        index = dialog.table.model().index(3, column)
        assert index.data(Qt.ItemDataRole.BackgroundRole) is not None
        assert "This row has 7 cells" in index.data(Qt.ItemDataRole.ToolTipRole)


def test_choosing_a_sentence_chooses_its_cell(dialog: PlanPreviewDialog) -> None:
    assert [dialog.sentences.item(each).text().partition(":")[0] for each in range(3)] == [
        "Row 3, position", "Row 4, coats", "Row 5",
    ]  # fmt: skip
    dialog.sentences.setFocus()
    dialog.sentences.setCurrentRow(0)
    assert (dialog.table.currentIndex().row(), dialog.table.currentIndex().column()) == (1, 1)
    QTest.keyClick(dialog.sentences, Qt.Key.Key_Down)
    assert (dialog.table.currentIndex().row(), dialog.table.currentIndex().column()) == (2, 4)
    QTest.keyClick(dialog.sentences, Qt.Key.Key_Down)
    assert {each.row() for each in dialog.table.selectedIndexes()} == {3}
    assert len(dialog.table.selectedIndexes()) == 7


def test_a_sentence_about_no_cell_chooses_none(show: Show) -> None:
    content = {"board": {"rows": "x"}, "coupons": [{"id": "C1", "position": "A1"}, {"id": "C2", "position": "?"}]}
    dialog = show(PlanPreviewDialog(preview_json(json.dumps(content).encode(), "p.json"), LIGHT))
    texts = [dialog.sentences.item(each).text() for each in range(dialog.sentences.count())]
    board, coupon = (
        next(n for n, text in enumerate(texts) if text.startswith(w)) for w in ("board", "C2, position: ")
    )
    dialog.sentences.setCurrentRow(coupon)
    assert [(each.row(), each.column()) for each in dialog.table.selectedIndexes()] == [(1, 1)]
    dialog.sentences.setCurrentRow(board)
    assert dialog.table.selectedIndexes() == []


def test_a_plan_without_problems_has_no_list_of_them(show: Show) -> None:
    dialog = show(PlanPreviewDialog(preview("coupon,position\nC1,A1\n"), LIGHT))
    assert not dialog.sentences.isVisible()


def test_the_board_gets_the_name_that_is_written_and_needs_one(dialog: PlanPreviewDialog) -> None:
    dialog._name.setFocus()
    dialog._name.selectAll()
    QTest.keyClick(dialog._name, Qt.Key.Key_Delete)
    QTest.keyClick(dialog._name, Qt.Key.Key_Return)
    assert dialog.isVisible()
    assert dialog.problem.text() == "Write a name; this field is empty."
    QTest.keyClicks(dialog._name, "Porch, east")
    make = next(each for each in dialog.findChildren(QPushButton) if each.text() == "&Make this board")
    QTest.mouseClick(make, Qt.MouseButton.LeftButton)
    assert dialog.result() == QDialog.DialogCode.Accepted
    assert dialog.plan().board.name == "Porch, east"
    assert [each.id for each in dialog.plan().coupons] == ["C1", "C3"]


def test_a_name_is_typed_at_once_over_the_one_of_the_file(dialog: PlanPreviewDialog) -> None:
    assert dialog.focusWidget() is dialog._name
    QTest.keyClicks(dialog.focusWidget(), "Porch")
    assert dialog.plan().board.name == "Porch"


def test_escape_makes_no_board(dialog: PlanPreviewDialog) -> None:
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Escape)
    assert dialog.result() == QDialog.DialogCode.Rejected


def test_the_keyboard_reaches_name_table_sentences_and_buttons(dialog: PlanPreviewDialog) -> None:
    reached = set()
    for _ in range(8):
        reached.add(dialog.focusWidget())
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
    buttons = dialog.findChild(QDialogButtonBox).buttons()
    assert reached == {dialog._name, dialog.table, dialog.sentences, *buttons}
    for each in (dialog.table, dialog.sentences):
        assert each.accessibleName()


def test_the_map_says_what_hangs_where(dialog: PlanPreviewDialog) -> None:
    sketch = dialog.findChild(PlanSketch)
    assert sketch.words_at(Position(0, 0)) == "A1: C1, wax"
    assert sketch.words_at(Position(0, 1)) == "A2: empty"
    assert sketch.words_at(Position(0, 2)) == "A3: C3, wax, control"
    assert sketch.accessibleName() == "Where the coupons hang"
    middle = sketch.rect_of(Position(0, 2)).center()
    assert sketch.position_at(middle.x(), middle.y()) == Position(0, 2)
    assert sketch.position_at(0, 0) is None
    assert sketch.position_at(10_000, 10_000) is None
    event = QHelpEvent(QEvent.Type.ToolTip, middle.toPoint(), sketch.mapToGlobal(middle.toPoint()))
    QApplication.sendEvent(sketch, event)
    assert "A3: C3, wax, control" in QToolTip.text()


def test_a_coupon_is_seen_on_the_map_where_it_hangs(dialog: PlanPreviewDialog) -> None:
    sketch = dialog.findChild(PlanSketch)
    picture = sketch.grab().toImage()

    def colour_in(position: Position) -> str:
        place = sketch.rect_of(position)
        scale = picture.devicePixelRatio()
        return picture.pixelColor(
            QPoint(round(place.center().x() * scale), round((place.bottom() - 5) * scale))
        ).name()

    assert colour_in(Position(0, 0)) == colour_in(Position(0, 2)) == LIGHT.series[0]
    assert colour_in(Position(0, 1)) != LIGHT.series[0]


def test_the_largest_board_is_drawn_within_the_map(show: Show) -> None:
    rows = "".join(f"C{number},{'ABCDEFGHIJKLMNO'[number % 15]}{number // 15 + 1}\n" for number in range(900))
    dialog = show(PlanPreviewDialog(preview("coupon,position\n" + rows), LIGHT))
    sketch = dialog.findChild(PlanSketch)
    assert sketch.rect().toRectF().contains(sketch.rect_of(Position(14, 59)))
    assert not sketch.grab().isNull()


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_any_text_is_shown_and_kept_in_bounds(show: Show, text: str) -> None:
    quoted = text.replace('"', '""').replace("\x00", "\ufffd")
    table = f'coupon,position,treatment,"{quoted}"\n"{quoted}",A1,"{quoted}",1\n"{quoted}",A2,wax,2\n'
    dialog = show(PlanPreviewDialog(preview(table), LIGHT))
    dialog.sentences.setCurrentRow(0)
    assert dialog.width() <= dialog.screen().availableGeometry().width()
    assert not dialog.grab().isNull()
    assert "<h1>" not in dialog.table.model().index(1, 0).data(Qt.ItemDataRole.ToolTipRole)


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_it_fits_a_low_screen_at_twice_the_usual_scale(show: Show, qapp: QApplication, scheme: Scheme) -> None:
    apply_scheme(qapp, scheme)
    dialog = show(PlanPreviewDialog(preview(), scheme))
    dialog.resize(683 - 16, 384 - 48)
    assert (dialog.width(), dialog.height()) == (667, 336)
    for part in (dialog.findChild(QDialogButtonBox), dialog.table, dialog.sentences):
        corner = part.mapTo(dialog, part.rect().bottomRight())
        assert dialog.rect().contains(corner)
    assert min(dialog.table.height(), dialog.sentences.height()) >= 50
