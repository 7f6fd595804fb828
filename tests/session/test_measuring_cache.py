"""What measuring keeps between runs: whole or not at all, bounded, and never trusted."""

from __future__ import annotations

import os

import pytest

from rustboard.session.measuring_cache import MeasuringCache, hash_of

NAME = hash_of(("a",))


@pytest.fixture
def cache(tmp_path):
    return MeasuringCache(tmp_path)


def files(tmp_path):
    return sorted(each for each in tmp_path.rglob("*") if each.is_file())


def test_what_is_kept_comes_back_under_its_name_and_kind(cache):
    assert cache.keep_look(NAME, b"look")
    assert (cache.look(NAME), cache.masks(NAME), cache.has_look(NAME)) == (b"look", None, True)


def test_a_damaged_file_counts_as_missing(cache, tmp_path):
    cache.keep_masks(NAME, b"masks" * 100)
    (file,) = files(tmp_path)
    content = bytearray(file.read_bytes())
    for place in (0, 5, len(content) - 1):
        damaged = bytes([*content[:place], content[place] ^ 1, *content[place + 1 :]])
        file.write_bytes(damaged)
        assert cache.masks(NAME) is None
    file.write_bytes(b"")
    assert cache.masks(NAME) is None


@pytest.mark.parametrize("name", ["", "../../etc/passwd", "A" * 40, "a" * 39, "a" * 41, "/" * 40, "a" * 39 + "\n"])
def test_a_name_from_a_strangers_board_leads_nowhere(cache, name):
    assert cache.masks(name) is None
    assert cache.has_look(name) is False
    with pytest.raises(ValueError, match=r".*"):
        cache.keep_masks(name, b"x")


def test_a_disk_that_refuses_is_told_and_nothing_breaks(tmp_path):
    (tmp_path / "measuring").write_bytes(b"a file where the folder should be")
    cache = MeasuringCache(tmp_path)
    assert cache.keep_look(NAME, b"look") is False
    assert cache.look(NAME) is None


def test_when_room_is_short_what_was_not_used_for_longest_goes_first(cache, tmp_path):
    names = [hash_of((number,)) for number in range(4)]
    for number, name in enumerate(names):
        cache.keep_look(name, bytes(1000))
        path = next(each for each in files(tmp_path) if each.name == name)
        os.utime(path, (1000 + number, 1000 + number))
    assert cache.look(names[0]) is not None  # used just now
    assert cache.make_room(2100) == 2
    assert [cache.has_look(name) for name in names] == [True, False, False, True]
    assert cache.make_room(2100) == 0
