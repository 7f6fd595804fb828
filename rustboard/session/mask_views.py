"""One coupon in one photo, with what was measured on it: pictures for the photo screen, and the brush's preview."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from rustboard.board.measured import Measurement, Stroke
from rustboard.board.model import Photo
from rustboard.board.outline import bounds
from rustboard.session.coupon_frames import first_placed, frames_of, shown_frame
from rustboard.session.jobs import Progress
from rustboard.session.measuring_cache import MeasuringCache
from rustboard.session.photo_files import PhotoFile, photo_file
from rustboard.session.session import Session
from rustboard.support.paths import cache_folder
from rustboard.support.problems import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from rustboard.photo.judging.strokes import Stroke as BoardStroke
    from rustboard.photo.looks import CouponFrame

    Rgb = NDArray[np.uint8]
    Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class MaskRequest:
    """Which coupon to show as which photo has it.

    Attributes:
        frame: the coupon and its grid.
        found: what was measured, or None.
        strokes: of the brush, on this coupon in this photo, in their order.
        cache: folder of what can be made again.
    """

    file: PhotoFile
    frame: CouponFrame
    found: Measurement | None
    strokes: tuple[Stroke, ...]
    cache: Path


@dataclass(frozen=True, slots=True, eq=False)
class MaskView:
    """One coupon in one photo. All views of a coupon have the same size, and a pixel is the same place on the steel.

    Attributes:
        rgb: H x W x 3.
        rust, debris, unseen: H x W, or None when nothing was measured or the masks are no longer in the cache.
        surface: H x W, what counts.
        pixels_per_mm: of the picture.
        origin_mm: the outer corner of the top left pixel, from the top left corner of the box around the outline.
    """

    rgb: Rgb
    rust: Mask | None
    debris: Mask | None
    unseen: Mask | None
    surface: Mask
    pixels_per_mm: float
    origin_mm: tuple[float, float]


def mask_request(session: Session, photo: Photo, coupon: int) -> MaskRequest | None:
    """Return how to show a coupon in a photo; None when it is not placed, missing, or the coupon has no outline."""
    record = session.record
    file, first = photo_file(session.folder, photo), first_placed(record)
    if file is None or first is None or photo.mm_to_px is None:
        return None
    frame = frames_of(record, first).get(coupon)
    if frame is None:
        return None
    found = record.measured.get(photo.key, {}).get(coupon)
    return MaskRequest(file, frame, found, strokes_on(session, photo.key, coupon), cache_folder())


def strokes_on(session: Session, photo: int, coupon: int) -> tuple[Stroke, ...]:
    """Return the strokes of the brush on a coupon in a photo, in the order in which they were drawn."""
    found = [each for each in session.record.strokes.values() if (each.photo, each.coupon) == (photo, coupon)]
    return tuple(sorted(found, key=lambda each: each.key))


def mask_view(request: MaskRequest, progress: Progress) -> MaskView:
    """Cut a coupon from a photo and fetch its masks; a job.

    Raises:
        InputError: the photo cannot be read.
    """
    from rustboard.photo.cutting import cut_grid, significant
    from rustboard.photo.decode import upright_pixels
    from rustboard.photo.judging.masks import Masks, unpack
    from rustboard.photo.judging.strokes import with_strokes
    from rustboard.photo.looks import PAD_MM, Motion

    progress.step(0, 2)
    photo, frame, found = request.file.photo, request.frame, request.found
    placement = request.file.placement()
    if placement is None:
        raise InputError("The board was not found in this photo.", file=photo.name)
    picture = upright_pixels(request.file.read(), photo.name)
    progress.step(1, 2)
    motion = Motion(*found.motion) if found is not None else Motion()
    fine = shown_frame(frame)
    cut = cut_grid(picture, placement, fine, motion)
    packed = MeasuringCache(request.cache).masks(found.inputs) if found is not None else None
    view = MaskView(cut.rgb, None, None, None, significant(fine), fine.pixels_per_mm, (-PAD_MM, -PAD_MM))
    if packed is None:
        return view
    masks = unpack(packed)
    if masks.rust.shape != frame.shape:
        return view
    finer = Masks(*(_enlarged(each, fine.shape) for each in (masks.rust, masks.debris, masks.unseen)))
    finer = with_strokes(finer, [on_board(each, fine) for each in request.strokes], fine)
    return replace(view, rust=finer.rust, debris=finer.debris, unseen=finer.unseen)


def _enlarged(mask: Mask, shape: tuple[int, int]) -> Mask:
    import cv2
    import numpy as np

    times = -(-shape[0] // mask.shape[0])
    size = (mask.shape[1] * times, mask.shape[0] * times)
    # Smoothly, so that the rims of spots do not come in steps.
    larger = cv2.resize(mask.astype(np.uint8) * np.uint8(255), size, interpolation=cv2.INTER_LINEAR)
    found: Mask = larger[: shape[0], : shape[1]] > 127
    return found


def on_board(stroke: Stroke, frame: CouponFrame) -> BoardStroke:
    """Return a stroke with its path on the board, as measuring takes it."""
    from rustboard.photo.judging.strokes import Stroke as BoardStroke

    left, top, _, _ = bounds(frame.outline_mm)
    path = tuple((x + left, y + top) for x, y in stroke.points_mm)
    return BoardStroke(stroke.adds, stroke.radius_mm, path)


def with_stroke(view: MaskView, stroke: Stroke) -> MaskView:
    """Return a view as it looks with one more stroke, at once, for the preview while painting."""
    import numpy as np

    from rustboard.photo.judging.strokes import painted_on

    height, width = view.surface.shape
    scale, (left, top) = view.pixels_per_mm, view.origin_mm
    path = [((x - left) * scale, (y - top) * scale) for x, y in stroke.points_mm]
    under = painted_on((height, width), path, stroke.radius_mm * scale)
    nothing = np.zeros((height, width), np.bool_)
    rust = view.rust if view.rust is not None else nothing
    debris = view.debris if view.debris is not None else nothing
    unseen = view.unseen if view.unseen is not None else nothing
    rust = rust | under if stroke.adds else rust & ~under
    return replace(view, rust=rust, debris=debris & ~rust, unseen=unseen & ~under)


def percent_of(view: MaskView) -> float | None:
    """Return how much of what counts the view's mask shows as rust, whole pixels counted; None without a mask."""
    import numpy as np

    if view.rust is None:
        return None
    counted = np.count_nonzero(view.surface)
    return 100.0 * float(np.count_nonzero(view.rust & view.surface)) / counted if counted else 0.0
