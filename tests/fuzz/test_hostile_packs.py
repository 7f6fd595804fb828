"""Packed boards from strangers: every trick is refused in one sentence or opened safely; nothing else is touched."""

from __future__ import annotations

import itertools
import json
import zipfile
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import fuzz_packs
import pytest
from pack_tools import BOARD, LEAF, changed, leaf_of, packed, zipped
from pack_variants import NAMES, Variant
from trying import Yard, lay_out, temporary_files_in, try_out

from rustboard.session.packing import look_into_pack, unpack_board
from rustboard.store.check import check_board
from rustboard.support.problems import InputError

SHARE = 150


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Yard]:
    yard = lay_out(tmp_path_factory.mktemp("yard"))
    with temporary_files_in(yard):
        yield yard


def outcome(yard: Yard, pack: bytes) -> str:
    return try_out(yard, Variant("named", "", pack), number=1)


def refusal(yard: Yard, pack: bytes) -> str:
    """Return the sentence with which a packed board is refused, and see that nothing else happened."""
    assert outcome(yard, pack) == "refused"
    file = yard.root / "sent" / "received.rustboard-pack"
    file.write_bytes(pack)
    with pytest.raises(InputError) as caught:
        unpack_board(file, yard.boards)
    assert caught.value.problem.file == file.name
    file.unlink()
    return caught.value.problem.what


def test_the_sound_one_is_opened(yard: Yard) -> None:
    assert outcome(yard, yard.sound) == "opened, used"
    assert outcome(yard, packed(yard.parts)) == "opened, used"


def test_of_every_kind_some_are_tried(yard: Yard) -> None:
    for number, make in enumerate(fuzz_packs.chosen(yard, SHARE, seed=8)):
        try_out(yard, make(), number)
    assert sum(yard.outcomes.values()) >= SHARE
    assert {ending for _, ending in yard.outcomes} >= {"refused", "refused, as a folder refused"}
    assert check_board(yard.boards / "Harbour wall").problems == []


@pytest.mark.parametrize("name", NAMES)
def test_a_name_that_leads_elsewhere_is_refused(yard: Yard, name: str) -> None:
    assert "altered" in refusal(yard, packed(replace(yard.parts, photos={**yard.parts.photos, name: b"x"})))


def test_two_names_that_are_one_file_on_some_disk_are_refused(yard: Yard) -> None:
    first, content = next(iter(yard.parts.photos.items()))
    stem, dot, ending = first.removeprefix("photos/").rpartition(".")
    other = f"photos/{stem.upper()}{dot}{ending}"
    assert other != first
    doubled = replace(yard.parts, photos={**yard.parts.photos, other: content})
    assert "two files of one name" in refusal(yard, packed(doubled))


def test_a_bomb_is_refused_before_it_fills_the_disk(yard: Yard) -> None:
    bomb = replace(yard.parts, photos={"photos/x.jpg": bytes(200 << 20)})
    pack = packed(bomb, method=zipfile.ZIP_DEFLATED)
    assert len(pack) < 1 << 20
    assert outcome(yard, pack) == "refused"
    board = replace(yard.parts, board=yard.parts.board + bytes(100 << 20))
    assert "grows beyond all measure" in refusal(yard, packed(board, method=zipfile.ZIP_DEFLATED))


def test_a_link_is_refused(yard: Yard) -> None:
    def link(info: zipfile.ZipInfo) -> None:
        info.external_attr = 0o120777 << 16

    assert "a link or a folder" in refusal(yard, packed(yard.parts, change=link))


def test_a_locked_archive_is_refused(yard: Yard) -> None:
    sound = bytearray(packed(yard.parts))
    for at in _headers(bytes(sound)):
        sound[at] |= 1
    assert "password" in refusal(yard, bytes(sound))


def _headers(pack: bytes) -> Iterator[int]:
    """Yield where the flags of each header are."""
    from pack_tools import header_places

    return (at + (8 if listed else 6) for at, listed in header_places(pack))


@pytest.mark.parametrize("method", [zipfile.ZIP_BZIP2, zipfile.ZIP_LZMA])
def test_a_method_that_is_never_used_is_refused(yard: Yard, method: int) -> None:
    assert "packed in a way" in refusal(yard, packed(yard.parts, method=method))


@pytest.mark.parametrize("before", [b"\x00", b"MZ" + bytes(200)])
def test_what_stands_before_the_archive_is_refused(yard: Yard, before: bytes) -> None:
    assert "not a packed board" in refusal(yard, before + yard.sound)


@pytest.mark.parametrize("after", [b"\x00", bytes(70_000), b"PK\x05\x06" + bytes(18)])
def test_what_stands_behind_the_archive_is_refused(yard: Yard, after: bytes) -> None:
    assert "altered" in refusal(yard, yard.sound + after)


