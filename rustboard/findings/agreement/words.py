"""How grades agree, in sentences a maker understands: counts first, then what is left after chance.

What a figure of agreement is called is a convention, not a finding: the words here follow Landis & Koch 1977, whose
limits are a habit of the trade of statistics. Others ask for more (0.75 for a gauge by attributes). So the figure
always stands beside the word.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Final, NamedTuple

from rustboard.findings.agreement.intraclass import Intraclass
from rustboard.findings.agreement.kappa import Agreement
from rustboard.findings.agreement.looks import Subject
from rustboard.findings.agreement.offsets import Offset
from rustboard.findings.agreement.study import AgreementStudy, AllGraders, Apart, PairOfGraders, PhotoStudy, Repeat
from rustboard.findings.sentence import Part, Sentence, of_grades

FEW: Final = 10
"""Below so many pairs of grades a caution is said (common practice, no source)."""

MOST_NAMED: Final = 8
"""So many coupons to look at again are named of each kind."""

_FORGIVEN: Final = 0.05
"""What taking off constant offsets must gain to be worth a sentence (a choice of our own)."""


class StudyWords(NamedTuple):
    """What a study says, by heading.

    Attributes:
        repeats: whether each grader gives the same grade again.
        graders: how graders agree, and who is milder or harsher.
        coupons: how much of the differences between coupons survives the error of grading.
        photo: the eye against the photo.
        look_again: coupons to look at again, widest differences first.
        cautions: what the figures lean on.
    """

    repeats: tuple[Sentence, ...]
    graders: tuple[Sentence, ...]
    coupons: tuple[Sentence, ...]
    photo: tuple[Sentence, ...]
    look_again: tuple[Sentence, ...]
    cautions: tuple[Sentence, ...]

    def all(self) -> tuple[Sentence, ...]:
        """Return all sentences in order."""
        return tuple(sentence for part in self for sentence in part)


def study_words(
    study: AgreementStudy, coupons: Mapping[int, str], inspections: Mapping[int, str] | None = None
) -> StudyWords:
    """Return a study in sentences.

    Args:
        study: to be told.
        coupons: what the coupons are called, by key; one that is missing is called by its key.
        inspections: what the inspections are called, by key. Leave it out where there is but one: sentences then do
            not name it.
    """
    names = _Names(coupons, inspections)
    return StudyWords(
        repeats=tuple(_flat(_repeat_words(each) for each in study.repeats)),
        graders=tuple(_grader_words(study)),
        coupons=tuple(_coupon_words(study)),
        photo=tuple(_photo_words(study.photo)),
        look_again=tuple(_look_again(study, names)),
        cautions=tuple(_cautions(study, several_inspections=len(inspections or ()) > 1)),
    )


class _Names:
    def __init__(self, coupons: Mapping[int, str], inspections: Mapping[int, str] | None) -> None:
        self._coupons, self._inspections = coupons, inspections

    def sentence(self, subject: Subject, start: str, end: str, *parts: Part) -> Sentence:
        """Return ``start``, what is meant, ``end``; ``{0}`` and ``{1}`` are taken by the names."""
        coupon = self._coupons.get(subject.coupon, str(subject.coupon))
        if self._inspections is None:
            return Sentence(f"{start}{{0}}{end}", (coupon, "", *parts))
        inspection = self._inspections.get(subject.inspection, str(subject.inspection))
        return Sentence(f"{start}{{0}} ({{1}}){end}", (coupon, inspection, *parts))


def agreement_word(value: float) -> str:
    """Return what a chance-corrected agreement is often called (Landis & Koch 1977, their words made plainer).

    Theirs: to 0.20 slight, to 0.40 fair, to 0.60 moderate, to 0.80 substantial, above almost perfect.
    """
    for limit, word in ((0.2, "slight"), (0.4, "fair"), (0.6, "moderate"), (0.8, "substantial")):
        if round(value, 2) <= limit:
            return word
    return "close"


def _flat(several: Iterable[Iterable[Sentence]]) -> Iterator[Sentence]:
    for sentences in several:
        yield from sentences


def _repeat_words(repeat: Repeat) -> Iterator[Sentence]:
    found, grader = repeat.agreement, repeat.grader
    if found.pairs == 1:
        same = "gave it the same grade again" if found.exact else "gave it another grade"
        yield Sentence(f"{{0}} looked twice at 1 coupon only, and {same}.", (grader,))
        return
    yield Sentence(
        "{0} looked twice at {1} coupons without knowing it: the same grade again on {2}, at most one grade apart "
        "on {3}.",
        (grader, found.pairs, found.exact, found.within_one),
    )
    yield from _beyond_chance(found)
    if repeat.sd and round(repeat.sd, 1):
        yield of_grades(
            round(repeat.sd, 1),
            "One look of {1} is off by about 1 grade (standard deviation).",
            "One look of {1} is off by about {0} grades (standard deviation).",
            grader,
        )
    if not repeat.shift.could_be_chance:
        how = "milder" if repeat.shift.mean > 0 else "harsher"
        yield of_grades(
            round(abs(repeat.shift.mean), 1),
            f"{{1}} graded 1 grade {how} the second time; that is more than chance makes.",
            f"{{1}} graded {{0}} grades {how} the second time; that is more than chance makes.",
            grader,
        )


def _beyond_chance(found: Agreement) -> Iterator[Sentence]:
    """Yield what is left of an agreement after chance, and what that is: nobody knows a kappa by its name.

    Limits and the word stand only with `FEW` pairs or more: the standard error is one for many.
    """
    kappa = found.quadratic
    if kappa is None:
        yield Sentence(
            "All these grades are one and the same, so agreement cannot be told from chance. Take coupons that "
            "differ."
        )
        return
    start, scale = "Agreement beyond chance: {0}", "(0 is chance alone, 1 full agreement)"
    value, word = round(kappa.value, 2), agreement_word(kappa.value)
    end = f" {scale}, often called {word}." if kappa.value > 0 else f" {scale}, no better than chance."
    if found.pairs < FEW:
        yield Sentence(f"{start} {scale}; so few coupons do not make that sure.", (value,))
    elif kappa.interval is None:
        yield Sentence(f"{start}{end}", (value,))
    else:
        limits = (round(kappa.interval.low, 2), round(kappa.interval.high, 2))
        yield Sentence(f"{start}, with 95 % confidence {{1}} to {{2}}{end}", (value, *limits))


def _grader_words(study: AgreementStudy) -> Iterator[Sentence]:
    for pair in study.pairs:
        yield from _pair_words(pair)
    together = study.together
    if together is not None and len(together.graders) > 2 and together.offsets:
        for each in together.offsets:
            yield from _offset_words(each.offset, each.grader, "the others")
        if together.spread is not None:
            yield of_grades(
                round(together.spread, 1),
                "Between the mildest and the harshest lies 1 grade on average.",
                "Between the mildest and the harshest lie {0} grades on average.",
            )
        return
    for pair in study.pairs:
        yield from _offset_words(pair.offset, pair.a, pair.b)


def _pair_words(pair: PairOfGraders) -> Iterator[Sentence]:
    found = pair.agreement
    if found.pairs == 1:
        same = "gave it the same grade" if found.exact else "gave it different grades"
        yield Sentence(f"{{0}} and {{1}} both graded 1 coupon only, and {same}.", (pair.a, pair.b))
        return
    yield Sentence(
        "{0} and {1} both graded {2} coupons: the same grade on {3}, at most one grade apart on {4}.",
        (pair.a, pair.b, found.pairs, found.exact, found.within_one),
    )
    yield from _beyond_chance(found)


def _offset_words(offset: Offset, a: str, b: str) -> Iterator[Sentence]:
    """Yield who is milder; ``b`` may be "the others" or "the photo", which are words, not names."""
    if offset.interval is None:
        return
    other = b if b in ("the others", "the photo") else "{2}"
    amount = round(abs(offset.mean), 1)
    if not amount:
        yield Sentence(f"{{1}} grades neither milder nor harsher than {other}.", (0, a, b))
        return
    how = "milder" if offset.mean > 0 else "harsher"
    start = f"{{1}} grades {how} than {other} by "
    if offset.could_be_chance:
        end = " on average; that could be chance."
        yield of_grades(amount, f"{start}1 grade{end}", f"{start}{{0}} grades{end}", a, b)
        return
    low, high = sorted(map(abs, offset.interval))
    decimals = 1 if low >= 0.05 else 2  # a limit of 0 would speak of chance
    limits = (round(low, decimals), round(high, decimals))
    end = " on average (with 95 % confidence {3} to {4}); that is more than chance makes."
    yield of_grades(amount, f"{start}1 grade{end}", f"{start}{{0}} grades{end}", a, b, *limits)


def _coupon_words(study: AgreementStudy) -> Iterator[Sentence]:
    together = study.together
    if together is not None and together.reliability is not None:
        yield from _shared_out(together.reliability, "the graders’ grades", "")
        yield from _mean_words(together.reliability)
        return
    for repeat in study.repeats:
        if repeat.reliability is not None:
            yield from _shared_out(repeat.reliability, "{3}’s first and second grades", repeat.grader)


def _shared_out(found: Intraclass, whose: str, grader: str) -> Iterator[Sentence]:
    parts = (found.coupons, 0, 0, grader)
    if found.absolute is None:
        yield Sentence(
            f"All {whose} of {{0}} coupons are equal, so nothing shows how well they tell coupons apart.", parts
        )
        return
    if found.absolute <= 0:
        yield Sentence(
            f"Among {whose} of {{0}} coupons, those of one coupon differ as much as those of different coupons: they "
            "do not tell the coupons apart.",
            parts,
        )
        return
    start = f"Of the differences among {whose} of {{0}} coupons, about {{1}} % "
    rest = "come from the coupons; the rest is the error of grading"
    percent = _percent(found.absolute)
    if found.interval is None:
        yield Sentence(f"{start}{rest}.", (found.coupons, percent, 0, grader))
    else:
        limits = (_percent(found.interval.low), _percent(found.interval.high))
        yield Sentence(
            f"{start}{rest} (with 95 % confidence {{2}} to {{4}} % from the coupons).",
            (found.coupons, percent, limits[0], grader, limits[1]),
        )
    if found.consistent is not None and found.consistent - found.absolute >= _FORGIVEN:
        yield Sentence(
            f"With the constant offsets between {whose} taken off, it would be about {{1}} %.",
            (found.coupons, _percent(found.consistent), 0, grader),
        )


def _mean_words(found: Intraclass) -> Iterator[Sentence]:
    if found.absolute is not None and found.absolute > 0 and found.absolute_mean is not None:
        whose = "both graders" if found.graders == 2 else "all {1} graders"
        yield Sentence(
            f"For the mean grade of {whose} it is about {{0}} %.", (_percent(found.absolute_mean), found.graders)
        )


def _percent(share: float) -> int:
    return round(100 * min(max(share, 0.0), 1.0))


def _photo_words(photo: PhotoStudy | None) -> Iterator[Sentence]:
    for pair in photo.graders if photo is not None else ():
        found = pair.agreement
        if found.pairs == 1:
            same = "the same grade" if found.exact else "another grade"
            yield Sentence(f"On 1 coupon only {{0}} can be compared with the photo, and gave {same}.", (pair.a,))
            continue
        yield Sentence(
            "{0} and the photo can be compared on {1} coupons: the same grade on {2}, at most one grade apart on "
            "{3}.",
            (pair.a, found.pairs, found.exact, found.within_one),
        )
        yield from _beyond_chance(found)
        yield from _offset_words(pair.offset, pair.a, "the photo")


def _look_again(study: AgreementStudy, names: _Names) -> Iterator[Sentence]:
    wide = [each for each in study.apart if each.width > 1]
    for each in wide[:MOST_NAMED]:
        yield names.sentence(each.subject, "Look again at ", ": {2}.", _listed(each))
    twice = [
        (repeat.grader, *each) for repeat in study.repeats for each in repeat.apart if abs(each[1] - each[2]) > 1
    ]
    twice.sort(key=lambda each: -abs(each[2] - each[3]))
    for grader, subject, before, again in twice[:MOST_NAMED]:
        end = ": {2} gave it {3}, then {4}."
        yield names.sentence(subject, "Look again at ", end, grader, before, again)
    named = {each.subject for each in wide}
    from_photo = [each for each in study.photo.apart if each.width > 1] if study.photo is not None else []
    new = [each for each in from_photo if each.subject not in named]
    for each in new[:MOST_NAMED]:
        end = ": {2}, the photo {3}."
        yield names.sentence(each.subject, "Look again at ", end, _listed(each, leave=1), each.grades[-1][1])
    more = sum(max(len(each) - MOST_NAMED, 0) for each in (wide, twice, new))
    if more:
        yield Sentence(
            "There is 1 more difference of more than one grade."
            if more == 1
            else "There are {0} more differences of more than one grade.",
            (more,),
        )
    compared = bool(study.pairs or study.repeats or study.photo)
    if compared and not (wide or twice or from_photo):
        yield Sentence("No coupon was graded more than one grade apart.")


def _listed(apart: Apart, leave: int = 0) -> str:
    return ", ".join(f"{grader} {grade}" for grader, grade in apart.grades[: len(apart.grades) - leave])


def _cautions(study: AgreementStudy, *, several_inspections: bool) -> Iterator[Sentence]:
    found = [each.agreement for each in study.repeats] + [each.agreement for each in study.pairs]
    if study.photo is not None:
        found += [each.agreement for each in study.photo.graders]
    few = [each.pairs for each in found if each.pairs < FEW]
    if few:
        yield Sentence(
            "Some comparisons rest on fewer than {0} coupons (the fewest on {1}): a few more can change them much.",
            (FEW, min(few)),
        )
    if any(each.quadratic is not None and each.pairs > 1 for each in found):
        yield Sentence(
            "In figures from 0 to 1 a difference counts by its square: two grades apart are four times as bad as one "
            "(weighted kappa). They grow with the variety of the coupons: compare them only on like boards."
        )
    if found and several_inspections:
        yield Sentence("A coupon counts once for each inspection at which it was compared.")
    if study.together is not None:
        yield from _left_out(study.together)


def _left_out(together: AllGraders) -> Iterator[Sentence]:
    for grader in together.too_few:
        yield Sentence(
            "{0} graded fewer than half of the coupons that others share, and is left out where all are compared.",
            (grader,),
        )
    if together.left_out and together.subjects:
        yield Sentence(
            "1 coupon that not all graders graded is left out where all are compared."
            if together.left_out == 1
            else "{0} coupons that not all graders graded are left out where all are compared.",
            (together.left_out,),
        )
