"""Findings turned into pictures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from rustboard.support.text import one_line, printable
from rustboard.ui.charts.forecast import BandPoint, GradeBand, GradeBands
from rustboard.ui.charts.frontier import Frontier, Offer
from rustboard.ui.charts.interaction import InteractionLine, InteractionPicture
from rustboard.ui.charts.ranked_dots import DotRow, RankedDots
from rustboard.ui.charts.residual_map import MapCell, ResidualMap
from rustboard.ui.charts.survival_steps import Fall, SurvivalLine, SurvivalSteps
from rustboard.ui.clock_words import axis_title
from rustboard.ui.findings.words import how, say, sentence_text, value_name

if TYPE_CHECKING:
    from rustboard.findings.conclude.findings import Findings
    from rustboard.findings.survival.results import SurvivalCurve
    from rustboard.ui.charts.chart import Chart

GRADE_ENDS: Final = (0.0, 10.0)
_FITTED_POINTS: Final = 60


def names_of(findings: Findings) -> dict[str, str]:
    """Return what people call each group, by id, safe to show."""
    return {each.group.id: printable(one_line(each.group.name, 80)) for each in findings.groups}


def inks_of(findings: Findings) -> dict[str, int]:
    """Return a number for each group, by id, the same in all pictures: the order of the groups on the board."""
    return {each.id: number for number, each in enumerate(findings.subject.groups)}


def ranking(findings: Findings) -> Chart | None:
    """Return the ranking; None where nothing was graded."""
    subject, names = findings.subject, names_of(findings)
    ids = {key: printable(each.id) for key, each in subject.record.coupons.items()}
    rows = [
        DotRow(
            names[each.group.id],
            tuple(ids[key] for key in each.counted),
            each.values,
            each.mean,
            each.mean_low,
            each.mean_high,
            each.rank_group,
            each.group.role == "control",
        )
        for each in findings.groups
        if each.counted
    ]
    if not rows:
        return None
    measure, in_grades = subject.question.measure, subject.in_grades
    axis = value_name(measure) if in_grades else f"{value_name(measure)}, {axis_title(subject.request.clock)}"
    return RankedDots(
        say("Ranked by {0}").format(value_name(measure)),
        how("ranking"),
        tuple(rows),
        axis,
        GRADE_ENDS if in_grades else None,
        float(subject.question.failing_grade) if measure == "last grade" else None,
        say("failing grade"),
    )


def survival(findings: Findings) -> Chart | None:
    """Return the survival curves; None where nothing was graded."""
    from rustboard.findings.survival.words import survival_words

    if findings.survival is None:
        return None
    subject, names, inks = findings.subject, names_of(findings), inks_of(findings)
    farthest = max((fall.before for each in findings.survival.curves for fall in _falls(each)), default=0.0)
    farthest = max(farthest, *(each.followed for each in findings.survival.curves))
    curves = tuple(
        SurvivalLine(
            names[each.group],
            inks[each.group],
            tuple(_falls(each)),
            each.followed,
            each.count,
            each.failed,
            sentence_text(survival_words(each, names[each.group], subject.request.clock.kind)),
            _fitted(each, farthest),
        )
        for each in findings.survival.curves
    )
    title = say("How long coupons stayed above grade {0}").format(subject.question.failing_grade)
    return SurvivalSteps(title, how("survival"), curves, axis_title(subject.request.clock))


def _falls(curve: SurvivalCurve) -> Iterator[Fall]:
    for mass in curve.masses:
        if mass.before < float("inf"):
            yield Fall(mass.after, mass.before, mass.share)


def _fitted(curve: SurvivalCurve, farthest: float) -> tuple[tuple[float, float], ...]:
    from math import exp

    fit = curve.weibull
    if fit is None or not fit.fits or farthest <= 0:
        return ()
    places = [farthest * number / _FITTED_POINTS for number in range(_FITTED_POINTS + 1)]
    return tuple((place, exp(-((place / fit.scale) ** fit.shape))) for place in places)


def interaction(findings: Findings) -> Chart | None:
    """Return the interaction picture; None where treatments form no grid."""
    factors, subject = findings.factors, findings.subject
    if factors is None:
        return None
    cells = {(each.finish, each.protectant): each.values for each in factors.cells}
    curves = tuple(
        InteractionLine(
            printable(one_line(protectant, 80)),
            number,
            tuple(cells.get((finish, protectant), ()) for finish in factors.finishes),
        )
        for number, protectant in enumerate(factors.protectants)
    )
    finishes = tuple(printable(one_line(each, 80)) for each in factors.finishes)
    ends = GRADE_ENDS if subject.in_grades else None
    axis = value_name(subject.question.measure)
    return InteractionPicture(say("Finish and protectant together"), how("interaction"), finishes, curves, axis, ends)


def frontier(findings: Findings, *, by_time: bool = False) -> Chart | None:
    """Return cost, or minutes, against protection; None where they are not known of any treatment."""
    if findings.value is None:
        return None
    offers = []
    for each in findings.value.points:
        price = each.minutes_per_m2 if by_time else each.cost_per_m2
        if price is not None:
            best = each.best_for_time if by_time else each.best_for_money
            name = printable(one_line(each.name, 80))
            offers.append(Offer(name, price, each.protection, each.low, each.high, best))
    if not offers:
        return None
    subject = findings.subject
    title = say("Work against protection") if by_time else say("Cost against protection")
    price_axis = say("minutes of work for one m²") if by_time else say("cost of one m²")
    return Frontier(
        title,
        how("time" if by_time else "money"),
        tuple(offers),
        price_axis,
        value_name(subject.question.measure),
        GRADE_ENDS if subject.in_grades else None,
    )


def residual_map(findings: Findings) -> Chart | None:
    """Return the map of residuals; None where no coupon that counts hangs on the board."""
    subject = findings.subject
    if not findings.doubts.residuals:
        return None
    names = {key: printable(each.name) for each in subject.groups for key in each.coupons}
    odd = {each.coupon for each in findings.doubts.odd}
    residuals = {each.coupon: each.residual for each in findings.doubts.residuals}
    cells = [
        MapCell(
            coupon.position.row,
            coupon.position.column,
            printable(coupon.id),
            names.get(coupon.key, say("no treatment")),
            residuals.get(coupon.key),
            coupon.key in odd,
            coupon.key in subject.left_out,
        )
        for coupon in subject.record.coupons_in_order()
        if coupon.position is not None
    ]
    board = subject.record.board
    rows = tuple(_row_name(number) for number in range(board.rows))
    columns = tuple(str(number + 1) for number in range(board.columns))
    unit = say("grades") if subject.in_grades else axis_title(subject.request.clock)
    return ResidualMap(say("What is left beside treatment"), how("residuals"), rows, columns, tuple(cells), unit)


def _row_name(number: int) -> str:
    from rustboard.board.position import Position

    return Position(number, 0).label[:-1]


def forecast(findings: Findings) -> Chart | None:
    """Return how grades went and may go on; None where nothing can be forecast."""
    growth = findings.growth
    if growth is None or not any(each.band for each in growth.curves):
        return None
    subject, names, inks = findings.subject, names_of(findings), inks_of(findings)
    bands = tuple(
        GradeBand(
            names[each.group],
            inks[each.group],
            tuple(BandPoint(at.place, at.middle, at.low, at.high) for at in each.band),
            each.seen_until,
        )
        for each in growth.curves
        if each.band
    )
    now = max(each.seen_until for each in bands)
    axis = axis_title(subject.request.clock)
    return GradeBands(
        say("How it went, and may go on"), how("forecast"), bands, axis, now, float(subject.question.failing_grade)
    )
