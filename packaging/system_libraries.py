"""The system libraries that Qt needs on Debian and its children: which are missing, and how they come in."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys

from messages import say
from which_python import missing_venv_package

# Debian and Ubuntu names. "a|b": any of them will do, the first is the one to install.
OFFSCREEN_LIBRARIES = (
    "libegl1",
    "libgl1",
    "libxkbcommon0",
    "libdbus-1-3",
    "libfontconfig1",
    "libglib2.0-0|libglib2.0-0t64",
    "fonts-dejavu-core|fonts-liberation|fonts-liberation2|fonts-noto-core|fonts-ubuntu|fonts-freefont-ttf",
)
WINDOW_LIBRARIES = (
    "libxcb-cursor0",
    "libxcb-icccm4",
    "libxcb-image0",
    "libxcb-keysyms1",
    "libxcb-randr0",
    "libxcb-render-util0",
    "libxcb-shape0",
    "libxcb-util1",
    "libxcb-xkb1",
    "libxkbcommon-x11-0",
    "libx11-xcb1",
)
APT_INSTALL = ("apt-get", "install", "-y", "--no-install-recommends")


def has_display(environment: dict[str, str], platform: str = sys.platform) -> bool:
    """Tell whether a window can be shown."""
    chosen = environment.get("QT_QPA_PLATFORM", "").split(":")[0]
    if chosen:
        return chosen not in {"offscreen", "minimal"}
    if platform in {"win32", "darwin"}:
        return True
    return bool(environment.get("DISPLAY") or environment.get("WAYLAND_DISPLAY"))


def needed_packages(*, window: bool) -> list[str]:
    """Return the Debian packages to have, each as ``name`` or ``name|other name``."""
    needed = [*OFFSCREEN_LIBRARIES, *(WINDOW_LIBRARIES if window else ())]
    venv_package = missing_venv_package()
    return [*needed, venv_package] if venv_package else needed


def installed_packages(names: list[str]) -> set[str]:
    """Return which of the named Debian packages are installed."""
    query = ["dpkg-query", "--show", "--showformat", "${db:Status-Abbrev} ${Package}\n", *names]
    answer = subprocess.run(query, capture_output=True, text=True, check=False)
    pairs = (line.split() for line in answer.stdout.splitlines())
    return {pair[1] for pair in pairs if len(pair) == 2 and pair[0] == "ii"}


def missing_packages(needed: list[str]) -> list[str]:
    """Return the packages to install so that one name of every entry of ``needed`` is there."""
    installed = installed_packages([name for entry in needed for name in entry.split("|")])
    return [entry.split("|")[0] for entry in needed if installed.isdisjoint(entry.split("|"))]


def administrator_prefix() -> list[str] | None:
    """Return what to put before a command that needs root: nothing, sudo, or None when there is no way."""
    if os.geteuid() == 0:
        return []
    if shutil.which("sudo"):
        sudo = ["sudo", "-n"]
        if subprocess.run([*sudo, "true"], capture_output=True, check=False).returncode == 0:
            return sudo
    return None


def have_system_libraries(*, window: bool) -> None:
    """On Debian and its children install the system libraries that are missing, or say how to; never asks."""
    if not (sys.platform.startswith("linux") and shutil.which("dpkg-query") and shutil.which("apt-get")):
        return
    missing = missing_packages(needed_packages(window=window))
    if not missing:
        return
    prefix = administrator_prefix()
    if prefix is not None:
        say(f"Installing system libraries with apt: {' '.join(missing)}")
        if apt_install(prefix, missing):
            return
    reason = "Only an administrator can install them" if prefix is None else "apt could not install them"
    say(f"System libraries are missing: {' '.join(missing)}\n{reason}. Please run this once:")
    say(f"    sudo {' '.join(APT_INSTALL)} {' '.join(missing)}\nGoing on without them; the window may not open.")


def apt_install(prefix: list[str], packages: list[str]) -> bool:
    """Install Debian packages without questions; tell whether it worked."""
    quiet = [*prefix, "env", "DEBIAN_FRONTEND=noninteractive"]
    patient = ["-o", "DPkg::Lock::Timeout=120", "-o", "Acquire::Retries=3"]
    # Old package lists are no reason to give up: the install below tells.
    subprocess.run([*quiet, "apt-get", "update", *patient], capture_output=True, check=False)
    install = [*quiet, *APT_INSTALL, *patient, *packages]
    return subprocess.run(install, capture_output=True, check=False).returncode == 0
