"""Long work beside the window: frozen request in, pure function in a pool, frozen response out.

Nothing here knows Qt. A response arrives on a pool thread; the window's bridge carries it to the GUI thread. A newer
request under the same key makes an older one stale, and a stale response is dropped.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Hashable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Any


class Cancelled(Exception):  # noqa: N818 - not an error: the user asked for it
    """Raised inside a job when it was cancelled."""


class Progress:
    """What a job may tell and ask while it works; safe from any thread."""

    def __init__(self, tell: Callable[[int, int], None] | None = None) -> None:
        """Remember whom to tell: ``tell(done, total)``."""
        self._tell = tell
        self._cancelled = threading.Event()

    def cancel(self) -> None:
        """Ask the job to stop."""
        self._cancelled.set()

    @property
    def cancelled(self) -> bool:
        """Whether the job was asked to stop."""
        return self._cancelled.is_set()

    def step(self, done: int, total: int) -> None:
        """Tell how far the job is.

        Raises:
            Cancelled: the user asked to stop.
        """
        if self.cancelled:
            raise Cancelled
        if self._tell is not None:
            self._tell(done, total)


@dataclass(frozen=True, slots=True)
class Outcome:
    """How a job ended.

    Attributes:
        key: of the request.
        job: what `Jobs.submit` returned for it; an outcome may still be on its way when its job becomes stale.
        value: what the function returned, or None.
        error: what it raised, or None.
    """

    key: Hashable
    job: Progress
    value: Any = None
    error: Exception | None = None


class InlineExecutor(Executor):
    """Runs every job at once, on the caller's thread; for tests and for work without a window."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        """Run ``fn`` now."""
        future: Future[Any] = Future()
        future.set_result(fn(*args, **kwargs))
        return future


class Jobs:
    """Jobs by key in a pool; ``deliver`` gets each outcome that is not stale, on whatever thread it ended."""

    def __init__(self, deliver: Callable[[Outcome], None], executor: Executor | None = None) -> None:
        """Start a pool of two threads unless another executor is given."""
        self._deliver = deliver
        self._executor = executor or ThreadPoolExecutor(max_workers=2, thread_name_prefix="rustboard-job")
        self._guard = threading.Lock()
        self._newest: dict[Hashable, Progress] = {}

    def submit(
        self, key: Hashable, function: Callable[..., Any], *arguments: Any, progress: Progress | None = None
    ) -> Progress:
        """Run ``function(*arguments, progress)`` in the pool; an older job under the same key becomes stale."""
        mine = progress or Progress()
        with self._guard:
            older = self._newest.get(key)
            self._newest[key] = mine
        if older is not None:
            older.cancel()
        self._executor.submit(self._run, key, mine, function, arguments)
        return mine

    def close(self) -> None:
        """Cancel what waits and runs, and wait for what runs to notice."""
        with self._guard:
            for progress in self._newest.values():
                progress.cancel()
            self._newest.clear()
        self._executor.shutdown(wait=True, cancel_futures=True)

    def _run(self, key: Hashable, mine: Progress, function: Callable[..., Any], arguments: tuple[Any, ...]) -> None:
        outcome = Outcome(key, mine, error=Cancelled())
        if not mine.cancelled:
            try:
                outcome = Outcome(key, mine, function(*arguments, mine))
            except Exception as error:  # noqa: BLE001 - carried to the window, which tells the two families apart
                outcome = Outcome(key, mine, error=error)
        with self._guard:
            if self._newest.get(key) is not mine:
                return
            del self._newest[key]
        self._deliver(outcome)
