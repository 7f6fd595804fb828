"""How an old table seems to be laid out, and what it does not settle itself.

What is not settled follows from table and layout alone, so a question is gone as soon as a person has answered it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

from rustboard.board.cells import identity, quoted
from rustboard.board.old_grades.dates import WrittenDay, has_open_order, is_day, order_of, read_day
from rustboard.board.old_grades.grid import Grid
from rustboard.board.old_grades.layout import (
    MANY,
    OF_A_DAY,
    OUR_COLUMNS,
    ColumnUse,
    Meaning,
    OldLayout,
    meaning_of,
    names_other_rating,
)
from rustboard.board.table_rows import plain_name
from rustboard.support.problems import InputError
from rustboard.support.text import one_line

_HEADS_LOOKED_AT: Final = 30
_VALUES_LOOKED_AT: Final = 20_000
_OF_A_DAY: Final[dict[Meaning, Meaning]] = {
    "grade": "grade of a day",
    "percent": "percent of a day",
    "distribution": "distribution of a day",
    "note": "note of a day",
}
_DAY_TITLES: Final[tuple[Meaning, ...]] = ("date", "time")

DoubtAbout = Literal["coupon", "grade", "order", "beginning", "scale", "year"]


@dataclass(frozen=True, slots=True)
class Doubt:
    """What a table does not settle.

    Attributes:
        about: what. sentence: the same for a person. blocking: whether nothing may be guessed without an answer.
    """

    about: DoubtAbout
    sentence: str
    blocking: bool = True


def guess_layout(grid: Grid) -> OldLayout:
    """Return how a table seems to be laid out."""
    best = max(_heads(grid), key=_score, default=_Head(0, tuple(ColumnUse("") for _ in range(grid.width))))
    layout = OldLayout(best.row, _with_a_coupon(grid, best.row, best.columns))
    titles = tuple(plain_name(each.title) for each in layout.columns)
    if titles == OUR_COLUMNS:
        return replace(layout, ours=True, date_order="day first")
    return replace(layout, date_order=order_of(_days(grid, layout)))


def layout_at(grid: Grid, header_row: int) -> OldLayout:
    """Return how a table seems to be laid out when its header ends with this row."""
    numbers = [each for each in grid.numbers if each <= header_row]
    found = [each for each in _heads(grid) if each.row == header_row]
    empty = _Head(header_row, _columns(grid, numbers[-1:]))
    best = max(found, key=_score, default=empty)
    layout = OldLayout(header_row, _with_a_coupon(grid, header_row, best.columns))
    return replace(layout, date_order=order_of(_days(grid, layout)))


def with_meaning(grid: Grid, layout: OldLayout, place: int, meaning: Meaning) -> OldLayout:
    """Return the layout with one column holding something else; what only one can hold leaves the other column."""
    changed = list(layout.columns)
    for other, each in enumerate(changed):
        if other != place and meaning not in MANY and each.meaning == meaning:
            changed[other] = replace(each, meaning="nothing")
    day = changed[place].day or changed[place].title if meaning.endswith(OF_A_DAY) else ""
    changed[place] = replace(changed[place], meaning=meaning, day=day)
    laid = replace(layout, columns=tuple(changed), ours=False)
    return laid if layout.date_order else replace(laid, date_order=order_of(_days(grid, laid)))


def doubts(grid: Grid, layout: OldLayout) -> tuple[Doubt, ...]:
    """Return what is not settled when a table is laid out like this."""
    found = list(_missing(layout))
    days = list(_days(grid, layout))
    written = [each for _, each in days]
    if layout.date_order is None and has_open_order(written):
        example = next(each for each in written if has_open_order([each]))
        found.append(
            Doubt(
                "order",
                f"Dates such as {quoted(example.text)} can be read in two ways: is the day or the month first?",
            )
        )
    if layout.day_zero is None and any(each.typed is None for each in written):
        example = next(each for each in written if each.typed is None)
        found.append(Doubt("beginning", f"{quoted(example.text)} counts from the first day: on which date was that?"))
    if any(each.short_year for each in written):
        example = next(each for each in written if each.short_year)
        found.append(Doubt("year", f"The year in {quoted(example.text)} is taken as 20..", blocking=False))
    if layout.scale == "grades" and _looks_like_another_scale(grid, layout):
        found.append(
            Doubt(
                "scale",
                "The grades look like another scale than 10 = no rust to 0; say what these columns hold. Grades of "
                "another scale are never converted.",
            )
        )
    return tuple(found)


def _missing(layout: OldLayout) -> Iterator[Doubt]:
    if layout.place_of("coupon") is None:
        yield Doubt("coupon", "Which column names the coupon? Choose it over the rows.")
    held = {each.meaning for each in layout.columns}
    graded = {"grade of a day", "percent of a day"} if layout.is_wide else {"grade", "percent"}
    if not held & graded:
        yield Doubt("grade", "Which columns hold the grades? Choose them over the rows.")
    elif not layout.is_wide and "date" not in held:
        yield Doubt("grade", "Which column holds the date? Choose it over the rows.")


# ---- the header


@dataclass(frozen=True, slots=True)
class _Head:
    """One or two rows that may be the header."""

    row: int
    columns: tuple[ColumnUse, ...]
    rows: int = 1


def _score(head: _Head) -> tuple[float, int]:
    held = [each.meaning for each in head.columns]
    days = sum(each.endswith(OF_A_DAY) for each in held)
    tidy = {"date", "coupon"} <= set(held) and bool({"grade", "percent"} & set(held))
    known = len({each for each in held if each != "nothing" and not each.endswith(OF_A_DAY)})
    points = 3.0 * ("coupon" in held) + 3.0 * tidy + known + min(days, 40) - 0.5 * (head.rows - 1)
    return points, -head.row


def _heads(grid: Grid) -> Iterator[_Head]:
    numbers = grid.numbers[:_HEADS_LOOKED_AT]
    for number in numbers:
        yield _Head(number, _columns(grid, [number]))
    for upper, lower in pairwise(numbers):
        if not _is_of_data(grid, upper, lower):
            yield _Head(lower, _columns(grid, [upper, lower]), 2)


def _is_of_data(grid: Grid, upper: int, lower: int) -> bool:
    """Return whether the lower row holds a coupon's values under the upper one's titles."""
    for place in range(grid.width):
        above, below = grid.text(upper, place), grid.text(lower, place)
        if (
            below
            and (is_day(above) or meaning_of(above) is not None)
            and meaning_of(below) is None
            and not is_day(below)
        ):
            return True
        if below and meaning_of(above) in _DAY_TITLES:
            return True
    return False


def _columns(grid: Grid, rows: Sequence[int]) -> tuple[ColumnUse, ...]:
    """Return what the columns hold by the one or two rows over them."""
    columns: list[ColumnUse] = []
    taken: set[Meaning] = set()
    day_before = ""
    for place in range(grid.width):
        texts = [grid.text(row, place) for row in rows]
        day = next((each for each in texts if each and is_day(each)), "")
        known = next((found for each in texts if (found := meaning_of(each)) is not None), None)
        upper = texts[0] if len(texts) > 1 else ""
        if not day and not upper and known in _OF_A_DAY and day_before:
            day = day_before  # the day's cell stands over several columns
        day_before = day
        title = one_line(" ".join(filter(None, texts)), 200)
        columns.append(_use(title, day, known, taken))
    return tuple(columns)


def _use(title: str, day: str, known: Meaning | None, taken: set[Meaning]) -> ColumnUse:
    if day and (known is None or known in _OF_A_DAY):
        return ColumnUse(title, _OF_A_DAY[known] if known else "grade of a day", day)
    if known is None and plain_name(title) == "source":
        known = "source"
    if known is None or (known in taken and known not in MANY):
        return ColumnUse(title)
    taken.add(known)
    return ColumnUse(title, known)


def _with_a_coupon(grid: Grid, header_row: int, columns: tuple[ColumnUse, ...]) -> tuple[ColumnUse, ...]:
    """Return the columns with the coupon in the first of words that differ, where no title names it."""
    held = {each.meaning for each in columns}
    if "coupon" in held or not any(each.meaning.endswith(OF_A_DAY) for each in columns):
        return columns
    below = [number for number in grid.numbers if number > header_row][:200]
    for place, each in enumerate(columns):
        if each.meaning != "nothing":
            continue
        texts = [identity(text) for number in below if (text := grid.text(number, place))]
        if len(texts) > 1 and len(set(texts)) > 0.8 * len(texts):
            return (*columns[:place], replace(each, meaning="coupon"), *columns[place + 1 :])
    return columns


# ---- dates and values


def _days(grid: Grid, layout: OldLayout) -> Iterator[tuple[int, WrittenDay]]:
    """Yield every day that the table writes, once, with its row."""
    for number, text in _day_texts(grid, layout):
        try:
            yield number, read_day(text)
        except InputError:
            continue  # named when the table is read


def _day_texts(grid: Grid, layout: OldLayout) -> Iterable[tuple[int, str]]:
    if layout.is_wide:
        return [(layout.header_row, each.day) for each in layout.columns if each.meaning.endswith(OF_A_DAY)]
    place = layout.place_of("date")
    if place is None:
        return []
    below = [number for number in grid.numbers if number > layout.header_row]
    first = {grid.text(number, place): number for number in reversed(below)}
    return sorted((number, text) for text, number in first.items() if text)


def _looks_like_another_scale(grid: Grid, layout: OldLayout) -> bool:
    """Return whether grades never exceed 5 and begin at 0 or 1, or are called a rating of another scale."""
    places = [n for n, each in enumerate(layout.columns) if each.meaning in ("grade", "grade of a day")]
    if any(names_other_rating(layout.columns[place].title) for place in places):
        return True
    below = [number for number in grid.numbers if number > layout.header_row][:_VALUES_LOOKED_AT]
    columns = [[_plain_number(grid.text(row, place)) for row in below] for place in places]
    values = [each for column in columns for each in column if each is not None]
    if len(values) < 4 or max(values) > 5 or layout.ours:
        return False
    first = next(column for column in columns if any(each is not None for each in column))
    beginning = [each for each in first if each is not None][
        : max(1, len(values) // 8) if len(columns) == 1 else None
    ]
    return sum(beginning) / len(beginning) <= 1 < max(values)


def _plain_number(text: str) -> float | None:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        return None
