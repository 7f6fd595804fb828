"""A photo as the screens show it: the board straightened, or the whole photo reduced. Both are jobs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from rustboard.board.model import Photo
from rustboard.session.jobs import Progress
from rustboard.session.photo_files import PhotoFile, photo_file
from rustboard.session.session import Session
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Rgb = NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class BoardViewRequest:
    """Which photo's board to straighten, and how wide."""

    file: PhotoFile
    width_mm: float
    height_mm: float
    width_px: int


@dataclass(frozen=True, slots=True, eq=False)
class BoardView:
    """The board straightened.

    Attributes:
        rgb: H x W x 3; grey where the photo shows nothing.
        pixels_per_mm: of the picture, whose top left corner is the board's.
    """

    rgb: Rgb
    pixels_per_mm: float


def board_view_request(session: Session, photo: Photo, width_px: int) -> BoardViewRequest | None:
    """Return how to straighten the board in a photo; None when it is not placed or missing, or the board sizeless."""
    board = session.record.board
    file = photo_file(session.folder, photo)
    if file is None or photo.mm_to_px is None or not (board.width_mm and board.height_mm):
        return None
    return BoardViewRequest(file, board.width_mm, board.height_mm, width_px)


def board_view(request: BoardViewRequest, progress: Progress) -> BoardView:
    """Straighten the board in a photo; a job.

    Raises:
        InputError: the photo cannot be read.
    """
    from rustboard.photo.crops import cut_board
    from rustboard.photo.decode import open_upright

    progress.step(0, 2)
    photo = request.file.photo
    image = open_upright(request.file.read(), photo.name)
    progress.step(1, 2)
    placement = request.file.placement()
    if placement is None:
        raise InputError("The board was not found in this photo.", file=photo.name)
    box = (0.0, 0.0, request.width_mm, request.height_mm)
    matrix = tuple(float(each) for each in placement.local(box).ravel())
    rgb = cut_board(image, matrix, request.width_mm, request.height_mm, request.width_px)
    return BoardView(rgb, rgb.shape[1] / request.width_mm)


@dataclass(frozen=True, slots=True)
class WholeViewRequest:
    """Which photo to show whole, and how large."""

    file: PhotoFile
    longest_px: int


@dataclass(frozen=True, slots=True, eq=False)
class WholeView:
    """A photo, upright and reduced.

    Attributes:
        rgb: H x W x 3.
        scale: pixels of this picture for one of the photo.
    """

    rgb: Rgb
    scale: float


def whole_view_request(session: Session, photo: Photo, longest_px: int) -> WholeViewRequest | None:
    """Return how to show a photo whole; None when its file is missing."""
    file = photo_file(session.folder, photo)
    return None if file is None else WholeViewRequest(file, longest_px)


def whole_view(request: WholeViewRequest, progress: Progress) -> WholeView:
    """Decode a photo and reduce it; a job.

    Raises:
        InputError: the photo cannot be read.
    """
    import numpy as np

    from rustboard.photo.decode import open_upright

    progress.step(0, 2)
    image = open_upright(request.file.read(), request.file.photo.name)
    progress.step(1, 2)
    width = image.width
    image.thumbnail((request.longest_px, request.longest_px))
    return WholeView(np.asarray(image), image.width / width)
