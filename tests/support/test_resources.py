"""Resources are found in the checkout and in a package, and nowhere else."""

from __future__ import annotations

import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rustboard.support import resources
from rustboard.support.resources import resource_bytes, resource_path

CLIMBING_NAMES = ["", ".", "..", "../pyproject.toml", "examples/../../LICENSE", "/etc/passwd", "examples//plan.csv"]
FOREIGN_NAMES = ["C:icon.svg", "C:\\icon.svg", "..\\pyproject.toml", "icon.svg\0", "icon.svg/", "a\nb"]


def test_the_icon_of_the_checkout_is_a_picture_in_svg() -> None:
    assert ElementTree.fromstring(resource_bytes("icon.svg")).tag == "{http://www.w3.org/2000/svg}svg"


def test_the_desktop_entry_starts_the_command_that_the_package_installs(checkout: Path) -> None:
    entry = dict(
        line.split("=", 1) for line in resource_bytes("rustboard.desktop").decode().splitlines() if "=" in line
    )
    command = entry["Exec"].split()[0]
    assert f'\n{command} = "rustboard.app.main:run"\n' in (checkout / "pyproject.toml").read_text()


def test_a_path_to_a_resource_holds_the_same_bytes() -> None:
    with resource_path("icon.svg") as path:
        assert path.read_bytes() == resource_bytes("icon.svg")


@pytest.mark.parametrize("name", CLIMBING_NAMES + FOREIGN_NAMES)
def test_a_name_that_leaves_the_folder_is_refused(name: str) -> None:
    with pytest.raises(ValueError, match="not a name of a resource"):
        resource_bytes(name)
    with pytest.raises(ValueError, match="not a name of a resource"), resource_path(name):
        pass


def test_a_missing_resource_and_a_folder_are_not_found() -> None:
    for name in ("no such file.svg", "examples"):
        with pytest.raises(FileNotFoundError, match=name):
            resource_bytes(name)


@given(st.text(alphabet="./\\:ab\0 é", max_size=12))
def test_whatever_the_name_nothing_outside_of_the_folder_is_looked_at(name: str) -> None:
    try:
        resource_bytes(name)
    except FileNotFoundError:
        assert (Path("/home") / name).is_relative_to("/home")
        assert ".." not in name.split("/")
    except ValueError:
        assert name == "" or set(name.split("/")) & {"", ".", ".."} or set(name) & set("\\:\0")
    else:
        pytest.fail(f"{name!r} was found")


def test_in_a_wheel_the_packaged_folder_is_used_and_the_one_beside_it_is_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "rustboard"
    for folder, text in ((package / "_resources", b"ours"), (tmp_path / "resources", b"somebody else's")):
        folder.mkdir(parents=True)
        (folder / "icon.svg").write_bytes(text)
    (tmp_path / "resources" / "theirs.svg").write_bytes(b"")
    monkeypatch.setattr(resources, "files", lambda _name: package)
    assert resource_bytes("icon.svg") == b"ours"
    with pytest.raises(FileNotFoundError):
        resource_bytes("theirs.svg")
