"""Outlines suggested from a photo: where coupons stand out from the straightened board."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from rustboard.board.model import Board, Outline, Photo
from rustboard.board.outline import bounds, outline_fault, without_repeats
from rustboard.board.position import Position
from rustboard.session.board_views import BoardViewRequest, board_view, board_view_request
from rustboard.session.jobs import Progress
from rustboard.session.session import Session

PIXELS_PER_MM: Final = 2.0
"""Of the straightened board that is looked at; the search itself needs less."""

LEAST_CERTAINTY: Final = 0.25
"""What stands out less than this from the board is not suggested (our own choice)."""

_MOST_PX: Final = 4_000
_DECIMALS: Final = 2


@dataclass(frozen=True, slots=True)
class SuggestionRequest:
    """In which photo to look for which coupons.

    Attributes:
        view: how to straighten the board.
        places: by coupon key, the position it hangs at. off: coupons that hang nowhere.
    """

    view: BoardViewRequest
    board: Board
    places: Mapping[int, Position]
    off: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Suggestions:
    """What was found.

    Attributes:
        outlines: by coupon key. missing: coupons of which nothing was found.
    """

    outlines: Mapping[int, Outline]
    missing: tuple[int, ...] = ()


def suggestion_request(session: Session, photo: Photo, coupons: tuple[int, ...]) -> SuggestionRequest | None:
    """Return how to look for outlines; None when the photo is not placed or missing, or the board has no size."""
    record = session.record
    board = record.board
    view = board_view_request(session, photo, max(1, min(_MOST_PX, round(board.width_mm * PIXELS_PER_MM))))
    if view is None:
        return None
    wanted = [record.coupons[key] for key in coupons if key in record.coupons]
    places = {each.key: each.position for each in wanted if each.position is not None}
    return SuggestionRequest(view, board, places, tuple(each.key for each in wanted if each.position is None))


def suggest_outlines(request: SuggestionRequest, progress: Progress) -> Suggestions:
    """Look for coupons in a photo; a job.

    Raises:
        InputError: the photo cannot be read.
    """
    from rustboard.photo.hanging import suggest

    progress.step(0, 2)
    seen = board_view(request.view, Progress())
    progress.step(1, 2)
    board = request.board
    found = suggest.suggest_outlines(
        seen.rgb, seen.pixels_per_mm, board.rows, board.columns, list(request.places.values())
    )
    by_position = {each.position: each for each in found if each.certainty >= LEAST_CERTAINTY}
    outlines: dict[int, Outline] = {}
    for key, position in request.places.items():
        suggestion = by_position.get(position)
        outline = () if suggestion is None else _on_board(suggestion.outline_mm, board)
        if outline and not outline_fault(outline, board):
            outlines[key] = outline
    missing = tuple(key for key in request.places if key not in outlines)
    return Suggestions(outlines, (*missing, *request.off))


def _on_board(outline: Outline, board: Board) -> Outline:
    """Return an outline from its top left corner on, clockwise as found, shifted back where it juts out by a hair."""
    left, top, right, bottom = bounds(outline)
    across = max(0.0, -left) or min(0.0, board.width_mm - right)
    down = max(0.0, -top) or min(0.0, board.height_mm - bottom)
    first = min(range(len(outline)), key=lambda number: sum(outline[number]))
    turned = outline[first:] + outline[:first]
    return without_repeats(tuple((round(x + across, _DECIMALS), round(y + down, _DECIMALS)) for x, y in turned))
