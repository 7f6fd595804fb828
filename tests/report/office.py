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


_SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"
 xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


def recalculated(files: Sequence[Path], folder: Path) -> Path:
    """Do `converted` to workbooks, every formula worked out anew whatever value the file holds."""
    user = folder / "profile" / "user"
    user.mkdir(parents=True)
    (user / "registrymodifications.xcu").write_text(_SETTINGS, encoding="utf-8")
    return converted(files, "xlsx:Calc MS Excel 2007 XML", folder)
