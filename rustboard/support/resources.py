"""Files that ship with the program: icon, sample plans.

They lie in ``resources/`` of a checkout and in ``rustboard/_resources`` of an installed wheel; a name such as
``icon.svg`` or ``examples/plan.csv`` finds them in both.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path

_PACKAGE = "rustboard"
_IN_WHEEL = "_resources"
_IN_CHECKOUT = "resources"


def resource_bytes(name: str) -> bytes:
    """Return the content of a resource.

    Args:
        name: path below the resources' folder, with ``/`` between its parts.

    Raises:
        ValueError: the name is not a plain path downward.
        FileNotFoundError: there is no such resource.
    """
    return _found(name).read_bytes()


@contextmanager
def resource_path(name: str) -> Iterator[Path]:
    """Give a path to a resource for as long as the ``with`` block runs; raises like `resource_bytes`.

    The file may be a temporary copy, so the path must not be kept.
    """
    with as_file(_found(name)) as path:
        yield path


def _found(name: str) -> Traversable:
    parts = _downward_parts(name)
    for folder in _folders():
        resource = folder.joinpath(*parts)
        if resource.is_file():
            return resource
    raise FileNotFoundError(f"no resource named {name!r}")


def _folders() -> Iterator[Traversable]:
    package = files(_PACKAGE)
    shipped = package / _IN_WHEEL
    if shipped.is_dir():  # then a folder beside an installed package is somebody else's
        yield shipped
    elif isinstance(package, Path):
        yield package.parent / _IN_CHECKOUT


def _downward_parts(name: str) -> list[str]:
    parts = name.split("/")
    if any(part in {"", ".", ".."} or not part.isprintable() or set(part) & set("\\:") for part in parts):
        raise ValueError(f"{name!r} is not a name of a resource")
    return parts
