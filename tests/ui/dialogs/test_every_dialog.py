"""What holds for every dialog: the keyboard reaches all of it, it fits, and no text breaks it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime

import pytest
from dialog_showing import Show
from PySide6.QtCore import QPoint, QPointF, QSize, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QApplication,
    QComboBox,
    QDateTimeEdit,
    QDialog,
    QDialogButtonBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QSpinBox,
    QWidget,
)

from rustboard.board.model import Board, Coupon, Inspection, Photo, Treatment
from rustboard.board.position import Position
from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.record import BoardRecord
from rustboard.session.recipe_library import RecipeLibrary
from rustboard.ui.dialogs.audit import AuditDialog
from rustboard.ui.dialogs.belongs import BelongsDialog
from rustboard.ui.dialogs.board import BoardDialog
from rustboard.ui.dialogs.coupon import CouponDialog
from rustboard.ui.dialogs.inspection import InspectionDialog
from rustboard.ui.dialogs.keys import KeysDialog
from rustboard.ui.dialogs.label import LabelDialog
from rustboard.ui.dialogs.name import NameDialog
from rustboard.ui.dialogs.treatment import TreatmentDialog
from rustboard.ui.dialogs.treatments import TreatmentsDialog
from rustboard.ui.forms.form import FormDialog
from rustboard.ui.recipes.library_dialog import LibraryDialog
from rustboard.ui.recipes.recipe_dialog import RecipeDialog
from rustboard.ui.theme import SCHEMES, SUNLIGHT, Scheme, apply_scheme

pytestmark = pytest.mark.qt_log_ignore("This plugin does not support")

NOW = datetime(2026, 4, 6, 8, 15)
HOSTILE = ('=HYPERLINK("x")', "+1", "🧲" * 200, "W" * 400, "a\x00b\u202ec\x07", "<h1>x</h1> & \ud800", "&&&")
SMALLEST_ROOM = QSize(683 - 16, 384 - 48)
"""What a dialog may take of 1366 x 768 pixels at twice the usual scale."""

Fields = (QLineEdit, QComboBox, QPlainTextEdit, QDateTimeEdit, QSpinBox)


def hostile_record(text: str) -> BoardRecord:
    return BoardRecord(
        Board(text, 2, 2, site=text, shelter=text, customer=text, shop=text, note=text),
        treatments={1: Treatment(text, text, text, text, text, text, None, text, note=text, key=1)},
        coupons={1: Coupon(text, Position(0, 0), 1, substrate=text, note=text, key=1)},
        inspections={1: Inspection(NOW, text, text, text, text, key=1)},
        recipes={
            1: TreatmentRecipe(1, Recipe((RecipeStep("coat", text, text, 1, who=text, note=text),), text, 2), 1)
        },
    )


def every(record: BoardRecord, text: str) -> dict[str, Callable[[], QDialog]]:
    return {
        "coupon": lambda: CouponDialog(record, record.coupons[1], Position(0, 0)),
        "treatment": lambda: TreatmentDialog(record, record.treatments[1]),
        "treatments": lambda: TreatmentsDialog(record),
        "inspection": lambda: InspectionDialog(record, record.inspections[1], text, NOW),
        "board": lambda: BoardDialog(record.board, new=True),
        "belongs": lambda: BelongsDialog(record, Photo(text, "a.jpg", "0" * 64, 4, 3, NOW, 1)),
        "label": lambda: LabelDialog("row", 0, text),
        "name": lambda: NameDialog(text, "Name of the board", text),
        "audit": lambda: AuditDialog([("2026-04-06T08:15:00", text, text), (text, "", "")]),
        "keys": lambda: KeysDialog([(text, "Ctrl+Z")]),
        "recipe": lambda: RecipeDialog(record, record.treatments[1], RecipeLibrary(), text),
        "library": lambda: LibraryDialog(library_of(record), "&Take"),
    }


def library_of(record: BoardRecord) -> RecipeLibrary:
    library = RecipeLibrary()
    library.keep_new(record.treatments[1], record.recipe_of(1).steps)
    return library


NAMES = list(every(hostile_record("x"), "x"))
FORMS = [name for name in NAMES if name not in ("treatments", "audit", "keys", "library", "belongs")]
COLUMNS = [name for name in FORMS if name != "recipe"]
"""Forms whose fields stand under one another."""


def made(name: str, text: str = "x") -> QDialog:
    return every(hostile_record(text), text)[name]()


@pytest.mark.parametrize("name", NAMES)
def test_escape_closes_it_without_a_result(show: Show, name: str) -> None:
    dialog = show(made(name))
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Escape)
    assert not dialog.isVisible()
    assert dialog.result() == QDialog.DialogCode.Rejected


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_any_text_is_shown_and_kept_in_bounds(show: Show, name: str, text: str) -> None:
    dialog = show(made(name, text))
    assert dialog.width() <= dialog.screen().availableGeometry().width()
    assert not dialog.grab().isNull()
    if isinstance(dialog, FormDialog):
        dialog.accept()
        assert dialog.result() == QDialog.DialogCode.Accepted or dialog.problem.text()


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
@pytest.mark.parametrize("name", NAMES)
def test_it_fits_a_low_screen_at_twice_the_usual_scale(
    show: Show, qapp: QApplication, monkeypatch: pytest.MonkeyPatch, name: str, scheme: Scheme
) -> None:
    apply_scheme(qapp, scheme)
    monkeypatch.setattr(FormDialog, "_room", lambda dialog: SMALLEST_ROOM)
    dialog = show(made(name))
    dialog.resize(SMALLEST_ROOM)
    assert dialog.size() == SMALLEST_ROOM
    buttons = dialog.findChild(QDialogButtonBox)
    assert dialog.rect().contains(buttons.geometry())


@pytest.mark.parametrize("name", FORMS)
def test_every_field_has_a_label_and_every_letter_is_given_once(show: Show, name: str) -> None:
    dialog = show(made(name))
    labels = [each for each in dialog.findChildren(QLabel) if each.buddy() is not None]
    letters = [each.text()[each.text().index("&") + 1].casefold() for each in labels if "&" in each.text()]
    assert len(letters) == len(set(letters))
    assert len(letters) >= len(labels) - 1  # the name dialog's label comes from outside
    named = {each.buddy() for each in labels}
    for field in shown_fields(dialog):
        assert field in named or field.accessibleName(), field


def shown_fields(dialog: QDialog) -> list[QWidget]:
    fields = [each for each in dialog.findChildren(QWidget) if isinstance(each, Fields)]
    # A line inside another field belongs to that field.
    return [each for each in fields if not isinstance(each.parentWidget(), Fields) and each.isEnabled()]


@pytest.mark.parametrize("name", COLUMNS)
def test_the_tab_key_goes_through_the_fields_from_top_to_bottom(show: Show, name: str) -> None:
    dialog = show(made(name))
    for _ in range(60):
        if (
            dialog.focusWidget() is not None
            and dialog.focusWidget() in dialog.findChildren(QDialogButtonBox)[0].buttons()
        ):
            break
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
    # From the last button on, the round begins at the top.
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
    reached: list[QWidget] = []
    for _ in range(60):
        QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
        focus = dialog.focusWidget()
        assert focus is not None
        if len(reached) > 1 and focus is reached[0]:
            break
        if focus not in reached:
            reached.append(focus)
    fields = [each for each in reached if isinstance(each, Fields)]
    assert set(shown_fields(dialog)) <= set(reached)
    tops = [
        (each.mapTo(dialog, QPoint()).y() + each.height() // 2, each.mapTo(dialog, QPoint()).x()) for each in fields
    ]
    rows = [(round(y / 8), x) for y, x in tops]
    first = rows.index(min(rows))
    assert rows[first:] + rows[:first] == sorted(rows)


def test_the_wheel_scrolls_the_form_and_leaves_fields_alone(show: Show, record: BoardRecord) -> None:
    dialog = show(CouponDialog(record, record.coupons[1], Position(0, 0)))
    field = dialog._role
    middle = QPointF(field.rect().center())
    wheel = QWheelEvent(
        middle,
        field.mapToGlobal(middle),
        QPoint(),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(field, wheel)
    assert field.currentData() == "test"


def test_a_field_that_is_wrong_comes_into_view(show: Show, record: BoardRecord, qapp: QApplication) -> None:
    apply_scheme(qapp, SUNLIGHT)
    dialog = show(BoardDialog(replace(record.board, edge_margin_mm=-5.0), new=True))
    dialog.resize(dialog.width(), 250)
    QTest.keyClick(dialog._name, Qt.Key.Key_Return)
    QApplication.processEvents()
    assert dialog.focusWidget() is dialog._margin
    assert not dialog._margin.visibleRegion().isEmpty()


def test_a_sentence_about_what_is_wrong_is_read_out_and_goes_when_it_is_mended(show: Show) -> None:
    dialog = show(NameDialog("Save a copy", "Name of the board", "x"))
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Delete)
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Return)
    assert dialog.problem.text() == dialog.problem.accessibleName() == "Write a name; this field is empty."
    QTest.keyClicks(dialog.focusWidget(), "copy of it")
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Return)
    assert dialog.text() == "copy of it"


def test_an_empty_label_takes_the_name_away(show: Show) -> None:
    dialog = show(LabelDialog("column", 6, "upper edge"))
    assert dialog.windowTitle() == "Column 7"
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Delete)
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Return)
    assert dialog.label() == ""


def test_the_record_of_changes_shows_time_who_and_what(show: Show) -> None:
    dialog = show(AuditDialog([("2026-04-06T08:15:00", "Ada", "Grade C01: 9-S"), ("long ago", "", "=1+1")]))
    shown = [[dialog.table.item(row, column).text() for column in range(3)] for row in range(2)]
    assert shown[0][1:] == ["Ada", "Grade C01: 9-S"]
    assert "2026" in shown[0][0] or "26" in shown[0][0]
    assert shown[1] == ["long ago", "", "=1+1"]
    QTest.keyClick(dialog.table, Qt.Key.Key_Down)
    assert dialog.table.currentRow() == 1


def test_keys_are_listed_beside_what_they_do(show: Show) -> None:
    dialog = show(KeysDialog([("Undo", "Ctrl+Z"), ("Grade the next coupon", "N")]))
    assert [dialog.table.item(row, 1).text() for row in range(2)] == ["Ctrl+Z", "N"]
