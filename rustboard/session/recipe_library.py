"""The user's library of recipes, for all boards: what a window asks of it.

Recipes get new versions and are archived; nothing in the library is ever changed or deleted. A board keeps its own
copy of the steps, with the number of the version they are; a newer version in the library is told, never applied.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Final

from rustboard.board.library_recipe import MOST_VERSIONS, LibraryRecipe, LibraryVersion
from rustboard.board.model import Treatment
from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.operations.recipes import checked_steps
from rustboard.operations.treatments import check_treatment_number
from rustboard.store.recipe_library import Contents, Recipes, change_library, read_library
from rustboard.support import paths
from rustboard.support.clock import Clock, wall_clock
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

_ID_BYTES: Final = 8


class RecipeLibrary:
    """The library as it is on the disk; every question reads it again, because another window may have changed it.

    Attributes:
        problem: a sentence about what could not be read, since it was last asked; or an empty text.
    """

    def __init__(self, path: Path | None = None, clock: Clock = wall_clock) -> None:
        """Use the file at ``path``, or the user's own."""
        self._path = path or paths.library_file()
        self._clock = clock
        self.problem = ""

    def recipes(self, *, archived: bool = False) -> list[LibraryRecipe]:
        """Return the recipes by name; those archived too when ``archived``.

        Raises:
            InputError: the library cannot be read.
        """
        found = self._heard(read_library(self._path)).recipes
        return sorted((each for each in found if archived or not each.archived), key=_by_name)

    def find(self, library_id: str) -> LibraryRecipe | None:
        """Return a recipe, archived or not, or None when it is not (or no longer) in this library.

        Raises:
            InputError: the library cannot be read.
        """
        if not library_id:
            return None
        found = self._heard(read_library(self._path)).recipes
        return next((each for each in found if each.id == library_id), None)

    def keep_new(self, treatment: Treatment, steps: tuple[RecipeStep, ...]) -> LibraryRecipe:
        """Keep steps as a recipe of its own, version 1, under the name and in the words of a treatment.

        Raises:
            InputError: there are no steps or no name, a number cannot be, the library is full, or the disk refused.
        """
        clean = _kept_steps(steps)
        name = one_line(treatment.title)
        if not name:
            raise InputError("A recipe of the library needs a name; give the treatment one.")
        check_treatment_number("coats", treatment.coats)
        recipe = LibraryRecipe(
            id=secrets.token_hex(_ID_BYTES),
            name=name,
            family=one_line(treatment.family),
            preparation=one_line(treatment.preparation),
            finish=one_line(treatment.finish),
            protectant=one_line(treatment.protectant),
            coats=treatment.coats,
            versions=(LibraryVersion(1, self._clock(), clean),),
        )

        def add(recipes: Recipes) -> Recipes:
            return (*recipes, recipe)

        self._heard(change_library(self._path, add))
        return recipe

    def keep_version(self, library_id: str, steps: tuple[RecipeStep, ...]) -> LibraryRecipe:
        """Keep steps as the next version of a recipe; those before stay. The same steps again add nothing.

        Raises:
            InputError: as `keep_new`, or the recipe is not in the library.
        """
        clean = _kept_steps(steps)

        def add(recipe: LibraryRecipe) -> LibraryRecipe:
            if recipe.newest.steps == clean:
                return recipe
            if len(recipe.versions) >= MOST_VERSIONS:
                raise InputError(f"A recipe keeps at most {MOST_VERSIONS} versions; keep these steps as a new one.")
            version = LibraryVersion(recipe.newest.number + 1, self._clock(), clean)
            return replace(recipe, versions=(*recipe.versions, version), archived=False)

        return self._change_one(library_id, add)

    def archive(self, library_id: str, archived: bool = True) -> LibraryRecipe:
        """Put a recipe out of the way, or bring it back.

        Raises:
            InputError: the recipe is not in the library, or the disk refused.
        """
        return self._change_one(library_id, lambda recipe: replace(recipe, archived=archived))

    def _change_one(self, library_id: str, change: Callable[[LibraryRecipe], LibraryRecipe]) -> LibraryRecipe:
        changed: list[LibraryRecipe] = []

        def apply(recipes: Recipes) -> Recipes:
            changed.extend(change(each) for each in recipes if each.id == library_id)
            if not changed:
                raise InputError("This recipe is not in your library; keep it as a new one.")
            return tuple(changed[0] if each.id == library_id else each for each in recipes)

        self._heard(change_library(self._path, apply))
        return changed[0]

    def _heard(self, contents: Contents) -> Contents:
        self.problem = contents.problem or self.problem
        return contents


def as_treatment(recipe: LibraryRecipe, treatment_id: str) -> Treatment:
    """Return a recipe of the library as a treatment for a board; its steps go with it as a `Recipe`."""
    return Treatment(
        id=treatment_id,
        name=recipe.name,
        family=recipe.family,
        preparation=recipe.preparation,
        finish=recipe.finish,
        protectant=recipe.protectant,
        coats=recipe.coats,
    )


def newer_version(recipe: Recipe, kept: LibraryRecipe | None) -> LibraryVersion | None:
    """Return the library's newest version when a board's recipe was taken from an older one, else None.

    Steps changed since they were taken are of no version any more; any version with other steps is offered then.
    """
    if kept is None or kept.id != recipe.library_id or kept.newest.steps == recipe.steps:
        return None
    return kept.newest if kept.newest.number > recipe.version else None


def _kept_steps(steps: tuple[RecipeStep, ...]) -> tuple[RecipeStep, ...]:
    if not steps:
        raise InputError("There are no steps to keep; add some first.")
    return checked_steps(steps)


def _by_name(recipe: LibraryRecipe) -> tuple[str, str]:
    return recipe.name.casefold(), recipe.id
