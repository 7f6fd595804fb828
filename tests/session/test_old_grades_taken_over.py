"""Old grades from files: the same grades again, hostile files, photos dated and tied."""

from __future__ import annotations

import os
import tempfile
import zipfile
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openpyxl import Workbook
from PIL import Image

from rustboard.board.cells import identity
from rustboard.board.grade import SOURCES
from rustboard.board.model import Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.old_grades.past_board import old_treatments, past_board, usual_choice
from rustboard.board.position import Position
from rustboard.board.record import BoardRecord
from rustboard.operations.past_boards import import_old_grades, match_old_grades
from rustboard.report.tidy import grades_csv, tidy_grades
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.looking import look_at_board
from rustboard.session.old_grades import (
    DatedPhoto,
    OldTable,
    TableRequest,
    load_old_file,
    make_past_board,
    read_old_table,
)
from rustboard.session.old_photos import date_in_name, nearest, scan_folder, with_time
from rustboard.session.reporting import write_report
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines, one_line

HOSTILE = [
    "=1+1",
    "'=1",
    "@x",
    "-3",
    "+",
    "007",
    "1/2",
    "a\u202eb",
    "😀",
    "x005F_",
    "Mean",
    "total",
    "control",
    "2026-03-02",
]
names = st.one_of(st.sampled_from(HOSTILE), st.text(max_size=12), st.just("n" * 1000)).map(one_line).filter(bool)
notes = st.one_of(st.sampled_from(["", "a\nb", "'=x", "= 1"]), st.text(max_size=30)).map(many_lines)
moments = st.datetimes(datetime(1900, 1, 1), datetime(2200, 12, 31, 23, 59, 59)).map(
    lambda each: each.replace(microsecond=0)
)


@st.composite
def records(draw: st.DrawFn) -> BoardRecord:
    unique = st.lists(names, unique_by=identity, max_size=4)
    treatments = {n: Treatment(name, draw(names), key=n) for n, name in enumerate(draw(unique), 1)}
    ids = draw(st.lists(names, unique_by=identity, min_size=1, max_size=5))
    coupons = {
        n: Coupon(
            name,
            draw(st.sampled_from([None, Position(0, n)])),
            draw(st.sampled_from([None, *treatments])),
            draw(st.sampled_from(["test", "control"])),
            key=n,
        )
        for n, name in enumerate(ids, 1)
    }
    inspections = {
        n: Inspection(at, key=n)
        for n, at in enumerate(draw(st.lists(moments, unique=True, min_size=1, max_size=3)), 1)
    }
    current: dict[int, dict[int, Grading]] = {}
    key = 0
    for coupon in coupons:
        for inspection in draw(st.sets(st.sampled_from(list(inspections)))):
            key += 1
            grade = draw(st.integers(0, 10))
            letter = draw(st.sampled_from(["", "S", "G", "P", "H"])) if 1 <= grade <= 9 else ""
            percent = draw(st.one_of(st.none(), st.floats(0, 100)))
            texts = (draw(st.one_of(st.just(""), names)), draw(st.sampled_from(SOURCES)), draw(notes))
            current.setdefault(coupon, {})[inspection] = Grading(
                key, coupon, inspection, grade, letter, percent, *texts, "2026-03-02T09:00:00"
            )
    return BoardRecord(Board("Board", 3, 7), treatments, coupons, inspections, current=current)


def opened(path: Path) -> OldTable:
    return read_old_table(TableRequest(load_old_file(path, Progress())), Progress())


def made(table: OldTable, folder: Path, photos: tuple[DatedPhoto, ...] = ()) -> BoardRecord:
    """Make the board that a table makes when nobody says otherwise."""
    reading, ours = table.reading, table.ours
    past = past_board(reading, ours, old_treatments(reading, ours), usual_choice(reading, ours))
    make_past_board(folder, past, photos, "Ann", Progress())
    return look_at_board(folder)


def same(before: BoardRecord, path: Path) -> None:
    if not any(before.current.values()):
        return
    table = opened(path)
    assert table.reading.layout.ours
    assert table.reading.problems == ()
    after = made(table, path.parent / "made")
    assert list(tidy_grades(after)) == list(tidy_grades(before))


@settings(max_examples=40, deadline=None)
@given(records())
def test_the_tidy_text_gives_the_same_grades_again(record: BoardRecord) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "grades.csv")
        path.write_text(grades_csv(record), encoding="utf-8")
        same(record, path)


@settings(max_examples=12, deadline=None)
@given(records())
def test_the_workbook_gives_the_same_grades_again(record: BoardRecord) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "report.xlsx")
        write_report(record, path, datetime(2026, 3, 2, 9), "Ann", Progress())
        same(record, path)


def workbook(folder: Path, *rows: tuple[object, ...], name: str = "old.xlsx") -> Path:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    for row in rows:
        sheet.append(row)
    book.save(folder / name)
    return folder / name


