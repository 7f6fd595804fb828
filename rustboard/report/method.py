"""How the grades came about, what they can bear, and how to stay safe."""

from __future__ import annotations

import math
from collections.abc import Iterator
from statistics import median
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.grade import GRADES
from rustboard.board.outline import area_mm2
from rustboard.board.record import BoardRecord
from rustboard.report.blind_words import blind_lines
from rustboard.report.cells import put, row_height, set_widths, short
from rustboard.report.groups import treatment_title
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.styles import (
    COLUMN_HEAD,
    HEADING,
    LEGEND_GRADE,
    LEGEND_LIMIT,
    PLAIN,
    QUIET,
    SHEET_TITLE,
    graded,
)
from rustboard.report.weather_words import weather_lines
from rustboard.scales.cautions import CUT_EDGES, NOT_COMPLETE, safety_lines
from rustboard.scales.rust_grade import limits_percent, percent_text

_WIDTH: Final = 92

_GRADING: Final = (
    "The rust grade goes from 10 (no rust) to 0 by the percent of the significant surface that is rusted. The limits "
    "below are those of ASTM D610: a percent equal to a limit belongs to the better grade.",
    "The significant surface is the part of a coupon that counts: its outline less the edge margin, less holes and "
    "labels. Stain run down from elsewhere, dirt and iron-bearing dust are not rust of the coupon and do not count.",
    "Where a percent was stated it is the record, and the grade follows from it. A grade without a percent stands "
    "for its whole interval.",
)
_LETTERS: Final = (
    "Letters say how the rust is spread. S, spot: most of it in a few places. G, general: spots of many sizes, "
    "anywhere. P, pinpoint: very many tiny specks. H, hybrid: a mix, named in the note. Grades 10 and 0 carry none.",
)
_RECORD: Final = (
    "Source says how it was judged: eye, photo (measured from a picture), photo confirmed (measured, then accepted "
    "by eye), blind (by eye, without knowing which coupon it was), or agreed (settled between the graders after "
    "their blind grades were revealed).",
    "A correction replaces the grade it corrects, and a withdrawn grade no longer counts. This workbook shows only "
    "grades that count; the board keeps the others, with who changed what and when.",
    "Edge rust, stains from neighbours, blisters, peeling and creep from a scribe never change a grade. Where any "
    "was noted, the sheet Damage has it: creep rated by ASTM D1654, blisters and peeling by ISO 10289, the others "
    "unrated.",
    "Nothing is filled in. A coupon not graded at an inspection has no row for it, and its line in the charts breaks "
    "there. Between two inspections the earlier grade is held; nobody saw the moment it changed.",
    "The mean of a treatment is taken over its coupons graded at that inspection. If a coupon was not graded once, "
    "the mean may step for that reason alone.",
    "Colour on the map and the cover is a second cue beside the digit, from a ramp chosen for colour-blind readers.",
    "Ratings of other scales are not in this workbook. Where they are wanted, derive them from the percent and never "
    "from grade to grade: published tables of grade against grade disagree.",
)
_LEFT_OUT: Final = (
    "Coupons can be left out of the findings by whoever keeps the board, never by the program. The sheet Coupons "
    "says which, why, by whom and when. They are left out of the findings alone: every other sheet, with its means "
    "and charts, still counts them.",
)
_EXPOSURE: Final = (
    "Results of less than a year compare only within the same place and the same time. Another season or another "
    "street can turn the order round.",
    "One run never predicts how long a treatment lasts. It shows what happened on this board.",
    "Place on the board changes wetness and warmth. Only treatments spread over the board by chance, several coupons "
    "each and with untreated controls between, can be told apart from their places.",
    "Two people may grade the same coupon differently, and so may one person on two days. No published figure says "
    "by how much; compare your own graders on the same coupons.",
)
_SIDE_BY_SIDE: Final = (
    "Coupons were also shown two at a time from the photo, without their names, and somebody chose the more rusted "
    "one. The strengths are those of Bradley and Terry (1952), with a weak penalty: the difference of two is the "
    "log-odds that the one is called less rusted than the other. They are a check on the grades, and no grades.",
    "Coupons that are not told apart have a difference whose 95 % interval holds 0, each pair taken alone.",
)


