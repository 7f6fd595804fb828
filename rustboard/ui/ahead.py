"""Pictures made before they are asked for, and the last few kept: what is shown next is there when it is shown."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from typing import Any

import shiboken6
from PySide6.QtCore import QObject

from rustboard.session.jobs import Progress
from rustboard.support.problems import InputError
from rustboard.ui.bridge import Done, Failed, JobBridge

_KEPT = 3


@dataclass(slots=True)
class _Asked:
    """Whom to give what was asked for."""

    same: Hashable
    done: Done
    failed: Failed
    owner: QObject | None


@dataclass(slots=True)
class _Kind:
    """What is known of one kind of picture.

    Attributes:
        ready: kept, the longest unused first. under_way: being made. asked: waited for. following: prepared last.
    """

    ready: OrderedDict[Hashable, Any] = field(default_factory=OrderedDict)
    under_way: dict[Hashable, Progress | None] = field(default_factory=dict)
    asked: _Asked | None = None
    following: Hashable = None


class Ahead(QObject):
    """Makes pictures beside the window: those asked for, and those that will be.

    Of each kind only what was asked for last is given, and only that and what was prepared last are still made; work
    on anything else of the kind is stopped. Two requests are the same when their ``same`` is equal.
    """

    def __init__(self, bridge: JobBridge, parent: QObject | None = None) -> None:
        """Start with nothing made."""
        super().__init__(parent)
        self._bridge = bridge
        self._kinds: dict[str, _Kind] = {}

    def ask(
        self,
        kind: str,
        same: Hashable,
        function: Callable[..., Any],
        *arguments: Any,
        done: Done,
        failed: Failed,
        owner: QObject | None = None,
    ) -> None:
        """Give ``function(*arguments, progress)`` to ``done``: at once when it is there, else when it comes.

        Nothing is called once ``owner`` is gone.
        """
        known = self._known(kind)
        known.asked = _Asked(same, done, failed, owner)
        if same in known.ready:
            known.ready.move_to_end(same)
            self._stop_others(known)
            known.asked = None
            done(known.ready[same])
            return
        self._make(kind, same, function, arguments)

    def prepare(self, kind: str, same: Hashable, function: Callable[..., Any], *arguments: Any) -> None:
        """See to it that what will be asked for next is made; whatever was prepared before is let go."""
        known = self._known(kind)
        known.following = same
        if same in known.ready:
            known.ready.move_to_end(same)
            self._stop_others(known)
        else:
            self._make(kind, same, function, arguments)

    def is_ready(self, kind: str, same: Hashable) -> bool:
        """Return whether this would be given at once."""
        return same in self._known(kind).ready

    def _known(self, kind: str) -> _Kind:
        return self._kinds.setdefault(kind, _Kind())

    def _make(self, kind: str, same: Hashable, function: Callable[..., Any], arguments: tuple[Any, ...]) -> None:
        known = self._known(kind)
        self._stop_others(known)
        if same in known.under_way:
            return
        known.under_way[same] = None
        arrival = _Arrival(self, kind, same)
        job = self._bridge.start(
            ("ahead", id(self), kind, same), function, *arguments, done=arrival.come, failed=arrival.fail, owner=self
        )
        if same in known.under_way:  # an executor that works at once is done by now
            known.under_way[same] = job

    def _stop_others(self, known: _Kind) -> None:
        wanted = {known.following}
        if known.asked is not None:
            wanted.add(known.asked.same)
        for same in [each for each in known.under_way if each not in wanted]:
            job = known.under_way.pop(same)
            if job is not None:
                job.cancel()

    def take(self, kind: str, same: Hashable, value: object) -> None:
        """Keep what was made, and give it to whoever waits for it."""
        known = self._known(kind)
        known.under_way.pop(same, None)
        known.ready[same] = value
        known.ready.move_to_end(same)
        while len(known.ready) > _KEPT:
            known.ready.popitem(last=False)
        asked = self._answered(known, same)
        if asked is not None:
            asked.done(value)

    def fail(self, kind: str, same: Hashable, error: InputError) -> None:
        """Tell whoever waits that it cannot be made; asked again, it is tried again."""
        known = self._known(kind)
        known.under_way.pop(same, None)
        asked = self._answered(known, same)
        if asked is not None:
            asked.failed(error)

    def _answered(self, known: _Kind, same: Hashable) -> _Asked | None:
        asked = known.asked
        if asked is None or asked.same != same:
            return None
        known.asked = None
        return asked if asked.owner is None or shiboken6.isValid(asked.owner) else None


class _Arrival:
    """What happens when one picture comes."""

    def __init__(self, ahead: Ahead, kind: str, same: Hashable) -> None:
        self._ahead, self._kind, self._same = ahead, kind, same

    def come(self, value: object) -> None:
        self._ahead.take(self._kind, self._same, value)

    def fail(self, error: InputError) -> None:
        self._ahead.fail(self._kind, self._same, error)
