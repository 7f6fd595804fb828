"""Several boards read from disk, matched, confirmed and pooled."""

from __future__ import annotations

from contextlib import closing
from dataclasses import replace

import pytest
from blind_steps import start
from boards_together import FIRST, WALL, later, put_board, three_boards
from weathered_boards import put_readings, steady_table

from rustboard.findings.boards.matching_changes import changed
from rustboard.operations.treatments import edit_treatment
from rustboard.session.board_matchings import BoardMatchings
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.other_boards import PoolRequest, ReadRequest, pool_boards, read_boards
from rustboard.session.session import Session
from rustboard.support import paths
from rustboard.support.problems import InputError


@pytest.fixture
def folders(tmp_path):
    return three_boards(tmp_path / "boards")


def read(*folders):
    return read_boards(ReadRequest(folders), Progress())


def pooled(boards, **asked):
    return pool_boards(PoolRequest(boards, boards.matching, **asked), Progress())


def rows(matching):
    return [(each.name, each.treatments, each.sure) for each in matching.common]


def test_boards_are_read_and_matched_by_recipe(folders):
    boards = read(*folders)
    assert boards.matching.boards == ("Harbour wall", "Back yard", "Roof")
    assert not boards.confirmed
    assert rows(boards.matching) == [
        ("hot wax", ("T1", "T1", "T1"), "certain"),
        ("oil", ("T2", "T3", ""), "certain"),
        ("varnish", ("", "T2", ""), "none"),
        ("control", ("control", "control", "control"), "certain"),
    ]


def test_pooled_over_the_exposure_that_all_boards_reached(folders):
    found = pooled(read(*folders))
    assert found.shared == 42
    assert [each.request.clock.places[-1] for each in found.subjects] == [42, 21, 42]
    assert [each.clock.places[-1] for each in found.whole] == [42, 60, 42]
    wax, oil = found.findings.pooled
    assert [each.board for each in oil.effects] == ["Harbour wall", "Back yard"]
    assert wax.difference > 3
    assert found.findings.verdict[0].text().startswith("Over 3 boards hot wax did better than control by ")
    everything = pooled(read(*folders), shared_only=False)
    assert everything.shared is None
    assert pooled(read(*folders), measure="days to failing grade").shared is None


def test_a_confirmed_matching_is_found_again_in_any_order(folders):
    boards = read(*folders)
    told = changed(boards.matching, 1, 1, "")
    BoardMatchings().confirm(boards.folders, told)
    assert paths.matchings_file().exists()
    again = read(*folders[::-1])
    assert again.confirmed
    assert [(each.name, each.treatments[::-1]) for each in again.matching.common] == [
        (each.name, each.treatments) for each in told.common
    ]
    assert not read(*folders[:2]).confirmed
    BoardMatchings().confirm(boards.folders, boards.matching)
    assert read(*folders).matching == boards.matching


def test_what_was_confirmed_no_longer_fits_a_board_with_another_treatment(folders):
    boards = read(*folders)
    BoardMatchings().confirm(boards.folders, boards.matching)
    with closing(Session(folders[0], clock=later)) as session:
        key = next(key for key, each in session.record.treatments.items() if each.id == "T2")
        session.do(edit_treatment, replace(session.record.treatments[key], id="T9"))
    assert not read(*folders).confirmed


def test_a_damaged_list_is_told_and_put_aside(folders):
    paths.matchings_file().parent.mkdir(parents=True, exist_ok=True)
    paths.matchings_file().write_text('{"format": 1, "matchings": [{"boards": ["a"], "rows": []}]}')
    boards = read(*folders)
    assert "is damaged" in boards.problem
    assert read(*folders).problem == ""


def test_a_board_being_graded_blind_is_refused(folders, tmp_path):
    hidden = put_board(tmp_path / "boards" / "blind", "Porch", WALL, days=(7, 21, 42, 60))
    with closing(Session(hidden, clock=later)) as session:
        start(session, max(session.record.inspections))
    with pytest.raises(InputError, match="“Porch” is being graded blind; finish and reveal it first"):
        read(folders[0], hidden)


def test_a_board_twice_or_none_at_all_is_refused(folders, tmp_path):
    with pytest.raises(InputError, match="chosen twice"):
        read(folders[0], tmp_path / "boards" / ".." / "boards" / "wall")
    with pytest.raises(InputError):
        read(folders[0], tmp_path / "nowhere")


def test_clocks_that_a_board_does_not_have_are_refused_by_name(folders, tmp_path):
    with pytest.raises(InputError, match="Of the board “Harbour wall” no weather is known"):
        pooled(read(*folders), clock="wet hours")
    bare = put_board(tmp_path / "boards" / "bare", "Shed", {"hot wax": [(9, 8, 7)] * 2})
    with pytest.raises(InputError, match="“Shed” has no graded controls"):
        pooled(read(folders[0], bare), clock="controls")
    assert pooled(read(*folders), clock="controls").whole[0].clock.kind == "controls"


def test_boards_on_the_clock_of_their_own_weather(tmp_path):
    folders = []
    for name, wet_days in (("one", 60), ("two", 60)):
        folder = put_board(tmp_path / name, name, WALL)
        with closing(Session(folder, clock=later)) as session:
            put_readings(session, steady_table(FIRST, wet_days))
        folders.append(folder)
    found = pooled(read(*folders), clock="wet hours", measure="mean grade")
    assert found.whole[0].clock.places == pytest.approx((7 * 24, 21 * 24, 42 * 24), rel=0.01)
    assert found.findings.pooled[0].difference > 3


def test_work_can_be_stopped(folders):
    boards, stopped = read(*folders), Progress()
    stopped.cancel()
    with pytest.raises(Cancelled):
        read_boards(ReadRequest(folders), stopped)
    with pytest.raises(Cancelled):
        pool_boards(PoolRequest(boards, boards.matching), stopped)


def test_boards_never_inspected_say_that_nothing_can_be_pooled(tmp_path):
    folders = [put_board(tmp_path / name, name, WALL, days=()) for name in ("a", "b")]
    for clock in ("days", "wet hours", "controls"):
        found = pooled(read(*folders), clock=clock)
        assert "nothing can be pooled" in found.findings.verdict[0].text()
