"""What a board will be able to prove, worked out before anything is hung.

A frozen `ProofRequest` is made from a record; `quick_proof` answers at once what can be counted, `proof_of` also what
must be simulated, beside the window.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from rustboard.board.comparisons import Comparison, comparisons_of
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.findings.exchange import exchange_of
from rustboard.findings.hung import hung_board
from rustboard.findings.proof_table import LayoutState, Proof, ProofTable
from rustboard.findings.proof_words import exact_words, layout_cautions, simulated_words
from rustboard.findings.smallest_p import arrangements, smallest_p
from rustboard.findings.spread import Spread, usable_spread
from rustboard.findings.units import Exchanges, HungBoard

if TYPE_CHECKING:
    from rustboard.findings.power import Progress

MOST_COMPARISONS: Final = 200


@dataclass(frozen=True, slots=True)
class ProofRequest:
    """All that the proof of a board is worked out from.

    Attributes:
        board: the coupons and how they were drawn.
        comparisons: of the question, at most `MOST_COMPARISONS`.
        asked: how many the question has.
        worthwhile: difference in grades that matters to the user.
        spread: between coupons treated alike.
        state: of the layout.
    """

    board: HungBoard
    comparisons: tuple[Comparison, ...]
    asked: int
    worthwhile: float
    spread: Spread
    state: LayoutState


def spread_for(question: Question, earlier: Spread | None) -> Spread:
    """Return the spread to lean on: the user's assumption, else that of earlier boards, else the program's own."""
    if question.assumed_sd is not None:
        return Spread(question.assumed_sd, 0)
    return usable_spread(earlier)


def proof_request(record: BoardRecord, earlier: Spread | None) -> ProofRequest:
    """Freeze what a board's proof is worked out from.

    Lots that are not drawn yet are drawn here for a trial: the figures are then those of any such lots, near enough.

    Args:
        record: the board.
        earlier: spread on the user's earlier boards, or None.
    """
    question = record.question or Question()
    comparisons = comparisons_of(question, record)
    board, state = hung_board(record)
    return ProofRequest(
        board,
        tuple(comparisons[:MOST_COMPARISONS]),
        len(comparisons),
        question.worthwhile,
        spread_for(question, earlier),
        state,
    )


def quick_proof(request: ProofRequest) -> ProofTable:
    """Return what can be counted at once."""
    exchanges = Exchanges(request.board)
    cautions = layout_cautions(request.state, request.spread, len(request.comparisons), request.asked)
    proofs = tuple(_counted(each, request, exchanges) for each in request.comparisons)
    return ProofTable(proofs, cautions, request.spread, request.worthwhile, request.asked)


def _counted(comparison: Comparison, request: ProofRequest, lots: Exchanges) -> Proof:
    board = request.board
    exchanges = [exchange_of(each) for each in lots.of(comparison)]
    proof = Proof(
        comparison,
        units_a=sum(each.of_a for each in exchanges),
        units_b=sum(each.of_b for each in exchanges),
        by_column=board.columns_are_units,
        within_rows=board.rows_are_blocks,
        arrangements=arrangements(exchanges),
        smallest_p=smallest_p(exchanges),
        simulated=None,
        sentences=(),
    )
    return replace(proof, sentences=exact_words(proof, request.asked))


def proof_of(request: ProofRequest, progress: Progress | None = None) -> ProofTable:
    """Return also what must be simulated.

    Args:
        request: what it is worked out from.
        progress: told how far the work is; may end it by raising.
    """
    from rustboard.findings.simulation import simulate

    table = quick_proof(request)
    found = simulate(
        request.board, request.comparisons, request.worthwhile, request.spread.sd, progress, asked=request.asked
    )
    return replace(
        table,
        proofs=tuple(
            replace(
                proof,
                simulated=simulated,
                sentences=(*proof.sentences, *simulated_words(simulated, proof, request.worthwhile)),
            )
            for proof, simulated in zip(table.proofs, found, strict=True)
        ),
    )
