"""The page of coupons: what each came to, whether it counts, and what can be asked for."""

import pytest
from judged_boards import judged_board
from PySide6.QtCore import QLocale, Qt
from table_pages import column, first_of, wax_and_oil

from rustboard.board.left_out import LeftOut
from rustboard.ui.findings.coupons_page import CouponsPage
from rustboard.ui.theme import LIGHT


@pytest.fixture(autouse=True)
def plain_numbers():
    before = QLocale()
    QLocale.setDefault(QLocale.c())
    yield
    QLocale.setDefault(before)


@pytest.fixture
def page(qtbot):
    page = CouponsPage(LIGHT)
    qtbot.addWidget(page)
    page.resize(900, 600)
    page.show()
    return page


def choose(page, coupon):
    page.figures.table.setCurrentCell([each.key for each in page.figures.rows].index(coupon), 0)


def without(record, coupon):
    record.left_out = {1: LeftOut(1, coupon, "bent in the wind", "Ann", "2026-03-02T09:00:00")}
    return record


def test_buttons_fit_the_chosen_coupon_and_the_board(page):
    page.show_findings(first_of(without(wax_and_oil(), 101)))
    assert not page.leave.isEnabled()

    choose(page, 100)
    assert (page.leave.isEnabled(), page.take.isEnabled()) == (True, False)
    choose(page, 101)
    assert (page.leave.isEnabled(), page.take.isEnabled()) == (False, True)
    assert "Left out, because: bent in the wind" in page.figures.told.text()

    page.set_writable(False)
    assert (page.leave.isEnabled(), page.take.isEnabled(), page.show_button.isEnabled()) == (False, False, True)


def test_enter_and_a_double_click_show_the_coupon_on_the_board(page, qtbot):
    page.show_findings(first_of(wax_and_oil()))
    choose(page, 201)

    with qtbot.waitSignal(page.show_asked) as asked:
        qtbot.keyClick(page.figures.table, Qt.Key.Key_Return)
    assert asked.args == [frozenset({201})]

    table = page.figures.table
    place = table.visualItemRect(table.item(0, 1)).center()
    qtbot.mouseClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    with qtbot.waitSignal(page.show_asked) as asked:
        qtbot.mouseDClick(table.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert asked.args == [frozenset({100})]


def test_after_sorting_the_chosen_coupon_is_still_the_one_asked_for(page, qtbot):
    page.show_findings(first_of(wax_and_oil()))
    choose(page, 100)
    page.figures.sort_by(3, downward=False)

    assert page.coupon() == 100
    with qtbot.waitSignal(page.leave_out_asked) as asked:
        page.leave.click()
    assert asked.args == [100]


def test_what_has_not_failed_sorts_after_all_that_have(page):
    page.show_findings(first_of(wax_and_oil()))
    page.figures.sort_by(5, downward=False)

    failed = column(page.figures, "Failed")
    assert failed[0] == "0 to 10"
    assert failed[-1].startswith("not by")


def test_a_coupon_is_told_with_when_it_failed_and_that_it_was_better_later(page):
    page.show_findings(
        first_of(judged_board({"wax": [[9, 5, 8], [9, 9, 9]], "oil": [[7, 6, 5]] * 2}, days=(5, 10, 20)))
    )
    choose(page, 100)

    told = page.figures.told.text()
    assert "C100: failed between day 5 and day 10; graded 3 times." in told
    assert "Rust does not go back" in told


def test_a_coupon_unlike_its_replicates_has_its_figure(page):
    odd = {"wax": [9, 9, 9, 9, 9, 9, 2], "oil": [6, 6, 7, 6, 6, 7, 6]}
    found = first_of(judged_board(odd, days=(30,), method="hand"))
    flag = found.doubts.odd[0]
    page.show_findings(found)
    choose(page, flag.coupon)

    assert flag.coupon == 106
    assert f"{flag.test} −{abs(flag.statistic):.2f}".rstrip("0") in page.figures.told.text().replace("-", "−")
