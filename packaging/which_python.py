"""Which Python rustboard can use on this machine."""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import sys

from messages import CannotStartError, dotted, say

OLDEST_PYTHON = (3, 11)
NEWEST_PYTHON = (3, 14)  # newest one with finished packages of everything we need; a newer one is tried last


def is_suitable(version: tuple[int, ...]) -> bool:
    """Tell whether everything rustboard needs can be had for this Python."""
    return OLDEST_PYTHON <= tuple(version[:2]) <= NEWEST_PYTHON


def version_of(command: list[str]) -> tuple[int, ...] | None:
    """Ask the Python started by ``command`` for its version; None when it does not run."""
    ask = "import sys; print(*sys.version_info[:3])"
    try:
        answer = subprocess.run([*command, "-c", ask], capture_output=True, text=True, timeout=30, check=False)
        return tuple(int(part) for part in answer.stdout.split()) if answer.returncode == 0 else None
    except (OSError, ValueError, subprocess.SubprocessError):
        return None


def other_pythons() -> list[list[str]]:
    """Return the commands that may start another Python here, the best first."""
    minors = range(OLDEST_PYTHON[1], NEWEST_PYTHON[1] + 1)
    names = [[path] for path in (shutil.which(f"python3.{minor}") for minor in minors) if path]
    launcher = shutil.which("py") if os.name == "nt" else None
    return names + ([[launcher, f"-3.{minor}"] for minor in minors] if launcher else [])


def missing_venv_package() -> str | None:
    """Return the Debian package without which this Python cannot make environments; None when it can."""
    if importlib.util.find_spec("ensurepip"):
        return None
    return f"python{dotted(tuple(sys.version_info[:2]))}-venv"


def suitable_python() -> list[str] | None:
    """Return the command of the Python to go on with; None when the running one will do.

    Raises:
        CannotStartError: this Python is too old and no other was found.
    """
    here = tuple(sys.version_info[:3])
    if is_suitable(here):
        return None
    for command in other_pythons():
        version = version_of(command)
        if version and is_suitable(version):
            say(f"Python {dotted(here)} cannot run rustboard; going on with {' '.join(command)}.")
            return command
    if here < OLDEST_PYTHON:
        raise CannotStartError(
            f"rustboard needs Python {dotted(OLDEST_PYTHON)} or newer and this is Python {dotted(here)}. "
            "Install a newer one from python.org or your system's packages, then start again."
        )
    say(f"Python {dotted(here)} is newer than rustboard knows; trying it all the same.")
    return None
