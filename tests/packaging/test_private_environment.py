"""The start script's environment: made once, renewed when needed, mended when interrupted, never a stranger's."""

from __future__ import annotations

import os
import shutil
import sys
from collections import namedtuple
from pathlib import Path

import private_environment
import pytest
from messages import CannotStartError
from private_environment import Environment, environment_home, group_requirements, lock, sole_user, why_pip_failed

posix = pytest.mark.skipif(os.name != "posix", reason="the stand-in for pip is a shell script")

PYPROJECT = """
[project]
name = "rustboard"

[dependency-groups]
test = ["pytest>=8", { include-group = "base" }]
base = ["hypothesis>=6; python_version >= '3.11'"]
"""


class Rehearsal(Environment):
    """An environment whose two slow steps are only noted; ``fails`` names the step that ends in an error."""

    def __init__(self, home: Path, checkout: Path) -> None:
        super().__init__(home, checkout)
        self.steps: list[str] = []
        self.fails = ""

    def make(self) -> None:
        self.steps.append("make")
        self.unfinished.touch()
        if self.fails == "make":
            raise CannotStartError("no")
        self.programs.mkdir(parents=True, exist_ok=True)
        python = Path(self.program("python"))
        if not python.exists():
            python.symlink_to(sys.executable)
        self.made_at.write_text(str(self.folder), encoding="utf-8")
        self.unfinished.unlink()

    def install(self, groups: tuple[str, ...]) -> None:
        assert not self.stamp_file.exists(), "the stamp is written last"
        self.steps.append(f"install {' '.join(groups)}".rstrip())
        self.unfinished.touch()
        if self.fails == "install":
            raise CannotStartError("no")
        self.unfinished.unlink()

    def steps_taken(self) -> list[str]:
        taken, self.steps = self.steps, []
        return taken


@pytest.fixture
def small_checkout(tmp_path: Path) -> Path:
    checkout = tmp_path / "checkout"
    (checkout / "rustboard").mkdir(parents=True)
    (checkout / "rustboard" / "__init__.py").write_text('__version__ = "1"', encoding="utf-8")
    (checkout / "pyproject.toml").write_text(PYPROJECT, encoding="utf-8")
    return checkout


@pytest.fixture
def rehearsal(small_checkout: Path, tmp_path: Path) -> Rehearsal:
    return Rehearsal(tmp_path / "home of it", small_checkout)


def pip_stand_in(environment: Environment, script: str) -> None:
    environment.claim()
    environment.programs.mkdir(parents=True)
    python = Path(environment.program("python"))
    python.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    python.chmod(0o755)


def test_the_environment_lies_in_the_checkout_when_that_can_be_written(tmp_path: Path) -> None:
    assert environment_home(tmp_path, {}) == tmp_path / ".rustboard-env"


@pytest.mark.skipif(sys.platform in {"win32", "darwin"}, reason="XDG folders are of Linux")
def test_else_among_the_users_data_one_for_each_checkout(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "access", lambda _path, _mode: False)
    first = environment_home(tmp_path / "a", {"XDG_DATA_HOME": str(tmp_path / "data")})
    second = environment_home(tmp_path / "b", {"XDG_DATA_HOME": str(tmp_path / "data")})
    assert first.parent == second.parent == tmp_path / "data" / "rustboard"
    assert first != second


def test_the_second_start_does_nothing(rehearsal: Rehearsal) -> None:
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == ["make", "install"]
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == []


def test_the_test_tools_come_when_they_are_asked_for_and_stay(rehearsal: Rehearsal) -> None:
    rehearsal.prepare(())
    rehearsal.steps_taken()
    rehearsal.prepare(("test", "check"))
    assert rehearsal.steps_taken() == ["install test check"]
    rehearsal.prepare(("check",))
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == []


@pytest.mark.parametrize("changed", ["pyproject.toml", "rustboard/__init__.py"])
def test_changed_requirements_or_version_install_again(rehearsal: Rehearsal, changed: str) -> None:
    rehearsal.prepare(())
    rehearsal.steps_taken()
    with (rehearsal.checkout / changed).open("a", encoding="utf-8") as file:
        file.write("\n# changed\n")
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == ["install"]


def test_other_source_runs_as_it_is_without_an_install(rehearsal: Rehearsal) -> None:
    rehearsal.prepare(())
    rehearsal.steps_taken()
    (rehearsal.checkout / "rustboard" / "board.py").write_text("new = 1", encoding="utf-8")
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == []


@pytest.mark.parametrize("stamp", ["", "{", "null", "[]", '{"fingerprint": 1}'])
def test_a_spoilt_stamp_installs_again(rehearsal: Rehearsal, stamp: str) -> None:
    rehearsal.prepare(())
    rehearsal.steps_taken()
    rehearsal.stamp_file.write_text(stamp, encoding="utf-8")
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == ["install"]


@pytest.mark.parametrize("step", ["make", "install"])
def test_an_interrupted_start_begins_anew(rehearsal: Rehearsal, step: str) -> None:
    rehearsal.fails = step
    with pytest.raises(CannotStartError):
        rehearsal.prepare(())
    assert not rehearsal.stamp_file.exists()
    rehearsal.steps_taken()
    rehearsal.fails = ""
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == ["make", "install"]


def test_an_environment_whose_python_is_gone_is_made_anew(rehearsal: Rehearsal) -> None:
    rehearsal.prepare(())
    rehearsal.steps_taken()
    Path(rehearsal.program("python")).unlink()
    rehearsal.prepare(())
    assert rehearsal.steps_taken() == ["make", "install"]


