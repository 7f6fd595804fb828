"""The pictures of a report, cut from the board's photos and scaled down: one photo at a time in memory."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from math import isfinite
from pathlib import Path
from typing import TYPE_CHECKING, Final

from rustboard.board.measured import Measurement
from rustboard.board.model import Outline, Photo
from rustboard.board.outline import bounds
from rustboard.board.record import BoardRecord
from rustboard.session.jobs import Progress
from rustboard.session.kept_pictures import KeptPictures
from rustboard.session.photo_files import PhotoFile, photo_file
from rustboard.session.pictures import outline_on_board, tile_px
from rustboard.session.report_photos import (
    IN_WORDS,
    ChosenPhoto,
    Moment,
    board_description,
    caption,
    chosen_photos,
    coupon_description,
    grades_in_words,
    moment_of,
    moments,
)
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

if TYPE_CHECKING:
    from rustboard.photo.decode import Upright
    from rustboard.photo.homography import Matrix
    from rustboard.report.choice import PictureMoment, ReportChoice, ReportPicture, ReportPictures

MOST_PICTURES: Final = 60
"""Photos and straightened boards of one report together."""
LONG_PX: Final = 1_000
"""Longer side of a photo and of the straightened board."""
COUPON_PX: Final = 260
"""Longer side of a coupon's picture."""
QUALITY: Final = 80
MOST_COUPON_PIXELS: Final = 6_000_000
"""Of all coupons at one time together."""

_ENOUGH_PX: Final = 3_000
"""Longer side at which a photo is decoded to cut coupons from it, where it is larger."""
_MARGIN_MM: Final = 2.0
_FARTHEST: Final = 1e6
"""In mm, and in pixels: no board is so large."""
_LEAST_MM: Final = 0.1
"""No board and no coupon is so small."""
_MOST_TRIES: Final = 5
_MOST_TOLD: Final = 8
_MADE_BY: Final = 1
"""To be raised when the same photo would be scaled otherwise."""
_KEPT: Final = KeptPictures("report", f"{LONG_PX}.jpg")
_MOST_KEPT: Final = 1_200


def report_pictures(record: BoardRecord, folder: Path, choice: ReportChoice, progress: Progress) -> ReportPictures:
    """Return the pictures for the parts of a report that are wanted. A job.

    A photo that is missing or damaged is left out and told of; so is nothing else. While an inspection is graded
    blind, no photo of its day or later is shown.

    Args:
        record: the board.
        folder: where it lies.
        choice: which parts are wanted, and how dates are written.
        progress: of all photos; may stop the work.

    Raises:
        Cancelled: ``progress`` was asked to stop.
    """
    from rustboard.report.choice import ReportPictures

    making = _Making(record, folder, choice, progress)
    cuts = making.cut_moments() if {"map", "photos"} & choice.parts else []
    photos = making.photos(MOST_PICTURES - len(cuts)) if "photos" in choice.parts else []
    making.done()
    return ReportPictures(
        tuple(each.board for each in cuts),
        tuple(each.coupons for each in cuts),
        tuple(photos),
        tuple(each.moment for each in cuts),
        making.told(),
    )


@dataclass(frozen=True, slots=True)
class _Cut:
    moment: PictureMoment
    board: ReportPicture
    coupons: dict[int, ReportPicture]


