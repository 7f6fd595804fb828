"""The file of the recipe library: whole, shared by windows, and sound whatever somebody did to it."""

from __future__ import annotations

import json
import threading
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from filelock import FileLock
from hypothesis import given
from hypothesis import strategies as st

from rustboard.board.library_recipe import MOST_RECIPES, LibraryRecipe, LibraryVersion
from rustboard.board.recipe import PERS, STEP_KINDS, UNITS, RecipeStep
from rustboard.store import kept_list
from rustboard.store.recipe_library import Contents, Recipes, change_library, read_library
from rustboard.support.problems import InputError

WHEN = datetime(2026, 3, 2, 9)
WAX = LibraryRecipe(
    "a1",
    "hot wax",
    "wax",
    "brushed",
    "none",
    "beeswax",
    2,
    (LibraryVersion(1, WHEN, (RecipeStep("coat", "beeswax", quantity=4, unit="g", minutes=6),)),),
)
OIL = LibraryRecipe("b2", "oil", versions=(LibraryVersion(1, WHEN, (RecipeStep("wipe", "oil"),)),))


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "config" / "recipes.json"


def written(file: Path, *recipes: LibraryRecipe) -> None:
    change_library(file, lambda _: recipes)


def damaged(file: Path, number: int, **changed: Any) -> bytes:
    """Change values of one recipe in the file; return the bytes of the file."""
    content = json.loads(file.read_bytes())
    content["recipes"][number].update(changed)
    file.write_text(json.dumps(content))
    return file.read_bytes()


def test_a_library_that_is_not_there_yet_is_empty_and_nothing_is_written(file: Path) -> None:
    assert read_library(file) == Contents()
    assert not file.parent.exists()


def test_what_is_kept_comes_back(file: Path) -> None:
    written(file, WAX, replace(OIL, archived=True))
    assert read_library(file) == Contents((WAX, replace(OIL, archived=True)))


amounts = st.none() | st.floats(0, 1e6)
steps = st.builds(
    RecipeStep,
    st.sampled_from(STEP_KINDS),
    product=st.text(st.characters(categories=["L", "Nd"]), max_size=5),
    quantity=amounts,
    unit=st.sampled_from(UNITS),
    per=st.sampled_from(PERS),
    container_price=amounts,
    container_quantity=amounts,
    container_unit=st.sampled_from(UNITS),
    minutes=amounts,
    hands_on=st.booleans(),
    temperature_c=st.none() | st.floats(-100, 1_500),
)


@given(st.lists(steps, max_size=4))
def test_steps_come_back_as_they_were(tmp_path_factory: pytest.TempPathFactory, kept: list[RecipeStep]) -> None:
    file = tmp_path_factory.mktemp("library") / "recipes.json"
    recipe = replace(OIL, versions=(LibraryVersion(1, WHEN, tuple(kept)), LibraryVersion(4, WHEN, ())))
    written(file, recipe)
    assert read_library(file) == Contents((recipe,))


