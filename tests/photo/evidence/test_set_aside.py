"""What one photo sets aside: drops, glare and the edges of shadows as unseen, droppings and dirt as foreign."""

from __future__ import annotations

from dataclasses import replace

import cv2
import numpy as np
import pytest
from evidence_patches import (
    FINISHES,
    FIRST_DAY,
    FRAME,
    PIXELS_PER_MM,
    SHAPE,
    Camera,
    clean_base,
    discs,
    drops,
    lay_drops,
    linear,
    photographed,
    rusted,
    rusted_percent,
    steel,
    true_percent,
)

from rustboard.photo.cutting import significant
from rustboard.photo.evidence.light import UNCHANGED, LocalLight
from rustboard.photo.evidence.rust import evidence_of
from rustboard.photo.looks import Evidence, Mask

EVEN = replace(UNCHANGED, darker=0.0, brighter=0.05)
"""The same light all over the board."""
RAIN = replace(EVEN, drops=True)
HARD_SHADOW = replace(UNCHANGED, darker=1.0, brighter=0.0)
SPOTS = [(12.0, 20.0, 3.0), (26.0, 42.0, 2.0), (15.0, 48.0, 1.2)]


def evidence(
    finish: str, surface: np.ndarray, light: LocalLight, gain: object = 1.0, darker: float = 1.0
) -> Evidence:
    base = clean_base(steel(finish) * darker, FIRST_DAY)
    return evidence_of(photographed(surface * darker, gain), base, light, FRAME)


def on_grid(share: np.ndarray, least: float) -> Mask:
    return np.asarray(cv2.resize(share, SHAPE[::-1], interpolation=cv2.INTER_AREA) > least) & significant(FRAME)


def share_of(mask: Mask, within: Mask) -> float:
    return float(mask[within].mean())


def across(width: int) -> np.ndarray:
    """Place along the coupon's width, mm from its left edge, on the fine grid."""
    return (np.arange(width) + 0.5) / (2 * PIXELS_PER_MM) - 8


@pytest.mark.parametrize("finish", ["bright", "blasted", "etched", "oiled"])
def test_drops_cannot_be_seen_through_and_steel_between_them_can(finish: str) -> None:
    surface, places = steel(finish).copy(), drops(25)
    lay_drops(surface, places)
    found = evidence(finish, surface, RAIN, darker=0.6)
    touched = [
        share_of(found.unseen, on_grid(discs([(x, y, radius)]), 0.5))
        for x, y, radius in places
        if 3 < x < 37 and 3 < y < 57 and radius > 0.8
    ]
    assert len(touched) > 10
    assert np.mean(np.array(touched) > 0.15) > 0.9
    away = ~on_grid(discs([(x, y, radius + 1.5) for x, y, radius in places]), 0) & significant(FRAME)
    assert share_of(found.unseen, away) < 0.02


def test_rust_between_drops_is_counted() -> None:
    cover = discs(SPOTS)
    surface = rusted(steel("blasted"), cover, "brown")
    lay_drops(
        surface, [each for each in drops(25) if min(np.hypot(each[0] - x, each[1] - y) for x, y, _ in SPOTS) > 6]
    )
    assert rusted_percent(evidence("blasted", surface, RAIN)) == pytest.approx(true_percent(cover), rel=0.12)


@pytest.mark.parametrize("finish", FINISHES)
@pytest.mark.parametrize("rust", ["orange", "brown", "near black"])
def test_spots_of_rust_are_neither_drops_nor_shadows_nor_dirt(finish: str, rust: str) -> None:
    cover = discs(SPOTS)
    light = replace(HARD_SHADOW, drops=True)
    found = evidence(finish, rusted(steel(finish), cover, rust), light)
    inside = on_grid(cover, 0.9)
    assert share_of(found.unseen | found.foreign, inside) < 0.02


