"""Many rows written together: as if one by one, in one step, and all or none."""

from __future__ import annotations

import sqlite3
from contextlib import closing

import pytest
from store_boards import NOW, do, graded_board, opened, tables_of

from rustboard.board.model import Treatment
from rustboard.operations.treatments import add_treatment
from rustboard.store.tables import TREATMENTS
from rustboard.support.summary import Summary

SEVERAL = tuple(Treatment(f"T{number}", f"wax {number}") for number in range(2, 6))


def add_several(tx, treatments=SEVERAL):
    tx.add_all(TREATMENTS, treatments)
    return Summary("Add several")


def rename_all(tx, keys, name="oil"):
    tx.set_all(TREATMENTS, keys, "name", name)
    return Summary("Rename several")


def take_ids(tx, keys):
    tx.set_all(TREATMENTS, keys, "id", "")
    return Summary("Take the ids")


@pytest.fixture
def folder(tmp_path):
    """A board with one treatment, T1."""
    return graded_board(tmp_path / "b")


def test_together_they_get_the_keys_that_they_would_get_one_by_one(folder, tmp_path):
    other = graded_board(tmp_path / "other")
    with opened(folder) as together, opened(other) as single:
        do(together, add_several)
        for each in SEVERAL:
            do(single, add_treatment, each)
        assert together.read().treatments == single.read().treatments
        assert sorted(together.read().treatments) == [1, 2, 3, 4, 5]


def test_one_step_takes_them_all_back_and_brings_them_again(folder):
    with opened(folder) as store:
        do(store, add_several)
        do(store, rename_all, (2, 3))
        names = {key: each.name for key, each in store.read().treatments.items()}
        assert names == {1: "beeswax", 2: "oil", 3: "oil", 4: "wax 4", 5: "wax 5"}
        store.step("undo", now=NOW, who="")
        assert store.read().treatments[2].name == "wax 2"
        store.step("undo", now=NOW, who="")
        assert sorted(store.read().treatments) == [1]
        store.step("redo", now=NOW, who="")
        store.step("redo", now=NOW, who="")
        assert {key: each.name for key, each in store.read().treatments.items()} == names


def test_keys_that_were_taken_back_are_not_given_again(folder):
    with opened(folder) as store:
        do(store, add_several)
        store.step("undo", now=NOW, who="")
        do(store, add_several)
        assert sorted(store.read().treatments) == [1, 6, 7, 8, 9]


@pytest.mark.parametrize("wrong", [Treatment("", "no id"), Treatment("T1", "there already")])
def test_where_one_cannot_be_none_is_written(folder, wrong):
    before = tables_of(folder)
    with opened(folder) as store, pytest.raises(Exception, match=r"empty|this id"):
        do(store, add_several, (*SEVERAL, wrong))
    assert tables_of(folder) == before


def test_content_that_cannot_be_read_back_is_refused_for_all(folder):
    with opened(folder) as store:
        do(store, add_several)
        with pytest.raises(ValueError, match="empty"):
            do(store, take_ids, (1, 2))
        assert store.read().treatments[2].id == "T2"


def test_none_at_all_is_no_step(folder):
    with opened(folder) as store:
        newest = store.newest_step()
        do(store, add_several, ())
        do(store, rename_all, ())
        assert store.newest_step() == newest


@pytest.mark.parametrize("newest", [None, 1, "abc"])
def test_a_file_that_miscounts_its_keys_loses_nothing(folder, newest):
    with opened(folder) as store:
        do(store, add_several)
    with closing(sqlite3.connect(folder / "board.rustboard")) as connection, connection:
        if newest is None:
            connection.execute("DELETE FROM sqlite_sequence WHERE name = 'treatment'")
        else:
            connection.execute("UPDATE sqlite_sequence SET seq = ? WHERE name = 'treatment'", (newest,))
    with opened(folder) as store:
        do(store, add_several, tuple(Treatment(f"N{number}", "oil") for number in range(3)))
        assert len(store.read().treatments) == 8
