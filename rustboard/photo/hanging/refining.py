"""An outline laid onto the edge to a fraction of a pixel: least squares on the nearest edge of every sample."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rustboard.photo.hanging.profiles import Singles
from rustboard.photo.hanging.rings import Floats, Ring

_REACHES_MM: Final = (0.6, 0.45, 0.35, 0.3)
_LOOSE: Final = np.array([6.0, 6.0, float(np.radians(4.0)), 0.003])  # from what is expected
_SAMPLE_MM: Final = 0.25  # error of one sample's edge
_ALIKE: Final = 0.1  # samples that lie side by side err alike: such a share of all counts as one
_FOUND_MM: Final = 0.5
_FOUND: Final = 0.35
_SYSTEMATIC_MM: Final = 0.03
_AROUND: Final = np.arange(-2, 3)


@dataclass(frozen=True, slots=True, eq=False)
class Refined:
    """Where the outlines lie.

    Attributes:
        rows: coupons x 4: dx, dy (mm), turn (rad), scale - 1.
        errors: coupons, likely error of the outline in mm. shares: coupons, part of the samples that show an edge.
    """

    rows: Floats
    errors: Floats
    shares: Floats


def refine(
    strengths: Singles,
    light: Singles,
    offsets: Floats,
    seen: NDArray[np.bool_],
    rings: Sequence[Ring],
    rows: Floats,
    change: Floats,
    expected: Floats,
) -> Refined:
    """Return the outlines moved onto the edges near them.

    Args:
        strengths: coupons x samples x offsets, of the edge across the outlines as they hang by ``rows``.
        light: of the same shape, squared steps of light, by which the edge is placed.
        offsets: mm, evenly spaced.
        seen: coupons x samples, inside the picture.
        rings: of the coupons.
        rows: coupons x 4: dx, dy (mm), turn (rad), scale - 1 by which they were looked for.
        change: coupons x 4, by how much they seem to be off.
        expected: coupons x 4, where the other coupons let expect them.
    """
    design = _design(rings, rows)
    update = change
    alike = _ALIKE * strengths.shape[1]
    loose = _LOOSE**-2 * _SAMPLE_MM**2 * alike
    fixed = np.array([[1, 1, 0 if ring.round else 1, 1] for ring in rings], np.float64)
    design = design * fixed[:, None, :]
    line = offsets.astype(np.float32)
    normal = np.zeros((len(rows), 4, 4))
    place = weight = np.zeros(strengths.shape[:2])
    for reach in _REACHES_MM:
        now = np.matmul(design, update[..., None])[..., 0]
        gap = (line - now[:, :, None].astype(np.float32)) / np.float32(reach)
        place, height = _peaks(strengths, light, np.exp(-0.5 * gap * gap), offsets)
        residual = place - now
        weight = np.clip(height, 0, 1) ** 2 / (1 + (residual / (0.6 * reach)) ** 2)
        weighted = design * weight[..., None]
        across = weighted.transpose(0, 2, 1)
        normal = np.matmul(across, design) + np.eye(4) * loose
        right = np.matmul(across, place[..., None]) + ((expected - rows) * loose)[..., None]
        update = np.linalg.solve(normal, right)[..., 0]
    residual = place - np.matmul(design, update[..., None])[..., 0]
    count = np.maximum(seen.sum(axis=1), 1)
    found = (np.abs(residual) < _FOUND_MM) & (weight > _FOUND**2)
    spread = np.sum(weight * residual**2, axis=1) / np.maximum(weight.sum(axis=1), 1e-9)
    variance = np.maximum(spread, 0.05**2)[:, None, None] * alike * np.linalg.inv(normal)
    edge = np.sum(np.matmul(design, variance) * design, axis=2)
    errors = np.sqrt(edge.mean(axis=1) + _SYSTEMATIC_MM**2)
    return Refined(rows + update * fixed, errors, found.sum(axis=1) / count)


def _design(rings: Sequence[Ring], rows: Floats) -> Floats:
    """Return how far the edge at each sample moves along its normal with dx, dy, turn and scale."""
    points = np.stack([ring.points for ring in rings])
    normals = np.stack([ring.normals for ring in rings])
    lever = points[..., 0] * normals[..., 1] - points[..., 1] * normals[..., 0]
    reach = np.sum(points * normals, axis=2)
    cosine, sine = np.cos(rows[:, 2])[:, None], np.sin(rows[:, 2])[:, None]
    x = cosine * normals[..., 0] - sine * normals[..., 1]
    y = sine * normals[..., 0] + cosine * normals[..., 1]
    return np.stack([x, y, lever, reach], axis=2)


def _peaks(strengths: Singles, light: Singles, near: Singles, offsets: Floats) -> tuple[Floats, Floats]:
    """Return place and height of the strongest edge near each sample's line.

    The place is where the step of light is highest close by, by a parabola through three values: logarithms would
    move a blurred edge towards its dark side.
    """
    top = (strengths * near).argmax(axis=2)[..., None]
    height = np.take_along_axis(strengths, top, axis=2)[..., 0].astype(np.float64)
    around = np.clip(top + _AROUND, 1, len(offsets) - 2)
    at = np.take_along_axis(around, np.take_along_axis(light, around, axis=2).argmax(axis=2)[..., None], axis=2)
    low, mid, high = (np.take_along_axis(light, at + by, axis=2)[..., 0].astype(np.float64) for by in (-1, 0, 1))
    bend = low - 2 * mid + high
    by = np.where(bend < 0, 0.5 * (low - high) / np.where(bend < 0, bend, -1), 0)
    step = offsets[1] - offsets[0]
    return offsets[at[..., 0]] + np.clip(by, -0.6, 0.6) * step, height
