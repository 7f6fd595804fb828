"""Spots: sizes, rims, letters, and the least that a photo can show."""

import numpy as np
import pytest

from rustboard.photo.judging.spots import Spots, letter_of, resolvable_percent, rim_px, spots_of
from rustboard.scales.panels import PANEL_SHAPE, reference_panel
from rustboard.scales.rust_fields import growth_order, rusted

PANEL_PIXELS_PER_MM = 14.4
"""The panels as a coupon of 50 x 100 mm."""


def spots_in(mask, scale=1.0, surface=None):
    whole = np.ones(mask.shape, np.bool_) if surface is None else surface
    return spots_of(mask, np.full(mask.shape, 255, np.uint8), whole, scale)


def drawn(rows):
    return np.array([[letter == "#" for letter in row] for row in rows])


def test_pixels_that_touch_at_a_corner_are_one_spot():
    found = spots_in(drawn(["#....", ".#...", "....#", "...##"]))
    assert found.count == 2
    assert found.areas_mm2.tolist() == [3, 2]
    assert found.largest_mm2 == 3
    assert found.total_mm2 == 5


def test_areas_go_by_how_much_of_a_pixel_is_covered_and_by_scale():
    mask = drawn(["##."])
    found = spots_of(mask, np.array([[255, 51, 255]], np.uint8), np.ones_like(mask), 2.0)
    assert found.total_mm2 == pytest.approx(1.2 / 4)
    assert found.diameters_mm()[0] == pytest.approx(2 * np.sqrt(0.3 / np.pi))


def test_nothing_has_no_spots_and_no_letter():
    found = spots_in(np.zeros((5, 5), np.bool_))
    assert (found.count, found.largest_mm2, found.rim_mm) == (0, 0, 0)
    assert letter_of(found, 0.05) == ""


def test_the_rim_of_a_disc_is_its_circumference():
    y, x = np.mgrid[:120, :120] + 0.5
    disc = (x - 60) ** 2 + (y - 60) ** 2 <= 50**2
    assert rim_px(disc) == pytest.approx(2 * np.pi * 50, rel=0.02)


@pytest.mark.parametrize("letter", ["S", "G", "P"])
@pytest.mark.parametrize("grade", range(9, 0, -1))
def test_reference_panels_get_their_own_letter(letter, grade):
    # Meaning of the letters: ASTM D610 (facts.md section 1, S1 and S2); the panels are this program's own drawings.
    order = growth_order(PANEL_SHAPE, np.ones(PANEL_SHAPE, np.bool_), letter, 4)
    percent = reference_panel(grade, letter).percent
    assert letter_of(spots_in(rusted(order, percent), PANEL_PIXELS_PER_MM), percent) == letter


@pytest.mark.parametrize("letter", ["S", "G", "P"])
@pytest.mark.parametrize("grade", range(8, 0, -1))
def test_at_a_phones_resolution_the_letters_hold_from_grade_eight_down(letter, grade):
    # At grade 9 so coarse a picture no longer shows how many specks there are.
    order = growth_order((600, 300), np.ones((600, 300), np.bool_), letter, 4)
    percent = reference_panel(grade, letter).percent
    assert letter_of(spots_in(rusted(order, percent), 6.0), percent) == letter


def test_specks_beside_a_large_patch_are_a_mix():
    specks = growth_order((600, 300), np.ones((600, 300), np.bool_), "P", 2)
    mask = rusted(specks, 1)
    mask[250:310, 100:150] = True
    assert letter_of(spots_in(mask, 6.0), 2.6) == "H"


def test_grades_ten_and_nought_carry_no_letter():
    few = Spots(np.array([0.3]), np.inf, 1.0)
    assert letter_of(few, 0.01) == ""
    assert letter_of(few, 50.1) == ""
    assert letter_of(few, 0.02) == "S"


def test_the_least_that_can_be_seen_is_twenty_pixels_of_the_photo():
    # facts.md section 14: at 0.1 mm/pixel grade 10 (0.01 %) on 50 x 100 mm is 50 pixels; so 20 pixels are 0.004 %.
    assert resolvable_percent(5000, 10) == pytest.approx(0.004)
    assert resolvable_percent(5000, 10, blur_px=1.6) == pytest.approx(0.016)
    assert resolvable_percent(5000, 10, blur_px=0.5) == pytest.approx(0.004)
    assert resolvable_percent(0, 10) == resolvable_percent(5000, 0) == 100
