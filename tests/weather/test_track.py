"""Readings to exposure, by examples that can be worked out on paper."""

from __future__ import annotations

from datetime import date, datetime

import numpy as np
import pytest
from weather_made import at_times, logger

from rustboard.board.weather import DayNote, Site
from rustboard.support.problems import InputError
from rustboard.weather.exposure import Exposure
from rustboard.weather.readings import BoardWeather, LoggerReadings
from rustboard.weather.track import make_track

WET, DRY = (10.0, 95.0), (10.0, 50.0)
DAY = date(2024, 6, 1)


def between(
    start: str, end: str, *files: LoggerReadings, notes: tuple[DayNote, ...] = (), **site: object
) -> Exposure:
    weather = BoardWeather(files, notes, Site(**site))  # type: ignore[arg-type]
    return make_track(weather).exposure(datetime.fromisoformat(start), datetime.fromisoformat(end))


def one_day(*files: LoggerReadings, notes: tuple[DayNote, ...] = (), **site: object) -> Exposure:
    return between("2024-06-01", "2024-06-02", *files, notes=notes, **site)


def test_a_reading_stands_from_half_way_to_half_way() -> None:
    found = one_day(logger("2024-06-01 00:30", [DRY] * 3 + [WET] * 5 + [DRY] * 16))
    assert found.coverage == found.coverage_by_logger == 1.0
    assert found.wet_hours == found.wet_hours_by_logger == 5.0
    assert found.wet_hours_by_hand is None
    assert found.mean_rh_percent == pytest.approx((19 * 50 + 5 * 95) / 24)
    assert found.mean_temperature_c == 10.0
    assert found.gap == 0.0


def test_wet_is_above_80_percent_and_above_freezing_strictly() -> None:
    rows = [(5.0, 80.0), (5.0, 80.1), (0.0, 95.0), (0.1, 95.0), (5.0, 90.0), (-3.0, 100.0)]
    found = between("2024-06-01 00:00", "2024-06-01 06:00", logger("2024-06-01 00:30", rows))
    assert found.wet_hours == 3.0
    assert found.wet_hours_90 == 2.0
    assert found.frost_hours == 2.0


def test_a_gap_is_not_filled() -> None:
    times = ["2024-06-01 00:30", "2024-06-01 01:30", "2024-06-01 02:30", "2024-06-01 08:30", "2024-06-01 09:30"]
    found = between("2024-06-01 00:00", "2024-06-01 10:00", at_times(times, [WET] * 5))
    assert found.coverage == pytest.approx(0.5)
    assert found.wet_hours == 5.0
    assert found.wet_spells == 0
    assert any("50 %" in each for each in found.cautions)


def test_a_little_less_than_enough_is_not_told_as_enough() -> None:
    read = logger("2024-06-01 00:30", [WET] * 255, minutes=6)
    found = between("2024-06-01 00:27", "2024-06-02 08:21", read)
    assert 0.795 < found.coverage < 0.8
    assert any("79 %" in each for each in found.cautions)


def test_a_reading_missed_is_a_gap_but_an_uneven_clock_is_not() -> None:
    times = [f"2024-06-01 {hour:02}:00" for hour in range(12) if hour != 6]
    assert between("2024-06-01 00:00", "2024-06-01 11:00", at_times(times, [WET] * 11)).wet_hours == 10.0
    late = [f"2024-06-01 {hour:02}:{20 if hour == 6 else 0:02}" for hour in range(12)]
    assert between("2024-06-01 00:00", "2024-06-01 11:00", at_times(late, [WET] * 12)).wet_hours == 11.0


def test_readings_more_than_three_hours_apart_are_never_joined() -> None:
    found = one_day(logger("2024-06-01 00:00", [WET] * 5, minutes=360))
    assert 0.0 < found.coverage <= 0.5


def test_nothing_known_is_none_not_nought() -> None:
    found = one_day()
    assert found.coverage == 0.0
    assert found.gap == 1.0
    assert (found.wet_hours, found.rain_mm, found.mean_temperature_c, found.wet_spells) == (None, None, None, None)
    track = make_track(BoardWeather())
    assert track.is_empty()
    assert track.span() is None
    assert len(track.pieces().start) == 0


def test_the_second_logger_fills_only_what_the_first_leaves() -> None:
    first = logger("2024-06-01 00:30", [WET] * 6)
    second = logger("2024-06-01 00:30", [DRY] * 24, name="b")
    found = one_day(first, second)
    assert found.coverage == 1.0
    assert found.wet_hours == 6.0
    assert one_day(second, first).wet_hours == 0.0


