"""A film of pictures one after the other: MP4, animated WebP or GIF, each picture stamped with its day and grades."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Final, Literal, cast

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from rustboard.support.files import write_whole
from rustboard.support.problems import InputError

Rgb = NDArray[np.uint8]
FilmKind = Literal["mp4", "webp", "gif"]
FILM_KINDS: Final[tuple[FilmKind, ...]] = ("mp4", "webp", "gif")

MOST_SIDE_PX: Final = 1920
MOST_GIF_SIDE_PX: Final = 960
"""A GIF has neither many colours nor good compression: larger ones nobody can mail."""

_MOST_PIXELS_AT_ONCE: Final = 120_000_000
_RATE: Final = 25
_QUALITY: Final = "20"  # constant rate factor: eye cannot tell it from the source at this size
LAST_HOLDS: Final = 3
"""How many times longer than the others the last picture stands, so that its end is seen."""
_LEAST_LETTERS_PX: Final = 9
_LONGEST_LINE: Final = 300
_BAND: Final = (12, 14, 18)
_TEXT: Final = (255, 255, 255)


@dataclass(frozen=True, slots=True)
class Stamp:
    """A short text on the picture, in a small box of a colour.

    Attributes:
        x_px, y_px: of the box's top left corner. ink, paper: colours as (red, green, blue), 0-255.
    """

    text: str
    x_px: float
    y_px: float
    ink: tuple[int, int, int]
    paper: tuple[int, int, int]


def stamped(rgb: Rgb, line: str, stamps: Iterable[Stamp] = ()) -> Rgb:
    """Return a picture with a line of text in a band below it, and stamps on it."""
    height, width = rgb.shape[:2]
    size = max(14, round(min(width, height) / 22))
    band = 2 * size
    picture = Image.new("RGB", (width, height + band), _BAND)
    picture.paste(Image.fromarray(rgb), (0, 0))
    draw = ImageDraw.Draw(picture)
    line, font = _fitting(draw, line[:_LONGEST_LINE], size, width - size)
    draw.text((size / 2, height + band / 2), line, _TEXT, font, anchor="lm")
    small = ImageFont.load_default(max(12, round(size * 0.8)))
    for each in stamps:
        left, top, right, bottom = draw.textbbox((each.x_px + 4, each.y_px + 3), each.text, small, anchor="lt")
        draw.rectangle((left - 4, top - 3, right + 4, bottom + 3), each.paper)
        draw.text((each.x_px + 4, each.y_px + 3), each.text, each.ink, small, anchor="lt")
    return np.asarray(picture)


def _fitting(
    draw: ImageDraw.ImageDraw, line: str, size: int, room: float
) -> tuple[str, ImageFont.FreeTypeFont | ImageFont.ImageFont]:
    """Return a line and its font so that it fits: set smaller, and where even that is too long, cut."""
    font = ImageFont.load_default(size)
    wide = draw.textlength(line, font)
    if wide <= room:
        return line, font
    font = ImageFont.load_default(max(_LEAST_LETTERS_PX, int(size * room / wide)))
    while len(line) > 1 and draw.textlength(line, font) > room:
        line = f"{line[:-2]}…"
    return line, font


def write_film(
    pictures: Iterable[Rgb],
    target: Path,
    kind: FilmKind,
    seconds_each: float,
    expected: int = 1,
    still_wanted: Callable[[], None] | None = None,
) -> int:
    """Write a film; return how many pictures it has. The file is there whole, or as it was before.

    Args:
        pictures: H x W x 3, 0-255; fitted to the size of the first one. Taken one by one, so that they need not all
            be in memory; what they raise ends the film without a file.
        target: the file to write; one of that name is replaced.
        kind: of film.
        seconds_each: how long each picture stands, 0.04 to 10.
        expected: about how many pictures there will be; long WebP and GIF films are made smaller, because their
            pictures must all be in memory at once.
        still_wanted: called before the file is written, which may be long after the last picture was taken; what it
            raises ends the film without a file.

    Raises:
        InputError: there is no picture, the time is out of range, or the disk refused.
    """
    if not 0.04 <= seconds_each <= 10:
        raise InputError("A picture of a film stands for 0.04 to 10 seconds; choose another time.")
    stream = io.BytesIO()
    if kind == "mp4":
        count = _write_mp4(_evened(pictures, MOST_SIDE_PX), stream, seconds_each)
    else:
        most = MOST_GIF_SIDE_PX if kind == "gif" else MOST_SIDE_PX
        affordable = int((_MOST_PIXELS_AT_ONCE / max(1, expected)) ** 0.5)
        count = _write_images(_evened(pictures, min(most, affordable)), stream, kind, seconds_each)
    if still_wanted is not None:
        still_wanted()
    write_whole(target, stream.getvalue())
    return count


def _evened(pictures: Iterable[Rgb], most_side: int) -> Iterator[Image.Image]:
    """Yield the pictures at one size of even numbers (which MP4 wants), none of its sides longer than asked."""
    size: tuple[int, int] | None = None
    for rgb in pictures:
        image = Image.fromarray(rgb)
        if size is None:
            shrink = min(1.0, most_side / max(image.size))
            size = (max(2, round(image.width * shrink) // 2 * 2), max(2, round(image.height * shrink) // 2 * 2))
        yield image if image.size == size else image.resize(size, Image.Resampling.LANCZOS)
    if size is None:
        raise InputError("There is no photo for a film: none of these photos shows the board.")


def _write_mp4(frames: Iterator[Image.Image], stream: io.BytesIO, seconds_each: float) -> int:
    import av

    first = next(frames)
    count = 0
    with av.open(stream, "w", format="mp4") as film:
        try:
            video = film.add_stream("libx264", rate=_RATE, options={"crf": _QUALITY})
        except ValueError as error:  # a build of the library without this encoder
            raise InputError("MP4 cannot be written on this computer; choose animated WebP or GIF.") from error
        video.width, video.height = first.size
        video.pix_fmt = "yuv420p"
        repeats = max(1, round(seconds_each * _RATE))
        shown = 0
        for image, last in _with_last(first, frames):
            count += 1
            frame = av.VideoFrame.from_ndarray(np.asarray(image), format="rgb24").reformat(format="yuv420p")
            for _ in range(repeats * (LAST_HOLDS if last else 1)):
                frame.pts, frame.time_base = shown, Fraction(1, _RATE)
                shown += 1
                film.mux(video.encode(frame))
        film.mux(video.encode(None))
    return count


def _write_images(frames: Iterator[Image.Image], stream: io.BytesIO, kind: FilmKind, seconds_each: float) -> int:
    first = next(frames)
    rest = [image.quantize(255) if kind == "gif" else image for image in frames]
    milliseconds = round(seconds_each * 1000)
    durations = [milliseconds] * len(rest) + [milliseconds * LAST_HOLDS]
    opening = first.quantize(255) if kind == "gif" else first
    opening.save(
        stream,
        "GIF" if kind == "gif" else "WEBP",
        save_all=True,
        append_images=rest,
        duration=durations if len(durations) > 1 else durations[0],
        loop=0,
        **cast("dict[str, int]", {"optimize": 0, "disposal": 2} if kind == "gif" else {"quality": 82, "method": 4}),
    )
    return 1 + len(rest)


def _with_last(first: Image.Image, rest: Iterator[Image.Image]) -> Iterator[tuple[Image.Image, bool]]:
    """Yield each picture and whether it is the last."""
    waiting = first
    for image in rest:
        yield waiting, False
        waiting = image
    yield waiting, True
