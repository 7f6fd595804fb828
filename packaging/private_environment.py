"""The private environment: made, filled, recognised as up to date, mended after an interruption.

What is kept, all in one folder of its own (see `environment_home`):

* ``venv/``: the environment. The checkout is installed in it as editable, so a ``git pull`` needs no new install
  unless pyproject.toml or the version changed.
* ``stamp.json``: what was installed, written last; a start that finds it up to date touches no network.
* ``unfinished``: there while the environment is made and pip writes; found at the next start it means that a start
  was killed halfway, and the environment is made anew.
* ``install.log``: what pip said.
* ``lock``: keeps two starts from working in it at once.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from messages import CannotStartError, say
from which_python import missing_venv_package, version_of

MARKER = "made-by-rustboard.txt"
MARKER_TEXT = "Made by packaging/start.py of rustboard. Holds no work of yours; deleting it costs one new install.\n"
SPACE_NEEDED = 900_000_000  # bytes: what is installed with the test tools, and pip's working space beside it


def environment_home(checkout: Path, environment: dict[str, str]) -> Path:
    """Return the folder for the private environment: in the checkout, else among the user's own data."""
    if os.access(str(checkout), os.W_OK):
        return checkout / ".rustboard-env"
    home = Path(os.path.expanduser("~"))
    if os.name == "nt":
        data = Path(environment.get("LOCALAPPDATA") or home / "AppData" / "Local")
    elif sys.platform == "darwin":
        data = home / "Library" / "Application Support"
    else:
        data = Path(environment.get("XDG_DATA_HOME") or home / ".local" / "share")
    # Two checkouts of one user must not share an environment.
    return data / "rustboard" / f"start-{hashlib.sha256(str(checkout).encode()).hexdigest()[:12]}"


@contextlib.contextmanager
def sole_user(home: Path) -> Iterator[None]:
    """Hold the lock of the environment's folder, waiting for another start that works in it."""
    with (home / "lock").open("a+b") as file:
        told = False
        while not lock(file.fileno()):
            if not told:
                say("Another start is preparing the same environment; waiting for it.")
                told = True
            time.sleep(0.5)
        yield


def lock(descriptor: int) -> bool:
    """Take the lock on an open file, which ends when the file closes; tell whether it was free."""
    try:
        if sys.platform == "win32":
            import msvcrt

            os.lseek(descriptor, 0, os.SEEK_SET)
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        else:
            import fcntl

            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


