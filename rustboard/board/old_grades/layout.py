"""How an old table is laid out: where its header is, what each column holds, and how its cells are written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date
from typing import Final, Literal, get_args

from rustboard.board.table_rows import plain_name
from rustboard.board.typed_dates import DateOrder

Meaning = Literal[
    "nothing", "coupon", "position", "treatment", "family", "role", "substrate", "date", "time", "grade", "percent",
    "distribution", "grader", "source", "note", "photo", "grade of a day", "percent of a day",
    "distribution of a day", "note of a day",
]  # fmt: skip
MEANINGS: Final[tuple[Meaning, ...]] = get_args(Meaning)
OF_A_DAY: Final = " of a day"
MANY: Final = frozenset(each for each in MEANINGS if each.endswith(OF_A_DAY) or each in ("nothing", "note"))
"""What more than one column may hold."""

Halves = Literal["refused", "rounded down"]
Scale = Literal["grades", "percents", "another"]

OUR_COLUMNS: Final = (
    "coupon", "position", "treatment", "role", "inspected", "grade", "distribution", "percent", "grader", "source",
    "note",
)  # fmt: skip
"""The header of the tidy table that the program itself writes."""

_TITLES: Final[dict[Meaning, str]] = {
    "coupon": "coupon coupon_id coupon_no coupon_nr id panel panel_id panel_no plate sample sample_id specimen piece "
    "test_piece probe proben_nr blech platte nr no number coupons panels plättchen muster",
    "position": "position pos place slot platz",
    "treatment": "treatment coating product recipe protection protectant behandlung beschichtung treated_with mittel "
    "schutz finish",
    "family": "family group class kind gruppe art",
    "role": "role rolle",
    "substrate": "substrate steel material alloy metal stahl werkstoff base_metal",
    "date": "date inspected inspection inspection_date date_inspected day datum when tag checked",
    "time": "time hour uhrzeit zeit",
    "grade": "grade rust_grade rating score rust rostgrad rostwert astm_d610 d610",
    "percent": "percent % %_rust rust_% %_rusted percent_rusted percent_rust prozent rust_percent area_% %_area",
    "distribution": "distribution letter dist verteilung type_of_rust rust_type buchstabe",
    "grader": "grader by inspector rater graded_by prüfer operator observer who von",
    "note": "note notes comment comments remark remarks bemerkung bemerkungen anmerkung",
    "photo": "photo photos picture image foto bild photo_file",
}
_MEANING_OF: Final[dict[str, Meaning]] = {
    title: meaning for meaning, titles in _TITLES.items() for title in titles.split()
}
_OTHER_RATING: Final = re.compile(r"(?:^|_)(?:ri|rp|iso_4628|iso4628|iso_10289)(?:_|$)")


@dataclass(frozen=True, slots=True)
class ColumnUse:
    """One column.

    Attributes:
        title: over it. meaning: what it holds. day: the text that names the day, for what is of a day.
    """

    title: str
    meaning: Meaning = "nothing"
    day: str = ""


@dataclass(frozen=True, slots=True)
class OldLayout:
    """How a table is laid out and written.

    Attributes:
        header_row: number of the last row of the header, 0 where there is none; what is below are the data.
        columns: from the left.
        date_order: of dates with the year last, or None where that is not known.
        halves: what becomes of a grade such as 8.5.
        scale: what the columns of grades hold; what is of another scale is refused, never converted.
        day_zero: the day from which ``day 3`` counts, or None.
        ours: whether it is the tidy table that the program itself writes.
    """

    header_row: int
    columns: tuple[ColumnUse, ...]
    date_order: DateOrder | None = None
    halves: Halves = "refused"
    scale: Scale = "grades"
    day_zero: date | None = None
    ours: bool = False

    @property
    def is_wide(self) -> bool:
        """Whether the days stand over the columns."""
        return any(each.meaning.endswith(OF_A_DAY) for each in self.columns)

    def place_of(self, meaning: Meaning) -> int | None:
        """Return the first column that holds something, or None."""
        return next((place for place, each in enumerate(self.columns) if each.meaning == meaning), None)


def meaning_of(title: str) -> Meaning | None:
    """Return what a column holds by its title, or None where the title tells nothing."""
    return _MEANING_OF.get(_plain(title))


def names_other_rating(title: str) -> bool:
    """Return whether a title names a rating that is no rust grade."""
    return _OTHER_RATING.search(_plain(title)) is not None


def _plain(title: str) -> str:
    without = re.sub(r"\(.*?\)|\[.*?\]", "", title).strip(" :.#")
    return plain_name(without)
