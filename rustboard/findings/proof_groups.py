"""Comparisons of which the same can be said, put together, so that six waxes and a control are read about once."""

from __future__ import annotations

from collections.abc import Hashable
from dataclasses import dataclass

from rustboard.findings.proof_table import Proof, ProofTable
from rustboard.findings.proof_words import exact_words, simulated_words
from rustboard.findings.sentence import Sentence


@dataclass(frozen=True, slots=True)
class ProofGroup:
    """Comparisons with the same figures.

    Attributes:
        proofs: one or more.
        sentences: what is to be said of them.
    """

    proofs: tuple[Proof, ...]
    sentences: tuple[Sentence, ...]

    @property
    def first(self) -> Proof:
        """One that stands for all."""
        return self.proofs[0]


def groups_of(table: ProofTable) -> list[ProofGroup]:
    """Return the comparisons of a table, those alike together, in the order of the first of each group."""
    alike: dict[Hashable, list[Proof]] = {}
    for each in table.proofs:
        figures = (each.units_a, each.units_b, each.by_column, each.within_rows, each.arrangements, each.smallest_p)
        alike.setdefault((*figures, each.simulated), []).append(each)
    return [_group(proofs, table) for proofs in alike.values()]


def _group(proofs: list[Proof], table: ProofTable) -> ProofGroup:
    first = proofs[0]
    if len(proofs) == 1:
        return ProofGroup((first,), first.sentences)
    words = exact_words(first, table.asked, several=True)
    if first.simulated is not None:
        words += simulated_words(first.simulated, first, table.worthwhile, several=True)
    return ProofGroup(tuple(proofs), words)
