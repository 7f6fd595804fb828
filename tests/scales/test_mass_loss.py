"""Corrosion rates from mass loss, and exposed areas.

Keys are those of the project's facts: S24 a public page with two constants of ASTM G1, S28 a public conversion
table, S30 a public worked example.
"""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.model import Outline
from rustboard.scales.mass_loss import CorrosionRate, around_mm, corrosion_rate, exposed_area
from rustboard.support.problems import InputError

SHEET: Outline = ((10.0, 20.0), (60.0, 20.0), (60.0, 120.0), (10.0, 120.0))
HOLE: Outline = ((20.0, 5.0), (24.0, 5.0), (24.0, 9.0), (20.0, 9.0))


def test_the_worked_example() -> None:
    # S30: 0.650 g, 28.5 cm2, 168 h, 7.85 g/cm3 -> 56940 / 37585.8 = 1.515 mm/y. Other units worked out in the facts.
    rate = corrosion_rate(0.650, 28.5, 168, 7.85)
    assert rate.mm_y == pytest.approx(56940 / 37585.8, rel=1e-12)
    assert rate.mm_y == pytest.approx(1.5149, abs=5.1e-5)
    assert rate.g_m2_h == pytest.approx(1.3576, abs=5.1e-5)
    assert rate.mdd == pytest.approx(325.8, abs=0.051)


def test_iron_at_1_mm_a_year() -> None:
    # S28: density 7.88, 1 mm/y = 39.4 mpy = 21.6 g/m2 d.
    rate = CorrosionRate(7.88 * 1000 / 8760, 7.88)
    assert rate.mm_y == pytest.approx(1.0)
    assert rate.mpy == pytest.approx(39.4, abs=0.05)
    assert rate.g_m2_d == pytest.approx(21.6, abs=0.05)


# K of ASTM G1: mm/y and mpy S24, the others from memory. They are rounded to three digits: slack as the facts advise.
def test_the_constants_of_g1() -> None:
    rate = corrosion_rate(1.0, 1.0, 1.0, 1.0)
    assert rate.mm_y == pytest.approx(8.76e4, rel=1e-12)
    assert rate.um_y == pytest.approx(8.76e7, rel=1e-12)
    assert rate.mpy == pytest.approx(3.45e6, rel=5e-4)
    assert rate.in_y == pytest.approx(3.45e3, rel=5e-4)
    assert rate.in_month == pytest.approx(2.87e2, rel=2e-3)
    assert rate.pm_s == pytest.approx(2.78e6, rel=1e-3)
    assert rate.g_m2_h == pytest.approx(1.00e4, rel=1e-12)
    assert rate.mdd == pytest.approx(2.40e6, rel=1e-12)
    assert rate.ug_m2_s == pytest.approx(2.78e6, rel=1e-3)


def test_other_spellings_of_the_same_rule() -> None:
    # S28b, S25, S26 and S27 of the facts, public pages; their constants are rounded to three or four digits, the
    # slack is their distance from 3.4488e6 (87.6 is exact).
    loss, area, hours, density = 0.650, 28.5, 168.0, 7.85
    rate = corrosion_rate(loss, area, hours, density)
    square_inches, days = area / 6.4516, hours / 24
    assert rate.mm_y == pytest.approx(87.6 * loss * 1000 / (density * area * hours), rel=1e-12)
    assert rate.mpy == pytest.approx(534 * loss * 1000 / (density * square_inches * hours), rel=1.1e-3)
    assert rate.mpy == pytest.approx(22_300 * loss / (square_inches * density * days), rel=1.3e-3)
    assert rate.mpy == pytest.approx(143_750 * loss / (days * area * density), rel=5e-4)


def test_grams_per_day_from_millimetres_per_year() -> None:
    # Trap 8 of the facts: the factor is 2.7397, not the thousandfold that one public page prints.
    assert CorrosionRate(7.86 * 1000 / 8760, 7.86).g_m2_d == pytest.approx(7.86 * 2.7397, rel=1e-5)


