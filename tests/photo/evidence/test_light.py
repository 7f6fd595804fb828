"""The light of a photo against that of the first one, when some of what could witness it has changed."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from evidence_patches import (
    BOARD_MM,
    FRAME,
    OUTLINE,
    PAPERS,
    PHONE,
    PIXELS_PER_MM,
    PLAN,
    Camera,
    board_photo,
    discs,
    drops,
    lay_drops,
    placed,
    rusted,
    steel,
    whole_board,
)

from rustboard.photo.evidence.board_look import (
    BOARD,
    FIRST_COUPON,
    FIRST_PAPER,
    LightPlan,
    look_at_board,
    witness_map,
)
from rustboard.photo.evidence.light import UNCHANGED, Light, light_between
from rustboard.photo.evidence.modes import mode_of
from rustboard.photo.evidence.tables import LOGARITHM, STEPS, TO_PARTS, linear_light

FINE = PIXELS_PER_MM * 2
WOOD = (186, 140, 98)
WET_WOOD = np.array([0.62, 0.55, 0.46])
"""What water leaves of wood's red, green, blue; from memory of photographs, no source."""


def between(
    before: np.ndarray, after: np.ndarray, light: object = 1.0, plan: LightPlan = PLAN, camera: Camera = PHONE
) -> Light:
    first, now = board_photo(before * 0.6, camera=Camera(seed=4)), board_photo(after * 0.6, light, camera)
    return light_between(look_at_board(first, placed(first), plan), look_at_board(now, placed(now), plan), plan)


def colour_at_coupon(light: Light) -> np.ndarray:
    """Redness and yellowness gained at the coupon, nats."""
    return (light.at(FRAME).gains.reshape(-1, 3) @ TO_PARTS.T)[:, 1:].mean(axis=0)


def all_but_papers(board: np.ndarray) -> np.ndarray:
    mask = np.ones(board.shape[:2], np.bool_)
    for (left, top), _, (right, bottom), _ in PAPERS:
        mask[round(top * FINE) : round(bottom * FINE), round(left * FINE) : round(right * FINE)] = False
    return mask


def coupon_of(board: np.ndarray) -> tuple[slice, slice]:
    (left, top), _, (right, bottom), _ = OUTLINE
    return slice(round(top * FINE), round(bottom * FINE)), slice(round(left * FINE), round(right * FINE))


@pytest.mark.parametrize("gains", [(0.5, 0.5, 0.5), (1.5, 1.5, 1.5), (1.0, 0.9, 0.6), (0.55, 0.6, 0.75)])
def test_a_change_of_light_alone_is_found(gains: tuple[float, float, float]) -> None:
    board = whole_board(steel("blasted"))
    found = between(board, board, np.array(gains)).at(FRAME).gains.reshape(-1, 3).mean(axis=0)
    assert found == pytest.approx(np.log(gains), abs=0.02)


def test_light_that_falls_off_across_the_board_is_followed() -> None:
    board = whole_board(steel("blasted"))
    falling = np.exp(np.linspace(0.5, -0.5, board.shape[1]))[None, :, None]
    gains = between(board, board, falling).at(FRAME).gains[:, :, 1].mean(axis=0)
    assert gains[0] - gains[-1] == pytest.approx(
        0.42, abs=0.2
    )  # 42 of the board's 100 mm; the board beside the coupon is 64 mm apart


def test_wet_wood_does_not_change_the_colour_of_the_light() -> None:
    before = whole_board(steel("blasted"), WOOD)
    after = before.copy()
    wet = all_but_papers(after)
    wet[coupon_of(after)] = False
    after[wet] *= WET_WOOD
    assert np.abs(colour_at_coupon(between(before, after))).max() < 0.04


def test_a_wet_board_is_said() -> None:
    before = whole_board(steel("blasted"), WOOD)
    after = before.copy()
    after[all_but_papers(before)] *= WET_WOOD
    assert "surface wet" in between(before, after).warnings
    assert "surface wet" not in between(before, before, 0.6).warnings


def test_a_board_that_has_only_become_darker_is_not_called_wet() -> None:
    before = whole_board(steel("blasted"), WOOD)
    after = before * np.where(all_but_papers(before), 0.6, 0.95)[:, :, None]
    assert "surface wet" not in between(before, after).warnings


