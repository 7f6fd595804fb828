"""The sheet of recipes: what it holds, when it is there, and the care that steps call for."""

from __future__ import annotations

import io
from dataclasses import replace
from zipfile import ZipFile

import pytest
from openpyxl import load_workbook
from report_boards import HOSTILE, MADE, BoardBuilder, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.tidy import cell_text
from rustboard.report.workbook import workbook_bytes
from rustboard.scales.cautions import CUT_EDGES, FOLLOW

WAX = RecipeStep(
    "coat",
    "beeswax",
    "pot 3",
    4,
    "g",
    "coupon",
    18,
    0.5,
    "kg",
    minutes=6,
    temperature_c=120,
    who="Ann",
    note="two thin coats",
)
DRY = RecipeStep("dry", minutes=30, hands_on=False)


def with_recipe(record: BoardRecord, *steps: RecipeStep, library_id: str = "", version: int = 0) -> BoardRecord:
    record.recipes[1] = TreatmentRecipe(1, Recipe(steps, library_id, version), key=1)
    return record


def test_a_board_without_recipes_has_no_such_sheet() -> None:
    assert "Recipes" not in opened(small_board()).sheetnames
    assert "Recipes" not in opened(with_recipe(small_board(), library_id="a1")).sheetnames


def test_recipes_stand_behind_the_treatments() -> None:
    names = opened(with_recipe(small_board(), WAX)).sheetnames
    assert names[names.index("Treatments") + 1] == "Recipes"
    assert [each for each in names if each != "Recipes"] == list(SHEETS)


def test_each_step_is_a_row_with_what_it_costs_on_both_faces() -> None:
    builder = BoardBuilder()
    builder.treatment("T1", name="hot wax")
    builder.coupon("C1", "A1", 1, outline_mm=((0, 0), (100, 0), (100, 150), (0, 150)))
    record = with_recipe(builder.record, WAX, DRY, library_id="a1", version=2)
    head, first, second = rows(opened(record)["Recipes"])
    # 18 * 4 / 500 = 0.144 a coupon; both faces are 0.03 m2, so 4.80 a m2.
    wanted = {
        "Treatment": "T1",
        "Name": "hot wax",
        "Step": 1,
        "What": "coat",
        "Product": "beeswax",
        "Batch": "pot 3",
        "Quantity": 4,
        "Unit": "g for a coupon",
        "Minutes": 6,
        "Work or waiting": "work",
        "Temperature °C": 120,
        "Who": "Ann",
        "Cost per coupon": pytest.approx(0.144),
        "Cost per m²": pytest.approx(4.8),
        "Cost not known because": None,
        "Library version": 2,
        "Note": "two thin coats",
    }
    assert dict(zip(head, first, strict=True)) == wanted
    said = dict(zip(head, second, strict=True))
    assert (said["Step"], said["What"], said["Work or waiting"], said["Cost per m²"]) == (2, "dry", "waiting", None)
    assert said["Cost not known because"] == "no product and no amount is given"


def test_steps_changed_since_they_were_taken_are_not_called_a_version() -> None:
    (_, row) = rows(opened(with_recipe(small_board(), WAX, library_id="a1"))["Recipes"])
    assert "changed since" in row
    (_, row) = rows(opened(with_recipe(small_board(), WAX))["Recipes"])
    assert "changed since" not in row


@pytest.mark.parametrize("text", HOSTILE)
def test_text_typed_stays_text(text: str) -> None:
    step = replace(WAX, product=text, batch=text, who=text, note=text)
    record = with_recipe(small_board(), step)
    sheet = opened(record)["Recipes"]
    cells = [cell for cell in sheet[2] if cell.value == cell_text(text)]
    assert {cell.data_type for cell in cells} <= {"s", "inlineStr"}
    assert len(cells) == 4
    data = workbook_bytes(ReportContent(record, MADE))
    summary = load_workbook(io.BytesIO(data)).sheetnames.index("Summary") + 1
    with ZipFile(io.BytesIO(data)) as package:
        assert not any(
            b"<f>" in package.read(name)
            for name in package.namelist()
            if "worksheets" in name and name != f"xl/worksheets/sheet{summary}.xml"
        )


def test_the_care_that_steps_call_for_is_in_the_report() -> None:
    record = with_recipe(small_board(), RecipeStep("blast", "slag"), RecipeStep("other", "drill"))
    said = texts(opened(record)["Method and cautions"])
    title = record.treatments[1].id
    assert any(each.startswith(title) and "silica" in each and each.endswith(f"{FOLLOW}.") for each in said)
    assert [each for each in said if "edges that cut" in each] == [CUT_EDGES]
