"""The board by four taps."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from rustboard.board.model import Board
from rustboard.photo.finding.found import FoundBoard, board_corners, checked
from rustboard.photo.homography import placed_by_corners
from rustboard.photo.placement import Placement, straightened
from rustboard.support.problems import InputError


def placed_by_taps(
    board: Board, taps_px: Sequence[tuple[float, float]], size_px: tuple[int, int], lens: float = 0.0
) -> FoundBoard:
    """Return where a photo shows the board, from its four corners as a person tapped them.

    Args:
        board: whose size is known.
        taps_px: in the upright photo, clockwise from the board's top left.
        size_px: width and height of the photo.
        lens: how the lens bends, from other photos of the same camera.

    Raises:
        InputError: the taps are no board, the board has no size, or it could not be measured there.
    """
    taps = np.asarray(taps_px, np.float64)
    if taps.shape != (4, 2) or not np.isfinite(taps).all():
        raise InputError("A board is placed by four corners; give x and y of each.")
    ideal = straightened(taps, size_px, lens)
    homography = placed_by_corners([(float(x), float(y)) for x, y in ideal], board.width_mm, board.height_mm)
    placement = Placement(homography, size_px, lens)
    return FoundBoard(placement, "corners", None, checked(placement, board_corners(board), None))
