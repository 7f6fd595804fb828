"""What one photo says of one coupon: rust of every age on every finish, its area, and what is no rust."""

from __future__ import annotations

from functools import lru_cache

import cv2
import numpy as np
import pytest
from evidence_patches import (
    FINISHES,
    FRAME,
    PHONE,
    PIXELS_PER_MM,
    PLAN,
    RUSTS,
    SHAPE,
    Camera,
    board_photo,
    clean_base,
    discs,
    linear,
    photographed,
    rusted,
    rusted_percent,
    seen,
    steel,
    true_percent,
    whole_board,
)
from hypothesis import given, settings
from hypothesis import strategies as st

from rustboard.photo.cutting import GridCut, significant
from rustboard.photo.evidence import cover as covering
from rustboard.photo.evidence.base import Base, look_of, make_base
from rustboard.photo.evidence.cover import cover_of
from rustboard.photo.evidence.differences import differences
from rustboard.photo.evidence.light import UNCHANGED, light_between
from rustboard.photo.evidence.planes import quantile_of
from rustboard.photo.evidence.rust import evidence_of

SPOTS = [(20.0, 30.0, 6.0)]
SMALL = [(10.0 + 10 * column, 10.0 + 10 * row, 1.0) for column in range(3) for row in range(5)]


@lru_cache
def base_of(finish: str) -> Base:
    return clean_base(steel(finish))


def looked_at(finish: str, surface: np.ndarray, light: object = 1.0, camera: Camera = PHONE):
    return evidence_of(photographed(surface, light, camera), base_of(finish), UNCHANGED, FRAME)


@pytest.mark.parametrize("finish", FINISHES)
def test_clean_steel_photographed_again_is_clean(finish: str) -> None:
    found = looked_at(finish, steel(finish))
    counted = significant(FRAME)
    assert rusted_percent(found) == 0
    assert np.median(found.rust[counted]) <= -20
    assert not found.foreign[counted].any()
    assert not found.unseen[counted].any()


@pytest.mark.parametrize("rust", RUSTS)
@pytest.mark.parametrize("finish", FINISHES)
def test_rust_of_every_age_is_found_on_every_finish_with_its_area(finish: str, rust: str) -> None:
    cover = discs(SPOTS)
    found = looked_at(finish, rusted(steel(finish), cover, rust))
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.05)
    middle = cv2.resize(cover, SHAPE[::-1], interpolation=cv2.INTER_AREA) == 1
    assert np.mean(found.rust[middle] > 0) > 0.97


@pytest.mark.parametrize("blur", [0.7, 1.5])
@pytest.mark.parametrize("rust", ["orange", "brown"])
@pytest.mark.parametrize("finish", FINISHES)
def test_the_area_of_blurred_spots_of_two_millimetres_is_right(finish: str, rust: str, blur: float) -> None:
    cover = discs(SMALL)
    found = looked_at(finish, rusted(steel(finish), cover, rust), camera=Camera(blur=blur))
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.10)


def test_the_rim_of_a_spot_is_covered_by_half() -> None:
    cover = discs(SPOTS)
    found = looked_at("bright", rusted(steel("bright"), cover, "brown", uneven=0.0))
    share = cv2.resize(cover, SHAPE[::-1], interpolation=cv2.INTER_AREA)
    wrong = (found.cover > 127) != (share > 0.5)
    # Of the 6 mm spot's circumference, less than half a pixel's width.
    assert wrong.sum() < 0.5 * 2 * np.pi * 6 * FRAME.pixels_per_mm


@settings(max_examples=12)
@given(
    finish=st.sampled_from(list(FINISHES)),
    brighter=st.floats(0.5, 2.0),
    slope=st.floats(-0.7, 0.7),
    warmth=st.floats(-0.25, 0.25),
    angle=st.floats(0, 6.3),
)
def test_daylight_does_not_make_clean_steel_rusty(
    finish: str, brighter: float, slope: float, warmth: float, angle: float
) -> None:
    board = whole_board(steel(finish)) * 0.45
    height, width = board.shape[:2]
    x, y = np.meshgrid(np.linspace(-1, 1, width), np.linspace(-1, 1, height))
    field = brighter * np.exp(slope * (np.cos(angle) * x + np.sin(angle) * y))[:, :, None]
    balance = np.exp(warmth * np.array([0.5, 0.0, -1.0]))
    first_cut, first = seen(board_photo(board, camera=Camera(seed=4)))
    cut, now = seen(board_photo(board, field * balance, Camera(seed=5)))
    base = make_base([look_of(first_cut.rgb, first_cut.shown, UNCHANGED)], FRAME)
    found = evidence_of(cut, base, light_between(first, now, PLAN).at(FRAME), FRAME)
    assert rusted_percent(found) < 0.01


