"""What the report says of its method, in the workbook and on pages: how grades came about, and what they can bear."""

from __future__ import annotations

import math
from collections.abc import Iterator
from statistics import median
from typing import Final, NamedTuple

from rustboard.board.outline import area_mm2
from rustboard.board.record import BoardRecord
from rustboard.report.blind_words import blind_lines
from rustboard.report.cells import short
from rustboard.report.choice import WRITINGS, Writing
from rustboard.report.groups import treatment_title
from rustboard.report.weather_words import weather_lines
from rustboard.scales.cautions import CUT_EDGES, safety_lines


class Form(NamedTuple):
    """What a form of the report calls itself, and where it has what the method speaks of.

    Attributes:
        work: such as ``workbook``. damage, left_out, coverage, blind: where these are, in words.
    """

    work: str
    damage: str
    left_out: str
    coverage: str
    blind: str


WORKBOOK: Final = Form(
    "workbook",
    "the sheet Damage has it",
    "The sheet Coupons says which, why, by whom and when. They are left out of the findings alone: every other "
    "sheet, with its means and charts, still counts them.",
    "the sheet Exposure says how much",
    "the sheet of blind grades has them",
)
PAGES: Final = Form(
    "report",
    "the part Disturbances and doubts has it",
    "The part Disturbances and doubts says which, why, by whom and when. They are left out of the findings alone: "
    "the map and the histories still show them.",
    "the part Exposure and weather says how much",
    "the board has them",
)

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
    "A correction replaces the grade it corrects, and a withdrawn grade no longer counts. This {work} shows only "
    "grades that count; the board keeps the others, with who changed what and when.",
    "Edge rust, stains from neighbours, blisters, peeling and creep from a scribe never change a grade. Where any "
    "was noted, {damage}: creep rated by ASTM D1654, blisters and peeling by ISO 10289, the others "
    "unrated.",
    "Nothing is filled in. A coupon not graded at an inspection has no row for it, and its line in the charts breaks "
    "there. Between two inspections the earlier grade is held; nobody saw the moment it changed.",
    "The mean of a treatment is taken over its coupons graded at that inspection. If a coupon was not graded once, "
    "the mean may step for that reason alone.",
    "Colour is a second cue beside the digit, from a ramp chosen for colour-blind readers.",
    "Ratings of other scales are not in this {work}. Where they are wanted, derive them from the percent and never "
    "from grade to grade: published tables of grade against grade disagree.",
)
_LEFT_OUT: Final = (
    "Coupons can be left out of the findings by whoever keeps the board, never by the program. {left_out}",
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


def method_sections(
    record: BoardRecord, *, compared: bool = False, form: Form = WORKBOOK, writing: Writing = WRITINGS[0]
) -> Iterator[tuple[str, list[str]]]:
    """Yield headings with their sentences, in order; the table of limits belongs after the first.

    Args:
        record: the board.
        compared: whether coupons were put in order side by side.
        form: of the report.
        writing: how dates are written.
    """
    yield "How the grades are given", list(_GRADING)
    yield "Distribution letters", list(_LETTERS)
    yield "Edges and small coupons", list(edge_lines(record))
    blind = list(blind_lines(record, where=form.blind, writing=writing))
    if blind:
        yield "Blind grading", blind
    yield f"What this {form.work} shows", [each.format(work=form.work, damage=form.damage) for each in _RECORD]
    if record.left_out:
        yield "Left out of the findings", [each.format(left_out=form.left_out) for each in _LEFT_OUT]
    if compared:
        yield "Side by side", list(_SIDE_BY_SIDE)
    weather = list(weather_lines(record, where=form.coverage))
    if weather:
        yield "Weather", weather
    yield "What an exposure can and cannot say", list(_EXPOSURE)
    yield "Safety", list(safety_sentences(record))


def edge_lines(record: BoardRecord) -> Iterator[str]:
    """Yield what to say of the edge margin and of small coupons."""
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


def safety_sentences(record: BoardRecord) -> Iterator[str]:
    """Yield the reminders that the recipes call for, each with its treatments, and the one for cut edges."""
    treatments = [record.treatments[key] for key in sorted(record.treatments)]
    recipes = {each.treatment: each.recipe for each in record.recipes.values()}
    for line, called_by in safety_lines(treatments, recipes):
        if line == CUT_EDGES:
            continue
        names = short(", ".join(short(treatment_title(each), 40) for each in called_by), 200)
        yield f"{names}: {line}"
    yield CUT_EDGES
