"""The start script finds a Python that can run rustboard, or says what is missing."""

from __future__ import annotations

import ast
import os
import sys
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest
import which_python
from messages import CannotStartError

FakeCommand = Callable[[str, str], Path]
posix = pytest.mark.skipif(os.name != "posix", reason="the stand-ins for commands are shell scripts")


@pytest.fixture
def fake_command(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> FakeCommand:
    """Put shell scripts in the place of commands; PATH holds nothing else."""
    folder = tmp_path / "commands"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))

    def add(name: str, script: str) -> Path:
        file = folder / name
        file.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        file.chmod(0o755)
        return file

    return add


def pretend_version(monkeypatch: pytest.MonkeyPatch, *version: int) -> None:
    monkeypatch.setattr(which_python, "sys", SimpleNamespace(version_info=version))


@pytest.mark.parametrize("file", ["start", "messages", "which_python", "system_libraries", "private_environment"])
def test_an_old_python_can_read_the_script(checkout: Path, file: str) -> None:
    source = (checkout / "packaging" / f"{file}.py").read_text(encoding="utf-8")
    ast.parse(source, feature_version=(3, 8))
    assert "from __future__ import annotations\n" in source


@pytest.mark.parametrize(
    ("version", "suitable"),
    [((3, 8, 18), False), ((3, 10, 13), False), ((3, 11, 0), True), ((3, 14, 9), True), ((3, 15, 0), False)],
)
def test_pythons_from_3_11_to_3_14_will_do(version: tuple[int, ...], suitable: bool) -> None:
    assert which_python.is_suitable(version) is suitable


def test_a_python_tells_its_version() -> None:
    assert which_python.version_of([sys.executable]) == sys.version_info[:3]


@posix
@pytest.mark.parametrize("script", ["exit 127", "echo no numbers", "echo '3 12 1'; exit 1"])
def test_what_does_not_run_as_a_python_has_no_version(fake_command: FakeCommand, script: str) -> None:
    assert which_python.version_of([str(fake_command("python3.12", script))]) is None


def test_a_command_that_is_not_there_has_no_version(tmp_path: Path) -> None:
    assert which_python.version_of([str(tmp_path / "python3.12")]) is None


@posix
def test_a_suitable_python_goes_on_by_itself(fake_command: FakeCommand, monkeypatch: pytest.MonkeyPatch) -> None:
    fake_command("python3.12", "echo 3 12 1")
    pretend_version(monkeypatch, 3, 11, 7)
    assert which_python.suitable_python() is None


@posix
def test_an_old_python_passes_over_a_broken_one_to_a_good_one(
    fake_command: FakeCommand, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake_command("python3.10", "echo 3 10 1")
    fake_command("python3.11", "exit 127")
    good = fake_command("python3.13", "echo 3 13 0")
    pretend_version(monkeypatch, 3, 8, 18)
    assert which_python.suitable_python() == [str(good)]


@posix
def test_an_old_python_alone_says_what_to_install(fake_command: FakeCommand, monkeypatch: pytest.MonkeyPatch) -> None:
    fake_command("python3.12", "exit 127")
    pretend_version(monkeypatch, 3, 8, 18)
    with pytest.raises(CannotStartError, match=r"needs Python 3\.11 or newer and this is Python 3\.8\.18"):
        which_python.suitable_python()


@posix
def test_a_python_that_is_too_new_is_tried_when_there_is_no_other(
    fake_command: FakeCommand, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    pretend_version(monkeypatch, 3, 15, 0)
    assert which_python.suitable_python() is None
    assert "newer than rustboard knows" in capsys.readouterr().out
    good = fake_command("python3.14", "echo 3 14 0")
    assert which_python.suitable_python() == [str(good)]
