"""The agreement screen: sentences, figures, the coupons they differ on, and agreeing on a grade."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace

import pytest
from graded_blind import grade_blind
from later import Later
from photographed_boards import middle
from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QAbstractButton, QComboBox, QLabel, QTableWidget
from window_driving import Desk, accept, cancel, grades_on_disk, gradings_on_disk, made_board, settle, wait_until

from rustboard.operations.coupons import edit_coupon
from rustboard.session.agreement import ALL_BLIND, Scope
from rustboard.session.session import Session
from rustboard.ui.agreement.grade_chip import DigitKey
from rustboard.ui.theme import SCHEMES, px_of_mm

TWICE = {
    "Ann": {"C01": (9, 9), "C02": (7, 6), "C03": (6, 6), "C04": (2, 5)},
    "Bo": {"C01": (9, 9), "C02": (6, 6), "C03": (2, 2), "C04": (2, 2)},
}


def screen_of(person):
    screen = person.window.agreement.screen
    assert screen is not None
    assert screen.isVisible()
    return screen


def said(person):
    return screen_of(person).words.sentences.text()


def listed(person):
    record = person.session.record
    return [record.coupons[row.differing.coupon].id for row in screen_of(person).coupons.list.rows()]


def chosen(person):
    return person.session.record.coupons[screen_of(person).coupons.list.row().differing.coupon].id


def counts(person):
    return screen_of(person).coupons.panel.counts.text()


# ---- coming and going


def test_the_action_brings_it_and_esc_leads_back(comparing):
    person = comparing()
    assert person.checked("inspection.agreement")
    person.key(Qt.Key.Key_Escape)
    assert person.page.isVisible()
    assert not person.checked("inspection.agreement")
    person.do("inspection.agreement")
    person.press("Bac&k to the board")
    assert person.page.isVisible()


def test_it_is_that_of_the_inspection_in_view_where_that_was_graded_blind(desk: Desk, tmp_path):
    folder = made_board(tmp_path / "Fence", inspections=2)
    with closing(Session(folder)) as session:
        for inspection in (1, 2):
            grade_blind(session, inspection, TWICE)
    person = desk.sit_down(folder)
    for inspection in (1, 2, 1):
        person.page.look_at(inspection)
        person.do("inspection.agreement")
        settle(8)
        assert screen_of(person).studied.scope == Scope("one", inspection)
        person.do("inspection.agreement")


def test_nothing_is_done_to_a_coupon_that_is_not_seen(comparing):
    person = comparing()
    assert not {"coupon.grade", "coupon.remove", "coupon.withdraw", "inspection.blind"} & person.enabled()


def test_the_plan_and_the_photos_take_its_place_and_give_it_back(comparing):
    person = comparing()
    person.do("board.plan")
    assert not person.window.agreement.is_shown()
    person.do("inspection.agreement")
    assert person.window.agreement.is_shown()
    assert not person.checked("board.plan")


@pytest.mark.parametrize(("graders", "shown"), [(("Ann", "Bo"), True), (("Ann",), False)])
def test_after_a_reveal_it_comes_where_there_is_anything_to_compare(desk: Desk, tmp_path, graders, shown):
    folder = made_board(tmp_path / "Fence", inspections=2)
    grades = {name: {"C01": 9, "C02": 7, "C03": 6, "C04": 2} for name in graders}
    with closing(Session(folder)) as session:
        grade_blind(session, 1, grades, revealed=False)
    desk.open(folder, new_window=True)
    window = desk.windows[-1]
    assert window.page is None
    assert "inspection.agreement" not in {n for n, a in window.actions_by_id.by_id.items() if a.isEnabled()}
    window.blind.blind_page.overview.sure.click()
    wait_until(lambda: window.page is not None, "for the board")
    settle(8)
    assert window.agreement.is_shown() is shown
    assert window.page.session.selection.inspection == 1
    if shown:
        assert (
            "Ann and Bo both graded 4 coupons: the same grade on 4" in window.agreement.screen.words.sentences.text()
        )


def test_second_looks_of_one_grader_are_enough(desk: Desk, tmp_path):
    folder = made_board(tmp_path / "Fence")
    with closing(Session(folder)) as session:
        grade_blind(session, 1, {"Ann": TWICE["Ann"]}, revealed=False)
    desk.open(folder, new_window=True)
    window = desk.windows[-1]
    window.blind.blind_page.overview.sure.click()
    wait_until(lambda: window.page is not None, "for the board")
    settle(8)
    assert window.agreement.is_shown()
    assert "Ann looked twice at 4 coupons" in window.agreement.screen.words.sentences.text()


# ---- words and figures


def test_the_sentences_come_first_under_their_headings(comparing):
    person = comparing(TWICE)
    words = screen_of(person).words
    assert words.currentWidget() is words.sentences
    lines = said(person).splitlines()
    headings = ["One grader twice", "Graders with one another", "Look again", "What this leans on"]
    assert [each for each in lines if each in headings] == headings
    assert "Look again at C03: Ann 6, Bo 2." in lines


def test_every_figure_says_in_plain_words_what_it_is_and_where_it_comes_from(comparing):
    person = comparing(TWICE)
    figures = screen_of(person).words.figures
    screen_of(person).words.setCurrentWidget(figures)
    rows = {}
    for at in range(figures.table.rowCount()):
        value = figures.table.item(at, 1).text()
        if value:
            rows.setdefault(figures.table.item(at, 0).text(), (at, value))
            assert len(figures.table.item(at, 1).toolTip()) > 40
    assert rows["Same grade"][1] == "2 of 4 (50 %)"
    assert {"At most one apart", "Kappa, linear", "Kappa, squared", "ICC(2,1)", "Error of one look"} <= set(rows)
    figures.table.setFocus()
    figures.table.setCurrentCell(rows["Kappa, linear"][0], 0)
    assert figures.explained.text().startswith("Kappa, linear: Agreement beyond chance")
    assert "Cohen 1968" in figures.explained.text()
    figures.table.setCurrentCell(0, 0)
    assert figures.explained.text().startswith("Choose a figure")


def test_the_grades_of_two_are_counted_grade_by_grade(comparing):
    person = comparing()
    crossed = screen_of(person).words.crossed
    screen_of(person).words.setCurrentWidget(crossed)
    settle()
    assert crossed.box.currentText() == "Ann and Bo"
    assert (crossed.grid.count(9, 9), crossed.grid.count(6, 2), crossed.grid.count(2, 6)) == (1, 1, 0)
    assert "Ann 6, Bo 2: 1" in crossed.grid.accessibleDescription()
    assert not crossed.grid.grab().isNull()


def test_of_three_graders_any_two_can_be_crossed(comparing):
    person = comparing({"Ann": {f"C0{n}": 9 for n in range(1, 5)}, "Bo": {f"C0{n}": 8 for n in range(1, 5)},
                        "Cy": {f"C0{n}": 7 for n in range(1, 5)}})  # fmt: skip
    crossed = screen_of(person).words.crossed
    screen_of(person).words.setCurrentWidget(crossed)
    crossed.box.setFocus()
    person.key(Qt.Key.Key_Down, Qt.Key.Key_Down)
    assert crossed.box.currentText() == "Bo and Cy"
    assert (crossed.grid.count(8, 7), crossed.grid.count(9, 7)) == (4, 0)


# ---- the coupons they differ on


def test_the_widest_difference_stands_first_and_is_shown_large(comparing):
    person = comparing(photos=True)
    assert listed(person) == ["C03", "C02"]
    assert chosen(person) == "C03"
    panel = screen_of(person).coupons.panel
    assert panel.given.text() == "Ann 6, Bo 2"
    assert [shot.grade for shot in panel.pictures.shots] == [None, 6, 2]
    assert [shot.who for shot in panel.pictures.shots] == ["", "Ann", "Bo"]
    assert all(shot.image is not None for shot in panel.pictures.shots)
    red, green = middle(panel.pictures.shots[0].image)
    assert abs(red - 200) < 12  # the first photo, which was graded from
    assert abs(green - 150) < 12  # the third coupon


def test_rows_say_everything_to_a_screen_reader_and_show_the_coupon(comparing):
    person = comparing(photos=True)
    coupons = screen_of(person).coupons
    index = coupons.list.model().index(0, 0)
    text = index.data(Qt.ItemDataRole.AccessibleTextRole)
    assert text == "A3 · C03. Ann 6, Bo 2. board 2, by the rule"
    assert coupons._thumbs.image(3, 1) is not None
    assert not coupons.list.grab().isNull()


def test_arrows_choose_the_next_coupon(comparing):
    person = comparing()
    person.key(Qt.Key.Key_Down)
    assert chosen(person) == "C02"
    assert screen_of(person).coupons.panel.given.text() == "Ann 7, Bo 6"


def test_a_coupon_chosen_here_is_chosen_on_the_other_screens_and_opening_chooses_none(comparing):
    person = comparing()
    before = person.session.selection.focus
    assert before != 3
    person.key(Qt.Key.Key_Down)
    assert person.session.selection.focus == 2
    person.key(Qt.Key.Key_Up, "5")
    assert person.session.selection.focus == 3


def test_a_grader_who_differs_from_himself_is_shown_with_both_grades(comparing):
    person = comparing(TWICE)
    assert listed(person) == ["C03", "C04", "C02"]
    person.key(Qt.Key.Key_Down)
    assert screen_of(person).coupons.panel.given.text() == "Ann 2, then 5, Bo 2, then 2"


# ---- agreeing


def test_a_digit_agrees_on_a_grade_and_both_are_kept_and_shown(comparing):
    person = comparing()
    assert counts(person) == "board 2, by the rule"
    person.key("5")
    assert counts(person) == "by the rule 2, agreed 5"
    assert chosen(person) == "C03", "one stays to talk on"
    folder = person.session.folder
    assert grades_on_disk(folder)["C03"] == "5"
    assert [(each.grade, each.source) for each in gradings_on_disk(folder, 3)] == [(2, "blind"), (5, "agreed")]
    person.do("edit.undo")
    assert counts(person) == "board 2, by the rule"
    assert person.window.agreement.is_shown()
    person.do("edit.redo")
    assert counts(person) == "by the rule 2, agreed 5"


def test_the_rule_is_stated_where_its_grade_stands(comparing):
    person = comparing()
    assert "of two middle ones, the worse" in screen_of(person).coupons.panel.counts.toolTip().replace("<br>", " ")


def test_agreeing_far_down_a_long_list_leaves_the_list_where_it_is(desk: Desk, tmp_path):
    folder = made_board(tmp_path / "Fence", coupons=40, rows=5, columns=8)
    ids = [f"C{number:02}" for number in range(1, 41)]
    with closing(Session(folder)) as session:
        grade_blind(session, 1, {"Ann": dict.fromkeys(ids, 8), "Bo": dict.fromkeys(ids, 6)})
    person = desk.sit_down(folder)
    person.do("inspection.agreement")
    person.key(*[Qt.Key.Key_Down] * 19)
    rows = screen_of(person).coupons.list
    before = rows.verticalScrollBar().value()
    assert before > 0
    assert chosen(person) == "C20"
    person.key("7")
    assert counts(person) == "by the rule 6, agreed 7"
    assert (chosen(person), rows.verticalScrollBar().value()) == ("C20", before)


@pytest.mark.parametrize(("key", "grade"), [("t", "10"), ("0", "0"), (Qt.Key.Key_9, "9")])
def test_ten_and_nought_have_their_keys(comparing, key, grade):
    person = comparing()
    person.key(key)
    assert grades_on_disk(person.session.folder)["C03"] == grade


def test_a_letter_goes_with_the_grade_and_corrects_the_agreed_one(comparing):
    person = comparing()
    person.key("g", "5")
    assert counts(person) == "by the rule 2, agreed 5-G"
    person.key("s")
    assert counts(person) == "by the rule 2, agreed 5-S"
    person.key("s")
    assert counts(person) == "by the rule 2, agreed 5"
    person.key("p", "t")
    assert counts(person) == "by the rule 2, agreed 10", "ten carries no letter"


def test_the_small_keys_are_large_enough_to_click(comparing):
    person = comparing()
    panel = screen_of(person).coupons.panel
    person.click(panel.keys[4])
    assert counts(person) == "by the rule 2, agreed 4"
    person.click(panel.letters["H"])
    assert counts(person) == "by the rule 2, agreed 4-H"
    least = px_of_mm(panel, 9.0)
    for key in (*panel.keys.values(), *panel.letters.values()):
        assert min(key.width(), key.height()) >= least - 1


def test_a_finger_alone_finds_everything(comparing, finger):
    person = comparing()
    screen = screen_of(person)
    room = person.window.screen().availableSize()  # Qt drops touches beside the screen
    person.resize(QSize(room.width() - 10, room.height() - 10))
    tabs = screen.words.tabBar()
    person.touch(tabs, tabs.tabRect(0).center(), finger)
    assert screen.coupons.isVisible()
    rows = screen.coupons.list
    person.touch(rows.viewport(), rows.visualRect(rows.model().index(1, 0)).center(), finger)
    assert chosen(person) == "C02"
    person.touch_widget(screen.coupons.panel.letters["G"], finger)
    person.touch_widget(screen.coupons.panel.keys[7], finger)
    assert counts(person) == "by the rule 6, agreed 7-G"


def test_keys_elsewhere_on_the_screen_agree_on_nothing(comparing):
    person = comparing()
    screen = screen_of(person)
    for widget in (screen.words.tabBar(), screen.words.figures.table, screen.head.box):
        widget.setFocus()
        person.key("5")
    assert grades_on_disk(person.session.folder)["C03"] == "2"


def test_whoever_may_only_read_sees_all_and_changes_nothing(comparing, desk):
    comparing()
    reader = desk.sit_down(desk.windows[0].page.session.folder)
    reader.do("inspection.agreement")
    assert listed(reader) == ["C03", "C02"]
    assert not screen_of(reader).coupons.panel.keys[5].isVisible()
    reader.key("5")
    assert grades_on_disk(reader.session.folder)["C03"] == "2"


def test_a_grade_given_openly_later_is_said_to_be_one(comparing):
    person = comparing()
    person.do("inspection.agreement")
    person.tap("A3")
    person.tap_grade(8)
    person.do("inspection.agreement")
    assert counts(person) == "by the rule 2, later graded openly 8"


# ---- choosing whose grades


def test_one_inspection_or_all_of_them(desk: Desk, tmp_path):
    folder = made_board(tmp_path / "Fence", inspections=2)
    with closing(Session(folder)) as session:
        grade_blind(session, 1, {"Ann": dict.fromkeys(("C01", "C02", "C03", "C04"), 9)})
        grade_blind(session, 2, TWICE)
    person = desk.sit_down(folder)
    person.do("inspection.agreement")
    box = screen_of(person).head.box
    assert box.count() == 3
    assert box.itemText(0).endswith("2 graders")
    assert box.itemText(1).endswith("1 grader")
    assert "Bo" in said(person)
    box.setFocus()
    person.key(Qt.Key.Key_Down)
    assert said(person).startswith("Nothing to compare\nOnly Ann graded, every coupon once.")
    assert listed(person) == []
    assert person.reads("They differ on no coupon.")
    person.key(Qt.Key.Key_Down)
    assert screen_of(person).studied.scope == ALL_BLIND
    assert screen_of(person).coupons.heading.text() == "They differ 3 times"
    assert screen_of(person).coupons.list.row().day != ""
    assert box.hasFocus()


def test_where_all_grades_are_one_there_is_no_figure_beyond_chance(comparing):
    alike = {name: dict.fromkeys(("C01", "C02", "C03", "C04"), 10) for name in ("Ann", "Bo")}
    person = comparing(alike)
    assert "All these grades are one and the same" in said(person)
    assert listed(person) == []
    figures = screen_of(person).words.figures.table
    assert "none: all grades are one and the same" in {figures.item(at, 1).text() for at in range(figures.rowCount())}


# ---- nothing graded blind yet


def test_without_blind_grades_it_says_what_they_are_and_begins_one(person):
    person.do("inspection.agreement")
    assert person.reads("No inspection was graded blind yet")
    person.answers.dialogs = [cancel]
    person.key(Qt.Key.Key_Space)
    assert person.answers.asked == ["StartBlindDialog"]
    assert person.window.agreement.is_shown()
    person.press("Grade bl&ind")
    assert person.answers.asked == ["StartBlindDialog"] * 2
    person.key(Qt.Key.Key_Escape)
    assert person.page.isVisible()


def test_without_an_inspection_it_says_what_comes_first(tmp_path, sitting_at):
    person = sitting_at(made_board(tmp_path / "b", inspections=0))
    person.do("inspection.agreement")
    assert person.reads("Add an inspection first")
    assert not screen_of(person).empty.begin.isEnabled()


def test_beginning_from_here_hides_the_board_and_nothing_of_this_screen_is_left(person):
    person.do("inspection.agreement")
    person.answers.dialogs = [accept]
    person.press("Grade bl&ind")
    wait_until(lambda: person.window.page is None, "for the board to be hidden")
    settle(8)
    assert person.window.agreement.screen is None
    assert person.window.blind.blind_page.isVisible()
    assert "inspection.agreement" not in person.enabled()


# ---- what happens meanwhile


def test_an_answer_that_comes_late_is_shown_and_after_leaving_nothing_happens(tmp_path, settings_desk):
    desk, later = settings_desk
    folder = made_board(tmp_path / "Fence")
    with closing(Session(folder)) as session:
        grade_blind(session, 1, TWICE)
    person = desk.sit_down(folder)
    later.run()
    person.do("inspection.agreement")
    assert screen_of(person).head.state.text() == "Comparing the grades…"
    later.run()
    wait_until(lambda: listed(person), "for the study")
    assert screen_of(person).head.state.text() == ""
    person.do("board.plan")
    person.do("inspection.agreement")
    person.do("file.shelf")
    later.run()
    assert person.window.page is None


@pytest.fixture
def settings_desk(qapp, tmp_path, desk):
    """A desk whose jobs run when a test says so."""
    later = Later()
    desk._executor = lambda: later
    return desk, later


def test_a_coupon_renamed_elsewhere_has_its_new_name(comparing):
    person = comparing()
    coupon = person.session.record.coupons[3]
    person.window.do(edit_coupon, replace(coupon, id="<b>N7</b>"))
    assert "Look again at <b>N7</b>: Ann 6, Bo 2." in said(person).splitlines()
    assert listed(person)[0] == "<b>N7</b>"
    titles = [each for each in screen_of(person).findChildren(QLabel) if "N7" in each.text()]
    assert titles
    assert all(each.textFormat() == Qt.TextFormat.PlainText for each in titles)


# ---- for everybody


def test_every_control_has_a_name_and_sentences_are_never_taken_for_markup(comparing):
    person = comparing(TWICE)
    screen = screen_of(person)
    for kind in (QAbstractButton, QComboBox, QTableWidget):
        for each in screen.findChildren(kind):
            named = each.accessibleName() or getattr(each, "text", str)()
            inside = isinstance(each.parent(), QTableWidget | QComboBox) or each.objectName().startswith("qt_")
            assert named or inside or not each.isVisible() or "Scroll" in type(each.parent()).__name__, each
    for label in screen.words.sentences.findChildren(QLabel):
        assert label.textFormat() == Qt.TextFormat.PlainText
    assert all(isinstance(key, DigitKey) and key.toolTip() for key in screen.coupons.panel.keys.values())


@pytest.mark.parametrize("scheme", SCHEMES)
def test_it_follows_the_colours(comparing, scheme):
    person = comparing(TWICE, photos=True)
    screen = screen_of(person)
    before = screen.grab().toImage()
    person.do(f"view.{scheme}")
    for at in range(screen.words.count()):
        screen.words.setCurrentIndex(at)
        settle()
        assert not screen.grab().isNull()
    screen.words.setCurrentIndex(0)
    settle()
    assert (screen.grab().toImage() == before) is (scheme == "light")


def test_in_a_small_window_the_coupons_are_a_tab(comparing):
    person = comparing(TWICE)
    person.resize(QSize(720, 480))
    screen = screen_of(person)
    assert [screen.words.tabText(at).replace("&", "") for at in range(screen.words.count())] == [
        "Coupons",
        "In words",
        "Figures",
        "Grade by grade",
    ]
    screen.words.setCurrentIndex(0)
    screen.coupons.list.setFocus()
    person.key("4")
    assert counts(person) == "by the rule 2, agreed 4"
    person.resize(QSize(1366, 768))
    assert screen.words.count() == 3
    assert screen.coupons.isVisible()
    assert screen.words.isVisible()
