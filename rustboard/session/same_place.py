"""A new photo held against an earlier one, before it is added: was it taken from the same place?"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.model import Photo
from rustboard.session.board_views import WholeView, WholeViewRequest, whole_view
from rustboard.session.jobs import Progress
from rustboard.session.photo_files import MOST_PHOTO_BYTES, PhotoFile, photo_file, placement_of
from rustboard.session.placing import FindRequest, find_board_in
from rustboard.session.session import Session
from rustboard.support.files import read_bounded, shown_name
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    from rustboard.photo.camera_place import CameraMove

VIEW_PX: Final = 1_600


@dataclass(frozen=True, slots=True)
class HeldAgainstRequest:
    """Which file to hold against which photo on the board; ``earlier`` as for finding the board."""

    file: Path
    against: Photo
    find: FindRequest


@dataclass(frozen=True, slots=True, eq=False)
class HeldAgainst:
    """What came of it.

    Attributes:
        name: of the file. view: the new photo, reduced.
        move: how far the camera was moved, or None when the board was not found. because: why not.
        cut_off: numbers of the board's corners that the photo does not show, 0 = top left, clockwise.
    """

    name: str
    view: WholeView
    move: CameraMove | None = None
    because: str = ""
    cut_off: tuple[int, ...] = ()


def held_against_request(session: Session, against: Photo, file: Path) -> HeldAgainstRequest | None:
    """Return how to hold a file against a photo; None when that one is not placed or its file is missing."""
    earlier = photo_file(session.folder, against)
    if earlier is None or against.mm_to_px is None:
        return None
    record = session.record
    return HeldAgainstRequest(file, against, FindRequest(earlier, record.board, record.markers, (earlier,)))


def hold_against(request: HeldAgainstRequest, progress: Progress) -> HeldAgainst:
    """Find the board in a new photo and compare where the camera stood; a job.

    Raises:
        InputError: the file is no picture that can be read.
    """
    from dataclasses import replace

    from rustboard.photo.decode import size_of

    name = shown_name(request.file)
    data = read_bounded(request.file, MOST_PHOTO_BYTES)
    width, height = size_of(data, name)
    photo = Photo(name, "", hashlib.sha256(data).hexdigest(), width, height)
    del data
    file = PhotoFile(photo, request.file)
    progress.step(1, 3)
    view = whole_view(WholeViewRequest(file, VIEW_PX), Progress())
    progress.step(2, 3)
    placing = find_board_in(replace(request.find, file=file), Progress())
    if placing.mm_to_px is None:
        return HeldAgainst(name, view, because=placing.because)
    found = replace(photo, mm_to_px=placing.mm_to_px, lens=placing.lens)
    return _compared(request, found, HeldAgainst(name, view))


def _compared(request: HeldAgainstRequest, found: Photo, held: HeldAgainst) -> HeldAgainst:
    from dataclasses import replace

    from rustboard.photo.camera_place import camera_move

    first, second = placement_of(request.against), placement_of(found)
    board = request.find.board
    if first is None or second is None:
        return held
    wide, high = board.width_mm, board.height_mm
    corners = second.to_px([(0, 0), (wide, 0), (wide, high), (0, high)]).tolist()
    cut_off = tuple(
        number
        for number, (x, y) in enumerate(corners)
        if not (0 <= x <= found.width_px and 0 <= y <= found.height_px)
    )
    try:
        move = camera_move(first, second, (wide / 2, high / 2))
    except InputError as error:
        return replace(held, because=error.problem.what, cut_off=cut_off)
    return replace(held, move=move, cut_off=cut_off)
