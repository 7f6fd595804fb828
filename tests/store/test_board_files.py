"""What is opened as a board, and what is refused with which sentence."""

import os
import shutil
import sqlite3
import sys
from contextlib import closing

import pytest
from store_boards import NOW, do, empty_board, folder_state, graded_board, opened, plant, raw

from rustboard.board.model import Board, Inspection, Marker
from rustboard.operations.boards import edit_board
from rustboard.operations.inspections import add_inspection
from rustboard.session.new_board import copy_board
from rustboard.store import schema
from rustboard.store.board_store import BoardStore, create_board
from rustboard.store.tables import BoardRow
from rustboard.support.problems import InputError

NO_BOARD = "This is not a board file; choose another, or restore a copy from the backups folder beside it."
NO_FILE = "There is no board here; choose a folder with a board.rustboard file."
DAMAGED = "The board file is damaged or cut short; restore the newest copy from the backups folder beside it."
ALTERED = (
    "The tables in this file are not those of a board; it was altered by another program. "
    "Restore a copy from the backups folder beside it."
)
posix = pytest.mark.skipif(
    sys.platform == "win32", reason="Windows has no such files, or asks for rights to make them"
)


def refusal(path):
    with pytest.raises(InputError) as caught:
        BoardStore(path, now=NOW)
    return caught.value.problem.what


def test_a_new_board_holds_what_it_was_made_from(tmp_path):
    row = BoardRow(Board("Kai 7", 4, 5, 700, 400, 3, NOW, incline_deg=45, note="a\nb"), (Marker(1, (20, 20), 30),))
    create_board(tmp_path / "new", row)
    with opened(tmp_path / "new") as store:
        record = store.read()
    assert (record.board, record.markers) == (row.board, row.markers)
    assert (record.coupons, record.current) == ({}, {})


def test_a_new_board_file_carries_the_marks_and_the_tables_of_format_7(tmp_path):
    with raw(empty_board(tmp_path / "b")) as connection:
        assert connection.execute("PRAGMA application_id").fetchone() == (0x52757374,)
        assert connection.execute("PRAGMA user_version").fetchone() == (7,)
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)
        assert schema.objects_of(connection) == schema.FORMATS.expected_objects(schema.FORMAT)
        strict = dict(connection.execute("SELECT name, strict FROM pragma_table_list WHERE schema = 'main'"))
    assert {name for name, is_strict in strict.items() if is_strict} == {
        "board", "axis_label", "treatment", "coupon", "inspection", "grading", "photo",
        "journal", "journal_row", "audit", "recipe", "question", "layout", "lot", "calendar",
        "measurement", "stroke", "excluded_area", "card", "disturbance",
        "blind_inspection", "blind_round", "blind_grade", "pair_choice", "damage",
        "weather_file", "weather_content", "day_note", "site", "weighing", "left_out",
        "tag", "shelving", "forerunner",
    }  # fmt: skip


@pytest.mark.parametrize("board", [Board("x", rows=61), Board("x", columns=0), Board("x", width_mm=float("nan")),
                                   Board("x", height_mm=1e7), Board("x", facing_deg=float("inf")),
                                   Board("x", started=NOW.replace(year=1))])  # fmt: skip
def test_a_board_that_could_not_be_read_back_is_not_made(tmp_path, board):
    with pytest.raises(InputError, match="The new board's grid, size, angles, start or markers are not possible"):
        create_board(tmp_path / "new", BoardRow(board))
    assert list(tmp_path.iterdir()) == []


def test_a_name_that_is_no_text_is_made_safe_in_a_new_board(tmp_path):
    create_board(tmp_path / "new", BoardRow(Board("a\ud800\x00b")))
    with opened(tmp_path / "new") as store:
        assert store.read().board.name == "a\ufffd\ufffdb"


def test_a_board_opens_by_its_folder_and_by_its_file(tmp_path):
    folder = empty_board(tmp_path / "b")
    for path in (folder, folder / "board.rustboard"):
        with opened(path) as store:
            assert store.folder == folder
            assert store.read_only_reason == ""