@given(st.floats(1e-6, 100), st.floats(0.1, 1e4), st.floats(1, 1e6), st.floats(1, 25))
def test_the_units_agree(loss: float, area: float, hours: float, density: float) -> None:
    rate = corrosion_rate(loss, area, hours, density)
    assert rate.um_y == pytest.approx(rate.mm_y * 1000)
    assert rate.mpy * 25.4 == pytest.approx(rate.um_y)
    assert rate.in_month * 12 == pytest.approx(rate.in_y)
    assert rate.in_y * 1000 == pytest.approx(rate.mpy)
    assert rate.pm_s * 3600 * 8760 == pytest.approx(rate.um_y * 1e6)
    assert rate.g_m2_y == pytest.approx(rate.g_m2_d * 365)
    assert rate.mdd == pytest.approx(rate.g_m2_d * 10)
    assert rate.ug_m2_s * 3600 == pytest.approx(rate.g_m2_h * 1e6)
    assert rate.g_m2_y == pytest.approx(rate.um_y * density)
    # What was lost comes back out of the rate.
    assert rate.g_m2_h * area * 1e-4 * hours == pytest.approx(loss)


@pytest.mark.parametrize(
    "values",
    [
        (-0.1, 1, 1, 1),
        (1, 0, 1, 1),
        (1, 1, 0, 1),
        (1, 1, 1, 0),
        (float("nan"), 1, 1, 1),
        (1, float("inf"), 1, 1),
        (1, 1e-320, 1, 1),
    ],
)
def test_what_gives_no_rate_is_refused(values: tuple[float, float, float, float]) -> None:
    with pytest.raises(InputError):
        corrosion_rate(*values)


def test_a_sheet_with_both_faces_and_edges() -> None:
    # 50 x 100 x 2 mm is 106.0 cm2 (worked out in the facts).
    area = exposed_area(SHEET, 2.0)
    assert area.cm2 == pytest.approx(106.0)
    assert (area.faces, area.edges) == (pytest.approx(100.0), pytest.approx(6.0))


def test_a_hole_takes_two_faces_and_gives_its_wall() -> None:
    # 4 x 4 mm: 2 x 0.16 cm2 gone, 16 mm x 2 mm = 0.32 cm2 of wall.
    area = exposed_area(SHEET, 2.0, [HOLE])
    assert area.holes == pytest.approx(0.32)
    assert area.hole_walls == pytest.approx(0.32)
    assert area.cm2 == pytest.approx(106.0)


def test_what_is_masked_is_taken_off() -> None:
    assert exposed_area(SHEET, 2.0, masked_cm2=50.0).cm2 == pytest.approx(56.0)


@given(st.floats(1, 500), st.floats(1, 500), st.floats(0.1, 0.9), st.floats(0, 20))
def test_two_parts_have_the_whole_and_their_cut_faces(width: float, height: float, part: float, thick: float) -> None:
    def sheet(left: float, right: float) -> Outline:
        return ((left, 0.0), (right, 0.0), (right, height), (left, height))

    whole = exposed_area(sheet(0, width), thick).cm2
    parts = exposed_area(sheet(0, part * width), thick).cm2 + exposed_area(sheet(part * width, width), thick).cm2
    assert parts == pytest.approx(whole + 2 * height * thick / 100)


def test_the_way_around() -> None:
    assert around_mm(SHEET) == pytest.approx(300.0)


def test_a_coupon_without_outline_has_no_area() -> None:
    with pytest.raises(InputError, match="outline"):
        exposed_area((), 2.0)


def test_a_hole_beyond_the_coupon_is_refused() -> None:
    with pytest.raises(InputError, match="hole"):
        exposed_area(SHEET, 2.0, [tuple((x + 40, y) for x, y in HOLE)])


def test_masking_it_all_leaves_nothing() -> None:
    with pytest.raises(InputError, match="nothing"):
        exposed_area(SHEET, 2.0, masked_cm2=106.0)
