"""The demo's story: plan, visits, true rust and what the graders wrote."""

from collections import Counter
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.app.demo.fittings import STUD_BESIDE_EDGE_MM, STUD_RADIUS_MM
from rustboard.app.demo.harbour import HARBOUR
from rustboard.app.demo.porch import PORCH
from rustboard.app.demo.recipes import CONTROL, RECIPES, TREATMENTS
from rustboard.app.demo.scenario import HUNG_BY_HAND, DemoBoard
from rustboard.board.outline import outline_fault
from rustboard.board.plan_check import check_plan
from rustboard.board.recipe_cost import recipe_cost
from rustboard.scales.rust_grade import grade_from_percent

both = pytest.mark.parametrize("demo", [HARBOUR, PORCH], ids=["harbour", "porch"])
days = st.floats(0, 80)


@both
def test_each_treatment_hangs_once_in_every_row(demo: DemoBoard):
    rows = Counter((coupon.position.row, coupon.treatment) for coupon in demo.plan.coupons)
    assert rows == Counter((row, each.id) for row in range(demo.plan.board.rows) for each in TREATMENTS)


def test_no_treatment_hangs_twice_in_a_column_of_the_harbour_board():
    columns = Counter((coupon.position.column, coupon.treatment) for coupon in HARBOUR.plan.coupons)
    assert set(columns.values()) == {1}


@both
def test_only_the_bare_coupons_are_controls(demo: DemoBoard):
    assert {each.treatment for each in demo.plan.coupons if each.role == "control"} == {CONTROL}
    assert all(each.role == "control" for each in demo.plan.coupons if each.treatment == CONTROL)


@both
def test_outlines_lie_on_the_board_and_clear_of_each_other_and_of_the_markers(demo: DemoBoard):
    board = demo.plan.board
    taken = []
    for coupon in demo.plan.coupons:
        assert outline_fault(coupon.outline_mm, board) == ""
        taken.append((*coupon.outline_mm[0], *coupon.outline_mm[2]))
    for marker in demo.plan.markers:
        (x, y), half = marker.centre_mm, marker.size_mm / 2
        taken.append((x - half, y - half, x + half, y + half))
    for number, (left, top, right, bottom) in enumerate(taken):
        for other in taken[number + 1 :]:
            assert right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top


def test_the_studs_cover_nothing_that_counts():
    assert HARBOUR.plan.board.edge_margin_mm > STUD_RADIUS_MM - STUD_BESIDE_EDGE_MM


@both
@given(one=days, other=days)
def test_true_rust_never_falls_with_time(demo: DemoBoard, one: float, other: float):
    sooner, later = sorted((one, other))
    for coupon in demo.plan.coupons:
        assert 0 <= demo.percent_at(coupon, sooner) <= demo.percent_at(coupon, later) <= 100


@both
def test_all_is_bright_on_day_zero(demo: DemoBoard):
    assert {(each.grade, each.distribution) for each in demo.written_at(demo.visits[0])} == {(10, "")}


@both
def test_graders_write_the_true_grade_or_are_one_off(demo: DemoBoard):
    coupons = {each.id: each for each in demo.plan.coupons}
    off = []
    for visit in demo.visits:
        standing = {each.coupon: each for each in demo.written_at(visit)}
        for each in standing.values():
            truth = grade_from_percent(demo.percent_at(coupons[each.coupon], demo.day_of(visit)))
            off.append(each.grade - truth)
    assert set(off) <= {-1, 0, 1}
    assert 1 <= sum(map(abs, off)) <= 0.05 * len(off)


@both
def test_a_stated_percent_fits_its_grade(demo: DemoBoard):
    stated = [each for visit in demo.visits for each in demo.written_at(visit) if each.percent is not None]
    assert stated
    assert all(grade_from_percent(each.percent) == each.grade for each in stated)


@both
def test_every_oddity_happens_at_a_visit_to_a_coupon_of_the_board(demo: DemoBoard):
    visits = {round(demo.day_of(each)) for each in demo.visits}
    ids = {each.id for each in demo.plan.coupons}
    assert all(each.day in visits and each.coupon in ids for each in demo.oddities)
    assert len({(each.day, each.coupon) for each in demo.oddities}) == len(demo.oddities)


def test_the_last_six_coupons_of_the_last_visit_are_left_to_be_graded():
    last = HARBOUR.visits[-1]
    graded = {each.coupon for each in HARBOUR.written_at(last)}
    assert [each.id for each in HARBOUR.plan.coupons if each.id not in graded] == [
        f"C{number}" for number in range(16, 22)
    ]
    assert "C16 to C21" in last.note


def test_the_harbour_holds_a_dropping_a_gap_a_correction_and_a_withdrawal():
    kinds = Counter(each.kind for each in HARBOUR.oddities if each.day != 56)
    assert kinds["dropping"] == kinds["corrected"] == kinds["withdrawn"] == 1
    assert kinds["missed"] == 2


@both
def test_visits_are_in_order_and_about_eight_weeks_long(demo: DemoBoard):
    assert all(before.at < after.at for before, after in pairwise(demo.visits))
    assert 45 <= demo.day_of(demo.visits[-1]) <= 60


def test_replicates_differ_as_real_ones_do():
    last = HARBOUR.day_of(HARBOUR.visits[-1])
    for treatment in TREATMENTS:
        percents = [HARBOUR.percent_at(each, last) for each in HARBOUR.plan.coupons if each.treatment == treatment.id]
        assert 1.1 < max(percents) / min(percents) < 6


@both
def test_the_plan_is_one_that_any_board_could_have(demo: DemoBoard):
    assert check_plan(demo.plan) == (demo.plan, [])
    assert demo.plan.layout == HUNG_BY_HAND
    assert (demo.plan.layout.seed, {each.drawn for each in demo.plan.coupons}) == (None, {None})


@both
def test_the_question_was_written_down_before_the_exposure_began(demo: DemoBoard):
    (question,) = demo.plan.questions
    assert question.words
    assert question.written < demo.plan.board.started
    assert not question.late


@both
def test_every_planned_day_saw_a_visit(demo: DemoBoard):
    visited = [round(demo.day_of(each)) for each in demo.visits]
    assert set(demo.plan.calendar.days) <= set(visited)
    assert demo.plan.calendar.days[-1] == visited[-1]


def test_every_treatment_costs_what_its_recipe_costs_more_than_the_bare_control():
    costs = {treatment: recipe_cost(recipe, 60.0 * 120.0) for treatment, recipe in RECIPES}
    assert costs.keys() == {each.id for each in TREATMENTS}
    for each in TREATMENTS:
        more = costs[each.id].per_m2 - costs[CONTROL].per_m2
        assert more == pytest.approx(each.cost_per_m2, abs=0.2), each.id  # as the shop rounds it
