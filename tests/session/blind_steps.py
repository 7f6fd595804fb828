"""Steps of blind grading for the tests of the session."""

from __future__ import annotations

from rustboard.operations.blind import BlindChoice, GivenBlind, begin_round, finish_round, give_blind, start_blind
from rustboard.session.session import Session


def start(session: Session, inspection: int = 1, repeats: float = 50.0) -> int:
    """Hide an inspection; return the key of the blind inspection."""
    (key,) = session.do(start_blind, BlindChoice(inspection, "bench", None, repeats)).tables["blind_inspection"]
    return key


def begin(session: Session, blind: int, grader: str, seed: int = 7) -> int:
    """Begin a grader's round; return its key."""
    (key,) = session.do(begin_round, blind, grader, seed).tables["blind_round"]
    return key


def give_all(session: Session, key: int, grade: int) -> None:
    """Give every showing of a round the same grade."""
    for number in range(len(session.record.blind_rounds[key].showings)):
        session.do(give_blind, GivenBlind(key, number, grade))


def whole_round(session: Session, blind: int, grader: str, grade: int) -> int:
    """Let a grader give every showing the same grade and finish; return the key of the round."""
    key = begin(session, blind, grader)
    give_all(session, key, grade)
    session.do(finish_round, key)
    return key
