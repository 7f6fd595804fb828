"""Findings as tables: columns with how their figures were got, and rows with what there is to say of each."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rustboard.board.model import Coupon
from rustboard.findings.compare.results import Compared, ModelResult, Standing
from rustboard.findings.conclude.findings import Findings
from rustboard.findings.coupons.groups import GroupResult
from rustboard.findings.coupons.measures import Failure
from rustboard.findings.doubts.results import OddCoupon
from rustboard.findings.survival.words import interval_words
from rustboard.findings.value.results import ValuePoint
from rustboard.ui.findings.figure_words import (
    DASH,
    METHODS,
    NO_MODEL,
    STANDING,
    group_name,
    interval,
    p_text,
    shown,
    signed,
    unit_text,
)
from rustboard.ui.findings.figures_table import WAITING, Column, Row
from rustboard.ui.findings.treatment_told import best_for, curve_of, treatment_told
from rustboard.ui.findings.words import say, sentence_text

_STANDING_ORDER: Final[tuple[Standing, ...]] = ("better", "leans better", "open", "leans worse", "worse")

# ---- comparisons


def comparison_columns(found: Findings) -> list[Column]:
    """Return the columns of the comparisons."""
    unit = unit_text(found.subject)
    return [
        Column(say("First"), "", is_figure=False),
        Column(say("Second"), "", is_figure=False),
        Column(
            say("Difference"),
            say("the first less the second, in {0}, by a model of means with rows as blocks where the lots were "
                "drawn by rows.").format(unit),
        ),
        Column(
            say("95 % interval"),
            say("where the true difference lies; all intervals of this table together hold 95 times in 100. Where it "
                "reaches over 0, luck could have made the difference."),
        ),
        Column(
            say("p by model"),
            say("how often luck alone would show any difference of this table as large; it trusts that coupons "
                "treated alike scatter evenly. 0.05 or less counts as shown."),
        ),
        Column(
            say("Exact p"),
            say("how often a difference as large comes about when the labels are exchanged in every way the lots "
                "could have fallen; it trusts nothing but the lots. Of this comparison alone."),
        ),
        Column(
            say("Smallest p"),
            say("the smallest exact p that this board could ever give for this comparison, however clear the "
                "difference. Above 0.05 the exact test cannot show anything here."),
        ),
        Column(
            say("Exact p, all"),
            say("the exact p after closed testing over all comparisons of this table: at 0.05 or less, the chance of "
                "any false difference among them all is at most 5 in 100."),
        ),
        Column(
            say("So"),
            say("“better” needs an interval that stays clear of 0. Where the model is doubtful or its spread is "
                "borrowed, the exact p over all comparisons decides, and what only the model sees just leans."),
            is_figure=False,
        ),
    ]  # fmt: skip


def comparison_rows(found: Findings) -> list[Row]:
    """Return a row a comparison."""
    return [_comparison(found, each) for each in found.comparing.compared]


def _comparison(found: Findings, each: Compared) -> Row:
    model, exact = each.model, each.exact
    waiting = DASH if found.complete else WAITING
    seen = (DASH,) * 3 if model is None else (
        signed(model.difference), interval(model.low, model.high), p_text(model.p)
    )  # fmt: skip
    tested = (waiting,) * 3 if exact is None else (
        p_text(exact.p), p_text(exact.smallest), p_text(exact.p_family, at_least=exact.at_least)
    )  # fmt: skip
    nothing = model is None and exact is None
    cells = (
        group_name(each.comparison.a),
        group_name(each.comparison.b),
        *seen,
        *tested,
        say("nothing can be said") if nothing and found.complete else say(STANDING[each.standing]),
    )
    coupons = each.comparison.coupons_a | each.comparison.coupons_b
    values = (
        cells[0],
        cells[1],
        *((None,) * 3 if model is None else (model.difference, model.low, model.p)),
        *((None,) * 3 if exact is None else (exact.p, exact.smallest, exact.p_family)),
        None if nothing else float(_STANDING_ORDER.index(each.standing)),
    )
    return Row((each.comparison.kind, each.id_a, each.id_b), cells, tuple(_told(found, each)), coupons, values)


def _told(found: Findings, each: Compared) -> Iterator[str]:
    counts = say("{0}: {1} values, {2}. {3}: {4} values, {5}.")
    yield counts.format(
        group_name(each.comparison.a), len(each.values_a), _listed(each.values_a),
        group_name(each.comparison.b), len(each.values_b), _listed(each.values_b),
    )  # fmt: skip
    if each.model is None:
        yield say(NO_MODEL[each.no_model])
    else:
        yield _model_told(found, each.model, borrowed=each.borrowed)
    exact = each.exact
    if exact is not None:
        if exact.sampled:
            text = say("The lots could have fallen in {0} ways; {1} of them were drawn by chance for the exact p.")
            yield text.format(_count(exact.arrangements), _count(exact.sampled))
        else:
            yield say("The lots could have fallen in {0} ways; all were counted for the exact p.").format(
                _count(exact.arrangements)
            )
    for doubt in each.doubts:
        yield say("Doubt: {0}").format(sentence_text(doubt))
    for note in each.notes:
        yield sentence_text(note)


def _model_told(found: Findings, model: ModelResult, *, borrowed: bool) -> str:
    sd = shown(model.sd, 2)
    if borrowed and model.degrees_of_freedom:
        spread = say("The spread of coupons treated alike, {0}, is borrowed from earlier boards").format(sd)
    elif borrowed:
        spread = say("The spread of coupons treated alike, {0}, is assumed, not measured").format(sd)
    else:
        spread = say(
            "Coupons treated alike differ by {0} {1} (standard deviation, pooled over all groups, {2} degrees of "
            "freedom)"
        ).format(sd, unit_text(found.subject), model.degrees_of_freedom)
    text = say("{0}; the standard error of this difference is {1}; {2}.")
    return text.format(spread, shown(model.standard_error, 2), say(METHODS[model.method]))


def _listed(values: tuple[float, ...]) -> str:
    most = 12
    text = ", ".join(shown(each) for each in sorted(values, reverse=True)[:most])
    return f"{text}…" if len(values) > most else text


def _count(number: int) -> str:
    return shown(float(number), 0)


# ---- treatments


def treatment_columns(found: Findings) -> list[Column]:
    """Return the columns of the groups."""
    unit = unit_text(found.subject)
    return [
        Column(say("Treatment"), "", is_figure=False),
        Column(say("n"), say("coupons that hang or hung, were graded, and are not left out.")),
        Column(say("Mean"), say("of its coupons, in {0}.").format(unit)),
        Column(say("Median"), say("the middle one of its coupons, in {0}.").format(unit)),
        Column(say("Spread"), say("standard deviation among its coupons; it takes two.")),
        Column(say("Letters"), say("groups that share a letter cannot be told apart, all pairs taken together."),
               is_figure=False),
        Column(say("Failed"), say("coupons that have fallen to the failing grade or below.")),
        Column(say("Half failed at"), say("where on the clock half of its coupons had failed, from the intervals "
               "between inspections (Turnbull).")),
        Column(say("Interval"), say("of that median, and in how many of 100 such boards it holds; with few "
               "coupons it is wide, or open at its end.")),
        Column(say("Cost"), say("of one m², as written down with the treatment.")),
        Column(say("Minutes"), say("of work for one m², as written down with the treatment.")),
        Column(say("Cost a month"), say("of keeping one m² above the failing grade: its cost divided by the median "
               "days above it, 30.4375 days a month. “At most” where half has not failed yet.")),
        Column(say("Best for"), say("nothing as cheap, or as quick, protects as well or better: by the means as they "
               "were seen."), is_figure=False),
    ]  # fmt: skip


def treatment_rows(found: Findings) -> list[Row]:
    """Return a row a group, the best first."""
    points = {} if found.value is None else {each.group: each for each in found.value.points}
    return [_treatment(found, each, points.get(each.group.id)) for each in found.groups]


def _treatment(found: Findings, each: GroupResult, value: ValuePoint | None) -> Row:
    cells = (
        group_name(each.group.name),
        str(len(each.counted)),
        shown(each.mean),
        shown(each.median),
        shown(each.sd, 2),
        each.rank_group or DASH,
        say("{0} of {1}").format(each.failed, len(each.counted)) if each.counted else DASH,
        _median(each),
        _median_interval(found, each),
        DASH if value is None else shown(value.cost_per_m2, 2),
        DASH if value is None else shown(value.minutes_per_m2),
        _month(value),
        best_for(value),
    )
    costs = (None,) * 3 if value is None else (value.cost_per_m2, value.minutes_per_m2, value.cost_per_month)
    values = (
        cells[0],
        float(len(each.counted)),
        each.mean,
        each.median,
        each.sd,
        each.rank_group or None,
        each.failed / len(each.counted) if each.counted else None,
        each.median_to_failure,
        each.median_low if each.failed else None,
        *costs,
        None if cells[-1] == DASH else cells[-1],
    )
    told = tuple(treatment_told(found, each, value))
    return Row(each.group.id, cells, told, frozenset(each.counted), values)


def _median_interval(found: Findings, each: GroupResult) -> str:
    text = interval(each.median_low, each.median_high) if each.failed else DASH
    curve = curve_of(found, each.group.id)
    if text == DASH or curve is None:
        return text
    return say("{0} ({1} %)").format(text, shown(100 * curve.median.confidence, 0))


def _median(each: GroupResult) -> str:
    if not each.counted:
        return DASH
    return say("not yet") if each.median_to_failure is None else shown(each.median_to_failure)


def _month(value: ValuePoint | None) -> str:
    if value is None or value.cost_per_month is None:
        return DASH
    cost = shown(value.cost_per_month, 2)
    return say("at most {0}").format(cost) if value.at_least else cost


# ---- coupons

_NEVER: Final = 1e12
"""Beyond any place on a clock."""


def coupon_columns(found: Findings) -> list[Column]:
    """Return the columns of the coupons."""
    return [
        Column(say("Coupon"), "", is_figure=False),
        Column(say("Place"), "", is_figure=False),
        Column(say("Treatment"), "", is_figure=False),
        Column(say("Last grade"), say("at its last grading.")),
        Column(say("Mean grade"), say("over the exposure on the chosen clock, from 10 at its beginning to the last "
               "grading; between two gradings it goes evenly.")),
        Column(say("Failed"), say("between the last inspection that saw it above the failing grade and the first "
               "that saw it at it or below; a later better grade does not undo that."), is_figure=False),
        Column(say("Left over"), say("its value less what its replicates, and its row where rows are blocks, lead "
               "one to expect, in {0}.").format(unit_text(found.subject))),
        Column(say("Counts"), say("whether it counts in the findings; left out is only what you left out, with your "
               "reason."), is_figure=False),
    ]  # fmt: skip


def coupon_rows(found: Findings) -> list[Row]:
    """Return a row a coupon, in reading order."""
    residuals = {each.coupon: each.residual for each in found.doubts.residuals}
    odd = {each.coupon: each for each in found.doubts.odd}
    coupons = found.subject.record.coupons_in_order()
    return [_coupon(found, each, at, residuals, odd) for at, each in enumerate(coupons)]


def _coupon(
    found: Findings, each: Coupon, reading: int, residuals: dict[int, float], odd: dict[int, OddCoupon]
) -> Row:
    measures = found.subject.all_measures.get(each.key)
    treatment = found.subject.record.treatment_of(each)
    name = say("control") if treatment is None and each.role == "control" else ""
    cells = (
        each.id,
        DASH if each.position is None else each.position.label,
        name if treatment is None else treatment.title,
        DASH if measures is None else str(measures.last_grade),
        DASH if measures is None else shown(measures.mean_grade),
        _failed(found, each.key),
        signed(residuals.get(each.key)),
        _counts(found, each.key, odd),
    )
    told = [_coupon_told(found, each.key, cells[0])]
    reason = found.subject.left_out.get(each.key)
    if reason is not None:
        told.append(say("Left out, because: {0}").format(reason))
    if each.key in odd:
        flag = odd[each.key]
        text = say(
            "It does not behave like its replicates ({0} {1}, p = {2} for all coupons together). It still counts."
        )
        told.append(text.format(say(flag.test), signed(flag.statistic, 2), p_text(flag.p)))
    if measures is not None and measures.failure.recovered:
        told.append(
            say("It failed and was graded better later. Rust does not go back: one of the grades is doubtful.")
        )
    values = (
        *(each.id, None if each.position is None else float(reading)),
        cells[2] or None,
        *(
            (None,) * 3
            if measures is None
            else (measures.last_grade, measures.mean_grade, _failing(measures.failure))
        ),
        residuals.get(each.key),
        cells[-1],
    )
    return Row(each.key, cells, tuple(told), frozenset({each.key}), values)


def _coupon_told(found: Findings, coupon: int, name: str) -> str:
    measures = found.subject.all_measures.get(coupon)
    if measures is None:
        return say("{0} was never graded.").format(name)
    failure = measures.failure
    failed = sentence_text(interval_words(failure.after, failure.before, found.subject.request.clock.kind))
    text = say("{0}: {1}; graded once.") if measures.gradings == 1 else say("{0}: {1}; graded {2} times.")
    return text.format(name, failed, measures.gradings)


def _failing(failure: Failure) -> float:
    """Return what sorts failures: by the first place that saw it; what has not failed after all that have."""
    return _NEVER + failure.after if failure.before is None else failure.before


def _failed(found: Findings, coupon: int) -> str:
    measures = found.subject.all_measures.get(coupon)
    if measures is None:
        return DASH
    failure = measures.failure
    if failure.before is None:
        return say("not by {0}").format(shown(failure.after))
    text = say("{0} to {1}").format(shown(failure.after), shown(failure.before))
    return say("{0}, then graded better").format(text) if failure.recovered else text


def _counts(found: Findings, coupon: int, odd: dict[int, OddCoupon]) -> str:
    if coupon in found.subject.left_out:
        return say("left out: {0}").format(found.subject.left_out[coupon])
    if coupon not in found.subject.all_measures:
        return say("not graded")
    return say("yes, but unlike its replicates") if coupon in odd else say("yes")
