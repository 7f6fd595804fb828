"""A decoded photo made ready for all steps that look at it."""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np

from rustboard.photo.looks import Rgb


@dataclass(frozen=True, slots=True, eq=False)
class Source:
    """A photo, made ready once for all that is looked for in it and cut from it.

    Attributes:
        picture: the upright photo, H x W x 3.
        half: the same at half its size; an odd last row or column is left out.
    """

    picture: Rgb
    half: Rgb


def source_of(photo: Rgb | Source) -> Source:
    """Return a photo made ready; as it is, if it has been made so before."""
    if isinstance(photo, Source):
        return photo
    height, width = (each // 2 for each in photo.shape[:2])
    if not height or not width:
        return Source(photo, np.zeros((height, width, 3), np.uint8))
    whole = photo[: 2 * height, : 2 * width]
    return Source(photo, np.asarray(cv2.resize(whole, (width, height), interpolation=cv2.INTER_AREA), np.uint8))