def test_an_environment_that_was_moved_is_made_anew(rehearsal: Rehearsal, tmp_path: Path) -> None:
    rehearsal.prepare(())
    shutil.move(rehearsal.home, tmp_path / "elsewhere")
    moved = Rehearsal(tmp_path / "elsewhere", rehearsal.checkout)
    moved.prepare(())
    assert moved.steps_taken() == ["make", "install"]


def test_a_strangers_folder_is_refused_and_left_alone(rehearsal: Rehearsal) -> None:
    work = rehearsal.home / "venv" / "years of work.txt"
    work.parent.mkdir(parents=True)
    work.write_text("mine", encoding="utf-8")
    with pytest.raises(CannotStartError, match="was not made by rustboard"):
        rehearsal.prepare(())
    assert work.read_text(encoding="utf-8") == "mine"
    assert [file.name for file in rehearsal.home.iterdir()] == ["venv"]


def test_a_half_made_environment_is_replaced_by_a_whole_one(small_checkout: Path, tmp_path: Path) -> None:
    environment = Environment(tmp_path / "home of it", small_checkout)
    environment.claim()
    beside = environment.home / "beside.txt"
    for file in (environment.folder / "bin" / "half", beside):
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text("", encoding="utf-8")
    environment.make()
    assert environment.works()
    assert not (environment.folder / "bin" / "half").exists()
    assert beside.exists()


def test_a_full_disk_is_told_before_anything_is_written(
    small_checkout: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    usage = namedtuple("usage", "total used free")
    monkeypatch.setattr(shutil, "disk_usage", lambda _path: usage(1, 1, 1_000_000))
    environment = Environment(tmp_path / "home of it", small_checkout)
    with pytest.raises(CannotStartError, match="nearly full"):
        environment.prepare(())
    assert not environment.folder.exists()


def test_a_python_without_ensurepip_says_what_to_install(
    small_checkout: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(private_environment, "missing_venv_package", lambda: "python3.11-venv")
    with pytest.raises(CannotStartError, match=r"sudo apt-get install -y python3\.11-venv"):
        Environment(tmp_path / "home of it", small_checkout).prepare(())


@posix
def test_pip_installs_the_checkout_and_shows_its_long_steps(
    small_checkout: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    environment = Environment(tmp_path / "home of it", small_checkout)
    pip_stand_in(
        environment,
        'printf "%s\\n" "$@"\necho "  Downloading qt.whl (96.8 MB)"\necho "  Downloading tiny.whl (12 kB)"\n'
        'echo "Installing collected packages: a, b, c"',
    )
    environment.install(("test",))
    said = environment.log.read_text(encoding="utf-8")
    assert f"--editable\n{small_checkout}\npytest>=8\nhypothesis>=6; python_version >= '3.11'\n" in said
    assert "index" not in said
    assert capsys.readouterr().out.splitlines()[1:] == [
        "  Downloading qt.whl (96.8 MB)",
        "  putting 3 packages in place",
    ]
    assert not environment.unfinished.exists()


@posix
def test_a_failed_install_says_why_in_one_sentence(small_checkout: Path, tmp_path: Path) -> None:
    environment = Environment(tmp_path / "home of it", small_checkout)
    pip_stand_in(environment, 'echo "OSError: [Errno 28] No space left on device"; exit 1')
    with pytest.raises(CannotStartError, match=r"^The disk is full.*\n.*install\.log$"):
        environment.install(())
    assert not environment.unfinished.exists()


@posix
def test_a_killed_install_leaves_its_mark(small_checkout: Path, tmp_path: Path) -> None:
    environment = Environment(tmp_path / "home of it", small_checkout)
    pip_stand_in(environment, "kill -9 $$")
    with pytest.raises(CannotStartError, match="begins anew"):
        environment.install(())
    assert environment.unfinished.exists()


@pytest.mark.parametrize(
    ("said", "why"),
    [
        (
            "ERROR: Could not install packages due to an OSError: [Errno 28] No space left on device",
            "The disk is full",
        ),
        ("Failed to establish a new connection: [Errno -3] Temporary failure in name resolution", "internet"),
        ("urllib3.exceptions.NewConnectionError: [Errno 101] Network is unreachable", "internet"),
        ("ReadTimeoutError: HTTPSConnectionPool: Read timed out.", "internet"),
        (
            "a\n\nERROR: No matching distribution found for numpy",
            "pip could not install rustboard:\n  a\n  ERROR: No ",
        ),
    ],
)
def test_what_pip_says_is_put_in_one_sentence(said: str, why: str) -> None:
    assert why in why_pip_failed(said)


def test_the_groups_of_the_real_project_are_read(checkout: Path) -> None:
    requirements = group_requirements(checkout / "pyproject.toml", ("test", "check"))
    assert {"pytest", "hypothesis", "ruff", "mypy", "import-linter"} <= {r.split(">")[0] for r in requirements}


def test_only_one_start_at_a_time_holds_the_lock(tmp_path: Path) -> None:
    with sole_user(tmp_path), (tmp_path / "lock").open("a+b") as second:
        assert not lock(second.fileno())
    with (tmp_path / "lock").open("a+b") as third:
        assert lock(third.fileno())


def test_a_start_that_had_to_wait_finds_the_work_done(rehearsal: Rehearsal, monkeypatch: pytest.MonkeyPatch) -> None:
    other = Rehearsal(rehearsal.home, rehearsal.checkout)
    attempts: list[int] = []

    def lock_after_the_other_is_done(descriptor: int) -> bool:
        attempts.append(descriptor)
        if len(attempts) == 1:
            monkeypatch.setattr(private_environment, "lock", lambda _descriptor: True)
            other.prepare(())
            return False
        return True

    monkeypatch.setattr(private_environment, "lock", lock_after_the_other_is_done)
    rehearsal.prepare(())
    assert (other.steps_taken(), rehearsal.steps_taken()) == (["make", "install"], [])
