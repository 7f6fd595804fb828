"""Workbooks handed to LibreOffice, which is not the library that wrote them."""

from __future__ import annotations

import os
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

import pytest


def converted(files: Sequence[Path], kind: str, folder: Path) -> Path:
    """Let LibreOffice open files and write each anew into ``folder / "converted"``; without it the test is skipped.

    Args:
        files: to open.
        kind: of file to write, as its ``--convert-to`` takes it.
        folder: where its own settings lie, too.
    """
    program = shutil.which("soffice")
    if program is None:
        if os.environ.get("CI"):
            pytest.fail("soffice (LibreOffice) is not installed, and CI must have it")
        pytest.skip("soffice (LibreOffice) is not installed")
    target = folder / "converted"
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    command = [program, profile, "--headless", "--convert-to", kind, "--outdir", str(target), *map(str, files)]
    ran = subprocess.run(command, capture_output=True, text=True, timeout=240, check=False)
    assert ran.returncode == 0, ran.stderr
    return target
