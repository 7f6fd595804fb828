"""Runs the parts of a measurement in other processes where there are enough of them, else one after another here."""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import Final, Protocol, TypeVar

_LOG = logging.getLogger(__name__)

Request = TypeVar("Request")
Answer = TypeVar("Answer")
Told = Callable[[int], None]
"""Hears how many parts are done; may raise to stop."""

LEAST_FOR_PROCESSES: Final = 3
"""For fewer parts, starting processes takes longer than the work."""
_LOOK_AGAIN_SECONDS: Final = 0.2


class Pool(Protocol):
    """Runs many parts."""

    def run(self, function: Callable[[Request], Answer], parts: Sequence[Request], told: Told) -> list[Answer]:
        """Return the answers in the order of the parts; ``told`` may raise to stop."""


def usable_processes() -> int:
    """Return how many processes may work beside a window without holding it up."""
    return max(1, (os.cpu_count() or 2) - 1)


@contextmanager
def pool_of(processes: int) -> Iterator[Pool]:
    """Give a pool; 0 processes: everything runs here."""
    if processes <= 0:
        yield _Here()
        return
    pool = _Processes(processes)
    try:
        yield pool
    finally:
        pool.close()


class _Here:
    """Runs parts one after another."""

    def run(self, function: Callable[[Request], Answer], parts: Sequence[Request], told: Told) -> list[Answer]:
        answers: list[Answer] = []
        for number, part in enumerate(parts):
            told(number)
            answers.append(function(part))
        told(len(parts))
        return answers


class _Processes:
    """Runs parts in processes that are started when there are enough parts, and ended with the measurement."""

    def __init__(self, processes: int) -> None:
        self._processes = processes
        self._executor: ProcessPoolExecutor | None = None

    def close(self) -> None:
        """Drop what waits, and end the processes once what they work on is done."""
        if self._executor is not None:
            self._executor.shutdown(wait=True, cancel_futures=True)
            self._executor = None

    def run(self, function: Callable[[Request], Answer], parts: Sequence[Request], told: Told) -> list[Answer]:
        if len(parts) < LEAST_FOR_PROCESSES and self._executor is None:
            return _Here().run(function, parts, told)
        answers: dict[int, Answer] = {}
        try:
            self._run(function, parts, told, answers)
        except BrokenProcessPool:
            # The system ended a process, such as for want of memory: what is left is done here, one at a time.
            _LOG.warning("a measuring process was ended from outside; going on in this one")
            self._executor = None
        left = [number for number in range(len(parts)) if number not in answers]
        for number in left:
            told(len(answers))
            answers[number] = function(parts[number])
        told(len(parts))
        return [answers[number] for number in range(len(parts))]

    def _run(
        self, function: Callable[[Request], Answer], parts: Sequence[Request], told: Told, answers: dict[int, Answer]
    ) -> None:
        if self._executor is None:
            # Not by a copy of this process: it has a window and threads, whose locks a copy would find as they were.
            context = multiprocessing.get_context("spawn")
            self._executor = ProcessPoolExecutor(self._processes, context, initializer=_prepare)
        waiting: dict[Future[Answer], int] = {}
        upcoming = iter(enumerate(parts))
        while len(answers) < len(parts):
            while len(waiting) < 2 * self._processes and (following := next(upcoming, None)) is not None:
                waiting[self._executor.submit(function, following[1])] = following[0]
            told(len(answers))
            done, _ = wait(waiting, _LOOK_AGAIN_SECONDS, FIRST_COMPLETED)
            for future in done:
                answers[waiting.pop(future)] = future.result()


def _prepare() -> None:
    """Set up one process: one thread each, and no haste against the window."""
    # Ctrl+C in a terminal reaches every process; the one that was started by the person ends the others.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    import cv2

    cv2.setNumThreads(1)
    if hasattr(os, "nice"):
        os.nice(5)
