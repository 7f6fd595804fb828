"""How it was done, on pages: graders and their agreement, the plan, the method with its scales, the changes."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rustboard.board.grade import GRADES
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord
from rustboard.report.choice import Writing
from rustboard.report.content import ReportContent
from rustboard.report.method_words import PAGES, method_sections
from rustboard.report.pages.blocks import Book, Cell, Head, graded_cell, named, prose
from rustboard.report.plan_words import (
    breaks_of,
    care_words,
    compared_words,
    drip_words,
    lots_words,
    measure_words,
    method_words,
    spread_words,
    worthwhile_words,
    written_words,
)
from rustboard.scales.cautions import NOT_COMPLETE
from rustboard.scales.rust_grade import percent_text
from rustboard.support.text import counted

MOST_DIFFERING: Final = 60
MOST_AUDIT: Final = 30

STANDARDS: Final = (
    "ASTM D610: rust grades 10 to 0 by percent of the surface, and the letters of how the rust is spread.",
    "ASTM D1654: creep from a scribe. ISO 10289: blisters and peeling.",
    "ISO 9223: time of wetness, and the corrosivity of a place.",
)


def write_graders(book: Book, content: ReportContent) -> None:
    """Write how the graders agree; nothing where there is nothing to compare."""
    found = content.agreement
    if found is None:
        return
    book.part("Agreement of the graders")
    book.quiet("From the blind inspections of this board that were revealed; nobody knew which coupon he graded.")
    for heading, sentences in found.sections:
        book.heading(heading)
        book.list(sentences)
    if not found.differing:
        return
    book.heading("Coupons they differ on")
    heads = [
        Head("Coupon", 1.4), Head("Position", 1), Head("Inspected", 2.3), Head("Given", 4),
        Head("Board", 0.8, "center"), Head("How", 1.8),
    ]  # fmt: skip
    rows: list[list[Cell]] = [
        [
            named(each.coupon, 40), each.position, book.when(each.inspected), named(each.given, 160),
            graded_cell(each.board), named(each.how, 60),
        ]
        for each in found.differing[:MOST_DIFFERING]
    ]  # fmt: skip
    book.table(heads, rows, size=8)
    more = len(found.differing) - MOST_DIFFERING
    if more > 0:
        book.quiet(f"And {more} more, which the workbook lists.")


def write_plan(book: Book, content: ReportContent) -> None:
    """Write the question and how the board was laid out; nothing where nothing was planned."""
    record, writing = content.record, content.choice.writing
    question, laid_out = record.question, bool(record.layouts or record.lots)
    if question is None and not laid_out:
        return
    book.part("Plan")
    if question is not None:
        book.heading("The question")
        book.facts(_question(question, record, writing), label_mm=40)
    if laid_out:
        book.heading("Layout")
        book.facts(_layout(record, writing), label_mm=40)


def _question(question: Question, record: BoardRecord, writing: Writing) -> Iterator[tuple[str, str]]:
    yield "In the user's words", prose(question.words, 900) or "not put into words"
    yield "Compared", compared_words(question)
    yield "Main measure", measure_words(question)
    yield "Failing grade", f"{question.failing_grade}: at this grade or below a coupon has failed"
    yield "Difference that matters", f"{worthwhile_words(question)} or more"
    yield "Spread reckoned with", spread_words(question)
    yield "Written down", written_words(question, record, writing)
    changes = len(record.questions) - 1
    if changes:
        yield "Changed since", f"{counted(changes, 'time')}; the board keeps every one"


def _layout(record: BoardRecord, writing: Writing) -> Iterator[tuple[str, str]]:
    layout = record.layout
    yield "Positions", method_words(layout)
    yield "Lots", lots_words(record, writing)
    yield "Care against drips", care_words(layout)
    yield "Drip rule", drip_words(record, breaks_of(record)).replace("coupons marked below drip", "coupons drip")


def write_method(book: Book, content: ReportContent) -> None:
    """Write the method, the limits of the grades, the standards and the cautions."""
    record = content.record
    book.part("Method and scales")
    sections = method_sections(
        record, compared=bool(content.compared), form=PAGES, writing=content.choice.writing
    )  # fmt: skip
    for number, (heading, sentences) in enumerate(sections):
        book.heading(heading)
        for each in sentences:
            book.text(each)
        if not number:
            rows: list[list[Cell]] = [[graded_cell(grade), percent_text(grade)] for grade in reversed(GRADES)]
            book.table([Head("Grade", 1, "center"), Head("Percent of the significant surface rusted", 7)], rows)
    book.quiet(NOT_COMPLETE)
    book.heading("Standards")
    book.list(STANDARDS)


def write_audit(book: Book, content: ReportContent) -> None:
    """Write the record of changes in short: how many, by whom, and the newest."""
    lines = content.audit
    if not lines:
        return
    book.part("Record of changes, in short")
    people = sorted({each.who for each in lines if each.who})
    by = f" by {', '.join(named(each, 40) for each in people[:12])}" if people else ""
    book.text(
        f"{counted(len(lines), 'step')}{by}, from {_moment(lines[0].at)} to {_moment(lines[-1].at)}. Every step is "
        "kept with the board; grades are superseded or withdrawn, never erased. The newest:"
    )
    rows: list[list[Cell]] = [
        [_moment(each.at), named(each.who, 40), named(each.what, 200)] for each in reversed(lines[-MOST_AUDIT:])
    ]
    book.table([Head("When", 1.8), Head("Who", 1.5), Head("What", 6)], rows, size=8)


def _moment(recorded: str) -> str:
    return named(recorded[:16].replace("T", " "), 20)
