"""Grades typed elsewhere: matched to coupons and inspections, recorded in one step."""

from datetime import datetime, timedelta

import pytest

from rustboard.board.grades_csv import TypedGrade, read_grades_csv
from rustboard.board.model import Coupon, Inspection
from rustboard.operations.coupons import add_coupon, remove_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.operations.typed_grades import add_typed_grades, match_typed_grades
from rustboard.report.tidy import grades_csv

MONDAY = datetime(2026, 3, 2, 9)


@pytest.fixture(autouse=True)
def _coupons(session):
    for name in ("C1", "C2", "Ä3"):
        session.do(add_coupon, Coupon(name))


def typed(coupon, when=MONDAY, grade=7, *, hour=True, row=2, **more):
    return TypedGrade(row, when, hour, coupon, grade, more.get("letter", ""), more.get("percent"),
                      more.get("grader", ""), more.get("note", ""))  # fmt: skip


def match(session, *rows):
    matched, problems = match_typed_grades(session.record, rows, "g.csv")
    return [(each.coupon, each.at) for each in matched], [each.sentence() for each in problems]


def add(session, *rows):
    matched, problems = match_typed_grades(session.record, rows, "g.csv")
    assert problems == []
    return session.do(add_typed_grades, matched)


def test_coupons_are_found_whatever_the_letters_case(session):
    assert match(session, typed("c1"), typed("ä3"), typed("Ｃ2")) == ([(1, MONDAY), (3, MONDAY), (2, MONDAY)], [])


def test_a_coupon_that_the_board_lacks_is_named_with_its_row_and_the_others_are_kept(session):
    matched, problems = match(session, typed("C1"), typed("C9" * 100, row=3), typed("C2"))
    assert len(matched) == 2
    assert problems == [
        f"g.csv, row 3, column coupon: The board has no coupon “{'C9' * 30}”; check the id, or add the coupon first."
    ]


def test_a_date_alone_means_the_inspection_of_that_day_or_noon(session):
    midnight = datetime(2026, 3, 2)
    assert match(session, typed("C1", midnight, hour=False)) == ([(1, datetime(2026, 3, 2, 12))], [])
    session.do(add_inspection, Inspection(MONDAY))
    assert match(session, typed("C1", midnight, hour=False)) == ([(1, MONDAY)], [])
    session.do(add_inspection, Inspection(MONDAY + timedelta(hours=8)))
    assert match(session, typed("C1", midnight, hour=False, row=4)) == (
        [],
        ["g.csv, row 4, column date: There are 2 inspections on 2026-03-02; add the hour to say which."],
    )


def test_an_hour_without_seconds_means_the_inspection_within_that_minute(session):
    session.do(add_inspection, Inspection(MONDAY + timedelta(seconds=23)))
    assert match(session, typed("C1")) == ([(1, MONDAY + timedelta(seconds=23))], [])
    exact = MONDAY + timedelta(seconds=40)
    assert match(session, typed("C1", exact)) == ([(1, exact)], [])
    session.do(add_inspection, Inspection(exact))
    assert match(session, typed("C1")) == ([(1, MONDAY)], []), "with two in that minute it is a third"


def test_grades_and_inspections_that_are_missing_are_made_in_one_step(session):
    rows = (typed("C1", letter="S", percent=0.2, grader="Ann", note="a\nb"), typed("C2"), typed("Ä3", grade=10))
    changes = add(session, *rows)
    assert changes.summary.text() == "Add 3 grades from a file"
    assert [each.at for each in session.record.inspections_in_order()] == [MONDAY]
    grading = session.record.grading(1, 1)
    assert (grading.grade, grading.distribution, grading.percent, grading.grader, grading.source, grading.note) == (
        7, "S", 0.2, "Ann", "eye", "a\nb",
    )  # fmt: skip
    session.undo()
    assert (session.record.current, session.record.inspections) == ({}, {})
    session.redo()
    assert len(list(session.record.current_gradings())) == 3


def test_the_same_file_twice_changes_nothing_and_another_grade_corrects(session):
    add(session, typed("C1"), typed("C2"))
    assert add(session, typed("C1"), typed("C2")).tables == {}
    add(session, typed("C1", grade=6), typed("C2"))
    assert [(each.grade, each.state) for each in session.gradings(1, 1)] == [(7, "superseded"), (6, "current")]
    assert len(session.gradings(2, 1)) == 1


def test_of_two_graders_in_one_file_the_later_row_counts_and_both_are_kept(session):
    add(session, typed("C1", grader="Ann"), typed("C1", grade=6, grader="Ben"))
    assert [(each.grader, each.state) for each in session.gradings(1, 1)] == [
        ("Ann", "superseded"),
        ("Ben", "current"),
    ]


def test_a_file_of_two_graders_taken_in_twice_changes_nothing_the_second_time(session):
    rows = [typed("C1", grader="Ann"), typed("C1", grade=6, grader="Ben"), typed("C2", grader="Ann")]
    add(session, *rows)
    before = session.gradings(1, 1)
    assert add(session, *rows).tables == {}
    assert session.gradings(1, 1) == before