@posix
def test_whoever_opens_a_board_through_a_link_finds_the_same_lock(tmp_path):
    folder = empty_board(tmp_path / "b")
    (tmp_path / "folder link").symlink_to(folder)
    (tmp_path / "file link").symlink_to(folder / "board.rustboard")
    with opened(folder):
        for link in ("folder link", "file link"):
            with opened(tmp_path / link) as second:
                assert "open in another window on this computer" in second.read_only_reason
    with opened(tmp_path / "file link") as store:
        assert store.folder == folder.resolve()


@pytest.mark.parametrize("name", ["50 % off? #1 & more;", "Ж 蜜蝋 🐝", "a'b\"c" if os.name == "posix" else "a'b"])
def test_any_name_will_do_for_a_board_folder(tmp_path, name):
    with opened(graded_board(tmp_path / name)) as store:
        assert len(store.read().coupons) == 3


@posix
def test_the_name_of_a_folder_need_not_be_text(tmp_path):
    folder = graded_board(tmp_path / os.fsdecode(b"caf\xe9 \xff"))
    copy_board(folder, tmp_path / os.fsdecode(b"copy \xfe"))
    with opened(tmp_path / os.fsdecode(b"copy \xfe")) as store:
        assert len(store.read().coupons) == 3


def test_where_there_is_no_board_the_sentence_says_so_and_nothing_is_made(tmp_path):
    assert refusal(tmp_path) == NO_FILE
    assert refusal(tmp_path / "no such folder" / "board.rustboard") == NO_FILE
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_no_board_is_refused_and_nothing_is_put_beside_it(tmp_path):
    for content in (b"", b"Dear customer,\n" * 100, b"PK\x03\x04" + bytes(2000), bytes(4096)):
        (tmp_path / "letter.txt").write_bytes(content)
        before = folder_state(tmp_path)
        assert refusal(tmp_path / "letter.txt") == NO_BOARD
        assert folder_state(tmp_path) == before


def test_names_that_no_file_can_have_are_refused(tmp_path):
    too_long = "The name is too long for this disk; choose a shorter one."
    assert refusal(tmp_path / ("x" * 400)) in {
        too_long,
        "There is no board here; choose a folder with a board.rustboard file.",
    }
    for name in ("a\0b", "\ud800"):
        assert refusal(tmp_path / name) == "No file can have this name; choose another."


@posix
def test_a_pipe_in_the_place_of_the_board_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "board.rustboard")
    assert refusal(tmp_path) == NO_BOARD


@posix
def test_a_pipe_in_the_place_of_the_journal_is_not_waited_for(tmp_path):
    folder = empty_board(tmp_path / "b")
    os.mkfifo(folder / "board.rustboard-journal")
    assert refusal(folder) == NO_BOARD


def test_a_folder_in_the_place_of_the_board_file_is_refused(tmp_path):
    (tmp_path / "board.rustboard").mkdir()
    assert refusal(tmp_path) == NO_BOARD


def test_another_programs_database_is_refused(tmp_path):
    with closing(sqlite3.connect(tmp_path / "board.rustboard")) as connection:
        connection.execute("CREATE TABLE song (title)")
    assert refusal(tmp_path) == "This is another program's database, not a board; choose a board.rustboard file."
    assert [each.name for each in tmp_path.iterdir()] == ["board.rustboard"]


def test_a_board_of_a_newer_version_is_refused(tmp_path):
    folder = empty_board(tmp_path / "b")
    plant(folder, "PRAGMA user_version = 8")
    sentence = (
        "This board was written by a newer version of Rustboard (format 8, this program reads up to 7); install the "
        "newest Rustboard to open it."
    )
    assert refusal(folder) == sentence
    with pytest.raises(InputError) as caught:
        BoardStore(folder, now=NOW, read_only=True)
    assert str(caught.value) == f"board.rustboard: {sentence}"


@pytest.mark.parametrize("version", [0, -3])
def test_a_format_that_never_was_is_refused_for_writing_and_for_reading(tmp_path, version):
    folder = empty_board(tmp_path / "b")
    plant(folder, f"PRAGMA user_version = {version}", "CREATE VIEW spy AS SELECT * FROM coupon")
    for read_only in (False, True):
        with pytest.raises(InputError) as caught:
            BoardStore(folder, now=NOW, read_only=read_only)
        assert caught.value.problem.what.startswith(f"No version of Rustboard wrote format {version}; the file was")


