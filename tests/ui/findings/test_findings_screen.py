"""The findings screen: sentences, tables that say how each figure was got, and the way to the coupons."""

from __future__ import annotations

from contextlib import closing

import pytest
from fence_board import compared_board
from later import Later
from PySide6.QtCore import QLocale, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QLabel
from window_driving import Desk, filling, graded, made_board, settle

from rustboard.operations.leaving_out import leave_out
from rustboard.session.session import Session
from rustboard.ui.findings.figure_words import interval, p_text, shown, signed
from rustboard.ui.theme import SCHEMES


def screen_of(person):
    screen = person.window.findings.screen
    assert screen is not None
    assert screen.isVisible()
    return screen


def turn_to(person, page):
    screen_of(person).tabs.setCurrentWidget(page)
    settle()


def cells(figures, row):
    return dict(zip((each.title for each in figures._columns), figures.rows[row].cells, strict=True))


def choose(box, text):
    at = box.findText(text)
    assert at >= 0, [box.itemText(each) for each in range(box.count())]
    box.setCurrentIndex(at)
    box.activated.emit(at)
    settle(8)


# ---- words and tables


def test_verdict_and_tables_tell_the_same_difference(reading):
    person = reading()
    screen = screen_of(person)
    assert "Beeswax blend did better than control" in screen.verdict.text()
    row = cells(screen.comparisons, 0)
    assert (row["First"], row["Second"], row["Difference"], row["So"]) == (
        "beeswax blend", "control", "+8", "first is better",
    )  # fmt: skip
    # Of 6 coupons 3 and 3 there are 20 lots; two of them (one each way) are as far apart, so the least p is 2 in 20.
    assert (row["Exact p"], row["Smallest p"]) == ("0.10", "0.10")
    best = cells(screen.treatments, 0)
    assert (best["Treatment"], best["n"], best["Mean"], best["Median"], best["Spread"], best["Failed"]) == (
        "beeswax blend", "3", "8.7", "9", "0.58", "0 of 3",
    )  # fmt: skip
    assert best["Half failed at"] == "not yet"
    assert cells(screen.treatments, 1)["Cost"] == "2"


def test_a_click_on_a_figure_says_how_it_was_got(reading):
    screen = screen_of(reading())
    figures = screen.comparisons
    titles = [each.title for each in figures._columns]
    assert "Choose a figure" in figures.told.text()
    for title, words in (("Smallest p", "could ever give"), ("95 % interval", "95 times in 100")):
        figures.table.setCurrentCell(0, titles.index(title))
        assert words in figures.told.text()
        assert "20 ways" in figures.told.text()
        assert "Dunnett" in figures.told.text()


def test_every_figure_of_every_table_says_how_it_was_got(reading):
    screen = screen_of(reading())
    for figures in (screen.comparisons, screen.treatments, screen.coupons.figures, screen.doubts.expected):
        assert figures.rows
        assert [each.title for each in figures._columns if each.is_figure and not each.how] == []


def test_tables_and_verdict_can_be_copied_as_text(reading):
    person = reading()
    screen = screen_of(person)
    screen.treatments.copy_button.click()
    lines = QGuiApplication.clipboard().text().splitlines()
    assert lines[0].split("\t")[:3] == ["Treatment", "n", "Mean"]
    assert lines[1].split("\t")[:3] == ["beeswax blend", "3", "8.7"]
    assert person.message() == "3 rows are on the clipboard."
    screen.verdict.copy.click()
    assert "Before you trust this" in QGuiApplication.clipboard().text()


# ---- coupons and doubts


def test_a_coupon_is_left_out_from_the_table_and_taken_back_in(reading):
    person = reading()
    screen = screen_of(person)
    turn_to(person, screen.coupons)
    assert not screen.coupons.leave.isEnabled()
    screen.coupons.figures.table.setCurrentCell(0, 0)
    person.answers.dialogs = [filling(reason="fell off in the storm")]
    screen.coupons.leave.click()
    settle(8)
    assert cells(screen.coupons.figures, 0)["Counts"] == "left out: fell off in the storm"
    assert "fell off in the storm" in screen.coupons.figures.told.text()
    assert cells(screen.treatments, 0)["n"] == "2"
    assert not screen.coupons.leave.isEnabled()
    screen.coupons.take.click()
    settle(8)
    assert cells(screen.coupons.figures, 0)["Counts"].startswith("yes")
    assert cells(screen.treatments, 0)["n"] == "3"


def test_a_coupon_is_shown_on_the_board(reading):
    person = reading()
    screen = screen_of(person)
    turn_to(person, screen.coupons)
    screen.coupons.figures.table.setCurrentCell(4, 0)
    screen.coupons.show_button.click()
    assert person.page.isVisible()
    assert person.session.selection.coupons == {5}


def test_a_doubt_that_names_coupons_shows_them_on_the_board(reading):
    person = reading()
    screen = screen_of(person)
    for page in (screen.verdict, screen.doubts):
        person.window.findings.show_screen()
        turn_to(person, page)
        naming = [each for each in page.sayings() if each.coupons]
        assert naming
        naming[0].show_button.click()
        assert person.page.isVisible()
        assert person.session.selection.coupons == naming[0].coupons