@pytest.mark.parametrize("papers", [PAPERS, ()])
def test_drops_on_the_coupon_are_water_on_any_board(papers: tuple) -> None:
    plan = LightPlan(*BOARD_MM, (OUTLINE,), papers)
    before, wet = whole_board(steel("blasted")), steel("blasted").copy()
    lay_drops(wet, drops(60))
    found = between(before, whole_board(wet), plan=plan)
    assert found.warnings == ("surface wet",)
    assert found.at(FRAME).drops


def test_rust_dark_or_bright_is_no_water() -> None:
    places = [(x, y, 0.7) for x, y, _ in drops(60)]
    for rust in ("orange", "near black"):
        after = whole_board(rusted(steel("blasted"), discs(places), rust))
        assert "surface wet" not in between(whole_board(steel("blasted")), after).warnings


def test_a_grey_card_keeps_the_colour_of_light_where_board_and_coupons_mislead() -> None:
    card = ((70.0, 30.0), (90.0, 30.0), (90.0, 50.0), (70.0, 50.0))
    covered = np.ones(steel("blasted").shape[:2])
    before = whole_board(steel("blasted"), WOOD)
    after = whole_board(rusted(steel("blasted"), covered, "orange"), WOOD)
    after[all_but_papers(after)] *= np.where(np.arange(3) > 0, WET_WOOD, 0.62)
    for board in (before, after):
        board[round(30 * FINE) : round(50 * FINE), round(70 * FINE) : round(90 * FINE)] = 0.18
    evening = np.array([1.0, 0.85, 0.6])
    true = np.array([-np.log(0.85), np.log(0.85 / 0.6)])
    with_card = between(before, after, evening, LightPlan(*BOARD_MM, (OUTLINE,), (), (card,)))
    without = between(before, after, evening, LightPlan(*BOARD_MM, (OUTLINE,)))
    assert colour_at_coupon(with_card) == pytest.approx(true, abs=0.04)
    assert np.abs(colour_at_coupon(without) - true).max() > 0.08


def test_a_coupon_all_rusted_does_not_change_the_colour_of_the_light() -> None:
    before = whole_board(steel("blasted"))
    after = whole_board(rusted(steel("blasted"), np.ones(steel("blasted").shape[:2]), "orange"))
    assert np.abs(colour_at_coupon(between(before, after))).max() < 0.04


def test_one_dirty_marker_does_not_change_the_colour_of_the_light() -> None:
    before = whole_board(steel("blasted"))
    after = before.copy()
    after[: round(15 * FINE), : round(15 * FINE)] *= np.array([0.9, 0.6, 0.3])
    assert np.abs(colour_at_coupon(between(before, after))).max() < 0.04


@pytest.mark.parametrize("papers", [PAPERS, ()])
def test_the_colour_of_light_is_found_with_and_without_markers(papers: tuple) -> None:
    plan = LightPlan(*BOARD_MM, (OUTLINE,), papers)
    board = whole_board(steel("blasted"))
    evening = between(board, board, np.array([1.0, 0.85, 0.6]), plan)
    assert colour_at_coupon(evening) == pytest.approx([-np.log(0.85), np.log(0.85 / 0.6)], abs=0.04)


def test_a_board_with_no_bare_place_is_judged_by_its_papers() -> None:
    plan = LightPlan(*BOARD_MM, (OUTLINE, ((0, 0), (100, 0), (100, 110), (0, 110))), PAPERS)
    board = whole_board(steel("blasted"))
    evening = between(board, board, np.array([1.0, 0.85, 0.6]), plan)
    assert colour_at_coupon(evening) == pytest.approx([-np.log(0.85), np.log(0.85 / 0.6)], abs=0.06)


def test_sunlight_is_warmer_than_shade_by_as_much_as_the_board_shows() -> None:
    board = whole_board(steel("blasted"))
    height, width = board.shape[:2]
    sunny = cv2.GaussianBlur((np.arange(width)[None] > width / 2).repeat(height, axis=0).astype(float), (0, 0), 20)
    light = np.exp(sunny[:, :, None] * np.array([0.0, -0.2, -0.5]) - 1.0 + sunny[:, :, None] * 1.2)
    # Without JPEG, whose rounding of one level is a tenth of the difference sought.
    at = between(board, board, light, camera=Camera(quality=0)).at(FRAME)
    brighter = 0.25 * 1.2 + 0.6 * 1.0 + 0.15 * 0.7
    assert at.sunny_red == pytest.approx(0.2 / brighter, rel=0.15)
    assert at.sunny_yellow == pytest.approx(0.3 / brighter, rel=0.15)


