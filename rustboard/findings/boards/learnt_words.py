"""What was learnt about a treatment, in sentences that say no more than the numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rustboard.findings.amounts import begun, listed
from rustboard.findings.boards.results import PooledComparison
from rustboard.findings.boards.sought import Differing, Sought
from rustboard.findings.boards.words import comparison_sentence
from rustboard.findings.compare.results import Standing
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.sentence import Sentence
from rustboard.support.text import counted

_TOLD: Final[tuple[tuple[Standing, str], ...]] = (
    ("better", "did better on {0}"),
    ("worse", "did worse on {0}"),
    ("leans better", "looked better on {0} without the exact test confirming it"),
    ("leans worse", "looked worse on {0} without the exact test confirming it"),
    ("open", "could not be told apart on {0}"),
)
_PARTS: Final[dict[Differing, str]] = {
    "preparation": "preparation",
    "finish": "finish",
    "protectant": "protectant",
    "coats": "number of coats",
    "steps": "steps",
}


@dataclass(frozen=True, slots=True)
class Standings:
    """How a treatment stood to one other, or to the controls, over boards.

    Attributes:
        name: of the other. controls: whether it is the controls.
        counted: how often it stood how, once for each board and treatment.
    """

    name: str
    controls: bool
    counted: tuple[tuple[Standing, int], ...]


def nothing_learnt(sought: Sought) -> tuple[Sentence, ...]:
    """Return what is said where no board has what is sought."""
    return (Sentence("No board has {0} on a test coupon.", (sought.text,)),)


def learnt_sentences(
    sought: Sought,
    boards: Sequence[str],
    *,
    rows_count: int,
    coupons: int,
    failed: int,
    standings: Sequence[Standings],
    pooled: Sequence[PooledComparison],
    subjects: Sequence[Subject],
) -> tuple[Sentence, ...]:
    """Return the sentences: on how many boards, against the controls and rivals board by board, then pooled.

    Args:
        sought: what was asked.
        boards: names of the boards that have it.
        rows_count: in how many treatments on these boards it is.
        coupons: of it that were graded and count.
        failed: how many of those fell to the failing grade.
        standings: against the controls and each rival.
        pooled: where at least two boards can.
        subjects: the boards as they were pooled.
    """
    return tuple(
        begun(each)
        for each in (
            _where(sought, len(boards), rows_count, coupons),
            *_against(standings, single=rows_count == len(boards)),
            *_pooled(standings, pooled, subjects, len(boards)),
            *_failed(coupons, failed, subjects),
        )
    )


def _where(sought: Sought, boards: int, rows: int, coupons: int) -> Sentence:
    on = counted(boards, "board")
    if not coupons:
        return Sentence("{0} is on {1}, but none of its coupons that count was graded.", (sought.text, on))
    if rows > boards:
        text = "{0} was on {1}, in {2} treatments counted board by board, with {3} graded."
        return Sentence(text, (sought.text, on, rows, counted(coupons, "coupon")))
    return Sentence("{0} was on {1}, with {2} graded.", (sought.text, on, counted(coupons, "coupon")))


def _against(standings: Sequence[Standings], *, single: bool) -> Iterator[Sentence]:
    thing = "board" if single else "treatment"
    if not any(each.controls and each.counted for each in standings):
        yield Sentence("No board can compare it with controls.")
    for each in standings:
        if not each.counted:
            continue
        name = "the controls" if each.controls else each.name
        counts = dict(each.counted)
        total = sum(counts.values())
        parts = [text.format(counted(counts[standing], thing)) for standing, text in _TOLD if standing in counts]
        if not single:
            yield Sentence("Against {0}, treatment by treatment and board by board: it {1}.", (name, listed(parts)))
        elif total == 1:
            yield Sentence("Against {0}, on the one board that can compare them, it {1}.", (name, listed(parts)))
        else:
            yield Sentence("Against {0}, board by board: it {1}.", (name, listed(parts)))


def _pooled(
    standings: Sequence[Standings], pooled: Sequence[PooledComparison], subjects: Sequence[Subject], boards: int
) -> Iterator[Sentence]:
    if not pooled:
        if boards > 1 and standings:
            yield Sentence("No two boards can make the same comparison, so nothing is pooled.")
        elif boards == 1:
            yield Sentence("One board alone cannot be pooled: what it shows may be the board's own.")
        return
    for each in pooled:
        yield comparison_sentence(each, subjects)


def _failed(coupons: int, failed: int, subjects: Sequence[Subject]) -> Iterator[Sentence]:
    if not coupons:
        return
    grade = subjects[0].question.failing_grade
    if not failed:
        yield Sentence("None of its coupons fell to grade {0} or lower while it was watched.", (grade,))
    else:
        text = "{0} of its {1} fell to grade {2} or lower."
        yield Sentence(text, (failed, counted(coupons, "coupon"), grade))


def recipe_sentences(differing: Sequence[Differing]) -> tuple[Sentence, ...]:
    """Return in which parts the recipes differ that are taken for one here; nothing where they are the same."""
    if not differing:
        return ()
    return (
        Sentence(
            "The recipes are not the same everywhere; they differ in: {0}.",
            (listed(_PARTS[each] for each in differing),),
        ),
    )
