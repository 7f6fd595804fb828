"""A step while it is being written: its numbers still as they were typed."""

from __future__ import annotations

from dataclasses import dataclass

from rustboard.board.cells import read_decimal
from rustboard.board.recipe import Per, RecipeStep, StepKind, Unit
from rustboard.support.problems import InputError
from rustboard.support.text import many_lines, one_line
from rustboard.ui.forms.numbers import shown_number


@dataclass(frozen=True, slots=True)
class StepDraft:
    """What is in the fields of one step, so that another step can be looked at meanwhile and nothing is lost.

    Attributes:
        quantity, price, content, minutes, temperature: as typed.
    """

    kind: StepKind = "degrease"
    product: str = ""
    batch: str = ""
    quantity: str = ""
    unit: Unit = "ml"
    per: Per = "coupon"
    price: str = ""
    content: str = ""
    content_unit: Unit = "ml"
    minutes: str = ""
    hands_on: bool = True
    temperature: str = ""
    who: str = ""
    note: str = ""

    @classmethod
    def of(cls, step: RecipeStep) -> StepDraft:
        """Return a step as its fields show it."""
        return cls(
            step.kind,
            step.product,
            step.batch,
            shown_number(step.quantity),
            step.unit,
            step.per,
            shown_number(step.container_price),
            shown_number(step.container_quantity),
            step.container_unit,
            shown_number(step.minutes),
            step.hands_on,
            shown_number(step.temperature_c),
            step.who,
            step.note,
        )

    def step(self) -> RecipeStep:
        """Return the step; a number that cannot be read is taken for not given."""
        return RecipeStep(
            kind=self.kind,
            product=one_line(self.product),
            batch=one_line(self.batch),
            quantity=_number(self.quantity),
            unit=self.unit,
            per=self.per,
            container_price=_number(self.price),
            container_quantity=_number(self.content),
            container_unit=self.content_unit,
            minutes=_number(self.minutes),
            hands_on=self.hands_on,
            temperature_c=_number(self.temperature),
            who=one_line(self.who),
            note=many_lines(self.note),
        )


def _number(text: str) -> float | None:
    text = one_line(text)
    if not text:
        return None
    try:
        return read_decimal(text)
    except InputError:
        return None
