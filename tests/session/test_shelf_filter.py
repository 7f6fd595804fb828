"""Finding boards again: words, kinds, tags, the archive; what is offered, and with which counts."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shelf_boards import START, clock, make_board, plan

from rustboard.board.model import Board, Inspection, Plan, PlannedCoupon, Treatment
from rustboard.board.position import Position
from rustboard.board.shelving import Forerunner
from rustboard.operations.blind import BlindChoice, start_blind
from rustboard.operations.inspections import add_inspection
from rustboard.operations.shelving import archive, set_forerunner, set_tags
from rustboard.session.new_board import create_from_plan
from rustboard.session.session import Session
from rustboard.session.shelf import ShelfEntry, shelf_entries
from rustboard.session.shelf_filter import ARCHIVED, KINDS, ShelfFilter, ShelfIndex, matching, plain
from rustboard.store.shelf_row import ShelfFacts
from rustboard.support.settings import Settings


def entry(name: str, **facts: object) -> ShelfEntry:
    own = {each: facts.pop(each) for each in ("site", "customer", "years") if each in facts}
    return ShelfEntry(Path("/boards") / name, name, facts=ShelfFacts(**facts), **own)  # type: ignore[arg-type]


WALL = entry(
    "Harbour wall", site="Le Portel, quai", customer="Frères Olé", years=(2024, 2025), steels=("mild steel",),
    treatments=("hot beeswax blend", "bare"), kinds=("wax", "none"), tags=("wax", "winter"),
)  # fmt: skip
ROOF = entry(
    "Roof", site="roof", customer="Ada", years=(2025,), steels=("mild steel", "1.4301"), treatments=("linseed oil",),
    kinds=("oil",), tags=("Wax",), forerunner="Shed",
)  # fmt: skip
OLD = entry("Shed", site="Roof", years=(2019,), treatments=("linseed oil",), archived=True)
BROKEN = replace(entry("no board"), problem="This is no board.")
ALL = (WALL, ROOF, OLD, BROKEN)


def names(**wanted: object) -> list[str]:
    return [each.name for each in matching(ALL, ShelfFilter(**wanted))]  # type: ignore[arg-type]


def test_without_a_filter_all_but_the_archive_are_shown() -> None:
    assert names() == ["Harbour wall", "Roof", "no board"]
    assert names(archived="also") == ["Harbour wall", "Roof", "Shed", "no board"]
    assert names(archived="only") == ["Shed"]


@pytest.mark.parametrize(("words", "found"), [
    ("WALL", ["Harbour wall"]), ("wall harb", ["Harbour wall"]), ("freres ole", ["Harbour wall"]),
    ("Frères", ["Harbour wall"]), ("wall roof", []), ("roof", ["Roof"]), ("linseed", ["Roof"]), ("shed", ["Roof"]),
    ("2024", ["Harbour wall"]), ("wax", ["Harbour wall", "Roof"]), ("1.4301", ["Roof"]), ("  ", list("HRn")),
    ("board", ["no board"]),
])  # fmt: skip
def test_every_word_must_stand_somewhere_whatever_its_capitals_and_accents(words: str, found: list[str]) -> None:
    if words.strip():
        assert names(words=words) == found
    else:
        assert [each[0] for each in names(words=words)] == found


def test_each_kind_leaves_out_what_has_another_value() -> None:
    assert names(treatment="linseed oil") == ["Roof"]
    assert names(treatment="oil") == ["Roof"]  # the family; not a part of a name
    assert names(treatment="linseed") == []
    assert names(steel="Mild  Steel") == ["Harbour wall", "Roof"]
    assert names(site="ROOF", archived="also") == ["Roof", "Shed"]
    assert names(year="2025") == ["Harbour wall", "Roof"]
    assert names(customer="ada", year="2024") == []
    assert names(tags=("wax",)) == ["Harbour wall", "Roof"]
    assert names(tags=("WAX", "winter")) == ["Harbour wall"]


def offered(kind: str, **wanted: object) -> list[tuple[str, int]]:
    index = ShelfIndex.of(ALL)
    offers = index.offers(ShelfFilter(**wanted), kind)  # type: ignore[arg-type]
    return [(each.value, each.count) for each in offers]


def test_what_is_offered_exists_and_tells_how_many_boards_it_leaves() -> None:
    assert offered("year") == [("2025", 2), ("2024", 1)]
    assert offered("treatment") == [
        ("bare", 1), ("hot beeswax blend", 1), ("linseed oil", 1), ("oil", 1), ("wax", 1),
    ]  # fmt: skip
    assert offered("steel", customer="Ada") == [("1.4301", 1), ("mild steel", 1)]
    assert offered("site", archived="only") == [("Roof", 1)]
    assert offered("customer", words="nothing like it") == []


def test_another_value_of_the_same_kind_is_still_offered_and_so_is_one_that_leaves_nothing() -> None:
    assert offered("customer", customer="Ada") == [("Ada", 1), ("Frères Olé", 1)]
    assert offered("customer", customer="Ben") == [("Ada", 1), ("Ben", 0), ("Frères Olé", 1)]


def test_tags_are_counted_with_those_that_are_asked_for_already() -> None:
    assert offered("tag") == [("Wax", 2), ("winter", 1)]
    assert offered("tag", tags=("winter",)) == [("wax", 1), ("winter", 1)]


texts = st.sampled_from(
    ["", "wax", "Wax", "wäx", "oil", "=1+1", "\u202e", "ß SS", "İ", "🐝 bee", "2025", "x" * 300, "a b"]
)
some = st.lists(texts, max_size=3).map(tuple)
entries = st.lists(
    st.builds(
        ShelfEntry, st.integers(0, 9).map(lambda each: Path(f"/b/{each}")), texts, site=texts, customer=texts,
        years=st.lists(st.integers(2020, 2026), max_size=3, unique=True).map(tuple),
        facts=st.builds(ShelfFacts, some, some, some, some, st.booleans(), texts),
    ),
    max_size=8,
)  # fmt: skip
filters = st.builds(
    ShelfFilter, st.lists(texts, max_size=2).map(" ".join), texts, texts, texts, texts, texts, some,
    st.sampled_from(ARCHIVED),
)  # fmt: skip


@given(entries, filters, texts, st.sampled_from(KINDS))
def test_asking_for_more_never_finds_more(
    boards: list[ShelfEntry], wanted: ShelfFilter, word: str, kind: str
) -> None:
    found = matching(boards, wanted)
    assert matching(found, wanted) == found
    assert [id(each) for each in boards if any(each is one for one in found)] == list(map(id, found))
    assert all(each in found for each in matching(boards, replace(wanted, words=f"{wanted.words} {word}")))
    assert all(each in matching(boards, wanted.without(kind)) for each in found)  # type: ignore[arg-type]
    hidden, also, only = (matching(boards, replace(wanted, archived=each)) for each in ARCHIVED)
    assert sorted(map(id, hidden + only)) == sorted(map(id, also))


@given(entries, filters)
def test_each_offer_leaves_as_many_boards_as_it_says(boards: list[ShelfEntry], wanted: ShelfFilter) -> None:
    index = ShelfIndex.of(boards)
    for kind in KINDS:
        for offer in index.offers(wanted, kind):
            asked = wanted.asking(kind, offer.value)
            if kind == "tag":
                asked = replace(wanted, tags=(*wanted.tags, offer.value))
            assert len(index.matching(asked)) == offer.count


@given(st.text(), st.text())
def test_a_text_is_compared_the_same_however_often_it_was_made_plain(one: str, other: str) -> None:
    assert plain(plain(one)) == plain(one)
    assert plain(one) in plain(f"{other} {one}") or not plain(one)


# ---- from the disk


def test_a_board_on_the_disk_is_found_by_all_that_it_says_of_itself(tmp_path: Path) -> None:
    treatments = (
        Treatment("T1", "hot beeswax blend", family="wax", finish="phosphated", protectant="beeswax"),
        Treatment("T2", ""),
    )
    coupons = (
        PlannedCoupon("C1", Position(0, 0), "T1", substrate="mild steel"),
        PlannedCoupon("C2", Position(0, 1), "T2", substrate="1.4301"),
    )
    board = Board("Wall", 1, 2, started=START.replace(year=2024), site="harbour", customer="Ada")
    create_from_plan(tmp_path / "wall", Plan(board, treatments, coupons), clock=clock)
    with closing(Session(tmp_path / "wall", clock=clock)) as session:
        session.do(add_inspection, Inspection(START))
        session.do(set_tags, ["winter", "Öl"])
        session.do(archive)
        session.do(set_forerunner, Forerunner("Shed", None, "", "thicker"))
    (found,) = shelf_entries(Settings(boards_folder=str(tmp_path)))
    assert (found.customer, found.years) == ("Ada", (2024, 2025, 2026))
    assert found.facts == ShelfFacts(
        ("mild steel", "1.4301"), ("hot beeswax blend", "T2"), ("wax", "phosphated", "beeswax"), ("winter", "Öl"),
        True, "Shed",
    )  # fmt: skip


def test_a_board_being_graded_blind_names_no_treatment(tmp_path: Path) -> None:
    make_board(tmp_path / "wall", "Wall", [[9]])
    assert shelf_entries(Settings(boards_folder=str(tmp_path)))[0].facts.treatments == ("hot beeswax blend",)
    with closing(Session(tmp_path / "wall", clock=clock)) as session:
        session.do(start_blind, BlindChoice(1, "bench"))
    (found,) = shelf_entries(Settings(boards_folder=str(tmp_path)))
    assert found.being_graded_blind
    assert (found.facts.treatments, found.facts.kinds) == ((), ())


def test_a_board_that_nobody_has_begun_has_no_years(tmp_path: Path) -> None:
    create_from_plan(tmp_path / "wall", plan("Wall", started=None), clock=clock)
    (found,) = shelf_entries(Settings(boards_folder=str(tmp_path)))
    assert found.years == ()


@pytest.mark.parametrize("spoil", [
    "UPDATE tag SET word = '  '", "UPDATE shelving SET archived = 5", "UPDATE forerunner SET changed = ''",
"UPDATE treatment SET coats = 100000",
    "WITH RECURSIVE n(i) AS (VALUES (1) UNION ALL SELECT i + 1 FROM n WHERE i < 99) INSERT INTO tag (word) "
    "SELECT 'w' || i FROM n",
])  # fmt: skip
def test_a_board_whose_rows_no_version_writes_is_shown_as_damaged(tmp_path: Path, spoil: str) -> None:
    folder = make_board(tmp_path / "wall", "Wall", [[9]])
    with closing(Session(folder, clock=clock)) as session:
        session.do(set_tags, ["wax"])
        session.do(archive)
        session.do(set_forerunner, Forerunner("Shed", None, "", "thicker"))
    with closing(sqlite3.connect(folder / "board.rustboard", isolation_level=None)) as connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        connection.execute(spoil)
    (found,) = shelf_entries(Settings(boards_folder=str(tmp_path)))
    assert "damaged" in found.problem
    assert found.facts == ShelfFacts()
