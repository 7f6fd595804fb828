"""The page of comparisons: sorted, told in words, copied safely, and honest while the exact tests are not there."""

import pytest
from judged_boards import judged_board
from PySide6.QtCore import QLocale, Qt
from PySide6.QtGui import QGuiApplication
from table_pages import click_head, column, first_of, wax_and_oil, whole_of

from rustboard.ui.findings.comparisons_page import ComparisonsPage
from rustboard.ui.findings.figures_grid import sorted_places
from rustboard.ui.theme import LIGHT, px_of_mm


@pytest.fixture(autouse=True)
def plain_numbers():
    before = QLocale()
    QLocale.setDefault(QLocale.c())
    yield
    QLocale.setDefault(before)


@pytest.fixture
def page(qtbot):
    page = ComparisonsPage(LIGHT)
    qtbot.addWidget(page)
    page.resize(1000, 600)
    page.show()
    return page


def test_before_anything_is_worked_out_it_says_so_and_nothing_can_be_copied(page):
    assert page.none.isVisible()
    assert page.none.text()
    assert not page.copy_button.isEnabled()


def test_exact_columns_wait_and_say_why(page):
    page.show_findings(first_of(wax_and_oil()))

    assert column(page, "Exact p") == ["…", "…"]
    at = [each.title for each in page._columns].index("Exact p")
    assert "Still being worked out" in page.table.item(0, at).toolTip()

    page.show_findings(whole_of(wax_and_oil()))

    # 3 against 3 coupons without equal sums elsewhere: 2 of 20 arrangements are as far apart.
    assert column(page, "Exact p") == ["0.10", "0.10"]
    assert column(page, "Smallest p") == ["0.10", "0.10"]


def test_a_click_on_a_head_sorts_up_then_down_then_as_it_was(page, qtbot):
    page.show_findings(whole_of(wax_and_oil()))
    given = column(page, "First")
    assert given == ["wax", "oil"]

    click_head(qtbot, page, "Difference")
    assert column(page, "First") == ["oil", "wax"]
    click_head(qtbot, page, "Difference")
    assert column(page, "First") == ["wax", "oil"]
    assert page.table.horizontalHeader().isSortIndicatorShown()
    click_head(qtbot, page, "Difference")
    assert column(page, "First") == given
    assert not page.table.horizontalHeader().isSortIndicatorShown()


def test_keys_sort_by_the_column_of_the_chosen_figure_and_the_row_stays_chosen(page, qtbot):
    page.show_findings(whole_of(wax_and_oil()))
    page.table.setCurrentCell(0, 2)

    qtbot.keyClick(page.table, Qt.Key.Key_Up, Qt.KeyboardModifier.AltModifier)

    assert column(page, "First") == ["oil", "wax"]
    assert page.row().cells[0] == "wax"
    assert page.table.currentRow() == 1
    assert "wax: 3 values, 9, 9, 8" in page.told.text()


def test_the_order_stays_when_the_exact_tests_arrive(page, qtbot):
    page.show_findings(first_of(wax_and_oil()))
    page.sort_by(2, downward=False)

    page.show_findings(whole_of(wax_and_oil()))

    assert column(page, "First") == ["oil", "wax"]


def test_copied_names_are_no_formulas_and_figures_stay_figures(page, qtbot):
    record = judged_board({"=1+1": [9, 8, 9], "oil": [5, 6, 5]}, days=(30,))
    page.show_findings(whole_of(record))

    with qtbot.waitSignal(page.copied) as told:
        page.table.setFocus()
        qtbot.keyClick(page.table, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)

    head, row = QGuiApplication.clipboard().text().split("\n")
    assert head.split("\t")[0] == "First"
    assert row.split("\t")[:3] == ["'=1+1", "oil", "+3.3"]
    assert told.args == ["1 row is on the clipboard."]


def test_rows_are_as_tall_as_a_finger(page):
    page.show_findings(first_of(wax_and_oil()))

    assert page.table.rowHeight(0) >= px_of_mm(page, 9.0)


def test_what_holds_nothing_stands_last_either_way_and_numbers_in_names_count():
    names = ["C10", None, "c2", "C1"]
    assert sorted_places(names, downward=False) == [3, 2, 0, 1]
    assert sorted_places(names, downward=True) == [0, 2, 3, 1]
    assert sorted_places([0.5, None, -1.0], downward=False) == [2, 0, 1]