def test_rust_is_found_in_the_light_of_another_day() -> None:
    cover = discs(SPOTS + SMALL)
    clean = whole_board(steel("blasted")) * 0.7
    first_cut, first = seen(board_photo(clean, camera=Camera(seed=4)))
    evening = np.array([0.6, 0.5, 0.38])
    cut, now = seen(board_photo(whole_board(rusted(steel("blasted"), cover, "brown")) * 0.7, evening))
    base = make_base([look_of(first_cut.rgb, first_cut.shown, UNCHANGED)], FRAME)
    found = evidence_of(cut, base, light_between(first, now, PLAN).at(FRAME), FRAME)
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.08)


@pytest.mark.parametrize("finish", FINISHES)
def test_a_patch_of_warm_sun_is_not_rust(finish: str) -> None:
    sun = np.exp(discs([(20.0, 30.0, 12.0)])[:, :, None] * np.array([0.95, 0.85, 0.65]))
    sun = cv2.GaussianBlur(sun, (0, 0), 12.0)
    dark = steel(finish) * 0.35
    cut = photographed(dark, camera=Camera(seed=1))
    base = make_base([look_of(cut.rgb, cut.shown, UNCHANGED)], FRAME)
    found = evidence_of(photographed(dark, sun), base, UNCHANGED, FRAME)
    assert rusted_percent(found) < 0.05


@pytest.mark.parametrize("finish", FINISHES)
def test_the_edge_of_a_shadow_is_not_rust(finish: str) -> None:
    height, width = steel(finish).shape[:2]
    lit = (np.arange(width)[None, :, None] + 0.4 * np.arange(height)[:, None, None]) > 0.6 * width
    light = np.where(lit, 1.0, np.array([0.36, 0.40, 0.47]))
    found = looked_at(finish, steel(finish), light)
    assert rusted_percent(found) < 0.05


@pytest.mark.parametrize("ink", [(28, 28, 34), (30, 34, 92), (225, 225, 220)])
def test_lettering_that_hangs_half_a_millimetre_aside_is_not_rust(ink: tuple[int, int, int]) -> None:
    surface = steel("etched")
    letters = np.zeros(surface.shape[:2], np.uint8)
    cv2.putText(letters, "C07", (150, 500), cv2.FONT_HERSHEY_SIMPLEX, 5.0, 255, 10, cv2.LINE_AA)
    share = (letters / 255)[:, :, None]
    lettered = surface * (1 - share) + linear(ink) * share
    cut = photographed(lettered, camera=Camera(seed=1))
    base = make_base([look_of(cut.rgb, cut.shown, UNCHANGED)], FRAME)
    aside = np.roll(lettered, (4, 4), axis=(0, 1))
    assert rusted_percent(evidence_of(photographed(aside), base, UNCHANGED, FRAME)) < 0.05


@pytest.mark.parametrize(("what", "srgb"), [("green leaf", (86, 124, 52)), ("yellow leaf", (206, 176, 52))])
def test_a_leaf_that_is_not_brown_is_foreign(what: str, srgb: tuple[int, int, int]) -> None:
    share = discs(SPOTS)[:, :, None]
    found = looked_at("blasted", steel("blasted") * (1 - share) + linear(srgb) * share)
    leaf = cv2.resize(discs(SPOTS), SHAPE[::-1], interpolation=cv2.INTER_AREA) == 1
    assert np.mean(found.foreign[leaf]) > 0.9, what
    assert rusted_percent(found) < 0.1


@pytest.mark.parametrize("finish", ["blue-black", "oiled", "blasted"])
def test_a_white_dropping_is_not_rust(finish: str) -> None:
    share = discs(SPOTS)[:, :, None]
    found = looked_at(finish, steel(finish) * (1 - share) + linear((228, 226, 214)) * share)
    assert rusted_percent(found) < 0.1