def test_every_caution_has_its_weight_in_a_word(reading):
    screen = screen_of(reading())
    assert screen.verdict.sayings()
    for saying in [*screen.verdict.sayings(), *screen.doubts.sayings()]:
        assert saying.findChildren(QLabel)[0].text() in {"serious", "caution", "note"}


# ---- looking at it otherwise


def test_another_failing_grade_changes_who_has_failed_and_says_that_the_question_asks_otherwise(reading):
    person = reading()
    screen = screen_of(person)
    choose(screen.head.failing, "9")
    assert cells(screen.treatments, 0)["Failed"] == "3 of 3"
    assert screen.head.own.isVisible()
    screen.head.own.click()
    settle(8)
    assert cells(screen.treatments, 0)["Failed"] == "0 of 3"


def test_all_pairs_are_compared_when_chosen(reading):
    screen = screen_of(reading())
    assert [each.cells[:2] for each in screen.comparisons.rows] == [("beeswax blend", "control"), ("oil", "control")]
    choose(screen.head.compared, "All pairs")
    assert [each.cells[:2] for each in screen.comparisons.rows] == [("beeswax blend", "oil")]


def test_choices_are_hidden_beside_the_page_of_several_boards(reading):
    person = reading()
    screen = screen_of(person)
    screen.tabs.setCurrentIndex(screen.tabs.count() - 1)
    settle()
    assert not screen.head.failing.isVisible()
    screen.tabs.setCurrentIndex(0)
    settle()
    assert screen.head.failing.isVisible()


# ---- work beside the window


def test_first_without_exact_tests_and_stopping_keeps_what_is_there(qapp, tmp_path, desk: Desk):
    folder = compared_board(tmp_path / "Fence")
    later = Later()
    waiting = Desk(desk.settings, executor=lambda: later)
    person = waiting.sit_down(folder)
    try:
        later.run()
        person.do("findings.show")
        while not screen_of(person).comparisons.rows:
            later.waiting.pop(0)()
            settle()
        screen = screen_of(person)
        assert cells(screen.comparisons, 0)["Exact p"] == "…"
        assert screen.head.stop.isVisible()
        screen.head.stop.click()
        later.run()
        assert cells(screen.comparisons, 0)["Exact p"] == "…"
        screen.head.again.click()
        later.run()
        settle(8)
        assert cells(screen.comparisons, 0)["Exact p"] == "0.10"
        assert not screen.head.again.isVisible()
    finally:
        waiting.close_all()
        settle()


# ---- what cannot be said


def test_nothing_graded_says_what_to_do(desk: Desk, tmp_path):
    person = desk.sit_down(made_board(tmp_path / "Fence"))
    person.do("findings.show")
    settle(8)
    assert person.reads("No coupon of this board was graded yet")


@pytest.mark.parametrize("grades", [{"C01": 10}, {"C01": 0, "C02": 0, "C03": 0, "C04": 0}, {"C01": 10, "C02": 10}])
def test_one_treatment_without_controls_shows_every_page_without_a_number_that_is_none(desk: Desk, tmp_path, grades):
    person = desk.sit_down(graded(made_board(tmp_path / "Fence"), 1, grades))
    person.do("findings.show")
    settle(8)
    screen = screen_of(person)
    for number in range(screen.tabs.count() - 1):
        screen.tabs.setCurrentIndex(number)
        settle()
        said = " ".join(each.text() for each in screen.findChildren(QLabel))
        assert "nan" not in said.split()
        assert "inf" not in said.split()
    assert "nothing to compare" in screen.comparisons.none.text()


def test_on_a_board_for_reading_only_nothing_can_be_left_out(desk: Desk, tmp_path):
    folder = compared_board(tmp_path / "Fence")
    with closing(Session(folder)) as holder:
        holder.do(leave_out, 2, "scratched")
        person = desk.sit_down(folder)
        person.do("findings.show")
        settle(8)
        page = screen_of(person).coupons
        for row in range(2):
            page.figures.table.setCurrentCell(row, 0)
            assert not page.leave.isEnabled()
            assert not page.take.isEnabled()


@pytest.mark.parametrize("width", [1366, 683])
def test_the_screen_asks_for_no_more_room_than_a_small_window_has(reading, width):
    person = reading()
    person.window.resize(width, 384 if width == 683 else 768)
    settle()
    for number in range(screen_of(person).tabs.count()):
        screen_of(person).tabs.setCurrentIndex(number)
        settle()
    assert person.window.width() == width


def test_esc_leads_back_and_schemes_change_in_view(reading):
    person = reading()
    for scheme in SCHEMES.values():
        person.window.set_scheme(scheme)
        settle()
    person.key(Qt.Key.Key_Escape)
    assert person.page.isVisible()


# ---- figures in words


def test_figures_are_written_as_people_write_them():
    QLocale.setDefault(QLocale(QLocale.Language.German))
    try:
        assert (shown(1.36), shown(None), shown(float("nan")), shown(-0.04)) == ("1,4", "–", "–", "0")
        assert (signed(2.0), signed(-1.5)) == ("+2", "−1,5")
        assert (interval(1.0, None), interval(None, None), interval(1.0, 2.5)) == ("1 or more", "–", "1 to 2,5")
        assert (p_text(0.1), p_text(0.00001), p_text(0.3, at_least=True)) == ("0,10", "below 0,0001", "0,30 or more")
    finally:
        QLocale.setDefault(QLocale.c())
