"""The sample files that come with the program are right, and agree with each other."""

from pathlib import Path

import pytest
from plan_reading import read_plan_csv, read_plan_json

from rustboard.board.grades_csv import read_grades_csv
from rustboard.board.plan_json import write_plan_json


@pytest.fixture
def examples(checkout: Path) -> Path:
    return checkout / "resources" / "examples"


def test_the_sample_plan_reads_without_problems(examples):
    plan, problems = read_plan_json((examples / "plan.json").read_bytes(), "plan.json")
    assert problems == []
    assert (plan.board.rows, plan.board.columns, len(plan.coupons), len(plan.markers)) == (2, 3, 6, 4)
    assert all(coupon.outline_mm for coupon in plan.coupons)
    assert [(treatment, len(recipe.steps)) for treatment, recipe in plan.recipes] == [("T1", 4)]
    assert (len(plan.questions), plan.layout.drain, plan.calendar.days[-1]) == (1, "drip edges", 56)
    assert read_plan_json(write_plan_json(plan).encode(), "plan.json") == (plan, [])


def test_the_sample_table_is_the_same_plan(examples):
    from_json, _ = read_plan_json((examples / "plan.json").read_bytes(), "plan.json")
    from_csv, problems = read_plan_csv((examples / "plan.csv").read_bytes(), "plan.csv")
    assert problems == []
    assert [(c.id, c.position, c.role) for c in from_csv.coupons] == [
        (c.id, c.position, c.role) for c in from_json.coupons
    ]
    assert [t.name for t in from_csv.treatments] == [t.name for t in from_json.treatments]


def test_the_sample_grades_are_for_the_sample_board(examples):
    plan, _ = read_plan_json((examples / "plan.json").read_bytes(), "plan.json")
    grades, problems = read_grades_csv((examples / "grades.csv").read_bytes(), "grades.csv")
    assert problems == []
    assert {grade.coupon for grade in grades} == {coupon.id for coupon in plan.coupons}
    assert len(grades) == 18
    assert plan.board.started == min(grade.when for grade in grades)