def write_method(sheet: Worksheet, record: BoardRecord, page: PageStyle, *, compared: bool = False) -> None:
    """Write the method, the cautions and the safety lines that the recipes call for.

    ``compared``: coupons were put in order side by side.
    """
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, {1: 8, 2: _WIDTH})
    put(sheet, 1, 1, "Method and cautions", SHEET_TITLE)
    row = _section(sheet, 3, "How the grades are given", _GRADING)
    row = _limits(sheet, row)
    row = _section(sheet, row, "Distribution letters", _LETTERS)
    row = _section(sheet, row, "Edges and small coupons", list(_edges(record)))
    blind = list(blind_lines(record))
    if blind:
        row = _section(sheet, row, "Blind grading", blind)
    row = _section(sheet, row, "What this workbook shows", _RECORD)
    if record.left_out:
        row = _section(sheet, row, "Left out of the findings", _LEFT_OUT)
    if compared:
        row = _section(sheet, row, "Side by side", _SIDE_BY_SIDE)
    weather = list(weather_lines(record))
    if weather:
        row = _section(sheet, row, "Weather", weather)
    row = _section(sheet, row, "What an exposure can and cannot say", _EXPOSURE)
    row = _section(sheet, row, "Safety", list(_safety(record)))
    put(sheet, row - 1, 2, NOT_COMPLETE, QUIET)
    sheet.row_dimensions[row - 1].height = row_height([(NOT_COMPLETE, _WIDTH)])
    set_page(sheet, page)


def _section(sheet: Worksheet, row: int, heading: str, paragraphs: tuple[str, ...] | list[str]) -> int:
    put(sheet, row, 1, heading, HEADING)
    sheet.row_dimensions[row].height = 20
    for text in paragraphs:
        row += 1
        put(sheet, row, 2, text, PLAIN)
        sheet.row_dimensions[row].height = row_height([(text, _WIDTH)], most_lines=12) + 3
    return row + 2


def _limits(sheet: Worksheet, row: int) -> int:
    put(sheet, row, 1, "Grade", COLUMN_HEAD)
    put(sheet, row, 2, "Percent of the significant surface rusted", COLUMN_HEAD)
    sheet.row_dimensions[row].height = 18
    for number, grade in enumerate(reversed(GRADES), start=1):
        put(sheet, row + number, 1, grade, graded(LEGEND_GRADE, grade))
        lower, upper = limits_percent(grade)
        said = percent_text(grade) if grade in {0, 10} else f"more than {lower:g} %, up to {upper:g} %"
        put(sheet, row + number, 2, said, LEGEND_LIMIT)
        sheet.row_dimensions[row + number].height = 15.5
    return row + len(GRADES) + 2


def _edges(record: BoardRecord) -> Iterator[str]:
    margin = record.board.edge_margin_mm
    if margin > 0:
        yield f"A strip {margin:g} mm wide along every outline does not count, because cut edges rust first."
    else:
        yield "No edge margin is set: the whole outline counts, cut edges included. Edges rust first."
    areas = [area_mm2(each.outline_mm) for each in record.coupons.values() if each.outline_mm]
    if not any(areas):
        yield (
            "Grade 10 asks for much of a small coupon: the limit of 0.01 % is 0.5 mm² on 50 x 100 mm, a single spot "
            "0.8 mm across. A coupon with one visible speck may already be a 9."
        )
        return
    area = median(each for each in areas if each)
    spot = area * 0.0001
    yield (
        f"Grade 10 asks for much of a small coupon: on a middling coupon of this board ({area:,.0f} mm² of outline) "
        f"the limit of 0.01 % is {spot:.2g} mm², a single spot {2 * math.sqrt(spot / math.pi):.1f} mm across. A "
        "coupon with one visible speck may already be a 9."
    )


def _safety(record: BoardRecord) -> Iterator[str]:
    treatments = [record.treatments[key] for key in sorted(record.treatments)]
    recipes = {each.treatment: each.recipe for each in record.recipes.values()}
    for line, called_by in safety_lines(treatments, recipes):
        if line == CUT_EDGES:
            continue
        names = short(", ".join(short(treatment_title(each), 40) for each in called_by), 200)
        yield f"{names}: {line}"
    yield CUT_EDGES
