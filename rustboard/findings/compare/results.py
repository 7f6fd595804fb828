"""What a comparison came to: by the model, by the exact test, and how sure that makes anybody."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from rustboard.board.comparisons import Comparison
from rustboard.findings.compare.shifts import Shift
from rustboard.findings.sentence import Sentence
from rustboard.findings.spread import Spread

Method = Literal["one", "studentized range", "many to one", "simulated", "bonferroni"]
"""How the interval is widened so that all intervals of the question hold together 95 times in 100: not at all (one
comparison), by the studentized range (all pairs), by Dunnett's distribution (all with the controls), by simulation of
the comparisons' own correlations, or by Bonferroni's bound."""

NoModel = Literal["", "replicates", "rows"]
"""Why there is no model: nothing on the board says how much luck there is; the sides share no row."""

Standing = Literal["better", "worse", "leans better", "leans worse", "open"]
"""Of the first side: shown better, shown worse; seen so by the model alone, where the exact test should have the say
and cannot confirm it, or where the spread is borrowed from other boards or assumed; cannot be told apart."""


@dataclass(frozen=True, slots=True)
class ModelResult:
    """A difference by the model of means with rows as blocks and pooled error.

    Attributes:
        difference: first side less the second, in the measure's unit.
        low, high: 95 % interval, all comparisons of the question together.
        p: that all comparisons together would by luck alone show one as large; two-sided.
        standard_error: of the difference.
        sd: of a unit within its group, pooled. degrees_of_freedom: it rests on; 0 = it is assumed.
        method: how the interval was made to hold together with the others.
    """

    difference: float
    low: float
    high: float
    p: float
    standard_error: float
    sd: float
    degrees_of_freedom: int
    method: Method


@dataclass(frozen=True, slots=True)
class ExactResult:
    """What the exact permutation test of one comparison found.

    Attributes:
        p: two-sided, of this comparison alone.
        smallest: the smallest p that this board could give.
        arrangements: in how many ways the lots could have fallen.
        sampled: how many of them were drawn where they are too many to count; 0 = all were counted.
        p_family: after closed testing over all comparisons of the question: as small as this, the chance of any false
            difference among all of them stays within it. None where it has not been worked out.
        at_least: whether ``p_family`` is known only to be this or larger, because it is far from deciding anything.
    """

    p: float
    smallest: float
    arrangements: int
    sampled: int = 0
    p_family: float | None = None
    at_least: bool = False


@dataclass(frozen=True, slots=True)
class Compared:
    """One comparison and all that is known of it.

    Attributes:
        comparison: the groups, with the coupons that have a value.
        id_a, id_b: ids of treatments, names of families or levels; ``control`` for the controls.
        values_a, values_b: of the units on each side.
        model: None where there is none, for the reason ``no_model``.
        borrowed: whether the spread within groups is borrowed from other boards or assumed.
        exact: None while it has not been worked out.
        standing: how the first side stands to the second.
        doubts: why the model is not to be trusted here; the exact test has the say then.
        notes: what to know that does not weaken the difference.
        shift: median of all differences with its exact interval, of this comparison alone; None where ranks over the
            whole of it, or pair by pair, are not what the lots allow, and where times are compared.
    """

    comparison: Comparison
    id_a: str
    id_b: str
    values_a: tuple[float, ...]
    values_b: tuple[float, ...]
    model: ModelResult | None = None
    no_model: NoModel = ""
    borrowed: bool = False
    exact: ExactResult | None = None
    standing: Standing = "open"
    doubts: tuple[Sentence, ...] = ()
    notes: tuple[Sentence, ...] = ()
    shift: Shift | None = None


@dataclass(frozen=True, slots=True)
class Overall:
    """Whether there is any difference between the groups at all.

    Attributes:
        test: ``Friedman``: ranks within rows. ``Kruskal-Wallis``: ranks over the board.
        statistic: of the test, with correction for ties.
        p: by exchanging labels as the lots could have fallen. sampled: arrangements drawn, 0 = all counted.
        groups: how many.
    """

    test: Literal["Friedman", "Kruskal-Wallis"]
    statistic: float
    p: float
    sampled: int
    groups: int


@dataclass(frozen=True, slots=True)
class Comparing:
    """All comparisons of the question.

    Attributes:
        compared: in the order of the comparisons.
        letters: by id of group; groups that share a letter cannot be told apart.
        spread: that was borrowed where no group has replicates, or None.
        overall: whether there is any difference at all, or None.
        doubts: about the model as a whole.
    """

    compared: tuple[Compared, ...]
    letters: dict[str, str]
    spread: Spread | None = None
    overall: Overall | None = None
    doubts: tuple[Sentence, ...] = ()
