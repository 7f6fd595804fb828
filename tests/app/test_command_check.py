"""``rustboard check``, and boards that no command can open."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest
from command_line import GRADES, Rustboard

from rustboard.board.model import Photo
from rustboard.operations.photos import add_photo
from rustboard.session.session import Session


def test_a_sound_board_is_called_sound(rustboard: Rustboard, graded_board: Path) -> None:
    finished = rustboard("check", graded_board)
    assert (finished.code, finished.err) == (0, "")
    assert finished.out == (
        "Yard fence: The board is sound.\n"
        "It holds 3 coupons, 2 treatments, 2 inspections, 5 gradings, 0 photos, 0 measurements, 0 strokes, "
        "0 disturbances, 0 recipes, 0 questions, 0 lots, 0 weather files, 0 day notes, 0 weighings, 2 audit lines.\n"
    )


def test_json_says_it_with_stable_keys(rustboard: Rustboard, graded_board: Path) -> None:
    data = rustboard("check", graded_board, "--json").data
    assert list(data) == ["board", "sound", "problems", "notes", "counts"]
    assert (data["board"], data["sound"], data["problems"], data["notes"]) == ("Yard fence", True, [], [])
    assert data["counts"]["grading"] == 5


def test_a_missing_and_an_altered_photo_are_problems_of_a_board_that_opens(
    rustboard: Rustboard, graded_board: Path
) -> None:
    photos = graded_board / "photos"
    photos.mkdir()
    with closing(Session(graded_board)) as session:
        for name in ("gone.png", "altered.png"):
            content = name.encode()
            (photos / name).write_bytes(content)
            session.do(add_photo, Photo(name, name, hashlib.sha256(content).hexdigest(), 10, 10))
    (photos / "gone.png").unlink()
    (photos / "altered.png").write_bytes(b"something else")
    finished = rustboard("check", graded_board, "--json")
    assert finished.code == 1
    assert finished.data["sound"] is False
    assert [each["sentence"] for each in finished.data["problems"]] == finished.sentences
    assert ["gone.png" in finished.sentences[0], "altered.png" in finished.sentences[1]] == [True, True]
    assert rustboard("check", graded_board).out.startswith("Yard fence: 2 problems found.\n")
    assert rustboard("grades", graded_board).code == 0


def truncated(file: Path) -> None:
    content = file.read_bytes()
    file.write_bytes(content[: len(content) // 2])


def emptied(file: Path) -> None:
    file.write_bytes(b"")


def a_letter(file: Path) -> None:
    file.write_text("Dear Ada,\n" * 200, encoding="utf-8")


def another_database(file: Path) -> None:
    file.unlink()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("CREATE TABLE stamps (country TEXT)")


def a_newer_version(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA user_version = 99")


def with_a_trigger(file: Path) -> None:
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("CREATE TRIGGER t AFTER INSERT ON grading BEGIN DELETE FROM grading; END")


DAMAGES: list[tuple[Callable[[Path], None], str]] = [
    (truncated, "damaged or cut short"),
    (emptied, "not a board file"),
    (a_letter, "not a board file"),
    (another_database, "another program's database"),
    (a_newer_version, "newer version of Rustboard"),
    (with_a_trigger, "altered by another program"),
]


@pytest.mark.parametrize("command", ["check", "grades", "report", "add-grades"])
@pytest.mark.parametrize(("damage", "said"), DAMAGES, ids=[damage.__name__ for damage, _ in DAMAGES])
def test_a_board_that_cannot_be_opened_is_explained_and_left_as_it_is(
    rustboard: Rustboard, graded_board: Path, tmp_path: Path, damage: Callable[[Path], None], said: str, command: str
) -> None:
    file = graded_board / "board.rustboard"
    damage(file)
    before = file.read_bytes()
    (tmp_path / "typed.csv").write_text(GRADES, encoding="utf-8")
    more: dict[str, list[str | Path]] = {
        "report": ["-o", tmp_path / "b.xlsx"],
        "add-grades": [tmp_path / "typed.csv"],
    }
    finished = rustboard(command, graded_board, *more.get(command, []), "--json")
    assert finished.code == 2
    assert len(finished.sentences) == 1
    assert finished.err.startswith("board.rustboard: ")
    assert said in finished.err
    assert [each["sentence"] for each in finished.data["problems"]] == finished.sentences
    assert file.read_bytes() == before
    assert not (tmp_path / "b.xlsx").exists()


def test_a_board_that_cannot_be_opened_keeps_the_keys_of_check(rustboard: Rustboard, tmp_path: Path) -> None:
    data = rustboard("check", tmp_path / "nothing", "--json").data
    assert list(data) == ["board", "sound", "problems", "notes", "counts"]
    assert (data["sound"], len(data["problems"])) == (False, 1)


def test_a_folder_that_is_no_board_is_explained(rustboard: Rustboard, tmp_path: Path) -> None:
    for command in ("check", "grades"):
        finished = rustboard(command, tmp_path)
        assert finished.code == 2
        assert len(finished.sentences) == 1
    assert list(tmp_path.iterdir()) == []
