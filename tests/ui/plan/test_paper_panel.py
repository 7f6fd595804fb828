"""Sizes, holes and markers on the plan screen: typed, refused, set out, taken back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from rustboard.board.model import Board, Coupon
from rustboard.board.position import Position
from rustboard.operations.coupons import add_coupon, edit_coupon
from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session
from rustboard.store.board_store import create_board
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError
from rustboard.ui.forms.form import ProblemLine
from rustboard.ui.plan.paper_panel import PaperPanel

NOW = datetime(2026, 2, 1, 10)


@pytest.fixture
def session(tmp_path: Path) -> Iterator[Session]:
    create_board(tmp_path / "b", BoardRow(Board("Harbour wall", rows=2, columns=3)))
    session = Session(tmp_path / "b", clock=lambda: NOW)
    for number in range(6):
        session.do(add_coupon, Coupon(f"C{number + 1:02}", Position(*divmod(number, 3))))
    yield session
    session.close()


@pytest.fixture
def panel(session: Session, qtbot: QtBot) -> PaperPanel:
    return sitting(session, qtbot)


def sitting(session: Session, qtbot: QtBot) -> PaperPanel:
    def do(operation: Callable[..., object], *arguments: object, origin: object = None) -> ChangeSet | None:
        try:
            return session.do(operation, *arguments, origin=origin)  # type: ignore[arg-type]
        except InputError:
            return None

    panel = PaperPanel(session, do)
    session.feed.subscribe(panel.apply)
    qtbot.addWidget(panel)
    panel.resize(360, 640)
    panel.show()
    return panel


def field(panel: PaperPanel, name: str) -> QLineEdit:
    return next(each for each in panel.findChildren(QLineEdit) if each.accessibleName() == name)


def button(panel: PaperPanel, start: str) -> QPushButton:
    return next(each for each in panel.findChildren(QPushButton) if each.text().replace("&", "").startswith(start))


def type_into(panel: PaperPanel, name: str, text: str) -> None:
    line = field(panel, name)
    line.setFocus()
    line.selectAll()
    QTest.keyClick(line, Qt.Key.Key_Delete)
    QTest.keyClicks(line, text)
    QTest.keyClick(line, Qt.Key.Key_Return)


def sized(panel: PaperPanel) -> None:
    type_into(panel, "Board: width in mm", "600")
    type_into(panel, "Board: height in mm", "400")
    type_into(panel, "Coupon: width in mm", "62,5")
    type_into(panel, "Coupon: height in mm", "100")


def test_sizes_are_kept_as_they_are_typed(panel, session):
    sized(panel)
    type_into(panel, "Hole below the coupon's top edge in mm", "-4.5")
    board, layout = session.record.board, session.record.layout
    assert (board.width_mm, board.height_mm) == (600.0, 400.0)
    assert (layout.coupon_width_mm, layout.coupon_height_mm, layout.hole_below_top_mm) == (62.5, 100.0, -4.5)


def test_leaving_a_field_as_it_was_does_nothing(panel, session):
    sized(panel)
    before = session.undo_summary(), len(session.audit())
    for each in panel.findChildren(QLineEdit):
        each.setFocus()
        QTest.keyClick(each, Qt.Key.Key_Return)
    assert (session.undo_summary(), len(session.audit())) == before


def test_what_is_no_number_is_told_beside_the_fields(panel, session):
    type_into(panel, "Board: width in mm", "wide")
    assert "is not a number" in problems(panel)
    assert session.record.board.width_mm == 0
    type_into(panel, "Board: width in mm", "600")
    assert problems(panel) == ""


def test_a_refused_number_gives_way_to_the_old_one(panel, session):
    sized(panel)
    type_into(panel, "Board: width in mm", "-3")
    assert session.record.board.width_mm == 600
    assert field(panel, "Board: width in mm").text() == "600"
    type_into(panel, "Coupon: width in mm", "99999")
    assert field(panel, "Coupon: width in mm").text() == "62.5"


def test_coupons_are_set_out_once_the_sizes_are_known_and_undo_takes_it_back(panel, session):
    assert not button(panel, "Set out").isEnabled()
    sized(panel)
    assert "0 of 6" in words(panel)
    QTest.mouseClick(button(panel, "Set out"), Qt.MouseButton.LeftButton)
    assert all(each.outline_mm for each in session.record.coupons.values())
    assert "6 of 6" in words(panel)
    session.undo()
    assert not any(each.outline_mm for each in session.record.coupons.values())
    assert "0 of 6" in words(panel)


def test_markers_are_placed_in_the_chosen_size_and_removed(panel, session):
    assert not button(panel, "Place").isEnabled()
    sized(panel)
    type_into(panel, "Marker size in mm", "24")
    QTest.mouseClick(button(panel, "Place"), Qt.MouseButton.LeftButton)
    assert [each.size_mm for each in session.record.markers] == [24.0] * 4
    QTest.mouseClick(button(panel, "Remove"), Qt.MouseButton.LeftButton)
    assert session.record.markers == ()
    assert not button(panel, "Remove").isEnabled()


def test_coupons_set_out_make_room_for_markers_in_one_step(panel, session):
    sized(panel)
    button(panel, "Set out").click()
    before = session.record.snapshot()
    button(panel, "Place").click()
    assert len(session.record.markers) == 4
    assert "lie over" not in words(panel)
    session.undo()
    assert session.record == before


def test_coupons_under_a_marker_are_named_until_they_no_longer_are(panel, session):
    sized(panel)
    corner = ((0.0, 0.0), (62.5, 0.0), (62.5, 90.0), (0.0, 90.0))
    session.do(edit_coupon, replace(session.record.coupons[1], outline_mm=corner))
    button(panel, "Place").click()
    assert "lie over coupons: C01. Set out" in words(panel)
    panel.refresh()
    assert "lie over coupons: C01. Set out" in words(panel)
    button(panel, "Set out").click()
    assert "lie over" not in words(panel)


def test_the_button_asks_for_the_pages(panel, qtbot):
    with qtbot.waitSignal(panel.paper_asked):
        QTest.mouseClick(button(panel, "Preview and print"), Qt.MouseButton.LeftButton)


def test_a_board_open_for_reading_only_can_be_printed_but_not_changed(session, tmp_path, qtbot):
    second = Session(tmp_path / "b", clock=lambda: NOW)
    try:
        assert second.read_only_reason
        panel = sitting(second, qtbot)
        assert not any(each.isEnabled() for each in panel.findChildren(QLineEdit))
        assert [each.text() for each in panel.findChildren(QPushButton) if each.isEnabled()] == [
            button(panel, "Preview and print").text()
        ]
    finally:
        second.close()


def test_the_panel_lives_in_360_pixels(panel):
    assert panel.minimumSizeHint().width() <= 360


def words(panel: PaperPanel) -> str:
    return " ".join(each.text() for each in panel.findChildren(QLabel))


def problems(panel: PaperPanel) -> str:
    return "".join(each.text() for each in panel.findChildren(ProblemLine))
