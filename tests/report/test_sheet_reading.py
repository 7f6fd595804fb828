"""Plans in workbooks: what is read, and what strangers' files get instead: one sentence."""

from __future__ import annotations

import io
import random
import time as clock
import zipfile
from datetime import date, datetime, time

import pytest
from workbooks import CONTENT_TYPES, HEADER, MAIN, PARTS, bare_workbook, packed, text_row, workbook

from rustboard.board.plan_csv import PLAN_LAYOUT, read_plan_table
from rustboard.board.problem_list import ProblemList
from rustboard.report.sheet_reading import MOST_CELLS, read_sheet
from rustboard.support.problems import InputError

GOOD = [("Coupon", "Position", "Treatment", "coats"), ("C1", "A1", "wax", 2), ("C2", "B3", "oil", 1.5)]


def read(data):
    problems = ProblemList("p.xlsx")
    plan, listed = read_plan_table(read_sheet(data, PLAN_LAYOUT, problems), problems)
    return plan, [problem.sentence() for problem in listed]


def rows_of(data):
    problems = ProblemList("p.xlsx")
    table = read_sheet(data, PLAN_LAYOUT, problems)
    return list(table.filled(problems))


def refusal_of(data):
    with pytest.raises(InputError) as caught:
        read(data)
    return caught.value.problem.sentence()


def test_a_plan_is_read_from_a_sheet_by_its_columns():
    plan, problems = read(workbook(GOOD))
    assert [(each.id, each.position.label, each.treatment) for each in plan.coupons] == [
        ("C1", "A1", "wax"), ("C2", "B3", "oil"),
    ]  # fmt: skip
    assert plan.treatments[0].coats == 2
    assert (plan.board.name, plan.board.rows, plan.board.columns) == ("p", 2, 3)
    assert problems == ["p.xlsx, row 3, column coats: “1.5” is not a whole number; write digits only, such as 2."]


def test_numbers_and_dates_are_texts_as_a_person_writes_them():
    cells = [2, 2.0, 3.1, 0.1 + 0.2, -0.5, 1e20, True, date(2026, 3, 2), datetime(2026, 3, 2, 9, 30), time(9, 5),
             None, " x "]  # fmt: skip
    header = ["coupon", "position", *(f"c{number}" for number in range(len(cells)))]
    ((_, texts),) = rows_of(workbook([header, ["C1", "A1", *cells]]))
    assert texts[2:] == ["2", "2", "3.1", "0.3", "-0.5", "1e+20", "true", "2026-03-02",
                         "2026-03-02 09:30", "09:05", "", " x "]  # fmt: skip


def test_the_first_sheet_with_the_columns_is_taken():
    plan, _ = read(workbook([("Prices", 1)], [], GOOD, [("coupon", "position"), ("X", "A1")]))
    assert [each.id for each in plan.coupons] == ["C1", "C2"]


def test_without_such_a_sheet_the_first_filled_one_is_named_by_what_it_holds():
    assert refusal_of(workbook([], [("piece", "Position")])) == (
        "p.xlsx, row 1: The column “coupon” is missing; name it in the first row, which holds: piece, Position."
    )


def test_rows_keep_the_numbers_that_the_spreadsheet_shows():
    rows = [(), ("coupon", "position"), (), ("C1", "A1"), (None, "  "), ("C2", "A1")]
    _, problems = read(workbook(rows))
    assert problems == [
        "p.xlsx, row 6, column position: Position A1 is taken by coupon “C1” in row 4; give coupon “C2” another one."
    ]


def test_a_row_wider_than_the_header_is_left_out_and_named():
    plan, problems = read(workbook([("coupon", "position"), ("C1", "A1", "x"), ("C2", "A2")]))
    assert [each.id for each in plan.coupons] == ["C2"]
    assert problems == [
        "p.xlsx, row 2: This row has 3 cells and the header names 2; name their columns in the header, or empty the "
        "cells that are too many."
    ]


def test_an_error_in_a_cell_is_named_and_its_row_left_out():
    row = '<row r="2"><c r="A2" t="inlineStr"><is><t>C1</t></is></c><c r="B2" t="e"><v>#N/A</v></c></row>'
    plan, problems = read(bare_workbook(HEADER + row + text_row(3, "C2", "A2")))
    assert [each.id for each in plan.coupons] == ["C2"]
    assert problems == [
        "p.xlsx, row 2, column position: The cell shows the error #N/A and no value; mend its formula."
    ]


