"""How a screen asks for a change."""

from __future__ import annotations

from collections.abc import Callable

from rustboard.session.changes import ChangeSet

Do = Callable[..., ChangeSet | None]
"""Runs an operation with its arguments; shows what the rules or the disk refuse, and returns None then."""
