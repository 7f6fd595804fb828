"""Whether the question was written down in time, and whether these findings ask the same."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rustboard.board.question import Compared, Question
from rustboard.board.question_time import written_after_start
from rustboard.findings.amounts import listed
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.results import Doubt
from rustboard.findings.doubts.wording import counted
from rustboard.findings.sentence import Sentence

_COMPARED: Final[dict[Compared, str]] = {
    "control": "each treatment against the controls",
    "pairs": "every pair of treatments",
    "families": "families",
    "grid": "finishes and protectants",
    "chosen": "chosen pairs",
}


def question_doubts(subject: Subject) -> list[Doubt]:
    """Return what speaks against the question."""
    return [*_written(subject), *_asked_otherwise(subject)]


def _written(subject: Subject) -> Iterator[Doubt]:
    record = subject.record
    question = record.question
    if question is None:
        yield Doubt(
            "question",
            "note",
            Sentence("No question was written down before the exposure; the usual one is asked."),
            Sentence("Whoever chooses a question after seeing the grades can always find one that is answered."),
        )
        return
    changes = sum(written_after_start(each, record) for each in record.questions.values())
    if not changes:
        return
    if len(record.questions) == changes == 1:
        sentence = Sentence("The question was written down after the exposure had begun.")
    else:
        sentence = counted(
            changes,
            "The question was written or changed once after the exposure had begun.",
            "The question was written or changed {0} times after the exposure had begun.",
        )
    late_now = written_after_start(question, record)
    yield Doubt(
        "question",
        "caution" if late_now else "note",
        sentence,
        Sentence("Whoever chooses a question after seeing the grades can always find one that is answered."),
    )


def _asked_otherwise(subject: Subject) -> Iterator[Doubt]:
    own, asked = subject.record.question, subject.question
    differences = [] if own is None else _differences(own, asked)
    if differences:
        yield Doubt(
            "question",
            "caution",
            Sentence("These findings ask otherwise than the board's own question: {0}.", (listed(differences),)),
            Sentence("What was not asked beforehand may stand out by luck; the board's own question has the say."),
        )


def _differences(own: Question, asked: Question) -> list[str]:
    found = []
    if asked.compared != own.compared:
        found.append(f"{_COMPARED[asked.compared]} instead of {_COMPARED[own.compared]}")
    elif asked.compared == "chosen" and set(map(frozenset, asked.pairs)) != set(map(frozenset, own.pairs)):
        found.append("other pairs")
    if asked.measure != own.measure:
        found.append(f"by {asked.measure} instead of {own.measure}")
    if asked.failing_grade != own.failing_grade:
        found.append(f"failing grade {asked.failing_grade} instead of {own.failing_grade}")
    return found