@pytest.mark.parametrize("source", ["blind", "agreed"])
def test_a_grade_given_blind_or_agreed_on_stays_so_when_the_board_s_own_table_is_taken_in_again(session, source):
    session.do(add_inspection, Inspection(MONDAY))
    session.do(grade_coupon, GivenGrade(1, 1, 7, "S", grader="Ann, Bo", source=source))
    rows, problems = read_grades_csv(grades_csv(session.record).encode(), "g.csv")
    assert problems == []
    assert add(session, *rows).tables == {}
    assert session.record.grading(1, 1).source == source
    add(session, typed("C1", letter="S", grade=6, grader="Ann, Bo"))
    assert session.record.grading(1, 1).source == "eye", "another grade is one given by eye"


def test_rows_that_are_there_already_do_not_keep_new_ones_out(session):
    add(session, typed("C1", grader="Ann"), typed("C1", grade=6, grader="Ben"))
    changes = add(session, typed("C1", grader="Ann"), typed("C1", grade=6, grader="Ben"), typed("C1", grade=5))
    assert changes.summary.text() == "Add 1 grades from a file"
    assert [each.grade for each in session.gradings(1, 1)] == [7, 6, 5]


def test_a_grade_that_was_withdrawn_may_be_added_from_the_file_again(session):
    add(session, typed("C1"))
    session.do(withdraw_grade, 1, 1)
    add(session, typed("C1"))
    assert [each.state for each in session.gradings(1, 1)] == ["withdrawn", "current"]


# The limits of the grades: ASTM D610, table 1.
@pytest.mark.parametrize(("grade", "percent", "sentence"), [
    (10, 80, "80 % rusted is not grade 10, which is up to 0.01 %, but grade 0; mend one of them."),
    (1, 0, "0 % rusted is not grade 1, which is 33 to 50 %, but grade 10; mend one of them."),
    (0, 50, "50 % rusted is not grade 0, which is over 50 %, but grade 1; mend one of them."),
    (7, 0.31, "0.31 % rusted is not grade 7, which is 0.1 to 0.3 %, but grade 6; mend one of them."),
])  # fmt: skip
def test_a_percent_that_belongs_to_another_grade_is_refused(session, grade, percent, sentence):
    rows = (typed("C1", grade=grade, percent=percent, row=5), typed("C2"))
    assert match(session, *rows) == ([(2, MONDAY)], [f"g.csv, row 5, column percent: {sentence}"])


@pytest.mark.parametrize(("grade", "percent"), [(10, 0), (10, 0.01), (9, 0.03), (7, 0.3), (1, 50), (0, 51), (0, 100)])
def test_a_percent_of_its_own_grade_is_taken_with_it(session, grade, percent):
    add(session, typed("C1", grade=grade, percent=percent))
    assert session.record.grading(1, 1).percent == percent


def test_when_one_row_cannot_be_recorded_none_is(session, refused):
    matched, _ = match_typed_grades(session.record, [typed("C1"), typed("C2")], "g.csv")
    session.do(remove_coupon, 2)
    assert refused(add_typed_grades, matched) == (
        "This coupon is no longer on the board; it may have been taken away by undo."
    )
    assert (session.record.inspections, session.record.current) == ({}, {})


def test_a_row_that_the_reader_of_files_should_have_left_out_is_refused_here_too(session, refused):
    for row, sentence in (
        (typed("C1", datetime(1066, 10, 14)), "The year of an inspection is between 1900 and 2200; check the date."),
        (typed("C1", grade=11), "column grade: 11 is not a grade; grades are whole numbers from 0 to 10."),
    ):
        matched, _ = match_typed_grades(session.record, [row], "g.csv")
        assert refused(add_typed_grades, matched) == sentence


def test_a_file_goes_all_the_way_from_its_bytes_to_the_board(session):
    data = b"date,coupon,grade,distribution,grader\n2026-03-02,C1,7,S,Ann\n2026-03-02 17:00,C2,10,,Ben\n"
    rows, problems = read_grades_csv(data, "g.csv")
    assert problems == []
    add(session, *rows)
    assert [(each.at.hour, each.grader) for each in session.record.inspections_in_order()] == [
        (12, "Ann"),
        (17, "Ben"),
    ]


def test_many_thousand_grades_are_added_and_undone_in_one_step(session):
    session.do(grade_coupon_once)
    rows = [typed(name, MONDAY + timedelta(hours=number)) for number in range(2_500) for name in ("C1", "C2")]
    before = session.record.snapshot()
    add(session, *rows)
    assert sum(len(given) for given in session.record.current.values()) == 5_001
    session.undo()
    assert session.record == before


def grade_coupon_once(tx):
    add_inspection(tx, Inspection(MONDAY - timedelta(days=1)))
    return grade_coupon(tx, GivenGrade(1, 1, 7))
