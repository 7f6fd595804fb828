"""Typed grades as CSV: good rows kept, each bad one named with the way to mend it."""

from datetime import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.board.grades_csv import TypedGrade, read_grades_csv
from rustboard.support.problems import InputError


def read(text):
    data = text if isinstance(text, bytes) else text.encode()
    grades, problems = read_grades_csv(data, "g.csv")
    return grades, [problem.sentence() for problem in problems]


def refusal_of(text):
    with pytest.raises(InputError) as caught:
        read(text)
    return caught.value.problem.sentence()


def test_every_column_is_read():
    grades, problems = read(
        "date,coupon,grade,distribution,percent,grader,note\n2026-03-02T09:00,C1,7,S,0.25,Mara,under the hole\n"
    )
    assert grades == [
        TypedGrade(2, datetime(2026, 3, 2, 9), True, "C1", 7, "S", 0.25, "Mara", "under the hole"),
    ]
    assert problems == []


def test_date_coupon_and_grade_are_enough():
    grades, problems = read("Grade;Coupon;Date\n7,0;C1;2026-03-02\n")
    assert grades == [TypedGrade(2, datetime(2026, 3, 2), False, "C1", 7, "", None, "", "")]
    assert problems == []


def test_the_table_of_the_program_itself_is_read():
    grades, problems = read(
        "coupon,position,treatment,role,inspected,grade,distribution,percent,grader,source,note\n"
        "'=1+1,A1,T1,test,2026-03-02T09:00:00,9,P,0.02,Mara,photo confirmed,'-dry\n"
    )
    assert grades == [TypedGrade(2, datetime(2026, 3, 2, 9), True, "=1+1", 9, "P", 0.02, "Mara", "-dry")]
    assert problems == []


def test_columns_without_a_meaning_are_kept_in_the_note():
    grades, problems = read("date,coupon,grade,light\n2026-03-02,C1,7,overcast\n")
    assert grades[0].note == "light: overcast"
    assert problems == []


@pytest.mark.parametrize("cell", ["7", "7-S", "7 S", "7s", "7.0", '"7,0"'])
def test_a_grade_may_be_written_in_several_ways(cell):
    grades, problems = read(f"date,coupon,grade\n2026-03-02,C1,{cell}\n")
    assert (grades[0].grade, grades[0].distribution) == (7, "S" if "s" in cell.casefold() else "")
    assert problems == []


@pytest.mark.parametrize(
    ("cell", "what"),
    [
        ("11", "“11” is not a grade; grades are whole numbers from 0 to 10."),
        ("-1", "“-1” is not a grade; grades are whole numbers from 0 to 10."),
        ("9/8", "“9/8” names two grades; write one grade in each row."),
        ("n/a", "“n/a” is not a grade; leave the row out if the coupon was not graded."),
        ("", "The grade is missing; write it, or leave the row out if the coupon was not graded."),
        ("7.5", "“7.5” lies between two grades; write the whole grade that fits better."),
        ('"7,5"', "“7,5” lies between two grades; write the whole grade that fits better."),
        ("10-S", "Grade 10 carries no distribution letter; letters go with grades 9 to 1."),
    ],
)
def test_a_bad_grade_is_named_by_file_row_and_column_and_the_other_rows_kept(cell, what):
    grades, problems = read(f"date,coupon,grade\n2026-03-02,C1,9\n2026-03-02,C2,{cell}\n2026-03-02,C3,8\n")
    assert [(each.row, each.coupon) for each in grades] == [(2, "C1"), (4, "C3")]
    assert problems == [f"g.csv, row 3, column grade: {what}"]


def test_a_letter_behind_the_grade_and_one_in_its_column_must_agree():
    grades, problems = read("date,coupon,grade,distribution\n2026-03-02,C1,7-S,spot\n2026-03-02,C2,7-S,G\n")
    assert [each.coupon for each in grades] == ["C1"]
    assert problems == [
        "g.csv, row 3, column distribution: G contradicts the letter S behind the grade; keep one of them."
    ]


def test_a_letter_in_its_column_must_suit_the_grade():
    _, problems = read("date,coupon,grade,distribution\n2026-03-02,C1,10,S\n2026-03-02,C2,5,X\n")
    assert problems == [
        "g.csv, row 2, column distribution: Grade 10 carries no distribution letter; letters go with grades 9 to 1.",
        "g.csv, row 3, column distribution: “X” is not a distribution letter; write S, G, P or H, or leave it out.",
    ]


def test_a_percentage_that_cannot_be_leaves_the_row_out():
    grades, problems = read("date,coupon,grade,percent\n2026-03-02,C1,7,120\n2026-03-02,C2,7,<1\n")
    assert grades == []
    assert problems == [
        "g.csv, row 2, column percent: “120” is not a percentage of a surface; percent rusted is from 0 to 100.",
        "g.csv, row 3, column percent: “<1” is not a number; write digits with one decimal point or comma, such as "
        "2.5.",
    ]


