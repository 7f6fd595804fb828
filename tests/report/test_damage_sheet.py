"""The sheet of damage: there only when any was noted, rated by its standard, and whole whatever was written."""

from __future__ import annotations

import pytest
from report_boards import HOSTILE, BoardBuilder, small_board
from workbook_reading import SHEETS, opened, rows, texts

from rustboard.board.damage import Damage
from rustboard.board.record import BoardRecord
from rustboard.report.tidy import cell_text

RECORDED = "2026-03-09T10:00:00"


def with_damage(record: BoardRecord, *damages: Damage) -> BoardRecord:
    record.damages.update({each.key: each for each in damages})
    return record


def built() -> BoardBuilder:
    """Two coupons, the second without a treatment, and two inspections."""
    builder = BoardBuilder()
    builder.treatment("T1", name="hot wax")
    builder.coupon("C1", "A1", 1)
    builder.coupon("C2", "A2")
    for day in (7, 14):
        builder.inspection(day)
    return builder


def test_a_board_without_damage_has_no_such_sheet() -> None:
    assert "Damage" not in opened(small_board()).sheetnames


def test_damage_stands_before_the_method_and_grades_stay_as_they_are() -> None:
    plain = opened(small_board())
    noted = opened(with_damage(small_board(), Damage(1, 1, 1, "stain", 90.0, "x", None, (), "Ann", "", RECORDED)))
    assert noted.sheetnames[noted.sheetnames.index("Method and cautions") - 1] == "Damage"
    assert [each for each in noted.sheetnames if each != "Damage"] == list(SHEETS)
    for title in ("Grades", "By inspection", "Chart data"):
        assert rows(noted[title]) == rows(plain[title])


def test_each_kind_is_a_row_with_the_rating_of_its_own_scale() -> None:
    builder = built()
    # Ratings and notation: ASTM D1654 and ISO 10289 as public copies give them; mean creep (2.5 - 0.5) / 2 by hand.
    record = with_damage(
        builder.record,
        Damage(4, 2, 2, "edge rust", 30.0, "", None, (), "Ben", "", RECORDED),
        Damage(3, 1, 2, "creep", None, "", 0.5, (2.1, 3.0, 2.4), "Ben", "left arm", RECORDED),
        Damage(2, 1, 1, "peeling", 0.05, "", None, (), "Ann", "", RECORDED),
        Damage(1, 1, 1, "blisters", 15.0, "m", None, (), "Ann", "two fields\nbelow", RECORDED),
    )
    head, *body = rows(opened(record)["Damage"])
    first, second = (each.at for each in record.inspections_in_order())
    assert head == (
        "Inspection",
        "Coupon",
        "Treatment",
        "Kind",
        "Percent",
        "Severity",
        "Mean creep mm",
        "Rating",
        "Scale",
        "As the scale writes it",
        "Grader",
        "Note",
    )
    said = "two fields\nbelow"
    assert body == [
        (first, "C1", "T1", "blisters", 15, "moderate", None, 2, "ISO 10289", "-/2mG", "Ann", said),
        (first, "C1", "T1", "peeling", 0.05, None, None, 9, "ISO 10289", None, "Ann", None),
        (second, "C1", "T1", "creep from a scribe", None, None, 1, 8, "ASTM D1654", None, "Ben", "left arm"),
        (second, "C2", None, "edge rust", 30, None, None, None, None, None, "Ben", None),
    ]


def test_widths_that_cannot_be_leave_the_row_without_a_rating() -> None:
    torn = Damage(1, 1, 1, "creep", None, "", 5.0, (2.1,), "Ann", "", RECORDED)
    _, row = rows(opened(with_damage(built().record, torn))["Damage"])
    assert row[3:10] == ("creep from a scribe", *[None] * 6)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_any_text_is_kept_as_text(text: str) -> None:
    noted = Damage(1, 1, 1, "stain", 5.0, "", None, (), text, text, RECORDED)
    sheet = opened(with_damage(built().record, noted))["Damage"]
    assert texts(sheet)[-1] == (cell_text(text) or "stain from a neighbour")
    assert {cell.data_type for cell in sheet[2] if isinstance(cell.value, str)} == {"s"}


def test_the_method_says_that_damage_never_changes_a_grade() -> None:
    said = " ".join(texts(opened(small_board())["Method and cautions"]))
    assert "never change a grade" in said
