"""Plans carried out on an empty board, and boards turned back into plans."""

from dataclasses import replace
from datetime import datetime, time

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout
from rustboard.board.model import Board, Coupon, Inspection, Marker, Plan, PlannedCoupon, Treatment
from rustboard.board.plan_check import check_plan
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.operations.coupons import add_coupon, edit_coupon, take_off
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.plans import carry_out_plan, plan_of, whole_plan_of
from rustboard.operations.treatments import add_treatment, edit_treatment, remove_treatment

OUTLINE = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0))
PLAN = Plan(
    Board("Porch", 2, 2, 700, 400, 3, incline_deg=45, facing_deg=180, site="harbour"),
    (Treatment("T1", "wax", coats=2, cost_per_m2=3.1), Treatment("T2", "oil")),
    (
        PlannedCoupon("C1", Position(0, 0), "T1", outline_mm=OUTLINE, note="n"),
        PlannedCoupon("C2", Position(0, 1), "T2", substrate="mild steel"),
        PlannedCoupon("C3", Position(1, 1), "", "control"),
    ),
    (Marker(0, (20.0, 20.0), 30.0), Marker(2, (680.0, 380.0), 30.0)),
)

WRITTEN = datetime(2026, 3, 1, 18)
PLANNED = replace(
    PLAN,
    board=replace(PLAN.board, started=datetime(2026, 3, 2, 9)),
    coupons=(replace(PLAN.coupons[0], drawn=Position(1, 0)), replace(PLAN.coupons[1], drawn=Position(0, 1)),
             PLAN.coupons[2]),
    recipes=(("T2", Recipe((RecipeStep("wipe", "oil", quantity=2.0), RecipeStep("dry", hands_on=False)), "R4", 2)),),
    questions=(Question("pairs", written=WRITTEN),
               Question("chosen", (("T1", "T2"),), 6, "mean grade", 1.5, 0.8, "Which lasts?", WRITTEN, True)),
    layout=Layout("complete", "spacing", 2, seed=77, drawn_at=WRITTEN, coupon_width_mm=60.0, drawn_rows=3,
                  drawn_columns=7, drawn_in_columns=True),
    calendar=InspectionDays((0, 1, 2, 4), time(8, 30), False),
)  # fmt: skip


def test_a_plan_that_is_carried_out_comes_back_from_the_board(session):
    changes = session.do(carry_out_plan, PLAN)
    assert plan_of(session.record, "Porch") == PLAN
    assert changes.summary.text() == "Carry out the plan: 3 coupons"
    assert changes.coupons == {1, 2, 3}
    assert check_plan(plan_of(session.record, "Porch")) == (PLAN, [])


def test_a_plan_is_undone_and_done_again_in_one_step(session):
    session.do(carry_out_plan, PLAN)
    record = session.record
    session.undo()
    assert (session.record.coupons, session.record.treatments, session.record.markers) == ({}, {}, ())
    assert session.record.board == Board("Harbour wall")
    session.redo()
    assert session.record == record
    assert plan_of(session.record, "Porch") == PLAN


def test_a_new_board_like_this_one_has_no_start_no_grades_and_no_coupons_from_beside_it(session):
    session.do(carry_out_plan, replace(PLAN, board=replace(PLAN.board, started=datetime(2026, 3, 2))))
    session.do(add_inspection, Inspection(datetime(2026, 3, 2, 9)))
    session.do(grade_coupon, GivenGrade(1, 1, 7))
    session.do(take_off, 3)
    assert plan_of(session.record, "Second") == replace(
        PLAN, board=replace(PLAN.board, name="Second"), coupons=PLAN.coupons[:2]
    )


def test_treatments_keep_their_order_in_a_plan_whatever_was_done_to_them(session):
    session.do(carry_out_plan, PLAN)
    session.do(add_treatment, Treatment("T0"))
    session.do(remove_treatment, 3)
    session.undo()
    session.do(edit_treatment, replace(session.record.treatments[1], note="x"))
    assert [each.id for each in plan_of(session.record, "x").treatments] == ["T1", "T2", "T0"]


def test_a_plan_is_carried_out_on_an_empty_board_only(session, refused):
    sentence = "This board holds coupons already; carry the plan out on a new board."
    session.do(add_treatment, Treatment("T9"))
    assert refused(carry_out_plan, PLAN) == sentence
    session.undo()
    session.do(add_coupon, Coupon("C9"))
    assert refused(carry_out_plan, PLAN) == sentence


