"""The corrosion loss from repeated cleaning. The plot and its break are those of ASTM G1 as remembered; all numbers
here are made up from known lines."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.scales.cleaning import WHERE_TO_READ, Cleaning, corrosion_loss
from rustboard.support.problems import InputError


def masses(before: float, losses: list[float]) -> list[float]:
    return [before - each for each in losses]


def without_blank(losses: list[float]) -> Cleaning:
    return corrosion_loss(50.0, masses(50.0, losses))


def test_the_break_between_two_known_lines_is_found() -> None:
    # Steep 0.4 g a cleaning up to the second, then 0.01 g a cleaning on the line 1 + 0.01 n.
    found = without_blank([0.4, 0.8, 1.03, 1.04, 1.05, 1.06])
    assert found.break_at == 3
    assert found.before is not None
    assert found.after is not None
    assert found.before.slope == pytest.approx(0.4)
    assert found.after.slope == pytest.approx(0.01)
    assert found.at_break_g == pytest.approx(1.03)
    assert found.at_zero_g == pytest.approx(1.0)
    assert (found.loss_from, found.loss_g) == ("break", pytest.approx(1.03))


def test_a_single_weighing_may_lie_before_the_break() -> None:
    found = without_blank([0.7, 1.02, 1.03, 1.04])
    assert (found.break_at, found.before) == (2, None)
    assert found.at_zero_g == pytest.approx(1.0)


@given(
    st.integers(1, 6),
    st.integers(3, 8),
    st.floats(0.05, 2.0),
    st.floats(0.0, 0.2),
    st.lists(st.integers(-1, 1), min_size=14, max_size=14),
)
def test_the_loss_is_found_within_the_noise_of_the_balance(
    steep_count: int, flat_count: int, loss: float, flatness: float, noise: list[int]
) -> None:
    # Rust leaves evenly over the first cleanings, metal at `flatness` of that; readings are 0.1 mg uncertain.
    step = loss / (steep_count + 1)
    slope = step * flatness * 0.5
    exact = [step * number for number in range(1, steep_count + 1)]
    exact += [loss + slope * number for number in range(steep_count + 1, steep_count + flat_count + 1)]
    read = [value + 1e-4 * off for value, off in zip(exact, noise, strict=False)]
    found = without_blank(read)
    assert found.loss_g == pytest.approx(loss + slope * len(exact), abs=slope * len(exact) + 6e-4)


def test_the_blanks_losses_are_taken_off() -> None:
    losses = [0.4, 0.8, 1.03, 1.04, 1.05, 1.06]
    found = corrosion_loss(50.0, masses(50.0, losses), 40.0, masses(40.0, [0.01 * n for n in range(1, 7)]))
    assert found.blank
    assert found.losses_g == pytest.approx([0.39, 0.78, 1.0, 1.0, 1.0, 1.0])
    assert found.raw_g == pytest.approx(losses)
    assert (found.at_break_g, found.at_zero_g) == (pytest.approx(1.0), pytest.approx(1.0))
    assert found.doubts == ()


def test_a_blank_weighed_less_often_is_estimated_and_said_so() -> None:
    found = corrosion_loss(50.0, masses(50.0, [0.4, 0.5, 0.6]), 40.0, [39.98])
    assert found.losses_g == pytest.approx([0.38, 0.46, 0.54])
    assert any("estimated" in each for each in found.doubts)


def test_on_one_straight_line_there_is_no_break() -> None:
    found = without_blank([0.2, 0.4, 0.6, 0.8, 1.0, 1.2])
    assert (found.break_at, found.loss_from, found.loss_g) == (None, "last", pytest.approx(1.2))
    assert any("No break" in each for each in found.doubts)


def test_losses_that_grow_steeper_have_no_break() -> None:
    assert without_blank([0.1, 0.11, 0.12, 0.5, 0.9, 1.3]).break_at is None


def test_too_few_weighings_for_a_break_are_said_to_be() -> None:
    found = without_blank([0.9, 1.0, 1.0])
    assert (found.break_at, found.loss_from) == (None, "last")
    assert any("at least 4" in each for each in found.doubts)


def test_a_single_weighing_is_taken_and_doubted() -> None:
    found = without_blank([0.9])
    assert (found.loss_from, found.loss_g) == ("only", pytest.approx(0.9))
    assert any("one cleaning" in each for each in found.doubts)


def test_growing_heavier_between_cleanings_is_doubted() -> None:
    found = without_blank([0.4, 0.8, 1.0, 0.9])
    assert any("cleaning 4" in each and "more than after cleaning 3" in each for each in found.doubts)


def test_a_coupon_heavier_than_before_is_doubted() -> None:
    assert any("below zero" in each for each in without_blank([-0.1]).doubts)


def test_a_blank_that_gained_is_doubted() -> None:
    found = corrosion_loss(50.0, [49.0], 40.0, [40.1])
    assert any("blank gained" in each for each in found.doubts)


def test_without_a_blank_it_is_said() -> None:
    assert any("No blank" in each for each in without_blank([0.9]).doubts)


@pytest.mark.parametrize(
    ("before", "after", "blank", "blank_after"),
    [
        (50.0, [], None, []),
        (0.0, [1.0], None, []),
        (50.0, [-1.0], None, []),
        (50.0, [49.0], None, [39.0]),
        (50.0, [49.0], 40.0, [39.0, 38.0]),
        (50.0, [float("nan")], None, []),
    ],
)
def test_masses_that_cannot_be_are_refused(
    before: float, after: list[float], blank: float | None, blank_after: list[float]
) -> None:
    with pytest.raises(InputError):
        corrosion_loss(before, after, blank, blank_after)


def test_cleaning_is_left_to_the_standards() -> None:
    assert "ASTM G1" in WHERE_TO_READ
    assert "ISO 8407" in WHERE_TO_READ
    assert "safety data sheet" in WHERE_TO_READ