def test_a_sheet_with_dates_numbers_percents_and_a_hidden_sheet(tmp_path: Path) -> None:
    book = Workbook()
    hidden = book.active
    assert hidden is not None
    hidden.title, hidden.sheet_state = "secret", "hidden"
    sheet = book.create_sheet("Tabelle1")
    sheet.append(["Harbour wall"])
    sheet.merge_cells("A1:D1")
    sheet.append(["Coupon", datetime(2019, 3, 2), datetime(2019, 3, 9, 14, 30), "% 2019-03-16"])
    sheet.append([1, 10, 9.0, 0.002])
    sheet["B2"].number_format, sheet["D3"].number_format = "dd.mm.yyyy", "0.0%"
    sheet.append([2, "=1/0", 8, None])
    book.save(tmp_path / "old.xlsx")
    file = load_old_file(tmp_path / "old.xlsx", Progress())
    assert file.sheets == ("Tabelle1", "secret")
    assert file.likely == "Tabelle1"
    reading = read_old_table(TableRequest(file), Progress()).reading
    assert [(each.coupon, each.when, each.has_hour, each.grade) for each in reading.grades] == [
        ("1", datetime(2019, 3, 2), False, 10),
        ("1", datetime(2019, 3, 9, 14, 30), True, 9),
        ("2", datetime(2019, 3, 9, 14, 30), True, 8),
    ]
    (problem,) = reading.problems
    assert "no result for this cell's formula" in problem.what
    assert (problem.row, problem.column) == (4, "B (2019-03-02)")


def test_hostile_files_are_refused_with_a_sentence(tmp_path: Path) -> None:
    bomb = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", "<workbook/>")
        archive.writestr("xl/worksheets/sheet1.xml", b" " * (257 << 20))
    with pytest.raises(InputError, match="unpacks to more than 256 MB; a table of grades is far smaller"):
        load_old_file(bomb, Progress())
    document = tmp_path / "entities.xlsx"
    with zipfile.ZipFile(document, "w") as archive:
        archive.writestr("xl/workbook.xml", '<!DOCTYPE x [<!ENTITY a "b">]><workbook/>')
    with pytest.raises(InputError, match="might grow without end"):
        load_old_file(document, Progress())
    os.mkfifo(tmp_path / "pipe.csv")
    with pytest.raises(InputError, match="This is no file"):
        load_old_file(tmp_path / "pipe.csv", Progress())
    (tmp_path / "old.ods").write_bytes(b"PK\x03\x04")
    with pytest.raises(InputError, match="format are not read"):
        load_old_file(tmp_path / "old.ods", Progress())
    (tmp_path / "empty.csv").write_bytes(b"\x00\x01\x02")
    with pytest.raises(InputError, match="not a text file"):
        opened(tmp_path / "empty.csv")


def test_names_with_formulas_and_control_characters_are_kept_as_text(tmp_path: Path) -> None:
    path = workbook(tmp_path, ("Coupon", "Treatment", "2026-03-02"), ("@SUM(1)", "wax\tthin", 9))
    record = made(opened(path), tmp_path / "made")
    assert [each.id for each in record.coupons.values()] == ["@SUM(1)"]
    assert [each.name for each in record.treatments.values()] == ["wax thin"]


def test_a_board_is_made_whole_and_says_where_it_comes_from(tmp_path: Path) -> None:
    path = workbook(tmp_path, ("Coupon", "2026-03-02", "2026-03-09"), ("C01", 10, 8), ("C02", 9, None))
    record = made(opened(path), tmp_path / "made")
    assert record.board.name == "old"
    assert [each.note for each in record.inspections.values()] == ["Imported from old.xlsx, sheet Sheet."] * 2
    with closing(Session(tmp_path / "made")) as session:
        last = session.audit()[-1][3].text()
        assert last == "Import 2 coupons and 3 grades from old.xlsx, sheet Sheet"
        session.undo()
        assert not session.record.coupons
        assert not session.record.inspections
    with pytest.raises(InputError):
        made(opened(path), tmp_path / "made")


def test_grades_for_the_open_board_are_matched_by_day_and_one_undo_takes_them_back(tmp_path: Path) -> None:
    first = workbook(tmp_path, ("Coupon", "2026-03-02", "2026-03-09"), ("C01", 10, 8), ("C02", 9, None))
    made(opened(first), tmp_path / "board")
    second = workbook(
        tmp_path,
        ("Coupon", "2026-03-02", "2026-03-09", "2026-03-16"),
        ("C01", 10, 7, 6),
        ("C02", 9, 8, None),
        ("C99", 9, 8, None),
        name="second.xlsx",
    )
    with closing(Session(tmp_path / "board")) as session:
        before = list(tidy_grades(session.record))
        matched = match_old_grades(session.record, opened(second).reading)
        assert [(each.grade.coupon, each.at.day, each.grade.grade) for each in matched.fresh] == [
            ("C01", 16, 6),
            ("C02", 9, 8),
        ]
        assert [(each.grade.grade, each.before.grade) for each in matched.differing if each.before] == [(7, 8)]
        assert matched.there == 2
        assert {each.row for each in matched.problems} == {4}
        session.do(import_old_grades, [*matched.fresh, *matched.differing], "second.xlsx")
        assert [row.grade for row in tidy_grades(session.record)] == [10, 9, 7, 8, 6]
        assert len(session.gradings(matched.differing[0].coupon, 2)) == 2
        session.undo()
        assert list(tidy_grades(session.record)) == before


