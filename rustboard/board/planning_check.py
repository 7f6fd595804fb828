"""What of a plan's recipes, questions, layout and calendar can be used; the rest is left out and named."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, Final, TypeVar

from rustboard.board.cells import identity, quoted
from rustboard.board.inspection_days import LONGEST_DAYS, MOST_DAYS, InspectionDays
from rustboard.board.layout import LARGEST_SEED, MOST_FREE_ROWS, Layout
from rustboard.board.model import Treatment
from rustboard.board.plan_rules import Place, note_fault, sound_moment, with_sound_amounts
from rustboard.board.position import MOST_COLUMNS, MOST_ROWS
from rustboard.board.problem_list import ProblemList
from rustboard.board.question import DEFAULT_FAILING_GRADE, FAILING_GRADES, MOST_PAIRS, MOST_QUESTIONS, Question
from rustboard.board.recipe import LARGEST_VERSION, MOST_STEPS, Recipe

_STEP_AMOUNTS: Final = ("quantity", "container_price", "container_quantity", "minutes", "temperature_c")
_LAYOUT_AMOUNTS: Final = ("coupon_width_mm", "coupon_height_mm", "hole_below_top_mm")

_Item = TypeVar("_Item")


class PlanningJudge:
    """Judges what a plan says beside its coupons."""

    def __init__(self, treatments: Iterable[Treatment], problems: ProblemList) -> None:
        """Start with the treatments that the plan can use."""
        self._treatments = {identity(each.id): each.id for each in treatments}
        self._problems = problems

    def recipes(
        self, recipes: Sequence[tuple[str, Recipe]], places: Sequence[Place]
    ) -> tuple[tuple[str, Recipe], ...]:
        """Return the recipes of known treatments, one each; those that say nothing are left out without a word."""
        kept: dict[str, Recipe] = {}
        for (treatment, recipe), place in zip(recipes, places, strict=True):
            known = self._treatments.get(identity(treatment))
            if known is None:
                self._note(place, f"The plan has no treatment {quoted(treatment)}; its recipe was left out.")
            elif known in kept:
                self._note(place, f"Treatment {quoted(known)} has two recipes; the first was kept.")
            else:
                settled = self._recipe(recipe, place)
                if settled != Recipe():
                    kept[known] = settled
        return tuple(kept.items())

    def questions(self, questions: Sequence[Question], places: Sequence[Place]) -> tuple[Question, ...]:
        """Return the questions as they can be used, the newest where there are too many."""
        placed = list(zip(questions, places, strict=True))
        if len(placed) > MOST_QUESTIONS:
            self._problems.add(
                f"A board keeps at most {MOST_QUESTIONS} changes of its question; the oldest were left out.",
                column="questions",
            )
        return tuple(self._question(each, place) for each, place in placed[-MOST_QUESTIONS:])

    def layout(self, layout: Layout) -> Layout:
        """Return the rules of the layout as they can be used."""
        place, usual = Place(path="layout"), Layout()
        settled = with_sound_amounts(layout, _LAYOUT_AMOUNTS, usual, place, self._problems)
        return replace(
            settled,
            key=0,
            free_rows=self._whole(layout.free_rows, (1, MOST_FREE_ROWS), usual.free_rows, place, "free_rows"),
            seed=None if layout.seed is None else self._whole(layout.seed, (0, LARGEST_SEED), None, place, "seed"),
            drawn_at=sound_moment(layout.drawn_at, place, "drawn_at", self._problems),
            drawn_rows=self._whole(layout.drawn_rows, (0, MOST_ROWS), 0, place, "drawn_rows"),
            drawn_columns=self._whole(layout.drawn_columns, (0, MOST_COLUMNS), 0, place, "drawn_columns"),
        )

    def calendar(self, calendar: InspectionDays) -> InspectionDays:
        """Return the calendar with the days that can be, in order and each once."""
        fitting = set()
        for day in calendar.days:
            if 0 <= day <= LONGEST_DAYS:
                fitting.add(day)
            else:
                self._problems.add(
                    f"{day} is not between 0 and {LONGEST_DAYS} days; the day was left out.", column="calendar.days"
                )
        days = self._bounded(sorted(fitting), MOST_DAYS, "days", Place(path="calendar"), "days")
        hour = calendar.hour.replace(second=0, microsecond=0, tzinfo=None)
        return replace(calendar, days=days, hour=hour, key=0)

    def _recipe(self, recipe: Recipe, place: Place) -> Recipe:
        steps = self._bounded(recipe.steps, MOST_STEPS, "steps", place, "steps")
        return replace(
            recipe,
            steps=tuple(
                with_sound_amounts(
                    each, _STEP_AMOUNTS, None, Place(path=place.column(f"steps[{number}]")), self._problems
                )
                for number, each in enumerate(steps)
            ),
            version=self._whole(recipe.version, (0, LARGEST_VERSION), 0, place, "recipe_version"),
        )

    def _question(self, question: Question, place: Place) -> Question:
        usual = Question()
        pairs = self._bounded(question.pairs, MOST_PAIRS, "pairs", place, "pairs")
        failing = (FAILING_GRADES[0], FAILING_GRADES[-1])
        settled = with_sound_amounts(question, ("worthwhile", "assumed_sd"), usual, place, self._problems)
        return replace(
            settled,
            key=0,
            pairs=tuple(pair for each in pairs if (pair := self._pair(each, place)) is not None),
            failing_grade=self._whole(question.failing_grade, failing, DEFAULT_FAILING_GRADE, place, "failing_grade"),
            written=sound_moment(question.written, place, "written", self._problems),
        )

    def _pair(self, pair: tuple[str, str], place: Place) -> tuple[str, str] | None:
        one, other = (self._treatments.get(identity(each)) for each in pair)
        if one is not None and other is not None:
            return one, other
        missing = pair[0] if one is None else pair[1]
        self._note(place, f"The plan has no treatment {quoted(missing)}; the pair was left out.", "pairs")
        return None

    def _whole(self, value: int, limits: tuple[int, int], otherwise: Any, place: Place, key: str) -> Any:
        low, high = limits
        if low <= value <= high:
            return value
        self._note(place, f"{value} is not between {low} and {high}; the value was left out.", key)
        return otherwise

    def _bounded(self, items: Sequence[_Item], most: int, things: str, place: Place, key: str) -> tuple[_Item, ...]:
        if len(items) > most:
            self._note(place, f"There are {len(items)} {things}; the first {most} were kept.", key)
        return tuple(items[:most])

    def _note(self, place: Place, what: str, key: str = "") -> None:
        note_fault(self._problems, place, what, key)
