"""What is sought over many boards: a treatment by its name, or all that have a finish, a protectant, a step..."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from rustboard.board.cells import identity
from rustboard.board.model import Treatment
from rustboard.board.recipe import RecipeStep
from rustboard.board.record import BoardRecord
from rustboard.findings.boards.matching import tested_treatments
from rustboard.support.text import one_line

Part = Literal["name", "finish", "protectant", "preparation", "family", "step"]
PARTS: Final[tuple[Part, ...]] = ("name", "protectant", "finish", "preparation", "family", "step")
"""Of a treatment: what it is called, a part of its recipe, or the product of one of its steps."""

Differing = Literal["preparation", "finish", "protectant", "coats", "steps"]
DIFFERING: Final[tuple[Differing, ...]] = ("preparation", "finish", "protectant", "coats", "steps")

_LONGEST: Final = 80
_NONE: Final = frozenset({"", "none"})


@dataclass(frozen=True, slots=True)
class Sought:
    """What is sought.

    Attributes:
        part: of the treatments. text: what it is to be; capitals and spaces make no difference.
    """

    part: Part
    text: str


def plain(text: str) -> str:
    """Return the form in which two texts count as the same; empty for none."""
    found = " ".join(identity(one_line(text, _LONGEST)).split())
    return "" if found in _NONE else found


def texts_of(record: BoardRecord, treatment: Treatment, part: Part) -> Iterator[str]:
    """Yield what a treatment has of a part: one text, or the product of each step."""
    if part == "step":
        for each in record.recipe_of(treatment.key).steps:
            if plain(each.product):
                yield one_line(each.product, _LONGEST)
        return
    text = treatment.title if part == "name" else str(getattr(treatment, part))
    if plain(text):
        yield one_line(text, _LONGEST)


def treated(record: BoardRecord, sought: Sought) -> list[Treatment]:
    """Return the tested treatments of a board that have what is sought, by id."""
    wanted = plain(sought.text)
    return [
        each
        for each in tested_treatments(record)
        if wanted and any(plain(text) == wanted for text in texts_of(record, each, sought.part))
    ]


def differing_parts(treatments: Sequence[tuple[BoardRecord, Treatment]]) -> list[Differing]:
    """Return in which parts of their recipes treatments differ, where they are said to be one."""
    return [each for each in DIFFERING if len({_part(record, one, each) for record, one in treatments}) > 1]


def _part(record: BoardRecord, treatment: Treatment, part: Differing) -> object:
    if part == "coats":
        return treatment.coats
    if part == "steps":
        return tuple(_step(each) for each in record.recipe_of(treatment.key).steps)
    return plain(str(getattr(treatment, part)))


def _step(step: RecipeStep) -> tuple[object, ...]:
    return (step.kind, plain(step.product), step.quantity, step.minutes, step.temperature_c)


def offers_of(records: Iterable[BoardRecord]) -> dict[tuple[Part, str], str]:
    """Return all that can be sought on boards: part and plain form, with the text as it was first written."""
    found: dict[tuple[Part, str], str] = {}
    for record in records:
        for treatment in tested_treatments(record):
            for part in PARTS:
                for text in texts_of(record, treatment, part):
                    found.setdefault((part, plain(text)), text)
    return found
