"""Several boards on the screen: checked, matched, confirmed, put together, looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing
from pathlib import Path

import pytest
from blind_steps_of_boards import hide_last
from boards_together import WALL, later, put_board, three_boards
from PySide6.QtCore import Qt
from PySide6.QtGui import QHelpEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QComboBox, QToolTip, QWidget
from pytestqt.qtbot import QtBot
from window_driving import settle

from rustboard.board.question import Question
from rustboard.session.jobs import InlineExecutor
from rustboard.session.session import Session
from rustboard.support import paths
from rustboard.support.settings import Settings
from rustboard.ui.ask import Asker
from rustboard.ui.bridge import JobBridge
from rustboard.ui.several.page import SeveralPage
from rustboard.ui.theme import LIGHT, SCHEMES, apply_scheme


class Answering(Asker):
    """Answers with a folder instead of asking."""

    def __init__(self, folder: Path | None = None) -> None:
        self.answer = folder

    def folder(self, title: str, start: Path) -> Path | None:
        return self.answer


@pytest.fixture
def folders(tmp_path: Path) -> tuple[Path, ...]:
    return three_boards(tmp_path / "boards")


@pytest.fixture
def shown(qtbot: QtBot, tmp_path: Path) -> Iterator[Callable[..., SeveralPage]]:
    bridges: list[JobBridge] = []

    def show(open_board: Path | None = None, answer: Path | None = None) -> SeveralPage:
        bridge = JobBridge(executor=InlineExecutor())
        bridges.append(bridge)
        settings = Settings(scheme="light", boards_folder=str(tmp_path / "boards"))
        page = SeveralPage(settings, bridge, Answering(answer), LIGHT, open_board)
        qtbot.addWidget(page)
        page.resize(1366, 700)
        with qtbot.waitExposed(page):
            page.show()
        settle()
        return page

    yield show
    for each in bridges:
        each.close()
        each.deleteLater()
    settle()


def check(page: SeveralPage, *folders: Path) -> None:
    for each in folders:
        page.boards.check(each)
    settle()


def rows(page: SeveralPage) -> list[list[str]]:
    table = page.matching.table
    found = []
    for row in range(table.rowCount()):
        texts = []
        for column in range(table.columnCount()):
            cell, item = table.cellWidget(row, column), table.item(row, column)
            texts.append(cell.currentText() if isinstance(cell, QComboBox) else item.text() if item else "")
        found.append(texts)
    return found


def press(button: QWidget) -> None:
    button.setFocus()
    QTest.keyClick(button, Qt.Key.Key_Space)
    settle()


def choose(box: QComboBox, text: str) -> None:
    box.setCurrentIndex(box.findText(text))
    box.activated.emit(box.currentIndex())
    settle()


def confirmed(page: SeveralPage, *folders: Path) -> SeveralPage:
    check(page, *folders)
    if page.matching.confirm.isEnabled():
        press(page.matching.confirm)
    return page


def is_picture(widget: QWidget, colour: str) -> bool:
    image: QImage = widget.grab().toImage()
    wanted = {image.pixelColor(x, y).name() for x in range(image.width()) for y in range(image.height())}
    return colour in wanted


def test_two_boards_are_needed_and_the_open_one_is_checked(shown, folders) -> None:
    page = shown(folders[1])
    assert page.boards.folders() == (folders[1],)
    assert page.boards.list.item(0).text().startswith("Back yard · yard")
    assert "Check two or more boards" in page._hint.text()
    assert not page.matching.confirm.isEnabled()


def test_nothing_is_put_together_before_it_is_confirmed(shown, folders) -> None:
    page = shown(folders[0])
    check(page, *folders)
    assert rows(page)[0] == ["hot wax", "hot wax", "hot wax", "wax, brushed on", "certain"]
    assert page.pooled is None
    assert "Nothing is put together" in page._hint.text()
    press(page.matching.confirm)
    assert page.pooled is not None
    assert "Over 3 boards hot wax did better than control by 5.3 grades" in page.verdict.text()
    assert not page.matching.confirm.isEnabled()
    assert paths.matchings_file().exists()
    again = shown(folders[0])
    check(again, *folders)
    assert again.pooled is not None  # confirmed once for these boards


def test_a_change_of_the_matching_takes_the_result_away_until_it_is_confirmed_again(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    cell = page.matching.table.cellWidget(0, 3)
    assert isinstance(cell, QComboBox)
    choose(cell, "–")
    assert page.pooled is None
    assert rows(page)[0] == ["hot wax", "hot wax", "hot wax", "–", "certain"]
    press(page.matching.confirm)
    assert page.pooled is not None
    assert [len(each.effects) for each in page.pooled.findings.pooled] == [2, 2]


def test_a_name_is_changed_by_typing_and_one_that_is_taken_is_refused_on_the_page(shown, folders) -> None:
    page = shown(folders[0])
    check(page, *folders)
    table = page.matching.table
    item = table.item(0, 0)
    item.setText("oil")
    assert "are called" in page.problem.text()
    assert item.text() == "hot wax"
    item.setText("waxes")
    press(page.matching.confirm)
    assert page.problem.text() == ""
    assert "waxes did better" in page.verdict.text()


def test_the_table_has_every_board_and_the_pooled_difference_and_says_how_it_was_got(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    assert [each.name for each in page.effects.rows] == [
        "hot wax less control", "Harbour wall", "Back yard", "Roof",
        "oil less control", "Harbour wall", "Back yard",
    ]  # fmt: skip
    assert page.effects.rows[0].cells[:2] == ("9 and 9", "+5.3")
    page.effects.table.setCurrentCell(0, 5)
    assert "Holm 1979" in page.effects._explained.text()


def test_a_clock_that_a_board_does_not_have_is_refused_on_the_page(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    choose(page.asked.clock, "Wet hours")
    assert "no weather is known" in page.problem.text()
    assert page.pooled is None
    choose(page.asked.clock, "Control clock")
    assert page.problem.text() == ""
    assert page.pooled.whole[0].clock.kind == "controls"


def test_the_question_is_taken_over_and_can_be_changed(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    page.take_question(Question("pairs", failing_grade=5, measure="mean grade"))
    settle()
    assert page.pooled.request.measure == "mean grade"
    assert len(page.pooled.findings.pooled) == 3
    choose(page.asked.measure, "Time above the failing grade")
    assert not page.asked.shared.isEnabled()
    page.asked.failing.setValue(8)
    settle()
    assert page.pooled.request.failing_grade == 8


def test_a_board_from_anywhere_is_added_and_what_is_none_is_refused(shown, folders, tmp_path) -> None:
    far = put_board(tmp_path / "far", "Far away", WALL)
    page = shown(folders[0], answer=far)
    press(page.boards.add)
    assert page.boards.folders() == (folders[0], far)
    assert page.matching.confirm.isEnabled()
    page = shown(folders[0], answer=tmp_path)
    press(page.boards.add)
    assert page.problem.text()
    assert page.matching.matching() is None


def test_a_board_being_graded_blind_cannot_be_checked(shown, folders, tmp_path) -> None:
    hidden = put_board(tmp_path / "boards" / "blind", "Porch", WALL, days=(7, 21, 42, 60))
    with closing(Session(hidden, clock=later)) as session:
        hide_last(session)
    page = shown(folders[0])
    texts = [page.boards.list.item(at) for at in range(page.boards.list.count())]
    (item,) = (each for each in texts if each.text().startswith("Porch"))
    assert "being graded blind" in item.text()
    assert not item.flags() & Qt.ItemFlag.ItemIsUserCheckable


def test_two_boards_are_laid_over_one_another_and_side_by_side(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    pictures = page.pictures
    assert [(each.name, each.board) for each in pictures.overlay.chart().tracks] == [
        ("hot wax", "Harbour wall"), ("oil", "Harbour wall"), ("control", "Harbour wall"),
        ("hot wax", "Back yard"), ("oil", "Back yard"), ("control", "Back yard"),
    ]  # fmt: skip
    assert (
        "hot wax, Back yard: median 8 of 3 coupons (8 to 9) at 60 days of exposure"
        in pictures.overlay.chart().lines()
    )
    choose(pictures.second, "Roof")
    choose(pictures.treatment, "hot wax")
    assert [(each.name, each.board, bool(each.order)) for each in pictures.overlay.chart().tracks] == [
        ("hot wax", "Harbour wall", False), ("hot wax", "Roof", True),
    ]  # fmt: skip
    left, right = pictures.boards
    assert "A1, C01, hot wax: grade 9." in left.accessibleDescription()
    assert right.shown.name == "Roof"
    assert len(right.shown.chosen) == 3
    page.tabs.setCurrentIndex(page.tabs.indexOf(pictures))
    settle()
    assert is_picture(pictures.overlay.canvas, LIGHT.series[0])
    assert len(pictures.overlay.canvas.spots) == 6
    pictures.tabs.setCurrentIndex(1)
    settle()
    cell = left._cell(left._coupons()[0].position).center().toPoint()
    left.event(QHelpEvent(QHelpEvent.Type.ToolTip, cell, left.mapToGlobal(cell)))
    assert "hot wax" in QToolTip.text()
    QToolTip.hideText()


def test_the_forest_shows_every_board_and_all_together(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    forest = page.forest
    assert [row.name for row in forest.view.chart().rows] == ["Harbour wall", "Back yard", "Roof", "All together"]
    assert forest.view.chart().rows[-1].difference == page.pooled.findings.pooled[0].difference
    choose(forest.comparison, "oil against control")
    assert [row.name for row in forest.view.chart().rows] == ["Harbour wall", "Back yard", "All together"]
    page.tabs.setCurrentIndex(page.tabs.indexOf(forest))
    settle()
    assert is_picture(forest.view.canvas, LIGHT.accent)
    told, saved = [], []
    page.copied.connect(told.append)
    page.save_asked.connect(saved.append)
    press(forest.view.text_button)
    press(forest.view.save_button)
    assert "oil against control" in told[0]
    assert saved == [forest.view]
    page.copied.disconnect(told.append)
    page.save_asked.disconnect(saved.append)


def test_the_other_of_two_boards_is_laid_over_the_timeline_of_the_open_one(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    laid = []
    page.laid_over.connect(laid.append)
    page.tabs.setCurrentIndex(page.tabs.indexOf(page.pictures))
    press(page.pictures.lay)
    assert [each.name for each in laid] == ["Back yard"]
    choose(page.pictures.first, "Roof")
    assert not page.pictures.lay.isEnabled()  # the open board is not among the two
    page.laid_over.disconnect(laid.append)


def test_work_tells_how_far_it_is_and_can_be_stopped(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    assert page.work.text() == ""
    page.work.say("Putting the boards together…")
    page.work.tell(3, 66)
    assert page.work.text() == "Putting the boards together… 3 of 66"
    press(page.work.stop)
    assert page.work.text() == ""
    assert page.pooled is None
    page.asked.failing.setValue(6)
    settle()
    assert page.pooled is not None


def test_unchecking_leaves_nothing_behind(shown, folders) -> None:
    page = confirmed(shown(folders[0]), *folders)
    for each in folders[1:]:
        page.boards.check(each, on=False)
    settle()
    assert page.pooled is None
    assert page.matching.table.rowCount() == 0


@pytest.mark.parametrize("name", ["dark", "sunlight"])
def test_it_takes_on_other_colours(shown, folders, qapp, name) -> None:
    page = confirmed(shown(folders[0]), *folders)
    apply_scheme(qapp, SCHEMES[name])
    page.set_scheme(SCHEMES[name])
    page.tabs.setCurrentIndex(page.tabs.indexOf(page.pictures))
    settle()
    assert is_picture(page.pictures.overlay.canvas, SCHEMES[name].base)
    apply_scheme(qapp, LIGHT)
