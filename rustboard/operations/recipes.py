"""Recipes of treatments: steps written down, put right, and their cost taken over."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from rustboard.board.model import Treatment
from rustboard.board.plan_rules import RANGES
from rustboard.board.recipe import LARGEST_VERSION, MOST_STEPS, Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.recipe_cost import RecipeCost, recipe_cost
from rustboard.operations.lookup import changed_names, exposure_has_begun, shown, the_treatment
from rustboard.operations.treatments import add_treatments, check_treatment_number
from rustboard.store.plan_tables import RECIPES
from rustboard.store.tables import TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, many_lines, one_line, some_of

STEP_AMOUNTS: Final = {
    "quantity": "The quantity is",
    "container_price": "The price of a full container is",
    "container_quantity": "What a full container holds is",
    "minutes": "The minutes of a step are",
    "temperature_c": "The temperature is",
}
_MOST_NAMED: Final = 5
_TAKEN: Final = {
    "cost": "Take {1} of {0} from its recipe; its cost stays as it was, as not all steps give one",
    "minutes": "Take {1} of {0} from its recipe; its minutes stay as they were, as not all steps give them",
}
"""What was taken, by what was not."""


def set_recipe(tx: Transaction, treatment_key: int, recipe: Recipe) -> Summary:
    """Write down the recipe of a treatment, in place of the one it had; an empty one takes it away.

    Steps changed here are no longer those of the library's version they were taken from: unless ``recipe`` names
    another version, it then names none.

    Raises:
        InputError: there is no such treatment, too many steps, or a number that cannot be.
    """
    treatment = the_treatment(tx, treatment_key)
    before = next(iter(tx.find(RECIPES, treatment=treatment_key)), None)
    clean = _checked_recipe(recipe)
    if before is not None and before.recipe.steps != clean.steps and _origin(before.recipe) == _origin(clean):
        clean = replace(clean, version=0)
    if clean == Recipe():
        if before is None:
            return Summary("No recipe for {0}", (treatment.title,))
        tx.drop(RECIPES, before.key)
        return Summary(_worded(tx, "Take away the recipe of {0}"), (treatment.title,))
    tx.put(RECIPES, TreatmentRecipe(treatment_key, clean, 0 if before is None else before.key))
    pattern = "Write the recipe of {0}: {1}" if before is None else "Change the recipe of {0}: {1}"
    return Summary(_worded(tx, pattern), (treatment.title, _counted(clean)))


def set_recipe_and_cost(
    tx: Transaction, treatment_key: int, recipe: Recipe, coupon_area_mm2: float | None
) -> Summary:
    """Do `set_recipe`, then `use_recipe_cost`, in one step.

    Raises:
        InputError: as either; then nothing is changed.
    """
    summary = set_recipe(tx, treatment_key, recipe)
    use_recipe_cost(tx, treatment_key, coupon_area_mm2)
    return summary


def use_recipe_cost(tx: Transaction, treatment_key: int, coupon_area_mm2: float | None) -> Summary:
    """Take cost and minutes per m² of a treatment from its recipe, each where all its steps give it.

    Half of a cost would pass for the whole one: what not all steps give stays as it was, and the summary says so.

    Args:
        tx: the transaction.
        treatment_key: the treatment.
        coupon_area_mm2: area of a coupon's outline, or None when it is not known.

    Raises:
        InputError: neither is given by all steps, which are named; or what comes out cannot be.
    """
    before = the_treatment(tx, treatment_key)
    found = tx.find(RECIPES, treatment=treatment_key)
    cost = recipe_cost(found[0].recipe if found else Recipe(), coupon_area_mm2)
    after, missing = before, []
    if cost.whole_per_m2 is not None:
        after = replace(after, cost_per_m2=_rounded(cost.whole_per_m2))
    else:
        missing.append("cost")
    if cost.whole_minutes_per_m2 is not None:
        after = replace(after, minutes_per_m2=_rounded(cost.whole_minutes_per_m2))
    else:
        missing.append("minutes")
    if len(missing) == 2:
        raise InputError(_nothing_whole(cost))
    for name in ("cost_per_m2", "minutes_per_m2"):
        check_treatment_number(name, getattr(after, name))
    tx.put(TREATMENTS, after)
    names = changed_names(before, after, ("cost_per_m2", "minutes_per_m2"))
    parts = before.title, names or "nothing new"
    return Summary(_TAKEN[missing[0]] if missing else "Take {1} of {0} from its recipe", parts)


def _nothing_whole(cost: RecipeCost) -> str:
    faults = [
        f"no {what} of {_named(steps)}"
        for what, steps in (("cost", cost.unpriced), ("minutes", cost.untimed_work))
        if steps
    ]
    return (
        f"The steps do not give the whole cost or the whole work of a square metre{': ' * bool(faults)}"
        f"{'; '.join(faults)}. Give amounts, prices and minutes, 0 where a step takes none, and the size of the "
        "coupons."
    )


def _named(steps: tuple[str, ...]) -> str:
    return some_of([shown(each) for each in steps], _MOST_NAMED)


def add_treatment_with_recipe(tx: Transaction, treatment: Treatment, recipe: Recipe) -> Summary:
    """Do `add_treatment`, then `set_recipe`, in one step.

    Raises:
        InputError: as either; then nothing is added.
    """
    (added,) = add_treatments(tx, [treatment])
    set_recipe(tx, added.key, recipe)
    return Summary("Add treatment {0} with its recipe", (added.title,))


def checked_steps(steps: tuple[RecipeStep, ...]) -> tuple[RecipeStep, ...]:
    """Return steps with safe texts.

    Raises:
        InputError: too many steps, or a number that cannot be; the sentence names the step.
    """
    if len(steps) > MOST_STEPS:
        raise InputError(f"A recipe holds at most {MOST_STEPS} steps; these are {len(steps):,}.")
    return tuple(_checked_step(number, each) for number, each in enumerate(steps, start=1))


def check_step_number(name: str, value: float | None) -> None:
    """Refuse an amount (by its name in `RecipeStep`) that cannot be.

    Raises:
        InputError: out of its range.
    """
    low, high, unit = RANGES[name]
    if value is not None and not low <= value <= high:  # not in range either: NaN
        raise InputError(
            f"{STEP_AMOUNTS[name]} from {low:,.0f} to {high:,.0f}{unit}; mend the number or leave it empty."
        )


def _checked_step(number: int, step: RecipeStep) -> RecipeStep:
    try:
        for name in STEP_AMOUNTS:
            check_step_number(name, getattr(step, name))
    except InputError as error:
        raise InputError(f"Step {number}: {error.problem.what}") from None
    return replace(
        step,
        product=one_line(step.product),
        batch=one_line(step.batch),
        who=one_line(step.who),
        note=many_lines(step.note),
    )


def _checked_recipe(recipe: Recipe) -> Recipe:
    steps = checked_steps(recipe.steps)
    library_id = one_line(recipe.library_id)
    if not library_id:
        return Recipe(steps)
    return Recipe(steps, library_id, min(max(recipe.version, 0), LARGEST_VERSION))


def _origin(recipe: Recipe) -> tuple[str, int]:
    return recipe.library_id, recipe.version


def _counted(recipe: Recipe) -> str:
    steps = counted(len(recipe.steps), "step")
    return f"{steps}, version {recipe.version} of the library" if recipe.version else steps


def _rounded(value: float) -> float:
    """Return a worked-out amount to two decimals, a small one to four digits: more would claim too much."""
    return round(value, 2) if value >= 10 else float(f"{value:.4g}")


def _worded(tx: Transaction, pattern: str) -> str:
    return f"{pattern} (exposure had begun)" if exposure_has_begun(tx) else pattern
