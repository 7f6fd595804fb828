"""From the blind grades of several graders to one grade of the board, by a stated rule."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from rustboard.board.blind import BlindGrade, BlindRound
from rustboard.board.grade import carries_letter

RULE = (
    "Every grader counts once, by his first look at the coupon. The board's grade is the middle one of the graders'; "
    "of two middle ones, the worse."
)


class BoardGrade(NamedTuple):
    """What the graders' grades of one coupon come to.

    Attributes:
        percent: where every grader stated one, that of the grade that counts; else None.
        graders: who graded, in the order of the rounds.
    """

    grade: int
    distribution: str
    percent: float | None
    graders: tuple[str, ...]


def first_looks(of_round: BlindRound, given: Mapping[int, BlindGrade]) -> dict[int, BlindGrade]:
    """Return what a grader gave each coupon at his first look (at his second where the first has no grade)."""
    found: dict[int, BlindGrade] = {}
    for number in sorted(given):
        found.setdefault(of_round.showings[number].coupon, given[number])
    return found


def grades_by_coupon(
    rounds: Iterable[BlindRound], given: Mapping[int, Mapping[int, BlindGrade]]
) -> dict[int, list[tuple[str, BlindGrade]]]:
    """Return by coupon what each grader gave at his first look, with his name, in the order of the rounds."""
    found: dict[int, list[tuple[str, BlindGrade]]] = {}
    for each in rounds:
        for coupon, grade in first_looks(each, given.get(each.key, {})).items():
            found.setdefault(coupon, []).append((each.grader, grade))
    return found


def board_grade(grades: Sequence[tuple[str, BlindGrade]]) -> BoardGrade:
    """Return the board's grade by `RULE`; at least one grader's grade is needed.

    The letter is the one that most graders of that grade gave; of as many, the first in the alphabet.
    """
    best_first = sorted((each for _, each in grades), key=lambda each: (-each.grade, _amount(each)))
    middle = best_first[len(best_first) // 2]
    letters = Counter(each.distribution for each in best_first if each.grade == middle.grade and each.distribution)
    letter = min(letters, key=lambda each: (-letters[each], each), default="")
    stated = all(each.percent is not None for each in best_first)
    return BoardGrade(
        middle.grade,
        letter if carries_letter(middle.grade) else "",
        middle.percent if stated else None,
        tuple(name for name, _ in grades),
    )


def _amount(each: BlindGrade) -> float:
    return 0.0 if each.percent is None else each.percent
