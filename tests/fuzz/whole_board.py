"""A small board with a row in every table, for what strangers may make of a packed one."""

from __future__ import annotations

import hashlib
import io
from contextlib import closing
from datetime import date, datetime, timedelta
from pathlib import Path

import numpy as np

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound, Showing
from rustboard.board.damage import Damage
from rustboard.board.inspection_days import InspectionDays
from rustboard.board.layout import Layout, Lot
from rustboard.board.measured import Card, Disturbance, ExcludedArea, Measurement, Stroke
from rustboard.board.model import Board, Coupon, Inspection, Photo, Treatment
from rustboard.board.pair_choice import PairChoice
from rustboard.board.position import Position
from rustboard.board.question import Question
from rustboard.board.recipe import Recipe, RecipeStep, TreatmentRecipe
from rustboard.board.shelving import Forerunner, Shelving, Tag
from rustboard.board.weather import DayNote, Site
from rustboard.operations.boards import label_axis
from rustboard.operations.coupons import add_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon
from rustboard.operations.inspections import add_inspection
from rustboard.operations.leaving_out import leave_out
from rustboard.operations.photos import add_photo
from rustboard.operations.treatments import add_treatment
from rustboard.operations.weather import GivenReadings, add_weather_file, describe_site, note_day
from rustboard.operations.weighing import GivenWeighing, note_weighing
from rustboard.session.session import Session
from rustboard.store.blind_tables import BLIND_GRADES, BLIND_INSPECTIONS, BLIND_ROUNDS, DAMAGES, PAIR_CHOICES
from rustboard.store.board_store import create_board
from rustboard.store.measuring_tables import CARDS, DISTURBANCES, EXCLUDED_AREAS, MEASUREMENTS, STROKES
from rustboard.store.photos import keep_photo
from rustboard.store.plan_tables import CALENDARS, LAYOUTS, LOTS, QUESTIONS, RECIPES
from rustboard.store.shelving_tables import FORERUNNERS, SHELVINGS, TAGS
from rustboard.store.tables import BoardRow
from rustboard.support.summary import Summary
from rustboard.weather.packing import pack
from rustboard.weather.readings import ReadingTable

NOW = datetime(2026, 3, 2, 9)
NAME = "Harbour wall"
OUTLINE = ((0.0, 0.0), (60.0, 0.0), (60.0, 120.0), (0.0, 120.0))
PLACED = (0.5, 0.0, 0.0, 0.0, 0.5, 0.0, 0.0, 0.0, 1.0)


def clock() -> datetime:
    return NOW


