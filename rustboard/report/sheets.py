"""The sheets of the workbook in their order, one line each."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.agreement_sheet import SHEET as AGREEMENT
from rustboard.report.agreement_sheet import write_agreement
from rustboard.report.audit_sheet import SHEET as AUDIT
from rustboard.report.audit_sheet import write_audit
from rustboard.report.blind_sheet import SHEET as BLIND
from rustboard.report.blind_sheet import blind_visits, write_blind_grades
from rustboard.report.board_map import write_board_map
from rustboard.report.chart_data import SHEET as CHART_DATA
from rustboard.report.chart_data import write_chart_data
from rustboard.report.comparisons_sheet import SHEET as COMPARISONS
from rustboard.report.comparisons_sheet import has_comparisons, write_comparisons
from rustboard.report.content import ReportContent
from rustboard.report.contents_sheet import SHEET as CONTENTS
from rustboard.report.contents_sheet import write_contents
from rustboard.report.coupons_sheet import write_coupons
from rustboard.report.cover import write_cover
from rustboard.report.damage_sheet import SHEET as DAMAGE
from rustboard.report.damage_sheet import has_damage, write_damage
from rustboard.report.data_tables import (
    GRADES,
    MEASUREMENTS,
    READINGS,
    TREATMENTS,
    DataTable,
    has_rows,
    write_data_table,
)
from rustboard.report.doubts_sheet import SHEET as DOUBTS
from rustboard.report.doubts_sheet import has_doubts, write_doubts
from rustboard.report.exposure_sheet import SHEET as EXPOSURE
from rustboard.report.exposure_sheet import write_exposure
from rustboard.report.failing_sheet import SHEET as FAILING
from rustboard.report.failing_sheet import write_failing
from rustboard.report.history_sheet import write_history
from rustboard.report.live_figures import live_board
from rustboard.report.live_tables import DATA as SUMMARY_DATA
from rustboard.report.live_tables import write_live_data
from rustboard.report.making import Making, SheetEntry, always
from rustboard.report.map_views import MIDDLE_MAP, NEWEST_MAP, START_MAP, map_views
from rustboard.report.means_sheet import write_means
from rustboard.report.method import write_method
from rustboard.report.photos_sheet import SHEET as PHOTOS
from rustboard.report.photos_sheet import has_photos, write_photos
from rustboard.report.plan_sheet import SHEET as PLAN
from rustboard.report.plan_sheet import was_planned, write_plan
from rustboard.report.recipes_sheet import SHEET as RECIPES
from rustboard.report.recipes_sheet import has_recipes, write_recipes
from rustboard.report.side_by_side_sheet import SHEET as SIDE_BY_SIDE
from rustboard.report.side_by_side_sheet import write_side_by_side
from rustboard.report.summary_sheet import SHEET as SUMMARY
from rustboard.report.summary_sheet import has_summary, write_summary
from rustboard.report.treatments_sheet import write_treatments
from rustboard.report.value_sheet import SHEET as VALUE
from rustboard.report.value_sheet import write_value
from rustboard.report.weather_sheets import (
    DAY_LOG,
    WEATHER_FILES,
    has_day_log,
    has_weather_files,
    write_day_log,
    write_weather_files,
)
from rustboard.report.written import NOTHING_MORE, Written


def _cover(sheet: Worksheet, making: Making) -> Written:
    write_cover(sheet, making.content, making.groups, making.page)
    return NOTHING_MORE


def _contents(sheet: Worksheet, making: Making) -> Written:
    others = [each for each in entries_for(making.content) if each.title != CONTENTS]
    write_contents(sheet, [(each.title, each.about) for each in others], making.page)
    return NOTHING_MORE


def _summary(sheet: Worksheet, making: Making) -> Written:
    return write_summary(sheet, making.content, making.page)


def _comparisons(sheet: Worksheet, making: Making) -> Written:
    assert making.content.findings is not None
    write_comparisons(sheet, making.content.findings, making.page)
    return NOTHING_MORE


def _failing(sheet: Worksheet, making: Making) -> Written:
    assert making.content.findings is not None
    return write_failing(sheet, making.content.findings, making.page)


def _value(sheet: Worksheet, making: Making) -> Written:
    assert making.content.findings is not None
    return write_value(sheet, making.content.findings, making.page)


def _doubts(sheet: Worksheet, making: Making) -> Written:
    write_doubts(sheet, making.content, making.page)
    return NOTHING_MORE


def _audit(sheet: Worksheet, making: Making) -> Written:
    return Written(write_audit(sheet, making.content, making.page))


def _summary_data(sheet: Worksheet, making: Making) -> Written:
    write_live_data(sheet, live_board(making.content), making.page)
    return NOTHING_MORE


def _plan(sheet: Worksheet, making: Making) -> Written:
    write_plan(sheet, making.record, making.page, generated=making.content.generated)
    return NOTHING_MORE


def _board_map(sheet: Worksheet, making: Making) -> Written:
    view = next(each for each in map_views(making.content) if each.sheet == sheet.title)
    write_board_map(sheet, making.record, making.page, view)
    return NOTHING_MORE


def _has_map(content: ReportContent, title: str) -> bool:
    return any(each.sheet == title for each in map_views(content))


def _photos(sheet: Worksheet, making: Making) -> Written:
    write_photos(sheet, making.content.pictures, making.page)
    return NOTHING_MORE


def _data(sheet: Worksheet, making: Making, table: DataTable) -> Written:
    return Written(write_data_table(sheet, table, making.content, making.page))


def _data_entry(table: DataTable, about: str, has_any: Callable[[ReportContent], bool] | None = None) -> SheetEntry:
    return SheetEntry(table.sheet, "data", has_any or partial(has_rows, table), partial(_data, table=table), about)


def _blind(sheet: Worksheet, making: Making) -> Written:
    return Written(write_blind_grades(sheet, making.record, making.page))


def _damage(sheet: Worksheet, making: Making) -> Written:
    write_damage(sheet, making.record, making.page)
    return NOTHING_MORE


def _side_by_side(sheet: Worksheet, making: Making) -> Written:
    write_side_by_side(sheet, making.record, making.content.compared, making.page)
    return NOTHING_MORE


def _means(sheet: Worksheet, making: Making) -> Written:
    write_means(sheet, making.record, making.groups, making.means, making.page)
    return NOTHING_MORE


def _history(sheet: Worksheet, making: Making) -> Written:
    return Written(charts=write_history(sheet, making.history, making.page))


def _exposure(sheet: Worksheet, making: Making) -> Written:
    assert making.content.exposure is not None
    write_exposure(sheet, making.content.exposure, making.page)
    return NOTHING_MORE


def _day_log(sheet: Worksheet, making: Making) -> Written:
    write_day_log(sheet, making.record, making.page)
    return NOTHING_MORE


def _weather_files(sheet: Worksheet, making: Making) -> Written:
    write_weather_files(sheet, making.record, making.page)
    return NOTHING_MORE


def _treatments(sheet: Worksheet, making: Making) -> Written:
    write_treatments(sheet, making.record, making.page)
    return NOTHING_MORE


def _recipes(sheet: Worksheet, making: Making) -> Written:
    write_recipes(sheet, making.record, making.page)
    return NOTHING_MORE


def _coupons(sheet: Worksheet, making: Making) -> Written:
    write_coupons(sheet, making.record, making.page, making.content.choice.writing)
    return NOTHING_MORE


def _agreement(sheet: Worksheet, making: Making) -> Written:
    assert making.content.agreement is not None
    write_agreement(sheet, making.content.agreement, making.page)
    return NOTHING_MORE


def _method(sheet: Worksheet, making: Making) -> Written:
    write_method(sheet, making.record, making.page, compared=bool(making.content.compared))
    return NOTHING_MORE


def _chart_data(sheet: Worksheet, making: Making) -> Written:
    return Written(write_chart_data(sheet, making.history, making.page))


ENTRIES: Final[tuple[SheetEntry, ...]] = (
    SheetEntry("Cover", None, always, _cover, "What was exposed, where, how long; how to read it", "A3"),
    SheetEntry(CONTENTS, None, always, _contents, ""),
    SheetEntry(
        SUMMARY, "summary", has_summary, _summary,
        "What the board shows, in sentences; ranks; a failing grade and coupons that you can change", "J1",
    ),
    SheetEntry(
        PLAN, "plan", lambda content: was_planned(content.record), _plan, "What was planned, and what it could prove",
        "F1",
    ),
    SheetEntry(START_MAP, "map", partial(_has_map, title=START_MAP), _board_map, "The board when it began", "A3"),
    SheetEntry(MIDDLE_MAP, "map", partial(_has_map, title=MIDDLE_MAP), _board_map, "The board half way", "A3"),
    SheetEntry(NEWEST_MAP, "map", always, _board_map, "Each coupon where it hangs, with its newest grade", "A3"),
    SheetEntry(
        "History", "histories", always, _history, "How grades went: pictures of treatments and coupons", "AH1",
    ),
    SheetEntry(
        "By inspection", "histories", always, _means, "Mean grade of each treatment at each inspection", "A2",
    ),
    SheetEntry(
        COMPARISONS, "comparisons", lambda content: has_comparisons(content.findings), _comparisons,
        "Which treatment did better than which, how surely; finish by protectant", "J1",
    ),
    SheetEntry(
        FAILING, "failing", lambda content: content.findings is not None and bool(content.findings.failing), _failing,
        "When coupons fell to the failing grade", "J1",
    ),
    SheetEntry(
        VALUE, "value", lambda content: content.findings is not None and bool(content.findings.value), _value,
        "Cost and work against protection", "J1",
    ),
    SheetEntry(
        EXPOSURE, "exposure", lambda content: content.exposure is not None, _exposure,
        "The weather between the inspections, with its gaps", "S1",
    ),
    SheetEntry(
        DAY_LOG, "exposure", lambda content: has_day_log(content.record), _day_log,
        "Weather noted by hand, and what happened to the board",
    ),
    SheetEntry(
        WEATHER_FILES, "exposure", lambda content: has_weather_files(content.record), _weather_files,
        "The loggers' files that the weather comes from",
    ),
    SheetEntry(
        PHOTOS, "photos", lambda content: has_photos(content.pictures), _photos,
        "The board on day zero, at its worst change, at the last",
    ),
    SheetEntry("Treatments", "treatments", always, _treatments, "What each treatment is, and what it costs"),
    SheetEntry(
        RECIPES, "treatments", lambda content: has_recipes(content.record), _recipes,
        "Preparation and treatment, step by step",
    ),
    SheetEntry("Coupons", "treatments", always, _coupons, "Where each coupon hangs, what it got, what it is made of"),
    SheetEntry(
        DOUBTS, "doubts", has_doubts, _doubts, "What speaks against the findings; what happened; what was left out",
        "J1",
    ),
    SheetEntry(
        DAMAGE, "doubts", lambda content: has_damage(content.record), _damage,
        "Creep, blisters and peeling, which change no grade",
    ),
    SheetEntry(
        AGREEMENT, "graders", lambda content: content.agreement is not None, _agreement,
        "How graders agree with one another and with themselves", "P1",
    ),
    SheetEntry(
        BLIND, "graders", lambda content: bool(blind_visits(content.record)), _blind,
        "Grades given without knowing which coupon it was",
    ),
    SheetEntry(
        SIDE_BY_SIDE, "graders", lambda content: bool(content.compared), _side_by_side,
        "Coupons in order, by choices between two",
    ),
    SheetEntry("Method and cautions", "method", always, _method, "How it was done, and by which standards", "B2"),
    SheetEntry(
        AUDIT, "audit", lambda content: bool(content.audit), _audit, "Every step that anybody took on the board",
    ),
    _data_entry(GRADES, "Data: one row a grade", always),
    _data_entry(MEASUREMENTS, "Data: one row a coupon on a photo"),
    _data_entry(READINGS, "Data: the weather, one row a day"),
    _data_entry(TREATMENTS, "Data: one row a treatment", always),
    SheetEntry(
        SUMMARY_DATA, "summary", has_summary, _summary_data, "Data: what the formulas of the summary start from",
    ),
    SheetEntry(CHART_DATA, "histories", always, _chart_data, "Data: the points of the histories"),
)  # fmt: skip
"""In the order of the workbook; a sheet is left out where its part is not chosen, or the board has nothing for it."""


def entries_for(content: ReportContent) -> list[SheetEntry]:
    """Return the sheets of the workbook of this content."""
    return [each for each in ENTRIES if each.is_wanted(content)]
