"""What a photo says about itself when it is added: its size, and when the camera thinks it was taken.

Where it was taken is never looked at. Tags are those of EXIF 2.3 (CIPA DC-008-2012); the offsets from UTC came with
EXIF 2.31.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Final

from rustboard.board.typed_dates import FIRST_YEAR, LAST_YEAR
from rustboard.photo.decode import Kind, Opened, opened
from rustboard.photo.jpeg_marks import ends_unwritten
from rustboard.support.problems import InputError

_CAMERA_TAGS: Final = 0x8769
_TIMES: Final = ((0x9003, 0x9011), (0x9004, 0x9012), (0x0132, 0x9010))
"""Tags for a time and its offset: taken, digitised, file changed; the first that holds a time counts."""

_ANY_OFFSET: Final = 0x9010
_TIME: Final = re.compile(
    r"([0-9]{4})[:/.-]([0-9]{1,2})[:/.-]([0-9]{1,2})[ T]+([0-9]{1,2}):([0-9]{1,2})(?::([0-9]{1,2}))?(?:[.,Z+-].*)?"
)
_OFFSET: Final = re.compile(r"([+-])([0-9]{1,2}):?([0-9]{2})")
_MOST_HOURS: Final = 14  # no zone is further from UTC (IANA time zone database, from memory)


@dataclass(frozen=True, slots=True)
class CameraFacts:
    """What a photo says about itself.

    Attributes:
        kind: of file, by its content.
        width_px, height_px: of the upright picture.
        taken: by the camera's clock, as the clock on the wall showed it; None where the file names no time.
        offset_minutes: of that clock from UTC where the camera wrote it, else None.
    """

    kind: Kind
    width_px: int
    height_px: int
    taken: datetime | None = None
    offset_minutes: int | None = None


def camera_facts(data: bytes, name: str = "") -> CameraFacts:
    """Return what a photo says about itself, once it is certain that all of it is there.

    Args:
        data: the file's bytes.
        name: of the file, for the sentence when it cannot be used.

    Raises:
        InputError: no picture that the program reads, too large, damaged or cut short.
    """
    picture = opened(data, name)
    taken, offset = _time_in(picture)
    turn = picture.turn
    picture.read_through()
    if picture.kind == "JPEG" and ends_unwritten(data):
        raise InputError(
            "The end of the picture is missing: the copy was cut short; copy it again from the camera or the phone.",
            file=name,
        )
    width, height = picture.size_px
    if turn >= 5:
        width, height = height, width
    return CameraFacts(picture.kind, width, height, taken, offset)


def _time_in(picture: Opened) -> tuple[datetime | None, int | None]:
    try:
        notes = picture.notes
        tags: Mapping[int, object] = {0x0132: notes.get(0x0132), **notes.get_ifd(_CAMERA_TAGS)}
    except Exception:  # noqa: BLE001 - notes that cannot be read say nothing; the picture is one all the same
        return None, None
    for time_tag, offset_tag in _TIMES:
        taken = _time(tags.get(time_tag))
        if taken is not None:
            offset = _offset(tags.get(offset_tag))
            return taken, _offset(tags.get(_ANY_OFFSET)) if offset is None else offset
    return None, None


def _text(value: object) -> str:
    if isinstance(value, bytes):
        value = value.decode("ascii", "replace")
    return value[:60].split("\0")[0].strip() if isinstance(value, str) else ""


def _time(value: object) -> datetime | None:
    found = _TIME.fullmatch(_text(value))
    if found is None:
        return None
    try:
        taken = datetime(*(int(each or 0) for each in found.groups()))  # type: ignore[arg-type]  # six whole numbers
    except ValueError:  # 0000:00:00, or a day that the calendar lacks
        return None
    return taken if FIRST_YEAR <= taken.year <= LAST_YEAR else None


def _offset(value: object) -> int | None:
    text = _text(value)
    if text == "Z":
        return 0
    found = _OFFSET.fullmatch(text)
    if found is None or int(found[2]) > _MOST_HOURS or int(found[3]) > 59:
        return None
    minutes = int(found[2]) * 60 + int(found[3])
    return -minutes if found[1] == "-" else minutes
