"""The workbook of one board: all sheets, written whole or not at all."""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Collection, Mapping, Sequence
from datetime import datetime
from pathlib import Path

from openpyxl import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.record import BoardRecord
from rustboard.report.agreement_sheet import SHEET as AGREEMENT
from rustboard.report.agreement_sheet import AgreementContent, write_agreement
from rustboard.report.blind_sheet import SHEET as BLIND
from rustboard.report.blind_sheet import blind_visits, write_blind_grades
from rustboard.report.board_map import write_board_map
from rustboard.report.cells import short
from rustboard.report.chart_data import SHEET as CHART_DATA
from rustboard.report.chart_data import gather, write_chart_data
from rustboard.report.coupons_sheet import write_coupons
from rustboard.report.cover import write_cover
from rustboard.report.damage_sheet import SHEET as DAMAGE
from rustboard.report.damage_sheet import has_damage, write_damage
from rustboard.report.exposure_sheet import SHEET as EXPOSURE
from rustboard.report.exposure_sheet import ExposureContent, write_exposure
from rustboard.report.findings_content import FindingsContent
from rustboard.report.findings_sheet import SHEET as FINDINGS
from rustboard.report.findings_sheet import write_findings
from rustboard.report.grades_sheet import write_grades
from rustboard.report.groups import groups
from rustboard.report.history_sheet import write_history
from rustboard.report.means import mean_grades
from rustboard.report.means_sheet import write_means
from rustboard.report.method import write_method
from rustboard.report.package import packed
from rustboard.report.page_setup import PageStyle, Paper
from rustboard.report.plan_sheet import SHEET as PLAN
from rustboard.report.plan_sheet import was_planned, write_plan
from rustboard.report.recipes_sheet import SHEET as RECIPES
from rustboard.report.recipes_sheet import has_recipes, write_recipes
from rustboard.report.side_by_side_sheet import SHEET as SIDE_BY_SIDE
from rustboard.report.side_by_side_sheet import ComparedCoupon, write_side_by_side
from rustboard.report.styles import PLAIN
from rustboard.report.treatments_sheet import write_treatments
from rustboard.report.weather_sheets import (
    DAY_LOG,
    WEATHER_FILES,
    has_day_log,
    has_weather_files,
    write_day_log,
    write_weather_files,
)
from rustboard.support.files import replace_file
from rustboard.support.problems import InputError

SHEETS = (
    "Cover",
    "Board map",
    "Grades",
    "By inspection",
    "History",
    "Treatments",
    "Coupons",
    "Method and cautions",
    CHART_DATA,
)
"""Of every workbook; after the cover stand the findings where they were worked out, and the plan where anything was
planned, after the grades the blind grades
where any inspection was graded blind, the damage where any was noted and the order side by side where coupons were
compared, exposure, day log and weather files after the history where there are any, the recipes after the treatments
where any step was written down, the graders' agreement after the coupons where any can be told."""

_NAME_LIMIT = 200


def write_workbook(
    record: BoardRecord,
    path: Path,
    *,
    generated: datetime,
    by: str = "",
    paper: Paper = "A4",
    compared: Sequence[ComparedCoupon] = (),
    agreement: AgreementContent | None = None,
    exposure: ExposureContent | None = None,
    findings: FindingsContent | None = None,
    last_look: Callable[[], None] | None = None,
) -> None:
    """Write the workbook of a board, replacing a file of that name only when the new one is complete.

    Args:
        record: the board.
        path: the .xlsx file to write; its folder must exist.
        generated: the time shown on the cover; the same board and time make the same bytes.
        by: who made it, shown on the cover; may be empty.
        paper: for printing.
        compared: the coupons in their order by choices side by side.
        agreement: how the graders agree, for a sheet of its own; None where there is nothing to compare.
        exposure: the weather between the inspections, for a sheet of its own; None where nothing is known of it.
        findings: what the board shows, for a sheet of its own; None where it was not worked out.
        last_look: called before the file is replaced; what it raises leaves the file as it was.

    Raises:
        InputError: the file cannot be written; the sentence names it and says how to mend it.
    """
    try:
        content = workbook_bytes(
            record,
            generated=generated,
            by=by,
            paper=paper,
            compared=compared,
            agreement=agreement,
            exposure=exposure,
            findings=findings,
        )
        if last_look is not None:
            last_look()
        replace_file(Path(os.path.realpath(path)), content)  # a link keeps pointing where it did
    except OSError as error:
        raise InputError(_why(error, path), file=path.name) from error


