"""The ramp of grade colours stays readable and tellable apart, for colour-blind eyes too."""

from itertools import combinations, pairwise

import numpy as np
import pytest
from numpy.typing import NDArray

from rustboard.scales.grade_colours import GRADE_COLOURS, contrast_ratio, ink_on, relative_luminance

# Complete colour blindness simulated on linear sRGB: Machado, Oliveira and Fernandes 2009, severity 1; from memory.
EYES = {
    "usual": np.eye(3),
    "protanopia": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deuteranopia": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritanopia": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}


def lab_as_seen(colour: str, eye: str) -> NDArray[np.float64]:
    """CIE L*a*b* (D65) of an sRGB colour through an eye; the usual formulas, from memory."""
    encoded = np.array([int(colour[at : at + 2], 16) for at in (1, 3, 5)]) / 255
    linear = np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)
    seen = np.clip(EYES[eye] @ linear, 0, 1)
    xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]) @ seen
    x, y, z = np.cbrt(ratio := xyz / [0.9505, 1.0, 1.089]) * (ratio > 0.008856) + (7.787 * ratio + 16 / 116) * (
        ratio <= 0.008856
    )
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def apart(one: str, other: str, eye: str) -> float:
    return float(np.linalg.norm(lab_as_seen(one, eye) - lab_as_seen(other, eye)))


def test_there_is_one_colour_for_each_of_the_eleven_grades() -> None:
    assert len(set(GRADE_COLOURS)) == 11


@pytest.mark.parametrize("grade", range(11))
def test_the_digit_reads_on_its_colour(grade: int) -> None:
    # 4.5 is the contrast WCAG 2.2 asks of ordinary text (level AA), from memory.
    colour = GRADE_COLOURS[grade]
    assert contrast_ratio(ink_on(colour), colour) >= 4.5


@pytest.mark.parametrize("eye", EYES)
def test_neighbouring_grades_can_be_told_apart(eye: str) -> None:
    # A difference of 2.3 is just noticeable side by side (common practice, no source); three times that for tiles
    # that lie apart is our own choice.
    assert min(apart(one, other, eye) for one, other in pairwise(GRADE_COLOURS)) >= 7


@pytest.mark.parametrize("eye", EYES)
def test_a_good_grade_is_never_taken_for_a_bad_one(eye: str) -> None:
    far = [(a, b) for a, b in combinations(range(11), 2) if b - a >= 3]
    assert min(apart(GRADE_COLOURS[a], GRADE_COLOURS[b], eye) for a, b in far) >= 20


def test_black_and_white_have_the_greatest_contrast() -> None:
    assert relative_luminance("#000000") == 0
    assert relative_luminance("#ffffff") == pytest.approx(1)
    # WCAG 2.2: 21 to 1, from memory.
    assert contrast_ratio("#ffffff", "#000000") == pytest.approx(21)
    assert contrast_ratio("#808080", "#808080") == 1
