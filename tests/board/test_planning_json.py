"""Recipes, questions, layout and calendar of a plan in JSON: what is read, and what is named and left out."""

import json
from dataclasses import replace
from datetime import datetime, time

import pytest
from plan_reading import read_plan_json

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout
from rustboard.board.model import Board, Plan, PlannedCoupon, Treatment
from rustboard.board.plan_check import check_plan
from rustboard.board.plan_json import write_plan_json
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, RecipeStep

FULL = {
    "treatments": [
        {"id": "T1", "library_id": "R7", "recipe_version": 3, "steps": [
            {"kind": "degrease", "product": "alkaline cleaner", "batch": "4", "quantity": 20, "unit": "g",
             "per": "coupon", "container_price": 12.5, "container_quantity": 5, "container_unit": "kg", "minutes": 10,
             "hands_on": True, "temperature_c": 60, "who": "Ann", "note": "a\nb"},
            {"kind": "dry", "minutes": 30, "hands_on": False}]},
        {"id": "T2"}],
    "coupons": [{"id": "C1", "position": "A1", "treatment": "T1", "drawn": "B2"},
                {"id": "C2", "position": "B2", "treatment": "T2"}],
    "questions": [
        {"compared": "pairs"},
        {"compared": "chosen", "pairs": [["T1", "T2"]], "failing_grade": 6, "measure": "mean grade",
         "worthwhile": 1.5, "assumed_sd": 0.8, "words": "Which lasts?", "written": "2026-03-01T10:00", "late": True}],
    "layout": {"method": "complete", "drain": "spacing", "free_rows": 2, "fair_edges": False, "seed": 21,
               "drawn_at": "2026-03-01T09:00", "coupon_width_mm": 60, "coupon_height_mm": 120,
               "hole_below_top_mm": -6, "drawn_rows": 5, "drawn_columns": 8, "drawn_in_columns": True},
    "calendar": {"days": [0, 1, 2, 4, 8], "hour": "08:30", "remind": False},
}  # fmt: skip

READ = Plan(
    Board("p", 2, 2),
    (Treatment("T1"), Treatment("T2")),
    (PlannedCoupon("C1", Position(0, 0), "T1", drawn=Position(1, 1)), PlannedCoupon("C2", Position(1, 1), "T2")),
    recipes=(("T1", Recipe((
        RecipeStep("degrease", "alkaline cleaner", "4", 20.0, "g", "coupon", 12.5, 5.0, "kg", 10.0, True, 60.0, "Ann",
                   "a\nb"),
        RecipeStep("dry", minutes=30.0, hands_on=False)), "R7", 3)),),
    questions=(
        Question("pairs"),
        Question("chosen", (("T1", "T2"),), 6, "mean grade", 1.5, 0.8, "Which lasts?", datetime(2026, 3, 1, 10),
                 True)),
    layout=Layout("complete", "spacing", 2, False, 21, datetime(2026, 3, 1, 9), 60.0, 120.0, -6.0, 5, 8, True),
    calendar=InspectionDays((0, 1, 2, 4, 8), time(8, 30), False),
)  # fmt: skip


def read(content):
    plan, problems = read_plan_json(json.dumps(content).encode(), "p.json")
    return plan, [problem.sentence().removeprefix("p.json, column ") for problem in problems]


def test_every_key_of_the_planning_is_read():
    assert read(FULL) == (READ, [])


def test_a_plan_without_planning_has_none():
    plan, problems = read({"treatments": [{"id": "T1"}], "coupons": FULL["coupons"][:1]})
    assert (plan.recipes, plan.questions, plan.layout, plan.calendar, problems) == ((), (), None, None, [])
    written = write_plan_json(plan)
    assert not any(f'"{key}"' in written for key in ("steps", "questions", "layout", "calendar"))


def test_empty_objects_are_the_usual_rules():
    plan, problems = read({"coupons": [{"id": "C1", "position": "A1"}], "questions": [{}], "layout": {},
                           "calendar": {}})  # fmt: skip
    assert (plan.questions, plan.layout, plan.calendar) == ((Question(),), Layout(), InspectionDays())
    assert problems == []


def changed(path, value):
    """Return the full plan with another value at a place such as ``layout.seed``."""
    content = json.loads(json.dumps(FULL))
    inside = content
    *way, last = path.split(".")
    for key in way:
        inside = inside[int(key)] if isinstance(inside, list) else inside[key]
    inside[last] = value
    return content


STEP = "treatments.0.steps.0"
NUMBER = "This must be a number, not the text “much”; the value was left out."
KINDS = "degrease, blast, sand, brush, pickle, etch, rinse, convert, dry, heat, coat, soak, wipe, buff, cure, other"


