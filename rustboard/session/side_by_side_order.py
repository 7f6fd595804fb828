"""The order that comes out of choices between two, what it is worth, and what the workbook says of it. No Qt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rustboard.board.record import BoardRecord
from rustboard.findings.sentence import Sentence
from rustboard.session.jobs import Progress
from rustboard.session.side_by_side import as_choices, choices_at

if TYPE_CHECKING:
    from rustboard.findings.side_by_side.choices import Choice
    from rustboard.findings.side_by_side.order import AgainstGrades, Contradictions, Misplaced
    from rustboard.findings.side_by_side.strengths import Strengths
    from rustboard.report.side_by_side_sheet import ComparedCoupon

_VERDICTS: Final = (
    (0.8, "The order by eye and the grades agree closely."),
    (0.5, "The order by eye and the grades agree in the main."),
    (0.2, "The order by eye and the grades agree only loosely."),
    (-2.0, "The order by eye and the grades do not agree."),
)
"""From this rank correlation on; common practice, no source."""


@dataclass(frozen=True, slots=True)
class OrderRequest:
    """What an order is worked out from.

    Attributes:
        inspection: key.
        coupons: keys of those that were compared. choices: of all graders. grades: of the inspection, by coupon.
    """

    inspection: int
    coupons: tuple[int, ...]
    choices: tuple[Choice, ...]
    grades: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Order:
    """An order with what it is worth.

    Attributes:
        request: what it was worked out from.
        strengths: least rusted first.
        groups: coupons that cannot be told apart, least rusted first; a coupon may be in several.
        contradictions: choices that no order meets.
        graded: against the grades, or None where fewer than two coupons are graded.
    """

    request: OrderRequest
    strengths: Strengths
    groups: tuple[tuple[int, ...], ...]
    contradictions: Contradictions
    graded: AgainstGrades | None


def order_request(record: BoardRecord, inspection: int) -> OrderRequest | None:
    """Return what the order at an inspection is worked out from; None where nothing was compared."""
    given = [
        each
        for each in choices_at(record, inspection)
        if each.left in record.coupons and each.right in record.coupons and each.left != each.right
    ]
    if not given:
        return None
    coupons = tuple(sorted({key for each in given for key in (each.left, each.right)}))
    found = {key: record.grading(key, inspection) for key in coupons}
    grades = {key: each.grade for key, each in found.items() if each is not None}
    return OrderRequest(inspection, coupons, as_choices(given), grades)


def order_of(request: OrderRequest, progress: Progress | None = None) -> Order:
    """Work an order out; a job."""
    from rustboard.findings.side_by_side.order import against_grades, contradictions, inseparable
    from rustboard.findings.side_by_side.strengths import fit_strengths

    if progress is not None:
        progress.step(0, 1)
    strengths = fit_strengths(request.coupons, request.choices)
    graded = against_grades(strengths, request.grades) if len(request.grades) > 1 else None
    return Order(request, strengths, inseparable(strengths), contradictions(strengths, request.choices), graded)


def order_sentences(record: BoardRecord, order: Order) -> tuple[Sentence, ...]:
    """Return what an order says, the check against the grades first: that is what most want to know."""
    from rustboard.findings.side_by_side.words import order_words

    names = {key: each.id for key, each in record.coupons.items()}
    alone = order_words(order.strengths, order.contradictions, names)
    checked = order_words(order.strengths, order.contradictions, names, order.graded)[len(alone) :]
    return (*_verdict(order), *checked, *alone)


def _verdict(order: Order) -> tuple[Sentence, ...]:
    if order.graded is None:
        return (
            Sentence(
                "Fewer than two of these coupons are graded at this inspection, so the order checks no grades yet."
            ),
        )
    tau = order.graded.tau
    if tau is None:
        return ()
    return (Sentence(next(words for least, words in _VERDICTS if tau >= least)),)


def alike(order: Order) -> dict[int, tuple[int, ...]]:
    """Return, for each coupon that is in a group, all others from which it cannot be told apart, in order."""
    found: dict[int, set[int]] = {}
    for group in order.groups:
        for key in group:
            found.setdefault(key, set()).update(group)
    places = {each.item: place for place, each in enumerate(order.strengths.order)}
    return {key: tuple(sorted(others - {key}, key=places.__getitem__)) for key, others in found.items()}


def look_again(order: Order) -> dict[int, Misplaced]:
    """Return the coupons to look at again, by key, because order and grade disagree."""
    return {} if order.graded is None else {each.item: each for each in order.graded.misplaced}


def reason(misplaced: Misplaced) -> Sentence:
    """Return why a coupon is to be looked at again."""
    how = "more rusted" if misplaced.off_by > 0 else "less rusted"
    steps = "1 place" if abs(misplaced.off_by) == 1 else "{0} places"
    return Sentence(f"chosen as {how} than its grade says, by {steps}", (abs(misplaced.off_by),))


def compared_coupons(record: BoardRecord) -> tuple[ComparedCoupon, ...]:
    """Return every coupon in the order of every inspection that was compared, for the workbook.

    An inspection that is being graded blind is left out: its order would tell.
    """
    from rustboard.report.side_by_side_sheet import ComparedCoupon

    rows = []
    hidden = record.hidden_inspection
    wanted = {each.inspection for each in record.pair_choices.values()}
    wanted -= set() if hidden is None else {hidden.inspection}
    for inspection in record.inspections_in_order():
        request = order_request(record, inspection.key) if inspection.key in wanted else None
        if request is None:
            continue
        order = order_of(request)
        groups, remarks = alike(order), look_again(order)
        for place, each in enumerate(order.strengths.order, start=1):
            remark = remarks.get(each.item)
            rows.append(
                ComparedCoupon(
                    inspection.key,
                    each.item,
                    place,
                    each.value,
                    each.low,
                    each.high,
                    each.choices,
                    groups.get(each.item, ()),
                    "" if remark is None else reason(remark).text(),
                )
            )
    return tuple(rows)
