"""Recipes kept across boards, each with every version it ever had."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Final

from rustboard.board.recipe import Recipe, RecipeStep

MOST_RECIPES: Final = 1_000
MOST_VERSIONS: Final = 200


@dataclass(frozen=True, slots=True)
class LibraryVersion:
    """One state of a recipe of the library; it never changes once it is written.

    Attributes:
        number: from 1.
        written: when.
    """

    number: int
    written: datetime
    steps: tuple[RecipeStep, ...]


@dataclass(frozen=True, slots=True)
class LibraryRecipe:
    """One recipe of the user's library.

    Attributes:
        id: what boards remember it by; never shown.
        name, family, preparation, finish, protectant, coats: as in a treatment.
        versions: oldest first; at least one.
        archived: kept out of the way, for good or until it is wanted again; nothing is ever deleted.
    """

    id: str
    name: str
    family: str = ""
    preparation: str = ""
    finish: str = ""
    protectant: str = ""
    coats: int | None = None
    versions: tuple[LibraryVersion, ...] = ()
    archived: bool = False

    @property
    def newest(self) -> LibraryVersion:
        """The version that was written last."""
        return self.versions[-1]

    def version(self, number: int) -> LibraryVersion | None:
        """Return a version by its number, or None."""
        return next((each for each in self.versions if each.number == number), None)

    def recipe(self, number: int | None = None) -> Recipe:
        """Return the steps of a version, or of the newest, as a board keeps them."""
        found = self.newest if number is None else self.version(number)
        return Recipe() if found is None else Recipe(found.steps, self.id, found.number)