@pytest.mark.parametrize(("path", "value", "sentence"), [
    (f"{STEP}.kind", "chant", f"“chant” is not known here; write one of {KINDS}; the step was left out."),
    (f"{STEP}.kind", None, f"A word is missing; write one of {KINDS}; the step was left out."),
    (f"{STEP}.kind", 7, "This must be a text in quotation marks, not 7; the step was left out."),
    (f"{STEP}.quantity", "much", NUMBER),
    (f"{STEP}.quantity", -1, "-1 is not between 0 and 1e+06; the value was left out."),
    (f"{STEP}.unit", "pints", "“pints” is not known here; write one of ml, l, g, kg, piece; the value was left out."),
    (f"{STEP}.per", "board", "“board” is not known here; write one of coupon, m2; the value was left out."),
    (f"{STEP}.container_price", 1e12, "1e+12 is not between 0 and 1e+09; the value was left out."),
    (f"{STEP}.minutes", -5, "-5 minutes is not between 0 and 1e+06 minutes; the value was left out."),
    (f"{STEP}.hands_on", "yes", "This must be true or false, not the text “yes”; the value was left out."),
    (f"{STEP}.hands_on", 1, "This must be true or false, not 1; the value was left out."),
    (f"{STEP}.temperature_c", 5000, "5000 °C is not between -100 and 1500 °C; the value was left out."),
    (f"{STEP}.colour", "red", "This key has no meaning in a plan and was ignored, here and wherever it comes again."),
    ("treatments.0.steps", "coat it", "This must be a list in square brackets, not the text “coat it”; the value was "
     "left out."),
    ("treatments.0.recipe_version", -1, "-1 is not between 0 and 1000000; the value was left out."),
    ("coupons.0.drawn", "17", "“17” is not a position; write a row letter and a column number, such as B3."),
    ("coupons.0.drawn", 4, "This must be a text in quotation marks, not 4; the value was left out."),
    ("coupons.0.drawn", "A61", "A board has at most 60 rows and 60 columns; coupon “C1” was kept without the "
     "position that the lots gave it."),
    ("questions", {}, "This must be a list in square brackets, not an object; the value was left out."),
    ("questions.1.compared", "all", "“all” is not known here; write one of control, pairs, families, grid, chosen; "
     "the value was left out."),
    ("questions.1.failing_grade", 11, "11 is not between 0 and 9; the value was left out."),
    ("questions.1.failing_grade", 6.5, "6.5 is not a whole number; the value was left out."),
    ("questions.1.measure", "looks", "“looks” is not known here; write one of last grade, mean grade, days to "
     "failing grade; the value was left out."),
    ("questions.1.worthwhile", 0, "0 grades is not between 0.1 and 10 grades; the value was left out."),
    ("questions.1.assumed_sd", 9, "9 grades is not between 0.05 and 5 grades; the value was left out."),
    ("questions.1.late", 0, "This must be true or false, not 0; the value was left out."),
    ("layout", 5, "This must be an object in curly brackets, not 5; it was left out."),
    ("layout.method", "dice", "“dice” is not known here; write one of complete, rows, hand; the value was left out."),
    ("layout.drain", "gutter", "“gutter” is not known here; write one of columns, spacing, drip edges, none; the "
     "value was left out."),
    ("layout.free_rows", 0, "0 is not between 1 and 10; the value was left out."),
    ("layout.seed", 2**31, "2147483648 is not between 0 and 2147483647; the value was left out."),
    ("layout.drawn_rows", 61, "61 is not between 0 and 60; the value was left out."),
    ("layout.drawn_columns", -1, "-1 is not between 0 and 60; the value was left out."),
    ("layout.drawn_in_columns", 1, "This must be true or false, not 1; the value was left out."),
    ("layout.drawn_at", "1492-10-12", "The year 1492 is not between 1900 and 2200; mend the date."),
    ("layout.coupon_width_mm", -1, "-1 mm is not between 0 and 10000 mm; the value was left out."),
    ("calendar", [0, 1], "This must be an object in curly brackets, not a list; it was left out."),
    ("calendar.days", 7, "This must be a list in square brackets, not 7; the value was left out."),
    ("calendar.hour", "noon", "“noon” is not a time of day; write hours and minutes, such as 09:00."),
    ("calendar.hour", "25:00", "“25:00” is not a time of day; write hours and minutes, such as 09:00."),
])  # fmt: skip
def test_a_wrong_value_is_named_and_only_it_is_left_out(path, value, sentence):
    plan, problems = read(changed(path, value))
    place = re_indexed(path)
    assert problems == [f"{place}: {sentence}"]
    assert plan.coupons[0].id == "C1"
    assert len(plan.coupons) == 2
    again, rest = read_plan_json(write_plan_json(plan).encode(), "p.json")
    assert (again, rest) == (plan, [])


