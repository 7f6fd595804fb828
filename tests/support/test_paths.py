"""Where this user's settings, cache, log and boards live."""

import pytest

from rustboard.support import paths

PLACES = {
    "settings_file": "settings.json",
    "library_file": "recipes.json",
    "practice_file": "practice.jsonl",
    "cache_folder": "cache",
    "log_folder": "log",
    "default_boards_folder": "boards",
}


@pytest.mark.parametrize(("function", "name"), PLACES.items())
def test_everything_lies_below_the_home_that_the_variable_names(tmp_path, monkeypatch, function, name):
    monkeypatch.setenv("RUSTBOARD_HOME", str(tmp_path / "stick"))
    assert getattr(paths, function)() == tmp_path / "stick" / name
    assert not (tmp_path / "stick").exists(), "asking makes no folders"


@pytest.mark.parametrize("function", PLACES)
def test_a_relative_home_is_made_whole(tmp_path, monkeypatch, function):
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("RUSTBOARD_HOME", "stick")
    assert getattr(paths, function)() == tmp_path / "stick" / PLACES[function]


@pytest.mark.parametrize("value", [None, ""])
def test_without_the_variable_the_systems_own_places_are_used(monkeypatch, value):
    monkeypatch.delenv("RUSTBOARD_HOME")
    if value is not None:
        monkeypatch.setenv("RUSTBOARD_HOME", value)
    places = [getattr(paths, function)() for function in PLACES]
    assert all(place.is_absolute() for place in places)
    assert all("rustboard" in str(place).lower() for place in places)
    assert len(set(places)) == len(PLACES)
