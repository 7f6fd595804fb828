"""The demo's second board, half a year earlier: the same treatments under a porch roof, where iron rusts slowly."""

from __future__ import annotations

from datetime import datetime, time
from typing import Final

from rustboard.app.demo.porch_weather import PORCH_WEATHER
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

_HEIGHT_MM = 270.0

_BOARD = Board(
    name="Porch roof autumn",
    rows=2,
    columns=7,
    width_mm=BOARD_WIDTH_MM,
    height_mm=_HEIGHT_MM,
    edge_margin_mm=EDGE_MARGIN_MM,
    started=datetime(2025, 9, 15, 8, 30),
    site="porch of the smithy",
    shelter="under a roof",
    incline_deg=45.0,
    facing_deg=180.0,
    customer="Harbour door ironwork",
    shop="the demo smithy",
    note="A first trial close to home, out of the rain.\n"
    "A made-up board to look around in; nothing on it was measured.",
)

_ROWS = ("T2 T5 T1 T7 T4 T6 T3", "T7 T3 T6 T5 T2 T1 T4")

_BEHAVIOURS = {
    "T1": Behaviour("S", starts=11.0, late_percent=0.05, bend=1.9, pace=(0.5, 1.2)),
    "T2": Behaviour("G", starts=6.0, late_percent=0.42, bend=1.8, pace=(0.6, 1.3)),
    "T3": Behaviour("S", starts=20.0, late_percent=0.012, bend=1.8, pace=(0.5, 1.3)),
    "T4": Behaviour("S", starts=8.0, late_percent=0.16, bend=1.9, pace=(1.2, 0.55)),
    "T5": Behaviour("P", starts=5.0, late_percent=0.9, bend=1.8, pace=(1.3, 0.8)),
    "T6": Behaviour("G", starts=2.4, late_percent=4.6, bend=1.6, pace=(0.9, 1.25)),
    CONTROL: Behaviour("G", starts=0.8, late_percent=24.0, bend=1.35, pace=(0.9, 1.2)),
}

_VISITS = (
    Inspection(datetime(2025, 9, 15, 8, 30), "Tove", "overcast", "dry", "Hung up under the roof's edge."),
    Inspection(datetime(2025, 9, 16, 8, 40), "Tove", "overcast", "dry", ""),
    Inspection(datetime(2025, 9, 17, 8, 30), "Tove", "overcast", "dry", "Fog in the morning."),
    Inspection(datetime(2025, 9, 19, 8, 30), "Maren", "bright", "dry", ""),
    Inspection(datetime(2025, 9, 22, 8, 35), "Tove", "overcast", "dry", ""),
    Inspection(datetime(2025, 9, 25, 8, 30), "Tove", "overcast", "dry", "Wind drove some rain in."),
    Inspection(datetime(2025, 9, 29, 8, 20), "Maren", "low sun", "dry", ""),
    Inspection(datetime(2025, 10, 6, 8, 30), "Tove", "overcast", "dry", "Cobwebs cleared."),
    Inspection(datetime(2025, 10, 13, 8, 30), "Tove", "overcast", "dry", ""),
    Inspection(datetime(2025, 10, 20, 8, 45), "Maren", "overcast", "dry", "First cold night."),
    Inspection(datetime(2025, 10, 27, 8, 30), "Tove", "low sun", "dry", "Clocks changed; graded by the old hour."),
    Inspection(datetime(2025, 11, 3, 8, 30), "Tove", "overcast", "dry", "Taken down after grading."),
)

_QUESTION = Question(
    words="Does any protection differ from bare steel under a roof within seven weeks?",
    written=datetime(2025, 9, 12, 16, 0),
)
_CALENDAR = InspectionDays((0, 1, 2, 4, 7, 14, 28, 49), time(8, 30), remind=False, uid="d8d8d8000000000000000002")

_ODDITIES = (
    Oddity(4, "P04", "slip", by=1),
    Oddity(10, "P10", "slip", by=-1),
    Oddity(21, "P08", "stated", note="Counted on a grid."),
    Oddity(28, "P06", "slip", by=1),
    Oddity(35, "P12", "missed"),
    Oddity(49, "P04", "stated", note="Counted on a grid."),
)

PORCH: Final = DemoBoard(
    plan=Plan(
        board=_BOARD,
        treatments=TREATMENTS,
        coupons=planned_coupons("P", _ROWS, CONTROL),
        markers=corner_markers(_HEIGHT_MM),
        recipes=RECIPES,
        questions=(_QUESTION,),
        layout=HUNG_BY_HAND,
        calendar=_CALENDAR,
    ),
    behaviours=_BEHAVIOURS,
    visits=_VISITS,
    oddities=_ODDITIES,
    seed=14,
    photo_prefix="porch roof",
    weather=PORCH_WEATHER,
)
