"""Recipes in JSON: the keys ``steps``, ``library_id`` and ``recipe_version`` of a treatment."""

from __future__ import annotations

from dataclasses import fields as fields_of
from typing import Final

from rustboard.board.json_fields import Fields, stated
from rustboard.board.recipe import PERS, STEP_KINDS, UNITS, Recipe, RecipeStep

STEP_KEYS: Final = tuple(each.name for each in fields_of(RecipeStep))
_DEFAULTS: Final = {each.name: each.default for each in fields_of(RecipeStep) if each.name != "kind"}


def read_recipe(fields: Fields) -> Recipe:
    """Return the recipe that a treatment's object holds; a step of no known kind is left out."""
    steps = (read_step(each) for each in fields.objects(fields.items("steps"), "steps", STEP_KEYS))
    return Recipe(
        steps=tuple(step for step in steps if step is not None),
        library_id=fields.text("library_id"),
        version=fields.whole("recipe_version") or 0,
    )


def read_step(fields: Fields) -> RecipeStep | None:
    """Return one step, or None when its kind is none that there is."""
    kind = fields.word("kind", STEP_KINDS, None, "the step was left out")
    if kind is None:
        return None
    return RecipeStep(
        kind=kind,
        product=fields.text("product"),
        batch=fields.text("batch"),
        quantity=fields.number("quantity"),
        unit=fields.word("unit", UNITS, "ml"),
        per=fields.word("per", PERS, "coupon"),
        container_price=fields.number("container_price"),
        container_quantity=fields.number("container_quantity"),
        container_unit=fields.word("container_unit", UNITS, "ml"),
        minutes=fields.number("minutes"),
        hands_on=fields.flag("hands_on", True),
        temperature_c=fields.number("temperature_c"),
        who=fields.text("who"),
        note=fields.lines("note"),
    )


def recipe_object(recipe: Recipe) -> dict[str, object]:
    """Return what a recipe adds to its treatment's object."""
    return stated(
        steps=[step_object(each) for each in recipe.steps] or None,
        library_id=recipe.library_id,
        recipe_version=recipe.version or None,
    )


def step_object(step: RecipeStep) -> dict[str, object]:
    """Return a step as JSON has it: what differs from what a reader takes for granted."""
    values = {key: getattr(step, key) for key in STEP_KEYS}
    told = {key: value for key, value in values.items() if key == "kind" or value != _DEFAULTS[key]}
    if step.quantity is not None:
        told |= {"unit": step.unit, "per": step.per}  # a quantity without its unit would make a reader wonder
    if step.container_quantity is not None:
        told |= {"container_unit": step.container_unit}
    return {key: told[key] for key in STEP_KEYS if key in told}
