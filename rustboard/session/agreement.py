"""How graders agree: grades gathered from revealed blind inspections, what the photo said, and the study of both.

Studying is a job: frozen request in, study out, nothing of the session touched. No Qt. What is hidden never enters.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, Literal, NamedTuple

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound
from rustboard.board.blind_result import BoardGrade, board_grade, grades_by_coupon
from rustboard.board.cells import identity
from rustboard.board.model import Grading
from rustboard.board.record import BoardRecord, reading_order
from rustboard.session.blind_rounds import rounds_by_blind, rounds_of
from rustboard.session.jobs import Progress
from rustboard.session.out_of_date import OutOfDate
from rustboard.session.photo_days import measured_at

if TYPE_CHECKING:
    from rustboard.findings.agreement.looks import Look
    from rustboard.findings.agreement.study import AgreementStudy, PhotoGrade
    from rustboard.findings.agreement.words import StudyWords

Kind = Literal["one", "blind", "open"]


class Scope(NamedTuple):
    """Whose grades are compared.

    Attributes:
        kind: ``one`` revealed blind inspection; all ``blind`` ones together; or grades by eye that were given
            ``open``, knowing which coupon it was: they are compared with the photo alone.
        inspection: key of the one inspection, else 0.
    """

    kind: Kind
    inspection: int = 0


ALL_BLIND: Final = Scope("blind")
OPEN: Final = Scope("open")


@dataclass(frozen=True, slots=True)
class AgreementRequest:
    """What is to be studied.

    Attributes:
        record: a snapshot of the board. scope: which of its grades.
        days: what the inspections are called, by key; their dates where it is left out.
    """

    record: BoardRecord
    scope: Scope
    days: Mapping[int, str] | None = None


class Given(NamedTuple):
    """What one grader gave a coupon: at his first look, and at his second where he was shown it twice."""

    grader: str
    grade: int
    again: int | None = None


@dataclass(frozen=True, slots=True)
class Differing:
    """A coupon at an inspection on which somebody differs.

    Attributes:
        coupon, inspection: keys.
        given: by grader, in the order of the rounds.
        photo: grade by the photo, or None where nothing that still fits was measured.
        width: the widest difference there is: between graders, of one with himself, or of one with the photo.
        among_graders: whether graders differ with one another or one with himself, and not only with the photo.
        by_rule: the board's grade by the rule of the blind inspection; None for grades given openly.
    """

    coupon: int
    inspection: int
    given: tuple[Given, ...]
    photo: int | None
    width: int
    among_graders: bool
    by_rule: BoardGrade | None


@dataclass(frozen=True, slots=True)
class StudiedAgreement:
    """What a study came to.

    Attributes:
        scope: whose grades. inspections: keys, by time. graders: in order of their names.
        looks: how many grades were compared.
        study, words: figures and sentences.
        differing: the widest differences first.
        pairs: the two graders' grades of each coupon, by their names: for tables of grade by grade.
    """

    scope: Scope
    inspections: tuple[int, ...]
    graders: tuple[str, ...]
    looks: int
    study: AgreementStudy
    words: StudyWords
    differing: tuple[Differing, ...]
    pairs: Mapping[tuple[str, str], tuple[tuple[int, int], ...]]


# ---- what there is to choose


def revealed(record: BoardRecord) -> list[BlindInspection]:
    """Return the blind inspections that were revealed, by the time of the inspection."""
    found = [
        each
        for each in record.blind_inspections.values()
        if each.revealed is not None and each.inspection in record.inspections
    ]
    return sorted(found, key=lambda each: (record.inspections[each.inspection].at, each.inspection))


def scopes(record: BoardRecord) -> list[Scope]:
    """Return what can be chosen: every revealed blind inspection, the newest first, then what takes in more."""
    blind = [Scope("one", each.inspection) for each in reversed(revealed(record))]
    several = [ALL_BLIND] if len(blind) > 1 else []
    return [*blind, *several, *([OPEN] if _has_open(record) else [])]


def graders_at(record: BoardRecord, inspection: int) -> list[str]:
    """Return who graded a revealed blind inspection, in the order of the rounds."""
    return [
        each.grader
        for blind in revealed(record)
        if blind.inspection == inspection
        for each in rounds_of(record, blind)
        if record.blind_grades.get(each.key)
    ]


def is_worth_comparing(record: BoardRecord, inspection: int) -> bool:
    """Return whether a revealed blind inspection has at least two graders, or coupons graded twice by one."""
    return any(
        _are_worth_comparing(record, rounds_of(record, blind))
        for blind in revealed(record)
        if blind.inspection == inspection
    )


def _are_worth_comparing(record: BoardRecord, rounds: Iterable[BlindRound]) -> bool:
    graded = [each for each in rounds if record.blind_grades.get(each.key)]
    return len(graded) > 1 or any(again for each in graded for _, again in _given_in(record, each))


def anything_to_compare(record: BoardRecord) -> bool:
    """Return whether any revealed blind inspection is worth comparing."""
    rounds = rounds_by_blind(record)
    return any(_are_worth_comparing(record, rounds.get(each.key, ())) for each in revealed(record))


def _has_open(record: BoardRecord) -> bool:
    return any(measured_at(record, coupon, inspection) for coupon, inspection in _open_subjects(record))


def _open_subjects(record: BoardRecord) -> Iterator[tuple[int, int]]:
    """Yield coupon and inspection of the grades given openly by eye where a photo was measured; nothing hidden."""
    hidden = record.hidden_inspection
    kept_back = None if hidden is None else hidden.inspection
    photographed = {record.photos[key].inspection for key in record.measured if key in record.photos}
    for coupon, graded in record.current.items():
        for inspection, grading in graded.items():
            if grading.source == "eye" and inspection in photographed and inspection != kept_back:
                yield coupon, inspection


# ---- the study


def study_grades(request: AgreementRequest, progress: Progress) -> StudiedAgreement:
    """Study how grades agree; a job."""
    from rustboard.findings.agreement.study import study_agreement
    from rustboard.findings.agreement.words import study_words

    record, scope = request.record, request.scope
    progress.step(0, 3)
    inspections = _inspections_of(record, scope)
    looks = _open_looks(record) if scope.kind == "open" else list(_looks(record, inspections))
    photos = _photo_grades(record, {(each.coupon, each.inspection) for each in looks})
    progress.step(1, 3)
    study = study_agreement(looks, photos)
    if scope.kind == "open":
        study = _photo_alone(study)
    names = {each.key: each.id for each in record.coupons.values()}
    days = request.days or {key: f"{record.inspections[key].at:%Y-%m-%d}" for key in inspections}
    words = study_words(study, names, days if len(inspections) > 1 else None)
    progress.step(2, 3)
    return StudiedAgreement(
        scope=scope,
        inspections=tuple(inspections),
        graders=tuple(sorted({each.grader for each in looks})),
        looks=len(looks),
        study=study,
        words=words,
        differing=tuple(_differing(record, scope, study, looks)),
        pairs=_pairs(study, looks),
    )


def _inspections_of(record: BoardRecord, scope: Scope) -> list[int]:
    if scope.kind == "open":
        seen = {inspection for _, inspection in _open_subjects(record)}
        return [each.key for each in record.inspections_in_order() if each.key in seen]
    there = [each.inspection for each in revealed(record)]
    return there if scope.kind == "blind" else [each for each in there if each == scope.inspection]


def _looks(record: BoardRecord, inspections: Iterable[int]) -> Iterator[Look]:
    """Yield the grades of revealed rounds; a coupon's second look counts as its first where that has no grade."""
    from rustboard.findings.agreement.looks import Look

    wanted = set(inspections)
    names, rounds = _spelled(record), rounds_by_blind(record)
    for blind in revealed(record):
        if blind.inspection not in wanted:
            continue
        for of_round in rounds.get(blind.key, ()):
            name = names[identity(of_round.grader)]
            for grade, again in _given_in(record, of_round):
                yield Look(name, grade.coupon, grade.grade, again, blind.inspection)


