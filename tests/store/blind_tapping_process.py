"""A process that grades blind until it is killed, saying on its output what it has been told is on the disk.

Run with a board folder, whose one blind inspection is hidden, and a number for the dice. Each line is JSON, the first
once the board is open, then one after every step that returned: the number of steps done by this process, and all
that is known of the blind rounds.
"""

from __future__ import annotations

import json
import random
import sys
import time
from pathlib import Path

from rustboard.operations.blind import GivenBlind, begin_round, finish_round, give_blind, withdraw_blind
from rustboard.session.session import Session
from rustboard.support.problems import InputError

PAUSE_SECONDS = 0.001


def shown(session: Session) -> list[list[object]]:
    """Return the rounds with their order, and the grades that count in them."""
    record = session.record
    rounds = [
        [each.key, each.grader, each.seed, [list(one) for one in each.showings], each.finished is not None]
        for each in record.blind_rounds.values()
    ]
    grades = [
        [key, number, each.key, each.grade, each.note]
        for key, given in record.blind_grades.items()
        for number, each in given.items()
    ]
    return [sorted(rounds), sorted(grades)]


def step(session: Session, dice: random.Random) -> bool:
    """Do one thing that a grader might; return whether anything was done."""
    rounds = session.record.blind_rounds
    current = next((each for each in rounds.values() if each.finished is None), None)
    if current is None:
        return bool(session.do(begin_round, 1, f"G{len(rounds)}", dice.randrange(2**62)).tables)
    given = session.record.blind_grades.get(current.key, {})
    thing = dice.random()
    if thing < 0.1:
        return session.undo() is not None
    if thing < 0.15:
        return session.redo() is not None
    if thing < 0.2 and given:
        return bool(session.do(withdraw_blind, current.key, dice.choice(sorted(given))).tables)
    left = [number for number in range(len(current.showings)) if number not in given]
    if not left:
        return bool(session.do(finish_round, current.key).tables)
    number = dice.choice(sorted(given)) if given and thing < 0.3 else left[0]
    grade = GivenBlind(current.key, number, dice.randrange(11), note="x" * dice.randrange(400))
    return bool(session.do(give_blind, grade).tables)


def main() -> None:
    dice = random.Random(int(sys.argv[2]))
    session = Session(Path(sys.argv[1]), who="grader")
    if session.read_only_reason:
        raise SystemExit(session.read_only_reason)
    done = 0
    while True:
        sys.stdout.write(json.dumps({"done": done, "shown": shown(session)}) + "\n")
        sys.stdout.flush()
        time.sleep(PAUSE_SECONDS)
        try:
            done += step(session, dice)
        except InputError:
            continue  # such as undo where the round before was finished


if __name__ == "__main__":
    main()
