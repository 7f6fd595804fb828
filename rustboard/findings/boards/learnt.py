"""What all boards together say of one treatment: how it stood on each, and pooled where that can be."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from rustboard.board.comparisons import CONTROL, Comparison, Kind, Level
from rustboard.board.model import Treatment
from rustboard.board.question import Compared, Question
from rustboard.board.record import BoardRecord
from rustboard.findings.boards.cautions import cautions_of
from rustboard.findings.boards.effects import Sides, coupons_of
from rustboard.findings.boards.learnt_words import Standings, learnt_sentences, nothing_learnt, recipe_sentences
from rustboard.findings.boards.matching import Common, Matching, match_of, suggest
from rustboard.findings.boards.pooled import pooled_comparisons
from rustboard.findings.boards.results import PooledComparison
from rustboard.findings.boards.shared_exposure import cut_to, reached, shared_place
from rustboard.findings.boards.sought import Sought, differing_parts, treated
from rustboard.findings.compare.comparing import compare
from rustboard.findings.compare.results import Comparing, Standing
from rustboard.findings.conclude.whole import with_exact_tests
from rustboard.findings.coupons.subject import FindingsRequest, Subject, subject_of
from rustboard.findings.sentence import Sentence
from rustboard.findings.survival.curves import survival_findings

if TYPE_CHECKING:
    from rustboard.findings.power import Progress

MOST_RIVALS: Final = 3
_FLIPPED: Final[dict[Standing, Standing]] = {
    "better": "worse",
    "worse": "better",
    "leans better": "leans worse",
    "leans worse": "leans better",
    "open": "open",
}


@dataclass(frozen=True, slots=True)
class OnBoard:
    """One treatment that has what is sought, on one board.

    Attributes:
        board: number of the board among those that have it. treatment: what people call it there.
        coupons: that were graded and count. mean: of their last grades. letters: of the ranking on that board; empty
            where nothing can be said.
        failed: how many have fallen to the failing grade. days_to_failure: median, in days; None = not reached.
        against: how it stands to the controls and to each rival, by their names; what it was not compared with on
            that board is missing.
    """

    board: int
    treatment: str
    coupons: int
    mean: float | None
    letters: str
    failed: int
    days_to_failure: float | None
    against: dict[str, Standing]


@dataclass(frozen=True, slots=True)
class Learnt:
    """What was learnt.

    Attributes:
        sought: what was asked. boards: names of those that have it. rows: by board.
        rivals: names of the most frequent other treatments on those boards.
        pooled: against the controls and the rivals, where at least two boards can.
        sentences: what may be said; never stronger than the numbers. cautions: what to know before.
        shared: the day to which the boards were cut for pooling; None = they were not.
    """

    sought: Sought
    boards: tuple[str, ...]
    rows: tuple[OnBoard, ...]
    rivals: tuple[str, ...]
    pooled: tuple[PooledComparison, ...]
    sentences: tuple[Sentence, ...]
    cautions: tuple[Sentence, ...]
    shared: float | None = None


def learnt_of(requests: Sequence[FindingsRequest], sought: Sought, progress: Progress | None = None) -> Learnt:
    """Return what boards together say of a treatment; boards that do not have it change nothing.

    On each board the treatment is judged over the whole exposure, by the same steps as the findings of that board:
    against the controls with all its other treatments counted, and against its rivals with these comparisons counted.
    For pooling, boards that were watched for different lengths are cut to what all of them reached.

    Args:
        requests: the boards, all on one kind of clock and by one measure in grades.
        sought: what is asked.
        progress: told how far the work is; may end it by raising.

    Raises:
        InputError: so many boards have it that they cannot be put together.
    """
    there = [each for each in requests if treated(each.record, sought)]
    if not there:
        return Learnt(sought, (), (), (), (), nothing_learnt(sought), ())
    records = [each.record for each in there]
    matching = suggest(records)
    own = [treated(each, sought) for each in records]
    ours = _ours(sought, records, own)
    rivals = _rivals(matching, own)
    rows: list[OnBoard] = []
    for number, request in enumerate(there):
        if progress is not None:
            progress.step(number, len(there) + 1)
        rows += _on_board(number, request, own[number], rivals)
    subjects, shared = _cut(there)
    controls = [each for each in matching.common if each.controls]
    named = Matching(matching.boards, (ours, *rivals, *controls))
    sides = [_sides(subjects, ours, own, each) for each in (*controls, *rivals)]
    pooled = pooled_comparisons(subjects, [each for each in sides if len(each) > 1], matching.boards)
    standings = [Standings(each.name, each.controls, tuple(_told(rows, each.name))) for each in (*controls, *rivals)]
    words = (
        *learnt_sentences(sought, matching.boards, rows_count=len(rows), coupons=sum(each.coupons for each in rows),
                          failed=sum(each.failed for each in rows), standings=standings, pooled=pooled,
                          subjects=subjects),
        *recipe_sentences(differing_parts([(r, one) for r, mine in zip(records, own, strict=True) for one in mine])),
    )  # fmt: skip
    cautions = cautions_of(pooled, subjects, named) if pooled else ()
    names = tuple(each.name for each in rivals)
    return Learnt(sought, matching.boards, tuple(rows), names, pooled, words, cautions, shared)


def _ours(sought: Sought, records: Sequence[BoardRecord], own: Sequence[Sequence[Treatment]]) -> Common:
    """Return what is sought as one row over all boards, as sure as the least sure match of two of its treatments."""
    alike = [(record, each) for record, mine in zip(records, own, strict=True) for each in mine]
    matches = [match_of(*alike[0], *each) for each in alike[1:]]
    doubtful = next((each for each in matches if each.sure != "certain"), None)
    ids = tuple(mine[0].id for mine in own)
    if doubtful is None:
        return Common(sought.text, ids, "certain", Sentence("The same recipe on each board."))
    return Common(sought.text, ids, "likely", doubtful.why)


def _rivals(matching: Matching, own: Sequence[Sequence[Treatment]]) -> list[Common]:
    """Return what stands on most of the boards beside what is sought."""
    mine = [{each.id for each in treatments} for treatments in own]
    others = [
        each
        for each in matching.common
        if not each.controls and not any(id_ and id_ in mine[at] for at, id_ in enumerate(each.treatments))
    ]
    return sorted(others, key=lambda each: -each.boards)[:MOST_RIVALS]


def _on_board(
    number: int, request: FindingsRequest, mine: Sequence[Treatment], rivals: Sequence[Common]
) -> list[OnBoard]:
    control = _judged(request, "control", ())
    pairs = tuple(
        (each.id, other.treatments[number]) for each in mine for other in rivals if other.treatments[number]
    )
    chosen = _judged(request, "chosen", pairs) if pairs else None
    subject = subject_of(request)
    survival = survival_findings(subject)
    medians = {} if survival is None else {each.group: each.median.value for each in survival.curves}
    results = {each.group.id: each for each in subject.group_results if each.group.role == "test"}
    found = []
    for treatment in mine:
        result = results.get(treatment.id)
        if result is None:
            continue
        against = _standings(control, treatment.id, {CONTROL: CONTROL})
        if chosen is not None:
            names = {each.treatments[number]: each.name for each in rivals if each.treatments[number]}
            against |= _standings(chosen, treatment.id, names)
        letters = control.letters.get(treatment.id, "")
        count = len(result.counted)
        days = medians.get(treatment.id)
        found.append(OnBoard(number, result.group.name, count, result.mean, letters, result.failed, days, against))
    return found


def _judged(request: FindingsRequest, compared: Compared, pairs: tuple[tuple[str, str], ...]) -> Comparing:
    question: Question = replace(request.question, compared=compared, pairs=pairs)
    subject = subject_of(replace(request, question=question))
    return with_exact_tests(subject, compare(subject))


def _standings(comparing: Comparing, treatment: str, others: dict[str, str]) -> dict[str, Standing]:
    found: dict[str, Standing] = {}
    for each in comparing.compared:
        if each.id_a == treatment and each.id_b in others:
            found[others[each.id_b]] = each.standing
        elif each.id_b == treatment and each.id_a in others:
            found[others[each.id_a]] = _FLIPPED[each.standing]
    return found


def _told(rows: Sequence[OnBoard], name: str) -> list[tuple[Standing, int]]:
    counted = Counter(each.against[name] for each in rows if name in each.against)
    return sorted(counted.items())


def _cut(requests: Sequence[FindingsRequest]) -> tuple[list[Subject], float | None]:
    shared = shared_place(requests)
    furthest = max(map(reached, requests), default=0.0)
    if 0 < shared < furthest:
        return [subject_of(cut_to(each, shared)) for each in requests], shared
    return [subject_of(each) for each in requests], None


def _sides(
    subjects: Sequence[Subject], ours: Common, own: Sequence[Sequence[Treatment]], other: Common
) -> list[Sides]:
    found = []
    for number, subject in enumerate(subjects):
        of_b = coupons_of(subject, other, number)
        of_a = frozenset[int]().union(
            *(coupons_of(subject, _as(ours, number, each.id), number) for each in own[number])
        )
        if of_a and of_b:
            kind: Kind = "control" if other.controls else "pair"
            comparison = Comparison(kind, ours.name, other.name, of_a, of_b, (Level("", of_a, of_b),))
            found.append(Sides(number, comparison))
    return found


def _as(ours: Common, number: int, own: str) -> Common:
    return replace(ours, treatments=tuple(own if at == number else "" for at in range(len(ours.treatments))))
