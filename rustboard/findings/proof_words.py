"""What a board can prove, in sentences a maker understands."""

from __future__ import annotations

from typing import Final

from rustboard.findings.proof_table import LayoutState, Proof, Simulated
from rustboard.findings.sentence import PValue, Sentence, of_grades
from rustboard.findings.smallest_p import LEVEL
from rustboard.findings.spread import LEAST_DEGREES, Spread

STORY: Final = Sentence("One coupon each can only tell a story: it shows an order, not a difference.")
_STORY_OF_COLUMNS: Final = Sentence("One column each can only tell a story: it shows an order, not a difference.")
_WHOLE_COLUMNS: Final = "Lots are drawn for whole columns: the coupons of one column hang together and count as one."
_COLUMN_AS_COUPON: Final = (
    "The spread of a column is taken to be that of a coupon: the mean of a column mostly varies less, but more where "
    "columns differ in sun or rain."
)
_LITTLE_FREEDOM: Final = 10
SMALLEST_SHOWN: Final = 0.0001
"""Smaller p values are said to be below this one."""


def exact_words(proof: Proof, comparisons: int, *, several: bool = False) -> tuple[Sentence, ...]:
    """Return what an exact test could do for a comparison.

    Args:
        proof: the comparison.
        comparisons: how many the question has.
        several: whether it stands for several alike, so that it is not named.
    """
    if max(proof.units_a, proof.units_b) <= 1:
        return (_STORY_OF_COLUMNS if proof.by_column else STORY,)
    alone = _single_words(proof, several=several)
    if proof.smallest_p >= 1:
        return (*alone, _nothing_to_go_by(proof, several=several))
    down = "down to" if proof.smallest_p >= SMALLEST_SHOWN else "below"
    if proof.smallest_p > LEVEL:
        end = "the exact test can never come below p = {2}, so it alone cannot settle "
        end += "any of them." if several else "{3} against {4}."
    elif proof.smallest_p > LEVEL / max(comparisons, 1):
        end = f"the exact test can come {down} p = {{2}}: enough to settle "
        end += "one of them" if several else "{3} against {4}"
        end += " taken alone, too little for one of {5} comparisons."
    else:
        end = f"the exact test can come {down} p = {{2}}, which would settle "
        end += "each of them." if several else "{3} against {4}."
    names = (proof.comparison.a, proof.comparison.b)
    parts = (proof.units_a, proof.units_b, rounded_p(proof.smallest_p), *names, comparisons)
    return (*alone, Sentence(f"{_groups(proof)}, {end}", parts))


def _single_words(proof: Proof, *, several: bool) -> tuple[Sentence, ...]:
    """Return what is to be said of a side that is one coupon, or one column, alone."""
    if min(proof.units_a, proof.units_b) > 1:
        return ()
    thing = "column" if proof.by_column else "coupon"
    if several:
        return (Sentence(f"One side of each is a single {thing}, which can only tell a story."),)
    name = proof.comparison.a if proof.units_a <= 1 else proof.comparison.b
    return (Sentence(f"{{0}} is a single {thing}, which can only tell a story.", (name,)),)


def _nothing_to_go_by(proof: Proof, *, several: bool) -> Sentence:
    if several and proof.within_rows:
        return Sentence("Too few rows hold both sides of a comparison for an exact test to show anything.")
    if several:
        return Sentence("The lots leave too few other arrangements for an exact test.")
    names = (proof.comparison.a, proof.comparison.b)
    if proof.within_rows:
        return Sentence("Too few rows hold both {0} and {1} for an exact test to show anything.", names)
    return Sentence("The lots leave too few other arrangements of {0} and {1} for an exact test.", names)


def _groups(proof: Proof) -> str:
    things = "columns" if proof.by_column else "coupons"
    where = ", hung by lot within rows" if proof.within_rows else ""
    if proof.units_a == proof.units_b:
        return f"With {{0}} {things} each{where}"
    return f"With {{0}} and {{1}} {things}{where}"


def rounded_p(p: float) -> PValue:
    """Return a p value with two figures, as people read them; a very small one as `SMALLEST_SHOWN`."""
    return PValue(max(float(f"{p:.2g}"), SMALLEST_SHOWN))


def simulated_words(
    simulated: Simulated, proof: Proof, worthwhile: float, *, several: bool = False
) -> tuple[Sentence, ...]:
    """Return what the simulation found for a comparison, or for several alike."""
    return (
        _detectable_words(simulated, proof, several=several),
        _needed_words(simulated, proof, worthwhile),
    )


def _detectable_words(simulated: Simulated, proof: Proof, *, several: bool) -> Sentence:
    if simulated.no_test == "rows":
        if several:
            return Sentence("No rows link the two sides, so a difference cannot be told from one between rows.")
        return Sentence(
            "No rows link {0} and {1}, so a difference between them cannot be told from one between rows.",
            (proof.comparison.a, proof.comparison.b),
        )
    if simulated.no_test:
        return Sentence(
            "Nothing on this board is done twice, so nothing shows how much luck there is in a difference."
        )
    if simulated.detectable is None:
        return Sentence("A t test would not find even a difference of the whole scale 8 times in 10.")
    return of_grades(
        simulated.detectable,
        "A t test, which trusts more than the lots, would find a difference of 1 grade 8 times in 10.",
        "A t test, which trusts more than the lots, would find a difference of {0} grades 8 times in 10.",
    )


