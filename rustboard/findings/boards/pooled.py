"""Several boards together: effect per board, pooled, how far boards disagree, and the exact test over all of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations
from typing import TYPE_CHECKING

from rustboard.board.question import Compared
from rustboard.findings.boards.across import AcrossTest, across_boards, step_down
from rustboard.findings.boards.cautions import cautions_of
from rustboard.findings.boards.effects import BoardModel, Seen, Sides, sides_on
from rustboard.findings.boards.matching import Common, Matching
from rustboard.findings.boards.random_effects import PooledEffect, pooled_effect, t_interval
from rustboard.findings.boards.results import BoardEffect, BoardsFindings, PooledComparison
from rustboard.findings.boards.words import verdict_of
from rustboard.findings.coupons.subject import Subject

if TYPE_CHECKING:
    from rustboard.findings.power import Progress


def pooled_findings(
    subjects: Sequence[Subject], matching: Matching, compared: Compared, progress: Progress | None = None
) -> BoardsFindings:
    """Return what several boards say together.

    Each board is a block of its own: a difference is first taken within each board, by least squares with rows as
    blocks where the lots were drawn so, and only differences are put together. What the boards had of weather,
    steel or grader thus falls out of them as far as it hit both sides alike. On the clock of the controls, mean
    grades are taken over the same loss of the controls instead of the same days, which also makes the sizes of the
    differences comparable between boards from different weather.

    A board on which a comparison has one coupon each counts in the exact test and for the order only.

    Args:
        subjects: the boards, all with one measure, one failing grade and one kind of clock.
        matching: their treatments, in the order of the boards.
        compared: ``control`` compares with the controls; anything else all pairs, the controls among them.
        progress: told how far the work is; may end it by raising.

    Raises:
        ValueError: the boards were asked different questions, or the matching is of other boards.
    """
    _check(subjects, matching)
    wanted = _comparisons(subjects, matching, compared)
    found = pooled_comparisons(subjects, wanted, matching.boards, progress)
    verdict = verdict_of(found, subjects, matching, compared)
    return BoardsFindings(matching.boards, found, verdict, cautions_of(found, subjects, matching))


def pooled_comparisons(
    subjects: Sequence[Subject],
    wanted: Sequence[Sequence[Sides]],
    boards: Sequence[str],
    progress: Progress | None = None,
) -> tuple[PooledComparison, ...]:
    """Return comparisons put together over boards, their exact tests stepped down over all of them.

    Args:
        subjects: the boards.
        wanted: of each comparison its sides on the boards that can make it.
        boards: names.
        progress: told how far the work is; may end it by raising.
    """
    models = [BoardModel(each) for each in subjects]
    pooled = []
    for number, sides in enumerate(wanted):
        if progress is not None:
            progress.step(number, len(wanted))
        seen = [models[each.board].seen(each) for each in sides]
        pooled.append(_together(sides, seen, boards, across_boards(sides, subjects)))
    family = step_down([each.p_exact for each in pooled])
    return tuple(replace(each, p_exact_family=p) for each, p in zip(pooled, family, strict=True))


def _check(subjects: Sequence[Subject], matching: Matching) -> None:
    asked = {(each.question.measure, each.question.failing_grade, each.request.clock.kind) for each in subjects}
    if len(asked) > 1:
        raise ValueError("all boards must be asked by one measure, failing grade and kind of clock")
    if len(matching.boards) != len(subjects):
        raise ValueError("the matching is of other boards")


def _comparisons(subjects: Sequence[Subject], matching: Matching, compared: Compared) -> list[list[Sides]]:
    """Return the comparisons that at least two boards can make, each with its sides on those boards."""
    shared = matching.shared()
    pairs: list[tuple[Common, Common]] = list(combinations(shared, 2))
    if compared == "control":
        pairs = [(a, b) for a, b in pairs if b.controls]
    found = []
    for a, b in pairs:
        sides = [sides_on(subject, a, b, number) for number, subject in enumerate(subjects)]
        there = [each for each in sides if each is not None]
        if len(there) > 1:
            found.append(there)
    return found


def _together(
    sides: Sequence[Sides], seen: Sequence[Seen], boards: Sequence[str], exact: AcrossTest
) -> PooledComparison:
    known = [each.effect for each in seen if each.effect is not None]
    pooled = pooled_effect(known)
    weights = iter(pooled.weights if pooled is not None else ())
    effects = tuple(_effect(each, boards[each.board], 0.0 if each.effect is None else next(weights, 0.0))
                    for each in seen)  # fmt: skip
    comparison = sides[0].comparison
    found = PooledComparison(
        comparison.a, comparison.b, effects, None, None, None, None, None, None, None,
        exact.p, exact.smallest, exact.sampled,
    )  # fmt: skip
    return found if pooled is None else _with_pooled(found, pooled)


def _with_pooled(found: PooledComparison, pooled: PooledEffect) -> PooledComparison:
    return replace(
        found, difference=pooled.difference, low=pooled.low, high=pooled.high, tau=pooled.tau, q=pooled.q,
        q_p=pooled.q_p, i_squared=pooled.i_squared,
    )  # fmt: skip


def _effect(seen: Seen, board: str, weight: float) -> BoardEffect:
    if seen.effect is None:
        return BoardEffect(board, seen.units_a, seen.units_b, seen.difference, None, None, None, 0.0)
    low, high = t_interval(seen.effect)
    return BoardEffect(
        board, seen.units_a, seen.units_b, seen.difference, low, high, seen.effect.standard_error, weight
    )
