"""Which steps and words call for which reminder.

What the products are called and what is in them: trade and common names, from memory.
"""

from __future__ import annotations

import pytest

from rustboard.board.model import Treatment
from rustboard.board.recipe import STEP_KINDS, Recipe, RecipeStep
from rustboard.scales.cautions import CUT_EDGES, FOLLOW, recipe_cautions, safety_lines


def step_cautions(step: RecipeStep) -> list[str]:
    return [line for line, _ in recipe_cautions([step])]


def lines(kind: str, product: str = "", **more: object) -> str:
    return "\n".join(step_cautions(RecipeStep(kind, product, **more)))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("number", "step", "words"),
    [
        (1, RecipeStep("wipe", "boiled linseed oil"), "Rags wet with linseed"),
        (2, RecipeStep("degrease", "white spirit"), "Vapour of solvents"),
        (3, RecipeStep("heat"), "lights vapour as an open flame does"),
        (4, RecipeStep("sand", "old paint"), "Old paint may hold lead"),
        (5, RecipeStep("etch", "ferric chloride"), "burn skin and eyes"),
        (6, RecipeStep("convert", "cold blue"), "selenious acid"),
        (7, RecipeStep("blast", "glass beads"), "silica sand scars the lungs"),
        (8, RecipeStep("degrease", "brake cleaner"), "makes phosgene"),
        (9, RecipeStep("degrease", "trichloroethylene"), "banned trichloroethylene (TCE)"),
        (10, RecipeStep("other", "drill the holes"), "edges that cut"),
        (11, RecipeStep("pickle"), "gives off hydrogen"),
    ],
)
def test_each_of_the_eleven_lines_is_called_by_a_step(number: int, step: RecipeStep, words: str) -> None:
    assert any(words in each for each in step_cautions(step))


@pytest.mark.parametrize("kind", STEP_KINDS)
def test_every_line_sends_to_the_data_sheet_and_local_rules(kind: str) -> None:
    step = RecipeStep(kind, "old paint, hot acid, solvent, linseed, TCE, cold blue, sawn")  # type: ignore[arg-type]
    assert len(step_cautions(step)) >= 9
    assert all(each.endswith(f"; {FOLLOW}.") for each in step_cautions(step))


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("blast", "silica"),
        ("etch", "burn skin"),
        ("etch", "hydrogen"),
        ("pickle", "burn skin"),
        ("convert", "burn skin"),
        ("heat", "open flame"),
        ("degrease", "Vapour of solvents"),
        ("brush", "eye protection"),
        ("sand", "edges that cut"),
    ],
)
def test_the_kind_alone_calls_where_nothing_else_is_said(kind: str, words: str) -> None:
    assert words in lines(kind)


@pytest.mark.parametrize("kind", ["rinse", "dry", "soak", "buff", "cure", "wipe", "coat", "other"])
def test_a_step_that_says_nothing_dangerous_gets_no_line(kind: str) -> None:
    assert lines(kind) == ""
    assert lines(kind, "clean water") == ""


def test_degreasing_in_water_is_no_solvent() -> None:
    assert lines("degrease", "warm soap water") == ""
    assert "Vapour of solvents" in lines("degrease", "spirit, then soap water")


SOLVENTS = (
    "isopropyl alcohol", "isopropanol", "IPA", "petrol", "gasoline", "kerosene", "paraffin", "methylated spirit",
    "methylated alcohol", "denatured alcohol", "meths", "ethanol", "methanol", "MEK", "methyl ethyl ketone",
    "benzine", "benzene", "white spirit", "mineral spirits", "turps", "hexane", "ethyl acetate", "naphtha", "diesel",
    "toluene", "cellulose primer", "penetrating oil",
)  # fmt: skip


@pytest.mark.parametrize("product", SOLVENTS)
def test_solvents_are_known_by_name(product: str) -> None:
    assert "Vapour of solvents" in lines("wipe", product)
    assert "Vapour of solvents" in lines("rinse", product.upper(), note="then with water")
    assert "Vapour of solvents" in lines("buff", note=f"on a cloth with {product}")


@pytest.mark.parametrize(
    ("product", "note"),
    [
        ("purple cleaner", "rinse in water"),
        ("purple cleaner", "soap afterwards"),
        ("purple cleaner, no water", ""),
        ("purple cleaner, rinse with water", ""),
        ("purple cleaner rinsed off with soap and water", ""),
        ("purple cleaner then soap", ""),
        ("purple cleaner (no soap)", ""),
        ("cleaner without water", ""),
        ("cleaner without soap", ""),
        ("soap-free cleaner", ""),
        ("water-free cleaner", ""),
        ("waterless cleaner", ""),
        ("", "soap water"),
        ("naphtha, water-free", ""),
        ("polymer in no water", ""),
    ],
)
def test_water_that_is_not_the_product_silences_no_line(product: str, note: str) -> None:
    assert "Vapour of solvents" in lines("degrease", product, note=note)