def test_members_that_the_leaf_does_not_name_are_refused(yard: Yard) -> None:
    leaf = json.dumps(leaf_of(yard.parts)).encode()
    members = [(LEAF, leaf), *yard.parts.members.items(), ("photos/x.jpg", b"x")]
    assert "not those of its list" in refusal(yard, zipped(members))


def test_a_member_that_is_not_the_one_that_was_packed_is_refused(yard: Yard) -> None:
    leaf = leaf_of(yard.parts)
    first = next(iter(yard.parts.photos))
    other = {**yard.parts.photos, first: bytes(len(yard.parts.photos[first]))}
    assert "not the one that was packed" in refusal(yard, packed(replace(yard.parts, photos=other), leaf))


def test_a_photo_that_the_board_does_not_name_is_refused(yard: Yard) -> None:
    photos = {**yard.parts.photos, "photos/x.jpg": b"x"}
    assert "does not name" in refusal(yard, packed(replace(yard.parts, photos=photos)))


@pytest.mark.parametrize("statement", [
    "CREATE VIEW extra AS SELECT * FROM coupon",
    "CREATE TRIGGER extra AFTER INSERT ON grading BEGIN DELETE FROM coupon; END",
    "CREATE TABLE extra (x)",
    "CREATE VIRTUAL TABLE extra USING fts5(x)",
    "ALTER TABLE coupon DROP COLUMN note",
    "DROP TABLE damage",
])  # fmt: skip
def test_tables_that_are_not_those_of_a_board_are_refused(yard: Yard, statement: str) -> None:
    board = changed(yard.parts.board, yard.workshop, statement)
    assert "tables in this file are not those of a board" in refusal(yard, packed(replace(yard.parts, board=board)))


def test_a_newer_board_says_what_to_install(yard: Yard) -> None:
    board = changed(yard.parts.board, yard.workshop, "PRAGMA user_version = 999")
    assert "install the newest Rustboard" in refusal(yard, packed(replace(yard.parts, board=board)))


def test_a_newer_way_of_packing_says_what_to_install(yard: Yard) -> None:
    assert "install the newest Rustboard" in refusal(yard, packed(yard.parts, leaf_of(yard.parts, format=2)))


def test_planted_steps_of_undo_are_refused(yard: Yard) -> None:
    board = changed(
        yard.parts.board,
        yard.workshop,
        "PRAGMA foreign_keys = OFF",
        "INSERT INTO journal_row (entry, step, table_name, row_key, before) VALUES (1, 1, 'coupon', 1, '[1]')",
    )
    assert "steps of undo" in refusal(yard, packed(replace(yard.parts, board=board)))


def test_numbers_that_are_used_up_are_refused(yard: Yard) -> None:
    board = changed(yard.parts.board, yard.workshop, "UPDATE sqlite_sequence SET seq = 9223372036854775807")
    assert "no more numbers" in refusal(yard, packed(replace(yard.parts, board=board)))


def test_a_board_under_another_name_than_the_leaf_says_is_refused(yard: Yard) -> None:
    assert "another name" in refusal(yard, packed(yard.parts, leaf_of(yard.parts, board="Somebody else's")))


@pytest.mark.parametrize("text", [
    "[" * 100_000, '{"format": 1, "format": 1}', '{"format": NaN}', "null", "", "\xff", "9" * 5_000,
    '{"format": ' + "9" * 5_000 + "}", '{"format": 1, "board": [], "packed": 1, "photos": 1, "members": {}}',
])  # fmt: skip
def test_a_leaf_that_is_none_is_refused(yard: Yard, text: str) -> None:
    assert "list of contents" in refusal(yard, packed(yard.parts, text.encode("latin-1")))


@pytest.mark.parametrize("version", range(1, 7))
def test_an_older_board_is_opened_and_brought_up_to_date(yard: Yard, version: int) -> None:
    from pack_tools import as_of_format

    board = as_of_format(yard.parts.board, version, yard.workshop)
    pack = packed(replace(yard.parts, board=board))
    assert outcome(yard, pack) == "opened, used"


def test_a_pipe_is_not_waited_for(yard: Yard, tmp_path: Path) -> None:
    import os

    os.mkfifo(tmp_path / "pipe.rustboard-pack")
    with pytest.raises(InputError, match="not a packed board"):
        look_into_pack(tmp_path / "pipe.rustboard-pack", yard.boards)


def test_more_members_than_any_board_has_are_refused_at_once(yard: Yard) -> None:
    leaf = json.dumps(leaf_of(yard.parts)).encode()
    many = ((f"photos/{number}.jpg", b"") for number in range(25_000))
    members = itertools.chain([(LEAF, leaf), (BOARD, yard.parts.board)], many)
    assert "more files than any board has" in refusal(yard, zipped(list(members)))
