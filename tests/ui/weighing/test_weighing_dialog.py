"""One coupon's weighing: typed, worked out beside the fields, and handed over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QLocale, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QDialog, QDialogButtonBox, QLabel, QLineEdit, QWidget
from pytestqt.qtbot import QtBot
from weighed_boards import BEGAN, NOW, weighed_board

from rustboard.board.model import Board
from rustboard.board.record import BoardRecord
from rustboard.operations.weighing import GivenWeighing
from rustboard.support.problems import InputError
from rustboard.ui.theme import LIGHT, SCHEMES, Scheme, apply_scheme
from rustboard.ui.weighing.weighing_dialog import WeighingDialog

SMALLEST_ROOM = QSize(683 - 16, 384 - 48)
"""What a dialog may take of 1366 x 768 pixels at twice the usual scale."""


def opened(qtbot: QtBot, coupon: int | None = None, record: BoardRecord | None = None) -> WeighingDialog:
    dialog = WeighingDialog(record or weighed_board(), coupon, NOW, LIGHT)
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.show()
        dialog.activateWindow()
    return dialog


def typed(field: QLineEdit, text: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, text)


def accepted(dialog: WeighingDialog) -> GivenWeighing:
    dialog.accept()
    assert dialog.result() == QDialog.DialogCode.Accepted, dialog.problem.text()
    return dialog.given()


@pytest.fixture
def german(qapp: QApplication) -> Iterator[None]:
    before = QLocale()
    QLocale.setDefault(QLocale(QLocale.Language.German, QLocale.Country.Germany))
    yield
    QLocale.setDefault(before)


def test_a_new_weighing_offers_a_coupon_that_was_not_weighed(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    assert dialog.coupon.currentData() == 6
    assert "Give the mass before" in dialog.outcome.text()


def test_what_is_typed_is_handed_over(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    typed(dialog.fields.before, "80")
    typed(dialog.fields.after, "79.2 78.4 77.9 77.89 77.88")
    typed(dialog.fields.thickness, "2")
    typed(dialog.fields.pits, "12")
    typed(dialog.fields.pits_on, "50")
    typed(dialog.fields.depths, "80 120")
    dialog.fields.bare.setChecked(True)
    given = accepted(dialog)
    assert given == GivenWeighing(
        coupon=6,
        exposed_to=NOW,
        before_g=80.0,
        after_g=(79.2, 78.4, 77.9, 77.89, 77.88),
        thickness_mm=2.0,
        bare=True,
        pits=12,
        pits_on_cm2=50.0,
        pit_depths_um=(80.0, 120.0),
    )


@pytest.mark.usefixtures("german")
def test_a_decimal_comma_is_understood(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    typed(dialog.fields.before, "80,5")
    typed(dialog.fields.after, "79,25 78,4; 78,3")
    assert accepted(dialog).after_g == (79.25, 78.4, 78.3)


def test_what_was_noted_comes_back_unchanged(qtbot: QtBot) -> None:
    record = weighed_board()
    given = accepted(opened(qtbot, 1, record))
    noted = record.weighings[1]
    assert (given.coupon, given.after_g, given.blank_after_g) == (1, noted.after_g, noted.blank_after_g)
    assert (given.exposed_from, given.exposed_to) == (None, noted.exposed_to)
    assert (given.pits, given.pit_depths_um, given.bare) == (12, noted.pit_depths_um, True)


def test_the_outcome_follows_the_fields(qtbot: QtBot) -> None:
    dialog = opened(qtbot, 1)
    said = dialog.outcome.text()
    assert "read at the break, cleaning 3" in said
    assert "106 cm², from outline and thickness" in said
    assert "25.03 µm/y" in said
    assert "C3 by thickness" in said
    assert dialog.outcome.chart.isVisible()
    typed(dialog.fields.area, "50")
    assert "50 cm², measured by hand" in dialog.outcome.text()
    typed(dialog.fields.blank_after, "79.495")
    typed(dialog.fields.after, "79.2")
    assert "after the only cleaning" in dialog.outcome.text()
    assert not dialog.outcome.chart.isVisible()


def test_the_chart_draws_the_break_and_both_lines(qtbot: QtBot) -> None:
    dialog = opened(qtbot, 1)
    chart = dialog.outcome.chart
    colours = {
        image.pixelColor(x, y).name()
        for image in [chart.grab().toImage()]
        for x in range(image.width())
        for y in range(image.height())
    }
    assert set(LIGHT.series[:2]) <= colours
    assert "2.085" in chart.accessibleName()


def test_too_short_an_exposure_has_no_category_and_says_why(qtbot: QtBot) -> None:
    dialog = opened(qtbot, 1)
    dialog.fields.exposed_to.set_when(BEGAN + timedelta(days=90))
    assert "C3 by thickness" not in dialog.outcome.text()
    assert "takes one year" in dialog.outcome.text()


def test_a_first_day_of_its_own_goes_before_the_boards(qtbot: QtBot) -> None:
    dialog = opened(qtbot, 1)
    assert not dialog.fields.exposed_from.isEnabled()
    dialog.fields.from_board.setChecked(False)
    dialog.fields.exposed_from.set_when(BEGAN + timedelta(days=10))
    assert accepted(dialog).exposed_from == BEGAN + timedelta(days=10)
    assert "Mean rate over 355 days" in dialog.outcome.text()


def test_a_board_without_a_start_asks_for_the_first_day(qtbot: QtBot) -> None:
    record = weighed_board()
    record.board = replace(record.board, started=None)
    dialog = opened(qtbot, None, record)
    assert not dialog.fields.from_board.isEnabled()
    assert dialog.fields.exposed_from.isEnabled()


def test_metal_and_density_follow_one_another(qtbot: QtBot) -> None:
    dialog = opened(qtbot, 1)
    dialog.fields.metal.setCurrentIndex(4)
    dialog.fields.metal.activated.emit(4)
    assert dialog.fields.density.text() == "7.88"
    typed(dialog.fields.density, "7.14")
    assert dialog.fields.metal.currentText() == "Other metal"
    assert accepted(dialog).density_g_cm3 == 7.14


@pytest.mark.parametrize(
    ("name", "text", "word"),
    [
        ("before", "", "before exposure"),
        ("after", "", "after each cleaning"),
        ("after", "79.1 x", "not a number"),
        ("before", "-3", "above 0"),
        ("after", "79.1", "blank has more"),
        ("density", "", "density"),
        ("density", "99", "density"),
        ("pits", "2.5", "whole number"),
    ],
)
def test_what_is_wrong_is_said_and_the_dialog_stays(qtbot: QtBot, name: str, text: str, word: str) -> None:
    dialog = opened(qtbot, 1)
    getattr(dialog.fields, name).setText(text)
    dialog.accept()
    assert dialog.isVisible()
    assert word in dialog.problem.text()
    assert word in dialog.outcome.text()


def test_choosing_another_coupon_shows_what_was_noted_of_it(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    places = {dialog.coupon.itemData(place): place for place in range(dialog.coupon.count())}
    for key, masses in ((5, "79.8"), (6, "")):
        dialog.coupon.setCurrentIndex(places[key])
        dialog.coupon.activated.emit(places[key])
        assert dialog.fields.after.text() == masses


def test_what_was_typed_stays_when_the_coupon_is_chosen_afterwards(qtbot: QtBot) -> None:
    record = weighed_board()
    del record.weighings[5]
    dialog = opened(qtbot, None, record)
    typed(dialog.fields.before, "81")
    place = dialog.coupon.findData(6)
    dialog.coupon.setCurrentIndex(place)
    dialog.coupon.activated.emit(place)
    assert dialog.fields.before.text() == "81"


def test_a_board_without_coupons_has_nothing_to_weigh(qapp: QApplication) -> None:
    with pytest.raises(InputError, match="no coupon"):
        WeighingDialog(BoardRecord(Board("B")), None, NOW, LIGHT)


def test_it_points_to_the_standards_and_gives_no_recipe(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    words = " ".join(each.text() for each in dialog.findChildren(QLabel))
    assert "ASTM G1" in words
    assert "safety data sheet" in words
    assert "acid" not in words.casefold()


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
def test_it_fits_a_low_screen_at_twice_the_usual_scale(
    qtbot: QtBot, qapp: QApplication, monkeypatch: pytest.MonkeyPatch, scheme: Scheme
) -> None:
    apply_scheme(qapp, scheme)
    monkeypatch.setattr(WeighingDialog, "_room", lambda dialog: SMALLEST_ROOM)
    dialog = opened(qtbot, 1)
    dialog.resize(SMALLEST_ROOM)
    assert dialog.size() == SMALLEST_ROOM
    assert dialog.rect().contains(dialog.findChild(QDialogButtonBox).geometry())
    inside = dialog._scroll.widget()
    assert inside.width() <= dialog._scroll.viewport().width()
    assert dialog.outcome.widget().width() <= dialog.outcome.viewport().width()


def test_every_field_has_a_label_and_every_letter_is_given_once(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    texts = [each.text() for each in dialog.findChildren(QLabel) if each.buddy() is not None]
    texts += [dialog.fields.bare.text(), dialog.fields.from_board.text()]
    letters = [each[each.index("&") + 1].casefold() for each in texts]
    assert len(letters) == len(set(letters))
    named: set[QWidget | None] = {each.buddy() for each in dialog.findChildren(QLabel)}
    for field in dialog.findChildren(QLineEdit) + dialog.findChildren(QComboBox):
        assert field in named or field.accessibleName(), field


def test_the_keyboard_alone_fills_it(qtbot: QtBot) -> None:
    dialog = opened(qtbot)
    QTest.keyClick(dialog, Qt.Key.Key_B, Qt.KeyboardModifier.AltModifier)
    QTest.keyClicks(dialog.focusWidget(), "80")
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Tab)
    QTest.keyClicks(dialog.focusWidget(), "79")
    QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Return)
    assert (dialog.given().before_g, dialog.given().after_g) == (80.0, (79.0,))
