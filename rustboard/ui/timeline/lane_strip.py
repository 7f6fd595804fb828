"""The strip of wet and dry and the band of temperatures as pictures, px by px.

They are worked out as arrays, because thousands of short lines would take most of a frame.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QColor, QImage

from rustboard.ui.theme import Scheme, weather_inks
from rustboard.ui.timeline.geometry import Floats
from rustboard.ui.timeline.lane_data import Columns

HATCH_PX: Final = 6
BY_HAND_PX: Final = 2
MOSTLY: Final = 0.5
BAND_ALPHA: Final = 0.4
LINE_PX: Final = 1.6


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
    return _image(picture, QImage.Format.Format_RGB32)


def air_image(lowest: Floats, highest: Floats, mean: Floats, height: int, scheme: Scheme, ratio: float) -> QImage:
    """Return the band of temperatures with the line of their means, on nothing.

    Args:
        lowest: height of the lower edge of the band, device px from the top, one a column; NaN for none.
        highest: of its upper edge.
        mean: of the line.
        height: device px.
        scheme: whose inks to take.
        ratio: device px per px.
    """
    ink = QColor(weather_inks(scheme).warmth)
    pale = QColor(ink)
    pale.setAlphaF(BAND_ALPHA)
    down = np.arange(height)[:, None] + 0.5
    band = (down >= highest[None, :] - 0.5) & (down <= lowest[None, :] + 0.5)
    # The line of a column reaches half-way to its neighbours, so that it does not break where it is steep.
    after = np.append(mean[1:], np.nan)
    before = np.append(np.nan, mean[:-1])
    middle = np.stack([mean, (mean + after) / 2, (mean + before) / 2])
    upper, lower = np.fmin.reduce(middle), np.fmax.reduce(middle)
    half = LINE_PX * ratio / 2
    line = (down >= upper[None, :] - half) & (down <= lower[None, :] + half)
    picture = np.where(line, np.uint32(ink.rgba()), np.where(band, _premultiplied(pale), np.uint32(0)))
    return _image(np.ascontiguousarray(picture, dtype=np.uint32), QImage.Format.Format_ARGB32_Premultiplied)


def _premultiplied(colour: QColor) -> np.uint32:
    alpha = colour.alpha()
    parts = (round(each * alpha / 255) for each in (colour.red(), colour.green(), colour.blue()))
    red, green, blue = parts
    return np.uint32(alpha << 24 | red << 16 | green << 8 | blue)


def _image(picture: NDArray[np.uint32], kind: QImage.Format) -> QImage:
    height, count = picture.shape
    # Copied, because the picture would otherwise look into an array that is about to go.
    return QImage(picture.data, count, height, 4 * count, kind).copy()


@lru_cache(maxsize=64)
def swatch(wet: float, dry: float, by_hand: float, size: tuple[int, int], scheme: Scheme, ratio: float) -> QImage:
    """Return a small picture of one fill of the strip; ``size`` in device px."""
    count, height = size
    full, none = np.ones(count), np.full(count, np.nan)
    like = Columns(wet * full, dry * full, by_hand * full, none, none, none, np.ones(count, np.bool_))
    return strip_image(like, height, scheme, 0.0, ratio)


def _rgb(colour: str) -> NDArray[np.uint32]:
    return np.array(QColor(colour).rgb(), dtype=np.uint32)
