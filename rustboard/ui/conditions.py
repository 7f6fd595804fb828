"""What is so in a window just now, for enabling its actions."""

from __future__ import annotations

from rustboard.board.record import left_out_by_coupon
from rustboard.ui.actions import When
from rustboard.ui.board_page import BoardPage


def conditions_of(page: BoardPage | None, *, away: bool = False) -> set[When]:
    """Return what is so of the board shown; None while all boards are.

    While its plan or its photos are in view (``away``), nothing can be done to a coupon that is not seen.
    """
    true: set[When] = {"always"}
    if page is None:
        return true
    true.add("board")
    if not away:
        true.add("tiles")
    session = page.session
    if session.record.photos:
        true.add("photo")
    if session.read_only_reason:
        return true
    true.add("writable")
    if session.record.photos:
        true.add("own photo")
    if not away:
        true.add("own tiles")
    coupon = None if away else page.current_coupon()
    inspection = None if away else session.selection.inspection
    steps: tuple[tuple[When, object], ...] = (
        ("undo", session.undo_summary()),
        ("redo", session.redo_summary()),
        ("changed", session.can_go_back()),
        ("inspection", inspection),
        ("coupon", coupon),
        ("visited", coupon and inspection),
        ("left out", coupon in left_out_by_coupon(session.record)),
        ("graded", session.record.grading(coupon or 0, inspection or 0)),
    )
    return true | {name for name, is_so in steps if is_so}