@pytest.mark.parametrize("statement", [
    "CREATE TRIGGER t AFTER INSERT ON grading BEGIN DELETE FROM audit; END",
    "CREATE VIEW v AS SELECT * FROM coupon",
    "CREATE TABLE extra (x)",
    "CREATE VIRTUAL TABLE f USING fts5(x)",
    "CREATE INDEX i ON coupon (note)",
    "ALTER TABLE coupon ADD COLUMN extra TEXT",
    "ALTER TABLE coupon RENAME COLUMN note TO remark",
    "DROP TABLE photo",
    "DROP INDEX one_current_grade",
])  # fmt: skip
def test_a_file_with_other_tables_than_ours_is_refused(tmp_path, statement):
    folder = empty_board(tmp_path / "b")
    try:
        plant(folder, statement)
    except sqlite3.OperationalError as error:
        pytest.skip(f"this SQLite cannot do it: {error}")
    assert refusal(folder) == ALTERED


def test_a_view_in_the_place_of_a_table_is_never_asked(tmp_path):
    folder = empty_board(tmp_path / "b")
    spy = "SELECT 1 AS key, 'row' AS axis, 0 AS number, randomblob(1e9) AS label"
    plant(folder, "DROP TABLE axis_label", f"CREATE VIEW axis_label AS {spy}")
    assert refusal(folder) == ALTERED


def test_a_board_cut_short_anywhere_opens_or_is_refused_with_a_sentence(tmp_path):
    whole = (graded_board(tmp_path / "b") / "board.rustboard").read_bytes()
    cut = tmp_path / "cut"
    cut.mkdir()
    lengths = [*range(0, 100, 9), 511, 512, 513, *range(1000, len(whole), 997), *range(4096, len(whole), 4096)]
    lengths.append(len(whole) - 1)
    for length in lengths:
        (cut / "board.rustboard").write_bytes(whole[:length])
        assert refusal(cut) in {NO_BOARD, DAMAGED}, length


def test_a_page_overwritten_is_called_damage(tmp_path):
    folder = graded_board(tmp_path / "b")
    file = folder / "board.rustboard"
    content = bytearray(file.read_bytes())
    content[4096:] = b"\xa5" * (len(content) - 4096)
    file.write_bytes(content)
    with pytest.raises(InputError) as caught, opened(folder) as store:
        store.read()
    assert caught.value.problem.what == DAMAGED


def test_a_board_that_was_left_in_write_ahead_mode_is_brought_back_to_one_file(tmp_path):
    folder = graded_board(tmp_path / "b")
    plant(folder, "PRAGMA journal_mode = WAL")
    with opened(folder) as store:
        do(store, add_inspection, Inspection(NOW.replace(year=2027)))
    assert not list(folder.glob("board.rustboard-*"))
    with raw(folder) as connection:
        assert connection.execute("PRAGMA journal_mode").fetchone() == ("delete",)


@posix
def test_when_the_file_is_replaced_while_it_is_open_nothing_is_written_into_the_void(tmp_path):
    folder = graded_board(tmp_path / "b")
    with opened(folder) as store:
        shutil.copyfile(folder / "board.rustboard", tmp_path / "synced")
        os.replace(tmp_path / "synced", folder / "board.rustboard")
        with pytest.raises(InputError, match="was moved, or its file was replaced, while it was open; open it again"):
            do(store, edit_board, Board("new name"))
    with opened(folder) as store:
        assert store.read().board.name == "Harbour wall"


def test_a_mistake_of_ours_is_never_called_damage(tmp_path):
    store = BoardStore(empty_board(tmp_path / "b"), now=NOW)
    store.close()
    with pytest.raises(sqlite3.ProgrammingError):
        store.read()


def test_a_board_is_used_from_one_thread_only(tmp_path):
    import threading

    caught = []
    with opened(empty_board(tmp_path / "b")) as store:

        def read():
            try:
                store.read()
            except sqlite3.ProgrammingError as error:
                caught.append(error)

        thread = threading.Thread(target=read)
        thread.start()
        thread.join()
    assert len(caught) == 1


def test_opening_for_reading_only_leaves_no_trace(tmp_path):
    folder = graded_board(tmp_path / "b")
    before = folder_state(folder)
    with opened(folder, read_only=True) as store:
        store.read()
        assert store.next_step("undo") is not None
        with pytest.raises(InputError, match=r"^The board was opened for reading only\.$"):
            do(store, edit_board, Board("new name"))
    assert folder_state(folder) == before
