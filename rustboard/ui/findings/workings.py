"""The findings of a board worked out beside the window: a first answer at once, then the exact tests."""

from __future__ import annotations

from typing import Literal

from PySide6.QtCore import QObject, Signal, Slot

from rustboard.findings.conclude.findings import Findings
from rustboard.findings.factors.words import factor_words
from rustboard.findings.sentence import Sentence
from rustboard.findings.value.words import value_words
from rustboard.session.findings import FindingsAsked, View, asked, first_findings, whole_findings
from rustboard.session.jobs import Progress
from rustboard.session.session import Session
from rustboard.support.problems import InputError
from rustboard.support.settings import Settings
from rustboard.ui.bridge import JobBridge
from rustboard.ui.weather_source import WeatherSource

State = Literal["idle", "first", "exact", "stopped"]


class Workings(QObject):
    """What is worked out, how far it is, and what was refused.

    Signals:
        arrived(): there are new findings. moved(): the work began, went on, or ended.

    Attributes:
        found: the newest findings of what was last wanted, or of what was wanted before; None before the first.
        state: ``first``: nothing yet; ``exact``: the exact tests are worked out; ``stopped``: the user stopped them.
        progress: of the exact tests, done and total. error: what was refused, or None.
        more: sentences about factors and value that go with the findings.
    """

    arrived = Signal()
    moved = Signal()

    def __init__(
        self, session: Session, bridge: JobBridge, weather: WeatherSource, settings: Settings, parent: QObject
    ) -> None:
        """Start without findings."""
        super().__init__(parent)
        self._session, self._bridge, self._weather, self._settings = session, bridge, weather, settings
        self._wanted: View | None = None
        self._asked: FindingsAsked | None = None
        self._job: Progress | None = None
        self.found: Findings | None = None
        self.state: State = "idle"
        self.progress = (0, 0)
        self.error: InputError | None = None

    @property
    def more(self) -> tuple[Sentence, ...]:
        """Sentences about finish and protectant, and about cost and time."""
        found = self.found
        if found is None:
            return ()
        factors = () if found.factors is None else factor_words(found.factors, found.subject)
        return (*factors, *(() if found.value is None else value_words(found.value)))

    def want(self, view: View) -> None:
        """Work out the findings of the board seen so, unless they are there or under way."""
        if self._wanted == view:
            return
        self.forget()
        self._wanted, self.error = view, None
        try:
            track = None if self._weather.is_working() else self._weather.track()
            self._asked = asked(self._session, view, self._settings, track)
        except InputError as error:
            self._fail(error)
            return
        self._start("first")

    def forget(self) -> None:
        """Stop the work; what was worked out no longer fits the board. What is shown stays until there is new."""
        self._cancel()
        self._wanted, self._asked, self.state = None, None, "idle"

    @Slot()
    def stop(self) -> None:
        """Stop the exact tests; the first answer stays."""
        self._cancel()
        self.state = "stopped"
        self.moved.emit()

    @Slot()
    def resume(self) -> None:
        """Work out the exact tests after all."""
        if self._asked is not None:
            self._start("first" if self.found is None else "exact")

    def _cancel(self) -> None:
        if self._job is not None:
            self._job.cancel()
            self._job = None

    def _start(self, state: State) -> None:
        self._cancel()
        self.state, self.progress = state, (0, 0)
        self.moved.emit()
        first = state == "first"
        job = self._bridge.start(
            ("findings", id(self)),
            first_findings if first else whole_findings,
            self._asked,
            done=self._have_first if first else self._have_all,
            failed=self._fail,
            told=None if first else self._hear,
            owner=self,
        )
        if self._bridge.is_waited_for(job):  # an inline pool of a test is done within the start
            self._job = job

    def _have_first(self, found: Findings) -> None:
        self._job, self.found = None, found
        self.arrived.emit()
        self._start("exact")

    def _have_all(self, found: Findings) -> None:
        self._job, self.found, self.state = None, found, "idle"
        self.arrived.emit()
        self.moved.emit()

    def _hear(self, done: int, total: int) -> None:
        self.progress = (done, total)
        self.moved.emit()

    def _fail(self, error: InputError) -> None:
        self._job, self.error, self.state = None, error, "idle"
        self.moved.emit()
