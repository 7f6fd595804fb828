"""Finding the board in one photo, the surest way first: markers, then an earlier photo; taps are the person's own."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from rustboard.board.model import Board, Marker
from rustboard.photo.finding.found import FoundBoard as FoundBoard
from rustboard.photo.finding.found import UprightPixels as UprightPixels
from rustboard.photo.finding.grey_levels import GreyLevels
from rustboard.photo.finding.markers import placed_by_markers
from rustboard.photo.finding.view import PlacedView as PlacedView
from rustboard.photo.finding.view import placed_by_view
from rustboard.photo.source import Source
from rustboard.support.problems import InputError

_LEAST_SIDE_PX: Final = 64
"""A strip of pixels is no photo of a board, and cannot be looked at in several sizes."""


def find_board(
    photo: UprightPixels | Source, board: Board, markers: Sequence[Marker], earlier: Sequence[PlacedView] = ()
) -> FoundBoard:
    """Return where an upright photo shows the board.

    Args:
        photo: upright, H x W x 3; or made ready for several steps.
        board: whose size is known, or whose markers stand for it.
        markers: as the record has them; none when the board has none.
        earlier: photos placed before, the likeliest first; used when the markers do not place this one.

    Raises:
        InputError: the photo does not fit; one sentence says why and what to do.
    """
    picture = photo.picture if isinstance(photo, Source) else photo
    if min(picture.shape[:2]) < _LEAST_SIDE_PX:
        raise InputError("This picture is too small to show a board; photograph the whole board.")
    levels = GreyLevels(photo)
    refusal: InputError | None = None
    if markers:
        try:
            return placed_by_markers(levels, board, markers)
        except InputError as error:
            refusal = error
    try:
        found = placed_by_view(levels, board, earlier)
    except InputError as error:
        if refusal is not None:
            raise refusal from error
        raise
    if refusal is None:
        return found
    why = f"Placed by an earlier photo, not by its markers: {refusal.problem.what}"
    return FoundBoard(found.placement, found.method, found.error_px, (*found.warnings, why))
