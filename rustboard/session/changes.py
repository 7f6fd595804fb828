"""What changed, told to whoever shows it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from rustboard.support.summary import Summary


@dataclass(frozen=True, slots=True)
class ChangeSet:
    """The rows one action touched: which tables, which keys, never values; screens read again.

    Attributes:
        tables: changed keys by table name (``coupon``, ``grading``...).
        coupons: keys of coupons whose own row, grades or damage changed.
        inspections: keys of inspections at which grades or damage changed.
        summary: what was done.
        direction: ``do``, ``undo``, ``redo`` or ``outside`` (another window's change).
        origin: who asked for it, so that a screen can know its own echo.
    """

    tables: Mapping[str, frozenset[int]]
    coupons: frozenset[int]
    summary: Summary
    direction: str = "do"
    origin: object = None
    inspections: frozenset[int] = frozenset()

    def touches(self, *names: str) -> bool:
        """Return whether any of these tables changed."""
        return any(self.tables.get(name) for name in names)


Listener = Callable[[ChangeSet], None]


class ChangeFeed:
    """The one feed of changes. A listener that makes another change is a bug, and is refused."""

    def __init__(self) -> None:
        """Start with nobody listening."""
        self._listeners: list[Listener] = []
        self._publishing = False

    def subscribe(self, listener: Listener) -> None:
        """Call ``listener`` after every change."""
        self._listeners.append(listener)

    def unsubscribe(self, listener: Listener) -> None:
        """Stop calling ``listener``."""
        self._listeners.remove(listener)

    def refuse_inside_listener(self) -> None:
        """Raise RuntimeError when a change is being told right now; asked before anything is written."""
        if self._publishing:
            raise RuntimeError("a listener of a change may not make another change")

    def publish(self, changes: ChangeSet) -> None:
        """Tell everyone; when a listener fails, the others are told before its error goes on."""
        self.refuse_inside_listener()
        failed: Exception | None = None
        self._publishing = True
        try:
            for listener in tuple(self._listeners):
                try:
                    listener(changes)
                except Exception as error:  # noqa: BLE001 - raised below, once all screens show what is on the disk
                    failed = failed or error
        finally:
            self._publishing = False
        if failed is not None:
            raise failed
