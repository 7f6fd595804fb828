"""The start script brings in Debian's missing libraries where it may, and says the command where it may not."""

from __future__ import annotations

import os
import shutil
import sys
from pathlib import Path

import pytest
import system_libraries
from system_libraries import has_display, have_system_libraries, missing_packages, needed_packages

linux = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="apt is of Debian")


class Debian:
    """A folder of stand-ins for dpkg-query, apt-get and sudo; the only commands there are."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.calls = folder / "calls.txt"
        for name in ("env", "cat"):
            (folder / name).symlink_to(shutil.which(name) or "/nowhere")
        self.has()
        self.command("apt-get", f'echo "apt-get $@ [$DEBIAN_FRONTEND]" >> {self.calls}')

    def command(self, name: str, script: str) -> None:
        file = self.folder / name
        file.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
        file.chmod(0o755)

    def has(self, *packages: str, removed: str = "") -> None:
        """Let these packages be installed; one removed but not purged is listed, too."""
        lines = [f"ii  {name}" for name in packages] + ([f"rc  {removed}"] if removed else [])
        (self.folder / "status.txt").write_text("\n".join(lines) + "\n", encoding="utf-8")
        self.command("dpkg-query", f"cat {self.folder / 'status.txt'}; exit 1")

    def apt_calls(self) -> list[str]:
        return self.calls.read_text(encoding="utf-8").splitlines() if self.calls.exists() else []


@pytest.fixture
def debian(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Debian:
    """A bare Debian on which this user is an ordinary one."""
    folder = tmp_path / "commands"
    folder.mkdir()
    stand_ins = Debian(folder)
    monkeypatch.setenv("PATH", str(folder))
    monkeypatch.setattr(os, "geteuid", lambda: 1000)
    return stand_ins


@pytest.mark.parametrize(
    ("variables", "platform", "shown"),
    [
        ({}, "linux", False),
        ({"DISPLAY": ""}, "linux", False),
        ({"DISPLAY": ":0"}, "linux", True),
        ({"WAYLAND_DISPLAY": "wayland-0"}, "linux", True),
        ({"DISPLAY": ":0", "QT_QPA_PLATFORM": "offscreen"}, "linux", False),
        ({"QT_QPA_PLATFORM": "linuxfb:fb=/dev/fb1"}, "linux", True),
        ({}, "win32", True),
        ({}, "darwin", True),
        ({"QT_QPA_PLATFORM": "offscreen:enable_fonts"}, "darwin", False),
    ],
)
def test_a_display_is_recognised(variables: dict[str, str], platform: str, shown: bool) -> None:
    assert has_display(variables, platform) is shown


@linux
def test_all_is_missing_on_a_bare_machine_and_nothing_when_all_is_there(debian: Debian) -> None:
    names = [entry.split("|")[0] for entry in needed_packages(window=True)]
    assert missing_packages(needed_packages(window=True)) == names
    debian.has(*names)
    assert missing_packages(needed_packages(window=True)) == []


@linux
def test_any_of_several_names_will_do_and_a_removed_package_will_not(debian: Debian) -> None:
    debian.has("libglib2.0-0t64", "fonts-liberation", removed="libegl1")
    missing = missing_packages(["libglib2.0-0|libglib2.0-0t64", "fonts-dejavu-core|fonts-liberation", "libegl1"])
    assert missing == ["libegl1"]


@linux
def test_a_window_needs_more_than_a_run_without_one() -> None:
    assert set(needed_packages(window=True)) > set(needed_packages(window=False))


@linux
def test_a_python_without_ensurepip_asks_for_its_package(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system_libraries, "missing_venv_package", lambda: "python3.11-venv")
    assert needed_packages(window=False)[-1] == "python3.11-venv"


@linux
def test_root_installs_what_is_missing_without_a_question(debian: Debian, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    debian.has(*(entry.split("|")[0] for entry in needed_packages(window=False) if entry != "libgl1"))
    have_system_libraries(window=False)
    update, install = debian.apt_calls()
    assert update.startswith("apt-get update")
    assert install.startswith("apt-get install -y --no-install-recommends ")
    assert install.endswith(" libgl1 [noninteractive]")


@linux
def test_apt_is_left_alone_when_nothing_is_missing(debian: Debian, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    debian.has(*(entry.split("|")[0] for entry in needed_packages(window=True)))
    have_system_libraries(window=True)
    assert debian.apt_calls() == []


@linux
def test_a_user_with_passwordless_sudo_installs_by_it(debian: Debian) -> None:
    debian.command("true", "exit 0")
    debian.command("sudo", 'shift; exec "$@"')
    have_system_libraries(window=False)
    assert [call.split()[1] for call in debian.apt_calls()] == ["update", "install"]


@linux
@pytest.mark.parametrize("sudo", ["", "exit 1"], ids=["no sudo", "sudo asks for a password"])
def test_another_user_is_told_the_command(debian: Debian, sudo: str, capsys: pytest.CaptureFixture[str]) -> None:
    if sudo:
        debian.command("sudo", sudo)
    debian.has(*(entry.split("|")[0] for entry in needed_packages(window=False)[2:]))
    have_system_libraries(window=False)
    assert debian.apt_calls() == []
    assert "    sudo apt-get install -y --no-install-recommends libegl1 libgl1\n" in capsys.readouterr().out


@linux
def test_when_apt_fails_the_command_is_told_and_the_start_goes_on(
    debian: Debian, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: 0)
    debian.command("apt-get", "exit 100")
    have_system_libraries(window=False)
    said = capsys.readouterr().out
    assert "apt could not install them" in said
    assert "    sudo apt-get install -y" in said


@linux
def test_other_systems_are_left_alone(debian: Debian, capsys: pytest.CaptureFixture[str]) -> None:
    (debian.folder / "apt-get").unlink()
    have_system_libraries(window=True)
    assert capsys.readouterr().out == ""
