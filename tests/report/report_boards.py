"""Boards made by hand for the tests of the report."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout, Lot
from rustboard.board.model import AxisLabel, Board, Coupon, Grading, Inspection, Treatment
from rustboard.board.position import parse_position
from rustboard.board.question import Question
from rustboard.board.record import BoardRecord

START = datetime(2026, 3, 2, 9, 0)
MADE = datetime(2026, 5, 1, 17, 30)

HOSTILE = (
    '=HYPERLINK("x")',
    "+1",
    "-1",
    "@x",
    "\t=1+1",
    "'=1+1",
    "🧲🔩 door",
    "n" * 400,
    "bell\x07 null\x00 page\x0c",
    "two\nlines & <tags> \"quotes\" 'single'",
    " blank at both ends ",
    "#N/A",
    "007",
    "1e5",
    "TRUE",
    "NaN",
    "\ud800 lone",
)
"""Texts that break careless tables, formulas, XML or readers."""


class BoardBuilder:
    """Builds a record step by step; keys are handed out from 1."""

    def __init__(self, board: Board | None = None) -> None:
        self.record = BoardRecord(board or Board("Harbour wall spring", rows=1, columns=3, started=START))

    def treatment(self, id: str, **fields: object) -> int:  # noqa: A002
        key = len(self.record.treatments) + 1
        self.record.treatments[key] = Treatment(id, key=key, **fields)  # type: ignore[arg-type]
        return key

    def coupon(self, id: str, position: str | None, treatment: int | None = None, **fields: object) -> int:  # noqa: A002
        key = len(self.record.coupons) + 1
        place = None if position is None else parse_position(position)
        self.record.coupons[key] = Coupon(id, place, treatment, key=key, **fields)  # type: ignore[arg-type]
        return key

    def inspection(self, day: float, **fields: str) -> int:
        key = len(self.record.inspections) + 1
        self.record.inspections[key] = Inspection(START + timedelta(days=day), key=key, **fields)
        return key

    def grade(
        self,
        coupon: int,
        inspection: int,
        grade: int,
        letter: str = "",
        percent: float | None = None,
        *,
        grader: str = "",
        source: str = "eye",
        note: str = "",
    ) -> None:
        key = 1 + sum(map(len, self.record.current.values()))
        grading = Grading(
            key, coupon, inspection, grade, letter, percent, grader, source, note, "2026-05-01T00:00:00"
        )
        self.record.current.setdefault(coupon, {})[inspection] = grading

    def label(self, axis: str, number: int, label: str) -> None:
        key = len(self.record.axis_labels) + 1
        self.record.axis_labels[key] = AxisLabel(axis, number, label)  # type: ignore[arg-type]

    def question(self, **fields: object) -> None:
        key = len(self.record.questions) + 1
        self.record.questions[key] = Question(key=key, **fields)  # type: ignore[arg-type]

    def lots(self, positions: Mapping[int, str], **fields: object) -> None:
        """Let the lots have put coupons at positions, under a layout."""
        self.record.layouts[1] = Layout(key=1, **fields)  # type: ignore[arg-type]
        for key, (coupon, label) in enumerate(positions.items(), start=1):
            self.record.lots[key] = Lot(coupon, parse_position(label), key)

    def calendar(self, *days: int) -> None:
        self.record.calendars[1] = InspectionDays(days, key=1)

    def histories(self, days: Sequence[float], grades: Mapping[int, Sequence[int | None]]) -> None:
        """Add an inspection a day, and each coupon's grade at it where it has one."""
        keys = [self.inspection(day) for day in days]
        for coupon, values in grades.items():
            for key, value in zip(keys, values, strict=True):
                if value is not None:
                    self.grade(coupon, key, value, "S" if 1 <= value <= 9 else "")


def small_board() -> BoardRecord:
    """Two treatments and a control on one row, four inspections, C02 not graded at the third."""
    made = BoardBuilder(
        Board(
            "Harbour wall spring",
            rows=1,
            columns=4,
            edge_margin_mm=3,
            started=START,
            site="harbour wall",
            shelter="open",
            incline_deg=45,
            facing_deg=180,
            customer="Church of St Anne",
            shop="Smith & Daughter",
        )
    )
    wax = made.treatment("T1", name="hot beeswax blend", family="wax", cost_per_m2=3.1, minutes_per_m2=40, coats=2)
    oil = made.treatment("T2", name="baked linseed oil", family="oil", preparation="wire brushed", batch="7/26")
    outline = ((30.0, 40.0), (90.0, 40.0), (90.0, 160.0), (30.0, 160.0))
    first = made.coupon("C01", "A1", wax, substrate="mild steel", outline_mm=outline)
    second = made.coupon("C02", "A2", wax)
    third = made.coupon("C03", "A3", oil)
    control = made.coupon("C04", "A4", None, role="control")
    made.histories(
        (0, 3, 7.5, 14),
        {first: (10, 10, 9, 8), second: (10, 9, None, 7), third: (10, 8, 6, 5), control: (10, 5, 2, 0)},
    )
    made.label("column", 0, "upper")
    made.label("column", 1, "upper")
    return made.record


