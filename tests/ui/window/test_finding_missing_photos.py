"""Photos that are gone, looked for from the photos screen: found, still missing, refused, stopped."""

from __future__ import annotations

from pathlib import Path

import pytest
from photographed_boards import photographed
from PySide6.QtWidgets import QPushButton
from window_driving import Person, made_board, wait_until


@pytest.fixture
def board(tmp_path: Path) -> Path:
    return photographed(tmp_path / "Wall")


@pytest.fixture
def person(desk, board: Path) -> Person:
    return desk.sit_down(board)


def photos_of(board: Path) -> list[Path]:
    return sorted((board / "photos").iterdir())


def find_button(person: Person) -> QPushButton:
    buttons = person.window.photos.screen.findChildren(QPushButton)
    return next(each for each in buttons if each.text() == "Find missing photos…")


def idle(person: Person) -> None:
    wait_until(lambda: not person.window.bridge.busy(), "for the search")


def test_the_photo_screen_carries_the_button_where_a_photo_is_missing(
    person: Person, board: Path, tmp_path: Path
) -> None:
    person.do("photos.show")
    idle(person)
    assert not find_button(person).isVisible()
    (tmp_path / "elsewhere").mkdir()
    for number, each in enumerate(photos_of(board)):
        each.rename(tmp_path / "elsewhere" / f"{number}{each.suffix}")
    person.window.photos.screen.reload()
    assert find_button(person).isVisible()
    person.answers.files = [tmp_path / "elsewhere"]
    person.click(find_button(person))
    idle(person)
    assert person.message().startswith("Found ")
    assert len(photos_of(board)) == len(list((tmp_path / "elsewhere").iterdir()))
    assert not find_button(person).isVisible()


def test_what_is_still_missing_is_told_with_its_date(person: Person, board: Path, tmp_path: Path) -> None:
    photo = next(iter(person.session.record.photos.values()))
    (board / "photos" / photo.file).unlink()
    (tmp_path / "elsewhere").mkdir()
    person.answers.files = [tmp_path / "elsewhere"]
    person.do("photos.find")
    idle(person)
    first, second = person.message().splitlines()
    assert first == "Found 0 of 1 missing photos; these are still missing:"
    assert second.startswith(photo.name)
    assert person.window.message.is_error()


def test_whoever_names_no_folder_begins_no_search(person: Person, board: Path) -> None:
    photos_of(board)[0].unlink()
    person.answers.files = [None]
    person.do("photos.find")
    assert not person.window.bridge.busy()


def test_a_search_for_a_board_that_was_left_ends(person: Person, board: Path, tmp_path: Path) -> None:
    photos_of(board)[0].unlink()
    (tmp_path / "elsewhere").mkdir()
    person.answers.files = [tmp_path / "elsewhere"]
    person.do("photos.find")
    person.window.show_board(made_board(tmp_path / "Other"))
    assert person.window.boards.relinking.job.cancelled
    idle(person)
    assert "missing" not in person.message()