class Environment:
    """The private environment in ``home``, for the program of ``checkout``."""

    def __init__(self, home: Path, checkout: Path) -> None:
        self.home = home
        self.checkout = checkout
        self.folder = home / "venv"
        self.programs = self.folder / ("Scripts" if os.name == "nt" else "bin")
        self.stamp_file = home / "stamp.json"
        self.unfinished = home / "unfinished"
        self.log = home / "install.log"
        self.made_at = self.folder / "made-at.txt"

    def program(self, name: str) -> str:
        """Return the path of an installed command."""
        return str(self.programs / (f"{name}.exe" if os.name == "nt" else name))

    def fingerprint(self) -> str:
        """Return what an install depends on, as one short text: a changed one means install again."""
        parts = hashlib.sha256(f"1 {self.folder} {self.checkout}\n".encode())
        for name in ("pyproject.toml", "rustboard/__init__.py"):  # requirements, and the version number
            parts.update((self.checkout / name).read_bytes())
        return parts.hexdigest()

    def holds(self, groups: tuple[str, ...]) -> bool:
        """Tell whether the program and these dependency groups are installed and up to date."""
        try:
            stamp = json.loads(self.stamp_file.read_text(encoding="utf-8"))
            known = stamp["fingerprint"] == self.fingerprint() and set(groups) <= set(stamp["groups"])
        except (OSError, ValueError, KeyError, TypeError):
            return False
        return known and self.works()

    def works(self) -> bool:
        """Tell whether the environment is whole, where it was made, and its Python runs.

        Its commands hold its path, so it does not survive a move; it stops when the system's Python goes.
        """
        if self.unfinished.exists() or not self.made_at.exists():
            return False
        in_place = self.made_at.read_text(encoding="utf-8") == str(self.folder)
        return in_place and version_of([self.program("python")]) is not None

    def claim(self) -> None:
        """Make the folder and mark it as ours.

        Raises:
            CannotStartError: the folder is somebody else's.
        """
        self.home.mkdir(parents=True, exist_ok=True)
        if not (self.home / MARKER).exists():
            if any(self.home.iterdir()):
                raise CannotStartError(f"{self.home} was not made by rustboard. Move it away, then start again.")
            (self.home / MARKER).write_text(MARKER_TEXT, encoding="utf-8")

    def prepare(self, groups: tuple[str, ...]) -> None:
        """Make the environment hold the program and the dependency groups; quick when it already does."""
        if self.holds(groups):
            return
        self.claim()
        with sole_user(self.home):
            if self.holds(groups):  # another start has just done it
                return
            self.stamp_file.unlink(missing_ok=True)
            if not self.works():
                self.make()
            self.install(groups)
            stamp = {"fingerprint": self.fingerprint(), "groups": list(groups)}
            self.stamp_file.write_text(json.dumps(stamp), encoding="utf-8")

    def make(self) -> None:
        """Make an empty environment in place of a broken or half-made one."""
        if shutil.disk_usage(str(self.home)).free < SPACE_NEEDED:
            raise CannotStartError(
                f"The disk of {self.home} is nearly full: about 1 GB must be free. Make room first."
            )
        package = missing_venv_package()
        if package:
            raise CannotStartError(f"This Python cannot make environments. Run: sudo apt-get install -y {package}")
        if self.folder.exists():
            say(f"Removing the unfinished environment in {self.folder}")
            shutil.rmtree(str(self.folder))
        say(f"Making a private environment in {self.folder}")
        self.unfinished.touch()
        command = [sys.executable, "-m", "venv", str(self.folder)]
        made = subprocess.run(command, capture_output=True, text=True, errors="replace", check=False)
        if made.returncode != 0:
            raise CannotStartError(f"Python could not make the environment:\n{made.stdout}{made.stderr}".rstrip())
        self.made_at.write_text(str(self.folder), encoding="utf-8")
        self.unfinished.unlink()

    def install(self, groups: tuple[str, ...]) -> None:
        """Install the checkout and the dependency groups with pip, under pip's own configuration."""
        say("Installing rustboard" + (" and its test tools" if groups else "") + " (a few minutes the first time)")
        command = [self.program("python"), "-m", "pip", "install", "--disable-pip-version-check", "--no-input"]
        command += ["--progress-bar", "off", "--editable", str(self.checkout)]
        command += group_requirements(self.checkout / "pyproject.toml", groups)
        self.unfinished.touch()
        code, said = run_shown(command, self.log)
        if code < 0:  # killed, so perhaps halfway through a package: the mark stays
            raise CannotStartError("The install was stopped. Start again; it begins anew.")
        self.unfinished.unlink()  # pip ended by itself, so every package is in or out
        if code != 0:
            raise CannotStartError(f"{why_pip_failed(said)}\nAll that pip said is in {self.log}")


def group_requirements(pyproject: Path, groups: tuple[str, ...]) -> list[str]:
    """Return the requirements of the named dependency groups (read here: pip knows groups only since 25.1)."""
    import tomllib

    table = tomllib.loads(pyproject.read_text(encoding="utf-8"))["dependency-groups"]
    found: list[str] = []
    for group in groups:
        for entry in table[group]:
            if isinstance(entry, str):
                found.append(entry)
            else:
                found += group_requirements(pyproject, (entry["include-group"],))
    return found


def run_shown(command: list[str], log: Path) -> tuple[int, str]:
    """Run pip, keep all it says in ``log``, show the steps that take time; return exit code and output."""
    said: list[str] = []
    running = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        errors="replace",
        env=clean_environment(),
    )
    with running, log.open("w", encoding="utf-8") as file:
        for line in running.stdout or ():
            said.append(line)
            file.write(line)
            words = line.strip()
            if words.startswith("Downloading ") and "MB" in words:
                say(f"  {words}")
            elif words.startswith("Installing collected packages:"):
                package_count = words.count(",") + 1
                say(f"  putting {package_count} packages in place")
        return running.wait(), "".join(said)


def why_pip_failed(said: str) -> str:
    """Return one sentence for what went wrong in pip's output."""
    if "No space left on device" in said or "[Errno 28]" in said:
        return "The disk is full. Make about 1 GB of room, then start again."
    signs = ("NewConnectionError", "ConnectionError", "ProxyError", "timed out", "Name or service not known")
    if any(sign in said for sign in (*signs, "name resolution", "SSLError", "getaddrinfo failed", "unreachable")):
        return "The packages could not be fetched: is there an internet connection? Start again when there is."
    last = [line for line in said.splitlines() if line.strip()][-3:]
    return "pip could not install rustboard:\n  " + "\n  ".join(last)


def clean_environment() -> dict[str, str]:
    """Return this process's variables without those that would make the private environment see other packages."""
    return {name: value for name, value in os.environ.items() if name not in {"PYTHONPATH", "PYTHONHOME"}}
