"""The figures of a check, on cases small enough to reckon by hand."""

from __future__ import annotations

from pathlib import Path

import pytest

from scenes import CouponTruth, Options, TrueMotion
from scenes.checking import SceneResult, grade, result_of, score
from scenes.store import stored_scene

STILL = TrueMotion(0, 0, 0, 1)


def _true(percent: float, debris: float = 0.0, coupon: str = "C01", *, missing: bool = False) -> CouponTruth:
    return CouponTruth(percent, debris, missing, "" if missing else coupon, STILL)


@pytest.mark.parametrize(
    ("percent", "expected"),  # ASTM D610, facts.md section 1 (S1)
    [
        (0, 10),
        (0.01, 10),
        (0.0100001, 9),
        (0.03, 9),
        (0.1, 8),
        (1.0, 6),
        (10, 4),
        (16, 3),
        (33, 2),
        (50, 1),
        (50.01, 0),
    ],
)
def test_grade_has_the_limits_of_the_standard(percent: float, expected: int) -> None:
    assert grade(percent) == expected


def test_figures_of_a_handful_of_cases() -> None:
    truth = {
        "1.jpg": {"C01": _true(0), "C02": _true(0, 4.0, "C02"), "C03": _true(1.0, coupon="C03")},
        "2.jpg": {"C01": _true(0), "C02": _true(2.0, 0, "C02"), "C03": _true(4.0, coupon="C03")},
    }
    measured = {
        "1.jpg": {
            "C01": {"percent": 0.0, "low": 0.0, "high": 0.1},
            "C02": {"percent": 0.5, "low": 0.2, "high": 0.9},
            "C03": {"percent": 1.2, "low": 0.9, "high": 1.5},
        },
        "2.jpg": {"C01": {"percent": 0.0, "low": 0.0, "high": 0.1}, "C03": {"percent": 2.0, "low": 1, "high": 3}},
    }
    found = score([SceneResult("one", truth, measured)])
    assert (found.cases, found.unmeasured, found.invented) == (5, 1, 0)
    assert found.median_relative_error == pytest.approx((0.2 + 0.5) / 2)
    assert found.within_one_grade == pytest.approx(4 / 5)
    assert found.false_alarms == 1.0
    assert found.false_alarms_everywhere == pytest.approx(1 / 3)
    assert found.inside == pytest.approx(3 / 5)
    assert found.worst["error"][0].coupon == "C03"
    assert not found.holds()["within one grade in >= 95 %"]


def test_a_missing_coupon_is_not_compared_and_a_figure_for_it_is_counted() -> None:
    truth = {"1.jpg": {"C01": _true(float("nan"), missing=True), "C02": _true(3.0, coupon="C01")}}
    measured = {"1.jpg": {each: {"percent": 1.0, "low": 0.0, "high": 2.0} for each in ("C01", "C02")}}
    found = score([SceneResult("one", truth, measured)])
    assert (found.cases, found.unmeasured, found.invented) == (0, 0, 1)


def test_what_is_true_measured_scores_in_full(tmp_path: Path) -> None:
    painted = stored_scene(12, megapixels=0.3, photos=3, options=Options(coupons=(4, 3)), folder=tmp_path)
    perfect = {
        painted.name(number): {
            coupon: {"percent": each.percent, "low": each.percent, "high": each.percent}
            for coupon, each in painted.truth(number).items()
        }
        for number in range(painted.count)
    }
    found = score([result_of(painted, perfect)])
    assert found.cases == 3 * 12
    assert all(found.holds().values())
    assert found.spearman == pytest.approx(1)


def test_a_scene_is_painted_once_and_read_afterwards(tmp_path: Path) -> None:
    options = Options(coupons=(3, 2))
    first = stored_scene(13, megapixels=0.3, photos=2, options=options, folder=tmp_path).photo(1)
    again = stored_scene(13, megapixels=0.3, photos=2, options=options, folder=tmp_path)
    again.source.photo = None  # type: ignore[method-assign,assignment]  # painting would fail
    assert again.photo(1) == first