@pytest.mark.parametrize(
    "product",
    ["hot water", "soap and water", "washing-up liquid", "Alkaline cleaner", "washing soda in water", "lye"],
)
def test_cleaning_in_water_calls_no_line_for_solvents(product: str) -> None:
    assert "Vapour" not in lines("degrease", product, note="rub well")


@pytest.mark.parametrize(
    "product",
    [
        "BLO", "raw flax oil", "flaxseed oil", "linseed", "tung", "safflower oil", "soya oil", "soybean oil",
        "hemp oil", "hempseed oil", "poppy oil", "poppyseed oil", "walnut oil", "spar varnish", "spar urethane",
        "polyurethane", "danish oil", "alkyd enamel",
    ],
)  # fmt: skip
def test_rags_with_drying_oils_call_for_care(product: str) -> None:
    assert "Rags wet with" in lines("coat", product)


@pytest.mark.parametrize("product", ["mineral oil", "beeswax", "olive oil", "gun oil"])
def test_oils_that_do_not_dry_do_not(product: str) -> None:
    assert "Rags wet with" not in lines("coat", product)


ACIDS = (
    "HCl 10%", "hydrochloric", "muriatic", "oxalic", "phosphoric", "phosphating solution", "citric", "vinegar",
    "acetic 5 %", "battery acid", "sulphuric", "sulfuric", "sulfamic", "nitric", "rust remover", "descaler",
)  # fmt: skip


@pytest.mark.parametrize("product", ACIDS)
def test_acids_burn_and_a_soak_in_them_gives_off_hydrogen(product: str) -> None:
    assert "burn skin and eyes" in lines("wipe", product)
    soak = lines("soak", product)
    assert "burn skin and eyes" in soak
    assert "gives off hydrogen" in soak
    assert "never let acid meet bleach" in soak


@pytest.mark.parametrize("product", ["bleach", "household bleach", "sodium hypochlorite"])
def test_bleach_is_kept_from_acid(product: str) -> None:
    assert "Bleach and any acid, vinegar too, give off chlorine" in lines("other", product)
    assert "chlorine" in lines("soak", "vinegar", note=f"never with {product}")


@pytest.mark.parametrize("product", ["trike", "perc", "TCE"])
def test_chlorinated_cleaners_have_short_names(product: str) -> None:
    assert "phosgene" in lines("degrease", product)
    assert "banned trichloroethylene" in lines("degrease", product)


def test_wax_is_no_solvent_and_wood_no_acid() -> None:
    assert "Vapour" not in lines("coat", "paraffin wax")
    assert lines("soak", "placid water") == ""


def test_warm_baths_and_ovens_call_for_care() -> None:
    assert lines("coat", "beeswax", temperature_c=59.0) == ""
    assert "melting wax" in lines("coat", "beeswax", temperature_c=60.0)
    assert "melting wax" in lines("coat", "beeswax", note="melt it in a water bath")


def test_paint_under_a_grinder_may_hold_lead_but_new_paint_does_not_call() -> None:
    assert "lead" in lines("sand", "the primer that was on it")
    assert "lead" not in lines("coat", "alkyd paint")


def test_a_medium_named_in_words_calls_whatever_the_kind() -> None:
    assert "silica" in lines("other", "sandblasting by a neighbour")


def test_the_steps_of_a_recipe_call_together() -> None:
    steps = (RecipeStep("blast"), RecipeStep("dry"), RecipeStep("blast", "garnet"))
    ((line, numbers),) = recipe_cautions(steps)
    assert "silica" in line
    assert numbers == [1, 3]


def test_a_report_takes_steps_and_words_together() -> None:
    plain, blasted = Treatment("T1", "wax", key=1), Treatment("T2", "oil", key=2)
    worded = Treatment("T3", "sand blasted", key=3)
    recipes = {2: Recipe((RecipeStep("blast", "slag"),))}
    assert safety_lines([plain, blasted]) == []
    ((line, called_by),) = safety_lines([plain, blasted, worded], recipes)
    assert "silica" in line
    assert called_by == [blasted, worded]


def test_cut_edges_are_a_matter_of_steps_since_every_report_has_the_line() -> None:
    assert safety_lines([Treatment("T1", "drilled, filed edges")]) != []
    assert CUT_EDGES not in [line for line, _ in safety_lines([Treatment("T1", "drilled, filed edges")])]
    steps = {1: Recipe((RecipeStep("other", "drill"),))}
    assert CUT_EDGES in [line for line, _ in safety_lines([Treatment("T1", key=1)], steps)]
