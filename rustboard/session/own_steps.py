"""The steps of one person's sitting, so that undo in it never reaches what others did, or what was done before."""

from __future__ import annotations

from rustboard.session.changes import ChangeSet
from rustboard.session.session import Session


class OwnSteps:
    """Remembers the steps of a sitting by their keys."""

    def __init__(self, session: Session) -> None:
        """Start without steps."""
        self._session = session
        self._keys: list[int] = []

    def begin(self) -> None:
        """Begin a sitting: nothing from before can be taken back in it."""
        self._keys.clear()

    def add_newest(self) -> None:
        """Count the newest step as one of this sitting."""
        self._keys.append(self._session.newest_step())

    def can_undo(self) -> bool:
        """Return whether the newest step is one of this sitting."""
        return bool(self._keys) and self._session.newest_step() == self._keys[-1]

    def undo(self, origin: object) -> ChangeSet | None:
        """Take the last step of this sitting back; None where it is not the newest.

        Raises:
            InputError: the disk refused.
        """
        if not self.can_undo():
            return None
        changes = self._session.undo(origin=origin)
        self._keys.pop()
        return changes
