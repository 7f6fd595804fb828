"""The question of a board: written down before the exposure, and what was changed of it later."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from rustboard.board.cells import identity, quoted
from rustboard.board.plan_rules import RANGES
from rustboard.board.question import COMPARED, FAILING_GRADES, MEASURES, MOST_PAIRS, MOST_QUESTIONS, Question
from rustboard.operations.lookup import changed_names, exposure_has_begun
from rustboard.store.plan_tables import QUESTIONS
from rustboard.store.tables import TREATMENTS
from rustboard.store.transaction import Transaction
from rustboard.support.problems import InputError
from rustboard.support.summary import Summary
from rustboard.support.text import counted, many_lines, one_line

_FIELDS = ("compared", "pairs", "failing_grade", "measure", "worthwhile", "assumed_sd", "words")
_AMOUNTS = {"worthwhile": "The difference that matters is", "assumed_sd": "The assumed spread is"}


def set_question(tx: Transaction, question: Question) -> Summary:
    """Write the question down, or change it.

    Before the exposure has begun there is one question, and a change replaces it. After that what was written stays
    for the report, and a change is kept beside it as late. Once a question is late, so is every later one: a start
    put off does not make the exposure be still to come.

    Raises:
        InputError: a value that cannot be, or a pair with a treatment that the board does not have.
    """
    kept = tx.find(QUESTIONS)
    before = kept[-1] if kept else None
    clean = _checked(tx, question, before)
    names = changed_names(before or Question(), clean, _FIELDS)
    if before is not None and not names:
        return Summary("Change the question: {0}", ("",))
    late = exposure_has_begun(tx) or any(each.late for each in kept)
    if late and len(kept) >= MOST_QUESTIONS:
        raise InputError(f"The question has been changed {MOST_QUESTIONS} times, and no more changes can be kept.")
    key = before.key if before is not None and not late else 0
    tx.put(QUESTIONS, replace(clean, written=tx.now.replace(microsecond=0, tzinfo=None), late=late, key=key))
    if before is None:
        return Summary("Write the question down")
    if late:
        return Summary("Change the question after the exposure began: {0}", (names,))
    return Summary("Change the question: {0}", (names,))


def rename_in_questions(tx: Transaction, before: str, after: str) -> None:
    """Let the pairs of every question follow a treatment whose id has changed."""
    old = identity(before)
    for question in tx.find(QUESTIONS):
        pairs = tuple(
            (after if identity(a) == old else a, after if identity(b) == old else b) for a, b in question.pairs
        )
        if pairs != question.pairs:
            tx.put(QUESTIONS, replace(question, pairs=pairs))


def _checked(tx: Transaction, question: Question, before: Question | None) -> Question:
    if question.compared not in COMPARED:
        raise InputError(f"A question compares one of: {', '.join(COMPARED)}.")
    if question.measure not in MEASURES:
        raise InputError(f"Treatments are judged by one of: {', '.join(MEASURES)}.")
    if question.failing_grade not in FAILING_GRADES:
        raise InputError(f"The failing grade is a whole number from {FAILING_GRADES[0]} to {FAILING_GRADES[-1]}.")
    for name, words in _AMOUNTS.items():
        low, high, unit = RANGES[name]
        value = getattr(question, name)
        if value is not None and not low <= value <= high:  # not in range either: NaN
            raise InputError(f"{words} from {low:g} to {high:g}{unit}; mend the number.")
    pairs = _checked_pairs(tx, question.pairs, () if before is None else before.pairs)
    return replace(question, pairs=pairs, words=many_lines(question.words))


def _checked_pairs(
    tx: Transaction, pairs: Iterable[tuple[str, str]], before: Iterable[tuple[str, str]]
) -> tuple[tuple[str, str], ...]:
    """Return the pairs with ids as the board spells them, each once; those that were there already may stay."""
    spelled = {identity(each.id): each.id for each in tx.find(TREATMENTS)}
    old = {_alike(each) for each in before}
    found: dict[frozenset[str], tuple[str, str]] = {}
    for pair in pairs:
        alike = _alike(pair)
        for name in pair:
            if identity(name) not in spelled and alike not in old:
                raise InputError(f"The board has no treatment {quoted(name)}; choose another one for this pair.")
        if len(alike) < 2 and alike not in old:
            raise InputError("A treatment cannot be compared with itself; choose two different ones.")
        one, other = (spelled.get(identity(name)) or one_line(name) for name in pair)
        found.setdefault(alike, (one, other))
    if len(found) > MOST_PAIRS:
        raise InputError(f"A question has at most {counted(MOST_PAIRS, 'pair')}; compare all treatments instead.")
    return tuple(found.values())


def _alike(pair: tuple[str, str]) -> frozenset[str]:
    return frozenset(map(identity, pair))
