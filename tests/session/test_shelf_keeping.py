"""Tags, archive, names and places of boards, changed from the shelf: whole or not at all, and undone as all else."""

from __future__ import annotations

import os
from contextlib import closing
from pathlib import Path

import pytest
from shelf_boards import clock, make_board

from rustboard.board.record import is_archived, tags_of
from rustboard.operations.shelving import set_tags
from rustboard.session import shelf_keeping
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.looking import look_at_board
from rustboard.session.session import Session
from rustboard.session.shelf_keeping import move_board, put_away, rename_board, tag_board
from rustboard.store.board_matchings import KeptMatching, KeptRow, change_matchings, read_matchings
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings

IN_USE = "This board is open in another window; close it there, then try again."


@pytest.fixture
def board(tmp_path: Path) -> Path:
    (tmp_path / "boards").mkdir()
    return make_board(tmp_path / "boards" / "Wall", "Wall", [[9, 8]])


@pytest.fixture
def matchings(tmp_path: Path) -> BoardMatchings:
    return BoardMatchings(tmp_path / "matchings.json")


def refusal(action: object, *arguments: object, **named: object) -> str:
    with pytest.raises(InputError) as caught:
        action(*arguments, **named)  # type: ignore[operator]
    return caught.value.problem.what


def test_tags_given_from_the_shelf_are_steps_of_the_board(board: Path) -> None:
    assert tag_board(board, ["wax", "winter"], who="Ann", clock=clock).text() == "Tag the board: wax, winter"
    with closing(Session(board, clock=clock)) as session:
        assert tags_of(session.record) == ["wax", "winter"]
        assert session.audit()[0][1:3] == ("Ann", "set_tags")
        session.undo()
        assert tags_of(session.record) == []


def test_a_board_is_put_away_and_brought_back_from_the_shelf(board: Path) -> None:
    put_away(board, True, clock=clock)
    assert is_archived(look_at_board(board))
    assert refusal(put_away, board, True, clock=clock) == "This board is in the archive already."
    put_away(board, False, clock=clock)
    assert not is_archived(look_at_board(board))


def test_nothing_is_changed_while_a_window_has_the_board_open(board: Path, matchings: BoardMatchings) -> None:
    with closing(Session(board, clock=clock)) as session:
        before = session.record.snapshot()
        for action, arguments in (
            (tag_board, (board, ["wax"])), (put_away, (board, True)), (rename_board, (board, "Roof", "Roof")),
            (rename_board, (board, "", "Roof")), (move_board, (board, board.parent.parent)),
        ):  # fmt: skip
            assert refusal(action, *arguments, clock=clock) == IN_USE
        assert not session.look_for_outside_changes()
        assert session.record == before
    assert board.is_dir()


@pytest.mark.skipif(os.geteuid() == 0 if hasattr(os, "geteuid") else True, reason="root may write everywhere")
def test_a_board_that_may_not_be_written_is_told_so(board: Path) -> None:
    board.chmod(0o500)
    try:
        assert refusal(tag_board, board, ["wax"]) == "This board may not be written, so nothing of it was changed."
    finally:
        board.chmod(0o700)


def test_board_and_folder_are_renamed_together(board: Path, matchings: BoardMatchings) -> None:
    new = rename_board(board, "Roof, south", "Roof: south?", clock=clock, matchings=matchings)
    assert new == board.with_name("Roof- south-")
    assert not board.exists()
    assert look_at_board(new).board.name == "Roof, south"
    with closing(Session(new, clock=clock)) as session:
        session.undo()
        assert session.record.board.name == "Wall"


def test_either_is_renamed_alone(board: Path, matchings: BoardMatchings) -> None:
    assert rename_board(board, "Roof", "", clock=clock, matchings=matchings) == board
    assert look_at_board(board).board.name == "Roof"
    new = rename_board(board, "", "Shed", clock=clock, matchings=matchings)
    assert new.name == "Shed"
    assert look_at_board(new).board.name == "Roof"


def test_the_same_names_change_nothing(board: Path, matchings: BoardMatchings) -> None:
    steps = (board / "board.rustboard").read_bytes()
    assert rename_board(board, "Wall", "Wall", clock=clock, matchings=matchings) == board
    with closing(Session(board, clock=clock)) as session:
        assert len(session.audit()) == len(look_audit(board))
    assert look_at_board(board).board.name == "Wall"
    assert len(steps) == (board / "board.rustboard").stat().st_size


