"""The user's few settings: kept, and never a reason to stop."""

import json
import logging
import os
from pathlib import Path

import pytest

from rustboard.support import paths
from rustboard.support.problems import InputError
from rustboard.support.settings import MOST_RECENT, SCHEMES, Settings, load_settings, save_settings


def put(content: bytes) -> Path:
    path = paths.settings_file()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content)
    return path


def test_without_a_file_the_settings_are_fresh_and_none_is_made():
    assert load_settings() == Settings()
    assert not paths.settings_file().exists()


@pytest.mark.parametrize("scheme", SCHEMES)
def test_settings_come_back_as_they_were_saved(scheme):
    settings = Settings("/home/a/Bretter Ä", ["/b/1", "/b/2 🐝"], scheme, "Jürgen", "Letter")
    save_settings(settings)
    assert load_settings() == settings


@pytest.mark.parametrize("name", ["by_percent", "large_keys", "say_grades"])
def test_a_way_of_grading_is_off_at_first_and_comes_back_as_it_was_chosen(name):
    assert getattr(Settings(), name) is False
    save_settings(Settings(**{name: True}))
    assert load_settings() == Settings(**{name: True})


@pytest.mark.skipif(os.name != "posix", reason="elsewhere the names of files are text")
def test_the_folder_of_a_board_need_not_be_text():
    settings = Settings(recent=[os.fsdecode(b"/b/caf\xe9")])
    save_settings(settings)
    assert load_settings() == settings


@pytest.mark.parametrize("content", [
    b"", b"{", b'{"scheme": "dark"', b"null", b"7", b"[]", b'"x"', b"\xff\xfe\x00", bytes(100), b"[" * 100_000,
    b"{" + b" " * (1 << 20) + b"}",
], ids=lambda content: repr(content[:12]))  # fmt: skip
def test_a_torn_foreign_or_huge_file_is_put_aside_and_the_settings_are_fresh(content, caplog):
    path = put(content)
    with caplog.at_level(logging.INFO):
        assert load_settings() == Settings()
    assert "settings file cannot be read; starting with fresh settings" in caplog.text
    assert [each.name for each in path.parent.iterdir()] == ["settings.json.damaged"]
    assert (path.parent / "settings.json.damaged").read_bytes() == content
    save_settings(Settings(grader="Ann"))
    assert load_settings().grader == "Ann"


def test_a_folder_in_the_place_of_the_file_is_passed_over():
    paths.settings_file().mkdir(parents=True)
    assert load_settings() == Settings()
    with pytest.raises(InputError):
        save_settings(Settings())


def test_settings_that_could_not_be_read_for_a_moment_are_not_replaced(monkeypatch, caplog):
    save_settings(Settings(grader="Ann", recent=["/b"]))
    with monkeypatch.context() as held:
        held.setattr("pathlib.Path.open", refuse)
        settings = load_settings()
    assert settings == Settings()
    settings.grader = "Ben"
    with caplog.at_level(logging.INFO):
        save_settings(settings)
    assert "settings are not saved" in caplog.text
    assert load_settings() == Settings(grader="Ann", recent=["/b"])


def refuse(*arguments, **more):
    raise PermissionError(13, "Permission denied")


@pytest.mark.parametrize("content", [
    {"scheme": "mauve"}, {"scheme": 7}, {"grader": None}, {"grader": ["x"]}, {"paper": 4},
    {"recent": "x"}, {"recent": {"a": 1}},
    {"recent": [None, 7, "", "a\0b", "x" * 5000, "\ud800"]}, {"boards_folder": 7}, {"boards_folder": "a\0b"},
    {"by_percent": 1}, {"large_keys": "yes"}, {"say_grades": [True]},
    {"boards_folder": "x" * 5000}, {"from a newer version": True}, {},
])  # fmt: skip
def test_a_value_that_cannot_be_is_passed_over(content):
    put(json.dumps(content).encode())
    assert load_settings() == Settings()


def test_good_values_beside_bad_ones_are_kept():
    put(json.dumps({"scheme": "mauve", "grader": "Ann\x00\ud800" + "x" * 500, "recent": [7, "/b"]}).encode())
    assert load_settings() == Settings(recent=["/b"], grader="Ann\ufffd\ufffd" + "x" * 195)


def test_the_newest_board_comes_first_and_only_so_many_are_remembered(tmp_path):
    settings = Settings()
    for number in range(MOST_RECENT + 5):
        settings.remember(tmp_path / str(number))
    settings.remember(tmp_path / "10")
    assert len(settings.recent) == MOST_RECENT
    assert settings.recent[:2] == [str(tmp_path / "10"), str(tmp_path / str(MOST_RECENT + 4))]
    save_settings(settings)
    assert load_settings() == settings


def test_a_board_is_remembered_by_its_whole_path(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    settings = Settings()
    settings.remember(Path("b"))
    settings.remember(tmp_path / "x" / ".." / "b")
    assert settings.recent == [str(tmp_path / "b")]


def test_boards_go_to_the_folder_the_user_chose_or_to_the_default(tmp_path):
    assert Settings().boards_path() == paths.default_boards_folder()
    assert Settings(boards_folder=str(tmp_path)).boards_path() == tmp_path
