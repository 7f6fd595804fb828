"""The first sheet: what was exposed, where, how long, and the last grades in short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from statistics import fmean
from typing import Final

from openpyxl.worksheet.worksheet import Worksheet

from rustboard.board.model import Inspection
from rustboard.board.record import BoardRecord
from rustboard.report.cells import Value, put, row_height, set_widths, short
from rustboard.report.choice import ReportPicture, Shop
from rustboard.report.content import ReportContent
from rustboard.report.cover_words import graders_of, method_in_short, repeats_words
from rustboard.report.groups import Group
from rustboard.report.last_grades import last_graded
from rustboard.report.page_setup import PageStyle, set_page
from rustboard.report.placed_pictures import logo_size, put_picture
from rustboard.report.plan_words import question_lines
from rustboard.report.styles import (
    CELL,
    CELL_GRADE,
    CELL_MEAN,
    CELL_NUMBER,
    COLUMN_HEAD,
    COLUMN_HEAD_CENTRED,
    COLUMN_HEAD_RIGHT,
    DAYS,
    HEADING,
    LABEL,
    PLAIN,
    QUIET,
    TITLE,
    WHEN,
    WHOLE,
    Look,
    graded,
)
from rustboard.support.text import counted

_WIDTHS: Final = {1: 30, 2: 16, 3: 10, 4: 12, 5: 9, 6: 9, 7: 9}
_LAST: Final = 7
_SUMMARY_HEADS: Final = ("Treatment", "Family", "Coupons", "Graded then", "Mean", "Lowest", "Highest")
_SHOP_LIMIT: Final = 120
_LOGO_POINTS, _LOGO_WIDE = 54.0, 150.0
_COMPASS: Final = ("north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west")

NO_GRADES: Final = (
    "No grade has been given yet. Open the board, add an inspection, tap each coupon to grade it, and write the "
    "workbook again."
)
NO_COUPONS: Final = "The board has no coupons yet. Place coupons on it and give them treatments first."
NO_CONTROL: Final = (
    "No coupon is marked as a control. Without an untreated control nothing here shows how hard the weather was."
)
LISTS_ONLY: Final = (
    "This workbook lists the grades as they were given. It draws no conclusions and tests nothing: a higher mean of "
    "a few coupons may be luck or a better place on the board."
)
CONCLUDES: Final = (
    "What the grades show is on the sheet Summary, with what speaks against it on the sheet Doubts. Where treatments "
    "cannot be told apart it says so, and the better mean below may be luck."
)
LIVE: Final = (
    "On the sheet Summary yellow cells can be changed: the failing grade, and which coupons count. The tables there "
    "follow; sentences and comparisons stay as they were found."
)
MARKS: Final = (
    "Numbers in cells show the decimal mark of your own spreadsheet program; sentences are written as whoever made "
    "this workbook chose."
)
SAME_PLACE: Final = (
    "Grades compare only within the same place and the same time. One run never predicts how long a treatment lasts."
)
SCALE: Final = (
    "Grades run from 10 (no rust) to 0 (more than half the surface rusted). The steps are not equal amounts of rust, "
    "so a mean grade is a short cut for the eye, not a measurement."
)


def write_cover(sheet: Worksheet, content: ReportContent, groups: Sequence[Group], page: PageStyle) -> None:
    """Write the cover."""
    record = content.record
    sheet.sheet_view.showGridLines = False
    set_widths(sheet, _WIDTHS)
    set_page(sheet, page)
    board = record.board
    _across(sheet, 1, board.name or "Board without a name", TITLE)
    sheet.row_dimensions[1].height = min(3, -(-len(board.name) // 45) or 1) * 28
    _across(sheet, 2, "Rust grades of coated steel coupons exposed to the weather", QUIET)
    row = _shop(sheet, content.shop, 4)
    for label, value, look in cover_facts(content):
        put(sheet, row, 1, label, LABEL)
        sheet.merge_cells(start_row=row, end_row=row, start_column=2, end_column=_LAST)
        put(sheet, row, 2, value, look)
        sheet.row_dimensions[row].height = row_height([(value, 62)], most_lines=4)
        row += 1
    row = _summary(sheet, content, groups, row + 1)
    put(sheet, row + 2, 1, "How to read this", HEADING)
    for at, sentence in enumerate(_cautions(content, groups), start=row + 3):
        _across(sheet, at, f"•  {sentence}", PLAIN)
        sheet.row_dimensions[at].height = row_height([(sentence, 92)]) + 3
    sheet.print_area = f"A1:G{sheet.max_row}"


def _across(sheet: Worksheet, row: int, text: str, look: Look) -> None:
    sheet.merge_cells(start_row=row, end_row=row, start_column=1, end_column=_LAST)
    put(sheet, row, 1, text, look)


def _shop(sheet: Worksheet, shop: Shop, row: int) -> int:
    """Write who made the report, with the logo; return the row for what follows, the same where nothing is known."""
    begin = row
    if shop.logo:
        size = logo_size(shop.logo)
        picture = ReportPicture(shop.logo, *size, "Logo", f"Logo of {shop.name or 'the shop'}")
        sheet.row_dimensions[row].height = _LOGO_POINTS + 6
        put_picture(sheet, picture, row, 1, width=_LOGO_WIDE, height=_LOGO_POINTS, name="Logo")
        row += 1
    if shop.name:
        _across(sheet, row, short(shop.name, _SHOP_LIMIT), HEADING)
        sheet.row_dimensions[row].height = 20
        row += 1
    if shop.contact:
        _across(sheet, row, shop.contact, PLAIN)
        sheet.row_dimensions[row].height = row_height([(shop.contact, 92)])
        row += 1
    return row if row == begin else row + 1


def cover_facts(content: ReportContent) -> Iterator[tuple[str, Value, Look]]:
    """Yield what is said of the board: label, value, and how it looks."""
    record = content.record
    board = record.board
    texts = (
        ("Customer", board.customer),
        ("Shop", board.shop),
        ("Site", board.site),
        ("Shelter", board.shelter),
        ("Incline", "" if board.incline_deg is None else f"{board.incline_deg:g}° from the horizontal"),
        ("Facing", "" if board.facing_deg is None else f"{board.facing_deg:g}° ({compass(board.facing_deg)})"),
    )
    for label, text in texts:
        yield label, text or "not noted", PLAIN if text else QUIET
    yield from _period(record)
    yield "Coupons", _coupon_count(record), PLAIN
    yield "Treatments", len(record.treatments), WHOLE
    yield "Inspections", len(record.inspections), WHOLE
    yield "Gradings", sum(map(len, record.current.values())), WHOLE
    if repeated := repeats_words(record):
        yield "Repeats", repeated, PLAIN
    if any(record.current.values()):
        yield "Method", method_in_short(record), PLAIN
    graders = graders_of(record)
    if graders:
        yield "Graded by", short("; ".join(short(each, 60) for each in graders), 400), PLAIN
    for label, text in question_lines(record, writing=content.choice.writing):
        yield label, text, PLAIN
    if board.note:
        yield "Note", board.note, PLAIN
    yield "Workbook made", content.generated, WHEN
    if content.by:
        yield "Made by", content.by, PLAIN


def _period(record: BoardRecord) -> Iterator[tuple[str, Value, Look]]:
    zero = record.day_zero()
    inspections = record.inspections_in_order()
    if zero is None:
        yield "Exposure", "not begun: no start and no inspection noted", QUIET
        return
    stated = record.board.started is not None
    yield "First day" if stated else "First day (first inspection)", zero, WHEN
    if inspections:
        yield "Last inspection", inspections[-1].at, WHEN
        yield "Days of exposure until then", round(record.day_of(inspections[-1].at), 4), DAYS
    else:
        yield "Last inspection", "none yet", QUIET


def _coupon_count(record: BoardRecord) -> str:
    coupons = record.coupons.values()
    controls = sum(each.role == "control" for each in coupons)
    off = sum(each.position is None for each in coupons)
    return f"{len(coupons)}, of which {counted(controls, 'control')}" + (f"; {off} off the board" if off else "")


def compass(bearing: float) -> str:
    """Return the name of the nearest of eight compass points; 180 degrees is south."""
    return _COMPASS[round(bearing / 45) % 8]


def _summary(sheet: Worksheet, content: ReportContent, groups: Sequence[Group], row: int) -> int:
    """Write the table of last grades and return its last row."""
    record = content.record
    last = last_graded(record)
    writing = content.choice.writing
    heading = "Last grades" if last is None else f"Grades of the inspection of {writing.moment(last.at)}"
    put(sheet, row, 1, heading, HEADING)
    sheet.row_dimensions[row].height = 22
    if not groups or last is None:
        _across(sheet, row + 1, NO_GRADES if groups else NO_COUPONS, PLAIN)
        sheet.row_dimensions[row + 1].height = 30
        return row + 1
    row += 1
    for column, head in enumerate(_SUMMARY_HEADS, start=1):
        put(sheet, row, column, head, _head_look(column))
    for group in groups:
        row += 1
        _summary_row(sheet, row, record, group, last)
    return row


def _head_look(column: int) -> Look:
    if column <= 2:
        return COLUMN_HEAD
    return COLUMN_HEAD_CENTRED if column > 5 else COLUMN_HEAD_RIGHT


def _summary_row(sheet: Worksheet, row: int, record: BoardRecord, group: Group, last: Inspection) -> None:
    found = (record.grading(coupon.key, last.key) for coupon in group.coupons)
    grades = [grading.grade for grading in found if grading is not None]
    title = group.title if group.treatment is None or not group.is_control else f"{group.title} (control)"
    put(sheet, row, 1, title, CELL)
    put(sheet, row, 2, group.family, CELL)
    put(sheet, row, 3, len(group.coupons), CELL_NUMBER)
    put(sheet, row, 4, len(grades), CELL_NUMBER)
    put(sheet, row, 5, round(fmean(grades), 4) if grades else None, CELL_MEAN)
    for column, grade in ((6, min(grades, default=None)), (7, max(grades, default=None))):
        put(sheet, row, column, grade, CELL_NUMBER if grade is None else graded(CELL_GRADE, grade))
    sheet.row_dimensions[row].height = row_height([(title, _WIDTHS[1]), (group.family, _WIDTHS[2])], most_lines=3)


def _cautions(content: ReportContent, groups: Sequence[Group]) -> Iterator[str]:
    record = content.record
    has_summary = "summary" in content.choice.parts and any(record.current.values())
    yield CONCLUDES if has_summary and content.findings is not None else LISTS_ONLY
    if has_summary:
        yield LIVE
    yield MARKS
    yield SCALE
    single = [each for each in groups if len(each.coupons) == 1]
    if single:
        names = short("; ".join(short(each.title, 40) for each in single), 300)
        yield (
            "One coupon of a treatment shows order only: the gap to its neighbours may be luck, and nothing here can "
            f"say how much. This holds for {names}."
        )
    if record.coupons and not any(each.role == "control" for each in record.coupons.values()):
        yield NO_CONTROL
    hidden = record.hidden_inspection
    if hidden is not None:
        yield (
            f"The inspection of {content.choice.writing.moment(record.inspections[hidden.inspection].at)} is being "
            "graded blind and still hidden; its blind grades are not in yet."
        )
    last = last_graded(record)
    if last is not None:
        missing = len(record.coupons) - sum(last.key in grades for grades in record.current.values())
        if missing:
            yield f"Not graded at that inspection and so left out of its row above: {counted(missing, 'coupon')}."
    yield SAME_PLACE