class _Making:
    """One report's pictures on their way: what was read, what could not be."""

    def __init__(self, record: BoardRecord, folder: Path, choice: ReportChoice, progress: Progress) -> None:
        self._record, self._folder, self._choice, self._progress = record, folder, choice, progress
        self._unread: dict[int, str] = {}
        self._steps = MOST_PICTURES + 1
        self._step = 0

    def done(self) -> None:
        """Tell that all is made."""
        self._progress.step(self._steps, self._steps)

    def told(self) -> tuple[str, ...]:
        """Return a sentence for each photo that could not be read; of very many the first."""
        said = list(self._unread.values())
        more = len(said) - _MOST_TOLD
        return tuple(said) if more <= 0 else (*said[:_MOST_TOLD], f"{more} more photos could not be shown either.")

    def cut_moments(self) -> list[_Cut]:
        """Cut the board and its coupons at the start, in the middle and at the end, from three different photos."""
        used: set[int] = set()
        found: list[_Cut] = []
        for name, candidates in moments(self._record):
            free = [each for each in candidates if each.key not in used and each.key not in self._unread]
            cut = self._first_readable(name, free[:_MOST_TRIES], used)
            if cut is not None:
                found.append(cut)
        return sorted(found, key=lambda each: each.moment.at)

    def photos(self, most: int) -> list[ReportPicture]:
        """Scale the photos of the photos' part down."""
        chosen = chosen_photos(self._record, most)
        self._steps = self._step + len(chosen) + 1
        return [picture for each in chosen if (picture := self._scaled(each)) is not None]

    def _first_readable(self, name: Moment, candidates: Sequence[Photo], used: set[int]) -> _Cut | None:
        for photo in candidates:
            self._next_step()
            moment = moment_of(self._record, name, photo)
            try:
                cut = None if moment is None else self._cut(self._file(photo), moment)
            except InputError as error:
                self._leave_out(photo, error)
                continue
            used.add(photo.key)
            return cut
        return None

    def _cut(self, file: PhotoFile, moment: PictureMoment) -> _Cut:
        cutter = _Cutter(self._record, file)
        photo = file.photo
        when = caption(self._record, photo, "", self._choice.writing)
        said = board_description(self._record, "Straightened photo", when, grades_in_words(self._record, photo))
        board = cutter.board(f"The board {IN_WORDS[moment.name]}: {when}", said)
        coupons = cutter.coupons(moment.name, when) if "map" in self._choice.parts else {}
        return _Cut(moment, board, coupons)

    def _scaled(self, chosen: ChosenPhoto) -> ReportPicture | None:
        self._next_step()
        photo = chosen.photo
        try:
            data = _scaled_photo(self._file(photo))
        except InputError as error:
            self._leave_out(photo, error)
            return None
        self._unread.pop(photo.key, None)  # where only its place was wrong
        line = caption(self._record, photo, chosen.reason, self._choice.writing)
        when = caption(self._record, photo, "", self._choice.writing)
        return _picture(
            data, line, board_description(self._record, "Photo", when, grades_in_words(self._record, photo))
        )

    def _file(self, photo: Photo) -> PhotoFile:
        file = photo_file(self._folder, photo)
        if file is None:
            raise InputError("Its file is not in the photos folder.", file=photo.name)
        return file

    def _leave_out(self, photo: Photo, error: InputError) -> None:
        when = caption(self._record, photo, "", self._choice.writing)
        self._unread[photo.key] = (
            f"The photo of {when} ({one_line(photo.name, 80)}) is left out: {error.problem.what}"
        )

    def _next_step(self) -> None:
        self._progress.step(min(self._step, self._steps), self._steps)
        self._step += 1