def test_strong_shadows_and_little_light_are_said() -> None:
    board = whole_board(steel("blasted"))
    height, width = board.shape[:2]
    shade = np.where(np.arange(width)[None, :, None] > width / 2, 1.0, 0.3) * np.ones((height, 1, 1))
    assert between(board, board, shade).warnings == ("strong shadows",)
    assert between(board, board, 0.05).warnings == ("low light",)
    assert between(board, board).warnings == ()


@pytest.mark.parametrize("papers", [PAPERS, ()])
def test_blur_is_told_and_said_with_and_without_markers(papers: tuple) -> None:
    plan = LightPlan(*BOARD_MM, (OUTLINE,), papers)
    board = whole_board(steel("bright")) * 0.6
    photos = [board_photo(board, camera=Camera(blur=blur)) for blur in (1.0, 1.3, 3.0)]
    sharp, soft, blurred = (look_at_board(each, placed(each), plan) for each in photos)
    assert blurred.blur_px == pytest.approx(3.0, rel=0.2)
    assert blurred.blur_mm == pytest.approx(3.0 / PIXELS_PER_MM, rel=0.2)
    assert light_between(sharp, blurred, plan).warnings == ("blurred",)
    assert light_between(sharp, soft, plan).warnings == ()


def test_a_shadow_across_one_marker_does_not_make_a_photo_sharp() -> None:
    board = whole_board(steel("blasted")) * 0.6
    photo = board_photo(board, camera=Camera(blur=3.0)).copy()
    photo[: round(8 * PIXELS_PER_MM), : round(6.3 * PIXELS_PER_MM)] //= 3  # a hard edge, drawn after the blur
    assert look_at_board(photo, placed(photo), PLAN).blur_px == pytest.approx(3.0, rel=0.2)


def test_what_is_near_a_coupon_is_no_witness() -> None:
    labels, scale = witness_map(PLAN), PLAN.scale
    rows, columns = np.nonzero(labels == BOARD)
    x, y = (columns + 0.5) / scale, (rows + 0.5) / scale
    outside = np.hypot(np.maximum(np.abs(x - 40) - 20, 0), np.maximum(np.abs(y - 50) - 30, 0))
    assert outside.min() > 7
    assert (labels == FIRST_COUPON).any()
    assert len(np.unique(labels[(labels >= FIRST_PAPER) & (labels < FIRST_COUPON)])) == len(PAPERS)


def test_light_beyond_the_photo_is_that_of_what_it_shows() -> None:
    board = board_photo(whole_board(steel("blasted")) * 0.5)
    part = board[:, :330]
    look = look_at_board(part, placed(part), PLAN)
    assert look.known[:, : int(54 * PLAN.scale)].mean() > 0.95
    assert not look.known[:, int(56 * PLAN.scale) :].any()


def test_a_mode_is_found_among_many_other_values() -> None:
    random = np.random.default_rng(1)
    clean, rust = random.normal(0.05, 0.03, 400), random.uniform(0.2, 1.5, 600)
    middle, share = mode_of(np.concatenate([clean, rust]).astype(np.float32), 0.3)
    assert middle == pytest.approx(0.05, abs=0.015)
    assert 0.3 < share < 0.5
    assert mode_of(np.zeros(0, np.float32)) == (0.0, 0.0)


def test_logarithms_of_levels_are_those_of_linear_light() -> None:
    # IEC 61966-2-1: level 188 is 0.5029 of white, from the formula.
    assert linear_light()[188] == pytest.approx(0.5029, abs=1e-4)
    assert LOGARITHM[188] / STEPS == pytest.approx(np.log(0.5029 + 0.001), abs=1 / STEPS)


def test_unchanged_light_changes_nothing() -> None:
    assert (UNCHANGED.steps((3, 5)) == 0).all()
