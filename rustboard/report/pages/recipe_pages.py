"""Treatments and their preparation step by step, on pages."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from rustboard.board.model import Treatment
from rustboard.board.recipe import RecipeStep
from rustboard.board.recipe_words import KIND_WORDS, UNIT_WORDS
from rustboard.board.record import BoardRecord
from rustboard.report.content import ReportContent
from rustboard.report.groups import treatment_title
from rustboard.report.pages.blocks import Book, Cell, Head, named, prose
from rustboard.support.text import some_of

MOST_LISTED: Final = 20
"""Treatments up to which each is among the contents."""
_MOST_COUPONS: Final = 40
_NOTE: Final = 400


def write_treatments(book: Book, content: ReportContent) -> None:
    """Write every treatment: what it is, which coupons got it, and its steps where they were written down."""
    record = content.record
    if not record.treatments:
        return
    book.part("Treatments and preparation")
    coupons: dict[int, list[str]] = {}
    for coupon in record.coupons_in_order():
        if coupon.treatment is not None:
            coupons.setdefault(coupon.treatment, []).append(named(coupon.id, 30))
    for key, treatment in sorted(record.treatments.items()):
        book.heading(treatment_title(treatment), listed=len(record.treatments) <= MOST_LISTED)
        book.facts(_facts(book, treatment, coupons.get(key, [])))
        _steps(book, record, key)


def _facts(book: Book, treatment: Treatment, coupons: list[str]) -> Iterator[tuple[str, str]]:
    texts = (
        ("Family", treatment.family),
        ("Preparation", treatment.preparation),
        ("Finish", treatment.finish),
        ("Protectant", treatment.protectant),
        ("Coats", "" if treatment.coats is None else str(treatment.coats)),
        ("Batch", treatment.batch),
        ("Cost per m²", "" if treatment.cost_per_m2 is None else book.number(treatment.cost_per_m2, 2)),
        ("Minutes per m²", "" if treatment.minutes_per_m2 is None else book.number(treatment.minutes_per_m2, 0)),
        ("Coupons", some_of(coupons, _MOST_COUPONS)),
        ("Note", prose(treatment.note, _NOTE)),
    )
    for label, text in texts:
        if text:
            yield label, prose(text, _NOTE)


def _steps(book: Book, record: BoardRecord, key: int) -> None:
    steps = record.recipe_of(key).steps
    heads = [
        Head("Step", 0.8, "right"), Head("What", 2.4), Head("Product", 3.4), Head("Quantity", 2.2),
        Head("Time", 2), Head("°C", 0.9, "right"), Head("Who and note", 3.2),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for number, step in enumerate(steps, start=1):
        product = named(step.product, 80) + (f", batch {named(step.batch, 40)}" if step.batch else "")
        said = "; ".join(each for each in (named(step.who, 60), named(step.note, 160)) if each)
        rows.append(
            [
                str(number), KIND_WORDS[step.kind], product, _quantity(book, step), _time(book, step),
                "" if step.temperature_c is None else book.number(step.temperature_c, 0), said,
            ]
        )  # fmt: skip
    book.table(heads, rows, size=8)


def _quantity(book: Book, step: RecipeStep) -> str:
    if step.quantity is None:
        return ""
    per = "a coupon" if step.per == "coupon" else "a m²"
    return f"{_plain(book, step.quantity)} {UNIT_WORDS[step.unit]} for {per}"


def _time(book: Book, step: RecipeStep) -> str:
    if step.minutes is None:
        return ""
    return f"{_plain(book, step.minutes)} min {'work' if step.hands_on else 'waiting'}"


def _plain(book: Book, value: float) -> str:
    places = next((each for each in range(4) if abs(value - round(value, each)) < 1e-9), 4)
    return book.number(value, places)