def test_of_two_grades_for_one_inspection_the_first_counts_and_the_other_is_named(tmp_path: Path) -> None:
    made(opened(workbook(tmp_path, ("coupon", "date", "grade"), ("C01", "2026-03-02 09:00", 9))), tmp_path / "board")
    again = (("C01", "2026-03-02", 8), ("C01", "2026-03-02 09:00", 6), ("C01", "2026-03-02", 8))
    second = workbook(tmp_path, ("coupon", "date", "grade"), *again, name="second.xlsx")
    with closing(Session(tmp_path / "board", who="Ada")) as session:
        matched = match_old_grades(session.record, opened(second).reading)
    assert [each.grade.grade for each in (*matched.fresh, *matched.differing)] == [8]
    assert [each.row for each in matched.problems] == [3]


# ---- photos


def picture(path: Path, *, taken: str = "", modified: datetime | None = None) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    image = Image.new("RGB", (40, 30), (len(path.name) * 7 % 255, 80, sum(map(ord, path.name)) * 37 % 255))
    exif = Image.Exif()
    if taken:
        exif[0x0132] = taken
    image.save(path, exif=exif)
    if modified is not None:
        os.utime(path, (modified.timestamp(), modified.timestamp()))
    return path


@pytest.mark.parametrize(
    ("name", "when", "has_hour"),
    [
        ("IMG_20260302_091500", datetime(2026, 3, 2, 9, 15), True),
        ("2026-03-02 board", datetime(2026, 3, 2), False),
        ("2026-03-02 09.15", datetime(2026, 3, 2, 9, 15), True),
        ("board 02.03.2026", datetime(2026, 3, 2), False),
        ("no 20261399 but 20260302", datetime(2026, 3, 2), False),
    ],
)
def test_dates_in_names(name: str, when: datetime, has_hour: bool) -> None:
    assert date_in_name(name) == (when, has_hour)


@pytest.mark.parametrize("name", ["DSC01234", "IMG_1", "20269999", "1.2.3", "123456789012345"])
def test_names_without_a_date(name: str) -> None:
    assert date_in_name(name) is None


def test_the_nearest_inspection_within_so_many_days() -> None:
    days = [datetime(2026, 3, 2, 12), datetime(2026, 3, 9, 12)]
    assert nearest(datetime(2026, 3, 2, 23), days) == days[0]
    assert nearest(datetime(2026, 3, 3, 1), days) is None
    assert nearest(datetime(2026, 3, 7, 1), days, 3) == days[1]
    assert nearest(datetime(2026, 3, 2), []) is None


def test_photos_of_a_folder_are_dated_and_come_to_their_inspections_byte_for_byte(tmp_path: Path) -> None:
    photos = tmp_path / "photos"
    originals = [
        picture(photos / "a.jpg", taken="2026:03:02 10:00:00"),
        picture(photos / "IMG_20260309_120000.jpg"),
        picture(photos / "2026-03-16" / "b.jpg"),
        picture(photos / "c.jpg", modified=datetime(2026, 3, 20, 8)),
    ]
    (photos / "notes.txt").write_text("no picture")
    scanned = scan_folder(photos, (), Progress()).photos
    assert [(each.how, each.when.day) for each in scanned] == [
        ("camera", 2),
        ("name", 9),
        ("folder", 16),
        ("file", 20),
    ]
    path = workbook(tmp_path, ("Coupon", "2026-03-02", "2026-03-09", "2026-03-16"), ("C01", 10, 9, 8))
    days = [datetime(2026, 3, day, 12) for day in (2, 9, 16)]
    tied = tuple(DatedPhoto(with_time(each, at), at) for each in scanned for at in [nearest(each.when, days)])
    record = made(opened(path), tmp_path / "made", tied)
    at = {each.name: record.inspections[each.inspection or 0].at for each in record.photos.values()}
    assert [at[each.name] for each in originals] == [*days, datetime(2026, 3, 20, 8)]
    kept = {(tmp_path / "made" / "photos" / each.file).read_bytes() for each in record.photos.values()}
    assert kept == {each.read_bytes() for each in originals}


def test_a_scan_can_be_stopped_and_follows_no_links(tmp_path: Path) -> None:
    picture(tmp_path / "elsewhere" / "x.jpg")
    folder = tmp_path / "photos"
    picture(folder / "2026-03-02.jpg")
    (folder / "link").symlink_to(tmp_path / "elsewhere")
    (folder / "one.jpg").symlink_to(tmp_path / "elsewhere" / "x.jpg")
    assert [each.photo.name for each in scan_folder(folder, (), Progress()).photos] == ["2026-03-02.jpg"]
    (tmp_path / "empty").mkdir()
    stopped = Progress()
    stopped.cancel()
    with pytest.raises(Cancelled):
        scan_folder(folder, (), stopped)
    with pytest.raises(InputError, match="no pictures"):
        scan_folder(tmp_path / "empty", (), Progress())
