"""Reference panels: pictures that have exactly the rust they state."""

from collections.abc import Iterator
from typing import get_args

import numpy as np
import pytest
from numpy.typing import NDArray

from rustboard.scales import panels
from rustboard.scales.panels import At, Panel, panel_on_coupon, percent_at, reference_panel
from rustboard.scales.resizing import shrink
from rustboard.scales.rust_fields import Distribution
from rustboard.scales.rust_grade import grade_from_percent, limits_percent, middle_percent
from rustboard.scales.surface import significant_surface
from rustboard.support.problems import InputError

LETTERS = get_args(Distribution)
PLACES = get_args(At)

COUPON_SHAPE = (180, 90)
GROUND = np.full((*COUPON_SHAPE, 3), (70, 90, 120), np.uint8)  # a blue that rust never has
COUNTED = significant_surface([(10, 4), (84, 10), (80, 176), (6, 170)], COUPON_SHAPE, 3)


def looks_rusted(panel: Panel) -> NDArray[np.bool_]:
    """Rust is far redder than blue; steel and the blue coupon are not."""
    red, _, blue = (panel.rgb[..., band].astype(np.int16) for band in range(3))
    return red - blue > 5


def all_panels(letter: Distribution) -> Iterator[Panel]:
    return (reference_panel(grade, letter, at) for grade in range(11) for at in PLACES)


@pytest.mark.parametrize("letter", LETTERS)
def test_counted_rust_agrees_with_the_stated_percent_to_1_percent_of_its_value(letter: Distribution) -> None:
    for panel in all_panels(letter):
        assert panel.percent == percent_at(panel.grade, panel.at)
        counted = 100 * panel.rusted_pixels / panel.counted_pixels
        assert counted == pytest.approx(panel.percent, rel=0.01, abs=0), panel.grade


@pytest.mark.parametrize("letter", LETTERS)
def test_the_picture_shows_the_pixels_that_it_counts(letter: Distribution) -> None:
    for panel in all_panels(letter):
        assert panel.counted_pixels == panel.rgb.shape[0] * panel.rgb.shape[1]
        assert np.count_nonzero(looks_rusted(panel)) == panel.rusted_pixels


@pytest.mark.parametrize("grade", range(11))
def test_the_places_of_a_grade_are_its_limits_and_its_middle(grade: int) -> None:
    lightest, middle, heaviest = (percent_at(grade, at) for at in ("lightest", "middle", "heaviest"))
    assert (lightest, heaviest) == limits_percent(grade)
    assert middle == middle_percent(grade)
    assert grade_from_percent(middle) == grade_from_percent(heaviest) == grade


@pytest.mark.parametrize("letter", LETTERS)
def test_grades_10_and_0_carry_no_letter(letter: Distribution) -> None:
    assert reference_panel(10, letter).distribution == ""
    assert reference_panel(0, letter).distribution == ""
    assert {reference_panel(grade, letter).distribution for grade in range(1, 10)} == {letter}


def test_the_lightest_grade_10_has_no_rust_and_the_heaviest_grade_0_nothing_else() -> None:
    assert reference_panel(10, "S", "lightest").rusted_pixels == 0
    full = reference_panel(0, "S", "heaviest")
    assert full.rusted_pixels == full.counted_pixels


def test_from_grade_to_grade_the_same_spots_grow() -> None:
    less, more = (looks_rusted(reference_panel(grade, "G")) for grade in (6, 4))
    assert not (less & ~more).any()


def test_a_panel_is_the_same_each_time_and_cannot_be_painted_over() -> None:
    first, again = reference_panel(4, "S"), reference_panel(4, "S")
    assert np.array_equal(first.rgb, again.rgb)
    with pytest.raises(ValueError, match="read-only"):
        first.rgb[0, 0] = 0


def test_a_small_picture_still_shows_the_least_pinpoint_rust_in_its_mean() -> None:
    clean, little = (shrink(reference_panel(grade, "P", "heaviest").rgb, 90, 180) for grade in (10, 6))
    assert little[..., 2].mean() < clean[..., 2].mean()


def test_a_grade_the_scale_does_not_have_is_refused() -> None:
    with pytest.raises(InputError, match="is not a grade"):
        reference_panel(11, "S")
    with pytest.raises(InputError, match="is not a grade"):
        panel_on_coupon(GROUND, COUNTED, -1, "S", "middle")


@pytest.mark.parametrize("letter", LETTERS)
def test_on_a_coupon_the_percent_is_that_of_its_significant_surface(letter: Distribution) -> None:
    for grade in (10, 9, 5, 1, 0):
        for at in PLACES:
            panel = panel_on_coupon(GROUND, COUNTED, grade, letter, at)
            counted = 100 * panel.rusted_pixels / panel.counted_pixels
            assert counted == pytest.approx(percent_at(grade, at), rel=0.01, abs=0)
            assert np.count_nonzero(looks_rusted(panel)) == panel.rusted_pixels


def test_a_small_coupon_picture_is_enlarged_in_proportion_until_a_million_pixels_count() -> None:
    panel = panel_on_coupon(GROUND, COUNTED, 5, "S", "middle")
    assert panel.counted_pixels >= 1_000_000
    height, width, _ = panel.rgb.shape
    assert height / width == pytest.approx(COUPON_SHAPE[0] / COUPON_SHAPE[1], rel=0.002)
    assert panel.counted_pixels / (height * width) == pytest.approx(COUNTED.mean(), rel=0.005)


def test_outside_the_significant_surface_the_coupon_stays_as_it_was() -> None:
    panel = panel_on_coupon(GROUND, COUNTED, 0, "G", "heaviest")
    assert panel.rusted_pixels == panel.counted_pixels
    assert (panel.rgb[~looks_rusted(panel)] == (70, 90, 120)).all()


def test_a_large_coupon_picture_is_painted_as_it_is() -> None:
    shape = (1100, 1000)
    ground = np.full((*shape, 3), (70, 90, 120), np.uint8)
    panel = panel_on_coupon(ground, np.ones(shape, np.bool_), 4, "P", "middle")
    assert panel.rgb.shape == ground.shape
    assert panel.counted_pixels == 1_100_000


def test_a_coupon_of_which_little_counts_is_not_enlarged_without_bounds() -> None:
    counted = np.zeros((100, 100), np.bool_)
    counted[50, 20:80] = True
    panel = panel_on_coupon(np.full((100, 100, 3), 90, np.uint8), counted, 4, "P", "middle")
    assert panel.rgb.size / 3 <= 1.01 * panels.MOST_PIXELS


def test_a_coupon_of_which_nothing_counts_is_refused_in_a_sentence() -> None:
    with pytest.raises(InputError, match="Nothing of this coupon counts"):
        panel_on_coupon(GROUND, np.zeros(COUPON_SHAPE, np.bool_), 5, "S", "middle")


def test_a_surface_of_another_size_is_our_own_mistake() -> None:
    with pytest.raises(ValueError, match="do not match"):
        panel_on_coupon(GROUND, COUNTED[:-1], 5, "S", "middle")
