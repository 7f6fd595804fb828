"""Whatever was read, in whatever shape it is written, comes back when the guess has no doubt."""

from __future__ import annotations

import random
from datetime import datetime, timedelta

from hypothesis import assume, event, given
from hypothesis import strategies as st
from logger_files import Reading, Shape, guessed, read_as_guessed, readings, written

MOMENTS = (
    "%Y-%m-%d %H:%M:%S",
    "%Y-%m-%dT%H:%M:%S",
    "%Y/%m/%d %H:%M",
    "%Y%m%d %H%M%S",
    "%d.%m.%Y %H:%M:%S",
    "%d/%m/%Y %H:%M",
    "%m/%d/%Y %I:%M:%S %p",
    "%m/%d/%y %H:%M",
    "%d.%m.%y %H:%M",
    "%y-%m-%d %H:%M",
    "%d %b %Y %H:%M",
    "%b %d %Y %I:%M %p",
)
TEMPERATURES = {
    "Temperature (°C)": lambda c: c,
    "Temp. [°F]": lambda c: c * 1.8 + 32,
    "Lufttemperatur °C": lambda c: c,
    "Temp K": lambda c: c + 273.15,
}
HUMIDITIES = ("Humidity (%)", "RH [%]", "Luftfeuchte %", "Rel. humidity")
RAINS = {"Rain (mm)": 1.0, "Regen mm": 1.0, "Pluie (mm)": 1.0, "Rain (in)": 25.4}
ABOVE = (
    (),
    ("Logger: garden wall",),
    ("Station report", "", "Serial number: 77-12", "Interval: 10 min"),
    ("# exported", "# Device: north"),
)


@st.composite
def shapes(draw: st.DrawFn) -> Shape:
    moment = draw(st.sampled_from(MOMENTS))
    delimiter = draw(st.sampled_from(",;\t|"))
    quoted = draw(st.booleans())
    marks = ".," if delimiter != "," or quoted else "."
    return Shape(
        delimiter=delimiter,
        mark=draw(st.sampled_from(marks)),
        moment=moment,
        apart=moment in MOMENTS[4:9] and draw(st.booleans()),
        temperature=draw(st.sampled_from(sorted(TEMPERATURES))),
        humidity=draw(st.sampled_from(HUMIDITIES)),
        rain=draw(st.sampled_from(sorted(RAINS))),
        above=draw(st.sampled_from(ABOVE)),
        encoding=draw(st.sampled_from(["utf-8", "utf-8-sig", "cp1252", "utf-16"])),
        ends=draw(st.sampled_from(["\n", "\r\n", "\r"])),
        quoted=quoted,
    )


@st.composite
def tables(draw: st.DrawFn) -> list[Reading]:
    """Return readings in the units of no file yet, minutes whole so that every shape can say them."""
    begin = draw(st.datetimes(datetime(2001, 1, 1), datetime(2068, 1, 1))).replace(second=0, microsecond=0)
    steps = draw(st.lists(st.integers(1, 3_000), min_size=1, max_size=40))
    rows: list[Reading] = []
    for step in steps:
        begin += timedelta(minutes=step)
        values = {"temperature": draw(st.integers(-2000, 4500)) / 100}
        if draw(st.booleans()):
            values["humidity"] = draw(st.integers(500, 10_000)) / 100
        if draw(st.booleans()):
            values["rain"] = draw(st.integers(0, 1_000)) / 100
        rows.append((begin, values))
    return rows


def in_units(shape: Shape, rows: list[Reading]) -> list[Reading]:
    """Return readings in the units of a shape, rounded as the file writes them."""
    found = []
    for when, values in rows:
        shown = dict(values)
        shown["temperature"] = round(TEMPERATURES[shape.temperature](values["temperature"]), 2)
        found.append((when, shown))
    return found


def expected(shape: Shape, rows: list[Reading]) -> list[tuple[str, dict[str, float]]]:
    """Return what a file must say: its rounded numbers in our units."""
    found = []
    for when, values in rows:
        ours = dict(values)
        read = values["temperature"]
        if shape.temperature == "Temp. [°F]":
            ours["temperature"] = (read - 32) / 1.8
        elif shape.temperature == "Temp K":
            ours["temperature"] = read - 273.15
        if "rain" in values:
            ours["rain"] = values["rain"] * RAINS[shape.rain]
        found.append((when.strftime("%Y-%m-%d %H:%M:%S"), {name: round(value, 3) for name, value in ours.items()}))
    return found


@given(shapes(), tables())
def test_any_table_comes_back_from_any_shape(shape: Shape, rows: list[Reading]) -> None:
    shown = in_units(shape, rows)
    data = written(shape, shown)
    found = guessed(data)
    event("doubted" if found.doubts else "certain")
    assume(not found.doubts)
    read = read_as_guessed(data)
    assert (read.left_out, read.told) == (0, ())
    close(readings(read), expected(shape, shown))


@given(shapes(), tables(), st.randoms(use_true_random=False))
def test_rows_in_any_order_are_the_same_readings(shape: Shape, rows: list[Reading], chance: random.Random) -> None:
    shown = in_units(shape, rows)
    shuffled = list(shown)
    chance.shuffle(shuffled)
    data = written(shape, shuffled)
    assume(not guessed(data).doubts)
    close(sorted(readings(read_as_guessed(data)), key=str), sorted(expected(shape, shown), key=str))


def close(found: list[tuple[str, dict[str, float]]], wanted: list[tuple[str, dict[str, float]]]) -> None:
    """Compare; a thousandth more or less is the rounding of a number half way."""
    assert [when for when, _ in found] == [when for when, _ in wanted]
    for (_, values), (_, others) in zip(found, wanted, strict=True):
        assert values.keys() == others.keys()
        for name, value in values.items():
            assert abs(value - others[name]) < 0.0011, name
