"""What the lane of the weather is drawn from: any stretch of it, and pictures px by px."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtGui import QColor, QImage

from rustboard.board.exposure_clock import counted_clock
from rustboard.board.weather import DayNote
from rustboard.ui.theme import SCHEMES, Scheme, weather_inks
from rustboard.ui.timeline import lane_data
from rustboard.ui.timeline.geometry import Floats
from rustboard.ui.timeline.lane_data import Columns, Extremes, LaneAxis, LaneWeather, bin_edges, bin_length
from rustboard.ui.timeline.lane_painting import air_scale, rain_scale
from rustboard.ui.timeline.lane_strip import strip_image
from rustboard.weather.readings import BoardWeather, LoggerReadings, ReadingTable
from rustboard.weather.track import make_track

ZERO = datetime(2026, 3, 2)
NONE = float("nan")


def lane(
    temperatures: Floats, *, humidity: float = 50.0, rain: float = 0.0, notes: tuple[DayNote, ...] = ()
) -> LaneWeather:
    """Hourly readings from the start on."""
    hours = np.arange(len(temperatures))
    first = (ZERO - datetime(1970, 1, 1)).total_seconds()
    table = ReadingTable(
        (first + 3_600 * hours).astype(np.int64),
        {
            "temperature": temperatures,
            "humidity": np.full(len(hours), humidity),
            "rain": np.full(len(hours), rain),
        },
    )
    track = make_track(BoardWeather((LoggerReadings("porch", "", table),), notes))
    return LaneWeather(track, ZERO, -1.0, 12.0, notes)


@given(
    st.lists(st.one_of(st.just(NONE), st.floats(-30, 40)), min_size=1, max_size=90),
    st.lists(st.integers(0, 90), min_size=2, max_size=8),
)
def test_extremes_of_any_readings_in_a_row_are_those_of_these_readings(values: list[float], cuts: list[int]) -> None:
    edges = np.minimum(np.sort(cuts), len(values))
    numbers = np.array(values)
    low, high = Extremes(numbers, numbers).between(edges[:-1], edges[1:])
    for at, (first, beyond) in enumerate(pairwise(edges)):
        known = [each for each in values[first:beyond] if not np.isnan(each)]
        assert (np.isnan(low[at]), np.isnan(high[at])) == (not known, not known)
        assert not known or (low[at], high[at]) == (min(known), max(known))


def test_with_many_readings_in_view_blocks_serve_and_lose_no_extreme(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lane_data, "MOST_LOOKED_AT", 16)
    values = np.sin(np.arange(4096.0))
    values[1000] = 40.0
    edges = np.array([0, 999, 1002, 4096])
    low, high = Extremes(values, values).between(edges[:-1], edges[1:])
    assert high.max() == 40.0
    assert low.min() == values.min()
    assert np.isfinite(low).all()


def test_a_day_without_readings_is_not_known() -> None:
    found = lane(np.full(48, 5.0)).columns(np.array([0.0, 1.0, 2.1, 4.0, 6.0]))
    assert found.dry == pytest.approx([1, 1, 0, 0], abs=0.15)
    assert (found.wet + found.dry)[3] == 0
    assert np.isnan(found.mean[3])


def test_wet_dry_and_temperature_are_those_of_the_stretch() -> None:
    temperatures = np.concatenate([np.full(24, 2.0), np.full(24, 8.0)])
    found = lane(temperatures, humidity=95.0).columns(np.array([0.1, 0.9, 1.1, 1.9]))
    assert found.wet == pytest.approx([1, 1, 1])
    assert found.mean[[0, 2]] == pytest.approx([2, 8])
    assert (found.lowest[1], found.highest[1]) == (2, 8)


def test_rain_of_neighbouring_stretches_adds_up() -> None:
    weather = lane(np.full(240, 5.0), rain=0.2)
    assert weather.rain(np.linspace(0, 9, 91)).sum() == pytest.approx(weather.rain(np.array([0.0, 9.0]))[0])
    assert weather.most_rain(1.0) == pytest.approx(4.8)


def test_a_stretch_of_no_length_holds_nothing() -> None:
    found = lane(np.full(48, 5.0)).columns(np.array([1.0, 1.0, 1.0]))
    assert not found.lasts.any()
    assert (found.wet + found.dry).tolist() == [0, 0]
    assert np.isnan(found.lowest).all()


def test_a_day_by_hand_reaches_over_the_temperatures_noted() -> None:
    note = DayNote((ZERO + timedelta(days=4)).date(), ("rain",), 6.0, 9.0, -2.0, 10.0)
    found = lane(np.full(48, 5.0), notes=(note,)).columns(np.array([4.2, 4.8]))
    assert (found.lowest[0], found.highest[0]) == (-2, 9)
    assert found.by_hand[0] == pytest.approx(1)
    assert found.wet[0] == pytest.approx(10 / 24, abs=0.01)


def test_bars_stand_for_whole_stretches_from_the_start_of_exposure() -> None:
    assert bin_edges(-0.5, 4.2, 2.0).tolist() == [-2, 0, 2, 4, 6]
    assert [bin_length(each) for each in (0.001, 0.1, 0.21, 3.0, 1_000.0)] == [1 / 24, 1.0, 2.0, 28.0, 364.0]


def test_where_a_clock_stands_still_its_place_holds_the_whole_time() -> None:
    axis = LaneAxis.of(counted_clock("rain", [0.0, 5.0], [0.0, 2.0, 6.0, 8.0], [0.0, 2.0, 2.0, 5.0], 1.0))
    days = axis.day_at(np.array([1.9, 2.1]))
    assert days[0] < 2 < 6 < days[1]
    assert axis.at_day(np.array([2.0, 4.0, 6.0])).tolist() == [2, 2, 2]
    assert axis.days_a_unit() == pytest.approx(1.6)


@pytest.mark.parametrize(("most", "top"), [(0.0, 1.0), (0.7, 1.0), (3.2, 5.0), (12.0, 20.0), (50.0, 50.0)])
def test_the_scale_of_rain_ends_at_a_round_number_above_all_there_is(most: float, top: float) -> None:
    scale = rain_scale(most)
    assert (scale.low, scale.high) == (0.0, pytest.approx(top))


def test_the_scale_of_the_air_has_frost_on_it_only_where_it_is_within() -> None:
    assert air_scale(-3.1, 11.0).numbers == (-5.0, 0.0, 15.0)
    assert air_scale(6.0, 11.0).numbers == (5.0, 15.0)
    assert air_scale(5.0, 5.0).numbers == (5.0, 10.0)


# ---- the strip


def strip(wet: float, dry: float, by_hand: float, scheme: Scheme) -> QImage:
    full, none = np.ones(24), np.full(24, NONE)
    columns = Columns(wet * full, dry * full, by_hand * full, none, none, none, np.ones(24, np.bool_))
    return strip_image(columns, 12, scheme, 0.0, 1.0)


def colours(image: QImage) -> set[str]:
    return {QColor(image.pixel(x, y)).name() for x in range(image.width()) for y in range(image.height())}


@pytest.mark.parametrize("name", list(SCHEMES))
def test_wet_dry_and_not_known_are_three_fills(name: str) -> None:
    scheme = SCHEMES[name]
    inks = weather_inks(scheme)
    assert colours(strip(1, 0, 0, scheme)) == {inks.wet}
    assert colours(strip(0, 1, 0, scheme)) == {inks.dry}
    assert colours(strip(0, 0, 0, scheme)) == {scheme.base, scheme.muted}


@pytest.mark.parametrize("name", list(SCHEMES))
@pytest.mark.parametrize(("wet", "dry"), [(1, 0), (0, 1), (0.4, 0.6)])
def test_what_is_known_by_hand_is_never_taken_for_a_loggers(name: str, wet: float, dry: float) -> None:
    scheme = SCHEMES[name]
    by_hand, by_logger = strip(wet, dry, 1, scheme), strip(wet, dry, 0, scheme)
    assert QColor(by_hand.pixel(3, 0)).name() == scheme.text, "a rim above"
    assert scheme.text not in colours(by_logger)
    differ = sum(by_hand.pixel(x, y) != by_logger.pixel(x, y) for x in range(24) for y in range(2, 12))
    assert differ >= 24 * 10 / 4, "stripes over all of it"


def test_a_px_that_was_half_wet_is_half_wet() -> None:
    image, inks = strip(0.5, 0.5, 0, SCHEMES["light"]), weather_inks(SCHEMES["light"])
    assert [QColor(image.pixel(5, y)).name() for y in (0, 5, 6, 11)] == [inks.dry, inks.dry, inks.wet, inks.wet]


@pytest.mark.parametrize("name", list(SCHEMES))
def test_wet_and_dry_differ_in_lightness_for_those_who_see_no_colours(name: str) -> None:
    inks = weather_inks(SCHEMES[name])
    lighter, darker = sorted((_luminance(inks.wet), _luminance(inks.dry)), reverse=True)
    # WCAG 2.2, 1.4.11: 3:1 between parts of a picture that must be told apart; from memory.
    assert (lighter + 0.05) / (darker + 0.05) >= 3.0


def _luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 (from memory)."""
    parts = QColor(colour).redF(), QColor(colour).greenF(), QColor(colour).blueF()
    linear = [each / 12.92 if each <= 0.04045 else ((each + 0.055) / 1.055) ** 2.4 for each in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
