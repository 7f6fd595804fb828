"""Files that belong together are written all or none."""

import os
from pathlib import Path

import pytest

from rustboard.support import file_sets
from rustboard.support.file_sets import write_together
from rustboard.support.problems import InputError

NEW = {"a.csv": b"new a", "b.csv": b"new b", "c.csv": b"new c"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder that holds two of the three files already."""
    (tmp_path / "a.csv").write_bytes(b"old a")
    (tmp_path / "b.csv").write_bytes(b"old b")
    return tmp_path


def contents(folder: Path) -> dict[str, bytes]:
    return {each.name: each.read_bytes() for each in folder.iterdir() if each.is_file()}


OLD = {"a.csv": b"old a", "b.csv": b"old b"}


def test_all_are_replaced_and_nothing_else_is_left(folder):
    assert write_together(folder, NEW) == [folder / "a.csv", folder / "b.csv", folder / "c.csv"]
    assert contents(folder) == NEW


@pytest.mark.parametrize("refused", range(1, 6))
def test_when_the_disk_refuses_one_step_all_is_as_it_was(folder, monkeypatch, refused):
    replace, count = os.replace, 0

    def refusing(source, target):
        nonlocal count
        count += Path(source).parent == folder and not str(source).endswith(".part")
        if count == refused:
            count += 1  # once
            raise PermissionError(13, "no")
        replace(source, target)

    monkeypatch.setattr(file_sets.os, "replace", refusing)
    with pytest.raises(InputError, match="may not be read or written"):
        write_together(folder, NEW)
    assert contents(folder) == OLD


def test_a_folder_in_the_place_of_a_file_is_refused_and_all_is_as_it_was(folder):
    (folder / "c.csv").mkdir()
    with pytest.raises(InputError):
        write_together(folder, NEW)
    assert contents(folder) == OLD
    assert (folder / "c.csv").is_dir()


def test_whoever_stops_at_the_last_look_finds_all_as_it_was(folder):
    def stop():
        raise KeyError

    with pytest.raises(KeyError):
        write_together(folder, NEW, stop)
    assert contents(folder) == OLD


def test_a_folder_that_is_not_there_is_told(tmp_path):
    with pytest.raises(InputError, match="no such file or folder"):
        write_together(tmp_path / "nowhere", NEW)
