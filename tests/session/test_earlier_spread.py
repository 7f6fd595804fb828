"""The spread of grades on the boards of the shelf."""

import pytest
from shelf_boards import make_board

from rustboard.session.earlier_spread import earlier_spread
from rustboard.session.jobs import Cancelled, Progress
from rustboard.support.settings import Settings


@pytest.fixture
def settings(tmp_path):
    return Settings(boards_folder=str(tmp_path / "boards"))


@pytest.fixture
def shelf(tmp_path):
    folder = tmp_path / "boards"
    folder.mkdir()
    return folder


def test_all_boards_but_the_open_one_count(settings, shelf, tmp_path):
    make_board(shelf / "one", "Wall", [[7, 8, 9]])
    make_board(tmp_path / "elsewhere", "Porch", [[5, 6]])
    settings.remember(tmp_path / "elsewhere")
    mine = make_board(shelf / "mine", "Mine", [[0, 9, 0, 9]])
    found = earlier_spread(settings, mine)
    assert found.sd == pytest.approx((2.5 / 3) ** 0.5)
    assert found.degrees_of_freedom == 3
    assert sorted(found.boards) == ["Porch", "Wall"]


def test_boards_without_grades_and_boards_that_cannot_be_read_are_passed_over(settings, shelf):
    mine = make_board(shelf / "mine", "Mine")
    make_board(shelf / "new", "New")
    assert earlier_spread(settings, mine) is None
    broken = make_board(shelf / "broken", "Broken", [[1, 2]])
    file = broken / "board.rustboard"
    file.write_bytes(file.read_bytes()[:4096])
    make_board(shelf / "sound", "Sound", [[5, 6]])
    assert earlier_spread(settings, mine).boards == ("Sound",)


def test_without_a_boards_folder_there_is_none(settings, tmp_path):
    assert earlier_spread(settings, tmp_path / "mine") is None


def test_it_tells_how_far_it_is_and_can_be_stopped(settings, shelf, tmp_path):
    make_board(shelf / "one", "Wall", [[7, 8, 9]])
    told = []
    earlier_spread(settings, tmp_path, Progress(lambda done, total: told.append((done, total))))
    assert (0, 1) in told
    stopped = Progress()
    stopped.cancel()
    with pytest.raises(Cancelled):
        earlier_spread(settings, tmp_path, stopped)
