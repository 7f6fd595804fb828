"""How sentences of the findings are written in a report: numbers and days as the user chose."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rustboard.findings.sentence import Part, Sentence
    from rustboard.report.choice import Writing

Say = Callable[["Sentence"], str]
"""Writes one sentence."""


def say_in(writing: Writing | None) -> Say:
    """Return what writes a sentence with the numbers of a report; None = plain, with a point and no groups."""
    return partial(_said, writing)


def all_said(say: Say, sentences: Iterable[Sentence]) -> tuple[str, ...]:
    """Return sentences as text."""
    return tuple(map(say, sentences))


def _said(writing: Writing | None, sentence: Sentence) -> str:
    return sentence.text() if writing is None else sentence.text(written=partial(_written, writing))


def _written(writing: Writing, part: Part) -> str:
    from rustboard.findings.amounts import Listing
    from rustboard.findings.sentence import plain_part

    if isinstance(part, Listing):
        return part.said(partial(_piece, writing))
    shown = plain_part(part)
    if not isinstance(part, float) or not shown.lstrip("-").replace(".", "", 1).isdigit():
        return shown  # a name, a count, or a number so small or large that it is written with a power of ten
    return writing.number(float(shown), len(shown.partition(".")[2]))


def _piece(writing: Writing, piece: str | float | date) -> str:
    return writing.day(piece) if isinstance(piece, date) else _written(writing, piece)
