"""The sheets of the workbook in their order, one line each."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.report.agreement_sheet import SHEET as AGREEMENT
from rustboard.report.agreement_sheet import write_agreement
from rustboard.report.blind_sheet import SHEET as BLIND
from rustboard.report.blind_sheet import blind_visits, write_blind_grades
from rustboard.report.board_map import write_board_map
from rustboard.report.chart_data import SHEET as CHART_DATA
from rustboard.report.chart_data import write_chart_data
from rustboard.report.content import ReportContent
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
from rustboard.report.exposure_sheet import SHEET as EXPOSURE
from rustboard.report.exposure_sheet import write_exposure
from rustboard.report.findings_sheet import SHEET as FINDINGS
from rustboard.report.findings_sheet import write_findings
from rustboard.report.history_sheet import write_history
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
from rustboard.report.treatments_sheet import write_treatments
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
    content = making.content
    write_cover(sheet, making.record, making.groups, making.page, generated=content.generated, by=content.by)
    return NOTHING_MORE


def _findings(sheet: Worksheet, making: Making) -> Written:
    assert making.content.findings is not None
    write_findings(sheet, making.content.findings, making.page)
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


def _data_entry(table: DataTable, has_any: Callable[[ReportContent], bool] | None = None) -> SheetEntry:
    return SheetEntry(table.sheet, "data", has_any or partial(has_rows, table), partial(_data, table=table))


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
    write_coupons(sheet, making.record, making.page)
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
    SheetEntry("Cover", None, always, _cover),
    SheetEntry(FINDINGS, "summary", lambda content: content.findings is not None, _findings),
    SheetEntry(PLAN, "plan", lambda content: was_planned(content.record), _plan),
    SheetEntry(START_MAP, "map", partial(_has_map, title=START_MAP), _board_map),
    SheetEntry(MIDDLE_MAP, "map", partial(_has_map, title=MIDDLE_MAP), _board_map),
    SheetEntry(NEWEST_MAP, "map", always, _board_map),
    _data_entry(GRADES, always),
    SheetEntry(BLIND, "graders", lambda content: bool(blind_visits(content.record)), _blind),
    SheetEntry(DAMAGE, "doubts", lambda content: has_damage(content.record), _damage),
    SheetEntry(SIDE_BY_SIDE, "graders", lambda content: bool(content.compared), _side_by_side),
    SheetEntry("By inspection", "histories", always, _means),
    SheetEntry("History", "histories", always, _history),
    SheetEntry(EXPOSURE, "exposure", lambda content: content.exposure is not None, _exposure),
    SheetEntry(DAY_LOG, "exposure", lambda content: has_day_log(content.record), _day_log),
    SheetEntry(WEATHER_FILES, "exposure", lambda content: has_weather_files(content.record), _weather_files),
    SheetEntry(PHOTOS, "photos", lambda content: has_photos(content.pictures), _photos),
    SheetEntry("Treatments", "treatments", always, _treatments),
    SheetEntry(RECIPES, "treatments", lambda content: has_recipes(content.record), _recipes),
    SheetEntry("Coupons", "treatments", always, _coupons),
    SheetEntry(AGREEMENT, "graders", lambda content: content.agreement is not None, _agreement),
    SheetEntry("Method and cautions", "method", always, _method),
    _data_entry(MEASUREMENTS),
    _data_entry(READINGS),
    _data_entry(TREATMENTS, always),
    SheetEntry(CHART_DATA, "histories", always, _chart_data),
)
"""In the order of the workbook; a sheet is left out where its part is not chosen, or the board has nothing for it."""


def entries_for(content: ReportContent) -> list[SheetEntry]:
    """Return the sheets of the workbook of this content."""
    return [each for each in ENTRIES if each.is_wanted(content)]
