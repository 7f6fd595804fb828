"""A weighed coupon worked out: its loss, area, rate, category and pits, and means over replicates."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.measured import ExcludedArea
from rustboard.board.model import Board, Coupon
from rustboard.board.record import BoardRecord
from rustboard.board.weighing import Weighing
from rustboard.scales.weighed import (
    Weighed,
    measured_corrosivity,
    replicates,
    spread,
    weigh_up,
    weighed_coupons,
)
from rustboard.support.problems import InputError

BEGAN = datetime(2025, 3, 1, 9)
SHEET = ((10.0, 20.0), (60.0, 20.0), (60.0, 120.0), (10.0, 120.0))
HOLE = ((20.0, 5.0), (24.0, 5.0), (24.0, 9.0), (20.0, 9.0))
COUPON = Coupon("C01", treatment=7, outline_mm=SHEET, key=1)


def weighing(days: float = 365, loss_g: float = 2.0, coupon: int = 1, **fields: object) -> Weighing:
    """Return a bare 50 x 100 x 2 mm coupon of carbon steel, weighed once."""
    values = {
        "exposed_from": None,
        "exposed_to": BEGAN + timedelta(days=days),
        "before_g": 80.0,
        "after_g": (80.0 - loss_g,),
        "blank_before_g": None,
        "blank_after_g": (),
        "thickness_mm": 2.0,
        "area_cm2": None,
        "masked_cm2": 0.0,
        "density_g_cm3": 7.86,
        "bare": True,
        "pits": None,
        "pits_on_cm2": None,
        "pit_openings_mm2": (),
        "pit_depths_um": (),
        "note": "",
    }
    return Weighing(coupon, coupon, recorded="2026-03-02T09:00:00", **(values | fields))  # type: ignore[arg-type]


def worked_out(*excluded: ExcludedArea, **fields: object) -> Weighed:
    return weigh_up(weighing(**fields), COUPON, excluded, BEGAN)  # type: ignore[arg-type]


def test_a_bare_coupon_after_one_year_has_a_category() -> None:
    # 2 g from 106.0 cm2 in 365 days is 188.68 g/m2 y, and 24.005 um/y of 7.86 g/cm3 (worked out here): C2 by both.
    found = worked_out()
    assert found.area_cm2 == pytest.approx(106.0)
    assert found.area_from == "outline"
    assert found.rate is not None
    assert found.rate.g_m2_y == pytest.approx(188.679, abs=1e-3)
    assert found.rate.um_y == pytest.approx(24.005, abs=1e-3)
    assert found.by_thickness is not None
    assert found.by_mass is not None
    assert (found.by_thickness.name, found.by_mass.name) == ("C2", "C2")


def test_the_worked_example_of_a_weighed_coupon() -> None:
    # S30 of the project's facts: 0.650 g, 28.5 cm2, 168 h, 7.85 -> 1.515 mm/y.
    found = worked_out(days=7, loss_g=0.650, area_cm2=28.5, density_g_cm3=7.85)
    assert found.area_from == "hand"
    assert found.rate is not None
    assert found.rate.mm_y == pytest.approx(1.5149, abs=5.1e-5)


@pytest.mark.parametrize(("days", "counts"), [(329, False), (330, True), (400, True), (401, False)])
def test_a_category_takes_one_year(days: float, counts: bool) -> None:
    found = worked_out(days=days)
    assert found.first_year is counts
    assert (found.by_thickness is not None) is counts
    assert any("takes one year" in each for each in found.problems) is not counts
    assert found.rate is not None


def test_where_the_two_limits_disagree_it_is_said() -> None:
    # Trap 3 of the project's facts: 25.2 um/y is C3, its 198 g/m2 y are C2.
    found = worked_out(loss_g=198.07 * 0.0106)
    assert found.by_thickness is not None
    assert found.by_mass is not None
    assert (found.by_thickness.name, found.by_mass.name) == ("C3", "C2")
    assert any("C3 by thickness and C2 by mass" in each for each in found.problems)


def test_a_coated_coupon_has_a_rate_but_no_category() -> None:
    found = worked_out(bare=False)
    assert found.rate is not None
    assert (found.by_thickness, found.by_mass) == (None, None)


def test_another_metal_has_no_category_of_steel() -> None:
    found = worked_out(density_g_cm3=7.14)
    assert found.by_thickness is None
    assert any("carbon steel" in each for each in found.problems)


def test_holes_count_and_labels_are_asked_after() -> None:
    hole = ExcludedArea(1, "hole", HOLE, 1)
    label = ExcludedArea(1, "label", HOLE, 2)
    found = worked_out(hole, label)
    assert found.area is not None
    assert (found.area.holes, found.area.hole_walls) == (pytest.approx(0.32), pytest.approx(0.32))
    assert any("label" in each for each in found.problems)
    assert not any("label" in each for each in worked_out(hole, label, masked_cm2=0.2).problems)


def test_the_holes_of_another_coupon_do_not_count() -> None:
    found = worked_out(ExcludedArea(2, "hole", HOLE, 1))
    assert found.area is not None
    assert found.area.holes == 0


def test_without_thickness_the_faces_alone_count_and_it_is_said() -> None:
    found = worked_out(thickness_mm=None)
    assert (found.area_from, found.area_cm2) == ("faces", pytest.approx(100.0))
    assert any("edges are left out" in each for each in found.problems)


def test_without_outline_or_area_there_is_no_rate() -> None:
    found = weigh_up(weighing(), COUPON.__class__("C01", key=1), (), BEGAN)
    assert (found.area_cm2, found.area_from, found.rate) == (None, "", None)
    assert any("outline" in each for each in found.problems)


def test_what_is_covered_is_taken_off_an_area_by_hand_too() -> None:
    assert worked_out(area_cm2=30.0, masked_cm2=10.0).area_cm2 == pytest.approx(20.0)
    assert worked_out(area_cm2=30.0, masked_cm2=30.0).area_cm2 is None


def test_its_own_first_day_goes_before_the_boards() -> None:
    assert worked_out(exposed_from=BEGAN + timedelta(days=10)).days == pytest.approx(355)


def test_without_a_first_day_there_is_no_rate() -> None:
    found = weigh_up(weighing(), COUPON, (), None)
    assert (found.days, found.rate) == (None, None)
    assert any("when the exposure began" in each for each in found.problems)


def test_taken_down_before_it_began_is_a_problem() -> None:
    found = worked_out(days=-1)
    assert found.days is None
    assert any("taken down before" in each for each in found.problems)


def test_a_coupon_that_gained_has_no_rate() -> None:
    found = worked_out(loss_g=-0.01)
    assert found.rate is None
    assert any("below zero" in each for each in found.problems)


def test_masses_that_cannot_be_are_a_problem_and_not_an_error() -> None:
    found = worked_out(after_g=())
    assert (found.cleaning, found.rate) == (None, None)
    assert found.problems


def test_the_pitting_factor_is_over_the_whole_exposure() -> None:
    # 24.005 um in 365 days; a pit of 240.05 um is ten times that (worked out here).
    found = worked_out(pits=5, pits_on_cm2=100.0, pit_depths_um=(240.05, 10.0))
    assert found.pits is not None
    assert found.pits.factor == pytest.approx(10.0, abs=1e-3)
    assert found.pits.per_m2 == pytest.approx(500)
    assert worked_out().pits is None


def test_pits_that_cannot_be_are_a_problem() -> None:
    found = worked_out(pits=5, pits_on_cm2=-1.0)
    assert found.pits is None
    assert any("pits" in each for each in found.problems)


@given(
    st.floats(-1e3, 4e4),
    st.floats(1e-320, 1e5) | st.none(),
    st.floats(1e-11, 1e5),
    st.floats(1, 25),
    st.floats(1e-320, 1e5) | st.none(),
    st.integers(0, 10**7),
    st.lists(st.floats(0, 5e4), max_size=3),
)
def test_whatever_can_be_noted_is_worked_out_or_told(
    days: float,
    area: float | None,
    after: float,
    density: float,
    pits_on: float | None,
    pits: int,
    depths: list[float],
) -> None:
    found = worked_out(
        days=days,
        area_cm2=area,
        after_g=(after, after),
        density_g_cm3=density,
        pits=pits,
        pits_on_cm2=pits_on,
        pit_depths_um=tuple(depths),
    )
    assert found.rate is not None or found.problems
    assert found.rate is None or 0 <= found.rate.pm_s < 1e30


def test_a_boards_weighed_coupons_as_one_reads_it() -> None:
    record = BoardRecord(Board("B", started=BEGAN))
    record.coupons = {1: COUPON, 2: Coupon("C02", treatment=7, outline_mm=SHEET, key=2), 3: Coupon("C03", key=3)}
    record.weighings = {
        5: weighing(coupon=2),
        6: weighing(),
        7: weighing(coupon=3)._replace(state="withdrawn"),
    }
    assert [each.coupon_id for each in weighed_coupons(record)] == ["C01", "C02"]


def test_means_and_spread_by_treatment() -> None:
    found = [worked_out(loss_g=1.0), worked_out(loss_g=2.0), worked_out(loss_g=3.0), worked_out(loss_g=-1.0)]
    (means,) = replicates(found)
    # Rates are proportional to the losses, so mean and standard deviation are those of 1, 2, 3 times 94.340 g/m2 y.
    assert (means.treatment, means.g_m2_y.n) == (7, 3)
    assert means.g_m2_y.mean == pytest.approx(188.679, abs=1e-3)
    assert means.g_m2_y.sd == pytest.approx(94.340, abs=1e-3)
    assert (means.g_m2_y.least, means.g_m2_y.most) == (
        pytest.approx(94.340, abs=1e-3),
        pytest.approx(283.019, abs=1e-3),
    )


def test_one_replicate_has_no_spread() -> None:
    (means,) = replicates([worked_out()])
    assert (means.um_y.n, means.um_y.sd) == (1, None)


def test_the_place_is_known_by_bare_coupons_after_a_year_alone() -> None:
    found = [worked_out(loss_g=2.0), worked_out(loss_g=4.0), worked_out(bare=False), worked_out(days=60)]
    measured = measured_corrosivity(found)
    assert measured is not None
    assert measured.um_y.n == 2
    assert measured.um_y.mean == pytest.approx(36.008, abs=1e-3)
    assert (measured.by_thickness.name, measured.by_mass.name) == ("C3", "C3")
    assert measured_corrosivity(found[2:]) is None


@given(st.lists(st.floats(0, 1e6), min_size=1))
def test_a_mean_lies_between_the_least_and_the_most(values: list[float]) -> None:
    found = spread(values)
    assert found.least - 1e-6 <= found.mean <= found.most + 1e-6
    assert (found.sd is None) == (len(values) == 1)


def test_no_values_have_no_mean() -> None:
    with pytest.raises(InputError):
        spread([])
