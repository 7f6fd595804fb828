"""The CSV files hold what the database holds, what `rustboard grades --csv` prints and what the sheets hold."""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from datetime import datetime
from pathlib import Path

import pandas as pd
import pytest
from painted_boards import add_tied, board_of, measured, painted
from pandas.testing import assert_frame_equal
from weathered_boards import daily_table, put_readings

from rustboard.app.main import run
from rustboard.board.model import Treatment
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.measuring import accept_measurement
from rustboard.operations.treatments import add_treatment
from rustboard.report.content import ReportContent
from rustboard.session.jobs import Cancelled, Progress
from rustboard.session.report_csv import write_data_csv
from rustboard.session.report_days import day_readings
from rustboard.session.weather import weather_request

NAMES = ["grades.csv", "measurements.csv", "readings-per-day.csv", "treatments.csv"]
MADE = datetime(2026, 5, 1, 17, 30)
HOSTILE = '=HYPERLINK("http://x")\n@SUM(1) 🧲 é µ'


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A board with measured photos, a grade taken over, a corrected and a withdrawn one, readings, hostile texts."""
    where = tmp_path_factory.mktemp("csv")
    with closing(board_of(where / "board", painted(), photos=0)) as session:
        add_tied(session, painted().photos)
        measured(session, where / "cache")
        record = session.record
        photo = next(each for each in record.photos.values() if each.inspection is not None)
        first, second, third = list(record.coupons)[:3]
        session.do(accept_measurement, photo.key, first, HOSTILE)
        session.do(grade_coupon, GivenGrade(coupon=second, inspection=photo.inspection, grade=9, distribution="S"))
        session.do(
            grade_coupon,
            GivenGrade(coupon=second, inspection=photo.inspection, grade=8, distribution="P", note=HOSTILE),
        )
        session.do(grade_coupon, GivenGrade(coupon=third, inspection=photo.inspection, grade=3))
        session.do(withdraw_grade, third, photo.inspection)
        session.do(add_treatment, Treatment("T99", name=HOSTILE, cost_per_m2=1.1, note="'=1+1"))
        put_readings(session, daily_table(photo.taken, 5))
        content = ReportContent(
            session.record.snapshot(), MADE, days=day_readings(session.record, weather_request(session))
        )
        write_data_csv(content, where / "data", Progress())
    return where


def read(path: Path, **how) -> pd.DataFrame:
    return pd.read_csv(path, keep_default_na=False, **how)


def query(folder: Path, text: str) -> pd.DataFrame:
    with closing(sqlite3.connect(f"file:{folder / 'board' / 'board.rustboard'}?mode=ro", uri=True)) as connection:
        return pd.read_sql_query(text, connection)


def test_all_four_are_there_and_begin_with_the_mark_of_utf_8(folder):
    assert sorted(each.name for each in (folder / "data").iterdir()) == NAMES
    assert all((folder / "data" / name).read_bytes().startswith(b"\xef\xbb\xbf") for name in NAMES)
    # pandas leaves the mark out by itself
    assert [read(folder / "data" / name).columns[0] for name in NAMES] == ["coupon", "coupon", "day", "treatment"]


def test_the_grades_are_what_the_command_prints(folder, capsys):
    assert run(["grades", str(folder / "board"), "--csv"]) == 0
    assert (folder / "data" / "grades.csv").read_text("utf-8-sig") == capsys.readouterr().out


def test_the_grades_are_what_the_database_holds(folder):
    found = read(folder / "data" / "grades.csv")
    held = query(
        folder,
        "SELECT c.id AS coupon, i.at AS inspected, g.grade, g.distribution, g.percent, g.grader, g.source, g.note "
        "FROM grading g JOIN coupon c ON c.key = g.coupon JOIN inspection i ON i.key = g.inspection "
        "WHERE g.state = 'current' ORDER BY i.at, c.row_number, c.column_number",
    )
    assert len(found) == 2
    assert found["coupon"].tolist() == held["coupon"].tolist()
    assert pd.to_datetime(found["inspected"]).tolist() == pd.to_datetime(held["inspected"]).tolist()
    for name in ("grade", "distribution", "source"):
        assert found[name].tolist() == held[name].tolist()
    assert [each.removeprefix("'") for each in found["note"]] == held["note"].tolist()
    assert found["note"].tolist()[1].startswith("'=HYPERLINK")
    assert pd.to_numeric(found["percent"]).fillna(-1).tolist() == held["percent"].fillna(-1).tolist()


def test_the_measurements_are_what_the_database_holds(folder):
    numbers = [
        "percent", "low", "high", "debris_percent", "unseen_percent", "resolvable_percent", "spots", "largest_mm2",
    ]  # fmt: skip
    found = read(folder / "data" / "measurements.csv", na_values={name: [""] for name in numbers})
    held = query(
        folder,
        f"SELECT c.id AS coupon, p.name AS photo, p.taken, m.distribution, m.present, {', '.join(numbers)}, "
        "m.confident, m.newest, m.warnings FROM measurement m JOIN coupon c ON c.key = m.coupon "
        "JOIN photo p ON p.key = m.photo WHERE m.state = 'current' "
        "ORDER BY p.taken, p.key, c.row_number, c.column_number",
    )
    assert len(found) > 10
    assert_frame_equal(found[numbers], held[numbers], check_exact=True)
    for name in ("coupon", "photo", "distribution", "present"):
        assert found[name].tolist() == held[name].tolist()
    assert pd.to_datetime(found["taken"]).tolist() == pd.to_datetime(held["taken"]).tolist()
    for name in ("confident", "newest"):
        assert (found[name] == "yes").tolist() == (held[name] == 1).tolist()
    assert found["warnings"].tolist() == ["; ".join(json.loads(each)) for each in held["warnings"]]
    assert found["accepted"].value_counts()["yes"] == 1


def test_the_measurements_are_what_the_command_prints(folder, capsys):
    assert run(["measure", str(folder / "board"), "--json"]) in {0, 1}
    told = {
        (coupon, photo["file"]): figures
        for photo in json.loads(capsys.readouterr().out)["photos"]
        for coupon, figures in photo["coupons"].items()
    }
    found = read(folder / "data" / "measurements.csv", na_values={"percent": [""], "grade": [""]})
    assert {(row.coupon, row.photo) for row in found.itertuples()} == set(told)
    for row in found.itertuples():
        figures = told[row.coupon, row.photo]
        assert (row.percent, row.grade) == (figures["percent"], figures["grade"])


def test_the_treatments_are_what_the_database_holds(folder):
    found = read(folder / "data" / "treatments.csv", na_values={"cost_per_m2": [""]})
    held = query(folder, "SELECT id, name, note, cost_per_m2 FROM treatment ORDER BY key")
    assert found["treatment"].tolist() == held["id"].tolist()
    assert found["cost_per_m2"].fillna(-1).tolist() == held["cost_per_m2"].fillna(-1).tolist()
    assert found["name"].tolist()[-1] == "'" + HOSTILE.replace("\n", " ")
    assert found["note"].tolist()[-1] == "''=1+1"


def test_files_of_these_names_are_replaced_and_a_stop_leaves_them(folder, tmp_path):
    target = tmp_path / "data"
    target.mkdir()
    (target / "grades.csv").write_text("mine")
    content = ReportContent(painted_record(folder), MADE)
    progress = Progress(lambda done, total: progress.cancel() if done == total - 1 else None)
    with pytest.raises(Cancelled):
        write_data_csv(content, target, progress)
    assert [each.name for each in target.iterdir()] == ["grades.csv"]
    assert (target / "grades.csv").read_text() == "mine"
    assert [each.name for each in write_data_csv(content, target, Progress())] == NAMES
    assert sorted(each.name for each in target.iterdir()) == NAMES


def painted_record(folder):
    from rustboard.session.looking import look_at_board

    return look_at_board(folder / "board")