def test_each_quantity_is_filled_for_itself() -> None:
    warm_only = logger("2024-06-01 00:30", [(20.0,)] * 24, ("temperature",))
    full = logger("2024-06-01 00:30", [WET] * 24, name="b")
    found = one_day(warm_only, full)
    assert found.mean_temperature_c == 20.0
    assert found.wet_hours == 24.0


def test_pictures_show_the_wetness_that_the_sums_count() -> None:
    warm_only = logger("2024-06-01 00:30", [(20.0,)] * 24, ("temperature",))
    full = logger("2024-06-01 00:30", [WET] * 24, name="b")
    pieces = make_track(BoardWeather((warm_only, full))).pieces()
    assert np.sum(pieces.wet * (pieces.end - pieces.start)) == 24 * 3600


def test_pictures_show_a_day_by_hand_beside_a_thermometer() -> None:
    warm_only = logger("2024-06-01 00:30", [(20.0,)] * 24, ("temperature",))
    pieces = make_track(BoardWeather((warm_only,), (DayNote(DAY, ("rain",), wet_hours=6.0),))).pieces()
    assert np.sum(pieces.wet * (pieces.end - pieces.start)) == pytest.approx(6 * 3600)
    assert pieces.by_hand.all()
    assert (pieces.temperature_c == 20.0).all()


def test_a_day_by_hand_fills_what_no_logger_has_with_its_share() -> None:
    found = one_day(logger("2024-06-01 00:30", [DRY] * 12), notes=(DayNote(DAY, ("rain",), wet_hours=8.0),))
    assert found.coverage_by_logger == found.coverage_by_hand == 0.5
    assert found.wet_hours == found.wet_hours_by_hand == pytest.approx(4.0)


@pytest.mark.parametrize(
    ("note", "hours", "rain"),
    [
        (DayNote(DAY, ("dry",)), 0.0, 0.0),
        (DayNote(DAY, ("dew",)), 7.0, 0.0),
        (DayNote(DAY, ("dew", "frost")), 7.0, 0.0),
        (DayNote(DAY, ("frost",)), 0.0, 0.0),
        (DayNote(DAY, ("rain", "dew")), 11.0, None),
        (DayNote(DAY, ("rain",), rain_mm=4.5), 11.0, 4.5),
        (DayNote(DAY, ("snow",)), 11.0, None),
        (DayNote(DAY, ("fog",), wet_hours=3.0), 3.0, 0.0),
        (DayNote(DAY, rain_mm=2.0), None, 2.0),
        (DayNote(DAY, note="away"), None, None),
    ],
)
def test_what_a_day_by_hand_stands_for(note: DayNote, hours: float | None, rain: float | None) -> None:
    found = one_day(notes=(note,), dew_day_hours=7.0, wet_day_hours=11.0)
    assert found.wet_hours == (None if hours is None else pytest.approx(hours))
    assert found.rain_mm == (None if rain is None else pytest.approx(rain))


@pytest.mark.parametrize(("day", "length"), [(date(2024, 3, 31), 23.0), (date(2024, 10, 27), 25.0)])
def test_noted_hours_are_those_hours_on_a_day_of_23_or_25_hours_too(day: date, length: float) -> None:
    start, end = f"{day}", f"{date.fromordinal(day.toordinal() + 1)}"
    note = DayNote(day, ("rain",), rain_mm=3.0, wet_hours=10.0)
    found = between(start, end, notes=(note,), zone="Europe/Berlin")
    assert found.days * 24 == length
    assert found.wet_hours == pytest.approx(10.0)
    assert found.rain_mm == pytest.approx(3.0)
    assert found.coverage == 1.0


def test_a_day_noted_twice_counts_once_and_the_later_note_holds():
    notes = (DayNote(DAY, ("rain",), wet_hours=6.0, key=8), DayNote(DAY, ("rain",), wet_hours=2.0, key=3))
    found = one_day(notes=notes)
    assert found.coverage == 1.0
    assert found.wet_hours == pytest.approx(6.0)


def test_a_day_by_hand_is_never_wet_for_longer_than_it_is() -> None:
    note = DayNote(date(2024, 3, 31), ("rain",), wet_hours=24.0)
    found = between("2024-03-31", "2024-04-01", notes=(note,), zone="Europe/Berlin")
    assert found.wet_hours == pytest.approx(23.0)


