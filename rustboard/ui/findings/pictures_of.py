"""Findings as pictures."""

from __future__ import annotations

from collections.abc import Iterator
from math import exp, isfinite
from typing import Literal

from rustboard.board.position import row_letters
from rustboard.board.record import BoardRecord
from rustboard.findings.compare.mean_intervals import mean_intervals
from rustboard.findings.conclude.findings import Findings
from rustboard.findings.survival.results import SurvivalCurve
from rustboard.support.text import printable
from rustboard.ui.charts.forecast import BandPoint, GradeBand, GradeBands
from rustboard.ui.charts.frontier import Frontier, Offer
from rustboard.ui.charts.interaction import InteractionLine, InteractionPicture
from rustboard.ui.charts.ranked_dots import DotRow, RankedDots
from rustboard.ui.charts.residual_map import MapCell, ResidualMap
from rustboard.ui.charts.survival_steps import Fall, SurvivalLine, SurvivalSteps
from rustboard.ui.findings.findings_words import AXES, group_name, interval, measure_axis, say, shown, unit_text

Price = Literal["money", "time"]

_GRADES = (0.0, 10.0)
_FITTED_POINTS = 60


def ranked_dots(found: Findings) -> RankedDots | None:
    """Return the groups ranked with every coupon as a dot; None without a graded coupon."""
    subject, record = found.subject, found.subject.record
    known = [each for each in found.groups if each.values]
    if not known:
        return None
    intervals = mean_intervals(subject, known, found.comparing)
    rows = tuple(
        DotRow(
            group_name(each.group.name),
            tuple(printable(record.coupons[key].id) for key in each.counted),
            each.values,
            each.mean,
            *intervals.get(each.group.id, (None, None)),
            each.rank_group,
            each.group.role == "control",
        )
        for each in known
    )
    how = [say("Each dot is one coupon; groups are ranked by the mean of their coupons.")]
    if intervals:
        how.append(
            say(
                "The bar is the 95 % interval of a group's mean by itself (Student's t with the spread pooled over "
                "all groups). Two bars may overlap and the groups still differ: the comparisons say what is shown."
            )
        )
    if any(each.rank_group for each in known):
        how.append(say("Groups that share a letter cannot be told apart, all pairs taken together."))
    return RankedDots(
        say("Treatments ranked, every coupon a dot"), " ".join(how), rows, measure_axis(subject),
        _GRADES if subject.in_grades else None,
        float(subject.question.failing_grade) if subject.in_grades else None,
        say("failing grade") if subject.in_grades else "",
    )  # fmt: skip


def survival_steps(found: Findings) -> SurvivalSteps | None:
    """Return how long coupons stayed above the failing grade; None where nothing is known of it."""
    if found.survival is None or not found.survival.curves:
        return None
    names, inks = _names(found), _inks(found)
    curves = tuple(
        SurvivalLine(
            names.get(each.group, printable(each.group)),
            inks.get(each.group, number),
            tuple(
                Fall(mass.after, mass.before, mass.share) for mass in each.masses if isfinite(mass.before)
            ),
            each.followed,
            each.count,
            each.failed,
            _median(each),
            tuple(_fitted(each)),
        )
        for number, each in enumerate(found.survival.curves)
    )
    how = say(
        "A coupon fails between the last inspection that saw it above grade {0} and the first that saw it at {0} or "
        "below; nobody knows when in between, so the steps slope there (Turnbull's estimate for intervals). An open "
        "mark: the rest had not failed when last seen. A dashed curve is a Weibull distribution, drawn only where it "
        "fits."
    ).format(found.subject.question.failing_grade)
    title = say("How long coupons stayed above grade {0}").format(found.subject.question.failing_grade)
    return SurvivalSteps(title, how, curves, say(AXES[found.subject.request.clock.kind]))


def _median(curve: SurvivalCurve) -> str:
    if curve.median.value is None:
        return ""
    return say("half failed by {0} ({1}, {2} % sure)").format(
        shown(curve.median.value),
        interval(curve.median.low, curve.median.high),
        shown(100 * curve.median.confidence, 0),
    )


def _fitted(curve: SurvivalCurve) -> Iterator[tuple[float, float]]:
    fit = curve.weibull
    ends = [curve.followed, *(each.before for each in curve.masses if isfinite(each.before))]
    if fit is None or not fit.fits or max(ends) <= 0:
        return
    for number in range(_FITTED_POINTS + 1):
        place = max(ends) * number / _FITTED_POINTS
        yield place, exp(-((place / fit.scale) ** fit.shape))