def test_a_formula_is_read_by_its_result_and_named_where_it_has_none():
    rows = (
        '<row r="2"><c r="A2" t="inlineStr"><is><t>C1</t></is></c>'
        '<c r="B2" t="str"><f>"A"&amp;1</f><v>A1</v></c></row>'
        '<row r="3"><c r="A3" t="inlineStr"><is><t>C2</t></is></c><c r="B3"><f>"A"&amp;2</f></c></row>'
        '<row r="4"><c r="A4"><f>"C3"</f></c></row>'
    )
    plan, problems = read(bare_workbook(HEADER + rows))
    assert [(each.id, each.position.label) for each in plan.coupons] == [("C1", "A1")]
    what = "The file has no result for this cell's formula; save it once in a spreadsheet program."
    assert problems == [f"p.xlsx, row 3, column position: {what}", f"p.xlsx, row 4, column coupon: {what}"]


def test_a_formula_is_never_kept_as_one_in_disguise():
    plan, _ = read(workbook([("coupon", "position", "note"), ("C1", "A1", "'=1+1")]))
    assert plan.coupons[0].note == "=1+1"


NO_WORKBOOK = "p.xlsx: This is not an .xlsx workbook, or a damaged one; save it anew as .xlsx."


@pytest.mark.parametrize(("data", "sentence"), [
    (b"", NO_WORKBOOK),
    (b"coupon,position\nC1,A1\n", NO_WORKBOOK),
    # How zip files begin, and the compound files of old and of locked workbooks (from memory).
    (b"PK\x03\x04" + bytes(3000), NO_WORKBOOK),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(3000),
     "p.xlsx: This is an old workbook (.xls) or one locked with a password; save it as .xlsx without a password."),
    (packed({"word/document.xml": "<x/>"}), "p.xlsx: This is not an .xlsx workbook; save it as .xlsx or CSV."),
    (packed({"xl/workbook.xml": "<x/>"}), "p.xlsx: The workbook cannot be read; save it anew as .xlsx, or as CSV."),
    (packed(PARTS), "p.xlsx: The workbook is empty."),
    (bare_workbook(""), "p.xlsx: The workbook is empty."),
    (bare_workbook("<row><c></row>"), "p.xlsx: The workbook cannot be read; save it anew as .xlsx, or as CSV."),
    (bare_workbook(HEADER + '<row r="x"><c/></row>'),
     "p.xlsx: The workbook cannot be read; save it anew as .xlsx, or as CSV."),
    (bare_workbook(HEADER + '<row r="2"><c r="ZZZZZZ2"><v>1</v></c></row>'),
     "p.xlsx: The workbook cannot be read; save it anew as .xlsx, or as CSV."),
    (bare_workbook(HEADER + '<row r="2"><c r="A2" t="s"><v>77</v></c></row>'),
     "p.xlsx: The workbook cannot be read; save it anew as .xlsx, or as CSV."),
])  # fmt: skip
def test_what_is_no_workbook_is_refused_in_one_sentence(data, sentence):
    assert refusal_of(data) == sentence


def test_a_workbook_that_unpacks_to_very_much_is_refused_before_it_is_unpacked():
    data = bare_workbook(HEADER, {"xl/sharedStrings.xml": b" " * (49 * 2**20)})
    assert len(data) < 100_000
    started = clock.perf_counter()
    assert refusal_of(data) == (
        "p.xlsx: The workbook unpacks to more than 48 MB; a plan is far smaller. Copy the plan's cells into a new "
        "workbook."
    )
    assert clock.perf_counter() - started < 1.0


def test_a_part_that_claims_to_be_smaller_than_it_is_is_refused():
    data = bare_workbook(HEADER, {"xl/sharedStrings.xml": b" " * 12_345_678})
    lying = data.replace((12_345_678).to_bytes(4, "little"), (7).to_bytes(4, "little"))
    assert lying != data
    assert refusal_of(lying) == NO_WORKBOOK


def with_shared_texts(name, content):
    """A workbook whose shared texts are in a part of this name, as its list of contents may say."""
    override = (
        f'<Override PartName="/{name}" '
        'ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sharedStrings+xml"/></Types>'
    )
    row = '<row r="2"><c t="s"><v>0</v></c><c t="inlineStr"><is><t>A1</t></is></c></row>'
    contents = CONTENT_TYPES.replace("</Types>", override)
    return bare_workbook(HEADER + row, {"[Content_Types].xml": contents, name: content})


SHARED = f'<sst xmlns="{MAIN}">{{0}}</sst>'


@pytest.mark.parametrize("name", ["xl/sharedStrings.xml", "xl/sharedStrings.dat", "xl/media/image1.png"])
def test_shared_texts_are_read_and_limited_whatever_their_part_is_called(name):
    few = with_shared_texts(name, SHARED.format("<si><t>C1</t></si>"))
    assert [each.id for each in read(few)[0].coupons] == ["C1"]
    wide = with_shared_texts(name, SHARED.format("<si><t>C1</t></si>") + " " * (48 * 2**20))
    many = with_shared_texts(name, SHARED.format("<si/>" * 1_000_001))
    started = clock.perf_counter()
    assert "unpacks to more than 48 MB" in refusal_of(wide)
    assert "far more cells, texts or formats than a plan" in refusal_of(many)
    assert clock.perf_counter() - started < 3.0


