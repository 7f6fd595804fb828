"""What a command did, before it is printed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from rustboard.support.problems import Problem

DONE: Final = 0
SOMETHING_REFUSED: Final = 1
COULD_NOT: Final = 2

Tell = Callable[[str], None]
"""Takes one line about how far the work has come."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a command did.

    Attributes:
        text: for people.
        data: the same for scripts, as values that JSON has.
        problems: what was refused, or why nothing could be done; printed on standard error.
        failed: whether the command could not do its work at all.
        verbatim: whether ``text`` is a file format and must reach the reader unaltered.
        afterwards: what is left to do once everything is printed, such as running a window; returns an exit code.
    """

    text: str
    data: object
    problems: tuple[Problem, ...] = ()
    failed: bool = False
    verbatim: bool = False
    afterwards: Callable[[], int] | None = None

    @property
    def code(self) -> int:
        """The exit code: 0 done, 1 done with something refused, 2 could not."""
        if self.failed:
            return COULD_NOT
        return SOMETHING_REFUSED if self.problems else DONE


def refusal(problem: Problem) -> Outcome:
    """Return the outcome of a command that could not begin or had to give up."""
    return Outcome("", {"problems": problem_objects([problem])}, (problem,), failed=True)


def problem_objects(problems: Iterable[Problem]) -> list[dict[str, object]]:
    """Return problems as scripts get them; ``sentence`` is what people read, the rest its parts."""
    return [
        {
            "file": each.file,
            "row": each.row,
            "column": each.column,
            "what": each.what,
            "sentence": each.sentence(),
        }
        for each in problems
    ]
