"""What a recipe costs and how long it takes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board import recipe_cost as costs
from rustboard.board.layout import Layout
from rustboard.board.model import Board, Coupon
from rustboard.board.recipe import STEP_KINDS, UNITS, Recipe, RecipeStep
from rustboard.board.recipe_cost import recipe_cost, step_cost, usual_area_mm2
from rustboard.board.recipe_words import KIND_WORDS, UNIT_WORDS
from rustboard.board.record import BoardRecord

COUPON_MM2 = 100 * 150.0  # both faces: 0.03 m2

WAX = RecipeStep(
    "coat", "beeswax blend", quantity=4, unit="g", container_price=18, container_quantity=0.5, container_unit="kg"
)
SPIRIT = RecipeStep(
    "degrease",
    "white spirit",
    quantity=200,
    unit="ml",
    per="m2",
    container_price=6,
    container_quantity=1,
    container_unit="l",
)


def test_an_example_worked_out_by_hand() -> None:
    # 0.5 kg cost 18.00, so 4 g cost 18 * 4 / 500 = 0.144 a coupon; a coupon has 2 * 0.015 = 0.03 m2: 4.80 a m2.
    # 1 l costs 6.00, so 200 ml cost 1.20 a m2; on 0.03 m2 that is 0.036 a coupon.
    # Together 0.18 a coupon and 6.00 a m2. Work: 3 + 6 = 9 minutes a coupon, 300 a m2. Waiting: 20 + 60 = 80.
    steps = (
        replace(SPIRIT, minutes=3),
        RecipeStep("dry", minutes=20, hands_on=False),
        replace(WAX, minutes=6),
        RecipeStep("cure", minutes=60, hands_on=False),
    )
    cost = recipe_cost(Recipe(steps), COUPON_MM2)
    assert cost.per_coupon == pytest.approx(0.18)
    assert cost.per_m2 == pytest.approx(6.0)
    assert cost.minutes_per_coupon_hands_on == 9
    assert cost.minutes_per_m2 == pytest.approx(300)
    assert cost.waiting_minutes == 80
    assert cost.unknown == ("Not counted: 2 dry, 4 cure: no product and no amount is given.",)
    assert cost.untimed == ()


def test_without_a_size_each_step_has_one_figure_and_a_mixed_recipe_has_none() -> None:
    assert step_cost(WAX, None) == (pytest.approx(0.144), None, "")
    assert step_cost(SPIRIT, None) == (None, pytest.approx(1.2), "")
    mixed = recipe_cost(Recipe((SPIRIT, WAX)), None)
    assert (mixed.per_coupon, mixed.per_m2) == (None, None)
    assert mixed.unknown == (f"Not added up: {costs.NO_AREA}.",)
    alike = recipe_cost(Recipe((WAX, WAX)), None)
    assert (alike.per_coupon, alike.per_m2, alike.unknown) == (pytest.approx(0.288), None, ())


@pytest.mark.parametrize(
    ("changed", "reason"),
    [
        ({"quantity": None}, costs.NO_QUANTITY),
        ({"container_price": None}, costs.NO_PRICE),
        ({"container_quantity": None}, costs.NO_CONTENT),
        ({"container_quantity": 0.0}, costs.NO_CONTENT),
        ({"unit": "ml"}, costs.NO_DENSITY),
        ({"container_unit": "l"}, costs.NO_DENSITY),
        ({"unit": "piece"}, costs.NO_PIECES),
        ({"container_unit": "piece"}, costs.NO_PIECES),
        ({"container_quantity": 5e-324, "container_price": 1e9}, costs.TOO_LARGE),
    ],
)
def test_what_cannot_be_worked_out_is_named_and_never_nothing(changed: dict[str, object], reason: str) -> None:
    step = replace(WAX, **changed)
    assert step_cost(step, COUPON_MM2) == (None, None, reason)
    cost = recipe_cost(Recipe((SPIRIT, step)), COUPON_MM2)
    assert cost.per_m2 == pytest.approx(1.2)
    assert cost.unknown == (f"Not counted: 2 coat (beeswax blend): {reason}.",)
    assert recipe_cost(Recipe((step,)), COUPON_MM2).per_coupon is None


def test_a_price_of_nothing_is_a_price() -> None:
    cost = recipe_cost(Recipe((replace(WAX, container_price=0),)), COUPON_MM2)
    assert (cost.per_coupon, cost.per_m2, cost.unknown) == (0, 0, ())


def test_a_step_that_takes_nothing_costs_nothing() -> None:
    cost = recipe_cost(Recipe((WAX, RecipeStep("brush", "wire brush", quantity=0))), 15_000.0)
    assert cost.whole_per_m2 == recipe_cost(Recipe((WAX,)), 15_000.0).per_m2
    assert cost.unpriced == ()


def test_minutes_that_are_not_given_are_named() -> None:
    cost = recipe_cost(Recipe((replace(WAX, minutes=5), SPIRIT)), None)
    assert (cost.minutes_per_coupon_hands_on, cost.waiting_minutes, cost.minutes_per_m2) == (5, None, None)
    assert cost.untimed == ("No minutes given: 2 degrease (white spirit).",)


def test_no_steps_cost_nothing_that_could_be_named() -> None:
    assert recipe_cost(Recipe(), COUPON_MM2) == costs.RecipeCost()


amounts = st.floats(0.001, 1e6)
steps = st.builds(
    RecipeStep,
    st.sampled_from(STEP_KINDS),
    quantity=amounts,
    unit=st.sampled_from(["ml", "g", "piece"]),
    per=st.sampled_from(["coupon", "m2"]),
    container_price=amounts,
    container_quantity=amounts,
).map(lambda step: replace(step, container_unit=step.unit))
areas = st.floats(1, 1e7)


@given(steps, areas)
def test_a_thousand_small_units_are_one_large_one(step: RecipeStep, area: float) -> None:
    large = {"ml": "l", "g": "kg", "piece": "piece"}[step.unit]
    scale = 1 if large == "piece" else 1_000
    wanted = pytest.approx(step_cost(step, area)[:2], rel=1e-12)
    for changed in (
        replace(step, unit=large, quantity=step.quantity / scale),
        replace(step, container_unit=large, container_quantity=step.container_quantity / scale),
    ):
        assert step_cost(changed, area)[:2] == wanted


@given(steps, areas, st.floats(0.01, 100))
def test_cost_follows_quantity_and_price_and_content(step: RecipeStep, area: float, times: float) -> None:
    one = step_cost(step, area)
    dearer = tuple(times * each for each in one[:2])
    for changed in (
        replace(step, quantity=step.quantity * times),
        replace(step, container_price=step.container_price * times),
        replace(step, container_quantity=step.container_quantity / times),
    ):
        assert step_cost(changed, area)[:2] == pytest.approx(dearer, rel=1e-9)


@given(steps, areas)
def test_coupon_and_square_metre_say_the_same(step: RecipeStep, area: float) -> None:
    cost = step_cost(step, area)
    assert cost.per_coupon == pytest.approx(cost.per_m2 * 2 * area / 1e6, rel=1e-12)
    other = replace(step, per="m2", quantity=step.quantity / (2 * area / 1e6)) if step.per == "coupon" else step
    assert step_cost(other, area)[:2] == pytest.approx(cost[:2], rel=1e-9)


@given(st.lists(steps, max_size=6), areas)
def test_a_recipe_is_the_sum_of_its_steps(recipe: list[RecipeStep], area: float) -> None:
    whole = recipe_cost(Recipe(tuple(recipe)), area)
    each = [step_cost(step, area) for step in recipe]
    assert (whole.per_m2 or 0) == pytest.approx(sum(cost.per_m2 for cost in each))
    assert (whole.per_coupon or 0) == pytest.approx(sum(cost.per_coupon for cost in each))


def test_every_kind_and_unit_has_words() -> None:
    assert set(KIND_WORDS) == set(STEP_KINDS)
    assert len(set(KIND_WORDS.values())) == len(STEP_KINDS)
    assert set(UNIT_WORDS) == set(UNITS)


def _coupon(key: int, treatment: int | None, side: float | None) -> Coupon:
    outline = () if side is None else ((0, 0), (side, 0), (side, side), (0, side))
    return Coupon(f"C{key}", None, treatment, outline_mm=outline, key=key)


def test_the_size_of_a_coupon_comes_from_its_own_treatment_then_the_board_then_the_layout() -> None:
    record = BoardRecord(Board("yard"))
    assert usual_area_mm2(record, 1) is None
    record.layouts[1] = Layout(coupon_width_mm=50, coupon_height_mm=100, key=1)
    assert usual_area_mm2(record, 1) == 5_000
    record.coupons = {
        key: _coupon(key, *rest) for key, rest in {1: (1, 10), 2: (1, 20), 3: (2, 30), 4: (1, None)}.items()
    }
    assert usual_area_mm2(record, 1) == 250
    assert usual_area_mm2(record, 2) == 900
    assert usual_area_mm2(record, 3) == pytest.approx((100 + 400 + 900) / 3)
