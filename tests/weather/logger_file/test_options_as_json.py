"""How a file is written, kept as JSON and read again."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.weather import QUANTITIES
from rustboard.support.problems import InputError
from rustboard.weather.logger_file.options import (
    DATE_ORDERS,
    DECIMAL_MARKS,
    DELIMITERS,
    ROLES,
    UNITS_OF,
    Column,
    FileOptions,
    checked_clock,
    fitting_unit,
    options_from_json,
    options_to_json,
)

CLOCKS = ("", "UTC", "UTC+01:00", "UTC-09:30", "UTC+14:00", "Europe/Berlin", "America/Argentina/Ushuaia")
TITLES = st.text(st.characters(categories=["L", "N", "S"]), max_size=20)


@st.composite
def any_options(draw: st.DrawFn) -> FileOptions:
    quantities = draw(st.lists(st.sampled_from(QUANTITIES), min_size=1, unique=True))
    columns = [
        Column(draw(TITLES), "time"),
        *(Column(draw(TITLES), each, draw(st.sampled_from(UNITS_OF[each]))) for each in quantities),
        *(Column(each) for each in draw(st.lists(TITLES, max_size=3))),
    ]
    header_rows = draw(st.integers(0, 1_000))
    return FileOptions(
        draw(st.sampled_from(DELIMITERS)),
        draw(st.sampled_from(DECIMAL_MARKS)),
        header_rows,
        draw(st.integers(0, header_rows)),
        draw(st.sampled_from(DATE_ORDERS)),
        tuple(draw(st.permutations(columns))),
        draw(st.sampled_from(CLOCKS)),
        draw(TITLES),
    )


PLAIN = FileOptions(
    ";", ",", 2, 1, "day first", (Column("Zeit", "time"), Column("T", "temperature", "F")), "UTC", "garden"
)


@given(any_options())
def test_options_come_back(options: FileOptions) -> None:
    assert options_from_json(json.loads(json.dumps(options_to_json(options)))) == options


DAMAGE: list[tuple[str, Any]] = [
    ("format", 2),
    ("format", None),
    ("delimiter", "x"),
    ("delimiter", [","]),
    ("decimal_mark", ";"),
    ("header_rows", -1),
    ("header_rows", 1.5),
    ("header_rows", True),
    ("header_rows", 10**9),
    ("title_row", 3),
    ("date_order", "any"),
    ("clock", "Nowhere/Town"),
    ("clock", "../../etc/passwd"),
    ("clock", "UTC+25:00"),
    ("clock", 5),
    ("logger", None),
    ("logger", "x" * 2_000),
    ("columns", []),
    ("columns", {}),
    ("columns", [["a", "time"]]),
    ("columns", [["a", "time", ""], ["b", "pressure", "hPa"]]),
    ("columns", [["a", "time", ""], ["b", "temperature", "mm"]]),
    ("columns", [["a", "time", ""], ["b", "temperature", ""]]),
    ("columns", [["a", "time", ""], [1, "temperature", "C"]]),
    ("columns", [["a", "time", ""], ["b", "temperature", "C"]] * 501),
]


@pytest.mark.parametrize(("key", "value"), DAMAGE, ids=range(len(DAMAGE)))
def test_damaged_options_are_refused(key: str, value: object) -> None:
    assert options_from_json(options_to_json(PLAIN)) == PLAIN
    with pytest.raises(InputError):
        options_from_json({**options_to_json(PLAIN), key: value})


@pytest.mark.parametrize("key", options_to_json(PLAIN))
def test_options_without_one_of_their_parts_are_refused(key: str) -> None:
    content = options_to_json(PLAIN)
    del content[key]
    with pytest.raises(InputError):
        options_from_json(content)


@pytest.mark.parametrize(
    "text", ["utc", "UTC+1", "UTC+01:75", "CEST", "Europe", "Europe/", "/", "a" * 200, "Europe/Berlin\0"]
)
def test_what_is_no_clock_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="This is no clock"):
        checked_clock(text)


def test_every_role_has_a_unit_that_fits() -> None:
    for role in ROLES:
        assert fitting_unit(role, "kn") == ("kn" if role == "wind" else fitting_unit(role, ""))
