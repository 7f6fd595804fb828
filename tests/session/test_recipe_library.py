"""The user's library of recipes: kept, given versions, archived, and what it means for boards."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from rustboard.board.library_recipe import MOST_VERSIONS, LibraryRecipe, LibraryVersion
from rustboard.board.model import Treatment
from rustboard.board.recipe import Recipe, RecipeStep
from rustboard.session.recipe_library import RecipeLibrary, as_treatment, newer_version
from rustboard.store import recipe_library
from rustboard.store.recipe_library import change_library
from rustboard.support import paths
from rustboard.support.problems import InputError

WHEN = datetime(2026, 3, 2, 9)
WAX = Treatment("T1", "hot wax", "wax", "brushed", "none", "beeswax", 2, key=5)
COAT, DRY = RecipeStep("coat", "beeswax", minutes=6), RecipeStep("dry", minutes=30, hands_on=False)


@pytest.fixture
def library() -> RecipeLibrary:
    return RecipeLibrary(clock=lambda: WHEN)


def test_a_treatment_is_kept_in_its_own_words_beside_the_settings(library: RecipeLibrary) -> None:
    kept = library.keep_new(WAX, (COAT,))
    assert (kept.name, kept.family, kept.preparation, kept.finish, kept.protectant, kept.coats) == (
        "hot wax", "wax", "brushed", "none", "beeswax", 2,
    )  # fmt: skip
    assert kept.versions == (LibraryVersion(1, WHEN, (COAT,)),)
    assert paths.library_file().is_file()
    assert paths.library_file().parent == paths.settings_file().parent
    assert RecipeLibrary().recipes() == [kept]


def test_a_treatment_without_a_name_is_kept_under_its_id(library: RecipeLibrary) -> None:
    assert library.keep_new(Treatment("T9"), (COAT,)).name == "T9"


def test_changed_steps_become_the_next_version_and_the_old_one_stays(library: RecipeLibrary) -> None:
    kept = library.keep_new(WAX, (COAT,))
    changed = library.keep_version(kept.id, (COAT, DRY))
    assert [(each.number, each.steps) for each in changed.versions] == [(1, (COAT,)), (2, (COAT, DRY))]
    assert library.keep_version(kept.id, (COAT, DRY)) == changed  # the same steps again are no new version
    back = library.keep_version(kept.id, (COAT,))
    assert [each.number for each in back.versions] == [1, 2, 3]
    assert library.find(kept.id) == back


def test_nothing_is_deleted_only_put_away(library: RecipeLibrary) -> None:
    kept = library.keep_new(WAX, (COAT,))
    library.archive(kept.id)
    assert library.recipes() == []
    assert [each.archived for each in library.recipes(archived=True)] == [True]
    assert library.find(kept.id) is not None
    library.archive(kept.id, False)
    assert library.recipes() == [kept]


def test_two_windows_keep_both_recipes(library: RecipeLibrary) -> None:
    other = RecipeLibrary(clock=lambda: WHEN)
    library.recipes()
    other.keep_new(replace(WAX, name="oil"), (DRY,))
    library.keep_new(WAX, (COAT,))
    assert [each.name for each in other.recipes()] == ["hot wax", "oil"]


def test_a_board_takes_a_version_and_keeps_it(library: RecipeLibrary) -> None:
    kept = library.keep_new(WAX, (COAT,))
    changed = library.keep_version(kept.id, (COAT, DRY))
    assert changed.recipe() == Recipe((COAT, DRY), kept.id, 2)
    assert changed.recipe(1) == Recipe((COAT,), kept.id, 1)
    assert changed.recipe(3) == Recipe()
    assert as_treatment(changed, "T4") == replace(WAX, id="T4", key=0)


def test_a_newer_version_is_told_of_and_nothing_else(library: RecipeLibrary) -> None:
    kept = library.keep_new(WAX, (COAT,))
    on_board = kept.recipe()
    assert newer_version(on_board, kept) is None
    changed = library.keep_version(kept.id, (COAT, DRY))
    assert newer_version(on_board, changed) == changed.newest
    assert newer_version(Recipe((DRY,), kept.id, 0), changed) == changed.newest  # changed since it was taken
    assert newer_version(Recipe((COAT, DRY), kept.id, 0), changed) is None
    assert newer_version(Recipe((COAT,)), changed) is None
    assert newer_version(on_board, None) is None


def test_what_cannot_be_kept_is_refused_in_a_sentence(
    library: RecipeLibrary, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept = library.keep_new(WAX, (COAT,))
    for act, words in (
        (lambda: library.keep_new(WAX, ()), "There are no steps to keep"),
        (lambda: library.keep_new(Treatment(" "), (COAT,)), "needs a name"),
        (lambda: library.keep_new(replace(WAX, coats=-1), (COAT,)), "number of coats"),
        (lambda: library.keep_new(WAX, (replace(COAT, minutes=-1),)), "Step 1: The minutes"),
        (lambda: library.keep_version("nobody", (COAT,)), "not in your library"),
        (lambda: library.archive("nobody"), "not in your library"),
    ):
        with pytest.raises(InputError, match=words):
            act()
    monkeypatch.setattr(recipe_library, "_LIST", replace(recipe_library._LIST, most=1))
    with pytest.raises(InputError, match="at most 1,000 recipes"):
        library.keep_new(WAX, (COAT,))
    assert library.recipes() == [kept]


def test_versions_are_bounded(library: RecipeLibrary) -> None:
    versions = tuple(LibraryVersion(number, WHEN, (COAT,)) for number in range(1, MOST_VERSIONS + 1))
    full = LibraryRecipe("a1", "wax", versions=versions)
    change_library(paths.library_file(), lambda _: (full,))
    with pytest.raises(InputError, match="at most 200 versions"):
        library.keep_version("a1", (DRY,))
    assert library.find("a1") == full


def test_damage_is_told_once_and_remembered_by_who_asked(library: RecipeLibrary) -> None:
    paths.library_file().parent.mkdir(parents=True)
    paths.library_file().write_text("torn")
    assert library.recipes() == []
    assert "is damaged and cannot be read" in library.problem
    library.recipes()
    assert "is damaged and cannot be read" in library.problem
    assert RecipeLibrary().recipes() == []


def test_texts_of_strangers_are_made_safe(library: RecipeLibrary, tmp_path: Path) -> None:
    kept = library.keep_new(replace(WAX, name="a\x07b", family="\u202ewax"), (replace(COAT, note="x\x00"),))
    assert (kept.name, kept.family, kept.newest.steps[0].note) == ("a\ufffdb", "\ufffdwax", "x\ufffd")
    assert library.recipes() == [kept]
