"""What a plan must keep to."""

import math
from dataclasses import replace
from datetime import datetime

import pytest

from rustboard.board.model import Board, Marker, Plan, PlannedCoupon, Treatment
from rustboard.board.plan_check import check_plan
from rustboard.board.plan_rules import Place, Places
from rustboard.board.position import Position, parse_position
from rustboard.support.problems import InputError

BOARD = Board("Harbour wall", rows=3, columns=7, width_mm=700, height_mm=400)


def coupon(name, position, **more):
    return PlannedCoupon(name, parse_position(position), **more)


def checked(plan):
    kept, problems = check_plan(plan, "p.json")
    return kept, [problem.sentence() for problem in problems]


def test_a_sound_plan_comes_back_the_same():
    outline = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0))
    plan = Plan(
        replace(BOARD, incline_deg=45, facing_deg=180, edge_margin_mm=3, started=datetime(2026, 3, 2, 9)),
        (Treatment("T1", coats=2, cost_per_m2=3.1, minutes_per_m2=40),),
        (coupon("C1", "A1", treatment="T1", outline_mm=outline), coupon("C2", "A2", role="control")),
        (Marker(0, (20, 20), 30), Marker(2, (680, 380), 30)),
    )
    assert check_plan(plan, "p.json") == (plan, [])


def test_of_two_coupons_on_one_position_the_first_stays():
    kept, problems = checked(Plan(BOARD, coupons=(coupon("C1", "A1"), coupon("C2", "A1"), coupon("C3", "B1"))))
    assert [each.id for each in kept.coupons] == ["C1", "C3"]
    assert problems == [
        "p.json, column coupons[1].position: Position A1 is taken by coupon “C1” in coupons[0]; "
        "give coupon “C2” another one."
    ]


def test_of_two_coupons_with_one_id_the_first_stays_whatever_the_case():
    kept, problems = checked(Plan(BOARD, coupons=(coupon("C1", "A1"), coupon("c1", "A2"))))
    assert [each.id for each in kept.coupons] == ["C1"]
    assert problems == [
        "p.json, column coupons[1].id: The id “c1” is taken by the coupon in coupons[0]; give each coupon its own id."
    ]


def test_a_coupon_that_was_left_out_takes_no_position_from_others():
    kept, _ = checked(Plan(BOARD, coupons=(coupon("C1", "A1"), coupon("C1", "A2"), coupon("C3", "A2"))))
    assert [each.id for each in kept.coupons] == ["C1", "C3"]


@pytest.mark.parametrize(
    ("position", "what"),
    [
        ("D1", "Position D1 is not on the board, which has only 3 rows."),
        ("A8", "Position A8 is not on the board, which has only 7 columns."),
        ("ZZ1", "A board has at most 60 rows and 60 columns; mend this position."),
        ("A61", "A board has at most 60 rows and 60 columns; mend this position."),
    ],
)
def test_a_coupon_outside_the_grid_is_left_out(position, what):
    kept, problems = checked(Plan(BOARD, coupons=(coupon("C1", position),)))
    assert kept.coupons == ()
    assert problems == [f"p.json, column coupons[0].position: {what}"]


def test_a_coupon_left_of_the_grid_is_left_out():
    assert checked(Plan(BOARD, coupons=(PlannedCoupon("C1", Position(-1, 0)),)))[0].coupons == ()


def test_a_coupon_without_an_id_or_with_an_unknown_role_is_left_out():
    strange = replace(coupon("C2", "A2"), role="reference")
    kept, problems = checked(Plan(BOARD, coupons=(coupon("", "A1"), strange)))
    assert kept.coupons == ()
    assert problems == [
        "p.json, column coupons[0].id: The coupon has no id; write the one that is on the piece.",
        "p.json, column coupons[1].role: “reference” is not a role; write test or control.",
    ]


def test_a_coupon_keeps_its_place_when_its_treatment_is_unknown():
    kept, problems = checked(Plan(BOARD, (Treatment("T1"),), (coupon("C1", "A1", treatment="T9"),)))
    assert kept.coupons == (coupon("C1", "A1"),)
    assert problems == [
        "p.json, column coupons[0].treatment: The plan has no treatment “T9”; coupon “C1” was kept without."
    ]


def test_a_treatment_is_found_whatever_the_case_and_spelled_as_the_treatment_is():
    kept, problems = checked(Plan(BOARD, (Treatment("T1"),), (coupon("C1", "A1", treatment="t1"),)))
    assert kept.coupons[0].treatment == "T1"
    assert problems == []


def test_a_coupon_keeps_its_place_when_its_outline_is_wrong():
    bow_tie = ((10.0, 10.0), (50.0, 50.0), (50.0, 10.0), (10.0, 60.0))
    kept, problems = checked(Plan(BOARD, coupons=(coupon("C1", "A1", outline_mm=bow_tie),)))
    assert kept.coupons == (coupon("C1", "A1"),)
    assert problems == [
        "p.json, column coupons[0].outline_mm: The outline crosses or touches itself; give its corners in order "
        "around the coupon; coupon “C1” was kept without it."
    ]


def test_an_outline_may_close_on_its_first_point():
    outline = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0))
    kept, problems = checked(Plan(BOARD, coupons=(coupon("C1", "A1", outline_mm=(*outline, outline[0])),)))
    assert kept.coupons[0].outline_mm == outline
    assert problems == []