def test_two_windows_do_not_lose_each_others_recipes(file: Path) -> None:
    def keep(number: int) -> None:
        def add(recipes: Recipes) -> Recipes:
            return (*recipes, replace(OIL, id=f"r{number}"))

        change_library(file, add)

    threads = [threading.Thread(target=keep, args=(number,)) for number in range(12)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert sorted(each.id for each in read_library(file).recipes) == sorted(f"r{number}" for number in range(12))


def test_a_window_that_is_busy_for_long_is_told_of(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    written(file, OIL)
    monkeypatch.setattr(kept_list, "_WAIT_SECONDS", 0.05)
    with FileLock(file.with_name(".recipes.json.lock")), pytest.raises(InputError, match="Another window is busy"):
        written(file, WAX)
    assert read_library(file).recipes == (OIL,)


@pytest.mark.parametrize(
    "changed",
    [
        {"id": ""},
        {"id": 7},
        {"name": None},
        {"coats": 101},
        {"coats": "two"},
        {"archived": 1},
        {"versions": []},
        {"versions": "no"},
        {"versions": [{"number": 0, "written": "2026-03-02T09:00", "steps": []}]},
        {"versions": [{"number": 1, "written": "yesterday", "steps": []}]},
        {"versions": [{"number": 1, "written": "2026-03-02T09:00", "steps": [[]]}]},
        {"versions": [{"number": 1, "written": "2026-03-02T09:00", "steps": [["melt", *[""] * 13]]}]},
        {"versions": [{"number": 1, "written": "2026-03-02T09:00", "steps": [{}] * 61}]},
        {"versions": [{"number": 2, "written": "2026-03-02T09:00", "steps": []}] * 2},
        {"id": "b2"},
    ],
)
def test_one_damaged_recipe_is_put_aside_and_the_good_ones_stay(file: Path, changed: dict[str, Any]) -> None:
    written(file, OIL, WAX)
    before = damaged(file, 1, **changed)
    contents = read_library(file)
    assert contents.recipes == (OIL,)
    assert contents.problem == (
        "One recipe of your library recipes.json is damaged; the others are shown. "
        "The file as it was is kept beside it as recipes.damaged-1.json."
    )
    assert file.with_name("recipes.damaged-1.json").read_bytes() == before
    assert read_library(file) == Contents((OIL,))


def test_a_number_out_of_its_range_in_a_step_is_damage(file: Path) -> None:
    written(file, OIL, WAX)
    content = json.loads(file.read_bytes())
    content["recipes"][1]["versions"][0]["steps"][0][3] = 1e300
    file.write_text(json.dumps(content))
    assert read_library(file).recipes == (OIL,)


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"{",
        b"[]",
        b"null",
        b'{"format": 1}',
        b'{"format": "1", "recipes": []}',
        b'{"format": 1, "recipes": {}}',
        b"\xff\xfe",
        b"[" * 5_000,
        b" " * ((16 << 20) + 1),
    ],
    ids=["empty", "torn", "list", "null", "no recipes", "text", "object", "bytes", "deep", "large"],
)
def test_a_file_that_is_no_library_is_put_aside_whole(file: Path, data: bytes) -> None:
    file.parent.mkdir()
    file.write_bytes(data)
    contents = change_library(file, lambda recipes: (*recipes, WAX))
    assert contents.recipes == (WAX,)
    assert "cannot be read" in contents.problem
    assert file.with_name("recipes.damaged-1.json").read_bytes() == data
    assert read_library(file) == Contents((WAX,))


def test_each_damaged_file_gets_a_name_of_its_own(file: Path) -> None:
    for number in range(1, 4):
        file.parent.mkdir(exist_ok=True)
        file.write_bytes(b"torn" * number)
        assert f"recipes.damaged-{number}.json" in read_library(file).problem
    assert file.with_name("recipes.damaged-1.json").read_bytes() == b"torn"


def test_a_newer_programs_library_is_neither_read_nor_written(file: Path) -> None:
    file.parent.mkdir()
    file.write_text('{"format": 2, "recipes": []}')
    for act in (read_library, lambda path: written(path, WAX)):
        with pytest.raises(InputError, match="A newer version of the program wrote the recipe library"):
            act(file)
    assert file.read_text() == '{"format": 2, "recipes": []}'


def test_a_change_that_is_refused_leaves_the_library_alone(file: Path) -> None:
    written(file, OIL)
    before = file.read_bytes()
    with pytest.raises(InputError, match="holds at most 1,000 recipes"):
        written(file, *(replace(OIL, id=f"r{number}") for number in range(MOST_RECIPES + 1)))
    steps = tuple(RecipeStep("other", note="n" * 20_000) for _ in range(60))
    with pytest.raises(InputError, match="The library is full"):
        written(file, *(replace(OIL, id=f"r{n}", versions=(LibraryVersion(1, WHEN, steps),)) for n in range(15)))
    assert file.read_bytes() == before


def test_a_folder_that_cannot_be_written_is_told_in_a_sentence(tmp_path: Path) -> None:
    (tmp_path / "config").write_text("a file where the folder should be")
    with pytest.raises(InputError, match=r"recipes\.json: "):
        written(tmp_path / "config" / "recipes.json", WAX)


def test_damage_on_a_disk_that_refuses_still_shows_the_good_recipes(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    written(file, OIL, WAX)
    before = damaged(file, 1, name=None)

    def read_only(*_: object) -> None:
        raise OSError(30, "Read-only file system")

    monkeypatch.setattr(kept_list, "copy_whole", read_only)
    contents = read_library(file)
    assert contents.recipes == (OIL,)
    assert contents.problem.endswith("This place is read-only; choose another folder.")
    with pytest.raises(InputError, match="read-only"):
        written(file, OIL)
    assert file.read_bytes() == before