def workbook_bytes(
    record: BoardRecord,
    *,
    generated: datetime,
    by: str = "",
    paper: Paper = "A4",
    compared: Sequence[ComparedCoupon] = (),
    agreement: AgreementContent | None = None,
    exposure: ExposureContent | None = None,
    findings: FindingsContent | None = None,
) -> bytes:
    """Return the workbook as the bytes of an .xlsx file; arguments as for `write_workbook`."""
    made = generated.replace(microsecond=0, tzinfo=None)
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    # Column widths count digits of this style's font; openpyxl has no other way to it.
    workbook._named_styles["Normal"].font = PLAIN.font  # type: ignore[attr-defined]
    worked_out = {SIDE_BY_SIDE: compared, AGREEMENT: agreement, EXPOSURE: exposure, FINDINGS: findings}
    titles = _titles(record, {title for title, content in worked_out.items() if content})
    sheets = {title: workbook.create_sheet(title) for title in titles}
    page = PageStyle(record.board.name, f"Made {made:%Y-%m-%d}", paper)
    sorted_coupons = groups(record)
    means = mean_grades(record, sorted_coupons)
    history = gather(record, sorted_coupons, means)
    write_cover(sheets["Cover"], record, sorted_coupons, page, generated=made, by=by)
    if findings is not None:
        write_findings(sheets[FINDINGS], findings, page)
    if PLAN in sheets:
        write_plan(sheets[PLAN], record, page, generated=made)
    write_board_map(sheets["Board map"], record, page)
    long_rows = {"Grades": write_grades(sheets["Grades"], record, page)}
    if BLIND in sheets:
        long_rows[BLIND] = write_blind_grades(sheets[BLIND], record, page)
    if DAMAGE in sheets:
        write_damage(sheets[DAMAGE], record, page)
    if SIDE_BY_SIDE in sheets:
        write_side_by_side(sheets[SIDE_BY_SIDE], record, compared, page)
    write_means(sheets["By inspection"], record, sorted_coupons, means, page)
    chart_texts = write_history(sheets["History"], history, page)
    _write_weather(sheets, record, exposure, page)
    write_treatments(sheets["Treatments"], record, page)
    if RECIPES in sheets:
        write_recipes(sheets[RECIPES], record, page)
    write_coupons(sheets["Coupons"], record, page)
    if agreement is not None:
        write_agreement(sheets[AGREEMENT], agreement, page)
    write_method(sheets["Method and cautions"], record, page, compared=bool(compared))
    long_rows[CHART_DATA] = write_chart_data(sheets[CHART_DATA], history, page)
    properties = workbook.properties
    properties.title = short(record.board.name, _NAME_LIMIT)
    properties.creator = short(record.board.shop, _NAME_LIMIT)
    properties.created = properties.modified = made
    return packed(workbook, made, long_rows, chart_texts)


def _write_weather(
    sheets: Mapping[str, Worksheet], record: BoardRecord, exposure: ExposureContent | None, page: PageStyle
) -> None:
    if exposure is not None:
        write_exposure(sheets[EXPOSURE], exposure, page)
    if DAY_LOG in sheets:
        write_day_log(sheets[DAY_LOG], record, page)
    if WEATHER_FILES in sheets:
        write_weather_files(sheets[WEATHER_FILES], record, page)


def _titles(record: BoardRecord, worked_out: Collection[str]) -> list[str]:
    """Return the sheets in order: those of every workbook, and those for what not every board has."""
    also = (
        ("Cover", FINDINGS, FINDINGS in worked_out),
        ("Cover", PLAN, was_planned(record)),
        ("Grades", BLIND, bool(blind_visits(record))),
        ("Grades", DAMAGE, has_damage(record)),
        ("Grades", SIDE_BY_SIDE, SIDE_BY_SIDE in worked_out),
        ("History", EXPOSURE, EXPOSURE in worked_out),
        ("History", DAY_LOG, has_day_log(record)),
        ("History", WEATHER_FILES, has_weather_files(record)),
        ("Treatments", RECIPES, has_recipes(record)),
        ("Coupons", AGREEMENT, AGREEMENT in worked_out),
    )
    return [
        title
        for each in SHEETS
        for title in (each, *(sheet for behind, sheet, wanted in also if wanted and behind == each))
    ]


def _why(error: OSError, path: Path) -> str:
    match errno.errorcode.get(error.errno or 0, ""):  # by name, because not every system has every number
        case "ENOSPC" | "EDQUOT":
            return "The disk is full, so the workbook was not written; free some space or choose another folder."
        case "ENOENT" | "ENOTDIR":
            return f"The folder {path.parent} does not exist; create it or choose another one."
        case "EISDIR":
            return "A folder has this name; choose another name for the workbook."
        case "ENAMETOOLONG":
            return "The name is too long; choose a shorter one."
        case "EACCES" | "EPERM" | "EBUSY" | "ETXTBSY" if path.is_file():
            return "The file cannot be replaced; close it where it is open, or choose another name or folder."
        case "EACCES" | "EPERM" | "EBUSY" | "EROFS":
            return f"The folder {path.parent} does not allow writing; choose another one."
        case _:
            return f"The workbook could not be written ({error.strerror or error}); choose another name or folder."
