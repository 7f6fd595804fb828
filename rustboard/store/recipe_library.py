"""The user's recipes in one JSON file beside the settings, shared by all windows.

Written whole under a lock that all windows take in turn, so that none loses what another has just kept. What is
damaged is put aside under a name of its own before anything is written, and the good recipes stay.
"""

from __future__ import annotations

import json
import logging
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from rustboard.board.library_recipe import MOST_RECIPES, MOST_VERSIONS, LibraryRecipe, LibraryVersion
from rustboard.board.recipe import LARGEST_VERSION, MOST_STEPS
from rustboard.store import values
from rustboard.store.plan_tables import step_from_list, step_to_list
from rustboard.store.shared_file import name_aside, taking_turns
from rustboard.support.files import copy_whole, disk_problem, read_bounded, shown_name, write_whole
from rustboard.support.problems import InputError

_LOG = logging.getLogger(__name__)
FORMAT: Final = 1
MOST_BYTES: Final = 16 << 20
_WAIT_SECONDS: Final = 5.0
_DAMAGED = (ValueError, TypeError, KeyError, OverflowError, RecursionError)

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
    recipes, damaged = _read(path)
    if damaged == 0:
        return Contents(recipes)
    try:
        with taking_turns(path, "recipe library", _WAIT_SECONDS):
            return _mended(path)
    except InputError as error:
        _LOG.info("the damaged recipe library cannot be put aside: %s", error)
        return Contents(recipes, f"{_told(damaged, path)} It could not be put aside: {error}")


def change_library(path: Path, change: Callable[[Recipes], Recipes]) -> Contents:
    """Read the library, let ``change`` say what it holds from now on, and write that.

    Args:
        path: the file; it need not be there yet.
        change: called with what the library holds at this moment, whoever wrote it; it may refuse with InputError.

    Raises:
        InputError: ``change`` or the disk refused; the library is as it was.
    """
    with taking_turns(path, "recipe library", _WAIT_SECONDS):
        contents = _mended(path)
        recipes = change(contents.recipes)
        if recipes != contents.recipes:
            _write(path, recipes)
        return Contents(recipes, contents.problem)


# ---- reading


def _read(path: Path) -> tuple[Recipes, int | None]:
    """Return the good recipes and how many are damaged: 0 = none, None = the file is none of ours at all."""
    try:
        data = _bytes(path)
        if data is None:
            return (), 0
        content = json.loads(data)
        number, kept = content["format"], content["recipes"]
        if isinstance(number, int) and not isinstance(number, bool) and number > FORMAT:
            raise InputError(
                "A newer version of the program wrote the recipe library; use that one, or move the file away.",
                file=shown_name(path),
            )
        if number != FORMAT or not isinstance(kept, list) or len(kept) > MOST_RECIPES:
            return (), None
    except _DAMAGED:
        return (), None
    recipes: dict[str, LibraryRecipe] = {}
    damaged = 0
    for each in kept:
        try:
            recipe = _recipe_from(each)
            if recipe.id in recipes:
                raise ValueError("two recipes have one id")
            recipes[recipe.id] = recipe
        except _DAMAGED as error:
            _LOG.info("a recipe of the library is damaged: %s", error)
            damaged += 1
    return tuple(recipes.values()), damaged


def _bytes(path: Path) -> bytes | None:
    """Return what is in the file; None when there is no file yet."""
    try:
        return read_bounded(path, MOST_BYTES)
    except InputError as error:
        if isinstance(error.__cause__, FileNotFoundError):
            return None
        if error.__cause__ is None:  # too large: nothing that this program writes
            raise ValueError("the library is too large") from None
        raise


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


# ---- writing


def _mended(path: Path) -> Contents:
    """Read under the lock; put aside what is damaged, so that the file holds only what can be read."""
    recipes, damaged = _read(path)
    if damaged == 0:
        return Contents(recipes)
    try:
        aside = name_aside(path)
        copy_whole(path, aside)
    except OSError as error:
        raise disk_problem(error, path) from error
    _write(path, recipes)
    return Contents(recipes, f"{_told(damaged, path)} The file as it was is kept beside it as {shown_name(aside)}.")


def _told(damaged: int | None, path: Path) -> str:
    name = shown_name(path)
    if damaged is None:
        return f"Your recipe library {name} is damaged and cannot be read."
    if damaged == 1:
        return f"One recipe of your library {name} is damaged; the others are shown."
    return f"{damaged} recipes of your library {name} are damaged; the others are shown."


def _write(path: Path, recipes: Recipes) -> None:
    if len(recipes) > MOST_RECIPES:
        raise InputError(f"The library holds at most {MOST_RECIPES:,} recipes.")
    content = {"format": FORMAT, "recipes": [_recipe_to(each) for each in recipes]}
    data = json.dumps(content, indent=1, allow_nan=False).encode("ascii")
    if len(data) > MOST_BYTES:
        raise InputError("The library is full; shorten the notes of the recipe, or start a library of its own.")
    write_whole(path, data)


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
