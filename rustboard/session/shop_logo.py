"""A shop's logo: the user's picture made into a small clean one, without anything else that was in its file."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Final

from rustboard.session.jobs import Progress
from rustboard.support.files import read_bounded, shown_name
from rustboard.support.problems import InputError

MOST_PICTURE_BYTES: Final = 30 << 20
MOST_PICTURE_PIXELS: Final = 50_000_000
LONGEST_SIDE_PX: Final = 800


def logo_from(path: Path, progress: Progress) -> bytes:
    """Return a picture as the bytes of a PNG of at most 800 pixels along a side, upright, in sRGB, over white; a job.

    Raises:
        InputError: it is no picture, damaged, or too large.
    """
    from PIL import Image

    from rustboard.photo.decode import open_upright, size_of

    progress.step(0, 2)
    name = shown_name(path)
    data = read_bounded(path, MOST_PICTURE_BYTES)
    width, height = size_of(data, name)
    if width * height > MOST_PICTURE_PIXELS:
        most = MOST_PICTURE_PIXELS // 1_000_000
        raise InputError(f"A logo may have at most {most} megapixels; save it smaller and try again.", file=name)
    image = open_upright(data, name)
    progress.step(1, 2)
    image.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX), Image.Resampling.LANCZOS)
    clean = Image.new("RGB", image.size)  # of the picture only the pixels go on
    clean.paste(image)
    out = io.BytesIO()
    clean.save(out, "PNG", optimize=True)
    return out.getvalue()
