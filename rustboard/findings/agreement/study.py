"""A study of grading: whether a grader gives the same grade again, graders agree, and the eye agrees with the photo.

Plain computation on a sequence of looks; `words` makes sentences of it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import combinations
from math import sqrt
from statistics import fmean, stdev
from typing import Final, NamedTuple

from rustboard.findings.agreement.intraclass import Intraclass, intraclass
from rustboard.findings.agreement.kappa import Agreement, agreement_of
from rustboard.findings.agreement.looks import (
    GradesOfGrader,
    Look,
    Subject,
    by_inspection,
    grades_by_grader,
    paired,
)
from rustboard.findings.agreement.offsets import Offset, offset_of
from rustboard.scales.rust_grade import grade_from_percent

PHOTO: Final = "photo"
"""Stands for the grader where the photo is compared with the eye."""


class PhotoGrade(NamedTuple):
    """What the photo of a coupon showed; give one or both, the grade goes before the percent."""

    percent: float | None = None
    grade: int | None = None


@dataclass(frozen=True, slots=True)
class Apart:
    """A subject whose grades differ.

    Attributes:
        subject: coupon and inspection.
        grades: by grader, in order of their names; `PHOTO` last where the photo is one of them.
        width: highest less lowest grade; with the photo, the most that a grader differs from it. At least 1.
    """

    subject: Subject
    grades: tuple[tuple[str, int], ...]
    width: int


@dataclass(frozen=True, slots=True)
class Repeat:
    """A grader's second looks against the first ones.

    Attributes:
        grader: who.
        agreement: of the first with the second looks.
        shift: mean of second less first: above 0 = milder the second time.
        sd: standard deviation of one look, in grades: that of the differences by the root of 2; None for one pair.
        reliability: intraclass correlations of the two looks; None for one coupon.
        apart: coupons graded differently, first grade and second, widest first.
    """

    grader: str
    agreement: Agreement
    shift: Offset
    sd: float | None
    reliability: Intraclass | None
    apart: tuple[tuple[Subject, int, int], ...]


@dataclass(frozen=True, slots=True)
class PairOfGraders:
    """Two graders on the subjects both graded, first looks only; ``b`` may be `PHOTO`.

    Attributes:
        a, b: who.
        agreement: of their grades.
        offset: mean of ``a`` less ``b``: above 0 = ``a`` is the milder.
    """

    a: str
    b: str
    agreement: Agreement
    offset: Offset


@dataclass(frozen=True, slots=True)
class GraderOffset:
    """A grader against the mean of the other graders of the common subjects; above 0 = milder than they."""

    grader: str
    offset: Offset


@dataclass(frozen=True, slots=True)
class AllGraders:
    """All graders on the subjects that all of them graded, first looks only.

    Attributes:
        graders: who takes part, in order of their names.
        too_few: graders left out because they graded fewer than half of the subjects that two or more graded; one
            who helped out once would otherwise leave almost no subject that all graded.
        subjects: how many all of them graded.
        left_out: how many other subjects two or more graders graded.
        reliability: intraclass correlations; None with fewer than two subjects. Look at ``reliability.absolute``.
        offsets: of each grader; empty with fewer than two graders or without a common subject.
        spread: mean grade of the mildest less that of the harshest; None where there are no offsets.
    """

    graders: tuple[str, ...]
    too_few: tuple[str, ...]
    subjects: int
    left_out: int
    reliability: Intraclass | None
    offsets: tuple[GraderOffset, ...]
    spread: float | None


@dataclass(frozen=True, slots=True)
class PhotoStudy:
    """The eye against the photo, first looks only.

    Attributes:
        graders: each grader against the photo (``b`` is `PHOTO`).
        apart: subjects where a grader differs from the photo, widest first.
    """

    graders: tuple[PairOfGraders, ...]
    apart: tuple[Apart, ...]


@dataclass(frozen=True, slots=True)
class AgreementStudy:
    """Everything about how grades agree.

    Attributes:
        repeats: of each grader who looked twice, by name.
        pairs: of graders with at least one common subject, by names.
        together: all graders; None with fewer than two.
        apart: subjects on which graders differ, widest first.
        photo: the eye against the photo; None where no photo was given for what was graded.
    """

    repeats: tuple[Repeat, ...]
    pairs: tuple[PairOfGraders, ...]
    together: AllGraders | None
    apart: tuple[Apart, ...]
    photo: PhotoStudy | None


def study_agreement(
    looks: Iterable[Look], photos: Mapping[tuple[int, int], PhotoGrade] | None = None
) -> AgreementStudy:
    """Return how the grades of looks agree.

    Args:
        looks: in any order. A second look whose first is missing is left out.
        photos: what the photo showed, by (coupon, inspection).

    Raises:
        ValueError: a grade is none of 0 to 10.
        InputError: a photo's percent lies outside 0-100.
    """
    looks = list(looks)
    first, second = grades_by_grader(looks, again=False), grades_by_grader(looks, again=True)
    repeats = ((grader, paired(first.get(grader, {}), grades)) for grader, grades in second.items())
    pairs = ((a, b, paired(first[a], first[b])) for a, b in combinations(first, 2))
    return AgreementStudy(
        repeats=tuple(_repeat(grader, grades) for grader, grades in repeats if grades),
        pairs=tuple(_pair(a, b, grades) for a, b, grades in pairs if grades),
        together=_together(first),
        apart=_apart(first),
        photo=_photo(first, photos or {}),
    )


def _repeat(grader: str, grades: Mapping[Subject, tuple[int, int]]) -> Repeat:
    differences = [again - before for before, again in grades.values()]
    apart = [(subject, *both) for subject, both in grades.items() if both[0] != both[1]]
    return Repeat(
        grader,
        agreement_of(grades.values()),
        offset_of(differences),
        stdev(differences) / sqrt(2) if len(differences) > 1 else None,
        intraclass(list(grades.values())),
        tuple(sorted(apart, key=lambda each: -abs(each[1] - each[2]))),
    )


def _pair(a: str, b: str, grades: Mapping[Subject, tuple[int, int]]) -> PairOfGraders:
    return PairOfGraders(a, b, agreement_of(grades.values()), offset_of([x - y for x, y in grades.values()]))


def _together(first: Mapping[str, GradesOfGrader]) -> AllGraders | None:
    if len(first) < 2:
        return None
    times = Counter(subject for grades in first.values() for subject in grades)
    shared = {subject for subject, count in times.items() if count > 1}
    taking_part = {
        grader: grades for grader, grades in first.items() if 2 * len(shared & grades.keys()) >= max(len(shared), 1)
    }
    common = shared.intersection(*(grades.keys() for grades in taking_part.values()))
    rows = [[grades[subject] for grades in taking_part.values()] for subject in sorted(common, key=by_inspection)]
    if len(taking_part) < 2:
        rows = []
    offsets, spread = _offsets(tuple(taking_part), rows)
    return AllGraders(
        graders=tuple(taking_part),
        too_few=tuple(grader for grader in first if grader not in taking_part),
        subjects=len(rows),
        left_out=len(shared) - len(rows),
        reliability=intraclass(rows) if rows else None,
        offsets=offsets,
        spread=spread,
    )


def _offsets(graders: tuple[str, ...], rows: list[list[int]]) -> tuple[tuple[GraderOffset, ...], float | None]:
    if not rows:
        return (), None
    others = len(graders) - 1
    found = tuple(
        GraderOffset(grader, offset_of([row[place] - (sum(row) - row[place]) / others for row in rows], others))
        for place, grader in enumerate(graders)
    )
    means = [fmean(column) for column in zip(*rows, strict=True)]
    return found, max(means) - min(means)


def _apart(first: Mapping[str, GradesOfGrader]) -> tuple[Apart, ...]:
    subjects = {subject for grades in first.values() for subject in grades}
    found = []
    for subject in sorted(subjects, key=by_inspection):
        given = tuple((grader, grades[subject]) for grader, grades in first.items() if subject in grades)
        width = max(grade for _, grade in given) - min(grade for _, grade in given)
        if width:
            found.append(Apart(subject, given, width))
    return tuple(sorted(found, key=lambda each: -each.width))


def _photo(first: Mapping[str, GradesOfGrader], photos: Mapping[tuple[int, int], PhotoGrade]) -> PhotoStudy | None:
    shown: GradesOfGrader = {}
    for (coupon, inspection), photo in photos.items():
        if photo.grade is not None:
            shown[Subject(coupon, inspection)] = photo.grade
        elif photo.percent is not None:
            shown[Subject(coupon, inspection)] = grade_from_percent(photo.percent)
    pairs = [(grader, paired(grades, shown)) for grader, grades in first.items()]
    if not any(grades for _, grades in pairs):
        return None
    apart = []
    for subject in sorted({each for _, grades in pairs for each in grades}, key=by_inspection):
        given = tuple((grader, grades[subject][0]) for grader, grades in pairs if subject in grades)
        width = max(abs(grade - shown[subject]) for _, grade in given)
        if width:
            apart.append(Apart(subject, (*given, (PHOTO, shown[subject])), width))
    return PhotoStudy(
        tuple(_pair(grader, PHOTO, grades) for grader, grades in pairs if grades),
        tuple(sorted(apart, key=lambda each: -each.width)),
    )
