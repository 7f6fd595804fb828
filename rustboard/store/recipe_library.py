"""The user's recipes in one JSON file beside the settings, shared by all windows.

Written whole under a lock that all windows take in turn, so that none loses what another has just kept. What is
damaged is put aside under a name of its own before anything is written, and the good recipes stay.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from operator import attrgetter
from pathlib import Path
from typing import Any, Final

from rustboard.board.library_recipe import MOST_RECIPES, MOST_VERSIONS, LibraryRecipe, LibraryVersion
from rustboard.board.recipe import LARGEST_VERSION, MOST_STEPS
from rustboard.store import values
from rustboard.store.kept_list import KeptList, Sentences
from rustboard.store.plan_tables import step_from_list, step_to_list

FORMAT: Final = 1
MOST_BYTES: Final = 16 << 20

Recipes = tuple[LibraryRecipe, ...]


@dataclass(frozen=True, slots=True)
class Contents:
    """What the library holds.

    Attributes:
        recipes: those that can be read.
        problem: a sentence about what cannot, or an empty text.
    """

    recipes: Recipes = ()
    problem: str = ""


def read_library(path: Path) -> Contents:
    """Return what the library holds; what is damaged is put aside on the way.

    Raises:
        InputError: the file cannot be read just now, or a newer version of the program wrote it.
    """
    return Contents(*_LIST.read(path))


def change_library(path: Path, change: Callable[[Recipes], Recipes]) -> Contents:
    """Read the library, let ``change`` say what it holds from now on, and write that; see `KeptList.change`.

    Raises:
        InputError: ``change`` or the disk refused; the library is as it was.
    """
    return Contents(*_LIST.change(path, change))


def _recipe_from(kept: Any) -> LibraryRecipe:
    versions = kept["versions"]
    if not isinstance(versions, list) or not 1 <= len(versions) <= MOST_VERSIONS:
        raise ValueError("a recipe has no versions, or too many")
    read = tuple(map(_version_from, versions))
    numbers = [each.number for each in read]
    if numbers != sorted(set(numbers)):
        raise ValueError("the versions of a recipe do not rise")
    coats = kept["coats"]
    return LibraryRecipe(
        id=values.needed(kept["id"]),
        name=values.line(kept["name"]),
        family=values.line(kept["family"]),
        preparation=values.line(kept["preparation"]),
        finish=values.line(kept["finish"]),
        protectant=values.line(kept["protectant"]),
        coats=None if coats is None else values.whole(coats, 0, 100),
        versions=read,
        archived=values.one_of(kept["archived"], (False, True)),
    )


def _version_from(kept: Any) -> LibraryVersion:
    steps = kept["steps"]
    if not isinstance(steps, list) or len(steps) > MOST_STEPS:
        raise ValueError("the steps of a version are damaged")
    return LibraryVersion(
        number=values.whole(kept["number"], 1, LARGEST_VERSION),
        written=values.moment(kept["written"]),
        steps=tuple(map(step_from_list, steps)),
    )


def _recipe_to(recipe: LibraryRecipe) -> dict[str, Any]:
    return {
        "id": recipe.id,
        "name": recipe.name,
        "family": recipe.family,
        "preparation": recipe.preparation,
        "finish": recipe.finish,
        "protectant": recipe.protectant,
        "coats": recipe.coats,
        "archived": recipe.archived,
        "versions": [
            {"number": each.number, "written": each.written.isoformat(), "steps": list(map(step_to_list, each.steps))}
            for each in recipe.versions
        ],
    }


def _told(damaged: int | None, name: str) -> str:
    if damaged is None:
        return f"Your recipe library {name} is damaged and cannot be read."
    if damaged == 1:
        return f"One recipe of your library {name} is damaged; the others are shown."
    return f"{damaged} recipes of your library {name} are damaged; the others are shown."


_LIST: Final = KeptList(
    "recipe library",
    "recipes",
    FORMAT,
    MOST_RECIPES,
    MOST_BYTES,
    _recipe_from,
    _recipe_to,
    attrgetter("id"),
    Sentences(
        "A newer version of the program wrote the recipe library; use that one, or move the file away.",
        f"The library holds at most {MOST_RECIPES:,} recipes.",
        "The library is full; shorten the notes of the recipe, or start a library of its own.",
        _told,
    ),
)