def _spelled(record: BoardRecord) -> dict[str, str]:
    """Return how a grader's name is written, by what makes it the same name: as he first wrote it."""
    names: dict[str, str] = {}
    for each in sorted(record.blind_rounds.values(), key=lambda each: each.key):
        names.setdefault(identity(each.grader), each.grader)
    return names


def _given_in(record: BoardRecord, of_round: BlindRound) -> Iterator[tuple[BlindGrade, bool]]:
    """Yield the grades of a round, and whether this grader had graded the coupon before."""
    seen: set[int] = set()
    given = record.blind_grades.get(of_round.key, {})
    for number in sorted(given):
        if number < len(of_round.showings):
            coupon = of_round.showings[number].coupon
            yield given[number], coupon in seen
            seen.add(coupon)


def _open_looks(record: BoardRecord) -> list[Look]:
    from rustboard.findings.agreement.looks import Look

    names: dict[str, str] = {}
    looks = []
    for coupon, inspection in _open_subjects(record):
        grading = record.current[coupon][inspection]
        written = grading.grader or "not named"
        looks.append(Look(names.setdefault(identity(written), written), coupon, grading.grade, inspection=inspection))
    return looks


def _photo_grades(record: BoardRecord, subjects: Iterable[tuple[int, int]]) -> dict[tuple[int, int], PhotoGrade]:
    """Return what the photo of each coupon's own inspection says, without figures that no longer fit."""
    from rustboard.findings.agreement.study import PhotoGrade

    if not record.measured:
        return {}
    dates = OutOfDate(record)
    found: dict[tuple[int, int], PhotoGrade] = {}
    for coupon, inspection in subjects:
        figure = measured_at(record, coupon, inspection)
        if figure is not None and figure.percent is not None and not dates.parts(figure):
            found[coupon, inspection] = PhotoGrade(figure.percent)
    return found


