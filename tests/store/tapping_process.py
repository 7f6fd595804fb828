"""A process that taps grades until it is killed, saying on its output what it has been told is on the disk.

Run with a board folder and a number for the dice. Each line is JSON, the first once the board is open, then one after
every step that returned: the number of steps done by this process, and all that the board shows.
"""

from __future__ import annotations

import json
import random
import sys
import time
from pathlib import Path

from rustboard.board.model import Inspection
from rustboard.board.position import Position
from rustboard.operations.boards import add_line, remove_line
from rustboard.operations.coupons import move_coupon
from rustboard.operations.grading import GivenGrade, grade_coupon, withdraw_grade
from rustboard.operations.inspections import add_inspection
from rustboard.session.session import Session
from rustboard.support.clock import wall_clock
from rustboard.support.problems import InputError

PAUSE_SECONDS = 0.001


def shown(session: Session) -> list[list[object]]:
    """Return all that a person sees of a board: grades that count, and where the coupons hang."""
    record = session.record
    grades = [[each.key, each.coupon, each.inspection, each.grade] for *_, each in record.current_gradings()]
    places = [[each.key, each.position.label if each.position else ""] for each in record.coupons_in_order()]
    return [sorted(grades), sorted(places), [[record.board.rows, sorted(record.inspections)]]]


def step(session: Session, dice: random.Random) -> bool:
    """Do one thing that a user might; return whether anything was done."""
    coupon = dice.choice(sorted(session.record.coupons))
    inspection = dice.choice(sorted(session.record.inspections) or [0])
    thing = dice.random()
    if thing < 0.7:
        given = GivenGrade(coupon, inspection, dice.randrange(11), note="x" * dice.randrange(400))
        return bool(session.do(grade_coupon, given).tables)
    if thing < 0.8:
        return session.undo() is not None
    if thing < 0.85:
        return session.redo() is not None
    if thing < 0.9:
        return bool(session.do(move_coupon, coupon, Position(dice.randrange(3), dice.randrange(7))).tables)
    if thing < 0.93:
        return bool(session.do(withdraw_grade, coupon, inspection).tables)
    if thing < 0.96:
        # A random minute, so that a second process does not meet the same one.
        when = wall_clock().replace(year=2000 + dice.randrange(100), minute=dice.randrange(60))
        return bool(session.do(add_inspection, Inspection(when)).tables)
    rows = session.record.board.rows
    return bool(session.do(add_line if rows < 5 else remove_line, "row", rows - 1).tables)


def say(done: int, session: Session) -> None:
    sys.stdout.write(json.dumps({"done": done, "shown": shown(session)}) + "\n")
    sys.stdout.flush()


def main() -> None:
    dice = random.Random(int(sys.argv[2]))
    session = Session(Path(sys.argv[1]), who="tapper")
    if session.read_only_reason:
        raise SystemExit(session.read_only_reason)
    done = 0
    say(done, session)
    while True:
        try:
            done += step(session, dice)
        except InputError:
            continue  # such as a grade to withdraw where there is none
        say(done, session)
        time.sleep(PAUSE_SECONDS)


if __name__ == "__main__":
    main()
