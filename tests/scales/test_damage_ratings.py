"""Ratings of creep from a scribe, blisters and peeling, by the tables of the standards as public copies give them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.damage import DAMAGE_KINDS, Damage
from rustboard.scales.damage_ratings import (
    DamageRating,
    appearance_notation,
    appearance_rating,
    creep_of,
    creep_rating,
    mean_creep_mm,
    rating_of,
    rating_of_noted,
)
from rustboard.scales.other_ratings import protection_rating
from rustboard.support.problems import InputError

written_mm = st.integers(0, 30_000).map(lambda hundredths: hundredths / 100)


def noted(kind: str, **fields: object) -> Damage:
    values = {"percent": None, "severity": "", "scribe_mm": None, "widths_mm": (), "grader": "", "note": ""}
    return Damage(1, 1, 1, kind, recorded="2026-03-02T09:00:00", **(values | fields))  # type: ignore[arg-type]


# Table of ASTM D1654 (S15 of the project's facts, seen in a public copy); upper limit inclusive. Values just over a
# limit are worked out from the table here.
@pytest.mark.parametrize(
    ("creep", "rating"),
    [
        (0, 10),
        (0.01, 9),
        (0.5, 9),
        (0.51, 8),
        (1.0, 8),
        (1.01, 7),
        (2.0, 7),
        (2.01, 6),
        (3.0, 6),
        (3.01, 5),
        (5.0, 5),
        (5.01, 4),
        (7.0, 4),
        (7.01, 3),
        (10.0, 3),
        (10.01, 2),
        (13.0, 2),
        (13.01, 1),
        (16.0, 1),
        (16.1, 0),
        (1000.0, 0),
    ],
)
def test_the_creep_rating_is_that_of_the_table(creep: float, rating: int) -> None:
    assert creep_rating(creep) == rating


@pytest.mark.parametrize("creep", [-0.1, math.nan, math.inf])
def test_a_creep_that_cannot_be_has_no_rating(creep: float) -> None:
    with pytest.raises(InputError, match="Creep is a length"):
        creep_rating(creep)


# c = (wc - w) / 2 (S16 of the project's facts; brackets from memory there); the sums are worked out by hand.
@pytest.mark.parametrize(
    ("widths", "scribe", "creep"),
    [
        ((2.1, 3.0, 2.4), 0.5, 1.0),  # mean 2.5
        ((1.0,), 1.0, 0.0),
        ((16.0, 18.0), 1.0, 8.0),
        ((2.2, 2.4), 0.3, 1.0),  # mean 2.3
    ],
)
def test_mean_creep_is_half_of_what_the_mean_width_has_over_the_scribe(
    widths: tuple[float, ...], scribe: float, creep: float
) -> None:
    assert mean_creep_mm(widths, scribe) == creep


def test_a_creep_on_the_limit_as_written_is_not_pushed_over_it_by_binary_fractions() -> None:
    widths, scribe = (0.3, 1.1, 2.2), 0.2  # mean 1.2 as written, so that the creep is 0.5
    assert (sum(widths) / 3 - scribe) / 2 > 0.5
    assert mean_creep_mm(widths, scribe) == 0.5
    assert creep_rating(mean_creep_mm(widths, scribe)) == 9


@given(st.lists(written_mm, min_size=1, max_size=20), written_mm)
def test_wider_zones_never_rate_better(widths: list[float], scribe: float) -> None:
    widths = [each + scribe for each in widths]
    creep = mean_creep_mm(widths, scribe)
    assert creep >= 0
    assert mean_creep_mm([each + 1 for each in widths], scribe) == pytest.approx(creep + 0.5)
    assert creep_rating(creep + 0.5) <= creep_rating(creep)


@pytest.mark.parametrize(
    ("widths", "scribe", "words"),
    [
        ((), 0.5, "at least one"),
        ((0.4,), 0.5, "never narrower"),
        ((math.nan,), 0.5, "from 0 to 1000"),
        ((math.inf,), 0.5, "from 0 to 1000"),
        ((1.0,), -1.0, "from 0 to 1000"),
        ((1000.1,), 0.5, "from 0 to 1000"),
        ((1.0,), math.nan, "from 0 to 1000"),
    ],
)
def test_widths_that_cannot_be_are_refused_in_words(widths: tuple[float, ...], scribe: float, words: str) -> None:
    with pytest.raises(InputError, match=words):
        mean_creep_mm(widths, scribe)


# Table of ISO 10289, of Rp and RA alike (S9, S10, S11 of the project's facts, seen in public copies).
@pytest.mark.parametrize(
    ("percent", "rating"),
    [
        (0, 10), (0.1, 9), (0.11, 8), (0.25, 8), (0.26, 7), (0.5, 7), (0.51, 6), (1.0, 6), (1.1, 5), (2.5, 5),
        (2.6, 4), (5, 4), (5.1, 3), (10, 3), (10.1, 2), (25, 2), (25.1, 1), (50, 1), (50.1, 0), (100, 0),
    ],
)  # fmt: skip
def test_the_appearance_rating_is_that_of_the_table(percent: float, rating: int) -> None:
    assert appearance_rating(percent) == protection_rating(percent) == rating


# Letters F and G and the severities: S11; the order rating, severity, letter: S12, whose own example is -/2mA for
# moderate spotting over more than 20 %.
@pytest.mark.parametrize(
    ("kind", "percent", "severity", "said"),
    [
        ("blisters", 20.1, "m", "-/2mG"),
        ("peeling", 20.1, "m", "-/2mF"),
        ("blisters", 0.05, "vs", "-/9vsG"),
        ("peeling", 60, "x", "-/0xF"),
        ("blisters", 3, "s", "-/4sG"),
        ("blisters", 3, "", ""),
        ("blisters", 0, "s", ""),
        ("stain", 3, "s", ""),
        ("edge rust", 3, "s", ""),
    ],
)
def test_the_notation_is_rating_then_severity_then_letter(
    kind: str, percent: float, severity: str, said: str
) -> None:
    assert appearance_notation(kind, percent, severity) == said


def test_no_such_severity_is_refused() -> None:
    with pytest.raises(InputError, match="severity"):
        appearance_notation("blisters", 3, "xx")


def test_each_kind_is_rated_by_its_own_standard_or_by_none() -> None:
    assert rating_of("blisters", 15, "m") == DamageRating(2, "ISO 10289", "-/2mG")
    assert rating_of("peeling", 15) == DamageRating(2, "ISO 10289", "")
    assert rating_of("creep", scribe_mm=0.5, widths_mm=(2.1, 3.0, 2.4)) == DamageRating(8, "ASTM D1654", "8")
    assert [rating_of(kind, 15, "m") for kind in ("edge rust", "stain")] == [None, None]
    assert [rating_of(kind) for kind in DAMAGE_KINDS] == [None] * 5


def test_what_was_noted_is_rated_and_what_cannot_be_is_not() -> None:
    creep = noted("creep", scribe_mm=0.5, widths_mm=(2.1, 3.0, 2.4))
    assert creep_of(creep) == 1.0
    assert rating_of_noted(creep) == DamageRating(8, "ASTM D1654", "8")
    torn = noted("creep", scribe_mm=5.0, widths_mm=(2.1,))
    assert (creep_of(torn), rating_of_noted(torn)) == (None, None)
    assert (creep_of(noted("stain", percent=3.0)), rating_of_noted(noted("blisters", percent=math.nan))) == (
        None,
        None,
    )