def look_audit(board: Path) -> list[object]:
    with closing(Session(board, read_only=True)) as session:
        return list(session.audit())


@pytest.mark.parametrize(("called", "folder"), [
    ("../../etc", "-..-etc"), ("CON", "Board CON"), ("a" * 300, "a" * 60), ("x. ", "x"), ("...", "Board"),
])  # fmt: skip
def test_a_folder_is_never_called_what_a_disk_refuses(
    board: Path, matchings: BoardMatchings, called: str, folder: str
) -> None:
    new = rename_board(board, "", called, clock=clock, matchings=matchings)
    assert new == board.parent / folder
    assert look_at_board(new).board.name == "Wall"


def test_a_name_that_is_taken_leaves_board_and_folder_as_they_were(board: Path, matchings: BoardMatchings) -> None:
    make_board(board.with_name("Roof"), "Roof")
    sentence = refusal(rename_board, board, "Roof", "Roof", clock=clock, matchings=matchings)
    assert sentence == "Something with this name is already there; choose another name."
    assert look_at_board(board).board.name == "Wall"


def test_a_folder_that_cannot_be_renamed_after_all_leaves_the_board_its_name(
    board: Path, matchings: BoardMatchings, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: object) -> None:
        raise InputError("The disk refused.")

    monkeypatch.setattr(shelf_keeping, "move_folder", refuse)
    assert refusal(rename_board, board, "Roof", "Roof", clock=clock, matchings=matchings) == "The disk refused."
    assert look_at_board(board).board.name == "Wall"


def test_a_board_is_moved_with_all_that_it_holds(board: Path, tmp_path: Path, matchings: BoardMatchings) -> None:
    record = look_at_board(board)
    (tmp_path / "customers").mkdir()
    new = move_board(board, tmp_path / "customers", clock=clock, matchings=matchings)
    assert new == tmp_path / "customers" / "Wall"
    assert look_at_board(new) == record
    assert os.listdir(tmp_path / "boards") == []


def test_moving_to_where_it_is_already_is_told(board: Path, tmp_path: Path) -> None:
    (tmp_path / "way").symlink_to(board.parent)
    for into in (board.parent, tmp_path / "way"):
        assert refusal(move_board, board, into, clock=clock) == "The board is in this folder already."


def test_what_was_matched_for_the_folder_holds_for_the_new_one(
    board: Path, tmp_path: Path, matchings: BoardMatchings
) -> None:
    file, old, new = tmp_path / "matchings.json", str(board.resolve()), str(board.resolve().with_name("Roof"))
    row = (KeptRow("wax", ("T1", "T1")),)
    kept = (
        KeptMatching((old, "/other"), row), KeptMatching(("/a", "/b"), row),
        KeptMatching((new, "/other"), (KeptRow("of a board that was there once", ("T1", "T1")),)),
    )  # fmt: skip
    change_matchings(file, lambda _: kept)
    rename_board(board, "", "Roof", clock=clock, matchings=matchings)
    assert read_matchings(file).matchings == (KeptMatching((new, "/other"), row), kept[1])


def test_where_nothing_was_matched_no_list_is_written(board: Path, tmp_path: Path, matchings: BoardMatchings) -> None:
    rename_board(board, "", "Roof", clock=clock, matchings=matchings)
    assert not (tmp_path / "matchings.json").exists()


def test_a_moved_board_stays_among_the_recent_ones_in_its_place(tmp_path: Path) -> None:
    old, new = tmp_path / "a", tmp_path / "b"
    settings = Settings(recent=["/first", str(old), "/last", str(new)])
    settings.follow_move(old, new)
    assert settings.recent == ["/first", str(new), "/last"]
    settings.follow_move(tmp_path / "unknown", tmp_path / "c")
    assert settings.recent == ["/first", str(new), "/last"]


def test_a_board_that_was_remembered_by_its_real_place_is_followed_through_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "way").symlink_to(tmp_path / "real")
    settings = Settings(recent=[str(tmp_path / "real" / "a")])
    settings.follow_move(tmp_path / "way" / "a", tmp_path / "way" / "b")
    assert settings.recent == [str(tmp_path / "way" / "b")]


def test_the_same_tags_again_are_no_step(board: Path) -> None:
    tag_board(board, ["wax"], clock=clock)
    with closing(Session(board, clock=clock)) as session:
        before = session.newest_step()
        session.do(set_tags, ["wax"])
        assert session.newest_step() == before
