"""Attack on bare steel over the years (ISO 9224).

Formula after S23 and S19 of the project's facts (public abstract and transcriptions), exponents from memory, numbers
worked out there.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.projection import CAUTION, STEEL_B1, STEEL_B2, attack_um, steel_projection
from rustboard.support.problems import InputError


@pytest.mark.parametrize(
    ("exponent", "years", "factor"),
    [
        (STEEL_B1, 1, 1.0),
        (STEEL_B1, 2, 1.4369),
        (STEEL_B1, 5, 2.3204),
        (STEEL_B1, 10, 3.3343),
        (STEEL_B1, 15, 4.1219),
        (STEEL_B1, 20, 4.7911),
        (STEEL_B1, 50, 8.5498),
        (STEEL_B2, 2, 1.4897),
        (STEEL_B2, 5, 2.5229),
        (STEEL_B2, 10, 3.7584),
        (STEEL_B2, 15, 4.7452),
        (STEEL_B2, 20, 5.5988),
        (STEEL_B2, 50, 10.4277),
    ],
)
def test_the_factor_over_the_first_year(exponent: float, years: float, factor: float) -> None:
    assert attack_um(1.0, years, exponent) == pytest.approx(factor, abs=5.1e-5)


@pytest.mark.parametrize(("years", "um"), [(10, 166.7), (20, 239.6), (50, 427.5)])
def test_50_um_in_the_first_year(years: float, um: float) -> None:
    assert attack_um(50, years, STEEL_B1) == pytest.approx(um, abs=0.051)


# Most attack on steel by category, um (worked out in the facts; equals the standard's annex as remembered).
@pytest.mark.parametrize(
    ("first", "attacks"),
    [
        (1.3, (1.3, 1.9, 3.0, 4.3, 5.4, 6.2)),
        (25, (25, 36, 58, 83, 103, 120)),
        (50, (50, 72, 116, 167, 206, 240)),
        (80, (80, 115, 186, 267, 330, 383)),
        (200, (200, 287, 464, 667, 824, 958)),
        (700, (700, 1006, 1624, 2334, 2885, 3354)),
    ],
)
def test_the_table_of_the_categories(first: float, attacks: tuple[float, ...]) -> None:
    table = {each.years: each.b1_um for each in steel_projection(first)}
    digits = 1 if first < 10 else 0
    assert [round(table[year], digits) for year in (1, 2, 5, 10, 15, 20)] == list(attacks)


def test_the_straight_line_goes_on_from_the_power_law() -> None:
    before = attack_um(50, 20, STEEL_B1) - attack_um(50, 20 - 1e-6, STEEL_B1)
    after = attack_um(50, 20 + 1e-6, STEEL_B1) - attack_um(50, 20, STEEL_B1)
    assert after == pytest.approx(before, rel=1e-4)


@given(st.floats(0, 1000), st.floats(0, 100), st.floats(0, 100))
def test_attack_never_shrinks_and_the_conservative_exponent_gives_more(rate: float, one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert attack_um(rate, low, STEEL_B1) <= attack_um(rate, high, STEEL_B1) * (1 + 1e-12)
    if high >= 1:
        assert attack_um(rate, high, STEEL_B2) >= attack_um(rate, high, STEEL_B1)


@pytest.mark.parametrize(("rate", "years"), [(-1, 1), (math.nan, 1), (1, -1), (1, 101), (1, math.nan)])
def test_what_cannot_be_is_refused(rate: float, years: float) -> None:
    with pytest.raises(InputError):
        attack_um(rate, years, STEEL_B1)


def test_the_caution_names_what_it_says_nothing_of() -> None:
    assert "coated" in CAUTION
    assert "bare" in CAUTION
