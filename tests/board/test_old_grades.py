"""Old tables of grades as people have them: how they are understood, and what is said of every bad cell."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest

from rustboard.board.old_grades.grid import read_csv_grid
from rustboard.board.old_grades.guess import guess_layout, layout_at, with_meaning
from rustboard.board.old_grades.layout import OUR_COLUMNS, OldLayout
from rustboard.board.old_grades.our_sheets import OurSheets
from rustboard.board.old_grades.past_board import BoardChoice, old_treatments, past_board, usual_choice
from rustboard.board.old_grades.read import read_table
from rustboard.board.old_grades.reading import OldReading
from rustboard.board.old_grades.values import means_control
from rustboard.report.tidy import COLUMNS
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.support.problems import InputError


def read(text: str, layout: OldLayout | None = None, **changes: object) -> OldReading:
    grid = read_csv_grid(text.encode(), "old.csv")
    laid = replace(layout or guess_layout(grid), **changes)  # type: ignore[arg-type]
    return read_table(grid, laid, grade_from_percent)


def grades(reading: OldReading) -> list[tuple[str, str, int, str]]:
    """Return coupon, day, grade and letter of all grades."""
    return [(each.coupon, f"{each.when:%Y-%m-%d}", each.grade, each.distribution) for each in reading.grades]


def said(reading: OldReading) -> list[str]:
    return [each.sentence() for each in reading.problems]


def test_our_columns_are_those_of_the_tidy_table() -> None:
    assert OUR_COLUMNS == COLUMNS


def test_a_wide_table_with_a_title_a_sum_and_a_remark() -> None:
    reading = read(
        "Rust test harbour wall 2019;;;\n;;;\nPanel;Coating;02.03.2019;16.03.2019\n"
        "C01;wax;10;8-G\nC02;none;9,0;7s\nMean;;9.5;7.5\nGraded by Tom in the afternoon, always dry;;;\n"
    )
    assert grades(reading) == [
        ("C01", "2019-03-02", 10, ""),
        ("C01", "2019-03-16", 8, "G"),
        ("C02", "2019-03-02", 9, ""),
        ("C02", "2019-03-16", 7, "S"),
    ]
    assert reading.is_settled
    assert [each.row for each in reading.skipped] == [6, 7]
    assert said(reading) == []


def test_two_header_rows_with_a_days_cell_over_grade_and_percent() -> None:
    reading = read(
        "Coupon,Treatment,2026-03-02,,2026-03-09,\n,,grade,%,grade,%\nC01,wax,10,0,9,0.02\nC02,oil,,0.2,8-S,0.05\n"
    )
    assert [(each.coupon, each.when.day, each.grade, each.percent) for each in reading.grades] == [
        ("C01", 2, 10, 0.0),
        ("C01", 9, 9, 0.02),
        ("C02", 2, 7, 0.2),
        ("C02", 9, 8, 0.05),
    ]


def test_days_and_weeks_count_from_a_day_that_is_asked_for() -> None:
    table = "Coupon;day 0;week 2\nC01;10;8\n"
    asked = read(table)
    assert [each.about for each in asked.doubts] == ["beginning"]
    assert not asked.is_settled
    assert not asked.grades
    told = read(table, day_zero=date(2026, 3, 2))
    assert told.is_settled
    assert grades(told) == [("C01", "2026-03-02", 10, ""), ("C01", "2026-03-16", 8, "")]


@pytest.mark.parametrize(
    ("head", "day"),
    [
        ("43526", "2019-03-02"),
        ("2 March 2019", "2019-03-02"),
        ("12 März 2019", "2019-03-12"),
        ("02-Mar-19", "2019-03-02"),
        ("March 2, 2019", "2019-03-02"),
        ("31.03.19", "2019-03-31"),
    ],
)
def test_days_over_a_column(head: str, day: str) -> None:
    assert grades(read(f"Coupon;{head}\nC01;10\n")) == [("C01", day, 10, "")]


def test_day_and_month_are_never_guessed() -> None:
    table = "Coupon;02/03/2026;04/03/2026\nC01;10;8\n"
    asked = read(table)
    assert [each.about for each in asked.doubts] == ["order"]
    assert not asked.grades
    assert "say which number is the day" in said(asked)[0]
    assert grades(read(table, date_order="month first"))[0][1] == "2026-02-03"
    assert grades(read(table, date_order="day first"))[0][1] == "2026-03-02"


def test_half_grades_are_refused_until_somebody_has_them_rounded_down() -> None:
    table = "Coupon;2026-03-02;2026-03-09\nC01;8.5;7,5-G\n"
    refused = read(table)
    assert not refused.grades
    assert "old.csv, row 2, column B (2026-03-02): “8.5” lies between two grades" in said(refused)[0]
    rounded = read(table, halves="rounded down")
    assert [(each.grade, each.distribution, each.note) for each in rounded.grades] == [
        (8, "", "8.5 in the file, rounded down"),
        (7, "G", "7,5-G in the file, rounded down"),
    ]


def test_another_scale_is_asked_about_and_never_converted() -> None:
    table = "Coupon;Ri 2026-03-02\nC01;0\n"
    grid = read_csv_grid(table.encode(), "old.csv")
    layout = with_meaning(grid, guess_layout(grid), 1, "grade of a day")
    assert "scale" in [each.about for each in read(table, layout).doubts]
    falling = read("Coupon;2026-03-02;2026-03-09\nC01;0;2\nC02;0;3\n")
    assert [each.about for each in falling.doubts] == ["scale"]
    another = read("Coupon;2026-03-02;2026-03-09\nC01;0;2\nC02;0;3\n", scale="another")
    assert not another.grades
    assert "is of another scale" in said(another)[0]


def test_percents_become_grades_by_the_limits() -> None:
    reading = read("Coupon;2026-03-02;2026-03-09\nC01;0,03 %;0.031\n", scale="percents")
    assert [(each.grade, each.percent) for each in reading.grades] == [(9, 0.03), (8, 0.031)]


def test_a_percent_that_contradicts_its_grade_is_named() -> None:
    reading = read("date,coupon,grade,percent\n2026-03-02,C01,9,20\n2026-03-02,C02,9,0.02\n")
    assert [each.coupon for each in reading.grades] == ["C02"]
    assert said(reading) == [
        "old.csv, row 2, column D (percent): 20 % rusted is not grade 9 but 2; mend one of them."
    ]


def test_a_tidy_table_with_time_letter_grader_and_note() -> None:
    reading = read("Datum\tUhrzeit\tProbe\tGrade\tBy\tRemarks\n31.03.2026\t09:30\tC01\t8G\tAnn\tdew\n")
    (grade,) = reading.grades
    assert grade[2:11] == ("C01", datetime(2026, 3, 31, 9, 30), True, 8, "G", None, "Ann", "eye", "dew")


def test_a_coupon_twice_and_a_day_twice_are_compared_cell_by_cell() -> None:
    reading = read("Coupon,2026-03-02,2026-03-02\nC01,10,9\nC02,8,8\nc01,10,\n")
    assert grades(reading) == [("C01", "2026-03-02", 10, ""), ("C02", "2026-03-02", 8, "")]
    (sentence,) = said(reading)
    assert "row 2, column C" in sentence
    assert "has grade 10 for this day in row 2, column B" in sentence


def test_a_day_without_an_hour_and_its_noon_are_one_inspection() -> None:
    reading = read("coupon,date,grade\nC1,2026-03-02,8\nC1,2026-03-02 12:00,6\n")
    assert grades(reading) == [("C1", "2026-03-02", 8, "")]
    assert len(reading.problems) == 1
    assert "has grade 8 for this day in row 2" in said(reading)[0]


def test_blanks_are_not_graded_and_signs_are_bad_cells() -> None:
    reading = read("Coupon,2026-03-02,2026-03-09,2026-03-16,2026-03-23\nC01,-,n/a,x,11\n")
    assert not reading.grades
    assert [each.column for each in reading.problems] == ["D (2026-03-16)", "E (2026-03-23)"]
    assert set(reading.faults) == {(2, 3), (2, 4)}


def test_positions_taken_twice_put_the_second_coupon_off_the_board() -> None:
    reading = read("Coupon,Position,Steel,2026-03-02\nC01,A1,mild,10\nC02,A1,mild,9\nC03,there,mild,9\n")
    assert [each.position is None for each in reading.coupons] == [False, True, True]
    assert len(reading.problems) == 2
    assert len(reading.grades) == 3


def test_a_mixed_separator_and_formula_guards() -> None:
    reading = read("sep=;\nCoupon;Treatment;2026-03-02\n'=C1;\"oil, thin\";9,0\n'-3;wax;8\n")
    assert [each.id for each in reading.coupons] == ["=C1", "-3"]
    assert [each.treatment for each in reading.coupons] == ["oil, thin", "wax"]
    assert [each.grade for each in reading.grades] == [9, 8]


def test_treatments_spelled_alike_get_one_name_and_untreated_ones_are_controls() -> None:
    reading = read(
        "Coupon,Treatment,2026-03-02\nC01,Bees wax,10\nC02,bees-wax,9\nC03,untreated,4\nC04,Lanolin oil in spirit,8\n"
    )
    treatments = old_treatments(reading, OurSheets())
    assert [(each.text, each.name, each.control) for each in treatments] == [
        ("Bees wax", "Bees wax", False),
        ("bees-wax", "Bees wax", False),
        ("untreated", "untreated", True),
        ("Lanolin oil in spirit", "Lanolin oil in spirit", False),
    ]
    past = past_board(reading, OurSheets(), treatments, usual_choice(reading, OurSheets()))
    assert [(each.id, each.name) for each in past.treatments] == [
        ("T1", "Bees wax"),
        ("untreated", "untreated"),
        ("T2", "Lanolin oil in spirit"),
    ]
    assert [(each.treatment, each.coupon.role) for each in past.coupons] == [
        ("T1", "test"),
        ("T1", "test"),
        ("untreated", "control"),
        ("T2", "test"),
    ]
    assert past.board.started == datetime(2026, 3, 2, 12)
    assert past.grades[0].note == "Imported from old.csv."


@pytest.mark.parametrize(
    "name", ["Control", "control 2", "none", "bare steel", "No treatment", "Untreated (control)"]
)
def test_names_that_say_there_was_no_treatment(name: str) -> None:
    assert means_control(name)


@pytest.mark.parametrize(
    "name", ["bare metal primer", "rust control oil", "wax, none", "Blank sheet wax", "no", "007"]
)
def test_names_of_something_put_on_are_not_taken_for_untreated(name: str) -> None:
    assert not means_control(name)


def test_coupons_in_rows_of_so_many() -> None:
    reading = read("Coupon,2026-03-02\n" + "".join(f"C{number},10\n" for number in range(5)))
    past = past_board(reading, OurSheets(), (), BoardChoice("Old", per_row=2))
    assert [each.coupon.position.label for each in past.coupons if each.coupon.position] == [
        "A1",
        "A2",
        "B1",
        "B2",
        "C1",
    ]
    assert (past.board.rows, past.board.columns) == (3, 2)
    many = read("Coupon,2026-03-02\n" + "".join(f"C{number},10\n" for number in range(61)))
    with pytest.raises(InputError, match="put more coupons in a row"):
        past_board(many, OurSheets(), (), BoardChoice("Old", per_row=1))


def test_columns_without_a_title_are_asked_for_and_can_be_told() -> None:
    table = "a,b,c\nC01,8,2026-03-02\n"
    grid = read_csv_grid(table.encode(), "old.csv")
    layout = layout_at(grid, 1)
    assert {each.about for each in read(table, layout).doubts} == {"coupon", "grade"}
    for place, meaning in enumerate(("coupon", "grade", "date")):
        layout = with_meaning(grid, layout, place, meaning)  # type: ignore[arg-type]
    assert grades(read(table, layout)) == [("C01", "2026-03-02", 8, "")]
    moved = with_meaning(grid, layout, 1, "coupon")
    assert [each.meaning for each in moved.columns] == ["nothing", "coupon", "date"]


def test_a_table_too_large_is_refused() -> None:
    with pytest.raises(InputError, match="more than 1,000 columns"):
        read_csv_grid(("x," * 1001 + "x\n").encode(), "wide.csv")
    with pytest.raises(InputError, match="more than 200,000 filled rows"):
        read_csv_grid(b"a,b\n" * 200_001, "long.csv")
    with pytest.raises(InputError, match="more than 1000 coupons"):
        read("Coupon,2026-03-02\n" + "".join(f"C{number},10\n" for number in range(1001)))
