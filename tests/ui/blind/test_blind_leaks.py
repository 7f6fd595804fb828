"""Nothing that is hidden can be read anywhere while an inspection is graded blind."""

from __future__ import annotations

import pytest
from blind_driving import (
    HIDDEN,
    begin,
    everything_readable,
    hide,
    leaks,
    page_of,
    round_of,
    secret_board,
    settle_deleted,
)
from later import Later
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor
from PySide6.QtWidgets import QApplication
from window_driving import accept, filling

from rustboard.board.measured import ExcludedArea
from rustboard.operations.areas import set_excluded_areas
from rustboard.ui.board_page import BoardPage


@pytest.fixture
def board(tmp_path):
    return secret_board(tmp_path / "Zinkweiss against Lanolin")


def test_the_words_can_be_read_while_nothing_is_hidden(board, sitting_at):
    """So that the walk itself is seen to find them."""
    person = sitting_at(board)
    person.do("edit.undo")
    person.do("edit.redo")
    person.tap("A1")
    person.do("view.table")
    person.do("photos.show")
    person.do("board.plan")
    everywhere = " ".join(text for _, text in everything_readable())
    assert [each for each in HIDDEN if each not in everywhere] == []


@pytest.mark.parametrize("basis", ["photo", "bench"])
def test_nothing_leaks_from_the_start_of_a_blind_inspection_to_its_reveal(board, sitting_at, basis):
    person = sitting_at(board)
    person.tap("A1")
    person.do("photos.show")
    person.do("board.plan")
    person.do("board.plan")
    person.do("edit.undo")  # a note that names a coupon is in the window just before
    hide(person, basis, 50)
    assert leaks() == []
    assert person.window.windowTitle() == "Blind grading – Rustboard"
    page = begin(person, "Mara")
    for number in range(6):
        assert leaks() == [], number
        person.key("S", "7")
        if number == 3:
            person.do("edit.undo")
            person.key(Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Delete)
            assert leaks() == []
    while page.head.finish.isHidden():
        person.key("7")
    person.key(Qt.Key.Key_Return)
    settle_deleted()
    assert page_of(person).is_overview()
    assert leaks() == []
    begin(person, "Berta")
    assert leaks() == []


def test_no_screen_of_the_board_is_left_that_could_be_brought_back(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    assert not [each for each in QApplication.allWidgets() if isinstance(each, BoardPage)]
    assert person.enabled() <= {
        "file.shelf", "file.new", "file.from_plan", "file.open", "file.second_window", "file.close", "view.system",
        "view.light", "view.dark", "view.sunlight", "view.large_keys", "view.say_grades",
        "help.keys", "help.about", "help.practice", "file.unpack", "file.import",
    }  # fmt: skip


def test_the_shelf_shows_nothing_of_a_board_that_is_graded_blind(board, sitting_at):
    person = sitting_at(board)
    person.desk.settings.boards_folder = str(board.parent)
    person.do("file.shelf")
    person.window.show_board(board)
    hide(person)
    begin(person, "Mara")
    assert leaks() == []
    person.do("file.shelf")
    settle_deleted()
    assert leaks(tuple(each for each in HIDDEN if each not in ("Zinkweiss", "Lanolin"))) == []  # the board's own name


def test_a_second_window_on_the_board_is_hidden_too(board, desk, sitting_at):
    person = sitting_at(board)
    other = desk.sit_down(board)
    assert other.session.read_only_reason
    hide(person)
    other.window._look_again()
    settle_deleted()
    assert other.window.blind.blind_page is not None
    assert leaks() == []
    assert not other.window.blind.blind_page.overview.begin.isVisible()


def test_what_is_written_beside_coupons_is_painted_over(board, sitting_at):
    person = sitting_at(board)
    area = ExcludedArea(1, "label", ((5, 5), (25, 5), (25, 25), (5, 25)))  # from the corner of the coupon
    assert person.window.do(set_excluded_areas, 1, (area,)) is not None
    hide(person)
    begin(person, "Mara")
    image = round_of(person).sitting.pictures[1]
    grey = QColor(128, 128, 128)
    scale = image.height() / 84
    assert image.pixelColor(int(17 * scale), int(17 * scale)) == grey
    assert image.pixelColor(image.width() // 2, image.height() // 2) != grey


def test_the_name_of_a_photo_is_not_told_when_it_cannot_be_read(board, sitting_at):
    person = sitting_at(board)
    hide(person)
    for each in (board / "photos").iterdir():
        each.write_bytes(b"no picture")
    begin(person, "Mara")
    assert person.message() != ""
    assert leaks() == []
    person.key("7")
    assert round_of(person).sitting.given(round_of(person).number) is None, "what is not seen is not graded"


def test_what_was_being_written_when_the_board_was_hidden_is_stopped_and_names_nothing(board, desk, tmp_path):
    late = Later()
    desk._executor = lambda: late
    person = desk.sit_down(board)
    person.answers.dialogs = [filling(folder=str(tmp_path), name="Zinkweiss")]
    person.do("file.report")
    hide(person)
    late.run()
    settle_deleted()
    assert leaks() == []
    assert person.message() == "Stopped; nothing was left half done."
    assert list(tmp_path.glob("*.xlsx")) == []


def test_all_boards_in_another_window_say_nothing_of_a_board_from_the_moment_it_is_hidden(board, desk, sitting_at):
    person = sitting_at(board)
    desk.settings.boards_folder = str(board.parent)
    other = desk.sit_down()
    assert any("grade 6: 1" in text for _, text in everything_readable()), "so that the walk is seen to find it"
    hide(person)
    other.window.activateWindow()
    settle_deleted()
    assert leaks(("grade 6: 1",)) == []


def test_no_board_is_made_like_one_that_is_graded_blind(board, desk, sitting_at):
    person = sitting_at(board)
    desk.settings.boards_folder = str(board.parent)
    hide(person)
    person.do("file.shelf")
    settle_deleted()
    person.window.shelf.screen().choose(board)
    person.answers.dialogs = [accept]
    person.window.shelf.screen().board._like.trigger()
    settle_deleted()
    assert "is being graded blind" in person.message()
    assert [each.name for each in board.parent.iterdir() if each.is_dir()] == [board.name]


def test_pictures_of_the_shelf_that_come_when_a_hidden_board_is_open_disturb_nobody(board, desk, sitting_at):
    hide(sitting_at(board))
    desk.close_all()
    settle_deleted()
    late = Later()
    desk._executor = lambda: late
    desk.settings.boards_folder = str(board.parent)
    person = desk.sit_down()
    person.window.show_board(board)
    settle_deleted()
    late.run()
    settle_deleted()
    assert page_of(person).is_overview()
    assert person.message() == ""


def test_a_hidden_board_that_can_only_be_read_says_why(board, sitting_at):
    hide(sitting_at(board))
    other = sitting_at(board)
    words = [text for _, text in everything_readable() if "stays hidden here until it is revealed" in text]
    assert any(other.window.session().read_only_reason in each for each in words)
