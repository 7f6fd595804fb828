"""Which boards are on the shelf, and what each says about itself."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from shelf_boards import START, add_picture, clock, make_board

from rustboard.board.inspection_calendar import NextLook
from rustboard.board.inspection_days import InspectionDays
from rustboard.operations.blind import BlindChoice, GivenBlind, begin_round, give_blind, reveal, start_blind
from rustboard.operations.calendars import set_calendar
from rustboard.operations.coupons import take_off
from rustboard.operations.grading import withdraw_grade
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.session import Session
from rustboard.session.shelf import ShelfEntry, shelf_entries
from rustboard.session.shelf_picture import shelf_picture
from rustboard.support.settings import Settings


@pytest.fixture
def boards(tmp_path: Path) -> Path:
    return tmp_path / "boards"


@pytest.fixture
def settings(boards: Path) -> Settings:
    return Settings(boards_folder=str(boards))


def only(settings: Settings) -> ShelfEntry:
    (entry,) = shelf_entries(settings)
    return entry


def everything_in(folder: Path) -> dict[str, tuple[int, int]]:
    found = sorted(folder.rglob("*"))
    return {str(each.relative_to(folder)): (each.stat().st_size, each.stat().st_mtime_ns) for each in found}


def test_a_card_tells_name_dates_and_last_grades(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "Harbour", "Harbour wall", [[10] * 6, [10, 9, 9, 7, None, 3]])
    entry = only(settings)
    assert (entry.folder, entry.name, entry.site, entry.problem) == (folder, "Harbour wall", "harbour wall", "")
    assert (entry.started, entry.last_inspection) == (START, datetime(2026, 3, 9, 9, 0))
    assert (entry.inspections, entry.coupons, entry.graded) == (2, 6, 6)
    # The fifth coupon was not graded the second time, so its first grade is its last.
    assert entry.last_grades == (0, 0, 0, 1, 0, 0, 0, 1, 0, 2, 2)
    assert entry.places == ((0, 0, 10), (0, 1, 9), (0, 2, 9), (1, 0, 7), (1, 1, 10), (1, 2, 3))


def test_last_grades_are_those_that_the_open_board_shows(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a", [[10, 9, 8, 7, 6, 5], [9, None, 7, None, 5, 4], [8, 8, None, 6, None, 3]])
    with closing(Session(folder, clock=clock)) as session:
        record = session.record
        first, last = record.coupons_in_order()[0], record.inspections_in_order()[-1]
        session.do(withdraw_grade, first.key, last.key)
        session.do(take_off, record.coupons_in_order()[5].key)
        latest = {
            (each.position.row, each.position.column): grading.grade
            for each in record.coupons_in_order()
            if each.position is not None and (grading := record.latest(each.key)) is not None
        }
    assert {(row, column): grade for row, column, grade in only(settings).places} == latest
    assert len(latest) == 5


def test_a_board_nobody_inspected_yet_says_so(boards: Path, settings: Settings) -> None:
    make_board(boards / "new", "new")
    entry = only(settings)
    assert (entry.last_inspection, entry.inspections, entry.graded) == (None, 0, 0)
    assert entry.places[0] == (0, 0, None)


def test_a_board_with_a_hidden_inspection_shows_neither_grades_nor_its_picture(
    boards: Path, settings: Settings
) -> None:
    folder = make_board(boards / "a", "a", [[10, 9], [8, 7]])
    add_picture(folder)
    assert only(settings).graded == 2
    assert only(settings).photo is not None
    with closing(Session(folder, clock=clock)) as session:
        (blind,) = session.do(start_blind, BlindChoice(2, "bench")).tables["blind_inspection"]
        (key,) = session.do(begin_round, blind, "Ann", 7).tables["blind_round"]
        session.do(give_blind, GivenBlind(key, 0, 3))
        hidden = only(settings)
        assert hidden.being_graded_blind
        assert (hidden.graded, set(hidden.last_grades), hidden.photo) == (0, {0}, None)
        assert {grade for _, _, grade in hidden.places} == {None}
        assert (hidden.coupons, hidden.inspections, hidden.name) == (6, 2, "a")
        assert shelf_picture(hidden) == (hidden, b"")
        session.do(reveal, blind)
    shown = only(settings)
    assert not shown.being_graded_blind
    assert shown.photo is not None
    assert shown.last_grades[3] == 1


def test_looking_changes_nothing_in_the_folders(boards: Path, settings: Settings) -> None:
    make_board(boards / "a", "a", [[10, 9]])
    add_picture(boards / "a")
    before = everything_in(boards)
    shelf_entries(settings)
    assert everything_in(boards) == before


def test_an_open_board_is_on_the_shelf_too(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a", [[10]])
    with closing(Session(folder, clock=clock)) as session:
        assert session.read_only_reason == ""
        assert only(settings).graded == 1


def test_a_write_that_was_cut_off_does_not_hide_a_board(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a", [[10]])
    file, journal = folder / "board.rustboard", folder / "board.rustboard-journal"
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("PRAGMA cache_size = 1")  # so that changed pages reach the file before the commit
        connection.execute("BEGIN")
        connection.executemany(
            "INSERT INTO audit (at, who, operation, pattern, parts) VALUES ('', '', ?, '', '[]')",
            [("x" * 4_000,)] * 50,
        )
        cut_off = file.read_bytes(), journal.read_bytes()
        connection.execute("ROLLBACK")
    file.write_bytes(cut_off[0])
    journal.write_bytes(cut_off[1])
    assert (only(settings).name, only(settings).problem) == ("a", "")
    assert journal.read_bytes() == cut_off[1]


def test_the_board_inspected_last_comes_first_and_a_broken_one_last(boards: Path, settings: Settings) -> None:
    make_board(boards / "b", "older", [[9]], first=datetime(2025, 1, 1))
    make_board(boards / "a", "newer", [[9]], first=datetime(2026, 1, 1))
    make_board(boards / "c", "made just now")
    (boards / "0").mkdir()
    (boards / "0" / "board.rustboard").write_bytes(b"")
    assert [each.name for each in shelf_entries(settings)] == ["made just now", "newer", "older", "0"]


def test_folders_without_a_board_and_boards_deeper_down_are_left_out(boards: Path, settings: Settings) -> None:
    make_board(boards / "season" / "a", "deep")
    (boards / "workbooks").mkdir()
    (boards / "list.txt").write_text("x")
    make_board(boards / ".hidden.part", "half made")
    assert shelf_entries(settings) == []


def test_a_board_opened_elsewhere_is_on_the_shelf_once(boards: Path, settings: Settings, tmp_path: Path) -> None:
    inside = make_board(boards / "a", "inside")
    outside = make_board(tmp_path / "elsewhere" / "b", "outside")
    settings.recent = [str(outside), str(inside), str(outside / ".." / "b"), str(tmp_path / "gone"), "", "\0"]
    assert sorted(each.name for each in shelf_entries(settings)) == ["inside", "outside"]


@pytest.mark.skipif(os.name == "nt", reason="links need rights of their own on Windows")
def test_a_link_to_a_board_is_not_a_second_board(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a")
    (boards / "b").symlink_to(folder, target_is_directory=True)
    (boards / "loop").symlink_to(boards / "loop")
    assert len(shelf_entries(settings)) == 1


def test_no_boards_folder_is_an_empty_shelf(settings: Settings) -> None:
    assert shelf_entries(settings) == []


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read every folder")
def test_a_boards_folder_that_may_not_be_read_is_told(boards: Path, settings: Settings) -> None:
    boards.mkdir()
    boards.chmod(0)
    try:
        assert "may not be read" in only(settings).problem
    finally:
        boards.chmod(0o700)


def test_a_recent_folder_that_lost_its_board_is_shown_with_the_reason(settings: Settings, tmp_path: Path) -> None:
    (tmp_path / "once").mkdir()
    settings.recent = [str(tmp_path / "once")]
    entry = only(settings)
    assert entry.name == "once"
    assert entry.problem.startswith("There is no board here")


def plan_looks(folder: Path, *days: int, remind: bool = True) -> None:
    with closing(Session(folder, clock=clock)) as session:
        session.do(set_calendar, InspectionDays(days, remind=remind))


def test_a_card_tells_when_the_next_look_is_due(boards: Path, settings: Settings) -> None:
    plan_looks(make_board(boards / "a", "a", [[10], [9]]), 0, 7, 14, 28)
    (entry,) = shelf_entries(settings, clock=lambda: datetime(2026, 3, 18, 22, 0))
    assert entry.next_look == NextLook(14, datetime(2026, 3, 16, 9, 0), 2, 0)


def test_days_count_from_the_first_inspection_where_no_start_is_stated(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a", [[10]])
    plan_looks(folder, 0, 7)
    with closing(sqlite3.connect(folder / "board.rustboard")) as connection, connection:
        connection.execute("UPDATE board SET started = NULL")
    (entry,) = shelf_entries(settings, clock=lambda: datetime(2026, 3, 9))
    assert entry.next_look == NextLook(7, datetime(2026, 3, 9, 9, 0), 0, 0)


def test_there_is_no_reminder_without_a_calendar_or_where_none_is_wanted(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a", [[10]])
    assert only(settings).next_look is None
    plan_looks(folder, 0, 7, remind=False)
    assert only(settings).next_look is None
    plan_looks(folder, 0, 7)
    assert only(settings).next_look is not None


def test_reminders_do_not_change_the_order(boards: Path, settings: Settings) -> None:
    plan_looks(make_board(boards / "a", "older", [[10]], first=datetime(2025, 1, 1)), 0, 7)
    make_board(boards / "b", "newer", [[10]], first=datetime(2026, 1, 1))
    assert [each.name for each in shelf_entries(settings)] == ["newer", "older"]


def damage_name(connection: sqlite3.Connection) -> None:
    connection.execute("DELETE FROM board")


def damage_date(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE inspection SET at = 'yesterday'")


def damage_start(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE board SET started = '2026-02-30'")


def damage_placing(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE photo SET mm_to_px = '[1, 2'")


def damage_placing_numbers(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE photo SET mm_to_px = '[1, 2, 3, 4, 5, 6, 7, 8, 1e999]'")


def beyond_all_rows(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE board SET row_count = 100000000")


def immense_width(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE board SET width_mm = 1e308")


def grade_that_the_scale_lacks(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE grading SET grade = 99")


def coupon_beyond_the_board(connection: sqlite3.Connection) -> None:
    connection.execute("UPDATE coupon SET column_number = 3 WHERE key = 1")


def too_many_coupons(connection: sqlite3.Connection) -> None:
    connection.execute(
        "WITH RECURSIVE n(i) AS (SELECT 10 UNION ALL SELECT i + 1 FROM n WHERE i < 1010) INSERT INTO coupon"
        " SELECT i, 'X' || i, 0, 1000 + i, NULL, 'test', '', '[]', '' FROM n"
    )


def calendar_of(row: str) -> Callable[[sqlite3.Connection], None]:
    def damage(connection: sqlite3.Connection) -> None:
        connection.execute(f"INSERT INTO calendar SELECT *, '{'ab' * 12}' FROM (VALUES {row})")

    return damage


def newer_format(connection: sqlite3.Connection) -> None:
    connection.execute("PRAGMA user_version = 99")


def foreign_table(connection: sqlite3.Connection) -> None:
    connection.execute("CREATE TABLE other (x)")


@pytest.mark.parametrize(
    ("damage", "words"),
    [
        (damage_name, "damaged"),
        (damage_date, "damaged"),
        (damage_start, "damaged"),
        (damage_placing, "damaged"),
        (damage_placing_numbers, "damaged"),
        (beyond_all_rows, "damaged"),
        (immense_width, "damaged"),
        (grade_that_the_scale_lacks, "damaged"),
        (coupon_beyond_the_board, "damaged"),
        (too_many_coupons, "damaged"),
        (calendar_of("(1, '[4, 2]', '09:00', 1)"), "damaged"),
        (calendar_of("(1, '[-1]', '09:00', 1)"), "damaged"),
        (calendar_of("(1, '[1e9]', '09:00', 1)"), "damaged"),
        (calendar_of("(1, '{', '09:00', 1)"), "damaged"),
        (calendar_of("(1, '[1]', 'noon', 1)"), "damaged"),
        (calendar_of("(1, '[1]', '09:00', 7)"), "damaged"),
        (calendar_of("(1, '[1]', '09:00', 1), (2, '[1]', '09:00', 1)"), "damaged"),
        (newer_format, "newer version"),
        (foreign_table, "altered"),
    ],
)
def test_a_board_that_cannot_be_opened_is_shown_with_the_reason(
    boards: Path, settings: Settings, damage: object, words: str
) -> None:
    folder = make_board(boards / "Harbour", "Harbour wall", [[9]])
    add_picture(folder)
    with closing(sqlite3.connect(folder / "board.rustboard")) as connection, connection:
        connection.execute("PRAGMA ignore_check_constraints = ON")
        damage(connection)  # type: ignore[operator]
    entry = only(settings)
    assert (entry.folder, entry.name) == (folder, "Harbour")
    assert words in entry.problem
    assert entry.problem.endswith(".")


def test_a_file_too_large_to_be_copied_for_a_look_is_shown_with_the_reason(
    boards: Path, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = make_board(boards / "Harbour", "Harbour wall", [[9]])
    with closing(sqlite3.connect(folder / "board.rustboard")) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
    with (folder / "board.rustboard").open("r+b") as stream:
        stream.truncate(3 << 30)  # sparse
    monkeypatch.setattr("rustboard.store.database.copy_whole", _no_copy)
    assert "more than 64 MiB its file is too large to be copied for a look; open the board" in only(settings).problem


def _no_copy(*_: object) -> None:
    raise AssertionError("a private copy was begun")


def test_names_from_strangers_come_through_as_they_are(boards: Path, settings: Settings) -> None:
    folder = make_board(boards / "a", "a")
    name = "=1+1 <b>🧲</b> " + "x" * 400
    with closing(sqlite3.connect(folder / "board.rustboard")) as connection, connection:
        connection.execute("UPDATE board SET name = ?", (name,))
    assert only(settings).name == name


def test_looking_can_be_stopped_and_tells_how_far_it_is(boards: Path, settings: Settings) -> None:
    for name in "abc":
        make_board(boards / name, name)
    told: list[tuple[int, int]] = []
    progress = Progress(lambda done, total: told.append((done, total)))
    assert len(shelf_entries(settings, progress)) == 3
    assert told == [(0, 3), (1, 3), (2, 3)]
    progress.cancel()
    with pytest.raises(Cancelled):
        shelf_entries(settings, progress)


def test_the_shelf_is_bounded(boards: Path, settings: Settings, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("rustboard.session.shelf.MOST_BOARDS", 2)
    for name in "abc":
        make_board(boards / name, name)
    assert len(shelf_entries(settings)) == 2
