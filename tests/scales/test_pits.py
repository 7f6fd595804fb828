"""What pits amount to, in the manner of ASTM G46 (pitting factor: S31 of the project's facts; chart from memory)."""

from __future__ import annotations

import pytest

from rustboard.scales.pits import DENSITY_CHART_PER_M2, DEPTH_CHART_MM, OPENING_CHART_MM2, chart_number, pit_summary
from rustboard.support.problems import InputError


def test_density_openings_and_depths() -> None:
    pits = pit_summary(25, 100.0, (1.0, 3.0), (100.0, 400.0), 50.0)
    assert pits.per_m2 == pytest.approx(2500)
    assert pits.mean_opening_mm2 == 2.0
    assert pits.largest_opening_mm2 == 3.0
    assert pits.deepest_um == 400.0
    assert (pits.ten_deepest_um, pits.of_deepest) == (250.0, 2)
    # S31: deepest pit over mean penetration.
    assert pits.factor == pytest.approx(8.0)
    assert pits.chart == "A-1, B-2, C-1"


def test_the_mean_is_of_the_ten_deepest_alone() -> None:
    pits = pit_summary(None, None, depths_um=[float(depth) for depth in range(1, 21)])
    assert pits.ten_deepest_um == pytest.approx(15.5)
    assert pits.of_deepest == 10


@pytest.mark.parametrize("chart", [DENSITY_CHART_PER_M2, OPENING_CHART_MM2, DEPTH_CHART_MM])
def test_a_pictured_value_is_its_own_picture(chart: tuple[float, ...]) -> None:
    assert [chart_number(value, chart) for value in chart] == [1, 2, 3, 4, 5]
    assert chart_number(0, chart) == 0
    assert chart_number(1e9, chart) == 5


def test_without_a_penetration_there_is_no_factor() -> None:
    assert pit_summary(3, 10.0, depths_um=(50.0,)).factor is None
    assert pit_summary(3, 10.0, depths_um=(50.0,), penetration_um=0.0).factor is None


def test_nothing_noted_nothing_said() -> None:
    pits = pit_summary(None, None)
    assert (pits.per_m2, pits.deepest_um, pits.ten_deepest_um, pits.chart) == (None, None, None, "")


def test_no_pits_is_a_density_of_none() -> None:
    pits = pit_summary(0, 10.0)
    assert (pits.per_m2, pits.chart) == (0.0, "")


@pytest.mark.parametrize(
    ("number", "area", "depth"), [(-1, 1.0, 1.0), (1, 0.0, 1.0), (1, 1.0, -1.0), (1, 1.0, float("nan"))]
)
def test_what_cannot_be_is_refused(number: int, area: float, depth: float) -> None:
    with pytest.raises(InputError):
        pit_summary(number, area, (), (depth,))
