"""The report from the window: asked for, written beside it, remembered, stopped, and offered under another name."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace

import pytest
from openpyxl import load_workbook
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QDesktopServices
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLabel, QPushButton
from window_driving import Desk, cancel, filling, wait_until

from rustboard.operations.boards import edit_board
from rustboard.report.choice import Shop
from rustboard.session import reporting
from rustboard.session.report_choices import ReportChoices

ON_THE_BOX = QPoint(8, 8)


def named(yard, name="report"):
    return filling(folder=str(yard.parent), name=name)


def tick(dialog, *forms):
    for each in forms:
        QTest.mouseClick(dialog.forms.tick_of(each), Qt.MouseButton.LeftButton, pos=ON_THE_BOX)


def press(dialog, text):
    buttons = [each for each in dialog.findChildren(QPushButton) if each.text().replace("&", "").startswith(text)]
    (button,) = [each for each in buttons if each.isVisible()]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def for_customer(person, name):
    board = person.session.record.board
    person.window.do(edit_board, replace(board, customer=name))


def in_words(dialog):
    return "\n".join(each.text() for each in dialog.findChildren(QLabel))


def test_ctrl_r_and_enter_write_the_workbook_beside_the_board(person, yard):
    person.answers.dialogs = [lambda dialog: QTest.keyClick(dialog.focusWidget(), Qt.Key.Key_Return)]
    person.key(Qt.Key.Key_R, modifier=Qt.KeyboardModifier.ControlModifier)
    (written,) = yard.glob("*.xlsx")
    assert written.name.startswith("Yard 20")
    assert person.message() == f"Wrote {written.name} in {yard}"
    assert "Grades" in load_workbook(written).sheetnames


def test_what_was_chosen_is_there_the_next_time_for_this_customer_alone(person, yard):
    for_customer(person, "Harbour Ltd")

    def choose(dialog):
        tick(dialog, "data")
        QTest.mouseClick(dialog.parts.tick_of("data"), Qt.MouseButton.LeftButton, pos=ON_THE_BOX)

    person.answers.dialogs = [choose]
    person.do("file.report")
    seen = []

    def look(dialog):
        seen.append(({each.kind for each in dialog.forms.chosen()}, "data" in dialog.parts.ticked()))
        return cancel(dialog)

    for_customer(person, "harbour  LTD")
    person.answers.dialogs = [look]
    person.do("file.report")
    assert seen == [({"workbook", "data"}, False)]
    ReportChoices().remember("Mill", replace(ReportChoices().remembered("").choice, paper="Letter"), ())
    for_customer(person, "Harbour Ltd")
    person.answers.dialogs = [look]
    person.do("file.report")
    assert seen[1] == seen[0]


def test_a_cancelled_report_writes_and_remembers_nothing(person, yard):
    person.answers.dialogs = [lambda dialog: (tick(dialog, "data"), cancel(dialog))[1]]
    person.do("file.report")
    assert not list(yard.glob("*.xlsx"))
    assert not ReportChoices().remembered("").any
    assert person.message() == ""


def test_the_place_can_be_chosen(person, yard, tmp_path):
    (tmp_path / "elsewhere").mkdir()
    person.answers.files = [tmp_path / "elsewhere" / "for Mara.xlsx"]
    person.answers.dialogs = [lambda dialog: press(dialog, "Choose")]
    person.do("file.report")
    assert (tmp_path / "elsewhere" / "for Mara.xlsx").exists()


def test_what_was_written_can_be_opened_and_its_folder_shown(person, yard, monkeypatch):
    opened = []
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: opened.append(url.toLocalFile()) or True)
    person.answers.dialogs = [named(yard)]
    person.do("file.report")
    person.press("Open")
    person.press("Show folder")
    assert opened == [str(yard.parent / "report.xlsx"), str(yard.parent)]


def test_where_nothing_can_open_it_that_is_said(person, yard, monkeypatch):
    monkeypatch.setattr(QDesktopServices, "openUrl", lambda url: False)
    person.answers.dialogs = [named(yard)]
    person.do("file.report")
    person.press("Open")
    assert "no program that opens" in person.message()


# ---- open in another program


@pytest.fixture
def open_elsewhere(yard):
    """A workbook that an office program has open."""
    path = yard.parent / "report.xlsx"
    path.write_bytes(b"the old one")
    (yard.parent / ".~lock.report.xlsx#").write_text("Mara,mara,desk,02.03.2026 09:00,file:///x;")
    return path


def test_a_file_open_elsewhere_is_named_and_another_name_is_one_key_away(person, yard, open_elsewhere):
    seen = []

    def another(dialog):
        seen.append(in_words(dialog))
        QTest.keyClick(dialog, Qt.Key.Key_Return)

    person.answers.dialogs = [named(yard), another]
    person.do("file.report")
    assert person.answers.asked == ["ReportDialog", "HeldDialog"]
    assert ".~lock.report.xlsx#" in seen[0]
    assert "Mara" in seen[0]
    assert (yard.parent / "report (2).xlsx").read_bytes()[:2] == b"PK"
    assert open_elsewhere.read_bytes() == b"the old one"
    assert person.message() == f"Wrote report (2).xlsx in {yard.parent}"


def test_a_lock_that_was_left_behind_can_be_passed_over(person, yard, open_elsewhere):
    person.answers.dialogs = [named(yard), lambda dialog: press(dialog, "Replace it")]
    person.do("file.report")
    assert open_elsewhere.read_bytes()[:2] == b"PK"


def test_declined_the_old_file_stays_and_the_sentence_too(person, yard, open_elsewhere):
    person.answers.dialogs = [named(yard), cancel]
    person.do("file.report")
    assert open_elsewhere.read_bytes() == b"the old one"
    assert person.window.message.is_error()
    assert "report.xlsx" in person.message()


# ---- beside the window


def test_the_window_stays_usable_and_stop_leaves_the_old_file(yard, qapp, desk, monkeypatch):
    go_on = threading.Event()

    def slow(request, progress):
        while not go_on.wait(0.01):
            progress.step(1, 3)

    monkeypatch.setattr(reporting, "gather_content", slow)
    old = yard.parent / "report.xlsx"
    old.write_bytes(b"the old one")
    busy = Desk(desk.settings, lambda: ThreadPoolExecutor(2))
    try:
        person = busy.sit_down(yard)
        person.answers.dialogs = [named(yard)]
        person.do("file.report")
        wait_until(lambda: "step 1 of 3" in person.message(), "for progress")
        assert "findings" in person.message()
        person.do("view.table")
        assert person.checked("view.table")
        person.do("file.report")
        assert "being written" in person.message()
        person.press("Stop")
        assert person.message() == "Stopped; nothing was left half done."
        wait_until(lambda: not person.window.bridge.busy(), "for the job")
        assert old.read_bytes() == b"the old one"
        assert not list(yard.parent.glob(".report.*"))
    finally:
        go_on.set()
        busy.close_all()


def test_a_disk_that_refuses_is_told_and_the_sentence_stays(person, yard):
    (yard.parent / "report.xlsx").mkdir()
    person.answers.dialogs = [named(yard)]
    person.do("file.report")
    assert "A folder has this name" in person.message()
    assert person.window.message.is_error()


def test_a_board_that_is_only_read_can_be_reported(person, yard, desk):
    reader = desk.sit_down(yard)
    assert reader.session.read_only_reason != ""
    reader.press("Got it")
    reader.answers.dialogs = [named(yard)]
    reader.do("file.report")
    assert (yard.parent / "report.xlsx").exists()


# ---- the shop


def test_the_shop_is_typed_once_and_its_logo_shown(person, yard, tmp_path):
    Image.new("RGB", (300, 100), "red").save(tmp_path / "logo.jpg")

    def shop(dialog):
        filling(name="Salt & Sons")(dialog)
        press(dialog, "Choose a")

    def with_shop(dialog):
        press(dialog, "Your shop")
        return cancel(dialog)

    person.answers.files = [tmp_path / "logo.jpg"]
    person.answers.dialogs = [with_shop, shop]
    person.do("file.report")
    assert person.answers.asked == ["ReportDialog", "ShopDialog", "Your shop's logo"]
    kept = ReportChoices().shop()
    assert kept.name == "Salt & Sons"
    assert kept.logo[:4] == b"\x89PNG"


def test_what_is_no_picture_is_said_in_the_shop_and_the_shop_is_kept(person, yard, tmp_path):
    (tmp_path / "logo.png").write_bytes(b"no picture")
    said = []

    def shop(dialog):
        filling(name="Salt")(dialog)
        press(dialog, "Choose a")
        said.append(dialog.problem.text())

    person.answers.files = [tmp_path / "logo.png"]
    person.answers.dialogs = [lambda dialog: (press(dialog, "Your shop"), cancel(dialog))[1], shop]
    person.do("file.report")
    assert "logo.png: This is not a picture" in said[0]
    assert ReportChoices().shop().name == "Salt"


def test_a_logo_that_is_gone_is_told_when_the_report_is_written_and_it_is_written(person, yard, tmp_path):
    choices = ReportChoices()
    choices.keep_shop(Shop("Salt", "", b"a picture"))
    choices._logo_path().unlink()
    person.answers.dialogs = [named(yard)]
    person.do("file.report")
    assert "logo" in person.message()
    assert person.window.statusBar().currentMessage() == f"Wrote report.xlsx in {yard.parent}"
    assert (yard.parent / "report.xlsx").exists()
