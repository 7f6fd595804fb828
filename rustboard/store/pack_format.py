"""A packed board: one zip file to send. Its leaf, its names, and every limit of what is taken from a stranger.

The first member, `LEAF`, is JSON that names all others with size and SHA-256; then comes the board file, then the
photos, nothing else. What is here is read and written by both sides.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Final

from rustboard.store.folder import BOARD_FILE, PHOTOS
from rustboard.store.photos import KEPT_ENDINGS
from rustboard.support.files import is_device_name
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

LEAF: Final = "pack.json"
FORMAT: Final = 1

MOST_PHOTOS: Final = 20_000
MOST_MEMBERS: Final = MOST_PHOTOS + 2
MOST_LEAF_BYTES: Final = 8 << 20
MOST_DIRECTORY_BYTES: Final = 8 << 20
"""Of the list of members at the archive's end; about 150 bytes a member."""
MOST_BOARD_BYTES: Final = 512 << 20
MOST_PHOTO_BYTES: Final = 256 << 20
MOST_BYTES: Final = 64 << 30
"""Of everything unpacked."""
FREE_OF_RATIO_BYTES: Final = 4 << 20
"""A member may grow to so much whatever it was packed into."""
MOST_RATIO: Final = 100
"""Beyond that it may be so many times as large as packed; a board file is about 5, a photo 1, a bomb 1000."""
_DIGITS: Final = 15
_PHOTO: Final = re.compile(rf"{PHOTOS}/([A-Za-z0-9][A-Za-z0-9_-]{{0,120}})(\.[a-z]{{1,5}})")
_SHA256: Final = re.compile("[0-9a-f]{64}")


@dataclass(frozen=True, slots=True)
class PackedMember:
    """One file in a packed board, as the leaf names it.

    Attributes:
        name: ``board.rustboard`` or ``photos/…``. size: in bytes, unpacked. sha256: of its bytes, hexadecimal.
    """

    name: str
    size: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Leaf:
    """What a packed board says about itself.

    Attributes:
        board: its name. packed: when, as the sender's clock said.
        photos: whether the sender wanted the photos to travel.
        members: the board file first, then the photos.
    """

    board: str
    packed: datetime
    photos: bool
    members: tuple[PackedMember, ...]

    @property
    def size(self) -> int:
        """Bytes of all members, unpacked."""
        return sum(each.size for each in self.members)


def leaf_bytes(leaf: Leaf) -> bytes:
    """Return the leaf as the first member of the archive; the same leaf gives the same bytes."""
    members = [{"name": each.name, "size": each.size, "sha256": each.sha256} for each in leaf.members]
    content = {
        "format": FORMAT,
        "board": leaf.board,
        "packed": leaf.packed.isoformat(timespec="seconds"),
        "photos": leaf.photos,
        "members": members,
    }
    return json.dumps(content, ensure_ascii=True, indent=1).encode("ascii")


def read_leaf(data: bytes) -> Leaf:
    """Return the leaf that a stranger's bytes hold.

    Raises:
        InputError: they hold none, or one of a newer program.
    """
    if len(data) > MOST_LEAF_BYTES:
        raise altered("its list of contents is larger than any")
    try:
        content = json.loads(
            data.decode("ascii"), object_pairs_hook=_once, parse_constant=_no_number, parse_int=_whole
        )
        if type(content) is not dict or type(content["format"]) is not int:
            raise ValueError("no format")
        if content["format"] > FORMAT:
            raise InputError(
                f"It was packed by a newer version of Rustboard (packing {content['format']}, this program reads "
                f"{FORMAT}); install the newest Rustboard to open it."
            )
        return _leaf_of(content)
    except (ValueError, TypeError, KeyError, RecursionError):
        raise altered("its list of contents is not as Rustboard writes it") from None


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        raise ValueError("a key is given twice")
    return found


def _no_number(name: str) -> float:
    raise ValueError(name)


def _whole(digits: str) -> int:
    if len(digits) > _DIGITS:
        raise ValueError("a number beyond all sizes")
    return int(digits)


def _leaf_of(content: dict[str, Any]) -> Leaf:
    if content.keys() != {"format", "board", "packed", "photos", "members"} or content["format"] != FORMAT:
        raise ValueError("other keys")
    board, photos, listed = content["board"], content["photos"], content["members"]
    if type(board) is not str or one_line(board) != board or type(photos) is not bool:
        raise ValueError("no name")
    if type(listed) is not list or not 1 <= len(listed) <= MOST_MEMBERS - 1:
        raise ValueError("no members")
    packed = datetime.fromisoformat(content["packed"])
    if packed.tzinfo is not None:
        raise ValueError("no wall-clock time")
    leaf = Leaf(board, packed, photos, tuple(map(_member_of, listed)))
    _check_members(leaf)
    return leaf


def _member_of(content: dict[str, Any]) -> PackedMember:
    if type(content) is not dict or content.keys() != {"name", "size", "sha256"}:
        raise ValueError("other keys")
    name, size, sha256 = content["name"], content["size"], content["sha256"]
    if type(name) is not str or type(size) is not int or size < 0 or _SHA256.fullmatch(sha256) is None:
        raise ValueError("no member")
    return PackedMember(name, size, sha256)


def _check_members(leaf: Leaf) -> None:
    board, *photos = leaf.members
    if board.name != BOARD_FILE:
        raise ValueError("no board first")
    check_names([each.name for each in photos])
    if (
        board.size > MOST_BOARD_BYTES
        or leaf.size > MOST_BYTES
        or any(each.size > MOST_PHOTO_BYTES for each in photos)
    ):
        raise altered("it would unpack to more than any board holds")


def check_names(photos: Iterable[str]) -> None:
    """Look at the names of the photos: plain ones inside the photos folder, and none twice on any disk.

    Raises:
        InputError: a name may lead elsewhere, or two would be one file.
    """
    seen: set[str] = set()
    for name in photos:
        if not is_photo_name(name):
            raise altered("it holds a file with a name that no photo of a board has")
        if name.casefold() in seen:
            raise altered("it holds two files of one name")
        seen.add(name.casefold())


def is_photo_name(name: str) -> bool:
    """Return whether a member may have this name: ``photos/`` and a plain name, as photos are kept in a board."""
    found = _PHOTO.fullmatch(name)
    return found is not None and found[2] in KEPT_ENDINGS and not is_device_name(name.partition("/")[2])


def altered(why: str) -> InputError:
    """Return the sentence for a packed board that is not as Rustboard writes it."""
    return InputError(
        f"This packed board is damaged or was altered ({why}), so nothing of it was opened; ask the sender to pack "
        "it again and to send it as it is."
    )
