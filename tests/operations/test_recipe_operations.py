"""Recipes of treatments: written down, put right, taken over into the cost."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from rustboard.board.model import Coupon, Inspection, Photo, Treatment
from rustboard.board.recipe import MOST_STEPS, Recipe, RecipeStep, TreatmentRecipe
from rustboard.operations.boards import edit_board
from rustboard.operations.coupons import add_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.photos import add_photo
from rustboard.operations.recipes import (
    add_treatment_with_recipe,
    set_recipe,
    set_recipe_and_cost,
    use_recipe_cost,
)
from rustboard.operations.treatments import add_treatment, remove_treatment
from rustboard.session.session import Session

NOW = datetime(2026, 3, 2, 9)
"""When the session of these tests does everything."""
WAX = RecipeStep(
    "coat", "beeswax", quantity=4, unit="g", container_price=18, container_quantity=500, container_unit="g", minutes=6
)
DRY = RecipeStep("dry", minutes=30, hands_on=False)
COUPON_MM2 = 15_000.0

Refused = Callable[..., str]


@pytest.fixture
def treated(session: Session) -> Session:
    session.do(add_treatment, Treatment("T1", "hot wax"))
    return session


def told(session: Session) -> str:
    return session.audit()[0][3].text()


def test_a_recipe_is_kept_for_its_treatment_and_undone_in_one_step(treated: Session) -> None:
    changes = treated.do(set_recipe, 1, Recipe((WAX, DRY)))
    assert treated.record.recipe_of(1) == Recipe((WAX, DRY))
    assert changes.touches("recipe")
    assert told(treated) == "Write the recipe of hot wax: 2 steps"
    treated.undo()
    assert treated.record.recipe_of(1) == Recipe()
    treated.redo()
    assert treated.record.recipe_of(1) == Recipe((WAX, DRY))


def test_a_treatment_has_one_recipe_and_the_new_one_takes_its_place(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX,)))
    treated.do(set_recipe, 1, Recipe((DRY, WAX)))
    assert list(treated.record.recipes.values()) == [TreatmentRecipe(1, Recipe((DRY, WAX)), key=1)]
    assert told(treated) == "Change the recipe of hot wax: 2 steps"


def test_an_empty_recipe_takes_the_row_away(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX,)))
    treated.do(set_recipe, 1, Recipe())
    assert treated.record.recipes == {}
    treated.do(set_recipe, 1, Recipe())
    assert treated.record.recipes == {}


def test_steps_changed_by_hand_are_no_longer_the_librarys_version(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX,), "wax", 2))
    assert told(treated) == "Write the recipe of hot wax: 1 step, version 2 of the library"
    treated.do(set_recipe, 1, Recipe((WAX, DRY), "wax", 2))
    assert treated.record.recipe_of(1) == Recipe((WAX, DRY), "wax", 0)
    treated.do(set_recipe, 1, Recipe((WAX, DRY), "wax", 3))  # kept in the library as its next version
    assert treated.record.recipe_of(1) == Recipe((WAX, DRY), "wax", 3)


def test_a_version_without_a_library_recipe_is_none(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX,), " ", 7))
    assert treated.record.recipe_of(1) == Recipe((WAX,))


def test_texts_are_made_safe(treated: Session) -> None:
    step = RecipeStep("other", " a\x07b ", "\u202ebatch", who="x\ny", note="  one\ntwo\x00  ")
    treated.do(set_recipe, 1, Recipe((step,)))
    (kept,) = treated.record.recipe_of(1).steps
    assert kept == RecipeStep("other", "a\ufffdb", "\ufffdbatch", who="x y", note="one\ntwo\ufffd")


@pytest.mark.parametrize(
    ("changed", "sentence"),
    [
        ({"quantity": -1.0}, "Step 2: The quantity is from 0 to 1,000,000; mend the number or leave it empty."),
        ({"container_price": 2e9}, "Step 2: The price of a full container is from 0 to 1,000,000,000;"),
        ({"container_quantity": float("nan")}, "Step 2: What a full container holds is from 0 to 1,000,000;"),
        ({"minutes": float("inf")}, "Step 2: The minutes of a step are from 0 to 1,000,000 minutes;"),
        ({"temperature_c": -300.0}, "Step 2: The temperature is from -100 to 1,500 °C;"),
    ],
)
def test_a_number_that_cannot_be_is_refused_by_step_and_name(
    treated: Session, refused: Refused, changed: dict[str, float], sentence: str
) -> None:
    assert refused(set_recipe, 1, Recipe((DRY, replace(WAX, **changed)))).startswith(sentence)


def test_too_many_steps_and_a_treatment_that_is_gone_are_refused(treated: Session, refused: Refused) -> None:
    assert "at most 60 steps" in refused(set_recipe, 1, Recipe((DRY,) * (MOST_STEPS + 1)))
    assert "no longer on the board" in refused(set_recipe, 2, Recipe((DRY,)))
    treated.do(set_recipe, 1, Recipe((DRY,) * MOST_STEPS))


def test_the_person_decides_to_take_cost_and_minutes_from_the_recipe(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX, DRY)))
    assert treated.record.treatments[1].cost_per_m2 is None
    treated.do(use_recipe_cost, 1, COUPON_MM2)
    # 18 * 4 / 500 = 0.144 on 2 * 0.015 = 0.03 m2: 4.80 a m2; 6 minutes on 0.03 m2: 200 a m2.
    assert (treated.record.treatments[1].cost_per_m2, treated.record.treatments[1].minutes_per_m2) == (4.8, 200)
    assert told(treated) == "Take cost per m2, minutes per m2 of hot wax from its recipe"


def test_what_cannot_be_worked_out_stays_as_it_was(treated: Session, refused: Refused) -> None:
    treated.do(add_treatment, Treatment("T2", cost_per_m2=7, minutes_per_m2=8))
    treated.do(set_recipe, 2, Recipe((replace(WAX, per="m2"),)))
    treated.do(use_recipe_cost, 2, None)
    assert (treated.record.treatments[2].cost_per_m2, treated.record.treatments[2].minutes_per_m2) == (0.144, 8)
    assert refused(use_recipe_cost, 1, COUPON_MM2) == (
        "The steps do not give the whole cost or the whole work of a square metre. Give amounts, prices and minutes, "
        "0 where a step takes none, and the size of the coupons."
    )
    treated.do(set_recipe, 1, Recipe((replace(WAX, container_price=1e9, quantity=1e6),)))
    assert "The cost per m² is from 0" in refused(use_recipe_cost, 1, COUPON_MM2)


SEALER = RecipeStep("coat", "sealer", quantity=50, per="m2", unit="ml")
BRUSH = RecipeStep("brush")


def test_half_a_cost_is_not_taken_for_the_whole(treated: Session, refused: Refused) -> None:
    treated.do(add_treatment, Treatment("T2", cost_per_m2=7, minutes_per_m2=8))
    treated.do(set_recipe, 2, Recipe((WAX, SEALER, BRUSH)))
    assert refused(use_recipe_cost, 2, COUPON_MM2) == (
        "The steps do not give the whole cost or the whole work of a square metre: no cost of 2 coat (sealer); no "
        "minutes of 2 coat (sealer), 3 brush. Give amounts, prices and minutes, 0 where a step takes none, and the "
        "size of the coupons."
    )
    assert "no cost of 2 coat (sealer)" in refused(set_recipe_and_cost, 2, Recipe((BRUSH, SEALER)), COUPON_MM2)
    treated.do(
        set_recipe_and_cost, 2, Recipe((WAX, replace(SEALER, minutes=3), replace(BRUSH, minutes=0))), COUPON_MM2
    )
    assert (treated.record.treatments[2].cost_per_m2, treated.record.treatments[2].minutes_per_m2) == (7, 300)
    told_again = treated.do(use_recipe_cost, 2, COUPON_MM2 / 2).summary.text()
    assert told_again == (
        "Take minutes per m2 of T2 from its recipe; its cost stays as it was, as not all steps give one"
    )
    treated.undo()
    treated.do(set_recipe_and_cost, 2, Recipe((WAX, replace(SEALER, quantity=0), BRUSH)), COUPON_MM2)
    assert (treated.record.treatments[2].cost_per_m2, treated.record.treatments[2].minutes_per_m2) == (4.8, 300)


def test_a_refusal_names_a_few_steps_and_not_all_of_them(treated: Session, refused: Refused) -> None:
    treated.do(set_recipe, 1, Recipe((replace(SEALER, product="x" * 300),) * MOST_STEPS))
    assert len(refused(use_recipe_cost, 1, COUPON_MM2)) < 1_000


def test_steps_that_only_wait_need_no_minutes(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX, replace(DRY, minutes=None))))
    treated.do(use_recipe_cost, 1, COUPON_MM2)
    assert (treated.record.treatments[1].cost_per_m2, treated.record.treatments[1].minutes_per_m2) == (4.8, 200)


def test_recipe_and_cost_go_in_one_step(treated: Session, refused: Refused) -> None:
    assert "no minutes of 1 dry" in refused(set_recipe_and_cost, 1, Recipe((RecipeStep("dry"),)), COUPON_MM2)
    treated.do(set_recipe_and_cost, 1, Recipe((WAX,)), COUPON_MM2)
    treated.undo()
    assert (treated.record.recipes, treated.record.treatments[1].cost_per_m2) == ({}, None)


def test_a_treatment_comes_with_its_recipe_in_one_step(session: Session, refused: Refused) -> None:
    session.do(add_treatment_with_recipe, Treatment("T1", "wax"), Recipe((WAX,), "wax", 1))
    assert session.record.recipe_of(1) == Recipe((WAX,), "wax", 1)
    assert "Another treatment" in refused(add_treatment_with_recipe, Treatment("t1"), Recipe((WAX,)))
    session.undo()
    assert (session.record.treatments, session.record.recipes) == ({}, {})


def test_a_treatment_takes_its_recipe_along(treated: Session) -> None:
    treated.do(set_recipe, 1, Recipe((WAX,)))
    treated.do(remove_treatment, 1)
    assert treated.record.recipes == {}
    treated.undo()
    assert treated.record.recipe_of(1) == Recipe((WAX,))
    treated.redo()
    assert (treated.record.treatments, treated.record.recipes) == ({}, {})


def test_after_exposure_has_begun_a_recipe_is_put_right_and_the_audit_says_when(treated: Session) -> None:
    treated.do(edit_board, replace(treated.record.board, started=NOW + timedelta(hours=1)))
    treated.do(set_recipe, 1, Recipe((WAX,)))
    assert told(treated) == "Write the recipe of hot wax: 1 step"
    treated.do(edit_board, replace(treated.record.board, started=NOW))
    treated.do(set_recipe, 1, Recipe((DRY,)))
    assert told(treated) == "Change the recipe of hot wax: 1 step (exposure had begun)"
    treated.do(edit_board, replace(treated.record.board, started=None))
    treated.do(add_coupon, Coupon("C1", treatment=1))
    treated.do(add_photo, Photo("a.jpg", "a.jpg", "0" * 64, 700, 300))
    treated.do(set_recipe, 1, Recipe())
    assert told(treated) == "Take away the recipe of hot wax (exposure had begun)"
    treated.undo()
    treated.undo()
    treated.do(add_inspection, Inspection(NOW))
    treated.do(set_recipe, 1, Recipe())
    assert told(treated) == "Take away the recipe of hot wax (exposure had begun)"