def test_an_assumed_day_is_said_to_be_assumed_and_a_noted_one_is_not() -> None:
    assumed = one_day(notes=(DayNote(DAY, ("dew",)),)).cautions
    noted = one_day(notes=(DayNote(DAY, ("dew",), wet_hours=2.0),)).cautions
    assert any("assumption" in each for each in assumed)
    assert not any("assumption" in each for each in noted)


def test_temperature_by_hand_is_the_middle_of_highest_and_lowest() -> None:
    found = one_day(notes=(DayNote(DAY, highest_c=20.0, lowest_c=4.0),))
    assert (found.mean_temperature_c, found.lowest_temperature_c, found.highest_temperature_c) == (12.0, 4.0, 20.0)
    assert found.temperature_coverage == 1.0
    assert found.frost_hours is None


def test_a_highest_temperature_alone_is_no_mean() -> None:
    found = one_day(notes=(DayNote(DAY, highest_c=31.0),))
    assert found.mean_temperature_c is None
    assert found.temperature_coverage == 0.0
    assert found.highest_temperature_c == 31.0
    assert found.lowest_temperature_c is None


def test_extremes_by_hand_count_beside_a_logger_without_a_thermometer() -> None:
    damp = logger("2024-06-01 00:30", [(70.0,)] * 24, ("humidity",))
    found = one_day(damp, notes=(DayNote(DAY, highest_c=20.0, lowest_c=4.0),))
    assert (found.mean_temperature_c, found.lowest_temperature_c, found.highest_temperature_c) == (12.0, 4.0, 20.0)


def test_rain_by_a_counter_is_its_rise_and_a_fall_is_a_new_start() -> None:
    counts = [(1.0,), (1.5,), (4.0,), (0.5,), (0.5,)]
    found = between("2024-06-01 00:00", "2024-06-01 04:00", logger("2024-06-01 00:00", counts, ("rain total",)))
    assert found.rain_mm == pytest.approx(0.5 + 2.5 + 0.5 + 0.0)
    assert found.rain_coverage == 1.0


def test_a_counter_cut_into_two_files_loses_nothing() -> None:
    counts = [(float(number),) for number in range(10)]
    halves = (
        logger("2024-06-01 05:00", counts[5:], ("rain total",)),
        logger("2024-06-01 00:00", counts[:5], ("rain total",)),
    )
    assert between("2024-06-01 00:00", "2024-06-01 09:00", *halves).rain_mm == pytest.approx(9.0)


def test_an_amount_of_rain_fell_since_the_reading_before() -> None:
    rain = logger("2024-06-01 01:00", [(0.0,), (2.0,), (0.0,)], ("rain",))
    assert between("2024-06-01 01:00", "2024-06-01 02:00", rain).rain_mm == pytest.approx(2.0)
    assert between("2024-06-01 02:00", "2024-06-01 03:00", rain).rain_mm == 0.0


def test_a_rate_of_rain_counts_for_its_time() -> None:
    rate = logger("2024-06-01 00:15", [(4.0,)] * 8, ("rain rate",), minutes=30)
    found = between("2024-06-01 00:30", "2024-06-01 01:30", rate)
    assert found.rain_mm == pytest.approx(4.0)


def test_rain_of_a_logger_and_of_hand_are_told_apart() -> None:
    rain = logger("2024-06-01 01:00", [(1.0,)] * 12, ("rain",))
    found = one_day(rain, notes=(DayNote(DAY, ("rain",), rain_mm=24.0),))
    assert found.rain_mm_by_logger == pytest.approx(12.0)
    assert found.rain_mm_by_hand == pytest.approx(12.0)
    assert found.rain_coverage == 1.0


def test_humidity_is_worked_out_from_the_dew_point() -> None:
    read = logger("2024-06-01 00:30", [(20.0, 10.0)] * 24, ("temperature", "dew point"))
    found = one_day(read, dew_point_set="IFS over water")
    # The published test value of the set: RH 52.5224541378 % at 20 C with a dew point of 10 C.
    assert found.mean_rh_percent == pytest.approx(52.5224541378)
    assert found.mean_dew_point_c == pytest.approx(10.0)


def test_humidity_of_nought_has_no_dew_point_and_pulls_no_mean() -> None:
    found = one_day(logger("2024-06-01 00:30", [(20.0, 50.0)] * 12 + [(20.0, 0.0)] * 12), dew_point_set="Tetens")
    assert found.mean_dew_point_c == pytest.approx(9.2696286)


