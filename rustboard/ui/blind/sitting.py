"""One grader before the screen: his round, what he can see of it, and what he may take back."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QCoreApplication
from PySide6.QtGui import QImage

from rustboard.board.blind import BlindGrade, BlindInspection, BlindRound
from rustboard.board.grade import written
from rustboard.operations.blind import GivenBlind, give_blind
from rustboard.session.blind_rounds import graded_in
from rustboard.session.changes import ChangeSet
from rustboard.session.own_steps import OwnSteps
from rustboard.session.session import Session
from rustboard.ui.doing import Do


class Sitting:
    """A round while somebody grades in it.

    Attributes:
        round_key: the round. pictures: of the coupons, by key; None while they are not there.
    """

    def __init__(self, session: Session, blind: BlindInspection, do: Do) -> None:
        """Start without a round."""
        self._session, self._blind, self._do = session, blind, do
        self._steps = OwnSteps(session)
        self.round_key = 0
        self.pictures: dict[int, QImage] | None = None

    def sit_down(self, round_key: int) -> None:
        """Begin a sitting in a round; nothing from before can be taken back in it."""
        self.round_key = round_key
        self._steps.begin()

    def round(self) -> BlindRound | None:
        """Return the round, or None where it is gone."""
        return self._session.record.blind_rounds.get(self.round_key)

    def given(self, number: int) -> BlindGrade | None:
        """Return the grade of a showing, or None."""
        return self._session.record.blind_grades.get(self.round_key, {}).get(number)

    def graded(self) -> int:
        """Return how many showings have a grade."""
        of_round = self.round()
        return 0 if of_round is None else graded_in(self._session.record, of_round)

    def at_the_bench(self) -> bool:
        """Return whether the coupons are in the grader's hand."""
        return self._blind.basis == "bench"

    def is_seen(self, number: int) -> bool:
        """Return whether the grader sees the coupon of a showing."""
        of_round = self.round()
        if of_round is None or self.at_the_bench():
            return of_round is not None
        return self.pictures is not None and of_round.showings[number].coupon in self.pictures

    def may_grade(self, number: int) -> bool:
        """Return whether a grade may be given: nobody grades what he does not see."""
        return self.is_seen(number) and not self._session.read_only_reason

    def state_text(self, number: int) -> str:
        """Return how a showing stands, in a few words."""
        of_round, given = self.round(), self.given(number)
        if of_round is None:
            return ""
        if not self.is_seen(number):
            if self.pictures is None:
                return _say("The photo is not there yet")
            return _say("The photo does not show this coupon; skip it")
        if self.graded() == len(of_round.showings):
            return _say("All {0} graded: look over what you doubt, then finish").format(len(of_round.showings))
        if given is not None:
            return _say("you gave {0}").format(written(given.grade, given.distribution))
        return _say("{0} graded").format(self.graded())

    def do(self, operation: Callable[..., object], *arguments: object, origin: object) -> ChangeSet | None:
        """Run an operation that this sitting may take back."""
        changes = self._do(operation, *arguments, origin=origin)
        if changes is not None and changes.tables:
            self._steps.add_newest()
        return changes

    def give_again(self, new: BlindGrade, origin: object) -> ChangeSet | None:
        """Record a grade with another letter or note."""
        given = GivenBlind(new.round, new.number, new.grade, new.distribution, new.percent, new.note)
        return self.do(give_blind, given, origin=origin)

    def can_undo(self) -> bool:
        """Return whether the newest step is one of this sitting."""
        return self._steps.can_undo()

    def undo(self, origin: object) -> int | None:
        """Take the last step of this sitting back; return the number of the showing it was about.

        Raises:
            InputError: the disk refused.
        """
        changes = self._steps.undo(origin)
        return None if changes is None else int(changes.summary.parts[0]) - 1


def _say(text: str) -> str:
    return QCoreApplication.translate("blind", text)