def _needed_words(simulated: Simulated, proof: Proof, worthwhile: float) -> Sentence:
    things = "columns" if proof.by_column else "coupons"
    if simulated.needed is None:
        return of_grades(
            worthwhile,
            f"To find a difference of 1 grade, even {{1}} {things} of every treatment are too few.",
            f"To find a difference of {{0}} grades, even {{1}} {things} of every treatment are too few.",
            simulated.most,
        )
    return of_grades(
        worthwhile,
        f"For a difference of 1 grade it takes {{1}} {things} of every treatment.",
        f"For a difference of {{0}} grades it takes {{1}} {things} of every treatment.",
        simulated.needed,
    )


def layout_cautions(state: LayoutState, spread: Spread, shown: int, asked: int) -> tuple[Sentence, ...]:
    """Return what is to be said about the whole layout and about what the figures lean on.

    Args:
        state: of the layout.
        spread: between coupons treated alike.
        shown: how many comparisons are worked out.
        asked: how many the question has.
    """
    found = [*_lots_cautions(state), *_hanging_cautions(state, spread), *_spread_cautions(spread)]
    if spread.of_columns and not state.by_column:
        found.append(
            Sentence(
                "The spread was partly seen between whole columns of earlier boards, which mostly vary less than "
                "single coupons; the figures may be too good."
            )
        )
    if asked > shown:
        found.append(Sentence("The question has {0} comparisons; the first {1} are worked out here.", (asked, shown)))
    return tuple(found)


def _lots_cautions(state: LayoutState) -> list[Sentence]:
    if state.method == "hand":
        return [
            Sentence(
                "Nobody drew lots for the positions. Every p value then leans on the assumption that no position is "
                "better than another."
            )
        ]
    if not state.drawn:
        return [Sentence("The lots are not drawn yet; these figures are for lots drawn by the rules of the layout.")]
    found = []
    if state.grid_changed:
        found.append(
            Sentence(
                "The board's rows or columns were changed after the lots were drawn; the figures are for the grid as "
                "it is now."
            )
        )
    if state.moved:
        found.append(
            _counted(
                state.moved,
                "1 coupon hangs elsewhere than the lots put it; the exact test goes by the lots.",
                "{0} coupons hang elsewhere than the lots put them; the exact test goes by the lots.",
            )
        )
    if state.without_lot:
        found.append(
            _counted(
                state.without_lot,
                "1 coupon was hung or given its treatment after the lots were drawn; the exact test leaves it where "
                "it is. Before the exposure, lots can be drawn again to include it.",
                "{0} coupons were hung or given their treatment after the lots were drawn; the exact test leaves "
                "them where they are. Before the exposure, lots can be drawn again to include them.",
            )
        )
    return found


def _hanging_cautions(state: LayoutState, spread: Spread) -> list[Sentence]:
    found = []
    if state.beside_board:
        found.append(
            _counted(
                state.beside_board,
                "1 coupon is not on the board and does not count here.",
                "{0} coupons are not on the board and do not count here.",
            )
        )
    if state.by_column:
        found.append(Sentence(_WHOLE_COLUMNS if _is_of_columns(spread) else f"{_WHOLE_COLUMNS} {_COLUMN_AS_COUPON}"))
    if state.drips:
        found.append(
            _counted(
                state.drips,
                "1 coupon drips on one of another treatment; what runs down can make treatments look alike.",
                "{0} coupons drip on one of another treatment; what runs down can make treatments look alike.",
            )
        )
    if state.without_treatment:
        found.append(
            _counted(
                state.without_treatment,
                "1 test coupon has no treatment and is in no comparison.",
                "{0} test coupons have no treatment and are in no comparison.",
            )
        )
    return found


def _is_of_columns(spread: Spread) -> bool:
    return 0 < spread.degrees_of_freedom == spread.of_columns


def _spread_cautions(spread: Spread) -> list[Sentence]:
    if spread.too_few:
        start = "Your earlier boards have too few coupons treated alike to tell the spread: {1} beyond the first of "
        start += "each treatment, where it takes {2}. "
        return [
            of_grades(
                spread.sd,
                f"{start}That they differ by 1 grade (standard deviation) is assumed.",
                f"{start}That they differ by {{0}} grades (standard deviation) is assumed.",
                spread.too_few,
                LEAST_DEGREES,
            )
        ]
    if not spread.degrees_of_freedom:
        return [
            of_grades(
                spread.sd,
                "That coupons treated alike differ by 1 grade (standard deviation) is assumed, not measured.",
                "That coupons treated alike differ by {0} grades (standard deviation) is assumed, not measured.",
            )
        ]
    if spread.degrees_of_freedom < _LITTLE_FREEDOM:
        return [
            Sentence("The spread on earlier boards was seen in few coupons; the true one may well be twice as large.")
        ]
    return []


def _counted(number: int, one: str, several: str) -> Sentence:
    return Sentence(one if number == 1 else several, (number,))