def test_glare_and_what_lies_beyond_the_photo_cannot_be_seen() -> None:
    glare = 1 + 20 * discs([(20.0, 30.0, 5.0)])[:, :, None]
    cut = photographed(steel("bright"), glare)
    cut.shown[:, :100] = False
    found = evidence_of(GridCut(cut.rgb, cut.shown), base_of("bright"), UNCHANGED, FRAME)
    spot = cv2.resize(discs([(20.0, 30.0, 4.5)]), SHAPE[::-1], interpolation=cv2.INTER_AREA) == 1
    assert found.unseen[spot].all()
    assert found.unseen[:, :99].all()
    assert not found.unseen[300:, 110:].any()


def test_what_lay_on_the_coupon_on_the_first_day_does_not_stay_in_its_base() -> None:
    clean, leaf = steel("blasted"), discs(SPOTS)
    cuts = [photographed(rusted(clean, leaf, "brown"), camera=Camera(seed=1))]
    cuts += [photographed(clean, camera=Camera(seed=number)) for number in (2, 3)]
    base = make_base([look_of(cut.rgb, cut.shown, UNCHANGED) for cut in cuts], FRAME)
    later = evidence_of(photographed(rusted(clean, leaf, "brown")), base, UNCHANGED, FRAME)
    assert rusted_percent(later) == pytest.approx(true_percent(leaf), rel=0.06)


def test_rust_that_was_there_on_the_first_day_counts() -> None:
    cover = discs(SPOTS)
    surface = rusted(steel("bright"), cover, "brown")
    base = clean_base(surface)
    found = evidence_of(photographed(surface), base, UNCHANGED, FRAME)
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.1)


def test_a_coupon_mostly_rusted_is_not_taken_for_its_own_colour() -> None:
    cover = np.zeros(steel("blasted").shape[:2])
    pad = round(8 * PIXELS_PER_MM * 2)
    cover[pad:-pad, pad:-pad] = 1
    found = looked_at("blasted", rusted(steel("blasted"), cover, "brown"))
    assert rusted_percent(found) > 97


def test_evidence_is_as_large_as_the_grid_and_says_nothing_of_the_board() -> None:
    found = looked_at("bright", steel("bright"))
    assert found.rust.shape == found.cover.shape == found.foreign.shape == found.unseen.shape == SHAPE
    assert found.rust.dtype == np.int8
    assert (found.rust[:20] == 0).all()


def test_a_brown_leaf_that_goes_on_over_the_board_is_foreign() -> None:
    leaf = discs([(-1.0, 30.0, 6.0)])
    found = looked_at("blasted", rusted(steel("blasted"), leaf, "brown"))
    assert rusted_percent(found) < 0.05


@settings(max_examples=30)
@given(st.lists(st.floats(-5, 5, width=32), min_size=1, max_size=40), st.floats(0, 1))
def test_a_quantile_is_the_one_of_the_reference_library(values: list[float], share: float) -> None:
    given_values = np.array(values, np.float32)
    assert quantile_of(given_values, share) == pytest.approx(float(np.quantile(given_values, share)), abs=1e-5)


@pytest.mark.parametrize("spots", [SPOTS, SMALL, [(38.5, 58.5, 1.5)], [(0.5, 30.0, 0.6), (20.0, 31.0, 0.6)]])
def test_what_rust_covers_is_the_same_looked_at_around_the_rust_alone(
    spots: list[tuple[float, float, float]],
) -> None:
    cut = photographed(rusted(steel("bright"), discs(spots), "brown"))
    everything = (slice(0, SHAPE[0]), slice(0, SHAPE[1]))
    base = base_of("bright")
    found = differences(cut.rgb, base, UNCHANGED, base.inside & base.known, everything)
    rusty = (found.departure > 3 * found.noise) & found.surface
    assert rusty.any()
    # Means are summed up in another order; a step of the result is 1/255.
    assert np.abs(cover_of(found, rusty)[0] - covering._cover_within(found, rusty)).max() < 0.1 / 255


def test_rust_at_the_edge_is_rust() -> None:
    surface, cover = steel("blasted"), discs([(-1.0, 30.0, 6.0)])
    pad = round(8 * PIXELS_PER_MM * 2)
    cover[:, :pad] = 0
    found = looked_at("blasted", rusted(surface, cover, "brown"))
    assert rusted_percent(found) == pytest.approx(true_percent(cover), rel=0.1)
