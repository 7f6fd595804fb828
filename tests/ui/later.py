"""Jobs that run when a test says so, so that something can happen between the question and the answer."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, Future
from typing import Any

from window_driving import settle


class Later(Executor):
    """Runs jobs when it is told to.

    Attributes:
        waiting: what was handed in, oldest first.
    """

    def __init__(self) -> None:
        self.waiting: list[Callable[[], object]] = []

    def submit(self, fn: Callable[..., Any], /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.waiting.append(lambda: fn(*args, **kwargs))
        return Future()

    def run(self) -> None:
        """Run what waits, and what that asks for."""
        while self.waiting:
            self.waiting.pop(0)()
            settle()