def whole_board(folder: Path) -> Path:
    """Make a board of 12 coupons in three treatments with four inspections and a row in every table."""
    board = Board(NAME, 3, 7, 700.0, 400.0, 3.0, NOW, "harbour wall", customer="Harbour door ironwork", note="a note")
    create_board(folder, BoardRow(board))
    with closing(Session(folder, who="Ann", clock=clock)) as session:
        for number in range(3):
            session.do(add_treatment, Treatment(f"T{number + 1}", f"wax {number}", "wax", cost_per_m2=3.1, coats=2))
        session.do(label_axis, "row", 0, "under the eaves")
        for number in range(12):
            treatment = number % 3 + 1
            role = "control" if treatment == 3 else "test"
            place = Position(number // 7, number % 7)
            session.do(add_coupon, Coupon(f"C{number + 1:02}", place, treatment, role, "mild steel", OUTLINE, "x"))
        for week in range(4):
            session.do(add_inspection, Inspection(NOW + timedelta(weeks=week), "Ann", "overcast", "dry", "note"))
            for coupon in range(12):
                grade = max(0, 10 - week * (coupon % 3 + 1) - (coupon == 4))
                letter = "S" if 0 < grade < 10 else ""
                session.do(grade_coupon, GivenGrade(coupon + 1, week + 1, grade, letter, grader="Ann"))
        for number, colour in enumerate(((150, 75, 30), (160, 80, 30))):
            file, digest = keep_photo(folder, "board.png", picture(colour), NOW + timedelta(weeks=number))
            photo = Photo(
                f"IMG_{number}.png", file, digest, 350, 200, NOW + timedelta(weeks=number), number + 1, PLACED
            )
            session.do(add_photo, photo)
        session.do(add_weather_file, _readings())
        session.do(note_day, DayNote(date(2026, 3, 2), ("dew", "rain"), 4.2, 11.0, 3.5, 9.0, "from the west"))
        session.do(describe_site, Site("Europe/Berlin", "Tetens", 7, 11, True, 10.0, 60.0))
        session.do(
            note_weighing,
            GivenWeighing(1, datetime(2027, 3, 2, 9), 120.5, (119.2, 119.0), blank_before_g=110.0,
                blank_after_g=(109.99,), thickness_mm=2.0, bare=True, pits=3, pit_depths_um=(80.0, 40.0)),
        )  # fmt: skip
        session.do(leave_out, 12, "fell off in the storm")
        session.do(_put_the_rest)
    return folder


def picture(colour: tuple[int, int, int]) -> bytes:
    from PIL import Image

    stream = io.BytesIO()
    Image.new("RGB", (350, 200), colour).save(stream, "PNG")
    return stream.getvalue()


def _readings() -> GivenReadings:
    dice = np.random.default_rng(1)
    values = {"temperature": dice.normal(10, 8, 200).round(2), "humidity": dice.uniform(30, 100, 200).round(1)}
    packed = pack(ReadingTable(np.arange(200, dtype=np.int64) * 600 + 1_772_000_000, values))
    sha256 = hashlib.sha256(b"wall.csv").hexdigest()
    return GivenReadings(
        "wall.csv", sha256, "wall", "UTC+01:00", ("temperature", "humidity"), 200,
        datetime(2026, 2, 25, 6), datetime(2026, 2, 26, 15), packed, 1, ("row 7: no time.",),
    )  # fmt: skip


def _put_the_rest(tx):
    steps = (RecipeStep("degrease", "alkaline cleaner", quantity=5.0, minutes=10.0), RecipeStep("coat", "wax"))
    tx.put(RECIPES, TreatmentRecipe(1, Recipe(steps, "R1", 2)))
    tx.put(QUESTIONS, Question("chosen", (("T1", "T2"),), words="Which lasts?", written=NOW))
    tx.put(LAYOUTS, Layout(seed=7, drawn_at=NOW, coupon_width_mm=60.0))
    tx.put(LOTS, Lot(1, Position(0, 1)))
    tx.put(CALENDARS, InspectionDays((0, 1, 2, 4), uid="ab" * 12))
    at = NOW.isoformat()
    tx.put(
        MEASUREMENTS,
        Measurement(0, 1, 1, 1, "a" * 40, 0.2, 0.1, 0.4, 3, 1.5, "S", 0.0, 1.0, 0.01, True, True,
            (0.0, 0.0, 0.0, 1.0), "there", ("surface wet",), at),
    )  # fmt: skip
    tx.put(STROKES, Stroke(1, 1, True, 2.5, ((1.0, 2.0), (3.0, 4.0))))
    tx.put(EXCLUDED_AREAS, ExcludedArea(1, "hole", ((1.0, 1.0), (5.0, 1.0), (5.0, 5.0))))
    tx.put(CARDS, Card("grey card", ((600.0, 300.0), (650.0, 300.0), (650.0, 350.0))))
    tx.put(DISTURBANCES, Disturbance(NOW, "touched", 1, "by the cat"))
    shown = (Showing(1), Showing(2, "mirrored"), Showing(1, "half turn", again=True))
    blind = tx.put(BLIND_INSPECTIONS, BlindInspection(2, "photo", 1, 25.0, NOW, NOW))
    found = tx.put(BLIND_ROUNDS, BlindRound(blind, "Ann", 7, shown, NOW, NOW))
    tx.put(BLIND_GRADES, BlindGrade(0, found, 0, 1, 7, "S", 0.2, "note", at))
    tx.put(PAIR_CHOICES, PairChoice(0, 1, "Ann", 1, 2, "left", at))
    tx.put(DAMAGES, Damage(0, 1, 1, "creep", None, "", 1.0, (2.5, 3.0), "Ann", "", at))
    tx.put(TAGS, Tag("spring"))
    tx.put(SHELVINGS, Shelving(archived=True))
    tx.put(FORERUNNERS, Forerunner("Porch", NOW, "oil", "wax", "Porch"))
    return Summary("Put a row in every table")
