"""Carries the outcomes of jobs from pool threads to the GUI thread, and nothing else."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from concurrent.futures import Executor
from typing import Any, NamedTuple

import shiboken6
from PySide6.QtCore import QObject, Qt, Signal, Slot

from rustboard.session.jobs import Cancelled, Jobs, Outcome, Progress
from rustboard.support.problems import InputError

Done = Callable[[Any], None]
Failed = Callable[[InputError], None]
Told = Callable[[int, int], None]


class _Waiting(NamedTuple):
    """Whom to call when a job comes back."""

    job: Progress
    done: Done
    failed: Failed
    told: Told | None
    owner: QObject | None

    def is_orphan(self) -> bool:
        """Return whether the screen that asked has been closed and deleted."""
        return self.owner is not None and not shiboken6.isValid(self.owner)


class JobBridge(QObject):
    """Starts jobs for a window and calls back on the GUI thread.

    Signals:
        arrived(object): an `Outcome`, emitted on a pool thread, received on the GUI thread.
        progressed(object, int, int): key, done, total.
    """

    arrived = Signal(object)
    progressed = Signal(object, int, int)

    def __init__(self, parent: QObject | None = None, executor: Executor | None = None) -> None:
        """Start the pool, or use the executor given (tests hand in an inline one)."""
        super().__init__(parent)
        self._jobs = Jobs(self._deliver, executor)
        self._waiting: dict[Hashable, _Waiting] = {}
        self._closed = False
        self.arrived.connect(self._receive, Qt.ConnectionType.AutoConnection)
        self.progressed.connect(self._tell, Qt.ConnectionType.AutoConnection)

    def start(
        self,
        key: Hashable,
        function: Callable[..., Any],
        *arguments: Any,
        done: Done,
        failed: Failed,
        told: Told | None = None,
        owner: QObject | None = None,
    ) -> Progress:
        """Run ``function(*arguments, progress)`` beside the window.

        ``done(value)``, ``failed(error)`` and ``told(done, total)`` are called on the GUI thread; a cancelled job
        calls nothing, nor does one whose ``owner`` is gone when it comes back. An error that is not the user's is
        raised on the GUI thread, where the crash hook sees it; ``failed`` is called before, with a sentence, so that
        nobody goes on waiting.
        """
        job = Progress(_Teller(self, key)) if told is not None else Progress()
        if self._closed:
            job.cancel()
            return job
        self._waiting[key] = _Waiting(job, done, failed, told, owner)
        return self._jobs.submit(key, function, *arguments, progress=job)

    def close(self) -> None:
        """Stop everything; nothing is called back any more."""
        self._closed = True
        self._waiting.clear()
        self._jobs.close()

    def busy(self) -> bool:
        """Return whether any job has not come back yet."""
        return bool(self._waiting)

    def is_waited_for(self, job: Progress) -> bool:
        """Return whether this job has not come back yet."""
        return any(each.job is job for each in self._waiting.values())

    def _deliver(self, outcome: Outcome) -> None:
        if not self._closed:
            self.arrived.emit(outcome)

    @Slot(object)
    def _receive(self, outcome: Outcome) -> None:
        waiting = self._waiting.get(outcome.key)
        if waiting is None or waiting.job is not outcome.job:
            return  # a newer request was made while this outcome was on its way
        del self._waiting[outcome.key]
        if outcome.job.cancelled or isinstance(outcome.error, Cancelled) or waiting.is_orphan():
            return
        if isinstance(outcome.error, InputError):
            waiting.failed(outcome.error)
        elif outcome.error is not None:
            try:
                waiting.failed(
                    InputError(self.tr("Rustboard made a mistake of its own; what was saved before is safe."))
                )
            finally:
                raise outcome.error
        else:
            waiting.done(outcome.value)

    @Slot(object, int, int)
    def _tell(self, key: Hashable, done: int, total: int) -> None:
        waiting = self._waiting.get(key)
        if waiting is not None and waiting.told is not None and not waiting.is_orphan():
            waiting.told(done, total)


class _Teller:
    """Tells the bridge how far one job is; called on a pool thread."""

    def __init__(self, bridge: JobBridge, key: Hashable) -> None:
        self._bridge = bridge
        self._key = key

    def __call__(self, done: int, total: int) -> None:
        self._bridge.progressed.emit(self._key, done, total)
