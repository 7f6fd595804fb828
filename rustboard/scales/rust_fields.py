"""Where rust comes first and where last: a growth order of the pixels of a surface.

A field says for each pixel how late it rusts: rust starts at nuclei, each with its own delay, and creeps outward at
its own pace, roughened by noise. Sorting the field ranks the pixels, so that any percent can be painted exactly and
more percent only ever adds pixels. The fields are drawings that look like rust, not a model of corrosion.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from typing import Final, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rustboard.scales.noise import Field, smooth_noise, uniform

Distribution = Literal["S", "G", "P"]
Mask = NDArray[np.bool_]
Order = NDArray[np.int32]
_Edges = Field  # 0 far from edges, up to 0.75 times the edge weight in corners

_SPOT_NUCLEI: Final = 7


class _Crowd(NamedTuple):
    """Nuclei of one kind, strewn one to a square cell. Lengths in thousandths of the root of the counted area.

    Attributes:
        cell: side of the cells.
        first: when the first of them starts; lateness has no unit of its own, only its order counts.
        spread: over how long the starts are spread.
        slowness: lateness gained with distance.
        core: radius that rusts at once when a nucleus starts.
        accelerating: whether spots grow slowly at first and ever faster, so that few of them become large.
    """

    cell: float
    first: float
    spread: float
    slowness: float
    core: float = 0.0
    accelerating: bool = False


# Set by eye until each letter looked like itself at grades 9 to 1; no other source.
_GENERAL_CROWDS: Final = (
    _Crowd(cell=110, first=0, spread=80, slowness=10.5, accelerating=True),
    _Crowd(cell=55, first=5, spread=110, slowness=15, core=0.5, accelerating=True),
    _Crowd(cell=24, first=14, spread=200, slowness=24, core=0.8, accelerating=True),
)
_PINPOINT_CROWD: Final = _Crowd(cell=11, first=4, spread=100, slowness=11, core=2.0)
_SATELLITE_CROWD: Final = _Crowd(cell=9, first=6, spread=60, slowness=3)


def growth_order(
    shape: tuple[int, int],
    counted: Mask,
    distribution: Distribution,
    seed: int,
    *,
    coarseness: float = 1.0,
    edge_weight: float = 0.0,
) -> Order:
    """Return for each counted pixel the rank in which it rusts, 0 first, and -1 for every other pixel.

    The same arguments always give the same ranks. Sizes go by the counted area, so that a surface drawn at twice
    the resolution looks alike, only finer.

    Args:
        shape: height and width in pixels.
        counted: the pixels of the significant surface, of that shape.
        distribution: S, most rust in a few places; G, spots of varied size spread at random; P, very many specks.
        seed: which drawing; any whole number.
        coarseness: size of spots and specks relative to the usual one.
        edge_weight: 0 treats the whole surface alike; 1 makes rust start at edges and corners clearly more often.

    Raises:
        ValueError: ``counted`` is not of that shape.
    """
    if counted.shape != shape:
        raise ValueError(f"counted has shape {counted.shape}, not {shape}")
    order = np.full(shape, -1, np.int32)
    if not counted.any():
        return order
    unit = coarseness * float(np.count_nonzero(counted)) ** 0.5 / 1000
    edges = edge_weight * _edge_nearness(counted, 60 * unit) if edge_weight else None
    field = _FIELDS[distribution](counted, unit, seed, edges)
    if edges is not None:
        field /= 1 + edges
    first_to_last = _sorted_places(field[counted])
    ranks = np.empty(first_to_last.size, np.int32)
    ranks[first_to_last] = np.arange(first_to_last.size, dtype=np.int32)
    order[counted] = ranks
    return order


def rusted(order: Order, percent: float) -> Mask:
    """Return the pixels rusted at ``percent`` (0-100) of the counted ones: exactly round(percent / 100 * counted)."""
    return (order >= 0) & (order < rusted_count(order, percent))


def rusted_count(order: Order, percent: float) -> int:
    """Return how many pixels `rusted` marks at ``percent``."""
    return round(percent / 100 * (int(order.max(initial=-1)) + 1))


def _sorted_places(values: Field) -> NDArray[np.intp]:
    """Return the places of values >= 0 from least to greatest; equal ones in their order.

    Non-negative floats sort as their bits do. Two stable passes over 16 bits each are radix sorts, several times
    faster than sorting the floats, and the same on every processor.
    """
    bits = np.maximum(values, 0).view(np.uint32)
    by_low = np.argsort((bits & np.uint32(0xFFFF)).astype(np.uint16), kind="stable")
    high = (bits >> np.uint32(16)).astype(np.uint16)
    return by_low[np.argsort(high[by_low], kind="stable")]


def _spot_field(counted: Mask, unit: float, seed: int, edges: _Edges | None) -> Field:
    """Few nuclei that creep outward into large ragged patches, with satellites around them."""
    shape = counted.shape
    field = _few_nuclei(counted, unit, seed, edges)
    field = _warped(field, 9 * unit, 60 * unit, seed)
    field *= _factor(smooth_noise(shape, 90 * unit, seed, 21, 0.72), 0.22)
    # Satellites come where the patch would soon have come itself.
    satellites = _crowd_field(shape, _SATELLITE_CROWD, unit, seed, 31)
    satellites += np.float32(0.72) * field
    return np.minimum(field, satellites, out=field)


def _few_nuclei(counted: Mask, unit: float, seed: int, edges: _Edges | None) -> Field:
    field = np.full(counted.shape, np.inf, np.float32)
    down = np.arange(counted.shape[0], dtype=np.float32)[:, None]
    right = np.arange(counted.shape[1], dtype=np.float32)[None, :]
    draws = uniform(seed, 11, _SPOT_NUCLEI, 4)
    for number, (y, x) in enumerate(_nuclei(counted, seed, edges)):
        delay, pace, stretch, slant = draws[number]
        dy, dx = (down - np.float32(y)) / np.float32(unit), (right - np.float32(x)) / np.float32(unit)
        # Distance on an ellipse, wider than high, with a slant; no two alike.
        wide = np.float32(1 + 0.9 * stretch * stretch)
        distance = dy * dy * wide + dx * dx / wide + (np.float32(0.9) * (slant - np.float32(0.5)) * dy) * dx
        np.sqrt(distance, out=distance)
        distance *= np.float32(0.75) + np.float32(1.1) * pace
        distance += np.float32(0 if number == 0 else 4 + 70 * delay * delay)
        np.minimum(field, distance, out=field)
    return field


def _general_field(counted: Mask, unit: float, seed: int, edges: _Edges | None) -> Field:
    """Three crowds of nuclei, few large and many small, at random places."""
    del edges  # crowds cover the surface; dividing by nearness is enough
    shape = counted.shape
    field = np.full(shape, np.inf, np.float32)
    for number, crowd in enumerate(_GENERAL_CROWDS):
        np.minimum(field, _crowd_field(shape, crowd, unit, seed, 12 + number), out=field)
    field = _warped(field, 5 * unit, 30 * unit, seed)
    field *= _factor(smooth_noise(shape, 30 * unit, seed, 22, 0.75), 0.13)
    return field


def _pinpoint_field(counted: Mask, unit: float, seed: int, edges: _Edges | None) -> Field:
    """Very many nuclei that stay specks for long: new specks come faster than old ones grow."""
    del edges  # as for the general field
    shape = counted.shape
    field = _crowd_field(shape, _PINPOINT_CROWD, unit, seed, 15)
    field *= _factor(smooth_noise(shape, 200 * unit, seed, 23, 0.6), 0.12)
    field *= _factor(smooth_noise(shape, 2, seed, 24), 0.1)
    return field


_FieldMaker = Callable[[Mask, float, int, _Edges | None], Field]
_FIELDS: Final[dict[Distribution, _FieldMaker]] = {"S": _spot_field, "G": _general_field, "P": _pinpoint_field}


def _factor(noise: Field, strength: float) -> Field:
    """Return noise as a positive factor around 1, to multiply a field with: raggedness grows with the spot."""
    noise *= np.float32(strength)
    noise += 1
    return np.maximum(noise, np.float32(0.15), out=noise)


def _crowd_field(shape: tuple[int, int], crowd: _Crowd, unit: float, seed: int, salt: int) -> Field:
    """Return how late each pixel is reached from a crowd of nuclei, ``unit`` pixels to a length of 1.

    Each nucleus sits anywhere in its cell and is half to twice as slow as the crowd. A pixel looks at the nuclei of
    its own cell and the eight around it.
    """
    cell = max(2, round(crowd.cell * unit))
    rows, columns = (ceil(size / cell) for size in shape)
    y, x, start, pace = uniform(seed, salt, 4, rows + 2, columns + 2)
    start = np.float32(crowd.first) + np.float32(crowd.spread) * start
    slow = np.float32(crowd.slowness) * (np.float32(0.5) + np.float32(1.5) * pace * pace)
    # Pixels as (cell row, row in cell, cell column, column in cell): a nucleus then broadcasts over its cell.
    best = np.full((rows, cell, columns, cell), np.inf, np.float32)
    within = (np.arange(cell, dtype=np.float32) + np.float32(0.5)) / np.float32(cell)
    for down in range(3):
        for right in range(3):
            chosen = (slice(down, down + rows), slice(right, right + columns))
            dy = (within[None, :, None] - (y[chosen][:, None, :] + np.float32(down - 1))) * np.float32(cell / unit)
            dx = (within[None, None, :] - (x[chosen][:, :, None] + np.float32(right - 1))) * np.float32(cell / unit)
            late = (dy * dy)[:, :, :, None] + (dx * dx)[:, None, :, :]
            _distance_to_lateness(late, crowd)
            late *= slow[chosen][:, None, :, None]
            late += start[chosen][:, None, :, None]
            np.minimum(best, late, out=best)
    late_at: Field = best.reshape(rows * cell, columns * cell)[: shape[0], : shape[1]]
    return late_at


def _distance_to_lateness(squared: NDArray[np.float32], crowd: _Crowd) -> None:
    """Turn squared distances from a nucleus into lateness before slowness and start, in place."""
    np.sqrt(squared, out=squared)
    if crowd.core:
        squared -= np.float32(crowd.core)
        np.maximum(squared, 0, out=squared)
    if crowd.accelerating:
        np.sqrt(squared, out=squared)


def _warped(field: Field, reach: float, patch: float, seed: int) -> Field:
    """Return the field read at places pushed about by up to about twice ``reach`` pixels: round spots turn ragged."""
    height, width = field.shape
    y, x = (np.float32(reach) * smooth_noise(field.shape, patch, seed, salt, 0.6) for salt in (41, 42))
    y += np.arange(height, dtype=np.float32)[:, None]
    x += np.arange(width, dtype=np.float32)[None, :]
    np.clip(y, 0, height - 1, out=y)
    np.clip(x, 0, width - 1, out=x)
    places = y.astype(np.int32) * np.int32(width) + x.astype(np.int32)
    warped: Field = field.ravel()[places]
    return warped


def _nuclei(counted: Mask, seed: int, edges: _Edges | None) -> list[tuple[int, int]]:
    """Return the (row, column) of the few nuclei, all on counted pixels.

    First a row, then a place along it, so that a surface drawn at another resolution has them at the same places.
    """
    weights = counted.astype(np.float64)
    if edges is not None:
        weights *= 1 + 5 * edges
    by_row = np.cumsum(weights.sum(axis=1))
    picked = []
    for down, right in uniform(seed, 10, _SPOT_NUCLEI, 2).astype(np.float64):
        row = int(np.searchsorted(by_row, down * by_row[-1], side="right"))
        along = np.cumsum(weights[row])
        picked.append((row, int(np.searchsorted(along, right * along[-1], side="right"))))
    return picked


def _edge_nearness(counted: Mask, reach: float) -> Field:
    """Return 0 for pixels farther than ``reach`` from any edge of the counted surface, up to 0.75 in its corners.

    The share of a square window around the pixel that is not counted.
    """
    half = max(1, round(reach))
    sums = counted.astype(np.int32)
    for axis in (0, 1):
        size = counted.shape[axis]
        running = np.concatenate([np.zeros_like(sums.take([0], axis)), np.cumsum(sums, axis, dtype=np.int32)], axis)
        at = np.arange(size)
        sums = running.take(np.minimum(at + half + 1, size), axis) - running.take(np.maximum(at - half, 0), axis)
    return (1 - sums / np.float32((2 * half + 1) ** 2)).astype(np.float32)
