"""The figures behind a study of grading as one list, for the window's table, the workbook and scripts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Literal, NamedTuple

if TYPE_CHECKING:
    from rustboard.findings.agreement.intraclass import Intraclass
    from rustboard.findings.agreement.kappa import Agreement
    from rustboard.findings.agreement.offsets import Offset
    from rustboard.findings.agreement.study import AgreementStudy, PairOfGraders

CompareKind = Literal["repeat", "graders", "together", "others", "photo"]


class Compared(NamedTuple):
    """The figures of one comparison.

    Attributes:
        kind: one grader's second look with his first (``repeat``), two ``graders``, all graders ``together``, one
            grader with the mean of the ``others``, or one with the ``photo``.
        a, b: graders' names; empty where the kind says it.
        coupons: how many grades, or coupons all graded, are compared.
        agreement, offset, reliability: None where this kind has no such figure, or it cannot be had.
        sd: of one look, in grades; of repeats only.
    """

    kind: CompareKind
    a: str
    b: str
    coupons: int
    agreement: Agreement | None = None
    offset: Offset | None = None
    reliability: Intraclass | None = None
    sd: float | None = None


def compared(study: AgreementStudy) -> list[Compared]:
    """Return all comparisons of a study: repeats, graders by twos, all together, each with the photo."""
    return [
        *(
            Compared(
                "repeat", each.grader, "", each.agreement.pairs, each.agreement, each.shift, each.reliability, each.sd
            )
            for each in study.repeats
        ),
        *(_pair("graders", each) for each in study.pairs),
        *_together(study),
        *(_pair("photo", each) for each in (study.photo.graders if study.photo is not None else ())),
    ]


def _pair(kind: CompareKind, pair: PairOfGraders) -> Compared:
    b = "" if kind == "photo" else pair.b
    return Compared(kind, pair.a, b, pair.agreement.pairs, pair.agreement, pair.offset)


def _together(study: AgreementStudy) -> Iterator[Compared]:
    together = study.together
    if together is None or not together.subjects:
        return
    yield Compared("together", "", "", together.subjects, reliability=together.reliability)
    if len(together.graders) > 2:
        for each in together.offsets:
            yield Compared("others", each.grader, "", each.offset.pairs, offset=each.offset)
