"""What finish and protectant do, in sentences a maker understands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

from rustboard.findings.amounts import amount_unit, listed, p_is, shown, shown_p
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.factors.results import Effect, FactorFindings, Interaction, MainEffect
from rustboard.findings.sentence import Sentence
from rustboard.findings.smallest_p import LEVEL

MOST_SAID: Final = 6
"""More effects of a kind than that are left to the table."""

_NOTHING: Final = "no protectant"


def factor_words(found: FactorFindings, subject: Subject) -> tuple[Sentence, ...]:
    """Return what finish and protectant do: together first, since it says how to read each alone."""
    return (
        *_grid_words(found),
        *_interaction_words(found, subject),
        *_main_words(found, subject),
    )


# ---- the grid


def _grid_words(found: FactorFindings) -> Iterator[Sentence]:
    missing = sum(not each.values for each in found.cells)
    if missing:
        yield Sentence(
            "1 of the {1} combinations of finish and protectant was not tried or not graded: nothing is said of it."
            if missing == 1
            else "{0} of the {1} combinations of finish and protectant were not tried or not graded: nothing is said "
            "of them.",
            (missing, len(found.cells)),
        )
    for cell in found.cells:
        if len(cell.groups) > 1:
            yield Sentence(
                "{0} have the same finish and protectant ({1}, {2}) and count as one combination here, whatever else "
                "tells them apart.",
                (listed(cell.groups), cell.finish, cell.protectant),
            )
    if not found.main and not found.interactions:
        yield Sentence(
            "Nothing can be told of finish and protectant apart: too few combinations were tried, or nothing on this "
            "board shows how much luck there is in a difference."
        )
    elif found.whole and all(len(each.values) < 2 for each in found.cells):
        yield Sentence(
            "No combination was tried twice: how much luck there is was seen between other coupons alone, such as "
            "the controls."
        )
    elif not found.whole:
        yield Sentence(
            "Nothing on this board was done twice. How much luck there is was taken from what finish and protectant "
            "together do not explain; so whether one depends on the other cannot be told."
        )


# ---- together


def _interaction_words(found: FactorFindings, subject: Subject) -> Iterator[Sentence]:
    if found.interaction_p is None or not found.interactions:
        return
    clear = [each for each in found.interactions if _is_clear(each.effect)]
    clear.sort(key=lambda each: -abs(each.effect.difference))
    if found.interaction_p <= LEVEL:
        yield Sentence(
            "What a protectant does depends on the finish under it (all combinations together, "
            f"{p_is(found.interaction_p)} {{0}}).",
            (shown_p(found.interaction_p),),
        )
    else:
        end = "; but this part stands out:" if clear else "."
        yield Sentence(
            "It cannot be told whether what a protectant does depends on the finish under it (all combinations "
            f"together, p = {{0}}){end}",
            (shown_p(found.interaction_p),),
        )
    for each in clear[:MOST_SAID]:
        yield interaction_sentence(each, subject, found.main)
    if len(found.interactions) == 1 and not clear:
        yield interaction_sentence(found.interactions[0], subject, found.main)
    if len(clear) > MOST_SAID:
        yield Sentence("The table has {0} more of these.", (len(clear) - MOST_SAID,))


def _is_clear(effect: Effect) -> bool:
    return not effect.low <= 0 <= effect.high


def interaction_sentence(found: Interaction, subject: Subject, main: Sequence[MainEffect] = ()) -> Sentence:
    """Return one interaction as a sentence: on which finish a protectant does more, and by how much.

    Args:
        found: the interaction.
        subject: the board.
        main: main effects, which say of two protectants the better one, so that it is named first.
    """
    (one, other), (a, b) = found.finishes, found.protectants
    difference, low, high = found.effect.difference, found.effect.low, found.effect.high
    if a == _NOTHING or _is_worse(a, b, main):
        a, b, one, other = b, a, other, one  # both turned round: the difference of differences stays the same
    if difference < 0:
        one, other = other, one
        difference, low, high = -difference, -high, -low
    amounts = (shown(difference), shown(low), shown(high), amount_unit(subject, difference))
    if b == _NOTHING:
        if _is_clear(found.effect):
            pattern = "{0} helps more on {1} than on {2}: by {3} {6} more ({4} to {5})."
        else:
            pattern = "It cannot be told whether {0} helps more on {1} than on {2}: by {3} {6} ({4} to {5})."
        return Sentence(pattern, (a, one, other, *amounts))
    if _is_clear(found.effect):
        pattern = "What {0} has over {1} is more on {2} than on {3}: by {4} {7} more ({5} to {6})."
    else:
        pattern = (
            "It cannot be told whether what {0} has over {1} is more on {2} than on {3}: by {4} {7} ({5} to {6})."
        )
    return Sentence(pattern, (a, b, one, other, *amounts))


def _is_worse(a: str, b: str, main: Sequence[MainEffect]) -> bool:
    mine = (each for each in main if each.factor == "protectant" and (each.a, each.b) == (a, b))
    return any(each.effect.difference < 0 for each in mine)


# ---- each alone


def _main_words(found: FactorFindings, subject: Subject) -> Iterator[Sentence]:
    for factor in ("finish", "protectant"):
        mine = [each for each in found.main if each.factor == factor]
        clear = [each for each in mine if _is_clear(each.effect)]
        said = clear or (mine if len(mine) == 1 else [])
        for each in sorted(said, key=lambda each: -abs(each.effect.difference))[:MOST_SAID]:
            yield main_sentence(each, subject)
        open_ones = len(mine) - len(said)
        if clear and open_ones:
            yield Sentence(_open_pattern(factor, open_ones), (open_ones,))
        elif open_ones:
            yield Sentence(
                "No two finishes can be told apart, averaged over the protectants."
                if factor == "finish"
                else "No two protectants can be told apart, averaged over the finishes."
            )
    if any(_is_clear(each.effect) for each in found.interactions) and found.main:
        yield Sentence(
            "Since one depends on the other, an average over levels may be true of none of them: look at the "
            "combinations."
        )


def _open_pattern(factor: str, count: int) -> str:
    if factor == "finish":
        return (
            "1 pair of finishes cannot be told apart, averaged over the protectants."
            if count == 1
            else "{0} pairs of finishes cannot be told apart, averaged over the protectants."
        )
    return (
        "1 pair of protectants cannot be told apart, averaged over the finishes."
        if count == 1
        else "{0} pairs of protectants cannot be told apart, averaged over the finishes."
    )


def main_sentence(found: MainEffect, subject: Subject) -> Sentence:
    """Return one main effect as a sentence, the better level first."""
    a, b, effect = found.a, found.b, found.effect
    difference, low, high = effect.difference, effect.low, effect.high
    if difference < 0:
        a, b, difference, low, high = b, a, -difference, -high, -low
    parts = (a, b, listed(found.over), shown(difference), shown(low), shown(high), amount_unit(subject, difference))
    if _is_clear(effect):
        return Sentence("{0} does better than {1}, averaged over {2}: by {3} {6} ({4} to {5}).", parts)
    return Sentence(
        "It cannot be told whether {0} does better than {1}, averaged over {2}: by {3} {6} ({4} to {5}).", parts
    )
