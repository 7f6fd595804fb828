"""Outlines suggested from a photo: where the coupons' edges are seen on the straightened board."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from rustboard.board.model import Board, Outline, Photo
from rustboard.session.jobs import Progress
from rustboard.session.photo_files import PhotoFile, photo_file
from rustboard.session.pictures import outline_on_board
from rustboard.session.session import Session
from rustboard.support.problems import InputError


@dataclass(frozen=True, slots=True)
class SuggestionRequest:
    """In which photo to look for which coupons.

    Attributes:
        near: by coupon key, about where each is, mm on the board.
    """

    file: PhotoFile
    board: Board
    near: Mapping[int, Outline]


@dataclass(frozen=True, slots=True)
class Suggestions:
    """What was found.

    Attributes:
        outlines: by coupon key. missing: coupons of which no edge was found.
    """

    outlines: Mapping[int, Outline]
    missing: tuple[int, ...] = ()


def suggestion_request(session: Session, photo: Photo, coupons: tuple[int, ...]) -> SuggestionRequest | None:
    """Return how to look for outlines; None when the photo is not placed or its file is missing."""
    file = photo_file(session.folder, photo)
    if file is None or photo.mm_to_px is None:
        return None
    record = session.record
    near = {key: outline_on_board(record, record.coupons[key]) for key in coupons if key in record.coupons}
    return SuggestionRequest(file, record.board, {key: each for key, each in near.items() if len(each) >= 3})


def suggest_outlines(request: SuggestionRequest, progress: Progress) -> Suggestions:
    """Look for the edges of coupons in a photo; a job.

    Raises:
        InputError: the photo cannot be read, or the board was not found in it.
    """
    raise InputError("Outlines cannot be suggested from a picture yet; draw them.")
