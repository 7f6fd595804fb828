"""The demo's first board: door ironwork for a harbour, tried out on the harbour wall in spring."""

from __future__ import annotations

from datetime import datetime
from typing import Final

from rustboard.app.demo.blind import Agreed, BlindGrader, BlindVisit
from rustboard.app.demo.harbour_weather import HARBOUR_WEATHER
from rustboard.app.demo.recipes import CONTROL, RECIPES, TREATMENTS
from rustboard.app.demo.scenario import (
    BOARD_WIDTH_MM,
    EDGE_MARGIN_MM,
    HUNG_BY_HAND,
    Behaviour,
    DemoBoard,
    Oddity,
    corner_markers,
    planned_coupons,
)
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.model import Board, Inspection, Plan
from rustboard.board.question import Question

_HEIGHT_MM = 400.0

_BOARD = Board(
    name="Harbour wall spring",
    rows=3,
    columns=7,
    width_mm=BOARD_WIDTH_MM,
    height_mm=_HEIGHT_MM,
    edge_margin_mm=EDGE_MARGIN_MM,
    started=datetime(2026, 3, 2, 9, 0),
    site="harbour wall",
    shelter="open",
    incline_deg=45.0,
    facing_deg=180.0,
    customer="Harbour door ironwork",
    shop="the demo smithy",
    note="Hinges and bolts for the harbour doors: which protection lasts a spring of salt spray, and at what price?\n"
    "A made-up board to look around in; nothing on it was measured.",
)

# Each treatment once a row, and none twice in a column.
_ROWS = ("T4 T7 T2 T1 T6 T3 T5", "T6 T1 T5 T7 T3 T2 T4", "T3 T5 T7 T4 T2 T6 T1")

_BEHAVIOURS = {
    "T1": Behaviour("S", starts=5.0, late_percent=0.62, bend=2.1, pace=(0.4, 0.95, 1.9)),
    "T2": Behaviour("G", starts=2.6, late_percent=5.2, bend=1.8, pace=(0.75, 1.5, 1.1)),
    "T3": Behaviour("S", starts=9.0, late_percent=0.12, bend=1.9, pace=(0.3, 1.0, 0.7)),
    "T4": Behaviour("S", starts=4.2, late_percent=1.7, bend=2.0, pace=(0.65, 0.9, 1.95)),
    "T5": Behaviour("P", starts=3.0, late_percent=8.0, bend=1.9, pace=(0.55, 1.0, 1.4)),
    "T6": Behaviour("G", starts=0.9, late_percent=38.0, bend=1.55, pace=(0.8, 1.35, 1.0)),
    CONTROL: Behaviour("G", starts=0.15, late_percent=86.0, bend=1.15, pace=(0.8, 1.0, 1.35)),
}

_VISITS = (
    Inspection(datetime(2026, 3, 2, 9, 0), "Maren", "overcast", "dry", "Hung up. All bright."),
    Inspection(datetime(2026, 3, 3, 9, 10), "Maren", "bright", "dry", "Dew in the night, gone by eight."),
    Inspection(datetime(2026, 3, 4, 8, 50), "Maren", "overcast", "dry", ""),
    Inspection(datetime(2026, 3, 6, 9, 20), "Jory", "overcast", "dry", "Rain most of yesterday."),
    Inspection(datetime(2026, 3, 9, 9, 0), "Jory", "bright", "dry", "Spray over the wall on Saturday."),
    Inspection(
        datetime(2026, 3, 12, 9, 15), "Maren", "overcast", "dry", "A boat lay against the wall; C08 and C09 not seen."
    ),
    Inspection(datetime(2026, 3, 16, 9, 5), "Maren", "overcast", "wet", "Drizzle while grading; surfaces wet."),
    Inspection(datetime(2026, 3, 23, 9, 30), "Jory", "bright", "dry", "Bird dropping over C04; not graded."),
    Inspection(datetime(2026, 3, 30, 9, 0), "Maren", "low sun", "dry", "Debris cleared with a soft brush."),
    Inspection(datetime(2026, 4, 6, 9, 10), "Maren", "overcast", "dry", ""),
    Inspection(datetime(2026, 4, 13, 9, 0), "Jory", "bright", "dry", "A dry week."),
    Inspection(datetime(2026, 4, 20, 8, 45), "Maren", "overcast", "dry", "Heavy dew on three mornings."),
    Inspection(
        datetime(2026, 4, 27, 9, 0),
        "Maren",
        "bright",
        "dry",
        "Grading broken off by a shower: C16 to C21 are still to be graded from the photo.",
    ),
)

_QUESTION = Question(
    words="Which protection keeps door ironwork better than bare steel through eight weeks of salt spray?",
    written=datetime(2026, 2, 27, 17, 30),
)
_CALENDAR = InspectionDays((0, 1, 2, 4, 7, 14, 28, 56), uid="d8d8d8000000000000000001")

_UNGRADED = tuple(Oddity(56, f"C{number}", "missed") for number in range(16, 22))

_ODDITIES = (
    Oddity(2, "C05", "slip", by=1),
    Oddity(4, "C02", "stated", note="Counted on a grid."),
    Oddity(7, "C03", "slip", by=-1),
    Oddity(7, "C11", "corrected", by=-1, note="Brown dust, wiped off: not rust."),
    Oddity(10, "C08", "missed"),
    Oddity(10, "C09", "missed"),
    Oddity(14, "C15", "slip", by=1, note="Hard to see through the drizzle."),
    Oddity(14, "C17", "stated", note="Counted on a grid."),
    Oddity(21, "C04", "dropping"),
    Oddity(21, "C13", "slip", by=1),
    Oddity(28, "C19", "withdrawn", note="Read off the wrong coupon."),
    Oddity(28, "C10", "noted", note="Specks along the lower edge first."),
    Oddity(42, "C14", "slip", by=1),
    *_UNGRADED,
)

# Jory sees about half a grade less rust than Maren, who sees it as it is.
_BLIND = (
    BlindVisit(
        35,
        (BlindGrader("Maren", 0.0, 3504), BlindGrader("Jory", 0.5, 3502)),
        agreed=(Agreed("C15", 9, "Looked at again together: a few fine specks, and one of brown dust."),),
    ),
    BlindVisit(
        49,
        (BlindGrader("Jory", 0.5, 4901), BlindGrader("Maren", 0.0, 4902)),
        notes=(("C02", "Flakes when rubbed."),),
    ),
)

HARBOUR: Final = DemoBoard(
    plan=Plan(
        board=_BOARD,
        treatments=TREATMENTS,
        coupons=planned_coupons("C", _ROWS, CONTROL),
        markers=corner_markers(_HEIGHT_MM),
        recipes=RECIPES,
        questions=(_QUESTION,),
        layout=HUNG_BY_HAND,
        calendar=_CALENDAR,
    ),
    behaviours=_BEHAVIOURS,
    visits=_VISITS,
    oddities=_ODDITIES,
    seed=21,
    photo_prefix="harbour wall",
    weather=HARBOUR_WEATHER,
    blind=_BLIND,
)
