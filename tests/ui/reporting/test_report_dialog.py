"""Asking for a report: what is offered, what is grey and why, what is asked for in the end."""

from __future__ import annotations

from datetime import date

import pytest
from PySide6.QtCore import QPoint, QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QLabel, QLineEdit, QPushButton

from rustboard.report.choice import PARTS, ReportChoice, writing_named
from rustboard.session.report_choices import RememberedReport
from rustboard.session.report_forms_wanted import FormWanted
from rustboard.ui.reporting.dialog import ReportDialog, ReportedBoard

ON_THE_BOX = QPoint(8, 8)
DAY = date(2026, 3, 2)
CHOICE = ReportChoice(frozenset({"summary", "photos"}), writing_named("points"), "Letter", "rain")
NEW = RememberedReport()
REMEMBERED = RememberedReport(CHOICE, (FormWanted("pdf", ".pdf"), FormWanted("board", ".svg")), True, True)


@pytest.fixture
def shown(qtbot, tmp_path):
    """Shows the dialog of a board that has everything, but for what is named."""

    def show(remembered=NEW, customer="Harbour Ltd", parts=None, clocks=None) -> ReportDialog:
        folder = tmp_path / "Quay"
        (folder / "photos").mkdir(parents=True)
        board = ReportedBoard("Quay", customer, folder, parts or {}, clocks or {})
        dialog = ReportDialog(board, remembered, DAY)
        qtbot.addWidget(dialog)
        dialog.show()
        qtbot.waitExposed(dialog)
        dialog.activateWindow()
        QTest.qWaitForWindowActive(dialog)
        return dialog

    return show


def press(dialog, text):
    (button,) = [each for each in dialog.findChildren(QPushButton) if each.text().replace("&", "") == text]
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def said(dialog) -> str:
    return "\n".join(each.text() for each in dialog.findChildren(QLabel))


def names(dialog) -> list[str]:
    return [each.path.name for each in dialog.asked().targets]


def test_enter_writes_what_was_chosen_last(shown, tmp_path):
    dialog = shown(REMEMBERED)
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Return)
    assert not dialog.isVisible()
    asked = dialog.asked()
    assert (asked.choice, asked.forms, asked.remembered) == (CHOICE, REMEMBERED.forms, CHOICE)
    assert [each.path for each in asked.targets] == [
        tmp_path / "Quay" / "Quay 2026-03-02.pdf",
        tmp_path / "Quay" / "Quay 2026-03-02, board.svg",
    ]


def test_at_first_everything_is_ticked_and_the_workbook_written(shown):
    dialog = shown()
    QTest.keyClick(QApplication.focusWidget(), Qt.Key.Key_Enter)
    assert dialog.asked().choice == ReportChoice()
    assert names(dialog) == ["Quay 2026-03-02.xlsx"]


@pytest.mark.parametrize(
    ("remembered", "customer", "words"),
    [
        (RememberedReport(), "Harbour Ltd", "is remembered for Harbour Ltd"),
        (REMEMBERED, "Harbour Ltd", "As remembered for Harbour Ltd"),
        (RememberedReport(any=True), "Harbour Ltd", "As chosen for the last report"),
        (RememberedReport(), "", "names no customer"),
    ],
)
def test_it_says_for_whom_the_choice_is_remembered(shown, remembered, customer, words):
    assert words in said(shown(remembered, customer))


def test_what_the_board_has_nothing_for_is_grey_with_the_reason_and_keeps_its_tick(shown):
    dialog = shown(REMEMBERED, parts={"photos": "no photo", "value": "no cost"})
    photos, value = dialog.parts.tick_of("photos"), dialog.parts.tick_of("value")
    assert (photos.isEnabled(), photos.text()) == (False, "Photos – no photo yet")
    assert (value.isEnabled(), value.isChecked()) == (False, False)
    press(dialog, "None")
    QTest.mouseClick(dialog.parts.tick_of("map"), Qt.MouseButton.LeftButton, pos=ON_THE_BOX)
    dialog.accept()
    assert dialog.asked().choice.parts == {"photos", "map"}, "the next board of this customer may have photos"


def test_a_clock_the_board_cannot_be_told_by_says_why_and_is_remembered_all_the_same(shown):
    dialog = shown(REMEMBERED, clocks={"rain": "no weather", "wet hours": "no weather"})
    assert "Rain, mm: No weather is known yet" in said(dialog)
    assert dialog.clock.currentData() == "days"
    assert not dialog.clock.model().item(dialog.clock.findData("rain")).isEnabled()
    dialog.accept()
    assert (dialog.asked().choice.clock, dialog.asked().remembered.clock) == ("days", "rain")


def test_a_clock_chosen_by_hand_takes_the_place_of_the_remembered_one(shown):
    dialog = shown(REMEMBERED, clocks={"rain": "no weather", "wet hours": "no weather"})
    dialog.clock.setFocus()
    QTest.keyClick(dialog.clock, Qt.Key.Key_End)
    dialog.accept()
    assert (dialog.asked().choice.clock, dialog.asked().remembered.clock) == ("controls", "controls")


