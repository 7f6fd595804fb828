"""The page of treatments: the best first, with what each is best for and told when it failed."""

import pytest
from judged_boards import judged_board
from PySide6.QtCore import QLocale
from table_pages import column, wax_and_oil, whole_of

from rustboard.ui.findings.treatments_page import TreatmentsPage
from rustboard.ui.theme import LIGHT


@pytest.fixture(autouse=True)
def plain_numbers():
    before = QLocale()
    QLocale.setDefault(QLocale.c())
    yield
    QLocale.setDefault(before)


@pytest.fixture
def page(qtbot):
    page = TreatmentsPage(LIGHT)
    qtbot.addWidget(page)
    return page


def test_best_first_with_what_they_are_best_for(page):
    page.show_findings(whole_of(wax_and_oil()))

    assert column(page, "Treatment")[:2] == ["wax", "oil"]
    # Wax protects better and is quicker; oil costs less, and nothing as cheap did as well.
    assert column(page, "Best for")[:2] == ["money and time", "money"]
    assert column(page, "Best for")[2] == "–"


def test_the_interval_of_the_median_tells_its_confidence(page):
    page.show_findings(whole_of(wax_and_oil()))

    # Of 3 coupons the first and the last hold the median between them 1 - 2 / 2^3 = 75 times in 100.
    assert column(page, "Interval")[2].endswith("(75 %)")
    assert column(page, "Interval")[0] == "–"


def test_the_chosen_treatment_is_told_in_words(page):
    page.show_findings(whole_of(wax_and_oil()))
    page.table.setCurrentCell(0, 0)

    told = page.told.text()
    assert "wax: 3 coupons count, 9, 9, 8 grades." in told
    assert "None of the 3 coupons of wax had failed at day 30." in told
    assert "wax costs 4 for a square metre, and nothing cheaper came out as well" in told
    assert "oil" not in told


def test_one_coupon_is_told_as_one_and_no_price_as_none(page):
    page.show_findings(whole_of(judged_board({"wax": [9], "oil": [5, 6]}, days=(30,))))
    page.table.setCurrentCell(0, 0)

    told = page.told.text()
    assert "wax: 1 coupon counts, 9 grades." in told
    assert "Neither cost nor minutes are written down with it." in told


def test_a_board_without_groups_says_so(page, qtbot):
    page.show()
    page.show_findings(whole_of(judged_board({})))

    assert page.none.isVisible()
    assert page.none.text() == "No coupon hangs on the board."