@pytest.mark.parametrize("finish", ["bright", "blasted", "etched", "oiled"])
def test_the_edge_of_a_hard_shadow_is_set_aside_and_little_else(finish: str) -> None:
    x = across(steel(finish).shape[1])
    lit = 1 / (1 + np.exp(-(x - 20) / 0.25))  # 1.1 mm from a tenth to nine tenths
    gain = (lit[:, None] + (1 - lit[:, None]) * np.array([0.36, 0.40, 0.47]))[None]
    found = evidence(finish, steel(finish), HARD_SHADOW, gain)
    surface = significant(FRAME)
    place = np.broadcast_to((np.arange(SHAPE[1]) + 0.5) / FRAME.pixels_per_mm - 8, SHAPE)
    assert share_of(found.unseen, surface & (np.abs(place - 20) < 0.5)) > 0.9
    assert share_of(found.unseen, surface & (np.abs(place - 20) > 2.5)) == 0


def test_a_soft_shadow_is_seen_through() -> None:
    x = across(steel("blasted").shape[1])
    lit = np.clip((x - 5) / 30, 0, 1)
    gain = (lit[:, None] + (1 - lit[:, None]) * np.array([0.36, 0.40, 0.47]))[None]
    found = evidence("blasted", steel("blasted"), HARD_SHADOW, gain)
    assert not found.unseen[significant(FRAME)].any()
    assert not found.foreign[significant(FRAME)].any()


def test_glare_that_pales_the_colours_is_set_aside_before_it_clips() -> None:
    share = cv2.GaussianBlur(discs([(20.0, 30.0, 8.0)]), (0, 0), 30.0)[:, :, None]
    found = evidence("etched", steel("etched") + 0.75 * share, EVEN)
    assert share_of(found.unseen, on_grid(discs([(20.0, 30.0, 4.0)]), 0.5)) > 0.9
    assert share_of(found.unseen, ~on_grid(discs([(20.0, 30.0, 14.0)]), 0) & significant(FRAME)) == 0


def test_what_lies_in_deep_shade_and_noise_is_set_aside() -> None:
    base = clean_base(steel("oiled"), FIRST_DAY)
    dark = evidence_of(photographed(steel("oiled"), 0.03, Camera(noise=0.05)), base, UNCHANGED, FRAME)
    dim = evidence_of(photographed(steel("oiled"), 0.5, Camera(noise=0.02)), base, UNCHANGED, FRAME)
    assert share_of(dark.unseen, significant(FRAME)) > 0.9
    assert share_of(dim.unseen, significant(FRAME)) == 0


@pytest.mark.parametrize("finish", ["blue-black", "oiled", "mill scale", "etched", "blasted"])
def test_a_white_dropping_is_foreign(finish: str) -> None:
    share = discs(SPOTS)[:, :, None]
    found = evidence(finish, steel(finish) * (1 - share) + linear((228, 226, 214)) * share, EVEN)
    assert share_of(found.foreign, on_grid(discs(SPOTS[:2]), 0.9)) > 0.9
    around = on_grid(discs([(x, y, radius + 1.2) for x, y, radius in SPOTS]), 0)
    assert not found.foreign[significant(FRAME) & ~around].any()
    assert rusted_percent(found) < 0.1


def test_dark_dirt_without_colour_is_foreign() -> None:
    share = discs(SPOTS)[:, :, None]
    found = evidence("bright", steel("bright") * (1 - share) + linear((66, 66, 68)) * share, EVEN)
    assert share_of(found.foreign, on_grid(discs(SPOTS[:2]), 0.9)) > 0.9


@pytest.mark.parametrize("finish", ["blue-black", "oiled", "etched"])
def test_glare_and_patches_of_sun_are_not_foreign(finish: str) -> None:
    soft = cv2.GaussianBlur(discs([(20.0, 30.0, 6.0)]), (0, 0), 36.0)[:, :, None]
    glare = evidence(finish, steel(finish) * 0.6 + 0.25 * soft, EVEN)
    sun = np.exp(discs([(20.0, 30.0, 7.0)])[:, :, None] * np.array([0.95, 0.85, 0.65]))
    sunny = evidence(finish, steel(finish), replace(EVEN, brighter=0.9), sun, darker=0.35)
    for found in (glare, sunny):
        assert not found.foreign[significant(FRAME)].any()