def test_everything_can_be_chosen_by_keys(shown, qtbot):
    dialog = shown()
    alt = Qt.KeyboardModifier.AltModifier
    for letter in "WDOBTV":  # the workbook off, all others on
        QTest.keyClick(dialog, letter, alt)
    qtbot.waitUntil(lambda: len(dialog.forms.chosen()) == 5)  # a box pressed by its letter is let go a little later
    for field, key in ((dialog.writing, Qt.Key.Key_End), (dialog.paper, Qt.Key.Key_End)):
        field.setFocus()
        QTest.keyClick(field, key)
    QTest.keyClick(dialog, "N", alt)
    qtbot.waitUntil(lambda: not dialog.parts.ticked())
    QTest.keyClick(dialog, "A", alt)
    qtbot.waitUntil(lambda: dialog.parts.ticked() == set(PARTS))
    QTest.keyClick(dialog, "M", alt)
    assert dialog.name_line.hasFocus()
    dialog.name_line.selectAll()
    QTest.keyClicks(dialog.name_line, "for Mara")
    QTest.keyClick(dialog.name_line, Qt.Key.Key_Return)
    assert names(dialog) == [
        "for Mara.pdf", "for Mara, one page.pdf", "for Mara, board.png", "for Mara, timeline.png", "for Mara, data",
    ]  # fmt: skip
    choice = dialog.asked().choice
    assert (choice.parts, choice.writing.name, choice.paper) == (frozenset(PARTS), "spaces", "Letter")


def test_the_kind_of_file_can_be_chosen_once_the_form_is_ticked(shown):
    dialog = shown()
    field = dialog.forms.kind_field("one page")
    assert not field.isEnabled()
    QTest.mouseClick(dialog.forms.tick_of("one page"), Qt.MouseButton.LeftButton, pos=ON_THE_BOX)
    field.setFocus()
    QTest.keyClick(field, Qt.Key.Key_End)
    dialog.accept()
    assert names(dialog) == ["Quay 2026-03-02.xlsx", "Quay 2026-03-02, one page.svg"]


def test_numbers_and_dates_are_shown_as_they_will_be_written(shown):
    dialog = shown()
    shown_ones = [dialog.writing.itemText(each) for each in range(dialog.writing.count())]
    assert "02.03.2026, 1.234,5" in shown_ones


def test_reset_ticks_every_part_again_and_leaves_forms_and_paper(shown):
    dialog = shown(REMEMBERED)
    press(dialog, "Reset to all")
    dialog.accept()
    assert dialog.asked().choice == ReportChoice(paper="Letter")
    assert dialog.asked().forms == REMEMBERED.forms


def test_nothing_to_write_is_no_report(shown):
    dialog = shown()
    QTest.mouseClick(dialog.forms.tick_of("workbook"), Qt.MouseButton.LeftButton, pos=ON_THE_BOX)
    dialog.accept()
    assert dialog.isVisible()
    assert "at least one form" in dialog.problem.text()


def test_no_part_is_no_report_but_pictures_need_none(shown):
    dialog = shown()
    press(dialog, "None")
    dialog.accept()
    assert "at least one part" in dialog.problem.text()
    dialog.forms.choose([FormWanted("board", ".png")])
    dialog.accept()
    assert names(dialog) == ["Quay 2026-03-02, board.png"]


@pytest.mark.parametrize(
    ("folder", "name", "words"),
    [
        ("", "a/b", "holds none of"),
        ("", "", "needs a name"),
        ("nowhere", "a", "no such folder"),
        ("photos", "a", "board's own files"),
    ],
)
def test_a_place_that_cannot_be_is_named_and_the_dialog_stays(shown, tmp_path, folder, name, words):
    dialog = shown()
    dialog.folder_line.setText(str(tmp_path / "Quay" / folder))
    dialog.name_line.setText(name)
    dialog.accept()
    assert dialog.isVisible()
    assert words in dialog.problem.text()


def test_files_that_are_there_already_are_named_before_they_are_replaced(shown, tmp_path):
    dialog = shown()
    (tmp_path / "Quay" / "again.xlsx").write_bytes(b"")
    dialog.name_line.setText("again")
    assert "Already there, and replaced: again.xlsx" in said(dialog)


def test_everything_has_a_name_and_can_be_reached_by_tab(shown):
    dialog = shown()
    fields = [*dialog.findChildren(QComboBox), dialog.folder_line, dialog.name_line]
    assert all(each.accessibleName() for each in fields)
    seen, widget = set(), dialog.ok_button()
    while widget not in seen:
        seen.add(widget)
        widget = widget.nextInFocusChain()
    buttons = [each for each in dialog.findChildren(QPushButton) if each.isVisible()]
    assert seen.issuperset({*fields, *buttons, *dialog.findChildren(QCheckBox)})


def test_no_two_things_share_a_letter(shown):
    dialog = shown()
    texts = [each.text() for kind in (QPushButton, QCheckBox, QLabel) for each in dialog.findChildren(kind)]
    letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text.replace("&&", "")]
    assert len(letters) == len(set(letters)), sorted(letters)


@pytest.mark.parametrize("size", [QSize(683, 384), QSize(420, 300), QSize(1366, 768)])
def test_in_a_small_window_everything_can_be_scrolled_to_and_nothing_is_cut_off(shown, size, qapp):
    dialog = shown(parts={"graders": "one grader"}, clocks={"rain": "no weather"})
    dialog.resize(size)
    qapp.processEvents()
    inside, view = dialog._inside, dialog._scroll.viewport()
    assert inside.width() <= view.width()
    for each in (*dialog.findChildren(QCheckBox), *dialog.findChildren(QLineEdit), *dialog.findChildren(QComboBox)):
        right = each.mapTo(inside, each.rect().topRight()).x()
        assert right <= inside.width()
        assert each.width() >= min(each.minimumSizeHint().width(), inside.width() - 60)
    for button in (dialog.ok_button(),):
        assert dialog.rect().contains(button.geometry())