def re_indexed(path):
    """Return a place as sentences name it: ``treatments[0].steps``."""
    words = ""
    for key in path.split("."):
        words += f"[{key}]" if key.isdigit() else f".{key}"
    return words.removeprefix(".")


@pytest.mark.parametrize("pair", [["T1"], ["T1", "T2", "T3"], ["T1", 2], "T1", ["", "T1"], {"a": 1}])
def test_what_is_no_pair_is_left_out(pair):
    plan, problems = read(changed("questions.1.pairs", [pair, ["T1", "T2"]]))
    assert plan.questions[1].pairs == (("T1", "T2"),)
    assert problems == ["questions[1].pairs[0]: A pair is a list of two ids of treatments; the pair was left out."]


def test_a_pair_that_names_an_unknown_treatment_is_left_out():
    plan, problems = read(changed("questions.1.pairs", [["T1", "T9"], ["t2", "T1"]]))
    assert plan.questions[1].pairs == (("T2", "T1"),)
    assert problems == ["questions[1].pairs: The plan has no treatment “T9”; the pair was left out."]


def test_a_day_that_cannot_be_is_left_out_and_the_others_put_in_order():
    plan, problems = read(changed("calendar.days", [8, 1, "x", 1, -2, 2.5, 40_000, 0]))
    assert plan.calendar.days == (0, 1, 8)
    what = "A day is a whole number of days after the start; it was left out."
    assert problems == [
        f"calendar.days[2]: {what}",
        f"calendar.days[5]: {what}",
        "calendar.days: -2 is not between 0 and 36600 days; the day was left out.",
        "calendar.days: 40000 is not between 0 and 36600 days; the day was left out.",
    ]


def test_the_recipe_of_a_treatment_that_is_left_out_is_left_out_with_it():
    treatments = [{"id": "T1"}, {"id": "t1", "steps": [{"kind": "coat"}]}, {"name": "no id", "steps": []}]
    plan, problems = read({**FULL, "treatments": treatments, "questions": []})
    assert plan.recipes == ()
    assert problems[0] == "treatments[2].id: This must not be left empty."
    assert "treatments[1].id: The id “t1” is given to two treatments; the first was kept." in problems


def test_too_much_is_cut_and_named():
    content = changed("treatments.0.steps", [{"kind": "coat"}] * 61)
    content["questions"][1]["pairs"] = [["T1", "T2"]] * 201
    content["calendar"]["days"] = list(range(401))
    plan, problems = read(content)
    assert len(plan.recipes[0][1].steps) == 60
    assert len(plan.questions[1].pairs) == 200
    assert plan.calendar.days == tuple(range(400))
    assert problems == [
        "treatments[0].steps: There are 61 steps; the first 60 were kept.",
        "questions[1].pairs: There are 201 pairs; the first 200 were kept.",
        "calendar.days: There are 401 days; the first 400 were kept.",
    ]


def test_of_too_many_questions_the_newest_are_kept():
    questions = [{"failing_grade": number % 10} for number in range(10_003)]
    plan, problems = read({**FULL, "questions": questions})
    assert [each.failing_grade for each in plan.questions[:2]] == [3, 4]
    assert len(plan.questions) == 10_000
    assert problems == ["questions: A board keeps at most 10000 changes of its question; the oldest were left out."]


def test_a_plan_from_no_file_is_judged_the_same():
    wrong = replace(
        READ,
        recipes=(("T9", Recipe((RecipeStep("coat"),))), *READ.recipes, ("t1", Recipe((RecipeStep("dry"),)))),
        questions=(replace(READ.questions[1], pairs=(("T1", "gone"),)),),
        calendar=InspectionDays((-1, 0)),
    )
    plan, problems = check_plan(wrong)
    assert plan.recipes == READ.recipes
    assert plan.questions[0].pairs == ()
    assert plan.calendar.days == (0,)
    assert [problem.sentence() for problem in problems] == [
        "column recipes[0]: The plan has no treatment “T9”; its recipe was left out.",
        "column recipes[2]: Treatment “T1” has two recipes; the first was kept.",
        "column questions[0].pairs: The plan has no treatment “gone”; the pair was left out.",
        "column calendar.days: -1 is not between 0 and 36600 days; the day was left out.",
    ]
