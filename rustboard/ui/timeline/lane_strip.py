"""The strip of wet and dry as a picture: how much of each px's time was which, by fill and by hatching."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QColor, QImage

from rustboard.ui.theme import Scheme, weather_inks
from rustboard.ui.timeline.lane_data import Columns

HATCH_PX: Final = 6
BY_HAND_PX: Final = 2
MOSTLY: Final = 0.5


def strip_image(columns: Columns, height: int, scheme: Scheme, origin: float, ratio: float) -> QImage:
    """Return the strip: wet from below, dry upon it, not known at the top, each by its share of the time.

    What is known by hand alone is striped and has a dark rim above, so that it is never taken for a
    logger's; what is not known is the bare ground with thin strokes the other way.

    Args:
        columns: one a device px.
        height: device px.
        scheme: whose inks to take.
        origin: device px from where the axis is 0 to the left edge, to which hatching holds on.
        ratio: device px per px.
    """
    inks = weather_inks(scheme)
    count = len(columns.wet)
    # From the bottom: row 0 of the picture is its top.
    level = (height - 0.5 - np.arange(height))[:, None] / height
    wet = level < columns.wet[None, :]
    known = level < (columns.wet + columns.dry)[None, :]
    across = np.arange(count) + round(origin)
    period = max(3, round(HATCH_PX * ratio))
    down = np.arange(height)[:, None]
    forward, backward = (across[None, :] + down) % period, (across[None, :] - down) % period
    picture = np.where(wet, _rgb(inks.wet), np.where(known, _rgb(inks.dry), _rgb(scheme.base)))
    picture = np.where(
        ~known & columns.lasts[None, :] & (backward < max(1, round(ratio * 0.8))), _rgb(scheme.muted), picture
    )
    by_hand = (columns.by_hand > MOSTLY * (columns.wet + columns.dry)) & (columns.by_hand > 0)
    striped = by_hand[None, :] & known & (forward < round(BY_HAND_PX * ratio))
    picture = np.where(striped, np.where(wet, _rgb(scheme.base), _rgb(scheme.muted)), picture)
    rim = by_hand[None, :] & (down < max(1, round(1.5 * ratio)))
    picture = np.ascontiguousarray(np.where(rim, _rgb(scheme.text), picture), dtype=np.uint32)
    # Copied, because the picture would otherwise look into an array that is about to go.
    return QImage(picture.data, count, height, 4 * count, QImage.Format.Format_RGB32).copy()


def _rgb(colour: str) -> NDArray[np.uint32]:
    return np.array(QColor(colour).rgb(), dtype=np.uint32)
