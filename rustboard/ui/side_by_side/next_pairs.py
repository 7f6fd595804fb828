"""Finds the next pair: at once where there are few coupons, else beside the window and ahead of the answer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from rustboard.board.pair_choice import RUSTIER
from rustboard.session.jobs import Progress
from rustboard.session.side_by_side import FEW_COUPONS, PairRequest, next_pair
from rustboard.support.problems import InputError
from rustboard.ui.bridge import JobBridge

if TYPE_CHECKING:
    from rustboard.findings.side_by_side.choices import Pair


class NextPairs(QObject):
    """Answers what to show next; of many coupons it works out the next pair for all three answers meanwhile.

    Signals:
        found(object, object): the `PairRequest` and its pair, or None when it is enough.
        failed(str): a sentence.
    """

    found = Signal(object, object)
    failed = Signal(str)

    def __init__(self, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start with nothing known."""
        super().__init__(parent)
        self._bridge = bridge
        self._ahead: dict[PairRequest, Pair | None] = {}
        self._wanted: PairRequest | None = None

    def ask(self, request: PairRequest) -> None:
        """Find the pair of a request; `found` is told now or later, of the last request alone."""
        self._wanted = request
        if request in self._ahead:
            self._tell(request, self._ahead[request])
        elif len(request.coupons) <= FEW_COUPONS:
            self._tell(request, next_pair(request))
        else:
            self._start("next pair", [request])

    def look_ahead(self, request: PairRequest, pair: Pair) -> None:
        """Work out, where there are many coupons, what follows each answer to a pair that is being looked at."""
        self._ahead = {}
        if len(request.coupons) > FEW_COUPONS:
            self._start("pairs ahead", [request.after(pair, rustier) for rustier in RUSTIER])

    def _start(self, name: str, requests: list[PairRequest]) -> None:
        self._bridge.start((name, id(self)), pairs_of, requests, done=self._come, failed=self._refused, owner=self)

    def _come(self, pairs: dict[PairRequest, Pair | None]) -> None:
        self._ahead.update(pairs)
        if self._wanted in pairs:
            self._tell(self._wanted, pairs[self._wanted])

    def _refused(self, error: InputError) -> None:
        self.failed.emit(str(error))

    def _tell(self, request: PairRequest, pair: Pair | None) -> None:
        self._wanted = None
        self.found.emit(request, pair)


def pairs_of(requests: list[PairRequest], progress: Progress) -> dict[PairRequest, Pair | None]:
    """Return the pair of each request; a job."""
    return {each: next_pair(each, progress) for each in requests}
