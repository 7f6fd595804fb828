"""The day log: what happened between the inspections, noted, put right and taken out."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from photo_bench import Bench
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QDialog
from window_driving import START, Answer, cancel, made_board

from rustboard.board.measured import DISTURBANCE_KINDS, STARTS_ANEW, Disturbance
from rustboard.operations.coupons import edit_coupon
from rustboard.operations.disturbances import note_disturbance
from rustboard.ui.daylog.dialog import DayLogDialog
from rustboard.ui.daylog.entry_dialog import EntryDialog
from rustboard.ui.daylog.wording import kind_meaning, kind_name
from rustboard.ui.daylog_commands import DayLogCommands
from rustboard.ui.theme import LIGHT, SCHEMES, Scheme, apply_scheme

NOW = datetime(2026, 3, 12, 7, 45)
SMALLEST = QSize(683 - 16, 384 - 48)


class Desk(Bench):
    def __init__(self, folder: Path, *, read_only: bool = False) -> None:
        super().__init__(folder, read_only=read_only)
        self.commands = DayLogCommands(self.widget, self.answers, self.do, lambda: NOW)  # type: ignore[arg-type]
        self.serve(self.commands)

    def open(self, *answers: Answer) -> None:
        """Show the log and answer its dialogs in turn."""
        self.answers.dialogs = list(answers)
        self.commands.day_log()

    def entries(self) -> list[Disturbance]:
        return list(self.session.record.disturbances.values())


@pytest.fixture
def desk(qapp: QApplication, tmp_path: Path) -> Iterator[Desk]:
    apply_scheme(qapp, LIGHT)
    desk = Desk(made_board(tmp_path / "Yard"))
    yield desk
    desk.close()


def adding() -> Answer:
    """Answer: press Add, and fill the entry in by the next answer."""
    return lambda dialog: dialog._add.click()


def choosing(kind: str, note: str = "") -> Answer:
    def choose(dialog: EntryDialog) -> None:
        dialog._kind.setCurrentIndex(dialog._kind.findData(kind))
        dialog._note.setPlainText(note)

    return choose


def test_an_entry_is_about_the_coupon_in_hand_and_now(desk: Desk) -> None:
    desk.session.selection.choose({2}, 2)
    desk.open(adding(), choosing("cleaned", "wiped\nwith solvent"))
    (entry,) = desk.entries()
    assert (entry.coupon, entry.kind, entry.at, entry.note) == (2, "cleaned", NOW, "wiped\nwith solvent")


def test_without_a_coupon_in_hand_it_is_about_the_board(desk: Desk) -> None:
    desk.open(adding(), choosing("board moved"))
    assert desk.entries()[0].coupon is None


def test_the_time_of_the_inspection_in_view_is_a_button_away(desk: Desk) -> None:
    desk.session.selection.look_at(1)

    def at_inspection(dialog: EntryDialog) -> None:
        dialog._put_inspection.click()
        assert dialog._at.when() == START
        dialog._put_now.click()
        assert dialog._at.when() == NOW
        dialog._put_inspection.click()

    desk.open(adding(), at_inspection)
    assert desk.entries()[0].at == START


def test_entries_are_listed_newest_first_and_edited_and_removed_by_keys(desk: Desk) -> None:
    desk.do(note_disturbance, Disturbance(NOW, "touched", 1))
    desk.do(note_disturbance, Disturbance(NOW + timedelta(days=1), "lost", 3))

    def work(dialog: DayLogDialog) -> None:
        assert [dialog.table.item(row, 2).text() for row in range(2)] == ["lost", "touched"]
        desk.answers.dialogs = [choosing("replaced")]
        QTest.keyClick(dialog.table, Qt.Key.Key_Return)
        assert dialog.table.item(0, 2).text() == kind_name("replaced")
        QTest.keyClick(dialog.table, Qt.Key.Key_Down)
        QTest.keyClick(dialog.table, Qt.Key.Key_Delete)
        assert dialog.table.rowCount() == 1

    desk.open(work)
    assert [each.kind for each in desk.entries()] == ["replaced"]
    desk.session.undo()
    assert len(desk.entries()) == 2


def test_what_starts_measuring_anew_says_so(desk: Desk) -> None:
    for kind in DISTURBANCE_KINDS:
        assert ("starts anew" in kind_meaning(kind)) == (kind in STARTS_ANEW)

    def look(dialog: EntryDialog) -> bool:
        dialog._kind.setCurrentIndex(dialog._kind.findData("cleaned"))
        assert "Measuring starts anew for this coupon" in dialog._meaning.text()
        return cancel(dialog)

    desk.open(adding(), look)
    assert desk.entries() == []


def test_a_coupon_that_was_moved_is_found_under_that_word() -> None:
    assert "moved" in kind_name("rotated")


def test_an_entry_that_went_meanwhile_is_refused_in_the_list(desk: Desk) -> None:
    desk.do(note_disturbance, Disturbance(NOW, "touched", 1))

    def work(dialog: DayLogDialog) -> None:
        desk.session.undo()
        dialog._remove.click()

    desk.open(work)
    assert "no longer in the day log" in desk.failed[-1]


def test_a_board_for_reading_shows_its_log_and_offers_no_change(desk: Desk, tmp_path: Path) -> None:
    desk.do(note_disturbance, Disturbance(NOW, "touched", 1))
    reader = Desk(tmp_path / "Yard", read_only=True)

    def work(dialog: DayLogDialog) -> None:
        assert dialog.table.rowCount() == 1
        assert not dialog._add.isVisible()
        QTest.keyClick(dialog.table, Qt.Key.Key_Delete)
        QTest.keyClick(dialog.table, Qt.Key.Key_Insert)

    reader.open(work)
    assert len(reader.entries()) == 1
    assert reader.failed == []
    reader.close()


@pytest.mark.parametrize("scheme", list(SCHEMES.values()), ids=list(SCHEMES))
@pytest.mark.parametrize("text", ["plain", "x\x00\u202e" + "W" * 900, "<h1>&&&</h1>"], ids=range(3))
def test_it_fits_a_low_screen_whatever_was_written(
    desk: Desk, qapp: QApplication, scheme: Scheme, text: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    apply_scheme(qapp, scheme)
    monkeypatch.setattr(EntryDialog, "_room", lambda dialog: SMALLEST)
    monkeypatch.setattr(DayLogDialog, "_room", lambda dialog: SMALLEST)
    desk.do(edit_coupon, replace(desk.session.record.coupons[1], id=text))
    desk.do(note_disturbance, Disturbance(NOW, "touched", 1, text))

    def fits(dialog: QDialog) -> None:
        dialog.resize(SMALLEST)
        assert dialog.size() == SMALLEST
        assert not dialog.grab().isNull()

    def list_and_entry(dialog: DayLogDialog) -> None:
        fits(dialog)
        desk.answers.dialogs = [fits]
        dialog._edit.click()

    desk.open(list_and_entry)
    apply_scheme(qapp, LIGHT)
