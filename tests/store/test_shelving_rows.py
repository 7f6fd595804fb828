"""Tags, the archive and the earlier board on the disk: read as they were put, refused or made safe when altered."""

from __future__ import annotations

import sqlite3

import pytest
from store_boards import NOW, damaged, do, empty_board, opened, plant, raw, refusal_of_reading

from rustboard.board.record import forerunner_of, is_archived, tags_of
from rustboard.board.shelving import MOST_TAG, MOST_TAGS, MOST_WORDS, Forerunner
from rustboard.operations.shelving import archive, set_forerunner, set_tags
from rustboard.store.check import check_board

EARLIER = Forerunner("Autumn", NOW, "beeswax blend", "two coats instead of one", "Autumn board")


@pytest.fixture
def folder(tmp_path):
    """A board with two tags, in the archive, that follows an earlier one."""
    folder = empty_board(tmp_path / "b")
    with opened(folder) as store:
        do(store, set_tags, ["wax", "Öl"])
        do(store, archive)
        do(store, set_forerunner, EARLIER)
    return folder


def record_of(folder):
    with opened(folder, read_only=True) as store:
        return store.read()


def test_the_rows_are_read_as_they_were_put(folder):
    record = record_of(folder)
    assert (tags_of(record), is_archived(record), forerunner_of(record)) == (["wax", "Öl"], True, EARLIER)
    assert check_board(folder).problems == []


@pytest.mark.parametrize(("table", "change"), [
    ("tag", "word = ''"), ("tag", "word = char(10)"), ("shelving", "archived = 7"), ("shelving", "key = 2"),
    ("forerunner", "changed = ''"), ("forerunner", "changed = '  '"), ("forerunner", "started = 'soon'"),
    ("forerunner", "started = '0001-01-01'"), ("forerunner", "key = 3"),
])  # fmt: skip
def test_a_value_that_no_version_writes_refuses_the_board(folder, table, change):
    where = " WHERE word = 'wax'" if table == "tag" else ""
    plant(folder, f"UPDATE {table} SET {change}{where}")
    assert refusal_of_reading(folder) == damaged(table, int(change[-1]) if change.startswith("key") else 1)


def test_more_tags_than_a_board_has_are_refused(folder):
    many = f"WITH RECURSIVE n(i) AS (VALUES (10) UNION ALL SELECT i + 1 FROM n WHERE i < {10 + MOST_TAGS})"
    plant(folder, f"{many} INSERT INTO tag (word) SELECT 'w' || i FROM n")
    assert refusal_of_reading(folder).startswith("The table tag has more rows than any board (at most 20)")


def test_no_tag_is_there_twice_whatever_its_capitals(folder):
    with raw(folder) as connection, pytest.raises(sqlite3.IntegrityError, match=r"UNIQUE.*tag\.word"):
        connection.execute("INSERT INTO tag (word) VALUES ('WAX')")


def test_two_spellings_in_a_strangers_file_become_one_when_the_tags_are_next_set(folder):
    plant(folder, "INSERT INTO tag (word) VALUES ('öL')")  # which the file's own comparison takes for another word
    assert tags_of(record_of(folder)) == ["wax", "Öl", "öL"]
    with opened(folder) as store:
        do(store, set_tags, ["Öl"])
    assert tags_of(record_of(folder)) == ["Öl"]


def test_texts_are_made_safe_to_show_and_bounded(folder):
    plant(folder, "UPDATE tag SET word = 'a' || char(10) || char(8238) WHERE key = 1",
          "UPDATE tag SET word = printf('%.*c', 900000, 'x') WHERE key = 2",
          "UPDATE forerunner SET kept = printf('%.*c', 900000, 'x'), changed = char(27) || 'one'")  # fmt: skip
    record = record_of(folder)
    assert tags_of(record) == ["a \ufffd", "x" * MOST_TAG]
    found = forerunner_of(record)
    assert (found.kept, found.changed) == ("x" * MOST_WORDS, "\ufffdone")
