"""``rustboard measure``: the rust in a board's photos."""

from __future__ import annotations

import argparse
import os
from contextlib import closing
from pathlib import Path
from typing import Any

from rustboard.app.commands.opening import existing
from rustboard.app.commands.outcome import Outcome, Tell, problem_objects
from rustboard.app.commands.plain_table import plain_table
from rustboard.board.measured import Measurement
from rustboard.board.model import Photo
from rustboard.board.record import BoardRecord
from rustboard.operations.measuring import keep_measuring
from rustboard.scales.rust_grade import grade_from_percent
from rustboard.session.jobs import Progress
from rustboard.session.measuring import MeasureResult, measure, measuring_request
from rustboard.session.photo_days import photos_in_order, time_of
from rustboard.session.session import Session
from rustboard.support.problems import InputError, Problem
from rustboard.support.settings import load_settings

HIDDEN = "graded blind just now; its figures are told when it is revealed"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Say what the command takes."""
    parser.add_argument("board", metavar="BOARD", type=Path, help="the board's folder or its board.rustboard file")
    parser.add_argument(
        "--again", action="store_true", help="measure every photo anew, also those that were measured before"
    )
    parser.add_argument("--json", action="store_true", help="print JSON, for scripts")


def carry_out(arguments: argparse.Namespace, tell: Tell) -> Outcome:
    """Find the board in the photos that have none yet, measure, and record what was found.

    Raises:
        InputError: there is no sound board, another window has it open, or no coupon can be measured.
    """
    with closing(Session(existing(arguments.board), who=load_settings().grader)) as session:
        if session.read_only_reason:
            raise InputError(session.read_only_reason)
        result = measure_board(session, tell, again=arguments.again)
        record = session.record
    problems = (*result.problems, *_unplaced(record, result))
    return Outcome(text_of(record), data_of(record, problems), problems)


def measure_board(session: Session, tell: Tell, *, again: bool = False) -> MeasureResult:
    """Measure what a board needs measured and record it, telling of every tenth part."""
    request = measuring_request(session, again=again, processes=os.cpu_count() or 1)
    result = measure(request, Progress(_Tenths(tell)))
    if result.placings or result.measurements:
        session.do(keep_measuring, result.placings, result.measurements)
    return result


class _Tenths:
    """Tells of every tenth part of the work."""

    def __init__(self, tell: Tell) -> None:
        self._tell, self._told = tell, -1

    def __call__(self, done: int, total: int) -> None:
        tenths = 10 * done // max(total, 1)
        if tenths > self._told:
            self._told = tenths
            self._tell(f"Measuring ({10 * tenths} %)")


def _unplaced(record: BoardRecord, result: MeasureResult) -> list[Problem]:
    """Return why photos have no place, those told already left out."""
    because = [
        InputError(photo.unplaced_because, file=photo.name).problem
        for photo in photos_in_order(record)
        if photo.unplaced_because
    ]
    return [each for each in because if each not in result.problems]


def data_of(record: BoardRecord, problems: tuple[Problem, ...]) -> dict[str, Any]:
    """Return all that was measured on a board, now or before, as scripts get it."""
    return {
        "board": record.board.name,
        "photos": [_photo(record, photo) for photo in photos_in_order(record)],
        "problems": problem_objects(problems),
    }


def _hidden(record: BoardRecord) -> frozenset[int]:
    """Return the photos of an inspection that is being graded blind: nobody is told what they say."""
    blind = record.hidden_inspection
    if blind is None:
        return frozenset()
    return frozenset(each.key for each in record.photos.values() if each.inspection == blind.inspection)


def _photo(record: BoardRecord, photo: Photo) -> dict[str, Any]:
    when = time_of(record, photo)
    hidden = photo.key in _hidden(record)
    measured = {} if hidden else record.measured.get(photo.key, {})
    refused = (photo.unplaced_because,) if photo.unplaced_because else ()
    return {
        "file": photo.name,
        "taken": None if when is None else when.isoformat(),
        "registered": photo.mm_to_px is not None,
        "registration_error_px": None if photo.placing_error_px is None else round(photo.placing_error_px, 3),
        "warnings": [*(photo.warnings if photo.mm_to_px is not None else refused), *([HIDDEN] if hidden else [])],
        "coupons": {
            coupon.id: _coupon(measured[coupon.key]) for coupon in record.coupons_in_order() if coupon.key in measured
        },
    }


def _coupon(each: Measurement) -> dict[str, Any]:
    return {
        "percent": each.percent,
        "low": each.low,
        "high": each.high,
        "grade": None if each.percent is None else grade_from_percent(each.percent),
        "distribution": each.distribution,
        "debris_percent": each.debris_percent,
        "unseen_percent": each.unseen_percent,
        "resolvable_percent": each.resolvable_percent,
        "warnings": list(each.warnings),
    }


def text_of(record: BoardRecord) -> str:
    """Return the newest measurements as a table for people, and how many photos there are."""
    hidden = _hidden(record)
    photos = [each for each in photos_in_order(record) if each.key in record.measured and each.key not in hidden]
    if not photos and hidden:
        return f"{record.board.name}: {HIDDEN}."
    if not photos:
        return f"Nothing is measured on {record.board.name} yet."
    newest = photos[-1]
    when = time_of(record, newest)
    titles = ("coupon", "rusted %", "range", "grade", "remarks")
    rows = []
    for coupon in record.coupons_in_order():
        found = record.measured[newest.key].get(coupon.key)
        if found is not None:
            rows.append((coupon.id, *_figures(found), "; ".join(found.warnings)))
    head = f"{record.board.name}: {len(photos)} of {len(record.photos)} photos measured; the newest, {newest.name}"
    taken = "" if when is None else f" of {when:%Y-%m-%d %H:%M}"
    return f"{head}{taken}:\n{plain_table(titles, rows, frozenset(titles[1:2]))}"


def _figures(each: Measurement) -> tuple[str, str, str]:
    if each.percent is None or each.low is None or each.high is None:
        return ("", "", "")
    grade = grade_from_percent(each.percent)
    letter = f"-{each.distribution}" if each.distribution else ""
    return f"{each.percent:.3g}", f"{each.low:.2g} to {each.high:.2g}", f"{grade}{letter}"