def test_every_fault_of_a_row_is_named():
    _, problems = read("inspected,coupon,grade\n2026-02-30,,9/8\n")
    assert problems == [
        "g.csv, row 2, column inspected: The calendar has no 30 February 2026; mend the date.",
        "g.csv, row 2, column coupon: This must not be left empty.",
        "g.csv, row 2, column grade: “9/8” names two grades; write one grade in each row.",
    ]


def test_a_missing_date_is_named():
    assert read("date,coupon,grade\n,C1,7\n2026-03-02,C2,7\n")[1] == [
        "g.csv, row 2, column date: The date is missing; write it as year-month-day, such as 2026-03-02."
    ]


def test_dates_with_the_year_last_are_read_when_the_file_settles_their_order():
    grades, problems = read("date;coupon;grade\n02.03.2026;C1;9\n14.03.2026 08:30;C1;8\n")
    assert [(each.when, each.has_hour) for each in grades] == [
        (datetime(2026, 3, 2), False),
        (datetime(2026, 3, 14, 8, 30), True),
    ]
    assert problems == []


def test_rows_whose_dates_can_be_read_two_ways_are_left_out_and_the_others_kept():
    grades, problems = read("date,coupon,grade\n2026-01-01,C1,9\n03/04/2026,C1,9\n")
    assert [each.row for each in grades] == [2]
    assert problems == [
        "g.csv, row 3, column date: “03/04/2026” can be read in two ways; write dates as year-month-day, such as "
        "2026-03-02."
    ]


def test_a_second_grade_for_the_same_time_coupon_and_grader_is_left_out():
    grades, problems = read(
        "date,coupon,grade,grader\n2026-03-02,C1,9,Mara\n2026-03-02,c1,8,mara\n2026-03-02,C1,8,Jon\n"
        "2026-03-02,C2,9,\n2026-03-02T00:00,C2,9,\n"
    )
    assert [(each.row, each.grade) for each in grades] == [(2, 9), (4, 8), (5, 9)]
    assert problems == [
        "g.csv, row 3, column coupon: Coupon “c1” has a grade by “mara” for the same time in row 2 already; that one "
        "was kept, delete one of the two rows.",
        "g.csv, row 6, column coupon: Coupon “C2” has a grade for the same time in row 5 already; that one was kept, "
        "delete one of the two rows.",
    ]


def test_row_numbers_count_a_note_of_several_lines_as_one_row():
    grades, problems = read('date,coupon,grade,note\n2026-03-02,C1,9,"two\nlines"\n\n2026-03-02,C2,11,\n')
    assert grades[0].note == "two\nlines"
    assert problems == ["g.csv, row 4, column grade: “11” is not a grade; grades are whole numbers from 0 to 10."]


def test_a_file_without_grades_is_refused():
    assert refusal_of("") == "g.csv: The file is empty."
    assert refusal_of("date,coupon,grade\n\n,,\n") == "g.csv: The file has a header and no grades under it."
    assert refusal_of("date,coupon,mark\n2026-03-02,C1,7\n") == (
        "g.csv, row 1: The column “grade” is missing; name it in the first row, which holds: date, coupon, mark."
    )


def test_problems_are_listed_up_to_a_limit():
    _, problems = read("date,coupon,grade\n" + "2026-03-02,C1,11\n" * 500)
    assert len(problems) == 201
    assert problems[-1] == "g.csv: And 300 more problems are not listed; mend these first."


def read_or_refuse(data):
    try:
        grades, problems = read_grades_csv(data, "g.csv")
    except InputError as error:
        assert error.problem.file == "g.csv"  # noqa: PT017 - both outcomes are right, neither may be anything else
    else:
        assert grades or problems
        assert len(problems) <= 201


@given(st.binary(max_size=200))
def test_any_bytes_are_grades_or_a_sentence(data):
    read_or_refuse(data)


CELLS = st.text(max_size=8) | st.sampled_from(
    ["2026-03-02", "02.03.2026", "13/3/2026", "C1", "7-S", "10", "9/8", '"']
)


@settings(max_examples=200)
@given(
    st.sampled_from([",", ";", "\t"]),
    st.lists(st.lists(CELLS, max_size=7), max_size=8),
    st.sampled_from(["utf-8", "utf-16"]),
)
def test_any_rows_under_a_header_are_grades_or_a_sentence(delimiter, rows, encoding):
    header = ["date", "coupon", "grade", "distribution", "percent", "extra"]
    text = "\n".join(delimiter.join(row) for row in [header, *rows])
    read_or_refuse(text.encode(encoding, "surrogatepass"))
