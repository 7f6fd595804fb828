"""How the coupons hang: lots, coupons moved, drips, and groups that lie wholly in one row or column."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from rustboard.board.drain import drain_breaks
from rustboard.findings.amounts import listed
from rustboard.findings.coupons.subject import Subject
from rustboard.findings.doubts.residuals import CouponModel
from rustboard.findings.doubts.results import Doubt
from rustboard.findings.doubts.wording import counted, of_coupons
from rustboard.findings.sentence import Sentence


def layout_doubts(subject: Subject, model: CouponModel) -> list[Doubt]:
    """Return what speaks against the way the board hangs."""
    return [*_lots(subject), *_drips(subject), *_aside(subject), *_confounded(subject, model)]


def _lots(subject: Subject) -> Iterator[Doubt]:
    state, board = subject.state, subject.board
    if state.method == "hand":
        yield Doubt(
            "layout",
            "caution",
            Sentence("Nobody drew lots for the positions."),
            Sentence("Every p value leans on the assumption that no position was better than another."),
        )
        return
    if state.grid_changed:
        yield Doubt(
            "layout",
            "note",
            Sentence("The board's rows or columns were changed after the lots were drawn."),
            Sentence("What counts as a row, a column or the edge is that of the grid as it is now."),
        )
    moved = frozenset(
        now.coupon for now, then in zip(board.hung, board.drawn, strict=True) if now.position != then.position
    )
    if moved:
        yield Doubt(
            "layout",
            "caution",
            of_coupons(
                subject.record,
                moved,
                "{0} hangs elsewhere than the lots put it.",
                "{0} hang elsewhere than the lots put them.",
            ),
            Sentence("Somebody chose those places; the exact test goes by the lots."),
            moved,
        )
    if board.without_lot:
        yield Doubt(
            "layout",
            "caution",
            of_coupons(
                subject.record,
                board.without_lot,
                "{0} was hung, or given its treatment, after the lots were drawn.",
                "{0} were hung, or given their treatment, after the lots were drawn.",
            ),
            Sentence("Luck did not decide what hangs there; the exact test leaves such coupons where they are."),
            board.without_lot,
        )


def _drips(subject: Subject) -> Iterator[Doubt]:
    board, record = subject.board, subject.record
    below = frozenset(
        each.below for each in drain_breaks(board.hung, board.layout, record.board.incline_deg)
    ) & frozenset(subject.values)
    if below:
        yield Doubt(
            "layout",
            "caution",
            of_coupons(
                record,
                below,
                "{0} hangs below a coupon of another treatment, which drips on it.",
                "{0} hang below coupons of other treatments, which drip on them.",
            ),
            Sentence("What runs down can protect a coupon or rust it, and make treatments look alike."),
            below,
        )


def _aside(subject: Subject) -> Iterator[Doubt]:
    state, record = subject.state, subject.record
    beside = frozenset(key for key, each in record.coupons.items() if each.position is None and key in record.current)
    beside -= subject.left_out.keys()
    if beside:
        yield Doubt(
            "layout",
            "caution",
            of_coupons(
                record,
                beside,
                "{0} was graded but hangs nowhere on the board, and is in no comparison.",
                "{0} were graded but hang nowhere on the board, and are in no comparison.",
            ),
            Sentence("If coupons came down because they rusted, their groups look better than they are."),
            beside,
        )
    if state.without_treatment:
        yield Doubt(
            "layout",
            "note",
            counted(
                state.without_treatment,
                "1 test coupon has no treatment and is in no comparison.",
                "{0} test coupons have no treatment and are in no comparison.",
            ),
        )


def _confounded(subject: Subject, model: CouponModel) -> Iterator[Doubt]:
    """Yield groups of which all coupons share one row, or one column, while the board has several in use."""
    board = subject.board
    places = {each.coupon: each.position for each in board.hung if each.coupon in model.coupons}
    groups = [
        (each.name, mine)
        for each in subject.groups
        if len(mine := [places[key] for key in each.coupons if key in places]) > 1
    ]
    by_hand = subject.state.method == "hand"  # by lot, a few coupons may well come together by luck
    in_row = [name for name, mine in groups if len({each.row for each in mine}) == 1]
    in_column = [name for name, mine in groups if len({each.column for each in mine}) == 1]
    if in_row and len({each.row for each in places.values()}) > 1:
        yield _together(in_row, "row", "rows", by_hand=by_hand)
    if in_column and len({each.column for each in places.values()}) > 1:
        yield _together(in_column, "column", "columns", by_hand=by_hand)


def _together(names: Iterable[str], one: str, several: str, *, by_hand: bool) -> Doubt:
    there = list(names)
    pattern = (
        f"All coupons of {{0}} hang in one {one}."
        if len(there) == 1
        else f"In each of these groups all coupons hang in one {one}: {{0}}."
    )
    return Doubt(
        "layout",
        "serious" if by_hand else "caution",
        Sentence(pattern, (listed(there),)),
        Sentence(f"A difference between {several} of the board cannot be told from one between such treatments."),
    )
