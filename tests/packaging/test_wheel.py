"""The built wheel, installed in an empty environment, is the whole program."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import venv
import zipfile
from pathlib import Path

import pytest
from private_environment import why_pip_failed

import rustboard

PLAN = {
    "board": {"name": "Yard fence", "started": "2026-03-02T09:00"},
    "coupons": [{"id": "C01", "position": "A1"}, {"id": "C02", "position": "B3", "role": "control"}],
}
GRADES = "date,coupon,grade\n2026-03-09,C01,9\n2026-03-09,C02,6\n"


@pytest.fixture(scope="module")
def wheel(checkout: Path, machine_environment: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel of this checkout."""
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(folder), str(checkout)]
    built = subprocess.run(
        command, cwd=folder, env=machine_environment, capture_output=True, text=True, timeout=300, check=False
    )
    assert built.returncode == 0, built.stdout + built.stderr
    (file,) = folder.glob("*.whl")
    return file


@pytest.fixture(scope="module")
def programs(wheel: Path, machine_environment: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of commands of an environment that holds the wheel and what it asks for, nothing else."""
    folder = tmp_path_factory.mktemp("empty") / "environment"
    venv.create(folder, with_pip=True)
    commands = folder / ("Scripts" if os.name == "nt" else "bin")
    outside = {name: value for name, value in machine_environment.items() if name not in {"PYTHONPATH", "PYTHONHOME"}}
    command = [
        str(commands / "python"),
        "-m",
        "pip",
        "install",
        "--no-input",
        "--disable-pip-version-check",
        str(wheel),
    ]
    installed = subprocess.run(
        command, cwd=folder, env=outside, capture_output=True, text=True, timeout=900, check=False
    )
    said = installed.stdout + installed.stderr
    if installed.returncode != 0 and "internet" in why_pip_failed(said) and "CI" not in outside:
        pytest.skip("no internet connection: the packages that the wheel asks for cannot be fetched")
    assert installed.returncode == 0, said
    return commands


@pytest.fixture
def board(programs: Path, tmp_path: Path) -> Path:
    """A graded board made by the installed command."""
    (tmp_path / "plan.json").write_text(json.dumps(PLAN), encoding="utf-8")
    (tmp_path / "grades.csv").write_text(GRADES, encoding="utf-8")
    assert_done(rustboard_command(programs, tmp_path, "new", "fence", "--plan", "plan.json"))
    assert_done(rustboard_command(programs, tmp_path, "add-grades", "fence", "grades.csv"))
    return tmp_path / "fence"


def rustboard_command(programs: Path, folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Run the installed command in a folder far from the checkout."""
    return outside(folder, [str(programs / "rustboard"), *arguments])


def outside(folder: Path, command: list[str]) -> subprocess.CompletedProcess[str]:
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    return subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, timeout=300, check=False
    )


def assert_done(run: subprocess.CompletedProcess[str]) -> None:
    assert run.returncode == 0, run.stdout + run.stderr


def test_the_wheel_holds_program_resources_and_licence_and_no_more(wheel: Path, checkout: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
    shipped = {file for file in (checkout / "resources").rglob("*") if file.is_file()}
    assert {
        f"rustboard/_resources/{file.relative_to(checkout / 'resources').as_posix()}" for file in shipped
    } <= names
    assert any(name.endswith(".dist-info/licenses/LICENSE") for name in names)
    assert {name.split("/")[0].split("-")[0] for name in names} == {"rustboard"}
    assert not [name for name in names if name.endswith((".pyc", ".log")) or "/tests/" in name]


@pytest.mark.network
def test_the_installed_program_says_its_version(programs: Path, tmp_path: Path) -> None:
    said = rustboard_command(programs, tmp_path, "--version")
    assert_done(said)
    assert said.stdout.split()[-1] == rustboard.__version__


@pytest.mark.network
def test_resources_are_found_far_from_the_checkout(programs: Path, checkout: Path, tmp_path: Path) -> None:
    code = (
        "import sys, rustboard\nfrom rustboard.support.resources import resource_bytes, resource_path\n"
        "with resource_path('icon.svg') as path: assert path.read_bytes() == resource_bytes('icon.svg')\n"
        "sys.stdout.write(rustboard.__file__ + '\\n' + resource_bytes('icon.svg').decode())"
    )
    found = outside(tmp_path, [str(programs / "python"), "-c", code])
    assert_done(found)
    package, icon = found.stdout.split("\n", 1)
    assert Path(package).is_relative_to(programs.parent)
    assert icon == (checkout / "resources" / "icon.svg").read_text(encoding="utf-8")


@pytest.mark.network
def test_the_installed_program_keeps_and_tells_grades(programs: Path, board: Path, tmp_path: Path) -> None:
    told = rustboard_command(programs, tmp_path, "grades", str(board), "--json")
    assert_done(told)
    assert [(row["coupon"], row["grade"]) for row in json.loads(told.stdout)] == [("C01", 9), ("C02", 6)]


@pytest.mark.network
def test_the_installed_program_writes_a_workbook(programs: Path, board: Path, tmp_path: Path) -> None:
    assert_done(rustboard_command(programs, tmp_path, "report", str(board), "-o", "fence.xlsx"))
    with zipfile.ZipFile(tmp_path / "fence.xlsx") as workbook:
        assert workbook.testzip() is None
        assert "xl/workbook.xml" in workbook.namelist()


@pytest.mark.network
def test_the_installed_program_writes_the_demo_without_a_window(programs: Path, tmp_path: Path) -> None:
    assert_done(rustboard_command(programs, tmp_path, "demo", "shown", "--no-window"))
    written = list((tmp_path / "shown").rglob("*"))
    assert len([file for file in written if file.name == "board.rustboard"]) == 2
    assert {".xlsx", ".png"} <= {file.suffix for file in written}