def hostile_board() -> BoardRecord:
    """A board whose every name and note is a text that breaks something."""
    made = BoardBuilder(
        Board(HOSTILE[0], rows=4, columns=5, started=START, customer=HOSTILE[1], shop="A & B &P", site=HOSTILE[9])
    )
    last = made.inspection(3.25)
    for number, text in enumerate(HOSTILE):
        treatment = made.treatment(text, name=text, family=text, preparation=text, note=text)
        coupon = made.coupon(text, f"{'ABCD'[number // 5]}{number % 5 + 1}", treatment, substrate=text, note=text)
        made.grade(coupon, last, number % 11, percent=None, grader=text, note=text)
    made.label("row", 0, HOSTILE[7])
    made.label("column", 1, HOSTILE[0])
    return made.record


def door_board() -> BoardRecord:
    """21 coupons in 3 rows of 7, each treatment once a row, 18 inspections in eight weeks."""
    board = Board(
        "Harbour wall spring",
        rows=3,
        columns=7,
        edge_margin_mm=3,
        started=START,
        site="harbour wall",
        shelter="open",
        incline_deg=45,
        facing_deg=180,
        customer="Church of St Anne, door ironwork",
        shop="Smith & Daughter",
    )
    made = BoardBuilder(board)
    recipes = (
        ("hot beeswax blend", "wax", "wire brushed", "none", "beeswax blend"),
        ("baked linseed oil", "oil", "wire brushed", "none", "boiled linseed oil, three thin coats"),
        ("lanolin film", "film", "degreased with white spirit", "none", "lanolin in solvent"),
        ("microcrystalline wax", "wax", "wire brushed", "none", "microcrystalline wax"),
        ("zinc phosphate and oil", "conversion", "pickled in hydrochloric acid", "zinc phosphate", "mineral oil"),
        ("forge black and wax", "wax", "forge scale kept", "none", "beeswax blend"),
    )
    treatments: list[int | None] = [
        made.treatment(
            f"T{number}", name=name, family=family, preparation=preparation, finish=finish, protectant=protectant,
            coats=number % 3 + 1, cost_per_m2=2.5 + number, minutes_per_m2=10.0 * number, batch=f"26-{number}",
        )
        for number, (name, family, preparation, finish, protectant) in enumerate(recipes, start=1)
    ]  # fmt: skip
    treatments.append(None)
    days = (0, 1, 2, 4, 7, 10, 14, 17, 21, 24, 28, 31, 35, 38, 42, 46, 50, 56)
    grades: dict[int, list[int | None]] = {}
    for row in range(3):
        for column in range(7):
            kind = (column * 3 + row * 2) % 7
            number = row * 7 + column + 1
            key = made.coupon(
                f"C{number:02d}",
                f"{'ABC'[row]}{column + 1}",
                treatments[kind],
                role="control" if kind == 6 else "test",
                substrate="mild steel S235",
                outline_mm=((0.0, 0.0), (60.0, 0.0), (60.0, 120.0), (0.0, 120.0)),
            )
            speed = (14, 20, 11, 17, 30, 8, 5)[kind] - row
            grades[key] = [max(0, 10 - int(day // speed)) for day in days]
            if number in {5, 12}:
                grades[key][9] = None
    made.histories(days, grades)
    made.label("row", 0, "under the eaves")
    made.label("column", 5, "by the gate")
    made.label("column", 6, "by the gate")
    return made.record


def planned_board(board: BoardRecord | None = None) -> BoardRecord:
    """The door board with a question changed twice, lots that two coupons left, and a calendar."""
    made = BoardBuilder()
    made.record = board or door_board()
    made.question(
        words="Does a second coat of wax pay on a door at the harbour?", written=datetime(2026, 2, 27, 10, 15)
    )
    made.question(words="Does any finish outlast wax at the harbour?", written=datetime(2026, 2, 28, 8, 0))
    made.question(
        words="Does any finish outlast wax at the harbour?",
        written=datetime(2026, 3, 20, 18, 30),
        late=True,
        failing_grade=6,
        measure="days to failing grade",
        assumed_sd=0.8,
    )
    drawn = {key: coupon.position.label for key, coupon in made.record.coupons.items() if coupon.position is not None}
    drawn[1], drawn[2] = drawn[2], drawn[1]
    made.lots(drawn, seed=2_026, drawn_at=datetime(2026, 2, 28, 9, 0), coupon_width_mm=60, coupon_height_mm=120)
    made.calendar(0, 1, 2, 4, 8, 16, 32, 48, 64, 90)
    return made.record
