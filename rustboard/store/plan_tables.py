"""How recipes, questions, layouts, lots and calendars become rows and come back."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from typing import Any, Final

from rustboard.board.inspection_days import LONGEST_DAYS, MOST_DAYS, InspectionDays
from rustboard.board.layout import DRAIN_CARES, LARGEST_SEED, METHODS, MOST_FREE_ROWS, Layout, Lot
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS
from rustboard.board.question import COMPARED, FAILING_GRADES, MEASURES, MOST_PAIRS, Question
from rustboard.board.recipe import (
    LARGEST_VERSION,
    MOST_STEPS,
    PERS,
    STEP_KINDS,
    UNITS,
    Recipe,
    RecipeStep,
    TreatmentRecipe,
)
from rustboard.store import values
from rustboard.store.table import Row, Table, key_of, names, real


def _recipe_to_row(each: TreatmentRecipe) -> Row:
    recipe = each.recipe
    return (each.treatment, recipe.library_id, recipe.version, json.dumps(list(map(step_to_list, recipe.steps))))


def _recipe_from_row(row: Row) -> TreatmentRecipe:
    steps = tuple(map(step_from_list, values.items(row[4], MOST_STEPS)))
    recipe = Recipe(steps, values.line(row[2]), values.whole(row[3], 0, LARGEST_VERSION))
    return TreatmentRecipe(values.key(row[1]), recipe, values.key(row[0]))


def step_to_list(step: RecipeStep) -> list[Any]:
    """Return a step as it is kept in JSON: its values in the order of its fields."""
    return [
        step.kind,
        step.product,
        step.batch,
        real(step.quantity),
        step.unit,
        step.per,
        real(step.container_price),
        real(step.container_quantity),
        step.container_unit,
        real(step.minutes),
        int(step.hands_on),
        real(step.temperature_c),
        step.who,
        step.note,
    ]


def step_from_list(kept: Any) -> RecipeStep:
    """Return the step that `step_to_list` kept.

    Raises:
        ValueError: no version of this program keeps a step so; also TypeError.
    """
    (kind, product, batch, quantity, unit, per, price, full, full_unit, minutes, hands_on, heat, who, note) = kept
    return RecipeStep(
        kind=values.one_of(kind, STEP_KINDS),
        product=values.line(product),
        batch=values.line(batch),
        quantity=values.amount_or_none("quantity", quantity),
        unit=values.one_of(unit, UNITS),
        per=values.one_of(per, PERS),
        container_price=values.amount_or_none("container_price", price),
        container_quantity=values.amount_or_none("container_quantity", full),
        container_unit=values.one_of(full_unit, UNITS),
        minutes=values.amount_or_none("minutes", minutes),
        hands_on=values.flag(hands_on),
        temperature_c=values.amount_or_none("temperature_c", heat),
        who=values.line(who),
        note=values.note(note),
    )


def _question_to_row(each: Question) -> Row:
    return (
        each.compared,
        json.dumps([list(pair) for pair in each.pairs]),
        each.failing_grade,
        each.measure,
        float(each.worthwhile),
        real(each.assumed_sd),
        each.words,
        values.moment_text(each.written),
        int(each.late),
    )


def _question_from_row(row: Row) -> Question:
    key, compared, pairs, failing, measure, worthwhile, assumed, words, written, late = row
    return Question(
        compared=values.one_of(compared, COMPARED),
        pairs=tuple(map(_pair, values.items(pairs, MOST_PAIRS))),
        failing_grade=values.whole(failing, FAILING_GRADES[0], FAILING_GRADES[-1]),
        measure=values.one_of(measure, MEASURES),
        worthwhile=values.amount("worthwhile", worthwhile),
        assumed_sd=values.amount_or_none("assumed_sd", assumed),
        words=values.note(words),
        written=values.moment_or_none(written),
        late=values.flag(late),
        key=values.key(key),
    )


def _pair(kept: Any) -> tuple[str, str]:
    if not isinstance(kept, list):  # a text of two letters would come apart into two ids
        raise ValueError("a pair of treatments is damaged")
    one, other = kept
    return values.needed(one), values.needed(other)


def _layout_to_row(each: Layout) -> Row:
    return (
        each.method,
        each.drain,
        each.free_rows,
        int(each.fair_edges),
        each.seed,
        values.moment_text(each.drawn_at),
        float(each.coupon_width_mm),
        float(each.coupon_height_mm),
        float(each.hole_below_top_mm),
        each.drawn_rows,
        each.drawn_columns,
        int(each.drawn_in_columns),
    )


def _layout_from_row(row: Row) -> Layout:
    key, method, drain, free_rows, fair_edges, seed, drawn_at, width, height, hole, *drawn = row
    drawn_rows, drawn_columns, drawn_in_columns = drawn
    return Layout(
        method=values.one_of(method, METHODS),
        drain=values.one_of(drain, DRAIN_CARES),
        free_rows=values.whole(free_rows, 1, MOST_FREE_ROWS),
        fair_edges=values.flag(fair_edges),
        seed=None if seed is None else values.whole(seed, 0, LARGEST_SEED),
        drawn_at=values.moment_or_none(drawn_at),
        coupon_width_mm=values.amount("coupon_width_mm", width),
        coupon_height_mm=values.amount("coupon_height_mm", height),
        hole_below_top_mm=values.amount("hole_below_top_mm", hole),
        drawn_rows=values.whole(drawn_rows, 0, MOST_ROWS),
        drawn_columns=values.whole(drawn_columns, 0, MOST_COLUMNS),
        drawn_in_columns=values.flag(drawn_in_columns),
        key=values.whole(key, 1, 1),
    )


def _lot_from_row(row: Row) -> Lot:
    key, coupon, row_number, column_number = row
    return Lot(values.key(coupon), values.position(row_number, column_number), values.key(key))


_UID: Final = re.compile(r"[0-9a-f]{24}")


def _calendar_to_row(each: InspectionDays) -> Row:
    return (json.dumps(list(each.days)), each.hour.isoformat("minutes"), int(each.remind), each.uid)


def _calendar_from_row(row: Row) -> InspectionDays:
    key, days, hour, remind, uid = row
    numbers = tuple(values.whole(each, 0, LONGEST_DAYS) for each in values.items(days, MOST_DAYS))
    if any(one >= next_one for one, next_one in pairwise(numbers)):
        raise ValueError("the days of a calendar do not rise")
    if not isinstance(uid, str) or not _UID.fullmatch(uid):
        raise ValueError("the id of a calendar is damaged")
    return InspectionDays(numbers, values.hour(hour), values.flag(remind), values.whole(key, 1, 1), uid)


RECIPES: Final[Table[TreatmentRecipe]] = Table(
    "recipe", names("treatment library_id version steps"), _recipe_to_row, _recipe_from_row, key_of
)
QUESTIONS: Final[Table[Question]] = Table(
    "question",
    names("compared pairs failing_grade measure worthwhile assumed_sd words written late"),
    _question_to_row,
    _question_from_row,
    key_of,
)
LAYOUTS: Final[Table[Layout]] = Table(
    "layout",
    names(
        "method drain free_rows fair_edges seed drawn_at coupon_width_mm coupon_height_mm hole_below_top_mm "
        "drawn_rows drawn_columns drawn_in_columns"
    ),
    _layout_to_row,
    _layout_from_row,
    key_of,
)
LOTS: Final[Table[Lot]] = Table(
    "lot",
    names("coupon row_number column_number"),
    lambda each: (each.coupon, each.position.row, each.position.column),
    _lot_from_row,
    key_of,
)
CALENDARS: Final[Table[InspectionDays]] = Table(
    "calendar", names("days hour remind uid"), _calendar_to_row, _calendar_from_row, key_of
)

PLAN_TABLES: Final[tuple[Table[Any], ...]] = (RECIPES, QUESTIONS, LAYOUTS, LOTS, CALENDARS)
