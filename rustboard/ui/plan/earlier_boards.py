"""The spread of grades on the user's earlier boards, read beside the window once."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Literal

from PySide6.QtCore import QCoreApplication, QObject, Signal, Slot

from rustboard.findings.spread import ASSUMED_SD, LEAST_DEGREES, ROUNDING_SD, Spread, usable_spread
from rustboard.session.earlier_spread import earlier_spread
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.support.text import printable, some_of
from rustboard.ui.bridge import JobBridge
from rustboard.ui.wording import number

State = Literal["not read", "reading", "read"]
_MOST_NAMED = 4


class EarlierBoards(QObject):
    """Reads the boards of the shelf, but for the open one.

    Signals:
        changed(): they have been read.

    Attributes:
        spread: what they show, be it too little to lean on (`findings.spread.usable_spread`); None while they are
            not read, and where they show none.
        state: how far it is.
    """

    changed = Signal()

    def __init__(
        self, settings: Settings | None, open_board: Path, bridge: JobBridge, parent: QObject | None = None
    ) -> None:
        """Remember where to look; without settings there is nothing to read."""
        super().__init__(parent)
        # A copy, because another thread reads it.
        self._settings = None if settings is None else replace(settings, recent=list(settings.recent))
        self._folder, self._bridge = open_board, bridge
        self.spread: Spread | None = None
        self.state: State = "read" if settings is None else "not read"

    def look(self) -> None:
        """Begin to read, unless that was begun before."""
        if self.state != "not read" or self._settings is None:
            return
        self.state = "reading"
        self._bridge.start(
            ("earlier boards", id(self)),
            earlier_spread,
            self._settings,
            self._folder,
            done=self._done,
            failed=self._failed,
            owner=self,
        )

    @Slot(object)
    def _done(self, spread: Spread | None) -> None:
        self.spread, self.state = spread, "read"
        self.changed.emit()

    @Slot(object)
    def _failed(self, _error: InputError) -> None:
        # One board that cannot be read is passed over; this is the shelf itself, which shows its own troubles.
        self._done(None)

    def words(self) -> str:
        """Return what they show as the screen says it."""
        if self.state != "read":
            return _say("Reading your earlier boards…")
        if self.spread is None:
            text = _say(
                "None of your other boards shows it yet, so {0} grade is assumed. Nobody has published a figure."
            )
            return text.format(number(ASSUMED_SD, 2))
        usable = usable_spread(self.spread)
        if usable.too_few:
            text = _say(
                "Your earlier boards have too few coupons treated alike to tell the spread: {0} beyond the first of "
                "each treatment, where it takes {1}. So {2} grade is assumed."
            )
            return text.format(usable.too_few, LEAST_DEGREES, number(usable.sd, 2))
        return spread_words(usable)


def spread_words(spread: Spread) -> str:
    """Return a measured spread with the boards it comes from: ``0.8 grades, from 2 boards (Wall, Porch)``."""
    names = printable(some_of(spread.boards, _MOST_NAMED))
    sd = number(spread.sd, 2)
    amount = _say("1 grade") if sd == "1" else _say("{0} grades").format(sd)
    if spread.sd == ROUNDING_SD:
        amount = _say("{0}, the least that whole grades can show").format(amount)
    if len(spread.boards) == 1:
        return _say("{0}, from 1 board ({1})").format(amount, names)
    return _say("{0}, from {1} boards ({2})").format(amount, len(spread.boards), names)


def _say(text: str) -> str:
    return QCoreApplication.translate("earlier boards", text)
