"""The masks of rust, dirt and what cannot be seen as a picture to lay over the coupon.

Each is told apart by its pattern as well as by its colour: rust is filled or outlined, dirt hatched one way, what is
unseen dotted.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Literal

from PySide6.QtGui import QImage

from rustboard.ui.theme import MASK_DIRT, MASK_RUST, MASK_SHADE, MASK_UNSEEN

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from rustboard.session.mask_views import MaskView

    Mask = NDArray[np.bool_]

MaskLook = Literal["tint", "outline"]
_TINT = 105
_OPAQUE = 255
_HATCH = 10  # pixels from one line of a hatch to the next


def overlay_of(view: MaskView, look: MaskLook, pixels_a_dot: float = 1.0) -> QImage | None:
    """Return the masks as a picture as large as the coupon's, transparent where there is nothing to say.

    Args:
        view: what to show.
        look: how rust is shown.
        pixels_a_dot: pixels of the picture that one px of the window takes, so that thin lines stay to be seen.
    """
    if view.rust is None:
        return None
    import numpy as np

    height, width = view.rust.shape
    pixels = np.zeros((height, width), np.uint32)  # four bytes at once: strokes are seen while they are drawn
    thick = max(1, min(4, round(pixels_a_dot)))
    step = _HATCH * thick
    down, across = np.ogrid[:height, :width]
    if view.unseen is not None:
        dots = ((down % step) < 2 * thick) & ((across % step) < 2 * thick)
        ring = ((down % step) < 3 * thick) & ((across % step) < 3 * thick)
        _fill(pixels, view.unseen & ring, MASK_SHADE, _OPAQUE)
        _fill(pixels, view.unseen & dots, MASK_UNSEEN, _OPAQUE)
    if view.debris is not None:
        lines = ((down + across) % step) < 2 * thick
        shade = ((down + across) % step) < 3 * thick
        _fill(pixels, view.debris & shade, MASK_SHADE, _OPAQUE)
        _fill(pixels, view.debris & lines, MASK_DIRT, _OPAQUE)
    if look == "tint":
        _fill(pixels, view.rust, MASK_RUST, _TINT)
    _fill(pixels, _edge(view.rust, thick + 1), MASK_SHADE, _OPAQUE)
    _fill(pixels, _edge(view.rust, thick), MASK_RUST, _OPAQUE)
    return QImage(pixels.tobytes(), width, height, width * 4, QImage.Format.Format_RGBA8888).copy()


def _fill(pixels: NDArray[np.uint32], where: Mask, colour: str, alpha: int) -> None:
    import numpy as np

    red, green, blue = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    np.copyto(pixels, np.array([red, green, blue, alpha], np.uint8).view(np.uint32)[0], where=where)


def _edge(mask: Mask, thick: int) -> Mask:
    """Return the pixels just outside a mask, so many wide: the rust itself stays to be seen."""
    grown = mask.copy()
    for _ in range(thick):
        wider = grown.copy()
        wider[1:] |= grown[:-1]
        wider[:-1] |= grown[1:]
        wider[:, 1:] |= grown[:, :-1]
        wider[:, :-1] |= grown[:, 1:]
        grown = wider
    return grown & ~mask
