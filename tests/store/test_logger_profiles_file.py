"""The file that holds how the user's loggers write: kept whole, shared, and mended when it is damaged."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from rustboard.store.logger_profiles import (
    MOST_PROFILES,
    KeptProfile,
    Profiles,
    change_profiles,
    read_profiles,
)
from rustboard.support.problems import InputError

GARDEN = KeptProfile("garden", ("time", "°C"), '{"clock": "UTC"}')
ROOF = KeptProfile("roof", (), "{}")


def add(path: Path, *new: KeptProfile) -> None:
    change_profiles(path, lambda old: (*old, *new))


def test_profiles_are_there_when_the_file_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "new" / "loggers.json"
    assert read_profiles(path).profiles == ()
    add(path, GARDEN)
    add(path, ROOF)
    assert read_profiles(path).profiles == (GARDEN, ROOF)
    assert read_profiles(path).problem == ""


NONE_OF_OURS = (
    "",
    "[]",
    "nonsense",
    '{"format": 1}',
    '{"format": 1, "profiles": {}}',
    '{"format": 0, "profiles": []}',
    "[" * 100_000,
)


@pytest.mark.parametrize("content", NONE_OF_OURS, ids=range(len(NONE_OF_OURS)))
def test_a_file_that_is_none_of_ours_is_put_aside(tmp_path: Path, content: str) -> None:
    path = tmp_path / "loggers.json"
    path.write_text(content, encoding="utf-8")
    found = read_profiles(path)
    assert found.profiles == ()
    assert "loggers.damaged-1.json" in found.problem
    assert (tmp_path / "loggers.damaged-1.json").read_text(encoding="utf-8") == content
    add(path, GARDEN)
    assert read_profiles(path).profiles == (GARDEN,)


DAMAGE: list[object] = [
    None,
    {},
    {"name": "", "titles": [], "options": {}},
    {"name": "x", "titles": "ab", "options": {}},
    {"name": "x", "titles": [1], "options": {}},
    {"name": "x", "titles": [], "options": []},
    {"name": "x", "titles": ["a"] * 1_001, "options": {}},
    {"name": "x", "titles": [], "options": {"a": "b" * 500_000}},
    {"name": "garden", "titles": [], "options": {}},
]


@pytest.mark.parametrize("damage", DAMAGE, ids=range(len(DAMAGE)))
def test_a_damaged_profile_is_put_aside_and_the_good_ones_stay(tmp_path: Path, damage: object) -> None:
    path = tmp_path / "loggers.json"
    add(path, GARDEN)
    content = json.loads(path.read_text(encoding="ascii"))
    content["profiles"].append(damage)
    path.write_text(json.dumps(content), encoding="ascii")
    found = read_profiles(path)
    assert found.profiles == (GARDEN,)
    assert "is damaged" in found.problem
    assert read_profiles(path).problem == ""


def test_a_file_of_a_newer_version_is_left_alone(tmp_path: Path) -> None:
    path = tmp_path / "loggers.json"
    path.write_text('{"format": 2, "profiles": []}', encoding="ascii")
    with pytest.raises(InputError, match="newer version"):
        read_profiles(path)
    with pytest.raises(InputError, match="newer version"):
        add(path, GARDEN)
    assert path.read_text(encoding="ascii") == '{"format": 2, "profiles": []}'


def test_there_is_an_end_to_how_many_are_kept(tmp_path: Path) -> None:
    path = tmp_path / "loggers.json"
    many: Profiles = tuple(KeptProfile(f"logger {number}", (), "{}") for number in range(MOST_PROFILES))
    add(path, *many)
    with pytest.raises(InputError, match="At most 500"):
        add(path, GARDEN)
    assert len(read_profiles(path).profiles) == MOST_PROFILES


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.binary(max_size=200))
def test_any_bytes_end_in_profiles_or_a_sentence(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "loggers.json"
    path.write_bytes(data)
    assert read_profiles(path).profiles == ()
    for each in tmp_path.glob("*damaged*"):
        each.unlink()
