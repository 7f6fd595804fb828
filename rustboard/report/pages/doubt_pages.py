"""Disturbances and doubts, on pages: what speaks against the findings, what was left out, what happened, damage."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rustboard.board.damage import SEVERITY_WORDS
from rustboard.board.damages_noted import damages_in_order
from rustboard.board.record import BoardRecord, left_out_by_coupon
from rustboard.report.content import ReportContent
from rustboard.report.damage_sheet import DAMAGE_NAMES
from rustboard.report.pages.blocks import Book, Cell, Head, named, prose
from rustboard.scales.damage_ratings import rating_of_noted
from rustboard.support.text import some_of

MOST_ROWS: Final = 150
_WEIGHTS: Final = {
    "serious": "May turn the result round",
    "caution": "Weakens the result",
    "note": "Good to know",
}


def write_doubts(book: Book, content: ReportContent) -> None:
    """Write the part."""
    book.part("Disturbances and doubts")
    before = len(book.blocks)
    _doubts(book, content)
    _left_out(book, content.record)
    _disturbances(book, content.record)
    _damages(book, content.record)
    if len(book.blocks) == before:
        book.text("Nothing that disturbs the result was noted or found.")


def _doubts(book: Book, content: ReportContent) -> None:
    findings = content.findings
    if findings is None:
        return
    for weight, heading in _WEIGHTS.items():
        found = [each for each in findings.doubts if each.weight == weight]
        if found:
            book.heading(heading)
            book.list(" ".join(part for part in (each.doubt, each.why, _on(each.coupons)) if part) for each in found)


def _on(coupons: tuple[str, ...]) -> str:
    if not coupons:
        return ""
    return f"Concerns {some_of([named(each, 30) for each in coupons], 12)}."


def _left_out(book: Book, record: BoardRecord) -> None:
    left_out = left_out_by_coupon(record)
    rows: list[list[Cell]] = []
    for coupon in record.coupons_in_order():
        each = left_out.get(coupon.key)
        if each is not None:
            when = named(each.recorded[:16].replace("T", " "), 20)
            rows.append([named(coupon.id, 40), prose(each.reason, 500), named(each.who, 40), when])
    if rows:
        book.heading("Left out of the findings")
        book.table([Head("Coupon", 1.5), Head("Reason", 5), Head("By", 1.5), Head("When", 1.6)], rows)


def _disturbances(book: Book, record: BoardRecord) -> None:
    found = sorted(record.disturbances.values(), key=lambda each: (each.at, each.key))
    if not found:
        return
    book.heading("Disturbances")
    rows: list[list[Cell]] = []
    for each in found[:MOST_ROWS]:
        coupon = None if each.coupon is None else record.coupons.get(each.coupon)
        where = "the whole board" if coupon is None else named(coupon.id, 40)
        rows.append([book.when(each.at), each.kind, where, prose(each.note, 300)])
    book.table([Head("When", 1.6), Head("What", 1.6), Head("Where", 1.6), Head("Note", 4)], rows)
    _more(book, len(found) - MOST_ROWS)


def _damages(book: Book, record: BoardRecord) -> None:
    rows = list(_damage_rows(book, record))
    if not rows:
        return
    book.heading("Damage beside the rust")
    heads = [
        Head("Inspection", 1.7), Head("Coupon", 1.5), Head("Kind", 1.9), Head("Percent", 1, "right"),
        Head("Severity", 1.3), Head("Rating", 1.5), Head("Note", 3),
    ]  # fmt: skip
    book.table(heads, rows[:MOST_ROWS], size=8)
    _more(book, len(rows) - MOST_ROWS)
    book.quiet("Creep from a scribe is rated by ASTM D1654, blisters and peeling by ISO 10289; none changes a grade.")


def _damage_rows(book: Book, record: BoardRecord) -> Iterator[list[Cell]]:
    for inspection, coupon, damage in damages_in_order(record):
        rating = rating_of_noted(damage)
        yield [
            book.when(inspection.at), named(coupon.id, 40), DAMAGE_NAMES.get(damage.kind, damage.kind),
            "–" if damage.percent is None else book.number(damage.percent, 1),
            SEVERITY_WORDS.get(damage.severity, damage.severity) or "–",
            "–" if rating is None else f"{rating.notation} ({rating.scale})", prose(damage.note, 200),
        ]  # fmt: skip


def _more(book: Book, more: int) -> None:
    if more > 0:
        book.quiet(f"And {more} more, which the workbook lists.")
