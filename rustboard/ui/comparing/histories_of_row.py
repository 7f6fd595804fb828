"""The histories of one treatment on all boards, one over the other, one ink and one kind of dashes a board."""

from __future__ import annotations

from collections.abc import Sequence

from rustboard.board.question import DEFAULT_FAILING_GRADE
from rustboard.board.series import band_series, inspection_days
from rustboard.findings.boards.matching import Common
from rustboard.session.comparing import ClockedBoards
from rustboard.support.text import printable
from rustboard.ui.comparing.comparing_words import say
from rustboard.ui.matched.histories import Histories, Track


def histories_of_row(clocked: ClockedBoards, row: Common, coupons: Sequence[Sequence[int]]) -> Histories | None:
    """Return the picture of a row; None where nothing of it was graded on a board with this clock.

    Args:
        clocked: the boards on the clock.
        row: the treatment.
        coupons: keys of its coupons on each board.
    """
    tracks = []
    for number, (board, keys) in enumerate(zip(clocked.boards, coupons, strict=True)):
        if board.clock is None or not keys:
            continue
        series = band_series(board.record, keys, inspection_days(board.record))
        if series.points:
            tracks.append(Track("", board.name, number, number, series, board.clock.places))
    if not tracks:
        return None
    title = say("{0}, board by board").format(printable(row.name))
    how = say(
        "Medians of the coupons treated alike on each board, at every inspection at which one was graded; each board "
        "has an ink and dashes of its own. A grade holds until the next inspection; where one was missed the line "
        "breaks. Each board is drawn a hair lower than the one before, so that none hides another."
    )
    return Histories(title, how, tuple(tracks), clocked.kind, DEFAULT_FAILING_GRADE)
