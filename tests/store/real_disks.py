"""Disks as they go wrong in life: full ones and read-only ones, made with the system's own means where it allows."""

from __future__ import annotations

import os
import shutil
import stat
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


def is_root() -> bool:
    return sys.platform != "win32" and os.geteuid() == 0


def mount(*arguments: str) -> None:
    """Mount something; where that is not allowed, the test is skipped."""
    if not is_root() or shutil.which("mount") is None or sys.platform != "linux":
        pytest.skip("making such a disk takes root on Linux")
    done = subprocess.run(["mount", *arguments], capture_output=True, text=True, check=False)
    if done.returncode:
        pytest.skip(f"this machine does not let root mount: {done.stderr.strip()}")


def unmount(path: Path) -> None:
    subprocess.run(["umount", "--lazy", str(path)], check=True)


@contextmanager
def small_disk(folder: Path, kilobytes: int = 2048) -> Iterator[Path]:
    """A disk of a few kilobytes for the length of a block."""
    folder.mkdir()
    mount("-t", "tmpfs", "-o", f"size={kilobytes}k", "rustboard-test", str(folder))
    try:
        yield folder
    finally:
        unmount(folder)


def fill(disk: Path, *, leave: int = 0) -> Path:
    """Fill a disk to the last byte but ``leave``; return the file to remove."""
    filler = disk / "filler"
    with filler.open("ab", buffering=0) as stream:
        for size in (65_536, 4_096, 1):
            try:
                while stream.write(bytes(size)) == size:
                    pass
            except OSError:
                continue
    if leave:
        os.truncate(filler, filler.stat().st_size - leave)
    return filler


@contextmanager
def read_only(path: Path) -> Iterator[None]:
    """A file or folder that nobody may write, root included, for the length of a block."""
    if is_root():  # whom permissions do not stop
        mount("--bind", str(path), str(path))
        try:
            mount("-o", "remount,bind,ro", str(path))
            yield
        finally:
            unmount(path)
        return
    if sys.platform == "win32" and path.is_dir():
        pytest.skip("Windows knows no read-only folders")
    mode = path.stat().st_mode
    path.chmod(mode & ~(stat.S_IWUSR | stat.S_IWGRP | stat.S_IWOTH))
    try:
        yield
    finally:
        path.chmod(mode)
