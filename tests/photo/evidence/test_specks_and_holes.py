"""Specks smaller than a photo's colour shows, holes that show the board, and boards of rust's own colour."""

import numpy as np
import pytest
from evidence_patches import (
    FRAME,
    PIXELS_PER_MM,
    Camera,
    clean_base,
    discs,
    linear,
    photographed,
    rusted,
    rusted_percent,
    steel,
    true_percent,
)

from rustboard.photo.cutting import significant
from rustboard.photo.evidence.light import UNCHANGED
from rustboard.photo.evidence.rust import evidence_of

WOOD = (150, 92, 48)  # by eye, no source: oiled softwood, of rust's hue
GRAINS = [(8.0 + 6 * column, 8.0 + 7 * row, 0.35) for column in range(5) for row in range(7)]
HOLE = [(20.0, 2.6, 1.3)]


def with_hole(surface: np.ndarray, shade: float = 0.25) -> np.ndarray:
    """A hole for a nail through which shaded wood shows, half of it beyond the edge margin of 2 mm."""
    cover = discs(HOLE)[:, :, None]
    return surface + (shade * linear(WOOD) - surface) * cover


def on_wood(surface: np.ndarray) -> np.ndarray:
    """The coupon on a board of rust's colour instead of the grey one."""
    pad = round(8 * PIXELS_PER_MM * 2)
    board = np.broadcast_to(linear(WOOD), surface.shape).copy()
    board[pad:-pad, pad:-pad] = surface[pad:-pad, pad:-pad]
    return board


@pytest.mark.parametrize("finish", ["bright", "blasted"])
def test_specks_of_less_than_a_millimetre_speak_for_rust(finish: str) -> None:
    clean, cover = steel(finish), discs(GRAINS)
    found = evidence_of(photographed(rusted(clean, cover, "brown")), clean_base(clean), UNCHANGED, FRAME)
    inner = significant(FRAME)
    scale = FRAME.pixels_per_mm
    seen = 0
    for x, y, _ in GRAINS:
        row, column = round((8 + y) * scale), round((8 + x) * scale)
        seen += int(found.rust[row - 2 : row + 2, column - 2 : column + 2].max()) > 0
    assert seen >= 0.8 * len(GRAINS)
    # Their area is told only to a factor of two: a speck of 0.7 mm is two pixels of the grid across.
    assert true_percent(cover) / 2 < rusted_percent(found) < 2 * true_percent(cover)
    assert (found.rust[inner] > 0).mean() < 0.04


@pytest.mark.parametrize("finish", ["bright", "blasted", "etched", "blue-black", "mill scale"])
def test_a_clean_coupon_has_no_specks_in_another_photo(finish: str) -> None:
    base = clean_base(steel(finish))
    for seed in (11, 12, 13):
        found = evidence_of(photographed(steel(finish), camera=Camera(seed=seed)), base, UNCHANGED, FRAME)
        assert rusted_percent(found) < 0.01


def test_specks_that_a_first_photo_shows_count_in_it_and_later() -> None:
    clean, cover = steel("blasted"), discs([(12.0, 20.0, 0.6), (28.0, 44.0, 0.6), (16.0, 36.0, 0.6)])
    surface = rusted(clean, cover, "brown")
    found = evidence_of(photographed(surface), clean_base(surface), UNCHANGED, FRAME)
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.5)


@pytest.mark.parametrize("finish", ["bright", "blasted"])
def test_wood_seen_through_a_hole_near_the_edge_is_no_rust(finish: str) -> None:
    surface = on_wood(with_hole(steel(finish)))
    found = evidence_of(photographed(surface), clean_base(surface), UNCHANGED, FRAME)
    assert rusted_percent(found) == 0


def test_rust_that_grows_from_a_hole_counts() -> None:
    surface = on_wood(with_hole(steel("bright")))
    streak = discs([(20.0, y, 1.5) for y in np.arange(6.0, 22.0, 0.5)])
    found = evidence_of(photographed(rusted(surface, streak, "brown")), clean_base(surface), UNCHANGED, FRAME)
    assert rusted_percent(found) == pytest.approx(true_percent(streak), rel=0.15)


def test_rust_at_the_edge_beside_wood_of_its_colour_is_rust_though_the_wood_has_darkened() -> None:
    base = clean_base(on_wood(steel("blasted")))
    cover = discs([(-1.0, 30.0, 6.0)])
    pad = round(8 * PIXELS_PER_MM * 2)
    cover[:, :pad] = 0
    later = on_wood(steel("blasted"))
    later[:, :pad] *= 0.65
    found = evidence_of(photographed(rusted(later, cover, "orange")), base, UNCHANGED, FRAME)
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.15)