def test_a_plan_that_names_what_cannot_be_changes_nothing(session, refused):
    for plan, sentence in (
        (replace(PLAN, treatments=PLAN.treatments[:1]),
         "Coupon C2 has the treatment T2, which the plan does not describe."),
        (replace(PLAN, treatments=(Treatment("T1"), Treatment("t1"))),
         "Another treatment has the id t1; choose a different one."),
        (replace(PLAN, coupons=(PLAN.coupons[0], replace(PLAN.coupons[1], position=Position(0, 0)))),
         "C1 is at A1 already; choose a free position."),
        (replace(PLAN, coupons=(PLAN.coupons[0], replace(PLAN.coupons[1], id="c1"))),
         "Another coupon is called c1; choose a different id."),
        (replace(PLAN, board=replace(PLAN.board, rows=1)),
         "The board has no position B2; it has 1 row and 2 columns."),
        (replace(PLAN, board=replace(PLAN.board, name=" ")), "A board needs a name."),
        (replace(PLAN, board=replace(PLAN.board, rows=61)), "A board has 1 to 60 rows and 1 to 60 columns."),
    ):  # fmt: skip
        assert refused(carry_out_plan, plan) == sentence
        assert (session.record.coupons, session.record.treatments) == ({}, {})


def test_a_thousand_coupons_are_carried_out_in_one_step(session):
    coupons = tuple(
        PlannedCoupon(f"C{number}", Position(number // 40, number % 40), "T1", outline_mm=OUTLINE)
        for number in range(1000)
    )
    session.do(carry_out_plan, Plan(Board("Large", 40, 40), (Treatment("T1"),), coupons))
    assert len(session.record.coupons) == 1000
    session.undo()
    assert session.record.coupons == {}


# ---- recipes, questions, layout, lots, calendar


def test_everything_a_plan_holds_comes_back_from_the_board(session):
    session.do(carry_out_plan, PLANNED)
    assert whole_plan_of(session.record) == PLANNED
    assert session.record.recipe_of(2).steps[0].product == "oil"
    assert session.record.question.words == "Which lasts?"
    assert {each.coupon: each.position for each in session.record.lots.values()}[1] == Position(1, 0)
    session.undo()
    assert whole_plan_of(session.record) == Plan(Board("Harbour wall"))
    session.redo()
    assert whole_plan_of(session.record) == PLANNED


def test_a_new_board_like_this_one_draws_its_own_lots_and_writes_its_question_down_anew(session):
    session.do(carry_out_plan, PLANNED)
    assert plan_of(session.record, "Second") == replace(
        PLANNED,
        board=replace(PLAN.board, name="Second"),
        coupons=PLAN.coupons,
        questions=(replace(PLANNED.questions[1], written=None, late=False),),
        layout=Layout("complete", "spacing", 2, coupon_width_mm=60.0),
    )


def test_lots_of_coupons_off_the_board_and_pairs_of_treatments_that_are_gone_are_in_no_plan(session):
    session.do(carry_out_plan, replace(PLANNED, recipes=()))
    session.do(take_off, 2)
    session.do(edit_coupon, replace(session.record.coupons[2], treatment=None))
    session.do(remove_treatment, 2)
    plan = whole_plan_of(session.record)
    assert plan.coupons == (PLANNED.coupons[0], PLANNED.coupons[2])
    assert plan.questions[1].pairs == ()
    assert check_plan(plan) == (plan, [])


def test_a_plan_whose_planning_cannot_be_changes_nothing(session, refused):
    for plan, sentence in (
        (replace(PLANNED, recipes=(("T9", PLANNED.recipes[0][1]),)),
         "column recipes[0]: The plan has no treatment “T9”; its recipe was left out."),
        (replace(PLANNED, layout=replace(PLANNED.layout, seed=-4)),
         "column layout.seed: -4 is not between 0 and 2147483647; the value was left out."),
        (replace(PLANNED, calendar=InspectionDays((-3,))),
         "column calendar.days: -3 is not between 0 and 36600 days; the day was left out."),
        (replace(PLANNED, questions=(Question(worthwhile=0.0),)),
         "column questions[0].worthwhile: 0 grades is not between 0.1 and 10 grades; the value was left out."),
    ):  # fmt: skip
        told = f"This plan cannot be carried out as it is; the first problem: {sentence}"
        assert refused(carry_out_plan, plan) == told
        assert (session.record.coupons, session.record.treatments, session.record.questions) == ({}, {}, {})