def test_a_wet_spell_ends_when_it_dries_and_short_pauses_do_not_count() -> None:
    rows = [DRY] * 4 + [WET] * 4 + [DRY] + [WET] * 4 + [DRY] * 8 + [WET] * 4
    read = logger("2024-06-01 00:15", rows, minutes=30)
    assert between("2024-06-01 00:00", "2024-06-01 12:00", read).wet_spells == 1
    # Dry from 06:30 on: the spell is of the stretch in which it dried.
    assert between("2024-06-01 00:00", "2024-06-01 06:15", read).wet_spells == 0
    assert between("2024-06-01 06:15", "2024-06-01 12:00", read).wet_spells == 1


def test_a_spell_cut_off_by_a_gap_ends_nothing() -> None:
    first = logger("2024-06-01 00:30", [WET] * 4)
    second = logger("2024-06-01 12:30", [DRY] * 4)
    assert one_day(first, second).wet_spells == 0


def test_humidity_that_stands_still_is_counted_and_told_of_or_left_out() -> None:
    read = logger("2024-06-01 00:30", [(10.0, 100.0)] * 30 + [DRY] * 18)
    found = between("2024-06-01", "2024-06-03", read)
    assert found.stuck_hours == pytest.approx(30.0)
    assert found.wet_hours == pytest.approx(30.0)
    assert any("stood still" in each for each in found.cautions)
    left_out = between("2024-06-01", "2024-06-03", read, leave_out_stuck=True)
    assert left_out.wet_hours == 0.0
    assert left_out.stuck_hours == pytest.approx(30.0)
    assert left_out.coverage == pytest.approx(18 / 48)
    assert left_out.temperature_coverage == 1.0


def test_humidity_that_stands_still_for_less_than_a_day_is_fog() -> None:
    assert one_day(logger("2024-06-01 00:30", [(10.0, 100.0)] * 20 + [DRY] * 4)).stuck_hours == 0.0


def test_leaf_wetness_needs_wind() -> None:
    names = ("temperature", "humidity", "wind")
    calm = [(10.0, 97.0, 1.0)] * 24
    assert one_day(logger("2024-06-01 00:30", calm, names)).leaf_wet_hours == 24.0
    assert one_day(logger("2024-06-01 00:30", [row[:2] for row in calm])).leaf_wet_hours is None


def test_wind_known_for_part_of_the_time_is_told_of() -> None:
    names = ("temperature", "humidity", "wind")
    rows = [(10.0, 97.0, 1.0)] * 12 + [(10.0, 97.0, float("nan"))] * 12
    found = one_day(logger("2024-06-01 00:30", rows, names))
    assert found.leaf_wet_hours == 12.0
    assert any("Wind" in each for each in found.cautions)


def test_dew_is_of_the_night_only() -> None:
    damp = logger("2024-06-01 00:30", [(10.0, 85.0)] * 24)
    assert one_day(damp).dew_hours == 10.0
    assert between("2024-06-01 08:00", "2024-06-01 18:00", damp).dew_hours == 0.0


def test_an_end_before_the_start_is_refused() -> None:
    with pytest.raises(ValueError, match="before"):
        between("2024-06-02", "2024-06-01")


def test_an_unknown_zone_is_told_in_one_sentence() -> None:
    with pytest.raises(InputError, match="Europe/Atlantis"):
        one_day(logger("2024-06-01 00:30", [WET]), zone="Europe/Atlantis")


def test_sums_up_to_a_moment_add_up_to_the_exposure() -> None:
    notes = (DayNote(date(2024, 6, 2), ("rain",), rain_mm=2.4),)
    track = make_track(BoardWeather((logger("2024-06-01 00:30", [WET, DRY] * 12),), notes))
    edges = np.array([track.seconds_of(datetime(2024, 6, 1)), track.seconds_of(datetime(2024, 6, 3))])
    found = track.exposure(datetime(2024, 6, 1), datetime(2024, 6, 3))
    assert np.diff(track.total("wet", edges))[0] == pytest.approx(found.wet_hours)
    assert np.diff(track.total("wet by logger", edges))[0] == pytest.approx(12.0)
    assert np.diff(track.total("covered", edges))[0] == pytest.approx(48.0)
    assert np.diff(track.total("by hand", edges))[0] == pytest.approx(24.0)
    assert np.diff(track.total("rain", edges))[0] == pytest.approx(2.4)
    assert track.span() == (edges[0], edges[1])