def test_formats_by_the_hundred_thousand_are_refused_before_they_are_made():
    styles = f'<styleSheet xmlns="{MAIN}"><fonts>{"<font/>" * 200_000}</fonts></styleSheet>'
    started = clock.perf_counter()
    assert "far more cells, texts or formats than a plan" in refusal_of(
        bare_workbook(HEADER, {"xl/styles.xml": styles})
    )
    assert clock.perf_counter() - started < 2.0


def test_a_workbook_far_larger_than_any_plan_is_read():
    prices = [range(30)] * 2_000
    assert [each.id for each in read(workbook(prices, GOOD))[0].coupons] == ["C1", "C2"]


@pytest.mark.parametrize("name", ["xl/sharedStrings.xml", "xl/sharedStrings.dat", "xl/media/image1.svg"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "utf-16-le", "utf-16-be"])
@pytest.mark.parametrize("before", [0, 32_760, 65_530])
def test_entities_that_grow_are_refused_in_every_part_and_encoding(name, encoding, before):
    laughs = "".join(f'<!ENTITY l{n} "{f"&l{n - 1};" * 10}">' for n in range(1, 5))
    bomb = f"<?xml version='1.0' encoding='{encoding}'?>" + " " * before
    bomb += f'<!DOCTYPE x [<!ENTITY l0 "ha">{laughs}]>' + SHARED.format("<si><t>&l4;</t></si>")
    assert refusal_of(with_shared_texts(name, bomb.encode(encoding))) == (
        "p.xlsx: This workbook holds what no plan needs and what might grow without end; copy the plan's cells into "
        "a new workbook."
    )


def test_a_sheet_that_claims_to_be_huge_is_read_by_what_it_holds():
    # XFD1048576 is the last cell that a sheet of this format can have (from memory).
    data = bare_workbook(HEADER + text_row(2, "C1", "A1"), before='<dimension ref="A1:XFD1048576"/>')
    assert [each.id for each in read(data)[0].coupons] == ["C1"]


def test_very_wide_rows_are_refused_before_they_cost_much():
    rows = "".join(f'<row r="{number}"><c r="XFD{number}"><v>1</v></c></row>' for number in range(2, 2_000))
    started = clock.perf_counter()
    assert refusal_of(bare_workbook(HEADER + rows)) == (
        f"p.xlsx: The workbook has more than {MOST_CELLS} cells; copy the plan's cells into a new one."
    )
    assert clock.perf_counter() - started < 5.0


def test_a_row_far_below_any_sheet_is_not_looked_for():
    data = bare_workbook(HEADER + text_row(2, "C1", "A1") + text_row(10**15, "C2", "A2"))
    started = clock.perf_counter()
    assert [each.id for each in read(data)[0].coupons] == ["C1"]
    assert clock.perf_counter() - started < 10.0


def test_five_thousand_coupons_are_refused():
    rows = [("coupon", "position"), *((f"C{number}", "A1") for number in range(5_000))]
    assert refusal_of(workbook(rows)) == (
        "p.xlsx: The plan has 5000 coupons and a board holds at most 1000; split the plan into several boards."
    )


def test_a_workbook_with_bytes_changed_anywhere_is_read_or_refused_with_a_sentence():
    whole = workbook(GOOD)
    chance = random.Random(5)
    for _ in range(150):
        spoiled = bytearray(whole)
        for _ in range(chance.randint(1, 6)):
            spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
        try:
            plan, _ = read(bytes(spoiled))
        except InputError as error:
            assert error.problem.file == "p.xlsx"  # noqa: PT017 - both outcomes are right
        else:
            assert len(plan.coupons) <= 2


def test_a_workbook_with_its_xml_changed_is_read_or_refused_with_a_sentence():
    with zipfile.ZipFile(io.BytesIO(workbook(GOOD))) as archive:
        parts = {name: archive.read(name) for name in archive.namelist()}
    chance = random.Random(6)
    for _ in range(150):
        name = chance.choice(list(parts))
        spoiled = bytearray(parts[name])
        for _ in range(chance.randint(1, 4)):
            spoiled[chance.randrange(len(spoiled))] = chance.choice(b'<>"/&0919AZ# ')
        try:
            plan, _ = read(packed({**parts, name: bytes(spoiled)}))
        except InputError as error:
            assert error.problem.file == "p.xlsx"  # noqa: PT017 - both outcomes are right
        else:
            assert len(plan.coupons) <= 2
