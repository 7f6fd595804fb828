"""Files written whole or not at all, and read with a bound."""

import errno
import os
import sys
from pathlib import Path

import pytest

from rustboard.support import files
from rustboard.support.files import copy_whole, disk_problem, is_device_name, read_bounded, replace_file, write_whole
from rustboard.support.problems import InputError

posix = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such thing")


def refusal(function, *arguments):
    with pytest.raises(InputError) as caught:
        function(*arguments)
    return str(caught.value)


def test_a_file_is_written_with_its_folders_and_written_over(tmp_path):
    path = tmp_path / "a" / "b" / "file.bin"
    write_whole(path, b"old")
    write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert [each.name for each in path.parent.iterdir()] == ["file.bin"]


def test_any_name_that_the_disk_allows_can_be_written(tmp_path):
    for name in ("x" * 250, "🐝" * 62, "Ж 蜜蝋 🐝", ".hidden"):
        write_whole(tmp_path / name, b"x")
        assert read_bounded(tmp_path / name, 1) == b"x"


def test_a_caller_with_words_of_its_own_gets_the_disks_error_and_the_old_file_stays(tmp_path, monkeypatch):
    def refuse(*arguments, **more):
        raise PermissionError(errno.EACCES, "Permission denied")

    replace_file(tmp_path / "file", b"old")
    monkeypatch.setattr(files.os, "replace", refuse)
    with pytest.raises(PermissionError):
        replace_file(tmp_path / "file", b"new")
    monkeypatch.undo()
    assert {each.name: each.read_bytes() for each in tmp_path.iterdir()} == {"file": b"old"}
    with pytest.raises(FileNotFoundError):
        replace_file(tmp_path / "no such folder" / "file", b"x")


# Windows' rules for file names, from memory.
@pytest.mark.parametrize(("name", "is_one"), [
    ("con", True), ("NUL", True), ("com1.rustboard", True), ("LPT¹", True), ("aux .jpg", True),
    ("console", False), ("com", False), ("a.con", False), ("com10", False),
])  # fmt: skip
def test_names_that_windows_keeps_for_devices_are_known(name, is_one):
    assert is_device_name(name) is is_one


@pytest.mark.parametrize("step", ["open", "fsync", "replace"])
def test_the_old_file_stays_when_writing_fails(tmp_path, monkeypatch, step):
    def refuse(*arguments, **more):
        raise OSError(errno.ENOSPC, "No space left on device")

    (tmp_path / "file").write_bytes(b"old")
    monkeypatch.setattr(files.os, step, refuse)
    told = refusal(write_whole, tmp_path / "file", b"new")
    monkeypatch.undo()
    assert told == "file: The disk is full; free some space and try again. Nothing was changed."
    assert {each.name: each.read_bytes() for each in tmp_path.iterdir()} == {"file": b"old"}


def test_an_interruption_leaves_no_part_behind(tmp_path, monkeypatch):
    def interrupt(*arguments):
        raise KeyboardInterrupt

    monkeypatch.setattr(files.os, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_whole(tmp_path / "file", b"new")
    monkeypatch.undo()
    assert list(tmp_path.iterdir()) == []


@posix
def test_a_file_is_as_open_to_others_as_the_user_has_set(tmp_path):
    for mask, mode in ((0o022, 0o644), (0o077, 0o600), (0o002, 0o664)):
        old = os.umask(mask)
        try:
            write_whole(tmp_path / "file", b"x")
        finally:
            os.umask(old)
        assert (tmp_path / "file").stat().st_mode & 0o777 == mode


@posix
def test_a_link_is_replaced_and_what_it_leads_to_is_left_alone(tmp_path):
    (tmp_path / "precious").write_bytes(b"mine")
    (tmp_path / "file").symlink_to(tmp_path / "precious")
    write_whole(tmp_path / "file", b"new")
    assert (tmp_path / "precious").read_bytes() == b"mine"
    assert not (tmp_path / "file").is_symlink()


def test_a_file_is_copied_byte_for_byte_over_another(tmp_path):
    data = os.urandom(3_000_000)
    (tmp_path / "a").write_bytes(data)
    (tmp_path / "b").write_bytes(b"old")
    copy_whole(tmp_path / "a", tmp_path / "b")
    assert (tmp_path / "b").read_bytes() == data


def test_a_copy_of_nothing_leaves_the_target_alone(tmp_path):
    (tmp_path / "b").write_bytes(b"old")
    with pytest.raises(FileNotFoundError):
        copy_whole(tmp_path / "missing", tmp_path / "b")
    assert {each.name: each.read_bytes() for each in tmp_path.iterdir()} == {"b": b"old"}


def test_a_file_up_to_the_bound_is_read_and_a_larger_one_is_not(tmp_path):
    (tmp_path / "file").write_bytes(b"x" * 5000)
    assert read_bounded(tmp_path / "file", 5000) == b"x" * 5000
    assert refusal(read_bounded, tmp_path / "file", 4999) == (
        "file: The file is larger than 4,999 bytes; split it into smaller ones."
    )
    (tmp_path / "file").write_bytes(b"x" * (1 << 20) + b"x")
    assert refusal(read_bounded, tmp_path / "file", 1 << 20) == (
        "file: The file is larger than 1 MiB; split it into smaller ones."
    )


def test_what_cannot_be_read_is_told_in_a_sentence(tmp_path):
    assert refusal(read_bounded, tmp_path / "missing", 10) == (
        "missing: There is no such file or folder; check the name."
    )
    told = refusal(read_bounded, tmp_path, 10)
    assert told.startswith(f"{tmp_path.name}: ")
    assert told.endswith(("This is a folder, and a file is needed; choose a file.", "or change its permissions."))
    (tmp_path / "file").write_bytes(b"")
    assert refusal(write_whole, tmp_path / "file" / "under", b"x").endswith(
        (
            "under: Part of this path is a file, not a folder; check the name.",
            "under: Something with this name is already there; choose another name.",
        )
    )


def test_names_that_no_file_can_have_are_told_as_such(tmp_path):
    for name in ("a\0b", "a\ud800b"):
        for told in (refusal(read_bounded, tmp_path / name, 10), refusal(write_whole, tmp_path / name, b"")):
            assert told == "a\ufffdb: No file can have this name; choose another."
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("number", "sentence"), [
    (errno.EDQUOT, "Your share of the disk is used up; free some space and try again. Nothing was changed."),
    (errno.EACCES, "This place may not be read or written; choose another, or change its permissions."),
    (errno.EROFS, "This place is read-only; choose another folder."),
    (errno.ELOOP, "The links in this path lead round in a circle; check the name."),
    (errno.EIO, f"The disk refused this ({os.strerror(errno.EIO)}); try again or choose another place."),
])  # fmt: skip
def test_each_refusal_of_the_disk_has_its_sentence(number, sentence):
    assert str(disk_problem(OSError(number, os.strerror(number)), Path("/a/file"))) == f"file: {sentence}"


def test_a_refusal_without_a_number_is_told_too():
    assert str(disk_problem(OSError(), Path("/"))) == (
        f"{Path('/')}: The disk refused this (OSError); try again or choose another place."
    )


def test_a_file_that_another_program_holds_on_windows_is_told_as_such():
    error = OSError(errno.EACCES, "The process cannot access the file")
    error.winerror = 32
    assert str(disk_problem(error, Path("report.xlsx"))) == (
        "report.xlsx: Another program has this file open; close it there and try again."
    )


def test_the_name_of_a_file_is_made_safe_to_show():
    assert files.shown_name(Path("a\x1b[31m" + "x" * 300)) == "a\ufffd[31m" + "x" * 194
