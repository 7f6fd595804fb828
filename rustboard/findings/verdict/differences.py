"""What the comparisons say, one sentence each, or one a group where they are many."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

from rustboard.findings.amounts import amount_unit, listed, shown, shown_end, shown_p
from rustboard.findings.compare.results import Compared, Standing
from rustboard.findings.compare.standing import difference_of
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.sentence import Part, Sentence
from rustboard.findings.smallest_p import LEVEL

MOST_TOLD_ONE_BY_ONE: Final = 8
_TINY: Final = 1e-9
_MIRRORED: Final[dict[Standing, Standing]] = {
    "better": "worse",
    "worse": "better",
    "leans better": "leans worse",
    "leans worse": "leans better",
    "open": "open",
}


def difference_words(subject: Subject, compared: Sequence[Compared]) -> list[Sentence]:
    """Return what the comparisons say, what is shown first and what cannot be told last."""
    if len(compared) > MOST_TOLD_ONE_BY_ONE and all(each.comparison.kind != "control" for each in compared):
        return _by_name(compared)
    order: tuple[Standing, ...] = ("better", "worse", "leans better", "leans worse", "open")
    ranked = sorted(compared, key=lambda each: (order.index(each.standing), -abs(difference_of(each))))
    return [one_difference(subject, each) for each in ranked]


def one_difference(subject: Subject, compared: Compared) -> Sentence:
    """Return what one comparison says, never stronger than it is."""
    model, standing = compared.model, compared.standing
    ahead, behind = compared.comparison.a, compared.comparison.b
    difference = difference_of(compared)
    low, high = (0.0, 0.0) if model is None else (model.low, model.high)
    if difference < -_TINY:
        ahead, behind, difference, low, high = behind, ahead, -difference, -high, -low
    unit = amount_unit(subject, difference)
    if model is None:
        return _without_model(compared, ahead, behind, difference, unit)
    parts = (ahead, behind, shown(difference), unit, shown_end(low), shown_end(high))
    if standing in ("better", "worse") and low > 0:
        return Sentence("{0} did better than {1}: by {2} {3} (95 % interval {4} to {5}).", parts)
    if standing in ("better", "worse"):
        return Sentence(
            "{0} did better than {1} by the exact test: by {2} {3}; how large the difference is, the model leaves "
            "open ({4} to {5}).",
            parts,
        )
    if standing != "open" and compared.borrowed:
        return Sentence(
            "{0} is ahead of {1} by {2} {3}, more than luck explains if coupons scatter here as assumed.", parts
        )
    if standing != "open":
        seen = "{0} looks better than {1}: by {2} {3} ({4} to {5} by the model), but that is not shown: "
        why, more = _why_only_leaning(compared)
        return Sentence(seen + why, (*parts, *more))
    if _both_at_one_end(compared):
        return Sentence(
            "{0} and {1} cannot be told apart: all coupons of both are at grade {2}, where the scale ends.",
            (ahead, behind, round(compared.values_a[0])),
        )
    if shown(difference) == 0:
        return Sentence(
            "{0} and {1} cannot be told apart: no difference was seen, and anything from {4} to {5} {3} would fit.",
            (ahead, behind, 0.0, _several(subject), shown_end(low), shown_end(high)),
        )
    return Sentence(
        "{0} and {1} cannot be told apart: {0} is ahead by {2} {3}, but anything from {4} to {5} would fit.", parts
    )


def _both_at_one_end(compared: Compared) -> bool:
    """Return whether the notes say that both sides lie wholly at the end of the scale, and at the same one."""
    return len(compared.notes) > 1 and len({*compared.values_a, *compared.values_b}) == 1


def _several(subject: Subject) -> str:
    return amount_unit(subject, 2.0)


def _without_model(compared: Compared, ahead: str, behind: str, difference: float, unit: str) -> Sentence:
    parts = (ahead, behind, shown(difference), unit)
    if compared.standing in ("better", "worse"):
        return Sentence("{0} did better than {1}: by {2} {3}, by the exact test.", parts)
    if compared.no_model == "rows":
        return Sentence("{0} and {1} cannot be compared: they share no row, and rows are blocks here.", parts)
    if shown(difference) == 0:
        return Sentence("{0} and {1} came out alike; nothing on this board says how much luck there is.", parts)
    return Sentence(
        "{0} is ahead of {1} by {2} {3}; nothing on this board says how much of that is luck.",
        parts,
    )


def _why_only_leaning(compared: Compared) -> tuple[str, tuple[Part, ...]]:
    exact = compared.exact
    if exact is not None and exact.smallest > LEVEL:
        told = "the model is doubtful here, and with so few coupons the exact test can never come below p = {6}."
        return told, (shown_p(exact.smallest),)
    if exact is not None and exact.p_family is not None:
        return "the model is doubtful here, and the exact test does not confirm it.", ()
    return "the model is doubtful here, and the exact test is still to come.", ()


def _by_name(compared: Sequence[Compared]) -> list[Sentence]:
    """Return a sentence for each name: what it beat, and what it cannot be told from."""
    names = list(dict.fromkeys(name for each in compared for name in (each.comparison.a, each.comparison.b)))
    won = {name: _others(compared, name, ("better",)) for name in names}
    found = []
    for name in sorted(names, key=lambda each: -len(won[each])):
        likely, level = _others(compared, name, ("leans better",)), _others(compared, name, ("open",))
        if won[name]:
            found.append(Sentence("{0} did better than {1}.", (name, listed(won[name]))))
        if likely:
            found.append(Sentence("{0} looks better than {1}, but that is not shown.", (name, listed(likely))))
        if level and not won[name] and not likely and not _others(compared, name, ("worse", "leans worse")):
            found.append(Sentence("{0} cannot be told from {1}.", (name, listed(level))))
    tied = sum(each.standing == "open" for each in compared)
    if tied:
        found.append(
            Sentence("{0} of {1} pairs cannot be told apart; the table has them all.", (tied, len(compared)))
        )
    return found


def _others(compared: Iterable[Compared], name: str, standings: tuple[Standing, ...]) -> list[str]:
    found = []
    for each in compared:
        if each.comparison.a == name and each.standing in standings:
            found.append(each.comparison.b)
        elif each.comparison.b == name and _MIRRORED[each.standing] in standings:
            found.append(each.comparison.a)
    return found
