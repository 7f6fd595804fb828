"""The page of doubts: weighed in words, coupons one click away, and whether it is time to stop."""

import pytest
from table_pages import first_of, wax_and_oil, whole_of

from rustboard.ui.findings.doubts_page import DoubtsPage
from rustboard.ui.findings.sayings import WeightMark
from rustboard.ui.theme import LIGHT


@pytest.fixture
def page(qtbot):
    page = DoubtsPage(LIGHT)
    qtbot.addWidget(page)
    page.resize(900, 600)
    page.show()
    return page


def test_the_outlook_waits_and_then_stands_in_a_table_seen_whole(page):
    page.show_findings(first_of(wax_and_oil()))
    assert "still being worked out" in page.text()
    assert not page.expected.isVisible()

    page.show_findings(whole_of(wax_and_oil()))
    assert "still being worked out" not in page.text()
    table = page.expected.table
    assert table.rowCount() == 2
    needed = table.horizontalHeader().sizeHint().height() + sum(table.rowHeight(each) for each in range(2))
    assert table.minimumHeight() >= needed


def test_every_doubt_has_its_weight_as_a_word_and_coupons_one_click_away(page, qtbot):
    found = first_of(wax_and_oil())
    page.show_findings(found)

    assert len(page.sayings()) == len(found.doubts.doubts) > 0
    assert all(each.findChild(WeightMark).text() for each in page.sayings())
    named = [each for each in page.sayings() if each.coupons]
    assert named
    with qtbot.waitSignal(page.show_asked) as asked:
        named[0].show_button.click()
    assert asked.args == [named[0].coupons]