def _photo_alone(study: AgreementStudy) -> AgreementStudy:
    """Leave out what openly given grades cannot tell: there is one a coupon, and it was not given blind."""
    from rustboard.findings.agreement.study import AgreementStudy

    return AgreementStudy(repeats=(), pairs=(), together=None, apart=(), photo=study.photo)


def _pairs(study: AgreementStudy, looks: Sequence[Look]) -> dict[tuple[str, str], tuple[tuple[int, int], ...]]:
    from rustboard.findings.agreement.looks import grades_by_grader, paired

    first = grades_by_grader(looks, again=False)
    return {
        (each.a, each.b): tuple(paired(first[each.a], first[each.b]).values())
        for each in study.pairs
        if each.a in first and each.b in first
    }


# ---- the coupons on which somebody differs


def _differing(
    record: BoardRecord, scope: Scope, study: AgreementStudy, looks: Sequence[Look]
) -> Iterator[Differing]:
    widths, graders = _widths(study)
    shown = {} if study.photo is None else {each.subject: each.grades[-1][1] for each in study.photo.apart}
    same = _photo_grades(record, widths.keys() - shown.keys())
    rules = {} if scope.kind == "open" else _rules(record)
    given = _given_by_subject(looks)
    inspections = {each.key: number for number, each in enumerate(record.inspections_in_order())}
    there = [each for each in widths if each[0] in record.coupons]

    def order(subject: tuple[int, int]) -> tuple[object, ...]:
        coupon, inspection = subject
        alone = subject not in graders
        return (-widths[subject], alone, inspections[inspection], reading_order(record.coupons[coupon]))

    for subject in sorted(there, key=order):
        yield Differing(
            *subject,
            given=given[subject],
            photo=shown[subject] if subject in shown else _grade_of(same.get(subject)),
            width=widths[subject],
            among_graders=subject in graders,
            by_rule=rules.get(subject),
        )


def _widths(study: AgreementStudy) -> tuple[dict[tuple[int, int], int], set[tuple[int, int]]]:
    """Return the widest difference by coupon and inspection, and those on which graders themselves differ.

    A difference of one grade with the photo alone is left out: there are many, and rounding makes them.
    """
    widths: dict[tuple[int, int], int] = {each.subject: each.width for each in study.apart}
    for repeat in study.repeats:
        for subject, before, again in repeat.apart:
            widths[subject] = max(widths.get(subject, 0), abs(before - again))
    graders = set(widths)
    for each in study.photo.apart if study.photo is not None else ():
        if each.width > 1 or each.subject in graders:
            widths[each.subject] = max(widths.get(each.subject, 0), each.width)
    return widths, graders


def _grade_of(photo: PhotoGrade | None) -> int | None:
    from rustboard.scales.rust_grade import grade_from_percent

    return None if photo is None or photo.percent is None else grade_from_percent(photo.percent)


def _given_by_subject(looks: Sequence[Look]) -> dict[tuple[int, int], tuple[Given, ...]]:
    found: dict[tuple[int, int], dict[str, Given]] = {}
    for look in looks:
        its = found.setdefault((look.coupon, look.inspection), {})
        if look.again:
            its[look.grader] = its[look.grader]._replace(again=look.grade)
        else:
            its[look.grader] = Given(look.grader, look.grade)
    return {subject: tuple(its.values()) for subject, its in found.items()}


def _rules(record: BoardRecord) -> dict[tuple[int, int], BoardGrade]:
    """Return what the rule of the blind inspections makes of each coupon's grades."""
    rounds = rounds_by_blind(record)
    return {
        (coupon, blind.inspection): board_grade(grades)
        for blind in revealed(record)
        for coupon, grades in grades_by_coupon(rounds.get(blind.key, ()), record.blind_grades).items()
    }


def how_it_counts(rule: BoardGrade | None, counts: Grading | None) -> Literal["rule", "agreed", "other", "none"]:
    """Return how the grade that counts came about: by the rule, agreed on afterwards, otherwise, or there is none."""
    if counts is None:
        return "none"
    if counts.source == "agreed":
        return "agreed"
    by_rule = rule is not None and counts.source == "blind" and counts.grade == rule.grade
    return "rule" if by_rule else "other"