class _Cutter:
    """One decoded photo, and what is cut from it."""

    def __init__(self, record: BoardRecord, file: PhotoFile) -> None:
        import numpy as np

        from rustboard.photo.decode import open_upright

        placement = file.placement()
        if placement is None or not _likely(file.photo.lens, *placement.mm_to_px):
            raise InputError("The board was not found in this photo.", file=file.photo.name)
        self._record, self._photo, self._placement = record, file.photo, placement
        self._image: Upright = open_upright(file.read(), file.photo.name, _ENOUGH_PX)
        width, height = self._image.size
        self._smaller: Matrix = np.diag(
            [width / max(1, file.photo.width_px), height / max(1, file.photo.height_px), 1.0]
        )

    def board(self, line: str, description: str) -> ReportPicture:
        """Return the whole board straightened; the whole photo where the board's size is not known."""
        from rustboard.photo.crops import cut_board, encode_jpeg

        wide, high = self._record.board.width_mm, self._record.board.height_mm
        if not (_LEAST_MM <= wide <= _FARTHEST and _LEAST_MM <= high <= _FARTHEST):
            smaller = self._image.copy()
            smaller.thumbnail((LONG_PX, LONG_PX))
            return _picture(encode_jpeg(smaller, QUALITY), line, description)
        matrix = self._smaller @ self._placement.local((0.0, 0.0, wide, high))
        width = max(1, round(LONG_PX * min(1.0, wide / high)))
        rgb = cut_board(self._image, _numbers(matrix), wide, high, width)
        return _picture(encode_jpeg(rgb, QUALITY), line, description)

    def coupons(self, moment: Moment, when: str) -> dict[int, ReportPicture]:
        """Return every coupon on the board that the photo shows, as it hung then."""
        from rustboard.photo.crops import cut_coupon, encode_jpeg

        on_board = [each for each in self._record.coupons_in_order() if each.position is not None]
        found_outlines = {each.key: outline_on_board(self._record, each) for each in on_board}
        outlines = {
            key: outline for key, outline in found_outlines.items() if len(outline) >= 3 and _has_extent(outline)
        }
        longest = tile_px(outlines.values(), COUPON_PX, MOST_COUPON_PIXELS)
        found: dict[int, ReportPicture] = {}
        for coupon in on_board:
            outline = outlines.get(coupon.key)
            if outline is None:
                continue
            with suppress(InputError):  # one odd outline must not cost the others their pictures
                matrix = self._where(outline, self._record.measured.get(self._photo.key, {}).get(coupon.key))
                cut = cut_coupon(self._image, _numbers(matrix), outline, longest_px=longest, margin_mm=_MARGIN_MM)
                if cut.mask.any():
                    said = coupon_description(self._record, coupon, self._photo, moment)
                    line = f"{one_line(coupon.id, 40)}, {when}"
                    found[coupon.key] = _picture(encode_jpeg(cut.rgb, QUALITY), line, said)
        return found

    def _where(self, outline: Outline, measured: Measurement | None) -> Matrix:
        """Return where the photo shows a coupon: askew or shifted, where measuring found it so."""
        from rustboard.photo.looks import Motion

        left, top, right, bottom = bounds(outline)
        known = measured is not None and _likely(*measured.motion)
        motion = Motion(*measured.motion) if measured is not None and known else Motion()
        moving = motion.matrix(((left + right) / 2, (top + bottom) / 2))
        return self._smaller @ self._placement.local((left, top, right, bottom)) @ moving


def _scaled_photo(file: PhotoFile) -> bytes:
    """Return a photo scaled down, from the cache where it was scaled before.

    Raises:
        InputError: it is missing, damaged, or not the one that was added.
    """
    from rustboard.photo.crops import encode_jpeg
    from rustboard.photo.decode import open_upright, size_of

    data = file.read()
    made_from = (file.photo.sha256, LONG_PX, QUALITY, _MADE_BY)
    kept = _KEPT.find(made_from)
    if kept is not None:
        with suppress(InputError):  # what lies there may have been harmed
            if max(size_of(kept)) <= LONG_PX:
                return kept
    image = open_upright(data, file.photo.name, LONG_PX)
    del data
    image.thumbnail((LONG_PX, LONG_PX))
    scaled = encode_jpeg(image, QUALITY)
    _KEPT.keep(made_from, scaled, _MOST_KEPT)
    return scaled


def _picture(data: bytes, line: str, description: str) -> ReportPicture:
    from rustboard.photo.decode import size_of
    from rustboard.report.choice import ReportPicture

    return ReportPicture(data, *size_of(data), line, description)


def _has_extent(outline: Outline) -> bool:
    """Return whether an outline is one of a thing that can be seen."""
    if not all(_likely(*corner) for corner in outline):
        return False
    left, top, right, bottom = bounds(outline)
    return min(right - left, bottom - top) >= _LEAST_MM


def _likely(*numbers: float) -> bool:
    """Return whether no number is one that only a file holds that was altered."""
    return all(isfinite(each) and abs(each) <= _FARTHEST for each in numbers)


def _numbers(matrix: Matrix) -> tuple[float, ...]:
    return tuple(float(each) for each in matrix.ravel())
