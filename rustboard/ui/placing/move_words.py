"""How far a camera was moved, in words, and whether that matters."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QCoreApplication

from rustboard.ui.wording import number

if TYPE_CHECKING:
    from rustboard.photo.camera_place import CameraMove
    from rustboard.session.same_place import HeldAgainst

# Our own choice: a coupon that stands 10 mm off the board seems to shift by 1 mm at 6 degrees more, which the search
# for outlines takes in its stride; glare moves twice as far as the camera does.
SIGHT_DEG: Final = 6.0
FINER: Final = 1.25
_LEAST_MM: Final = 10.0
_LEAST_DEG: Final = 1.0


def _say(text: str) -> str:
    return QCoreApplication.translate("camera", text)


def move_text(move: CameraMove) -> str:
    """Return how far the camera was moved: ``about 12 cm further left, 4 degrees turned clockwise``."""
    parts = []
    for value, more, less in (
        (move.right_mm, _say("{0} cm further right"), _say("{0} cm further left")),
        (move.up_mm, _say("{0} cm higher"), _say("{0} cm lower")),
        (move.nearer_mm, _say("{0} cm nearer"), _say("{0} cm farther away")),
    ):
        if abs(value) >= _LEAST_MM:
            parts.append((more if value > 0 else less).format(number(abs(value) / 10, 0)))
    if abs(move.turn_deg) >= _LEAST_DEG:
        right, left = _say("{0} degrees turned clockwise"), _say("{0} degrees turned anticlockwise")
        parts.append((right if move.turn_deg > 0 else left).format(number(abs(move.turn_deg), 0)))
    return _say("about {0}").format(", ".join(parts)) if parts else _say("the same place, as nearly as can be told")


def advice(held: HeldAgainst) -> str:
    """Return whether it matters, and what to do."""
    faults = []
    if held.cut_off:
        names = (_say("top left"), _say("top right"), _say("bottom right"), _say("bottom left"))
        text = _say("The board's corner is cut off ({0}): step back, all of the board must be in the picture.")
        faults.append(text.format(", ".join(names[each] for each in held.cut_off)))
    move = held.move
    if move is not None and move.sight_deg >= SIGHT_DEG:
        text = _say("The board is seen {0} degrees more from the side, so that glare falls elsewhere: take it again.")
        faults.append(text.format(number(move.sight_deg, 0)))
    if move is not None and move.finer <= 1 / FINER:
        faults.append(_say("From so far away small spots are lost: go nearer."))
    if faults:
        return " ".join(faults)
    if move is not None and move.finer >= FINER:
        return _say("It is nearer than before; that does no harm while all of the board is in the picture.")
    return _say("That does not matter: this photo can be compared with the earlier one.")
