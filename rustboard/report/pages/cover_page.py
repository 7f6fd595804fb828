"""The cover of the report on pages: for whom, which board, when, by whom graded, and how to read it."""

from __future__ import annotations

from collections.abc import Iterator

from rustboard.board.record import BoardRecord
from rustboard.report.choice import Writing
from rustboard.report.content import ReportContent
from rustboard.report.cover import NO_CONTROL, NO_COUPONS, NO_GRADES, SAME_PLACE, SCALE, compass
from rustboard.report.cover_words import graders_of, method_in_short, repeats_words
from rustboard.report.pages.blocks import Book, named, prose
from rustboard.report.plan_words import question_lines
from rustboard.support.text import counted, some_of

ABOUT = "Rust grades of coated steel coupons exposed to the weather"
_MOST_GRADERS = 12
_NOTE_LIMIT = 700


def write_cover(book: Book, content: ReportContent) -> None:
    """Write the facts and how to read the report."""
    record = content.record
    book.facts(cover_facts(content))
    book.cover_heading("How to read this")
    book.list(reading_lines(content))
    if record.board.note:
        book.cover_heading("Note on the board")
        book.text(prose(record.board.note, _NOTE_LIMIT))


def cover_facts(content: ReportContent) -> Iterator[tuple[str, str]]:
    """Yield what the cover says of the board, as label and text."""
    record, writing = content.record, content.choice.writing
    board = record.board
    for label, text in (("Customer", board.customer), ("Site", place_words(record))):
        yield label, named(text, 300) if text else "not noted"
    yield "Period", period_words(record, writing)
    yield "Coupons", coupon_words(record)
    yield "Inspections", _inspection_words(record)
    if repeated := repeats_words(record):
        yield "Repeats", named(repeated, 300)
    yield "Method", method_in_short(record)
    graders = graders_of(record)
    if graders:
        yield "Graded by", some_of([named(each, 40) for each in graders], _MOST_GRADERS)
    where = "which the board keeps"
    for label, text in question_lines(record, where=where, writing=writing):
        yield label, text
    yield "Report made", writing.moment(content.generated)
    if content.by:
        yield "Made by", named(content.by, 200)


def place_words(record: BoardRecord) -> str:
    """Return where the board hangs and how, on one line; empty where nothing is noted."""
    board = record.board
    said = [board.site, board.shelter]
    if board.incline_deg is not None:
        said.append(f"{board.incline_deg:g}° from the horizontal")
    if board.facing_deg is not None:
        said.append(f"facing {compass(board.facing_deg)}")
    return ", ".join(each for each in said if each)


def period_words(record: BoardRecord, writing: Writing) -> str:
    """Return from when to when the board was exposed, as far as was looked."""
    zero, inspections = record.day_zero(), record.inspections_in_order()
    if zero is None:
        return "not begun: no start and no inspection noted"
    if not inspections:
        return f"from {writing.day(zero)}; not inspected yet"
    last = inspections[-1].at
    days = writing.number(record.day_of(last), 0)
    return f"{writing.day(zero)} to {writing.day(last)}, {days} days until the last inspection"


def coupon_words(record: BoardRecord) -> str:
    """Return how many coupons, controls and treatments there are."""
    coupons = record.coupons.values()
    controls = sum(each.role == "control" for each in coupons)
    off = sum(each.position is None for each in coupons)
    treated = counted(len(record.treatments), "treatment")
    return f"{counted(len(coupons), 'coupon')}, of which {counted(controls, 'control')}; {treated}" + (
        f"; {off} off the board" if off else ""
    )


def _inspection_words(record: BoardRecord) -> str:
    return f"{len(record.inspections)}, with {counted(sum(map(len, record.current.values())), 'grade')}"


def reading_lines(content: ReportContent) -> Iterator[str]:
    """Yield how to read the report, and what to know before trusting it."""
    record = content.record
    if not record.coupons:
        yield NO_COUPONS.replace("workbook", "report")
    elif not any(record.current.values()):
        yield NO_GRADES.replace("write the workbook", "write the report")
    yield SCALE
    yield "A grade is always a digit; colour beside it is a second cue, from blue for 10 to dark brown for 0."
    if content.findings is not None:
        yield (
            "The verdict is never stronger than its numbers: where treatments cannot be told apart, the report says "
            "so, and the better mean may be luck."
        )
    if record.coupons and not any(each.role == "control" for each in record.coupons.values()):
        yield NO_CONTROL
    hidden = record.hidden_inspection
    if hidden is not None:
        when = content.choice.writing.moment(record.inspections[hidden.inspection].at)
        yield f"The inspection of {when} is being graded blind and still hidden; its blind grades are not in yet."
    yield SAME_PLACE