def test_duplicate_and_nameless_treatments_are_left_out():
    kept, problems = checked(Plan(BOARD, (Treatment("T1", "first"), Treatment("t1"), Treatment(""))))
    assert kept.treatments == (Treatment("T1", "first"),)
    assert problems == [
        "p.json, column treatments[1].id: The id “t1” is given to two treatments; the first was kept.",
        "p.json, column treatments[2].id: The treatment has no id; give it a short one.",
    ]


def test_impossible_amounts_are_left_out_and_the_rest_kept():
    kept, problems = checked(Plan(BOARD, (Treatment("T1", coats=-1, cost_per_m2=math.nan, minutes_per_m2=40),)))
    assert kept.treatments == (Treatment("T1", minutes_per_m2=40),)
    assert problems == [
        "p.json, column treatments[0].coats: -1 is not between 0 and 100; the value was left out.",
        "p.json, column treatments[0].cost_per_m2: nan is not between 0 and 1e+09; the value was left out.",
    ]


def test_impossible_sizes_and_angles_of_the_board_are_left_out():
    wrong = replace(
        BOARD, width_mm=-5, height_mm=math.inf, edge_margin_mm=-1, incline_deg=200, facing_deg=-90,
        started=datetime(1026, 3, 2),
    )  # fmt: skip
    kept, problems = checked(Plan(wrong))
    assert kept.board == Board("Harbour wall", rows=3, columns=7)
    assert "p.json, column board.width_mm: -5 mm is not between 0 and 100000 mm; the value was left out." in problems
    assert (
        "p.json, column board.facing_deg: -90 degrees is not between 0 and 360 degrees; the value was left out."
        in (problems)
    )
    assert "p.json, column board.started: The year 1026 is not between 1900 and 2200; the value was left out." in (
        problems
    )
    assert len(problems) == 6


@pytest.mark.parametrize(
    ("key", "value"), [("rows", 0), ("rows", 61), ("columns", -1), pytest.param("columns", 10**5000, id="huge")]
)
def test_a_grid_of_an_impossible_size_refuses_the_plan(key, value):
    with pytest.raises(InputError) as caught:
        check_plan(Plan(replace(BOARD, **{key: value})), "p.json")
    assert caught.value.problem.sentence() == (
        f"p.json, column board.{key}: A board has 1 to 60 {key}; mend this number."
    )


def test_five_thousand_coupons_refuse_the_plan_in_one_sentence():
    coupons = tuple(PlannedCoupon(f"C{number}", Position(0, 0)) for number in range(5_000))
    with pytest.raises(InputError) as caught:
        check_plan(Plan(BOARD, coupons=coupons), "p.json")
    assert caught.value.problem.sentence() == (
        "p.json: The plan has 5000 coupons and a board holds at most 1000; split the plan into several boards."
    )


def test_too_many_treatments_refuse_the_plan():
    with pytest.raises(InputError, match="501 treatments and a board holds at most 500"):
        check_plan(Plan(BOARD, tuple(Treatment(f"T{number}") for number in range(501))))


@pytest.mark.parametrize(
    ("marker", "sentence"),
    [
        (
            Marker(4, (20, 20), 30),
            "column markers[1].id: 4 is not a marker of a board; markers are numbered 0 to 3, "
            "clockwise from top left.",
        ),
        (Marker(0, (50, 20), 30), "column markers[1].id: Marker 0 is there twice; the first was kept."),
        (
            Marker(1, (50, 20), 0),
            "column markers[1].size_mm: 0 mm is not between 1 and 10000 mm; the marker was left out.",
        ),
        (
            Marker(1, (701, 20), 30),
            "column markers[1].centre_mm: The marker's centre lies beyond the board; mend it or the board's size.",
        ),
        (
            Marker(1, (20, math.nan), 30),
            "column markers[1].centre_mm: The marker's centre lies beyond the board; mend it or the board's size.",
        ),
    ],
)
def test_a_marker_that_cannot_be_is_left_out(marker, sentence):
    good = Marker(0, (20, 20), 30)
    kept, problems = checked(Plan(BOARD, markers=(good, marker)))
    assert kept.markers == (good,)
    assert problems == [f"p.json, {sentence}"]


def test_places_in_a_table_are_rows_and_columns():
    plan = Plan(BOARD, coupons=(coupon("C1", "A1"), coupon("C1", "A2"), coupon("C2", "A1")))
    _, problems = check_plan(plan, "p.csv", Places([Place(row=2), Place(row=5), Place(row=6)], [], []))
    assert [problem.sentence() for problem in problems] == [
        "p.csv, row 5, column coupon: The id “C1” is taken by the coupon in row 2; give each coupon its own id.",
        "p.csv, row 6, column position: Position A1 is taken by coupon “C1” in row 2; give coupon “C2” another one.",
    ]


def test_only_so_many_problems_are_listed():
    coupons = tuple(PlannedCoupon(f"C{number}", Position(0, 0)) for number in range(1_000))
    _, problems = checked(Plan(BOARD, coupons=coupons))
    assert len(problems) == 201
    assert problems[-1] == "p.json: And 799 more problems are not listed; mend these first."
