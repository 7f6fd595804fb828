"""Plans as CSV: treatments from rows, notes from strange columns, problems by row."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from plan_reading import read_plan_csv

from rustboard.board.model import Board, Plan, PlannedCoupon, Treatment
from rustboard.board.position import Position
from rustboard.support.problems import InputError


def read(text):
    data = text if isinstance(text, bytes) else text.encode()
    plan, problems = read_plan_csv(data, "spring board.csv")
    return plan, [problem.sentence().removeprefix("spring board.csv, ") for problem in problems]


def refusal_of(text):
    with pytest.raises(InputError) as caught:
        read(text)
    return caught.value.problem.sentence()


def test_every_column_is_read():
    plan, problems = read(
        "coupon,position,treatment,role,substrate,family,preparation,finish,protectant,coats,cost_per_m2\n"
        "C1,A1,T1,test,mild steel,wax,wire brushed,none,beeswax blend,2,3.1\n"
        "C2,B3,,control,mild steel,,,,,,\n"
    )
    assert plan == Plan(
        Board("spring board", rows=2, columns=3),
        (Treatment("T1", "T1", "wax", "wire brushed", "none", "beeswax blend", 2, cost_per_m2=3.1),),
        (
            PlannedCoupon("C1", Position(0, 0), "T1", "test", "mild steel"),
            PlannedCoupon("C2", Position(1, 2), "", "control", "mild steel"),
        ),
    )
    assert problems == []


def test_coupon_and_position_are_enough_and_the_role_is_test():
    plan, problems = read("Position;Coupon\nA1;C1\n")
    assert plan.coupons == (PlannedCoupon("C1", Position(0, 0)),)
    assert plan.treatments == ()
    assert problems == []


@pytest.mark.parametrize("row", ["C1;A1;wax;3,1", 'C1;A1;wax;"3,1"', "C1;A1;wax;3.1"])
def test_a_decimal_comma_is_a_decimal_comma(row):
    plan, problems = read(f"coupon;position;treatment;cost per m2\n{row}\n")
    assert plan.treatments[0].cost_per_m2 == 3.1
    assert problems == []


def test_an_unquoted_decimal_comma_between_commas_is_named_and_the_other_rows_kept():
    plan, problems = read("coupon,position,treatment,cost_per_m2\nC1,A1,wax,3,1\nC2,A2,wax,3\n")
    assert [each.id for each in plan.coupons] == ["C2"]
    assert problems == [
        "row 2: This row has 5 cells and the header names 4; put quotation marks around a text or number that holds "
        "the separator."
    ]


def test_rows_with_one_treatment_are_replicates_whatever_the_case():
    plan, problems = read("coupon,position,treatment\nC1,A1,Wax\nC2,A2,wax\nC3,A3,oil\n")
    assert [each.treatment for each in plan.coupons] == ["Wax", "Wax", "oil"]
    assert [each.id for each in plan.treatments] == ["Wax", "oil"]
    assert problems == []


def test_a_long_treatment_gets_the_next_free_short_id_and_keeps_its_name():
    plan, _ = read("coupon,position,treatment\nC1,A1,hot beeswax blend\nC2,A2,t1\nC3,A3,lanolin film\n")
    assert [(each.id, each.name) for each in plan.treatments] == [
        ("T2", "hot beeswax blend"),
        ("t1", "t1"),
        ("T3", "lanolin film"),
    ]
    assert [each.treatment for each in plan.coupons] == ["T2", "t1", "T3"]


def test_a_recipe_may_be_spread_over_the_rows_of_a_treatment():
    plan, problems = read("coupon,position,treatment,family,coats\nC1,A1,wax,,2\nC2,A2,wax,film,\n")
    assert plan.treatments == (Treatment("wax", "wax", family="film", coats=2),)
    assert problems == []


def test_contradicting_recipes_are_named_and_the_first_kept():
    plan, problems = read("coupon,position,treatment,family,coats\nC1,A1,wax,film,2\nC2,A2,wax,oil,3\n")
    assert plan.treatments == (Treatment("wax", "wax", family="film", coats=2),)
    assert len(plan.coupons) == 2
    assert problems == [
        "row 3, column family: “oil” differs from “film” in row 2 for the same treatment “wax”; the first was kept.",
        "row 3, column coats: “3” differs from “2” in row 2 for the same treatment “wax”; the first was kept.",
    ]


def test_numbers_that_cannot_be_are_named_and_the_coupon_kept():
    plan, problems = read('coupon,position,treatment,coats,cost_per_m2\nC1,A1,wax,two,-3\nC2,A2,oil,1.5,"1,234.5"\n')
    assert [each.treatment for each in plan.coupons] == ["wax", "oil"]
    assert plan.treatments == (Treatment("wax", "wax"), Treatment("oil", "oil"))
    assert problems == [
        "row 2, column coats: “two” is not a number; write digits with one decimal point or comma, such as 2.5.",
        "row 2, column cost_per_m2: -3 is not between 0 and 1e+09; the value was left out.",
        "row 3, column coats: “1.5” is not a whole number; write digits only, such as 2.",
        "row 3, column cost_per_m2: “1,234.5” is not a number; write digits with one decimal point or comma, such as "
        "2.5.",
    ]


def test_columns_without_a_meaning_and_a_recipe_without_a_treatment_are_kept_in_the_note():
    plan, problems = read("coupon,position,treatment,preparation,cut from,note\nC1,A1,,wire brushed,bar 2,hole\n")
    assert plan.coupons[0].note == "hole\ncut from: bar 2\npreparation: wire brushed"
    assert plan.treatments == ()
    assert problems == []


def test_bad_rows_are_named_and_the_good_ones_kept():
    plan, problems = read(
        'coupon,position,role\nC1,A1,\n"C2\n(old)",1A,\n,A3,\nC4,A4,reference\nC5,A1,\nc1,A5,\n\nC6,A6,control\n'
    )
    assert [each.id for each in plan.coupons] == ["C1", "C6"]
    assert problems == [
        "row 3, column position: “1A” is not a position; write a row letter and a column number, such as B3.",
        "row 4, column coupon: This must not be left empty.",
        "row 5, column role: “reference” is not a role; write test or control.",
        "row 6, column position: Position A1 is taken by coupon “C1” in row 2; give coupon “C5” another one.",
        "row 7, column coupon: The id “c1” is taken by the coupon in row 2; give each coupon its own id.",
    ]


def test_hostile_texts_are_kept_safely():
    plan, problems = read(
        'coupon,position\n"=HYPERLINK(""x"")",A1\n+1,A2\n👩🏽‍🏭,A3\n\x07,A4\n' + "a" * 400 + ",A5\n"
    )
    assert [each.id for each in plan.coupons] == ['=HYPERLINK("x")', "+1", "👩🏽‍🏭", "\ufffd", "a" * 400]
    assert problems == []


def test_five_thousand_coupons_are_refused_in_one_sentence():
    rows = "".join(f"C{number},A1\n" for number in range(5_000))
    assert refusal_of("coupon,position\n" + rows) == (
        "spring board.csv: The plan has 5000 coupons and a board holds at most 1000; "
        "split the plan into several boards."
    )


def test_a_plan_without_one_good_coupon_is_refused():
    assert refusal_of("coupon,position\n") == (
        "spring board.csv: The plan has no coupons; add at least one with an id and a position."
    )
    assert refusal_of("coupon,position\nC1,here\n") == (
        "spring board.csv: No coupon of this plan can be used; the first problem: row 2, column position: “here” is "
        "not a position; write a row letter and a column number, such as B3."
    )


def test_a_missing_column_is_named_with_the_columns_found():
    assert refusal_of("piece,place\nC1,A1\n") == (
        "spring board.csv, row 1: The columns “coupon” and “position” are missing; name them in the first row, "
        "which holds: piece, place."
    )


def read_or_refuse(data):
    try:
        plan, problems = read_plan_csv(data, "p.csv")
    except InputError as error:
        assert error.problem.file == "p.csv"  # noqa: PT017 - both outcomes are right, neither may be anything else
    else:
        assert plan.coupons
        assert len(problems) <= 201


@given(st.binary(max_size=200))
def test_any_bytes_are_a_plan_or_a_sentence(data):
    read_or_refuse(data)


@settings(max_examples=200)
@given(
    st.sampled_from([",", ";", "\t"]),
    st.lists(
        st.lists(st.text(max_size=8) | st.sampled_from(["C1", "A1", "B2", "wax", "2", '"', "control"]), max_size=6),
        max_size=8,
    ),
    st.sampled_from(["utf-8", "utf-16"]),
)
def test_any_rows_under_a_header_are_a_plan_or_a_sentence(delimiter, rows, encoding):
    header = ["coupon", "position", "treatment", "role", "coats", "extra"]
    text = "\n".join(delimiter.join(row) for row in [header, *rows])
    read_or_refuse(text.encode(encoding, "surrogatepass"))
