"""Where a report goes: names, files open elsewhere, and all forms put in place or none."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from rustboard.session.report_forms_wanted import (
    FormTarget,
    FormWanted,
    check_report_folder,
    check_report_name,
    report_name,
    targets_of,
)
from rustboard.session.report_targets import first_held, held, held_sentence, staged
from rustboard.support.problems import InputError

DAY = date(2026, 3, 2)


def test_a_report_is_called_by_board_and_day_and_its_forms_do_not_meet(tmp_path: Path) -> None:
    name = report_name("Quay: north/south", DAY)
    forms = [FormWanted("workbook", ".xlsx"), FormWanted("pdf", ".pdf"), FormWanted("one page", ".pdf"),
             FormWanted("board", ".png"), FormWanted("timeline", ".png"), FormWanted("data", "")]  # fmt: skip
    paths = [each.path for each in targets_of(tmp_path, name, forms)]
    assert name == "Quay- north-south 2026-03-02"
    assert paths[0] == tmp_path / "Quay- north-south 2026-03-02.xlsx"
    assert len(set(paths)) == len(forms)


@pytest.mark.parametrize("name", ["", " . ", "a/b", "..\\b", "con", "n" * 300, "a\nb", "ab\u202ecd", "question?"])
def test_a_name_that_no_file_can_have_everywhere_is_refused(name: str) -> None:
    with pytest.raises(InputError, match="write"):
        check_report_name(name)


def test_the_board_s_own_folders_are_refused(tmp_path: Path) -> None:
    board = tmp_path / "Board"
    (board / "photos" / "deeper").mkdir(parents=True)
    (tmp_path / "link").symlink_to(board / "photos")
    check_report_folder(board, board)
    for inside in (board / "photos", board / "photos" / "deeper", tmp_path / "link"):
        with pytest.raises(InputError, match="board's own files"):
            check_report_folder(inside, board)
    with pytest.raises(InputError, match="no such folder"):
        check_report_folder(tmp_path / "nowhere", board)


# ---- open in another program


def test_a_file_that_is_not_there_or_that_nobody_has_open_can_be_written(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    assert held(path) is None
    path.write_bytes(b"old")
    assert held(path) is None
    assert path.read_bytes() == b"old"


def test_a_name_so_long_that_no_lock_could_lie_beside_it_is_no_trouble(tmp_path: Path) -> None:
    path = tmp_path / f"{'n' * 250}.xls"
    path.write_bytes(b"old")
    assert held(path) is None
    assert held(tmp_path / f"{'n' * 300}.xlsx") is None


@pytest.mark.parametrize(
    ("lock", "content", "who"),
    [
        (".~lock.board.xlsx#", ",mara,desk,02.03.2026 09:00,file:///home/mara;", "mara"),
        (".~lock.board.xlsx#", "Mara Quay,mara,desk,02.03.2026 09:00,file:///home/mara;", "Mara Quay"),
        ("~$board.xlsx", "\x09Mara Quay" + " " * 45, "Mara Quay"),
        ("~$board.xlsx", "", ""),
    ],
)
def test_a_lock_beside_it_says_that_it_is_open_and_by_whom(tmp_path: Path, lock: str, content: str, who: str) -> None:
    path = tmp_path / "board.xlsx"
    path.write_bytes(b"old")
    (tmp_path / lock).write_text(content, encoding="utf-8")
    found = held(path)
    assert found is not None
    assert (found.lock, found.who) == (lock, who)
    assert lock in held_sentence(found)
    assert first_held([FormTarget("data", tmp_path), FormTarget("workbook", path)]) == found


# ---- all or none


def two(tmp_path: Path) -> list[FormTarget]:
    return [FormTarget("workbook", tmp_path / "a.xlsx"), FormTarget("data", tmp_path / "a, data")]


def fill(staging) -> None:
    staging.part(0).write_bytes(b"new")
    (staging.part(1) / "grades.csv").write_bytes(b"new")


def test_all_forms_are_put_in_place_and_nothing_else_is_left(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(b"old")
    with staged(two(tmp_path)) as staging:
        fill(staging)
        assert (tmp_path / "a.xlsx").read_bytes() == b"old"
        written = staging.put_in_place()
    assert written == [tmp_path / "a.xlsx", tmp_path / "a, data" / "grades.csv"]
    assert [each.read_bytes() for each in written] == [b"new", b"new"]
    assert sorted(each.name for each in tmp_path.iterdir()) == ["a, data", "a.xlsx"]


def test_what_is_not_put_in_place_leaves_all_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(b"old")
    with staged(two(tmp_path)) as staging:
        fill(staging)
    assert [each.name for each in tmp_path.iterdir()] == ["a.xlsx"]
    assert (tmp_path / "a.xlsx").read_bytes() == b"old"


def test_one_form_that_cannot_be_replaced_brings_all_the_others_back(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(b"old")
    blocking = tmp_path / "a, data" / "grades.csv"
    with staged(two(tmp_path)) as staging:
        fill(staging)
        blocking.mkdir(parents=True)
        with pytest.raises(InputError, match=r"^grades\.csv: "):
            staging.put_in_place()
    assert (tmp_path / "a.xlsx").read_bytes() == b"old"
    assert sorted(each.name for each in tmp_path.iterdir()) == ["a, data", "a.xlsx"]


def test_a_link_keeps_pointing_where_it_did(tmp_path: Path) -> None:
    real, link = tmp_path / "shared.xlsx", tmp_path / "a.xlsx"
    real.write_bytes(b"old")
    link.symlink_to(real)
    with staged([FormTarget("workbook", link)]) as staging:
        staging.part(0).write_bytes(b"new")
        staging.put_in_place()
    assert link.is_symlink()
    assert real.read_bytes() == b"new"