def interaction(found: Findings) -> InteractionPicture | None:
    """Return finish and protectant together; None where treatments form no grid."""
    factors = found.factors
    if factors is None or len(factors.finishes) < 2 or not factors.protectants:
        return None
    cells = {(each.finish, each.protectant): each.values for each in factors.cells}
    curves = tuple(
        InteractionLine(
            printable(protectant), ink, tuple(cells.get((finish, protectant), ()) for finish in factors.finishes)
        )
        for ink, protectant in enumerate(factors.protectants)
    )
    how = say(
        "Each point is the mean of the coupons with that finish and that protectant, small marks are the coupons. "
        "Lines that run side by side: the finish does the same under every protectant. Lines that cross or open: it "
        "depends. Whether that is more than luck is an interval and a p value, not the picture."
    )
    if factors.interaction_p is not None:
        how = say("{0} F test that they run side by side: p = {1}.").format(how, shown(factors.interaction_p, 3))
    finishes = tuple(printable(each) for each in factors.finishes)
    ends = _GRADES if found.subject.in_grades else None
    title = say("Finish and protectant together")
    return InteractionPicture(title, how, finishes, curves, measure_axis(found.subject), ends)


def frontier(found: Findings, price: Price) -> Frontier | None:
    """Return cost or minutes against protection; None where no price is known."""
    if found.value is None:
        return None
    offers = []
    for each in found.value.points:
        amount = each.cost_per_m2 if price == "money" else each.minutes_per_m2
        if amount is not None:
            best = each.best_for_money if price == "money" else each.best_for_time
            offers.append(Offer(group_name(each.name), amount, each.protection, each.low, each.high, best))
    if not offers:
        return None
    how = say(
        "Protection is the mean of a treatment's coupons, the upright line reaches from the worst to the best of "
        "them. Marked are treatments that no other beats: none protects as well or better for as little or less. It "
        "goes by means as they were seen; whether a difference is more than luck, the comparisons say."
    )
    money = price == "money"
    title = say("Cost against protection") if money else say("Work against protection")
    axis = say("cost of one m²") if money else say("minutes for one m²")
    ends = _GRADES if found.subject.in_grades else None
    return Frontier(title, how, tuple(offers), axis, measure_axis(found.subject), ends)


def residual_map(found: Findings) -> ResidualMap | None:
    """Return what is left of each coupon beside its treatment; None where nothing hangs or was graded."""
    subject, record = found.subject, found.subject.record
    residuals = {each.coupon: each.residual for each in found.doubts.residuals}
    if not residuals:
        return None
    odd = {each.coupon for each in found.doubts.odd}
    cells = tuple(
        MapCell(
            each.position.row, each.position.column, printable(each.id), _treatment(record, each.key),
            residuals.get(each.key), each.key in odd, each.key in subject.left_out,
        )
        for each in record.coupons_in_order() if each.position is not None
    )  # fmt: skip
    how = say(
        "Each figure is a coupon's value less what its replicates (and its row, where the lots were drawn by rows) "
        "lead one to expect. A row, column or edge that is all of one kind hints that the place mattered. Framed "
        "coupons do not behave like their replicates."
    )
    rows = tuple(row_letters(each) for each in range(record.board.rows))
    columns = tuple(str(each + 1) for each in range(record.board.columns))
    return ResidualMap(say("What is left beside treatment"), how, rows, columns, cells, unit_text(subject))


def _treatment(record: BoardRecord, coupon: int) -> str:
    treatment = record.treatment_of(record.coupons[coupon])
    return "" if treatment is None else printable(treatment.title)


def forecast(found: Findings) -> GradeBands | None:
    """Return how grades went and may go on; None while nothing is fitted."""
    growth = found.growth
    curves = [] if growth is None else [each for each in growth.curves if each.band]
    if growth is None or not curves:
        return None
    names, inks = _names(found), _inks(found)
    bands = tuple(
        GradeBand(
            names.get(each.group, printable(each.group)),
            inks.get(each.group, number),
            tuple(BandPoint(point.place, point.middle, point.low, point.high) for point in each.band),
            each.seen_until,
        )
        for number, each in enumerate(curves)
    )
    how = say(
        "A growth curve fitted to the grades of each group, with its 90 % band; to the right of the line it is a "
        "forecast that supposes the weather goes on as it was. It is no promise."
    )
    now = max(each.seen_until for each in curves)
    axis = say(AXES[found.subject.request.clock.kind])
    return GradeBands(say("How it may go on"), how, bands, axis, now, float(found.subject.question.failing_grade))


def _names(found: Findings) -> dict[str, str]:
    return {each.group.id: group_name(each.group.name) for each in found.groups}


def _inks(found: Findings) -> dict[str, int]:
    """Return one ink a group, the same in every picture: by its place in the ranking."""
    return {each.group.id: number for number, each in enumerate(found.groups)}
